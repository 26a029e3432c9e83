"""A part with freshly drawn numbers: the same question, other data, answers that stay sensible.

Each given value is scaled within a modest factor and written with as many figures and the same unit. Values that belong to
nature or to a named material, phase-change temperatures, right angles and zeros stay. Quantities of one kind are scaled
together, so that what was larger stays larger. A draw stands only if the part still compiles, every quantity keeps its sign
and stays near its size, and the model answer earns full marks; otherwise the next numbers of the same draw are tried.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from random import Random
from typing import Any

from marker.errors import SchemeError
from marker.expression import Dimensions
from marker.kinds.base import PartSpec
from marker.physics.evaluate import same_dimensions
from marker.scheme.calculation import CalculationPart, PointSpec, StepSpec
from marker.scheme.compile_calculation import compile_calculation
from marker.scheme.compiled import CompiledCalculation, Datum
from marker.scheme.lexicon import constants, unit_dimensions
from marker.scheme.model_answer import in_figures, si_unit
from marker.scheme.paper import CompiledPart
from marker.scheme.redraw import numbers_in, renumbered, replaced, typed_number, value_of
from marker.scheme.sensible import sensible
from marker.scheme.surroundings import Surroundings

TRIES = 40
FACTOR = (0.6, 1.7)
"""Least and greatest factor of a quantity; a power of ten before or after would make another question of it."""

SPREAD = 0.12
"""How far one value may stray from the factor of its kind, as a fraction."""

HELD_UNITS = ("kg/m^3", "J/(kg K)", "J/kg", "Ω m", "1/K", "W/(m K)")
"""Units of properties of materials: another value would be another material than the one the question names."""

FIXED_CELSIUS = (0.0, 100.0)
RIGHT_ANGLES = (0.0, 90.0, 180.0, 270.0, 360.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Varied:
    """A part to practise on: `stem` and `data` (symbol, quantity as typed) as the student is shown them.

    fresh   False when the numbers are those of the paper, because none may change or the kind of part has none to change
    """

    part: CompiledPart
    stem: str
    data: tuple[tuple[str, str], ...]
    fresh: bool


def vary(part: CompiledPart, draw: int) -> Varied:
    """The part with the numbers of that draw: the same draw gives the same numbers. Draw 0 has the paper's own.

    A value carried from another part becomes a value given, so that the part can be worked alone.
    """
    if not isinstance(part.compiled, CompiledCalculation) or not isinstance(part.spec, CalculationPart):
        return Varied(part=part, stem=part.spec.stem, data=(), fresh=False)
    alone = _alone(part.spec, part.compiled)
    base = part if alone is part.spec else _recompiled(part, alone)
    if base is None:
        return Varied(part=part, stem=part.spec.stem, data=tuple(alone.given.items()), fresh=False)
    paper_s = Varied(part=base, stem=alone.stem, data=tuple(alone.given.items()), fresh=False)
    if draw == 0:
        return paper_s
    random = Random(f"{part.name}/{draw}")
    movable = _movable(alone, base.compiled)
    for _ in range(TRIES if movable else 0):
        made = _try(base, alone, movable, random)
        if made is not None:
            return made
    return paper_s


def _alone(spec: CalculationPart, compiled: CompiledCalculation) -> CalculationPart:
    """Without `carry`: what was carried is given, with the paper's value to three figures."""
    if not spec.carry:
        return spec
    given = dict(spec.given)
    for symbol in spec.carry:
        given[symbol] = f"{in_figures(compiled.system.base[symbol], 3)} {si_unit(compiled, symbol)}".strip()
    return spec.model_copy(update={"given": given, "carry": {}, **_unchecked(spec)})


def _unchecked(spec: CalculationPart) -> dict[str, Any]:
    """Typed answers and accepted ranges are of the paper's numbers only."""
    points = [_free_point(p) for p in spec.points]
    steps = [s.model_copy(update={"accept": [], "answer": "", "points": [_free_point(p) for p in s.points]}) for s in spec.step]
    routes = [r.model_copy(update={"points": [_free_point(p) for p in r.points]}) for r in spec.route]
    return {"accept": [], "answer": "", "points": points, "step": steps, "route": routes}


