"""The final answer of a goal: which value it is, whether it is right or followed, its unit, figures and form."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from marker.awarding.earlier import done_with, last_line_before
from marker.awarding.form import cut_off, figures_of, form_of, unit_asked_for, unit_case
from marker.awarding.worlds import (
    MISREAD,
    Own,
    World,
    family,
    in_world,
    own_values,
    right_worlds,
    taken_as,
    unconverted,
    worlds_with,
)
from marker.frozen import frozen
from marker.judging.model import Evidence, Kind, Slip
from marker.judging.values import nearly, power_between
from marker.physics.evaluate import same_dimensions
from marker.scheme.compiled import CompiledCalculation, Goal

STOPPING = frozenset({"copying", "swapped", "other quantity", "relationship", "rearrangement"})
ROUNDED = 0.06  # how far a value rounded to one figure may lie from itself
PHYSICS = frozenset({"relationship", "rearrangement"})


@frozen
class Answer:
    """What was found of a goal's final answer.

    number    the number is right, or right on own values, whatever its unit and figures
    unit      "ok", "missing", "wrong", "case" (letters exchanged) or "prefix"
    figures   "ok", "few" or "many";  form  "ok", "fraction", "recurring" or "rounding"
    slip      the fault that made the number wrong, when one is known
    blocked   the fault a right-looking number rests on
    converted  the number is wrong by a conversion or a power of ten and by nothing else
    limit     why an answer right on own values is not followed: "absurd", "easier", "shown"
    others    further, different final answers offered
    """

    evidence: Evidence | None
    number: bool = False
    followed: str = ""
    unit: str = "ok"
    figures: str = "ok"
    form: str = "ok"
    slip: Slip | None = None
    blocked: Slip | None = None
    converted: bool = False
    limit: str = ""
    others: tuple[Evidence, ...] = ()

    @property
    def complete(self) -> bool:
        return self.number and self.blocked is None and (self.unit, self.figures, self.form) == ("ok", "ok", "ok")


def offered(goal: Goal, evidence: Sequence[Evidence]) -> tuple[Evidence, ...]:
    """The final answers offered for a goal, in the order written: the one that stands, and others beside it.

    A value written after the alternatives chooses among them (`t = 4.0 or -9.0; t = 4.0 s`).
    """
    values = [e for e in evidence if e.kind is Kind.VALUE and e.about == goal.find and e.value is not None]
    if not values:
        return ()
    final = _the_final(values if goal.shown is None else _own_results(goal, values))
    place = next(i for i, v in enumerate(values) if v is final)
    later = values if final.alternative else values[place + 1 :]
    others = [v for v in later if v is not final and _offered_beside(v, final)]
    distinct: list[Evidence] = []
    for v in others:
        if not any(_same(v, d) for d in distinct):
            distinct.append(v)
    return tuple(v for v in values if v is final or v in distinct)


def final_answer(
    part: CompiledCalculation, goal: Goal, evidence: Sequence[Evidence], own: Own, chosen: Evidence | None = None
) -> Answer:
    """The last value given for the goal (or the one chosen of several), judged in every world the convention allows."""
    values = [e for e in evidence if e.kind is Kind.VALUE and e.about == goal.find and e.value is not None]
    if not values:
        return Answer(evidence=None)
    worlds = [*right_worlds(part, goal), *worlds_with(part, goal, own_values(part, goal, evidence, own))]
    worlds.sort(key=lambda w: bool(w.limit))
    final = chosen or _the_final(values if goal.shown is None else _own_results(goal, values))
    if chosen is None and (part.convention.later_work == "ignored" or any(p.isw for p in goal.points)):
        right = [a for a in (_judged(part, goal, v, worlds, evidence) for v in values) if a.complete]
        final = right[0].evidence or final if right else final
        others = tuple(v for v in values if v.alternative and not _same(v, final))
    else:
        others = tuple(v for v in offered(goal, evidence) if not _same(v, final))
    return replace(_judged(part, goal, final, worlds, evidence), others=others)


def _own_results(goal: Goal, values: Sequence[Evidence]) -> Sequence[Evidence]:
    """In a "show that", the candidate's own result: not the given value written again after it."""
    shown = goal.shown or 0.0
    own = [v for v in values if v.value is not None and v.value.text.strip() and abs(v.value.si - shown) > 1e-9 * abs(v.value.si)]
    own = [v for v in own if _of_its_kind(goal, v)]
    worked = [v for v in own if not v.bare]
    return worked or own or values


def _of_its_kind(goal: Goal, e: Evidence) -> bool:
    """4021 radians on the way to an angular velocity is no result yet."""
    if goal.unit is None or e.value is None or e.value.unit is None:
        return True
    return same_dimensions(goal.unit.dimensions, e.value.unit.dimensions)


def _the_final(values: Sequence[Evidence]) -> Evidence:
    labelled = [v for v in values if v.final]
    if labelled:
        return labelled[-1]
    main = [v for v in values if not v.alternative]
    return (main or list(values))[-1]


def _offered_beside(value: Evidence, final: Evidence) -> bool:
    """A different answer offered as an alternative."""
    return not _same(value, final) and (value.alternative or final.alternative)


def _same(value: Evidence, other: Evidence) -> bool:
    """Two typings of one value, as quantities or as numbers."""
    if value is other or value.value is None or other.value is None:
        return True
    half = max(value.value.half, other.value.half)
    place = max(v.value.number.half if v.value is not None and v.value.number is not None else 0.0 for v in (value, other))
    return nearly(value.value.si, other.value.si, half) or nearly(value.value.raw, other.value.raw, place)


