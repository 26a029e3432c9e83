"""kind = "rearrangement": "make v the subject", the letter set equal to an expression of the others in any equivalent form."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from marker.awarding.wording import quoted
from marker.expression import Symbol
from marker.kinds.algebra import LettersSpec, Said, Working, in_letters, read_working
from marker.kinds.algebra.report import letter_faults, letter_reports, worst
from marker.kinds.algebra.shape import Places, free_places, same_form
from marker.kinds.algebra.solved import Solved, solved_of
from marker.kinds.base import Carried, Kind
from marker.kinds.short import Judged, capital, fault, result_of, where
from marker.kinds.words import in_words, is_blank
from marker.physics.system import Equation
from marker.reading.model import SymbolEntry, SymbolTable
from marker.reading.writing import write_plain
from marker.results import FaultFound, PartResult
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.convention import Convention
from marker.scheme.part_relations import relation_of
from marker.scheme.surroundings import problem


class RearrangementPoint(BaseModel):
    """One marking point. kind step: an equation on the way is right, or the answer is (of: which; default any);  answer: solved."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    kind: Literal["step", "answer"]
    name: str = ""
    of: str = ""
    marks: float = 1


class RearrangementSpec(LettersSpec):
    """Keys of kind = "rearrangement", besides those of a part in letters.

    subject    the letter to be made the subject;  in_terms_of  letters the answer may hold (default: all the others)
    both_roots True where the letter may be negative, so that a root needs both its signs
    points     marking points, where the usual ones will not do
    """

    kind: Literal["rearrangement"] = "rearrangement"
    subject: str
    in_terms_of: list[str] = Field(default_factory=list)
    both_roots: bool = False
    points: list[RearrangementPoint] = Field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Point:
    name: str
    kind: str
    marks: float
    equation: Equation | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CompiledRearrangement:
    """`right` is the solved form as a person writes it; `allowed` the letters the answer may hold.

    given  the equations the question gives: the relationships, and those its stem prints in another form
    """

    name: str
    marks: float
    part: CompiledCalculation
    subject: str
    allowed: frozenset[str]
    both_roots: bool
    right: str
    given: tuple[Equation, ...]
    places: Places
    points: tuple[_Point, ...]
    convention: Convention


def compile_rearrangement(spec: RearrangementSpec, convention: Convention) -> CompiledRearrangement:
    """Raises SchemeError with the key and the mend."""
    convention = convention.with_rulings(spec.rulings)
    place = f"part {spec.name}"
    part = in_letters(spec, spec.subject, [], convention)
    table = SymbolTable(tuple(SymbolEntry(name=n) for n in part.system.base))
    allowed = frozenset(spec.in_terms_of or part.system.base.keys() - {spec.subject})
    strange = allowed - part.system.base.keys()
    if strange or spec.subject in allowed:
        raise problem(place, "in_terms_of", in_words(sorted(strange | {spec.subject})), "letters of using other than the subject")
    points = tuple(_compiled_point(p, part, table, place) for p in spec.points or _usual(spec, place))
    if sum(p.marks for p in points) != spec.marks:
        raise problem(place, "marks", f"the points do not add up to {spec.marks}", mend="Make them agree.")
    found = solved_of(part, spec.subject, allowed)
    if found is None:
        raise problem(place, "subject", f"{spec.subject} cannot be found from {'; '.join(spec.using)}", mend="Check the equations.")
    return CompiledRearrangement(
        name=spec.name,
        marks=float(spec.marks),
        part=part,
        subject=spec.subject,
        allowed=allowed,
        both_roots=spec.both_roots,
        right=f"{spec.subject} = {'±' if spec.both_roots else ''}{write_plain(found)}",
        given=(*(r.equation for r in part.system.relations), *_in_the_stem(part, spec.subject)),
        places=free_places(frozenset(part.system.base)),
        points=points,
        convention=convention,
    )


def _in_the_stem(part: CompiledCalculation, subject: str) -> tuple[Equation, ...]:
    """Equations the question prints, which follow from the relationships and are not the answer."""
    said = [s for s in read_working(part, (part.stem,)).said if s.true and not s.numbers]
    return tuple(s.equation for s in said if Symbol(name=subject, known=True) not in s.equation)


def _usual(spec: RearrangementSpec, place: str) -> Sequence[RearrangementPoint]:
    step, answer = RearrangementPoint(kind="step"), RearrangementPoint(kind="answer")
    patterns: dict[int, Sequence[RearrangementPoint]] = {1: [answer], 2: [step, answer]}
    if spec.marks not in patterns:
        raise problem(place, "points", f"{spec.marks} marks fit no usual pattern", "1 or 2 marks", "Write the points out under points.")
    return patterns[spec.marks]


def _compiled_point(spec: RearrangementPoint, part: CompiledCalculation, table: SymbolTable, place: str) -> _Point:
    equation = relation_of(spec.of, table, place, "points").equation if spec.of else None
    if equation is not None and not part.system.support(equation):
        raise problem(place, "points", f"{spec.of!r} does not follow from using", "a step towards the answer")
    return _Point(
        name=spec.name or {"step": "a step on the way", "answer": "the subject"}[spec.kind],
        kind=spec.kind,
        marks=spec.marks,
        equation=equation,
    )


# ---- marking -----------------------------------------------------------------------------------------------------------


def mark_rearrangement(part: CompiledRearrangement, lines: Sequence[str], carried: Carried) -> PartResult:
    """The result, remembered. Nothing is carried into a rearrangement."""
    return _remembered(part, tuple(lines))