def _free_point(point: PointSpec) -> PointSpec:
    return point.model_copy(update={"accept": []})


def _recompiled(part: CompiledPart, spec: CalculationPart) -> CompiledPart | None:
    """The part with another spec; None when it does not compile."""
    try:
        made = compile_calculation(spec, part.convention, Surroundings(data=_sheet(part.compiled), carried={}))
    except (SchemeError, ArithmeticError, ValueError):
        return None
    return CompiledPart(
        name=part.name, question=part.question, marks=part.marks, kind=part.kind, spec=spec, compiled=made, convention=part.convention
    )


def _sheet(compiled: CompiledCalculation) -> dict[str, tuple[str, ...]]:
    """The data sheet as far as this part uses it."""
    return {s: (d.text, *(_as_typed(v, d) for v in d.others)) for s, d in compiled.data.items() if d.constant}


def _as_typed(si: float, datum: Datum) -> str:
    if datum.unit is None:
        return f"{si:.9g}"
    return f"{si / datum.unit.scale - datum.unit.offset:.9g} {datum.unit.name}"


# --- what may change -----------------------------------------------------------------------------------


def _movable(spec: CalculationPart, compiled: CompiledCalculation) -> tuple[str, ...]:
    """Symbols whose number may change: not held by nature, and found once, or not at all, among the numbers of the stem."""
    numbers = {s: typed_number(t) for s, t in spec.given.items()}
    in_stem = numbers_in(spec.stem)
    shown = {typed_number(s.show) for s in spec.steps() if s.show}
    loose = [n for n in in_stem if n not in numbers.values() and n not in shown]
    found = []
    for symbol, number in numbers.items():
        alike = [n for n in numbers.values() if n == number]
        named = in_stem.count(number)
        placed = named == 1 and len(alike) == 1 if named else not loose
        if number and placed and number not in shown and not _held(compiled.data[symbol]):
            found.append(symbol)
    return tuple(found)


def _held(datum: Datum) -> bool:
    """A value that belongs to nature, to a material or to the question's kind rather than to its numbers."""
    if datum.raw == 0 or datum.constant:
        return True
    dimensions = datum.unit.dimensions if datum.unit else None
    if dimensions is None or datum.unit is None:
        return datum.raw == 1
    if datum.unit.offset and datum.raw in FIXED_CELSIUS:
        return True
    if dimensions[7]:
        return round(math.degrees(datum.si), 6) in RIGHT_ANGLES
    if any((held := unit_dimensions(u)) is not None and same_dimensions(held, dimensions) for u in HELD_UNITS):
        return True
    return _known_constant(datum.si, dimensions)


def _known_constant(si: float, dimensions: Dimensions) -> bool:
    for constant in constants():
        theirs = unit_dimensions(constant.unit)
        if theirs is None or not same_dimensions(theirs, dimensions):
            continue
        scale = _scale(constant.unit)
        if any(math.isclose(si, float(v) * scale, rel_tol=0.01) for v in constant.values):
            return True
    return False


def _scale(unit: str) -> float:
    from marker.physics.units import parse_unit

    found = parse_unit(unit)
    return found[0][0].scale if found else 1.0


# --- one draw ------------------------------------------------------------------------------------------


def _try(base: CompiledPart, spec: CalculationPart, movable: tuple[str, ...], random: Random) -> Varied | None:
    given = dict(spec.given)
    factors = _factors(base.compiled, movable, random)
    for symbol in movable:
        given[symbol] = renumbered(given[symbol], _number(base.compiled.data[symbol], given[symbol], factors[symbol], random))
    if all(given[s] == spec.given[s] for s in movable):
        return None
    new = spec.model_copy(update={"given": given, **_unchecked(spec)})
    part = _recompiled(base, new) if not _shows(spec) else _with_shown(base, new)
    if part is None or not sensible(base.compiled, part.compiled) or not _provable(part):
        return None
    return Varied(part=part, stem=_stem(spec, part.spec), data=tuple(given.items()), fresh=True)


