"""What a typed number may be of the part's own: a datum, a value found on the way, a number that belongs to a relationship's shape."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

from marker.expression import Expr, Number, Product, Quotient, Sum, Symbol, UnitFactor, symbols, walk
from marker.judging.digits import power_of_ten
from marker.judging.leaves import Leaf
from marker.judging.origins import OwnNumber, Source, constant, letter
from marker.physics.evaluate import same_dimensions
from marker.scheme.compiled import CompiledCalculation, Datum

RIGHT_ANGLES = frozenset((90.0, 180.0, 270.0, 360.0))
STRUCTURAL = frozenset(
    {0.0, 0.25, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 9.0, 10.0, 12.0, 24.0, 60.0}
    | {90.0, 100.0, 180.0, 273.0, 273.15, 360.0, 365.0, 3600.0, 86400.0}
)
OTHER_G = (9.8, 9.81, 10.0)
CONVERSION_SLACK = 0.004
WITH_PI = (2 * math.pi, 4 * math.pi, math.pi**2, 4 * math.pi**2, 4 * math.pi / 3, math.pi / 4)
OTHERS = (math.log(2), math.sqrt(2), math.sqrt(0.5), math.sqrt(3))
PI_LIKE = (3.1, 3.14, 3.142, 3.1416, 3.14159)


@lru_cache(maxsize=20_000)
def from_data(part: CompiledCalculation, leaf: Leaf) -> tuple[Source, ...]:
    """Data the number may be, as given, rounded, or as printed with its conversion to come."""
    return tuple(_data(part, leaf))


def _data(part: CompiledCalculation, leaf: Leaf) -> Iterator[Source]:
    for symbol, datum in part.data.items():
        if symbol == "g" and is_other_g(part, leaf):
            continue
        if leaf.close(datum.si) or any(leaf.close(v) for v in datum.others):
            yield Source(cost=0.0, stands_for=letter(symbol), symbol=symbol)
        elif datum.needs_conversion and leaf.number.figures[1] >= 2 and abs(leaf.si - datum.si) <= CONVERSION_SLACK * abs(datum.si):
            yield Source(cost=0.15, stands_for=letter(symbol), symbol=symbol)
        elif datum.si and leaf.unit is None and math.isclose(leaf.si, -datum.si, rel_tol=1e-9):
            yield Source(cost=0.3, stands_for=Product(factors=(constant(-1.0), letter(symbol))), symbol=symbol)
        elif leaf.unit is None and datum.unit is not None and (datum.needs_conversion or datum.unit.dimensions[7]):
            yield from _as_printed(leaf, symbol, datum)


def _as_printed(leaf: Leaf, symbol: str, datum: Datum) -> Iterator[Source]:
    """The printed number with its conversion still to come: 6.5 of "6.5 min" is t/60."""
    unit = datum.unit
    turned = datum.raw < 0 and leaf.raw_close(-datum.raw)  # the 8 of −8 °C, its sign beside it
    if unit is None or not (turned or leaf.raw_close(datum.raw)):
        return
    trees: list[Expr] = [Quotient(over=letter(symbol), under=constant(unit.scale))]
    if unit.offset:
        trees = [Sum(terms=(letter(symbol), constant(-offset))) for offset in (unit.offset, float(round(unit.offset)))]
    for tree in trees:
        yield Source(cost=0.2, stands_for=Product(factors=(constant(-1.0), tree)) if turned else tree, symbol=symbol)


def as_typed(leaf: Leaf) -> Expr:
    """The number itself: an angle keeps its unit, and in sin, cos and tan a bare one stays in degrees."""
    if leaf.unit is not None and leaf.unit.dimensions[7]:
        return Product(factors=(constant(leaf.raw), UnitFactor(unit=leaf.unit)))
    return constant(leaf.raw if leaf.angle else leaf.si)


@lru_cache(maxsize=20_000)
def structural(leaf: Leaf) -> tuple[Source, ...]:
    """A number that belongs to the shape of a relationship: 2, ½, 60, π, 273."""
    return tuple(_shape_numbers(leaf))


def _shape_numbers(leaf: Leaf) -> Iterator[Source]:
    if leaf.unit is not None:
        if leaf.unit.dimensions[7] and leaf.raw in RIGHT_ANGLES:  # n₁ sin C = n₂ sin 90°
            yield Source(cost=0.05, stands_for=as_typed(leaf), structural=True)
        return
    if leaf.raw in STRUCTURAL or power_of_ten(leaf.raw) is not None:
        usual = leaf.number.figures[1] <= 1 or leaf.raw in (0.5, 60.0, 180.0, 360.0) or (leaf.angle and leaf.raw in RIGHT_ANGLES)
        yield Source(cost=0.05 if usual else 0.4, stands_for=as_typed(leaf), structural=True)
    elif leaf.raw in PI_LIKE or math.isclose(leaf.raw, 22 / 7, rel_tol=1e-3):
        yield Source(cost=0.3, stands_for=Symbol(name="π", known=True), structural=True)
    elif leaf.number.figures[1] >= 2:
        for value in (*WITH_PI, *OTHERS):
            if leaf.raw_close(value):
                yield Source(cost=0.35, stands_for=constant(value), structural=True)


@lru_cache(maxsize=20_000)
def worked_out(part: CompiledCalculation, leaf: Leaf) -> tuple[Source, ...]:
    """The right value of a quantity found on the way, or the value a "show that" gives (as an own number)."""
    return tuple(_derived(part, leaf))


def _derived(part: CompiledCalculation, leaf: Leaf) -> Iterator[Source]:
    shown = {**part.shown, **{g.find: g.shown for g in part.goals if g.shown is not None}}
    for symbol, value in shown.items():
        if leaf.close(value):
            yield Source(cost=0.08, stands_for=letter(symbol), symbol=symbol, own=_shown(symbol, value, leaf))
    for symbol, scale in shown_in_units(part, leaf):
        yield Source(cost=0.2, stands_for=Quotient(over=letter(symbol), under=constant(scale)), symbol=symbol, found=symbol)
    for symbol, value in part.system.base.items():
        if symbol in part.data or symbol in part.free:
            continue
        low, high = part.carried_within.get(symbol, (value, value))
        exact = math.isclose(leaf.si, value, rel_tol=1e-9) and leaf.raw not in STRUCTURAL
        if exact or (leaf.number.figures[1] >= 2 and (leaf.close(value) or low <= leaf.si <= high)):
            yield Source(cost=0.5, stands_for=letter(symbol), symbol=symbol, found=symbol)
        elif leaf.unit is None and value:
            for scale in printed_scales(part, symbol):
                if leaf.raw_close(value / scale):
                    tree = Quotient(over=letter(symbol), under=constant(scale))
                    yield Source(cost=0.55, stands_for=tree, symbol=symbol, found=symbol)


def shown_in_units(part: CompiledCalculation, leaf: Leaf) -> Iterator[tuple[str, float]]:
    """The 190 of "show that the stress is about 190 MPa": what a number would be with its conversion still to come, and its scale."""
    for goal in part.goals if leaf.unit is None else ():
        scale = goal.unit.scale if goal.unit is not None else 1.0
        if goal.shown is not None and scale != 1.0 and leaf.raw_close(goal.shown / scale):
            yield goal.find, scale


def datum_twice(part: CompiledCalculation, side: Expr) -> bool:
    """A datum both as its letter and as its number, `250eV` where V is 250 V, `θ cos 25`: a unit or a sign read as letters."""
    if not isinstance(side, Product):
        return False
    held = [d for s, d in part.data.items() if s in symbols(side)]
    return any(isinstance(x, Number) and any(x.value in (d.raw, d.si) for d in held) for x in walk(side))


def _shown(symbol: str, value: float, leaf: Leaf) -> OwnNumber:
    return OwnNumber(stands_for=letter(symbol), si=value, raw=leaf.raw, half=leaf.number.half, line=0, symbol=symbol, carried=True)


@lru_cache(maxsize=4_000)
def printed_scales(part: CompiledCalculation, symbol: str) -> tuple[float, ...]:
    """Scales of the units in which data of the same dimensions are printed."""
    dims = part.dimensions.get(symbol)
    if dims is None or not any(dims[:7]):
        return ()
    alike = (d.unit.scale for d in part.data.values() if d.unit and d.needs_conversion and same_dimensions(d.unit.dimensions, dims))
    return tuple(sorted(set(alike)))


@lru_cache(maxsize=20_000)
def is_other_g(part: CompiledCalculation, leaf: Leaf) -> bool:
    """10 for g is another value of g, not one of those given rounded to a whole number."""
    datum = part.data.get("g")
    return datum is not None and is_usual_g(datum) and leaf.raw == max(OTHER_G) and leaf.raw not in (datum.si, *datum.others)


def is_usual_g(datum: Datum) -> bool:
    """The constant of the data sheet, or one of its usual values given in the question."""
    return datum.constant or datum.si in OTHER_G
