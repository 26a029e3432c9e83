"""The teacher's own marks, and what a second marking changes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from marker.reporting.paper import Key, MarkedPaper, mark_text, possible_mark
from marker.results import PartResult


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """A teacher's mark for one response, None where only a note was typed."""

    mark: float | None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlierPoint:
    """One marking point as an earlier workbook has it."""

    point: str
    mark: float
    maximum: float
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlierMark:
    """The mark this package gave a response before, with its points."""

    mark: float
    maximum: float
    referred: bool = False
    points: tuple[EarlierPoint, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Decisions:
    """What an earlier workbook holds: the teacher's decisions, and the marks they were made on.

    made     (candidate, part) -> decision
    earlier  (candidate, part) -> mark before any decision; empty when the workbook no longer has its list of points
    file     the workbook's name
    """

    made: Mapping[Key, Decision] = field(default_factory=dict)
    earlier: Mapping[Key, EarlierMark] = field(default_factory=dict)
    file: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One response whose mark, or whose teacher's decision, is not as it was. `was` and `now` are marks before any decision."""

    candidate: str
    part: str
    was: float | None
    now: float | None
    why: str
    teacher: str = ""


def usable(decision: Decision | None, maximum: float, half_marks: bool) -> bool:
    """True for a decision with a mark that is possible in a part of this maximum."""
    return decision is not None and decision.mark is not None and possible_mark(decision.mark, maximum, half_marks)


def standing(marked: MarkedPaper, decisions: Decisions | None) -> dict[Key, float]:
    """The mark that stands for each response: the teacher's where there is a usable one, else ours."""
    marks = {(c, r.part): r.mark for c, r in marked.responses()}
    if decisions is None:
        return marks
    maxima = dict(marked.parts)
    known = set(marked.candidates)
    for (candidate, part), decision in decisions.made.items():
        if candidate in known and part in maxima and usable(decision, maxima[part], marked.half_marks) and decision.mark is not None:
            marks[candidate, part] = decision.mark
    return marks


def changes(old: Decisions, new: MarkedPaper) -> tuple[Change, ...]:
    """Every response whose mark changed since an earlier workbook, and every decision that could not be kept, in class order."""
    found: list[Change] = []
    maxima = dict(new.parts)
    present = set(new.candidates)
    for candidate in new.candidates:
        for part, maximum in new.parts:
            change = _change(candidate, part, maximum, old, new)
            if change is not None:
                found.append(change)
    gone = [k for k in dict.fromkeys((*old.earlier, *old.made)) if k[0] not in present or k[1] not in maxima]
    for candidate, part in gone:
        before = old.earlier.get((candidate, part))
        decision = old.made.get((candidate, part))
        why = f"candidate {candidate} is not in the responses now" if candidate not in present else f"part {part} is not in the scheme now"
        lost = _teacher_text(decision, "no longer used") if decision is not None else ""
        found.append(Change(candidate=candidate, part=part, was=before.mark if before else None, now=None, why=why, teacher=lost))
    return tuple(found)


def _change(candidate: str, part: str, maximum: float, old: Decisions, new: MarkedPaper) -> Change | None:
    key = (candidate, part)
    before, result, decision = old.earlier.get(key), new.results.get(key), old.made.get(key)
    refused = decision is not None and decision.mark is not None and not usable(decision, maximum, new.half_marks)
    now = None if result is None else result.mark
    same = before is not None and result is not None and before.mark == now and before.maximum == maximum
    if not refused and (same or not old.earlier):
        return None
    why = _why(before, result) if not same else "the mark is the same"
    teacher = ""
    if refused:
        teacher = _teacher_text(decision, f"not possible now (0 to {mark_text(maximum)}); please decide again")
    elif decision is not None and decision.mark is not None:
        teacher = _teacher_text(decision, "kept")
    return Change(candidate=candidate, part=part, was=before.mark if before else None, now=now, why=why, teacher=teacher)


def _why(before: EarlierMark | None, result: PartResult | None) -> str:
    """The points that differ, each with its reason now."""
    if before is None:
        return "not marked before"
    if result is None:
        return "no response now"
    reasons: list[str] = []
    if before.maximum != result.maximum:
        reasons.append(f"out of {mark_text(result.maximum)}, before out of {mark_text(before.maximum)}")
    earlier = dict(zip(_told_apart(p.point for p in before.points), before.points, strict=True))
    for name, award in zip(_told_apart(a.point for a in result.awards), result.awards, strict=True):
        was = earlier.pop(name, None)
        if was is None:
            reasons.append(f"{name}: new point, {mark_text(award.mark)} of {mark_text(award.maximum)}: {award.reason}")
        elif (was.mark, was.maximum) != (award.mark, award.maximum):
            reasons.append(f"{name}: {mark_text(was.mark)} before, {mark_text(award.mark)} now: {award.reason}")
    reasons += [f"{name}: no longer a point ({mark_text(p.mark)} before)" for name, p in earlier.items()]
    if before.referred != result.referred:
        reasons.append("referred now" if result.referred else "no longer referred")
    return "; ".join(reasons) or "the points are the same; the total is formed otherwise"


def _told_apart(names: Iterable[str]) -> list[str]:
    """Names of points, a repeated one numbered: relationship, relationship (2)."""
    seen: Counter[str] = Counter()
    told: list[str] = []
    for name in names:
        seen[name] += 1
        told.append(name if seen[name] == 1 else f"{name} ({seen[name]})")
    return told


def _teacher_text(decision: Decision | None, state: str) -> str:
    if decision is None:
        return ""
    mark = "note" if decision.mark is None else f"mark {mark_text(decision.mark)}"
    return f"your {mark}: {state}"