def _factors(compiled: CompiledCalculation, movable: tuple[str, ...], random: Random) -> Mapping[str, float]:
    """One factor for each kind of quantity, and a little of its own for each value."""
    kinds: list[tuple[Dimensions | None, float]] = []
    out = {}
    for symbol in movable:
        unit = compiled.data[symbol].unit
        dimensions = unit.dimensions if unit else None
        factor = next((f for d, f in kinds if d is not None and dimensions is not None and same_dimensions(d, dimensions)), None)
        if factor is None:
            factor = math.exp(random.uniform(math.log(FACTOR[0]), math.log(FACTOR[1])))
            kinds.append((dimensions, factor))
        out[symbol] = factor * random.uniform(1 - SPREAD, 1 + SPREAD)
    return out


def _number(datum: Datum, text: str, factor: float, random: Random) -> float:
    """The new number as it is to be typed, before its power of ten."""
    number = value_of(typed_number(text))
    if datum.unit is None or datum.unit.name == "%":
        return _pure(number, 100.0 if datum.unit else 1.0, factor)
    if datum.unit.dimensions[7]:
        return _angle(number, math.degrees(datum.si), factor)
    if datum.unit.offset:
        return number + random.uniform(-0.3, 0.3) * (abs(number) + 10)
    return number * factor


def _pure(number: float, whole: float, factor: float) -> float:
    """A bare number: a count stays a whole number above 1, a fraction below 1 (or 100 %), an index just above 1 stays there."""
    if number < whole:
        return min(max(number * (1 + (factor - 1) * 0.4), 0.05 * whole), 0.96 * whole)
    if number < 3 and not float(number).is_integer():
        return max(1 + (number - 1) * factor, 1.05)
    return max(number * factor, 2.0)


def _angle(number: float, degrees: float, factor: float) -> float:
    """In the same quadrant, at least 6° from its ends."""
    low = math.floor(abs(degrees) / 90) * 90 + 6
    drawn = min(max(abs(degrees) * factor, low), low + 78)
    return number * drawn / abs(degrees)


def _shows(spec: CalculationPart) -> bool:
    return any(s.show for s in spec.steps())


def _with_shown(base: CompiledPart, spec: CalculationPart) -> CompiledPart | None:
    """A "show that" gives the value that now comes out, to as many figures as the paper's."""
    steps = [s.model_copy(update={"show": ""}) for s in spec.step]
    # found from the part asked openly, its written points left out: they are those of a "show that"
    marks = max(len(steps), 1)
    changes = {"show": "", "step": [_one_mark(s) for s in steps], "points": [], "route": [], "marks": marks}
    open_spec = spec.model_copy(update=changes)
    found = _recompiled(base, open_spec)
    if found is None:
        return None
    values = found.compiled.system.base
    shown = [s.model_copy(update={"show": _shown(s, base.compiled, values)}) if s.show else s for s in spec.step]
    own = _shown(spec.steps()[0], base.compiled, values) if spec.show else ""
    return _recompiled(base, spec.model_copy(update={"show": own, "step": shown}))


def _one_mark(step: StepSpec) -> StepSpec:
    return step.model_copy(update={"marks": 1, "points": []})


def _shown(step: StepSpec, paper: CompiledCalculation, values: Mapping[str, float]) -> str:
    """The value to be shown, written like the paper's."""
    goal = next(g for g in paper.goals if g.find == step.find)
    if goal.shown is None or goal.shown == 0:
        return step.show
    return renumbered(step.show, value_of(typed_number(step.show)) * values[step.find] / goal.shown)


def _stem(old: CalculationPart, new: PartSpec) -> str:
    """The question with the new numbers in the places of the old."""
    assert isinstance(new, CalculationPart)
    pairs = {typed_number(old.given[s]): typed_number(new.given[s]) for s in old.given}
    pairs |= {typed_number(a.show): typed_number(b.show) for a, b in zip(old.steps(), new.steps(), strict=True) if a.show}
    return replaced(old.stem, {a: b for a, b in pairs.items() if a and a != b})


def _provable(part: CompiledPart) -> bool:
    """The model answer earns full marks, without referral."""
    from marker.marking import mark_response

    result = mark_response(part, part.kind.model(part.compiled))
    return result.mark == result.maximum and not result.referred
