"""What earns each kind of marking point. One function a kind; nothing is ever subtracted.

Every rule looks at the evidence of a response for one goal and returns a Finding: met or not, why, and the lines.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from marker.awarding.answer import Answer
from marker.awarding.wording import missing_answer, say, unit_sentence
from marker.awarding.worlds import family
from marker.judging.model import Evidence, Kind, Slip
from marker.scheme.compiled import CompiledCalculation, Goal, Point

CREDITED = frozenset({"conversion", "copying", "arithmetic", "rounding", "swapped", "other quantity"})
SPOILING = frozenset({"copying", "swapped", "other quantity", "relationship", "rearrangement"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Everything the rules look at for one goal of one response."""

    part: CompiledCalculation
    goal: Goal
    evidence: tuple[Evidence, ...]
    answer: Answer


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    met: bool
    because: str
    lines: tuple[int, ...] = ()
    followed: bool = False
    implied: bool = False
    fault: str = ""


Rule = Callable[[Point, Case], Finding]


def relationship_shown(point: Point, case: Case) -> Finding:
    """Looks for: the relationship in symbols, or implied by numbers in the right places, or by a right answer.

    Loses: never shown; shown only after being replaced by a wrong one; a wrong one in its place.
    Source: conventions file 1.3, "relationship implied by correct substitution" (US-N5), rows 8, 11, 13, 15 of 1.2.
    """
    shown = [e for e in case.evidence if _credits(e, case)]
    lines = _lines_showing(point.relations, shown, case)
    name = relation_text(case.part, point.relations)
    if lines:
        stated = next((e for e in shown if e.line == lines[0] and e.symbolic), None)
        how = "is shown" if stated else "is shown by the numbers"
        return Finding(met=True, because=f"{name} {how} ({say(lines)})", lines=lines)
    wrong = _wrong_relationship(point, case)
    if wrong is not None:
        return Finding(met=False, because=f"{say((wrong.line,)).capitalize()}: {wrong.text!r} is not {name}", lines=(wrong.line,))
    if _answer_implies(case, point):
        line = case.answer.evidence.line if case.answer.evidence else 1
        return Finding(met=True, because=f"implied by the right answer ({say((line,))})", lines=(line,), implied=True)
    return Finding(met=False, because=f"{name} is not shown")


def values_substituted(point: Point, case: Case) -> Finding:
    """Looks for: every value in its place, unit conversions apart (they cost the answer).

    Loses: a value copied wrongly or taken from elsewhere; values exchanged; numbers put into a wrong relationship.
    Source: conventions file 1.2 rows 9, 11, 12; 1.3 "wrong substitution".
    """
    clean = [e for e in case.evidence if _clean_substitution(e, case)] + _values_on_the_way(case)
    needed = point.relations or _of_goal(case)
    lines = _lines_showing(needed, clean, case)
    followed = any(e.uses for e in clean)
    if case.goal.shown is not None and not _shown_value_reached(case):
        why = (
            "the result is not reached"
            if case.answer.evidence is None
            else f"{case.answer.evidence.text!r} does not follow from the working"
        )
        return Finding(met=False, because=f"values substituted, but {why}" if lines else f"not shown: {why}", lines=lines)
    if lines:
        return Finding(met=True, because=f"all values substituted ({say(lines)})", lines=lines, followed=followed)
    slip = _spoiling_slip(case)
    if slip is not None:
        return Finding(met=False, because=slip_sentence(slip, case.part), lines=(slip.line,))
    if _answer_implies(case, point):
        line = case.answer.evidence.line if case.answer.evidence else 1
        return Finding(met=True, because=f"implied by the right answer ({say((line,))})", lines=(line,), implied=True)
    partly = [e.line for e in case.evidence if e.kind is Kind.SUBSTITUTION and not e.tainted]
    why = "not every value is substituted" if partly else "no values are substituted"
    return Finding(met=False, because=why, lines=tuple(dict.fromkeys(partly)))


def value_found(point: Point, case: Case) -> Finding:
    """Looks for: the value of a named intermediate quantity, or its right use later on."""
    part = case.part
    target = part.system.base[point.quantity]
    for e in case.evidence:
        if e.about == point.quantity and e.value is not None and e.kind is Kind.VALUE and not e.tainted:
            low, high = point.accept or (target * 0.995, target * 1.005)
            half = e.value.half
            if min(low, high) - half <= e.value.si <= max(low, high) + half or (e.value.unit is None and e.right):
                return Finding(met=True, because=f"{point.quantity} is right ({say((e.line,))})", lines=(e.line,))
    if _answer_implies(case, point):
        return Finding(met=True, because="implied by the right answer", implied=True)
    return Finding(met=False, because=f"{point.quantity} is not found, or not rightly")


