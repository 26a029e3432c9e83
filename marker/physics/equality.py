"""Whether an equality of numbers holds as typed: to the places shown, nearly, as numbers only, or on two temperature scales."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from marker.expression import Expr, Negative, Number, PlusMinus, Power, Product, Quotient, UnitFactor, has_unit, walk
from marker.physics.evaluate import EMPTY, Unknown, Value, Values, absolute_temperature, evaluate, last_place, same_dimensions

CLOSE = 0.012
CLOSE_OF_MANY = 0.002  # of a value shown to five figures or more, where what it comes from is shown to as many
_MANY = 5


class Grade(StrEnum):
    """How an equality of two numeric sides stands."""

    EXACT = "holds"
    CLOSE = "nearly holds"
    NUMBERS = "holds as numbers, not as quantities"
    SCALES = "holds as readings on two temperature scales"
    FALSE = "does not hold"
    UNDECIDED = "cannot be evaluated"


@dataclass(frozen=True, slots=True, kw_only=True)
class Equality:
    """Verdict on left = right. ratio  right over left in SI (nan when undefined); same_dimensions  None when a side has no unit."""

    grade: Grade
    ratio: float = math.nan
    same_dimensions: bool | None = None

    @property
    def holds(self) -> bool:
        """Strictly: within half a unit of the last place shown (or 1.2 %), units counted and agreeing."""
        return self.grade in (Grade.EXACT, Grade.CLOSE) and self.same_dimensions is not False


def _lone_number(node: Expr) -> Number | None:
    """The number of a value with or without a unit, None for anything worked out."""
    inner = node.inner if isinstance(node, Negative) else node
    inner = inner.value if isinstance(inner, PlusMinus) else inner
    if isinstance(inner, Product) and len(inner.factors) == 2 and isinstance(inner.factors[1], UnitFactor):
        inner = inner.factors[0]
    if isinstance(inner, Quotient) and isinstance(inner.over, Number) and _is_unit(inner.under):
        inner = inner.over  # 1.36/s
    return inner if isinstance(inner, Number) else None


def _is_unit(node: Expr) -> bool:
    return isinstance(node, UnitFactor) or (isinstance(node, Power) and isinstance(node.base, UnitFactor))


def _not_counted(number: Number | None, roughly: bool) -> float:
    """How many times coarser the last place is where noughts at the end of a whole number may not count: 128 is 130, 686 ≈ 700."""
    if number is None or number.half == 0:
        return 1.0
    least, most = number.figures
    return 10.0 ** max(0, most - max(least, 1 if roughly else 2))


def _places(left: Expr, right: Expr, roughly: bool) -> tuple[float, float, float]:
    """(tolerance in SI, tolerance of the numbers as typed, the gap still put down to rounding on the way)."""
    numbers = _lone_number(left), _lone_number(right)
    wide = [_not_counted(n, roughly) for n in numbers]
    (si_a, raw_a), (si_b, raw_b) = last_place(left), last_place(right)
    a, b = (si_a * wide[0], raw_a * wide[0]), (si_b * wide[1], raw_b * wide[1])
    if None not in numbers:  # a value said again, in another unit or to fewer places: nothing is rounded on the way
        return max(a[0], b[0]), max(a[1], b[1]), 0.0
    many = any(n is not None and n.figures[0] >= _MANY and n.half for n in numbers)
    shown = left if numbers[0] is None else right
    return a[0] + b[0], a[1] + b[1], min(CLOSE, max(CLOSE_OF_MANY, _doubt(shown))) if many else CLOSE


def _doubt(node: Expr) -> float:
    """How far, as a fraction, the roundings of an expression's numbers can carry; whole numbers of one figure are counts."""
    numbers = [n for n in walk(node) if isinstance(n, Number) and n.half and n.value and not (n.text.isdigit() and len(n.text) == 1)]
    return sum(n.half * _not_counted(n, roughly=False) / abs(n.value) for n in numbers)


def equal(left: Expr, right: Expr, values: Values = EMPTY, *, radians: bool = False, roughly: bool = False) -> Equality:
    """Whether two sides agree: exactly to the places shown, closely (1.2 %), or only as numbers without their units.

    roughly  the sign between them is ≈: a whole number may be rounded to one figure
    """
    try:
        a, b = evaluate(left, values, radians=radians), evaluate(right, values, radians=radians)
    except Unknown:
        return Equality(grade=Grade.UNDECIDED)
    units = (has_unit(left), has_unit(right))
    same = same_dimensions(a.dimensions, b.dimensions) if all(units) else None
    tolerance, as_typed, close = _places(left, right, roughly)
    grade = _grade(a.si, b.si, tolerance, close)
    ratio = b.si / a.si if a.si else math.nan
    if grade in (Grade.FALSE, Grade.CLOSE):
        by_numbers = _grade(a.raw, b.raw, as_typed, close)
        if by_numbers is Grade.EXACT or (by_numbers is Grade.CLOSE and grade is Grade.FALSE):
            one_scale = not all(units)
            grade = Grade.NUMBERS if one_scale or (by_numbers is Grade.EXACT and grade is Grade.FALSE) else grade
        elif grade is Grade.FALSE and _on_two_scales(left, right, a, b):
            grade, same = Grade.SCALES, None
    return Equality(grade=grade, ratio=ratio, same_dimensions=same)


def _grade(a: float, b: float, tolerance: float, close: float) -> Grade:
    gap = abs(a - b)
    if gap <= tolerance * (1 + 1e-6) + 1e-9 * max(abs(a), abs(b)):
        return Grade.EXACT
    return Grade.CLOSE if gap <= close * max(abs(a), abs(b)) else Grade.FALSE


def _on_two_scales(left: Expr, right: Expr, a: Value, b: Value) -> bool:
    first, second = absolute_temperature(left), absolute_temperature(right)
    if first is None and second is None:
        return False
    return abs((a.si if first is None else first) - (b.si if second is None else second)) <= 1.0
