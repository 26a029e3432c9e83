"""A response as a run of sides and of the numbers shown in them, for kinds that look for values rather than for one relationship.

A line `gradient = 29.6/80 = 0.37 mm/N` has three sides; the last two are said to be the gradient. Each number,
and each piece of arithmetic inside a side, is something the candidate has shown.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from marker.expression import (
    Dimensions,
    Expr,
    Negative,
    Number,
    PlusMinus,
    Power,
    Product,
    Quotient,
    Sum,
    Symbol,
    UnitFactor,
    children,
    has_unit,
    rebuild,
    symbols,
    walk,
)
from marker.physics.evaluate import Grade, Unknown, Value, equal, evaluate, last_place, same_dimensions
from marker.reading.model import Line, Reading, Statement

MOST_SHOWN = 600
_CHEAP, _DEAR = 1.0, 3.0  # what a reading may cost beyond the plainest: where that says nothing of numbers, where it is false
_FOREIGN = 0.3  # what a unit the part knows nothing of counts against a reading
_CHANGE = frozenset(("Δ", "δ", "d"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side of a chain of equalities, or a bare expression.

    subject     letter or name it is said to be equal to, "" when nothing says so;  words  prose just before the statement
    chain       number of the statement in the response;  place  number of the side in its statement
    """

    line: int
    chain: int
    place: int
    expr: Expr
    value: Value | None
    subject: str = ""
    words: str = ""
    alternative: bool = False
    final: bool = False
    tentative: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A value on the paper: a typed number with its unit, or a piece of arithmetic.

    si, raw     value with units counted, and as typed with none;  half_si, half_raw  half the last place, nought for arithmetic
    dimensions  None when no unit is written;  percent  written with a % sign;  typed  one number, not arithmetic
    """

    expr: Expr
    si: float
    raw: float
    half_si: float
    half_raw: float
    dimensions: Dimensions | None
    percent: bool
    typed: bool
    side: Side

    @property
    def line(self) -> int:
        return self.side.line


def statements(lines: Sequence[Line]) -> tuple[Statement, ...]:
    """The statements that count, in order: those not crossed out."""
    return tuple(s for line in lines if not line.withdrawn for s in line.statements if not s.withdrawn)


Units = frozenset[Dimensions]
ANY_UNIT: Units = frozenset()


@lru_cache(maxsize=4096)
def best_reading(statement: Statement, units: Units = ANY_UNIT) -> Reading:
    """The plainest reading that makes the equalities of numbers true, where that costs little; else the plainest of all.

    Between readings as plain as each other, the one whose values have units the part is about: ms-2 as m s⁻², not as per millisecond
    squared. A Δ read apart from its letter is joined to it.
    """
    plainest = statement.readings[0]
    dearest = plainest.cost + (_DEAR if _checks(plainest) else _CHEAP)
    pool = [r for r in statement.readings if _holds(r) and r.cost <= dearest]
    if not pool:
        pool = [r for r in statement.readings if bool(_checks(r)) == bool(_checks(plainest))]
    chosen = min(pool, key=lambda r: r.cost + (_FOREIGN if _foreign_unit(r, units) else 0.0))
    return _opened(replace(chosen, sides=tuple(map(_joined, chosen.sides))))


def _foreign_unit(reading: Reading, units: Units) -> bool:
    """True when a value typed has a unit of a kind the part knows nothing of."""
    if not units:
        return False
    for side in reading.sides:
        for half in halves(side) or (side,):
            value = _value(half) if is_typed_number(half) and has_unit(half) and not carries_percent(half) else None
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


def _check(left: Expr, right: Expr) -> Grade:
    if letters(left) or letters(right):
        return Grade.UNDECIDED
    grades = [equal(a, b).grade for a in halves(left) or (left,) for b in halves(right) or (right,)]
    return next((g for g in grades if g not in (Grade.FALSE, Grade.UNDECIDED)), grades[0])


def _joined(expr: Expr) -> Expr:
    """Δ · s as the one letter Δs."""
    parts = tuple(map(_joined, children(expr)))
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


def letters(node: Expr) -> frozenset[str]:
    return symbols(node) - {"π"}


def sides(lines: Sequence[Line], units: Units = ANY_UNIT) -> tuple[Side, ...]:
    """Every side of every statement that counts, in order, each with what it is said to be."""
    found: list[Side] = []
    previous = ""
    for chain, statement in enumerate(statements(lines)):
        reading = best_reading(statement, units)
        subject = previous if reading.opens else ""
        ahead = _first_letter(reading.sides)
        for place, expr in enumerate(reading.sides):
            name = _named(expr)
            value = None if letters(expr) else _value(expr)
            said = subject or (ahead if value is not None else "")
            found.append(
                Side(
                    line=statement.line,
                    chain=chain,
                    place=place,
                    expr=expr,
                    value=value,
                    subject=said,
                    words=statement.before.lower(),
                    alternative=statement.alternative,
                    final=statement.final,
                    tentative=statement.tentative,
                )
            )
            subject = name or subject
        previous = subject
    return tuple(found)


def _first_letter(parts: Sequence[Expr]) -> str:
    return next((n for n in map(_named, parts) if n), "")


def _named(expr: Expr) -> str:
    """The name of a side that is one letter or name alone."""
    return expr.name if isinstance(expr, Symbol) and expr.name != "π" else ""


def _value(expr: Expr) -> Value | None:
    try:
        return evaluate(expr)
    except Unknown:
        return None


def shown(found: Iterable[Side]) -> tuple[Shown, ...]:
    """Every value on the paper in order, a piece of arithmetic before the numbers in it."""
    result: list[Shown] = []
    for side in found:
        for expr in _pieces(side.expr):
            piece = _shown(expr, side)
            if piece is not None:
                result.append(piece)
        if len(result) > MOST_SHOWN:
            break
    return tuple(result)


def _shown(expr: Expr, side: Side) -> Shown | None:
    if letters(expr) or isinstance(expr, UnitFactor):
        return None
    value = _value(expr)
    if value is None:
        return None
    if value.raw == 0.0:
        return None
    half_si, half_raw = last_place(expr)
    return Shown(
        expr=expr,
        si=value.si,
        raw=value.raw,
        half_si=half_si,
        half_raw=half_raw,
        dimensions=value.dimensions if has_unit(expr) else None,
        percent=carries_percent(expr),
        typed=is_typed_number(expr),
        side=side,
    )


def halves(expr: Expr) -> tuple[Expr, Expr] | None:
    """Value and uncertainty of value ± uncertainty, each with its unit, when the unit is written once for both; else None."""
    if isinstance(expr, PlusMinus):
        first, second = unit_part(expr.value), unit_part(expr.uncertainty)
        return _in_unit(expr.value, second if first is None else None), _in_unit(expr.uncertainty, first if second is None else None)
    if isinstance(expr, Product) and sum(isinstance(f, PlusMinus) for f in expr.factors) == 1:
        rest = tuple(f for f in expr.factors if not isinstance(f, PlusMinus))
        both = next(f for f in expr.factors if isinstance(f, PlusMinus))
        if all(has_unit_alone(f) or _power_of_ten(f) for f in rest):
            return Product(factors=(both.value, *rest), at=expr.at), Product(factors=(both.uncertainty, *rest), at=expr.at)
    if isinstance(expr, Quotient) and has_unit_alone(expr.under):
        over = halves(expr.over)
        if over is not None:
            return Quotient(over=over[0], under=expr.under, at=expr.at), Quotient(over=over[1], under=expr.under, at=expr.at)
    return None


def _in_unit(expr: Expr, unit: Expr | None) -> Expr:
    return expr if unit is None or carries_percent(unit) else Product(factors=(expr, unit), at=expr.at)


def _pieces(expr: Expr) -> Iterable[Expr]:
    """The tree and its pieces, value and uncertainty of a ± each with the unit written once for both."""
    both = halves(expr)
    if both is not None:
        for half in both:
            yield from _pieces(half)
        return
    yield expr
    if is_typed_number(expr):
        return
    parts = children(expr)
    for part in parts[:1] if isinstance(expr, Power) else parts:
        yield from _pieces(part)


def has_unit_alone(expr: Expr) -> bool:
    """True for an expression made of units only."""
    if isinstance(expr, UnitFactor):
        return True
    if isinstance(expr, Power):
        return has_unit_alone(expr.base)
    parts = children(expr)
    return bool(parts) and isinstance(expr, Product | Quotient) and all(map(has_unit_alone, parts))


def unit_part(expr: Expr) -> Expr | None:
    """The unit a typed number carries, as a tree of unit factors; None without one."""
    if isinstance(expr, Negative):
        return unit_part(expr.inner)
    if isinstance(expr, Product):
        units = tuple(f for f in expr.factors if has_unit_alone(f))
        return units[0] if len(units) == 1 else Product(factors=units) if units else None
    if isinstance(expr, Quotient):
        over = unit_part(expr.over)
        if has_unit_alone(expr.under):
            return Quotient(over=over or Number(text="1", value=1.0), under=expr.under)
        return over
    return None


def unit_text(expr: Expr) -> str:
    """The unit of a typed number as symbols, "N/m"; "" without one."""
    if isinstance(expr, UnitFactor):
        return expr.unit.name
    if isinstance(expr, Power) and has_unit_alone(expr):
        return f"{unit_text(expr.base)}^{_exponent(expr.exponent)}"
    if isinstance(expr, Quotient):
        return f"{unit_text(expr.over)}/{unit_text(expr.under)}" if has_unit_alone(expr.under) else unit_text(expr.over)
    return " ".join(t for t in map(unit_text, children(expr)) if t) if isinstance(expr, Product | Negative | PlusMinus) else ""


def _exponent(expr: Expr) -> str:
    value = _value(expr)
    return "" if value is None else f"{value.raw:g}"


@lru_cache(maxsize=8192)
def is_typed_number(expr: Expr) -> bool:
    """True for one typed number: 0.37, -4, 3.7 × 10⁻⁴, with or without a unit; False for arithmetic."""
    if isinstance(expr, Number):
        return True
    if isinstance(expr, Negative):
        return is_typed_number(expr.inner)
    if isinstance(expr, Product):
        rest = expr.factors[1:]
        return is_typed_number(expr.factors[0]) and all(has_unit_alone(f) or _power_of_ten(f) for f in rest)
    if isinstance(expr, Quotient):
        return is_typed_number(expr.over) and has_unit_alone(expr.under)
    return False


def _power_of_ten(expr: Expr) -> bool:
    return isinstance(expr, Power) and isinstance(expr.base, Number) and expr.base.value == 10.0 and not letters(expr)


@lru_cache(maxsize=8192)
def carries_percent(expr: Expr) -> bool:
    if isinstance(expr, UnitFactor):
        return expr.unit.name == "%"
    return any(map(carries_percent, children(expr)))


def the_number(expr: Expr) -> Number | None:
    """The number of a typed value, None for arithmetic."""
    if not is_typed_number(expr):
        return None
    if isinstance(expr, Number):
        return expr
    return the_number(children(expr)[0])


def holds_number(expr: Expr, target: float, slack: float = 0.001) -> bool:
    """True when one of the numbers typed in a tree is the target, or a power of ten of it."""
    numbers = (n for n in walk(expr) if isinstance(n, Number))
    return any(power_of_ten_between(n.value, target, max(slack, min(n.half / abs(n.value), 0.05))) is not None for n in numbers if n.value)


def close(value: float, target: float, half: float = 0.0, slack: float = 0.005) -> bool:
    """True when a value agrees with a target to half its last place, or within the slack (a fraction of the target)."""
    return abs(value - target) <= max(half * (1 + 1e-9), slack * abs(target)) + 1e-15


def power_of_ten_between(value: float, target: float, slack: float = 0.015, widest: int = 9) -> int | None:
    """n when value = target × 10ⁿ within the slack, nearest n; None when no power of ten does it."""
    if value == 0.0 or target == 0.0 or (value > 0) != (target > 0):
        return None
    n = round(math.log10(value / target))
    return n if abs(n) <= widest and close(value, target * 10.0**n, slack=slack) else None
