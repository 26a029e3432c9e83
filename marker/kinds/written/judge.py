"""Whether a response states one key idea: earned, not earned, or for a person to decide with a proposal.

Decided only on clear evidence. What a response claims is set beside what the scheme's wordings claim (claims/); accepted answers,
relations between quantities, and what settled responses leave open, are judged by their words (likeness.py).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from marker.kinds.written.claims.claims import claims
from marker.kinds.written.claims.leftover import MOST_LEFT, left_over, spent
from marker.kinds.written.claims.model import Claims
from marker.kinds.written.claims.segments import NAMING, Segment
from marker.kinds.written.claims.tokens import Token
from marker.kinds.written.claims.verdict import Heard, hear, quote
from marker.kinds.written.decisions import Decision
from marker.kinds.written.finding import Finding, ask, earned, line_numbers, not_earned, place
from marker.kinds.written.learning import Settled, enough, key, learn, response_traits
from marker.kinds.written.likeness import by_likeness, required
from marker.kinds.written.match import nearest
from marker.kinds.written.model import Prose
from marker.kinds.written.part import Idea, WrittenPart
from marker.kinds.written.prose import read
from marker.kinds.written.second_opinion import reconsidered
from marker.results import Outcome

_HEARD = frozenset(("not enough", "contradicted"))
_LIKELY = 0.7
"""An idea said by this share or more is proposed as earned where a person decides."""


def judge_all(prose: Prose, part: WrittenPart) -> tuple[Finding, ...]:
    """The findings on all ideas, with a second opinion on what the wordings leave open."""
    return reconsidered(by_wordings(prose, part), prose, part)


def by_wordings(prose: Prose, part: WrittenPart) -> tuple[Finding, ...]:
    """The findings on all ideas by the scheme's wordings. What says one idea is not held to be meant for another, nor against it."""
    first = [judge(i, prose, part) for i in part.ideas]
    taken = [_taken(f, prose, part) for f in first]
    made = []
    for n, finding in enumerate(first):
        used = frozenset(s for k, segments in enumerate(taken) if k != n for s in segments)
        again = bool(used) and (finding.outcome is Outcome.REFERRED or finding.code == "contradicted")
        made.append(judge(part.ideas[n], prose, part, used) if again else finding)
    made = [_said_once(f, part.ideas[n], [o for k, o in enumerate(made) if k != n]) for n, f in enumerate(made)]
    return _with_nothing_left_over(made, prose, part)


def _with_nothing_left_over(found: Sequence[Finding], prose: Prose, part: WrittenPart) -> tuple[Finding, ...]:
    """An idea is missing only where little is said that the scheme does not account for; less where the candidate knows another idea."""
    wants = [i.wants for i in part.ideas]
    if part.light or part.wants is not None or prose.blank or prose.overlong or all(f.outcome is not Outcome.NOT_EARNED for f in found):
        return tuple(found)
    said = claims(prose.lines, part.speech)
    listed = spent([w for w in wants if w is not None], said)
    made = []
    for n, (finding, idea) in enumerate(zip(found, part.ideas, strict=True)):
        others = [o for k, o in enumerate(found) if k != n and o.earned]
        used = listed.union(*(o.told for o in others))
        plain = finding.code != "contradicted" or bool(others)
        apt = finding.outcome is Outcome.NOT_EARNED and plain and idea.wants is not None and idea.relation is None and idea.learned is None
        left = left_over(said, idea.wants.given, used) if apt and idea.wants is not None else ()
        made.append(_open(finding, idea, prose, left) if len(left) + bool(others) > MOST_LEFT else finding)
    return tuple(made)


def _open(finding: Finding, idea: Idea, prose: Prose, left: Sequence[Token]) -> Finding:
    reason = f"Not plainly stated: {idea.states}. “{quote(left, prose.lines)}” is left for a person to judge."
    lines = sorted({t.line for t in left})
    found = ask(False, "unsure", reason, lines, quote(left, prose.lines), finding.likelihood)
    return replace(found, contradiction=finding.contradiction, segments=finding.segments)


def _said_once(finding: Finding, idea: Idea, others: Sequence[Finding]) -> Finding:
    """One statement for two ideas, one of which it says only in part, goes to a person."""
    if finding.outcome is not Outcome.EARNED or finding.complete or not finding.told:
        return finding
    if not any(o.outcome is Outcome.EARNED and o.complete and finding.told <= o.told for o in others):
        return finding
    reason = f"{place(finding.lines)} “{finding.words}” is good for another point; whether it says “{idea.states}” too is left open."
    return replace(ask(False, "doubtful", reason, finding.lines, finding.words, finding.likelihood), segments=finding.segments)


def _taken(finding: Finding, prose: Prose, part: WrittenPart) -> frozenset[int]:
    """Segments of the response that a finding has used up; of one judged by its words, those it quotes."""
    if not (finding.earned or finding.code in _HEARD):
        return frozenset()
    if finding.segments or not finding.words or part.light:
        return finding.segments
    quoted = finding.words.lower()
    cut = claims(prose.lines, part.speech).segments
    return frozenset(n for n, s in enumerate(cut) if s.tokens[0].line in finding.lines and _named_in(s, quoted))


def _named_in(segment: Segment, quoted: str) -> bool:
    named = [t.typed.lower() for t in segment.tokens if t.kind in NAMING]
    return bool(named) and all(n in quoted for n in named)


def judge(idea: Idea, prose: Prose, part: WrittenPart, passed: Collection[int] = ()) -> Finding:
    """The finding on one idea, without regard to what a teacher settled for the response as a whole.

    passed  segments of the response that other ideas have used up
    """
    if prose.blank or prose.overlong or idea.wants is None or idea.relation is not None:
        return by_likeness(idea, prose, part)
    found = _by_claims(idea, prose, part, passed)
    return by_likeness(idea, prose, part) if idea.learned is not None and found.outcome is Outcome.REFERRED else found