def _judged(part: CompiledCalculation, goal: Goal, e: Evidence, worlds: Sequence[World], evidence: Sequence[Evidence]) -> Answer:
    assert e.value is not None
    found = _in_one_of(part, goal, e, worlds)
    if found is not None and not found[0].limit:
        blocked = _blocked(part, goal, e, found[0], evidence)
        if blocked is not None:  # right by chance in one world, it may follow from own values in another
            followed = [w for w in worlds if w.followed and not w.limit and _blocked(part, goal, e, w, evidence) is None]
            other = _in_one_of(part, goal, e, followed)
            found, blocked = (other, None) if other is not None else (found, blocked)
        world, unit = found
        right = Answer(evidence=e, number=True, followed=world.followed, unit=unit, blocked=blocked)
        return _with_form(part, goal, right, world, evidence)
    wrong = Answer(evidence=e, slip=_reason(part, goal, e), unit=_unit_state(part, goal, e))
    cut = next((w for w in worlds if not w.limit and cut_off(part, goal, e, w, evidence)), None)
    if cut is not None and found is None:
        return _with_form(part, goal, replace(wrong, number=True, slip=None, blocked=_blocked(part, goal, e, cut, evidence)), cut, evidence)
    if found is not None:
        return replace(wrong, limit=found[0].limit, followed=found[0].followed)
    also = _in_one_of(part, goal, e, worlds_with(part, goal, unconverted(part, evidence)))
    if also is not None:
        return replace(_with_form(part, goal, replace(wrong, unit=also[1]), also[0], evidence), converted=True)
    slip = wrong.slip
    if slip is not None and slip.code == "power-of-ten" and family(slip, part.convention) == "conversion":
        power = any(power_between(v, w.value) for w in worlds if not w.limit for _, v in taken_as(part, goal, e.value))
        return replace(wrong, converted=power)
    return wrong


def _in_one_of(part: CompiledCalculation, goal: Goal, e: Evidence, worlds: Iterable[World]) -> tuple[World, str] | None:
    assert e.value is not None
    for world in worlds:
        for unit, si in taken_as(part, goal, e.value):
            if in_world(part, goal, e.value, world, si):
                return world, unit
    return None


def _with_form(part: CompiledCalculation, goal: Goal, answer: Answer, world: World, evidence: Sequence[Evidence]) -> Answer:
    """The answer with what is to be said of its unit's letters, its figures and its form."""
    e = answer.evidence
    assert e is not None and e.value is not None
    unit = answer.unit
    if unit == "missing" and part.convention.earlier_unit and _unit_before(goal, e, evidence):
        unit = "ok"
    if unit == "ok" and not part.convention.case_tolerant_units and unit_case(e.value):
        unit = "case"
    if unit == "ok" and not part.convention.equivalent_units and not unit_asked_for(goal, e.value):
        unit = "wrong"
    form = form_of(part, goal, e, world, evidence)
    return replace(answer, unit=unit, figures=figures_of(part, goal, e.value), form=form)


def _unit_before(goal: Goal, e: Evidence, evidence: Sequence[Evidence]) -> bool:
    """The same value stands with a unit in an earlier line. Source: BPHO."""
    earlier = (b for b in evidence if b.about == goal.find and b.value is not None and b.line <= e.line and b is not e)
    return any(b.value is not None and b.value.unit is not None and b.right and _same(b, e) for b in earlier)


def _unit_state(part: CompiledCalculation, goal: Goal, e: Evidence) -> str:
    assert e.value is not None
    return next((unit for unit, _ in taken_as(part, goal, e.value)), "ok")


def _blocked(part: CompiledCalculation, goal: Goal, e: Evidence, world: World, evidence: Sequence[Evidence]) -> Slip | None:
    """A right-looking number that rests on a wrong line: the fault it rests on."""
    settled = last_line_before(part, goal, evidence)
    for slip in (*e.inherited, *e.slips):
        kind = family(slip, part.convention)
        coincidence = kind in STOPPING or slip.family == "digit place"
        if coincidence and not (world.followed and (kind in MISREAD or done_with(slip, part, goal, settled))):
            return slip
    if e.tainted:
        named = next((s for s in e.inherited if s.family in PHYSICS), None)
        return named or Slip(code="wrong-relationship", family="relationship", line=e.line, symbol=e.about, typed=e.text)
    return None


def _reason(part: CompiledCalculation, goal: Goal, e: Evidence) -> Slip | None:
    """The fault to name for a wrong number: wrong physics seen on the way, else the first fault, else what the number suggests."""
    seen = (*e.inherited, *e.slips)
    if seen:
        return next((s for s in seen if s.family in PHYSICS), seen[0])
    assert e.value is not None
    if power_between(e.value.si, goal.value) or power_between(e.value.raw, goal.value):
        return Slip(code="power-of-ten", family="conversion", line=e.line, symbol=goal.find, typed=e.text)
    if not e.bare and (e.right or _rounded_on_the_way(part, e)):
        return Slip(code="rounded-early", family="rounding", line=e.line, symbol=goal.find, typed=e.text)
    return None


def _rounded_on_the_way(part: CompiledCalculation, e: Evidence) -> bool:
    """Nothing is wrong in the working but that the own values in it are rounded ones."""
    base = part.system.base
    return bool(e.uses) and all(base.get(n) and abs(v / base[n] - 1) < ROUNDED for n, v in e.uses)