@lru_cache(maxsize=5_000)
def _remembered(part: CompiledRearrangement, lines: tuple[str, ...]) -> PartResult:
    blank = is_blank(lines)
    working = read_working(part.part, () if blank else lines)
    offered = tuple(Solved.of(s, part.subject, part.allowed, lines) for s in working.said if not s.numbers)
    answer = _chosen(part, [s for s in offered if s.about_subject])
    points = [_judged(part, p, working, answer, blank) for p in part.points]
    lost = any(p.marks != p.maximum for p in points)
    wrong = [s for s in working.said if not s.true and not s.open and not s.numbers]
    faults = (*letter_faults(part.part, wrong, part.right), *_shape_faults(part, answer)) if lost else ()
    by_line: dict[int, list[tuple[str, str]]] = {}
    for one in working.said:
        by_line.setdefault(one.line, []).append(_verdict(one))
    reports = letter_reports(lines, working, {n: worst(v) for n, v in by_line.items()})
    result = result_of(part.name, part.marks, points, reports)
    return replace(result, faults=faults, notes=working.notes)


def _chosen(part: CompiledRearrangement, given: Sequence[Solved]) -> Solved | None:
    """The answer that counts: the last, or as ruled where two are offered, or where work goes on after a right one."""
    if not given:
        return None
    rivals = [g for g in given if g.said.alternative]
    if rivals:
        pair = [g for g in given if g not in rivals][-1:] + rivals
        ruling = part.convention.two_answers
        if ruling in ("first", "last"):
            return pair[0 if ruling == "first" else -1]
        return (max if ruling == "best" else min)(pair, key=lambda g: g.right)
    right = [g for g in given if g.right]
    return right[-1] if right and part.convention.later_work == "ignored" else given[-1]


def _judged(part: CompiledRearrangement, point: _Point, working: Working, answer: Solved | None, blank: bool) -> Judged:
    if blank:
        return _as_judged(point, 0.0, "nothing is written", ())
    if answer is not None and answer.right and not (part.both_roots and not answer.both and point.kind == "answer"):
        at = (answer.said.line,)
        if answer.said.loose:
            return _open(point, f"{quoted(answer.text)} is right only with brackets that were not typed", at)
        return _as_judged(point, point.marks, f"{quoted(answer.text)} is {part.subject}", at)
    if point.kind == "step":
        step = next((s for s in working.said if _is_step(part, point, s)), None)
        if step is not None:
            return _as_judged(point, point.marks, f"{quoted(step.text)} follows", (step.line,))
    open_ = next((s for s in working.said if s.open), None)
    if working.unread or open_ is not None:
        line = working.unread[0] if working.unread else open_.line if open_ is not None else 0
        doubt = f"line {line} could not be read" if working.unread else f"line {line} holds a letter that is not known here"
        return _open(point, doubt, (line,))
    why, lines = _why_not(part, working, answer)
    return _as_judged(point, 0.0, why if point.kind == "answer" else "no step follows from the equation given", lines)


def _is_step(part: CompiledRearrangement, point: _Point, said: Said) -> bool:
    """A right equation that is more than the one given; the one the point names, where it names one."""
    if not said.true or said.numbers:
        return False
    if point.equation is not None:
        return same_form(said.equation, point.equation, part.places)
    given = any(same_form(said.equation, equation, part.places, factor=False) for equation in part.given)
    return not given and not Solved.of(said, part.subject, part.allowed, ()).itself


def _why_not(part: CompiledRearrangement, working: Working, answer: Solved | None) -> tuple[str, tuple[int, ...]]:
    if answer is None:
        numbers = next((s for s in working.said if s.numbers), None)
        if numbers is not None and all(s.numbers for s in working.said):
            return "numbers stand in place of letters", (numbers.line,)
        return f"{part.subject} is not made the subject", tuple(s.line for s in working.said[-1:])
    lines = (answer.said.line,)
    if answer.itself:
        return f"{part.subject} stands on both sides", lines
    if answer.outside:
        return f"{in_words(sorted(answer.outside))} should not be in the answer", lines
    if answer.right:
        return "only one of the two roots is given", lines
    return f"{quoted(answer.text)} does not follow", lines


def _shape_faults(part: CompiledRearrangement, answer: Solved | None) -> tuple[FaultFound, ...]:
    if answer is None or not answer.said.true:
        return ()
    line = answer.said.line
    if answer.itself:
        return (fault("subject-on-both-sides", line, subject=part.subject),)
    if answer.right and part.both_roots and not answer.both:
        return (fault("one-root-only", line, subject=part.subject),)
    return ()


def _open(point: _Point, doubt: str, lines: tuple[int, ...]) -> Judged:
    return _as_judged(point, {0.0: "not accepted", point.marks: "accepted"}, doubt, lines, doubt)


def _as_judged(point: _Point, marks: dict[float, str] | float, why: str, lines: tuple[int, ...], doubt: str = "") -> Judged:
    return Judged(
        point=point.name,
        kind=point.kind,
        maximum=float(point.marks),
        marks=marks,
        reason=f"{where(lines)}{why if lines else capital(why)}.",
        lines=lines,
        doubt=doubt,
    )


def _verdict(said: Said) -> tuple[str, str]:
    if said.open:
        return "unread", "holds a letter that is not known here"
    if said.numbers:
        return "unused", "numbers in place of letters"
    return ("right", "") if said.true else ("wrong", "does not follow")


def model_rearrangement(part: CompiledRearrangement) -> tuple[str, ...]:
    """The equation given, and the subject."""
    given = [r.shown for i, r in enumerate(part.part.system.relations) if i not in part.part.helpers]
    steps = [f"{write_plain(p.equation[0])} = {write_plain(p.equation[1])}" for p in part.points if p.equation is not None]
    return (*given, *steps, part.right)


KIND = Kind(
    name="rearrangement", spec=RearrangementSpec, compile=compile_rearrangement, mark=mark_rearrangement, model=model_rearrangement
)

