"""Which reading of a statement is meant, for kinds that look for values rather than for one relationship."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

from marker.expression import (
    Dimensions,
    Expr,
    Negative,
    Number,
    Product,
    Quotient,
    Sum,
    Symbol,
    Unit,
    UnitFactor,
    children,
    has_unit,
    rebuild,
)
from marker.kinds.typed_numbers import carries_percent, halves, is_typed_number, letters, value_of
from marker.physics.equality import Grade, equal
from marker.physics.evaluate import same_dimensions
from marker.reading.model import Line, Reading, Statement

_CHEAP, _DEAR = 1.0, 3.0  # what a reading may cost beyond the plainest: where that says nothing of numbers, where it is false
_SPECK = 0.25  # what a unit may cost beyond an unknown letter in its place
_FOREIGN = 0.3  # what a unit the part knows nothing of counts against a reading
_CHANGE = frozenset(("Δ", "δ", "d"))

Units = frozenset[Dimensions]
ANY_UNIT: Units = frozenset()


def statements(lines: Sequence[Line]) -> tuple[Statement, ...]:
    """The statements that count, in order: those not crossed out."""
    return tuple(s for line in lines if not line.withdrawn for s in line.statements if not s.withdrawn)


@lru_cache(maxsize=4096)
def best_reading(statement: Statement, units: Units = ANY_UNIT) -> Reading:
    """The plainest reading that makes the equalities of numbers true, where that costs little; else the plainest of all.

    Between readings as plain as each other, the one whose values have units the part is about: ms-2 as m s⁻², not as per millisecond
    squared. A Δ read apart from its letter is joined to it.
    """
    plainest = _plainest(statement)
    dearest = plainest.cost + (_DEAR if _checks(plainest) else _CHEAP)
    pool = [r for r in statement.readings if _holds(r) and r.cost <= dearest]
    if not pool:
        pool = [r for r in statement.readings if bool(_checks(r)) == bool(_checks(plainest))]
    chosen = min(pool, key=lambda r: r.cost + (_FOREIGN if _foreign_unit(r, units) else 0.0))
    return _opened(replace(chosen, sides=tuple(map(_joined, chosen.sides))))


def _plainest(statement: Statement) -> Reading:
    """The first reading; but where it takes what is divided by after a number, "0.34 1/min", for an unknown letter and the next costs
    no more to speak of, the one that takes it for a unit."""
    first = statement.readings[0]
    if not any(map(_per_letter, first.sides)):
        return first
    near = (r for r in statement.readings if r.cost <= first.cost + _SPECK)
    return next((r for r in near if not any(map(_per_letter, r.sides))), first)


def _per_letter(expr: Expr) -> bool:
    """True for "0.34 1/q", a number times one over a letter that is none of the part's."""
    if isinstance(expr, Negative):
        return _per_letter(expr.inner)
    over = expr.over.factors if isinstance(expr, Quotient) and isinstance(expr.over, Product) else ()
    one = len(over) == 2 and isinstance(over[1], Number) and over[1].text == "1" and is_typed_number(over[0])
    return one and isinstance(expr, Quotient) and isinstance(expr.under, Symbol) and not expr.under.known


def _foreign_unit(reading: Reading, units: Units) -> bool:
    """True when a value typed has a unit of a kind the part knows nothing of."""
    if not units:
        return False
    for side in reading.sides:
        for half in halves(side) or (side,):
            value = value_of(half) if is_typed_number(half) and has_unit(half) and not carries_percent(half) else None
            if value is not None and not any(same_dimensions(value.dimensions, d) for d in units):
                return True
    return False


def _opened(reading: Reading) -> Reading:
    """ "gradient -0.54", a name before a number, as the two sides they are."""
    only = reading.sides[0]
    if len(reading.sides) == 1 and isinstance(only, Sum) and len(only.terms) == 2:
        name, number = only.terms
        if isinstance(name, Symbol) and len(name.name) > 2 and isinstance(number, Negative) and is_typed_number(number):
            return replace(reading, sides=(name, number), relations=("=",))
    return reading


def _holds(reading: Reading) -> bool:
    grades = _checks(reading)
    return bool(grades) and all(g is not Grade.FALSE for g in grades)


def _checks(reading: Reading) -> tuple[Grade, ...]:
    """How the equalities between neighbouring numeric sides stand; of value ± uncertainty, either may be meant."""
    return tuple(g for a, b in pairwise(reading.sides) if (g := _check(a, b)) is not Grade.UNDECIDED)


@lru_cache(maxsize=4096)
def _check(left: Expr, right: Expr) -> Grade:
    if letters(left) or letters(right):
        return Grade.UNDECIDED
    grades = [equal(a, b).grade for a in halves(left) or (left,) for b in halves(right) or (right,)]
    return next((g for g in grades if g not in (Grade.FALSE, Grade.UNDECIDED)), grades[0])


def _joined(expr: Expr) -> Expr:
    """Δ · s as the one letter Δs."""
    parts = tuple(map(_joined, children(expr)))
    if isinstance(expr, Quotient) and (value := _per_unit(expr)) is not expr:
        return value
    if isinstance(expr, Product):
        factors: list[Expr] = []
        for part in parts:
            before = factors[-1] if factors else None
            if isinstance(before, Symbol) and before.name in _CHANGE and not before.known and isinstance(part, Symbol):
                factors[-1] = Symbol(name=f"Δ{part.name}", known=part.known, at=before.at)
            else:
                factors.append(part)
        return factors[0] if len(factors) == 1 else Product(factors=tuple(factors), at=expr.at)
    return rebuild(expr, parts) if parts and parts != children(expr) else expr


def _per_unit(expr: Expr) -> Expr:
    """The value "0.116 1/h", read as (0.116 × 1)/h, as a number with a unit."""
    if not (isinstance(expr, Quotient) and isinstance(expr.under, UnitFactor) and not expr.under.unit.offset):
        return expr
    factors = expr.over.factors if isinstance(expr.over, Product) else ()
    if len(factors) != 2 or not isinstance(factors[1], Number) or factors[1].text != "1" or not is_typed_number(factors[0]):
        return expr
    under = expr.under.unit
    dimensions: Dimensions = tuple(-d for d in under.dimensions)  # type: ignore[assignment]
    unit = UnitFactor(unit=Unit(name=f"1/({under.name})", scale=1.0 / under.scale, dimensions=dimensions))
    return Product(factors=(factors[0], unit), at=expr.at)