def _by_claims(idea: Idea, prose: Prose, part: WrittenPart, passed: Collection[int]) -> Finding:
    said = claims(prose.lines, part.speech)
    heard = hear(idea.wants, said, passed) if idea.wants else Heard(code="not said", share=0.0)
    where, words, lines = _place(heard, prose)
    if terms := required(idea, prose, part) if idea.required else ():
        where, words, lines = f"{place(line_numbers(terms))} “{prose.quote(terms)}”", prose.quote(terms), line_numbers(terms)
    states = bool(terms) or heard.code == "said"
    against = _against(idea, heard, prose)
    if against is not None and (not states or part.list_rule == "wrong cancels right"):
        return against
    if states:
        return _stated(idea, heard, prose, part, against, (where, words, lines))
    if open_spelling := _spelling(idea, said):
        return open_spelling
    if heard.code == "not enough":
        found = not_earned("not enough", f"{where} is not enough for “{idea.states}”.", lines, words, heard.share)
        return replace(found, segments=heard.segments)
    if heard.code == "unsure":
        return ask(heard.share >= _LIKELY, "unsure", f"{where} may be meant for “{idea.states}”.", lines, words, heard.share)
    if heard.code == "touched":
        return ask(False, "unsure", f"{where} may say in other words: {idea.states}.", lines, words, heard.share)
    return not_earned("not said", f"Not stated: {idea.states}.", likely=heard.share)


def _place(heard: Heard, prose: Prose) -> tuple[str, str, tuple[int, ...]]:
    """Place and words as a reason gives them, the words, and the lines."""
    lines = tuple(sorted({t.line for t in heard.tokens}))
    words = quote(heard.tokens, prose.lines)
    return f"{place(lines)} “{words}”", words, lines


def _against(idea: Idea, heard: Heard, prose: Prose) -> Finding | None:
    """What contradicts the idea: a wording the scheme lists, or the opposite of what is wanted said of the same thing."""
    tokens = heard.tokens if heard.code == "contradicted" else heard.against
    if not tokens:
        return None
    where, words, lines = _place(replace(heard, tokens=tokens), prose)
    found = not_earned("contradicted", f"{where} contradicts “{idea.states}”.", lines, words, heard.share)
    return replace(found, contradiction=True, segments=heard.segments)


def _stated(
    idea: Idea, heard: Heard, prose: Prose, part: WrittenPart, against: Finding | None, said: tuple[str, str, tuple[int, ...]]
) -> Finding:
    """Earned, unless it is offered with a doubt, or something else in the response goes against it."""
    where, words, lines = said
    found = earned("said", f"{where}: {idea.states}.", lines, words, heard.share)
    if against is not None:
        if part.list_rule == "first" and against.lines[:1] < lines[:1]:
            return against
        found = replace(found, reason=f"{where}: {idea.states}; by the list rule “{against.words}” is passed over.")
    elif _hedged(heard, lines, prose):
        found = ask(True, "doubtful", f"{where}: {idea.states}, but offered with a doubt.", lines, words, heard.share)
    elif heard.doubtful:
        found = ask(True, "doubtful", f"{where} comes near “{idea.states}”, but not all of it is said.", lines, words, heard.share)
    elif heard.clash:
        reason = f"{where}: {idea.states}, but “{quote(heard.clash, prose.lines)}” goes against it."
        found = ask(True, "doubtful", reason, (*lines, heard.clash[0].line), words, heard.share)
    return replace(found, segments=heard.segments, complete=heard.complete, told=heard.told)


def _hedged(heard: Heard, lines: Sequence[int], prose: Prose) -> bool:
    """True when what says it is in a sentence with a maybe."""
    places = {(t.line, t.at[0]) for t in heard.tokens}
    items = [i for c in prose.clauses if c.hedged for i in c.items]
    return any((i.line, i.at[0]) in places if places else i.line in lines for i in items)


def _spelling(idea: Idea, said: Claims) -> Finding | None:
    """A misspelling that lies between two terms, where one of them is wanted."""
    for token in (t for s in said.segments for t in s.tokens):
        if idea.wants is not None and set(token.rivals) & idea.wants.families:
            reason = f"Line {token.line}: “{token.typed}” may be {' or '.join(token.rivals)}; the spelling leaves it open."
            return ask(False, "spelling", reason, (token.line,), token.typed)
    return None


def teach(part: WrittenPart, settled: Sequence[Decision]) -> WrittenPart:
    """The part with each idea's settled responses learned. Those that give only a part mark teach no idea."""
    ideas = []
    for idea in part.ideas:
        examples = [_example(idea, d, part) for d in settled if d.ideas is not None]
        ideas.append(replace(idea, learned=learn(examples) if enough(examples) else None))
    return replace(part, ideas=tuple(ideas))


def _example(idea: Idea, decision: Decision, part: WrittenPart) -> Settled:
    prose = read(tuple(decision.text.split("\n")), part.known)
    return Settled(
        key=key(prose),
        traits=response_traits(prose),
        given=idea.name in (decision.ideas or ()),
        evidence=nearest(idea, prose, part).odds,
        contradicts=decision.contradicts,
    )


def settled_finding(idea: Idea, decision: Decision) -> Finding:
    """An idea as a teacher settled it on these words."""
    given = idea.name in (decision.ideas or ())
    reason = f"As a teacher settled for these words: {'earned' if given else 'not earned'} ({idea.states})."
    found = earned("settled", reason) if given else not_earned("settled", reason)
    return replace(found, contradiction=decision.contradicts)
