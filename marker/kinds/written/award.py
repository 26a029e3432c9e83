"""From findings on ideas to the marks of the part: dependence, needs, the list rule, and what is referred."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product

from marker.kinds.written.finding import Finding
from marker.kinds.written.part import Idea, WrittenPart
from marker.results import Award, Outcome, Possibility, Referral

_MOST_CHOICES = 6


def marks_of(part: WrittenPart, earned: Sequence[bool], cancelled: int = 0) -> tuple[float, ...]:
    """The mark each idea adds, in scheme order. Shares of the total are whole marks unless half marks are in use."""
    counts = _standing(part.ideas, earned)
    total, given = 0.0, []
    reached = 0
    left = cancelled
    for idea, stands in zip(part.ideas, counts, strict=True):
        if stands and left > 0:
            left, stands = left - 1, False
        reached += stands
        worth = _share(part, reached) if part.needs else min(float(part.marks), total + idea.marks * stands)
        given.append(worth - total)
        total = worth
    return tuple(given)


def _share(part: WrittenPart, reached: int) -> float:
    step = 2 if part.half_marks else 1
    return (part.marks * min(reached, part.needs or 1) * step // (part.needs or 1)) / step


def _standing(ideas: Sequence[Idea], earned: Sequence[bool]) -> list[bool]:
    """Ideas that earn when what they depend on is earned too."""
    by_name = dict(zip((i.name for i in ideas), earned, strict=True))
    return [own and all(by_name[d] for d in idea.depends) for idea, own in zip(ideas, earned, strict=True)]


def awards(part: WrittenPart, findings: Sequence[Finding], cancelled: int = 0) -> tuple[Award, ...]:
    """One award per idea. An idea whose fellow it depends on was not earned says so."""
    proposed = [f.earned for f in findings]
    standing = _standing(part.ideas, proposed)
    given = marks_of(part, proposed, cancelled)
    made = []
    for idea, finding, mark, stands in zip(part.ideas, findings, given, standing, strict=True):
        outcome, reason = finding.outcome, finding.reason
        if finding.earned and not stands:
            outcome, reason = Outcome.NOT_EARNED, f"{reason} It depends on {' and '.join(idea.depends)}, which is not earned."
        elif finding.earned and mark == 0 and finding.outcome is Outcome.EARNED:
            reason = f"{reason} {'Cancelled by a wrong point in the list.' if cancelled else 'The marks of the part are reached already.'}"
        # Where several ideas share a mark, none can be worth more than the part.
        worth = float(min(idea.marks, part.marks))
        made.append(Award(point=idea.name, kind="statement", mark=mark, maximum=worth, outcome=outcome, reason=reason, lines=finding.lines))
    return tuple(made)


def referral(part: WrittenPart, findings: Sequence[Finding], cancelled: tuple[int, ...] = (0,), extra: str = "") -> Referral | None:
    """What a person must decide; None when every way to decide gives the same mark."""
    open_ideas = [n for n, f in enumerate(findings) if f.outcome is Outcome.REFERRED][:_MOST_CHOICES]
    found: dict[str, float] = {}
    for choice in product((True, False), repeat=len(open_ideas)):
        for lost in cancelled:
            earned = [f.earned for f in findings]
            for n, yes in zip(open_ideas, choice, strict=True):
                earned[n] = yes
            text = _choice_text(part, dict(zip(open_ideas, choice, strict=True)), lost, cancelled)
            found[text] = sum(marks_of(part, earned, lost))
    if len(set(found.values())) < 2:
        return None
    reasons = [findings[n].reason for n in open_ideas] + [extra] * bool(extra)
    return Referral(reason=" ".join(reasons), possibilities=tuple(Possibility(text=t, mark=m) for t, m in found.items()))


def _choice_text(part: WrittenPart, choice: Mapping[int, bool], lost: int, cancelled: tuple[int, ...]) -> str:
    texts = [f"{part.ideas[n].name} {'earned' if yes else 'not earned'}" for n, yes in choice.items()]
    if len(cancelled) > 1:
        texts.append(f"{lost} wrong in the list" if lost else "nothing wrong in the list")
    return ", ".join(texts)
