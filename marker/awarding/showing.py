""" "Show that": is the stated result reached, missing, contradicted or without its unit, and is it worked backwards."""

from __future__ import annotations

from marker.awarding.evidence import Case, of_goal
from marker.judging.model import Kind, TypedValue
from marker.judging.values import nearly
from marker.physics.evaluate import same_dimensions

UNIT_FAULTS = ("missing", "wrong", "case")


def state_of_result(case: Case) -> str:
    """ "reached" when the candidate's own working gives the stated result; "missing" when none is stated, "unit" when only its unit is
    missing, wrong or of another size; else "contradicted"."""
    answer = case.answer
    if answer.evidence is None:
        return "missing"
    stray = any(e.slips and e.about == case.goal.find and e.kind is Kind.VALUE for e in case.evidence)
    elsewhere = any(p.kind == "answer" for p in case.goal.points)  # a point of its own for the result and its figures
    enough = answer.figures == "ok" or elsewhere or not case.convention.show_extra_figure
    if not (answer.number and answer.blocked is None and not stray and enough):
        return "contradicted"
    return "unit" if unit_costs(case) or answer.unit == "prefix" else "reached"


def unit_costs(case: Case) -> bool:
    """The unit is missing or wrong, and the convention takes the answer mark for it.

    In a "show that" only where its result must have a unit; there the given value written again with its unit is enough.
    Source: AH2022 (principle: the stated value with its unit); EDX10 (not charged in a "show that").
    """
    if case.answer.unit not in UNIT_FAULTS or case.convention.unit_fault != "answer mark":
        return False
    if case.goal.shown is None:
        return True
    return case.convention.show_unit and not _stated_with_unit(case)


def _stated_with_unit(case: Case) -> bool:
    """The result, or the value given, stands somewhere with a unit of its kind."""
    dims, e = case.part.dimensions.get(case.goal.find), case.answer.evidence
    if dims is None or e is None or e.value is None:
        return False
    values = [b.value for b in case.evidence if b.kind is Kind.VALUE and b.about in ("", case.goal.find) and b.value is not None]
    with_unit = [v for v in values if v.unit is not None and same_dimensions(v.unit.dimensions, dims)]
    return any(_same(v, e.value) or nearly(v.si, case.goal.shown or 0.0, v.half) for v in with_unit)


def _same(value: TypedValue, other: TypedValue) -> bool:
    half = max(v.number.half if v.number is not None else 0.0 for v in (value, other))
    return nearly(value.raw, other.raw, half) or nearly(value.si, other.si, max(value.half, other.half))


def shown_backwards(case: Case) -> bool:
    """The value to be shown, put in, gives a datum of the question, and the convention allows that way round.

    Source: OCRB (2006): working from the value to the data allowed.
    """
    if not case.convention.show_reverse:
        return False
    for e in case.evidence:
        used = any(symbol == case.goal.find for symbol, _ in e.uses)
        right = e.kind is Kind.SUBSTITUTION and not e.slips and not e.tainted and of_goal(case) <= e.relations
        if used and right and any(d.kind is Kind.DATUM and d.right and d.about == e.about for d in case.evidence):
            return True
    return False