def answer_complete(point: Point, case: Case) -> Finding:
    """Looks for: the value, its unit and its figures together; right, or right on own values where they may be followed.

    Loses: an arithmetic slip, an unconverted unit, a missing or wrong unit, too few or too many figures, two answers.
    Source: conventions file 1.2 rows 3, 6, 10 (one mark shared by value and unit), 1.3 on figures and units.
    """
    answer, convention = case.answer, case.part.convention
    if answer.evidence is None:
        return Finding(met=False, because=missing_answer(case.goal.find))
    line = (answer.evidence.line,)
    typed = answer.evidence.text
    if answer.others and convention.two_answers in ("zero", "lowest"):
        return Finding(
            met=False, because=f"two different answers are offered ({say((*line, *(o.line for o in answer.others)))})", lines=line
        )
    if answer.blocked is not None and convention.right_from_wrong != "full":
        return Finding(met=False, because=f"{typed!r} rests on a wrong line: {slip_sentence(answer.blocked, case.part)}", lines=line)
    if case.goal.shown is not None and not any(_credits(e, case) for e in case.evidence):
        return Finding(met=False, because="the answer alone earns nothing where it is to be shown", lines=line)
    if not answer.number:
        why = slip_sentence(answer.slip, case.part) if answer.slip else "no working shows why"
        code = answer.slip.code if answer.slip and answer.slip.family == "conversion" else ""
        return Finding(met=False, because=f"{typed!r} is not the right value: {why}", lines=line, fault=code)
    if answer.unit == "prefix":
        return Finding(met=False, because=unit_sentence(answer.unit, typed), lines=line, fault="wrong-prefix")
    if answer.unit != "ok" and convention.unit_fault == "answer mark" and case.goal.shown is None:
        return Finding(met=False, because=unit_sentence(answer.unit, typed), lines=line, fault=f"unit-{answer.unit}")
    if answer.figures != "ok":
        why = f"{typed!r} has too {answer.figures} significant figures"
        return Finding(met=False, because=why, lines=line, fault=f"too-{answer.figures}-figures")
    if answer.followed:
        return Finding(
            met=True, because=f"{typed!r} is right on the candidate's own {answer.followed} ({say(line)})", lines=line, followed=True
        )
    return Finding(met=True, because=f"{typed!r} is right ({say(line)})", lines=line)


RULES: Mapping[str, Rule] = MappingProxyType(
    {"relationship": relationship_shown, "substitution": values_substituted, "value": value_found, "answer": answer_complete}
)


# --- what the rules share ------------------------------------------------------------------------


def _credits(e: Evidence, case: Case) -> bool:
    """Evidence that shows a relationship, whatever happened to its numbers."""
    if e.tainted or e.kind not in (Kind.RELATIONSHIP, Kind.SUBSTITUTION) or not e.relations:
        return False
    if not e.symbolic and not case.part.convention.implied_relationship:
        return False
    return e.right or all(s.family in CREDITED or s.family == "digit place" for s in e.slips)


def _clean_substitution(e: Evidence, case: Case) -> bool:
    if e.kind is not Kind.SUBSTITUTION or e.tainted or not e.relations:
        return False
    kinds = {family(s, case.part.convention) for s in (*e.slips, *_own_part(e))}
    return not (kinds & SPOILING)


def _values_on_the_way(case: Case) -> list[Evidence]:
    """Right values of quantities found on the way: their substitution was made, if not written."""
    derived = {letter: frozenset(step.relations) for step in case.part.system.steps for letter in step.letters}
    right = (e for e in case.evidence if e.kind is Kind.VALUE and e.right and not (e.slips or e.inherited or e.tainted))
    return [replace(e, relations=derived[e.about]) for e in right if e.about in derived and e.about != case.goal.find]


def _own_part(e: Evidence) -> tuple[Slip, ...]:
    """Inherited slips that spoil a substitution: an own value of this part that rests on wrong physics or a wrong datum."""
    return tuple(s for s in e.inherited if s.family in ("relationship", "rearrangement", "copying", "other quantity"))


def _lines_showing(relations: frozenset[int], evidence: Sequence[Evidence], case: Case) -> tuple[int, ...]:
    """Lines that together show all these relationships, definitions counted as known; empty when they do not."""
    shown: set[int] = set()
    lines: list[int] = []
    for e in evidence:
        if relations & e.relations or (e.relations - shown):
            shown |= e.relations
            lines.append(e.line)
        if relations <= shown or _entailed(relations - shown, frozenset(shown), case):
            useful = [x.line for x in evidence if x.relations & relations and x.line in lines]
            return tuple(dict.fromkeys(useful or lines))
    return ()


def _entailed(relations: frozenset[int], shown: frozenset[int], case: Case) -> bool:
    system, helpers = case.part.system, case.part.helpers
    if not (shown - helpers) and not (relations <= helpers):
        known = shown & helpers
        if not known:
            return False
    return all(system.holds(system.relations[r].equation, shown | helpers) for r in relations)


def _of_goal(case: Case) -> frozenset[int]:
    return case.goal.relations - case.part.helpers


def _answer_implies(case: Case, point: Point) -> bool:
    """A right number with nothing against it implies what led to it, unless the point must be seen."""
    if point.type == "M" or case.goal.shown is not None or not case.answer.number or case.answer.blocked is not None:
        return False
    if case.part.convention.answer_only == "none":
        return False
    return _spoiling_slip(case) is None


def _spoiling_slip(case: Case) -> Slip | None:
    """The first fault that spoils a substitution for this goal or a quantity on the way to it."""
    for e in case.evidence:
        for slip in (*e.slips, *e.inherited):
            if family(slip, case.part.convention) in SPOILING and e.kind is not Kind.DATUM:
                return slip
    return None


def _wrong_relationship(point: Point, case: Case) -> Evidence | None:
    letters = frozenset[str]().union(*(case.part.system.relations[r].letters for r in point.relations))
    for e in case.evidence:
        wrong = any(s.family in ("relationship", "rearrangement") for s in e.slips)
        if wrong and (e.about in letters or e.about == case.goal.find):
            return e
    return None


def _shown_value_reached(case: Case) -> bool:
    """In a "show that": a stated result that the candidate's own substitution gives and that is the given value."""
    answer = case.answer
    if answer.evidence is None or not answer.number or answer.blocked is not None:
        return False
    return not any(e.slips and e.about == case.goal.find and e.kind is Kind.VALUE for e in case.evidence)


def relation_text(part: CompiledCalculation, relations: frozenset[int]) -> str:
    return " and ".join(part.system.relations[r].shown for r in sorted(relations)) or "the relationship"


def slip_sentence(slip: Slip, part: CompiledCalculation) -> str:
    from marker.awarding.wording import slip_words

    return slip_words(slip, part.data)
