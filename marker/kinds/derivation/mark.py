"""A derivation marked: what each point is given for, and what a person must decide."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from marker.awarding.wording import quoted
from marker.kinds.algebra import Working, read_working
from marker.kinds.algebra.report import letter_faults, letter_reports, worst
from marker.kinds.algebra.shape import same_form
from marker.kinds.base import Carried
from marker.kinds.derivation.compiled import CompiledDerivation, DerivationPoint
from marker.kinds.derivation.course import RIGHT, Stage, Standing, course_of
from marker.kinds.derivation.ending import Ending, ending_of
from marker.kinds.derivation.remarks import note_on, verdict_of
from marker.kinds.short import Judged, capital, result_of, where
from marker.kinds.words import in_words, is_blank
from marker.results import FaultFound, PartResult

_KINDS = {"start": "relationship", "step": "step", "target": "target"}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Case:
    """A response as the points see it. `unclear` says what in it could not be settled, "" when all could."""

    part: CompiledDerivation
    stages: tuple[Stage, ...]
    ending: Ending
    faults: tuple[FaultFound, ...]
    unclear: str
    blank: bool


def mark_derivation(part: CompiledDerivation, lines: Sequence[str], carried: Carried) -> PartResult:
    """The result, remembered. Nothing is carried into a derivation."""
    return _remembered(part, tuple(lines))


@lru_cache(maxsize=5_000)
def _remembered(part: CompiledDerivation, lines: tuple[str, ...]) -> PartResult:
    blank = is_blank(lines)
    working = read_working(part.part, () if blank else lines)
    stages = course_of(part, working.said)
    ending = ending_of(part, stages)
    wrong = [s.said for s in stages if s.standing is Standing.WRONG]
    faults = letter_faults(part.part, wrong)
    case = _Case(part=part, stages=stages, ending=ending, faults=faults, unclear=_unclear(working, stages), blank=blank)
    points = [_judged(case, p) for p in part.points]
    if all(p.marks == p.maximum for p in points):
        faults = ()
    by_line: dict[int, list[tuple[str, str]]] = {}
    for stage in stages:
        by_line.setdefault(stage.line, []).append((verdict_of(stage), note_on(part, stage)))
    verdicts = {line: worst(said) for line, said in by_line.items()}
    result = result_of(part.name, part.marks, points, letter_reports(lines, working, verdicts))
    return replace(result, faults=faults, notes=working.notes)


def _unclear(working: Working, stages: Sequence[Stage]) -> str:
    if working.unread:
        return f"line {working.unread[0]} could not be read"
    strange = next((s for s in stages if s.standing is Standing.OPEN), None)
    return "" if strange is None else f"{quoted(strange.said.text)} in line {strange.line} holds a letter that is not known here"


# ---- points ------------------------------------------------------------------------------------------------------------


def _judged(case: _Case, point: DerivationPoint) -> Judged:
    if case.blank:
        return _no(case, point, "nothing is written")
    rule = {"start": _start, "step": _step, "target": _target}[point.kind]
    return rule(case, point)


def _start(case: _Case, point: DerivationPoint) -> Judged:
    """Every relationship of the point is stated, by itself or put together with another. A leap leaves it to a person."""
    shown = frozenset().union(*(s.said.relations for s in case.stages if s.standing in (Standing.START, Standing.TOGETHER)))
    lines = tuple(s.line for s in case.stages if s.standing in (Standing.START, Standing.TOGETHER) and s.said.relations & point.relations)
    missing = point.relations - shown
    if not missing and case.ending.backwards:
        return _open(point, f"{in_words([case.part.start(i) for i in sorted(point.relations)])} only come out of the target", lines)
    if not missing:
        return _yes(point, f"{in_words([case.part.start(i) for i in sorted(point.relations)])} stated", lines)
    named = in_words([case.part.start(i) for i in sorted(missing)])
    leap = next((s for s in case.stages if s.standing is Standing.LEAP and missing <= s.said.relations), None)
    if leap is not None:
        return _open(point, f"{quoted(leap.said.text)} rests on {named}, not stated by itself", (leap.line,))
    return _no(case, point, f"{named} is not stated", lines)


def _step(case: _Case, point: DerivationPoint) -> Judged:
    """An equation between the starts and the target; where the target is rightly reached without one, the ruling on gaps decides."""
    for stage in () if case.ending.backwards else case.stages:
        if stage.standing in RIGHT and _is_step(case.part, point, stage):
            return _yes(point, f"{quoted(stage.said.text)} leads on from what was stated", (stage.line,))
    ruling = case.part.convention.derivation_gap
    if case.ending.reached and not case.ending.doubt and case.part.at_one_go:
        return _yes(point, "one relationship is put into the other", case.ending.lines)
    if case.ending.reached and not case.ending.doubt:
        why = "the step before the target is left out"
        if ruling == "accepted":
            return _yes(point, f"{why}; the target follows all the same", case.ending.lines)
        return _open(point, why, case.ending.lines) if ruling == "refer" else _no(case, point, why, case.ending.lines)
    return _no(case, point, "no step leads on from what was stated")


def _is_step(part: CompiledDerivation, point: DerivationPoint, stage: Stage) -> bool:
    if stage.standing is Standing.START:
        return False
    if point.equation is not None and len(point.relations) > 1:
        return point.relations <= stage.said.relations
    if point.equation is not None:
        return same_form(stage.said.equation, point.equation, part.places)
    return len(stage.said.relations) > 1 or (len(part.needed) == 1 and stage.standing is Standing.FOLLOWS)


def _target(case: _Case, point: DerivationPoint) -> Judged:
    ending = case.ending
    if not ending.reached:
        return _no(case, point, ending.why, ending.lines)
    stepless = not any(p.kind == "step" for p in case.part.points)
    if ending.doubt:
        return _open(point, ending.doubt, ending.lines)
    if ending.gap and stepless and case.part.convention.derivation_gap != "accepted":
        why = "the target is written straight after the relationships it starts from"
        return _open(point, why, ending.lines) if case.part.convention.derivation_gap == "refer" else _no(case, point, why, ending.lines)
    return _yes(point, ending.why, ending.lines)


def _yes(point: DerivationPoint, why: str, lines: Sequence[int]) -> Judged:
    return _as_judged(point, point.marks, why, lines)


def _no(case: _Case, point: DerivationPoint, why: str, lines: Sequence[int] = ()) -> Judged:
    """Not earned; left to a person where something in the response could not be settled."""
    faults = case.faults if point.kind == "target" and len(case.faults) == 1 else ()
    if case.unclear and not case.ending.closed:
        return _open(point, case.unclear, lines)
    return _as_judged(point, 0.0, why, lines, faults=faults)


def _open(point: DerivationPoint, doubt: str, lines: Sequence[int]) -> Judged:
    return _as_judged(point, {0.0: "not accepted", point.marks: "accepted"}, doubt, lines, doubt=doubt)


def _as_judged(
    point: DerivationPoint,
    marks: dict[float, str] | float,
    why: str,
    lines: Sequence[int],
    *,
    doubt: str = "",
    faults: tuple[FaultFound, ...] = (),
) -> Judged:
    numbers = tuple(sorted(set(lines)))
    return Judged(
        point=point.name,
        kind=_KINDS[point.kind],
        maximum=float(point.marks),
        marks=marks,
        reason=f"{where(numbers)}{why if numbers else capital(why)}.",
        lines=numbers,
        doubt=doubt,
        faults=faults,
    )
