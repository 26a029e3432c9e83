"""What a table or graph of readings supports: proportion of each kind, and how to plot for a straight line.

Tests of proportion look for the constant that a kind of relation keeps (y/x, xy, y/x², yx², y²/x; a constant ratio for equal steps).
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Literal

from marker.physics.regression import StraightLine, least_squares

if TYPE_CHECKING:
    import sympy

Relation = Literal["direct", "inverse", "square", "inverse square", "root", "exponential"]

_POWERS: Mapping[str, float] = MappingProxyType({"direct": 1.0, "inverse": -1.0, "square": 2.0, "inverse square": -2.0, "root": 0.5})
RELATIONS: tuple[Relation, ...] = ("direct", "inverse", "square", "inverse square", "root", "exponential")


@dataclass(frozen=True, slots=True)
class Constancy:
    """The would-be constant at each reading, and its spread: greatest departure from their mean as a fraction of it."""

    values: tuple[float, ...]
    mean: float
    spread: float

    def within(self, tolerance: float) -> bool:
        """True when every value is within the tolerance (a fraction, 0.05 for 5 %) of the mean."""
        return self.spread <= tolerance


def power_of(relation: Relation) -> float | None:
    """The power of x to which y is proportional; None for the exponential relation, which has none."""
    return _POWERS.get(relation)


def constants(relation: Relation, xs: Sequence[float], ys: Sequence[float]) -> tuple[float, ...]:
    """What stays the same if the relation holds: y/xⁿ at each reading; for the exponential, the factor per unit of x between
    neighbours (one fewer than the readings). Raises ValueError where a quotient cannot be formed."""
    if len(xs) != len(ys) or len(xs) < 2:
        raise ValueError("two or more readings of each are needed")
    try:
        if relation == "exponential":
            pairs = sorted(zip(xs, ys, strict=True))
            return tuple((d / b) ** (1.0 / (c - a)) for (a, b), (c, d) in pairwise(pairs))
        n = _POWERS[relation]
        return tuple(y / x**n for x, y in zip(xs, ys, strict=True))
    except (ZeroDivisionError, OverflowError, TypeError):
        raise ValueError("a reading of nought leaves no quotient") from None


def constancy(relation: Relation, xs: Sequence[float], ys: Sequence[float]) -> Constancy:
    """How constant the relation's constant is over the readings. Pairs (0, 0) say nothing and are passed over."""
    kept = [(x, y) for x, y in zip(xs, ys, strict=True) if x != 0.0 or y != 0.0]
    return spread_of(constants(relation, [x for x, _ in kept], [y for _, y in kept]))


def spread_of(values: Sequence[float]) -> Constancy:
    """Mean of would-be constants and their greatest departure from it, as a fraction of the mean."""
    if not values or any(isinstance(v, complex) or not math.isfinite(v) for v in values):
        raise ValueError("no constant can be formed from these readings")
    mean = math.fsum(values) / len(values)
    if mean == 0.0:
        return Constancy(tuple(values), 0.0, 0.0 if not any(values) else math.inf)
    return Constancy(tuple(values), mean, max(abs(v - mean) for v in values) / abs(mean))


def supported(xs: Sequence[float], ys: Sequence[float], tolerance: float = 0.05) -> tuple[Relation, ...]:
    """The relations whose constant keeps within the tolerance, the most constant first.

    For the exponential, what must keep is the factor over the mean step, which the factor per unit is scaled to.
    """
    found: list[tuple[float, Relation]] = []
    for relation in RELATIONS:
        try:
            spread = _comparable_spread(relation, xs, ys)
        except ValueError:
            continue
        if spread <= tolerance:
            found.append((spread, relation))
    return tuple(r for _, r in sorted(found, key=lambda pair: pair[0]))


def _comparable_spread(relation: Relation, xs: Sequence[float], ys: Sequence[float]) -> float:
    if relation != "exponential":
        return constancy(relation, xs, ys).spread
    if len(xs) < 3:
        raise ValueError("three readings are needed")
    step = (max(xs) - min(xs)) / (len(xs) - 1)
    try:
        return spread_of([c**step for c in constants(relation, xs, ys)]).spread
    except (OverflowError, ZeroDivisionError):
        raise ValueError("the factors are too large to compare") from None


def through_the_origin(line: StraightLine, reach: float, times: float = 2.0) -> bool:
    """True when a fitted line passes through the origin within its uncertainty: the intercept is not more than `times` its standard
    error, or not more than `reach` (in y's unit, for instance the uncertainty of a reading)."""
    error = 0.0 if math.isnan(line.intercept_error) else line.intercept_error
    return abs(line.intercept) <= max(times * error, reach)


def directly_proportional(xs: Sequence[float], ys: Sequence[float], reach: float = 0.0, least_r_squared: float = 0.99) -> bool:
    """True when the readings lie on a straight line (r² at least as given) that passes through the origin within uncertainty."""
    line = least_squares(xs, ys)
    straight = not math.isnan(line.r_squared) and line.r_squared >= least_r_squared
    return straight and through_the_origin(line, reach)


@dataclass(frozen=True, slots=True)
class Linearised:
    """Gradient and intercept of the straight line a relationship makes on chosen axes, as SymPy expressions."""

    gradient: "sympy.Expr"
    intercept: "sympy.Expr"


def linearise(left: "sympy.Expr", right: "sympy.Expr", vertical: "sympy.Expr", horizontal: "sympy.Expr") -> Linearised | None:
    """What gradient and intercept equal when `vertical` (T²) is plotted against `horizontal` (L) for the relationship left = right.

    All symbols should be declared positive. The dependent quantity is the one letter of `vertical` not in `horizontal`, and the
    other way about; None when the axes do not make the relationship a straight line, or it cannot be solved for the dependent quantity.
    """
    import sympy

    relation = left - right
    y = _only(vertical.free_symbols - horizontal.free_symbols, relation)
    x = _only(horizontal.free_symbols - vertical.free_symbols, relation)
    if y is None or x is None:
        return None
    for solution in sympy.solve(relation, y, dict=True):
        value = sympy.expand_log(sympy.simplify(vertical.subs(y, solution[y])), force=True)
        gradient = sympy.simplify(sympy.diff(value, x) / sympy.diff(horizontal, x))
        intercept = sympy.simplify(value - gradient * horizontal)
        if x not in gradient.free_symbols and x not in intercept.free_symbols and gradient != 0:
            return Linearised(gradient, intercept)
    return None


def _only(candidates: set[Any], relation: Any) -> Any:
    found = [s for s in candidates if s in relation.free_symbols]
    return found[0] if len(found) == 1 else None


def transformed(values: Sequence[float], change: Callable[[float], float]) -> tuple[float, ...]:
    """A column of readings changed for plotting (squared, inverted, logarithm). Raises ValueError where it cannot be."""
    try:
        return tuple(change(v) for v in values)
    except (ZeroDivisionError, OverflowError):
        raise ValueError("a reading cannot be changed so") from None
