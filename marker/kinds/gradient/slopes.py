"""How a candidate found a gradient: which quotient of which readings, and whether it is one.

A quotient of two differences names two points. It is a gradient when both lie on the line; the same quotient upside
down is an inverted gradient. A quotient of two single numbers may be one point (right only when the line passes
through the origin) or two differences worked out before.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import product

from marker.expression import Expr, Negative, Quotient, Sum, has_unit
from marker.judging.digits import exchanged, one_figure_off
from marker.kinds.gradient.axes import Axis
from marker.kinds.gradient.compiled import GradientPart
from marker.kinds.sides import Shown, Side
from marker.kinds.typed_numbers import close, letters
from marker.physics.evaluate import Unknown, evaluate

Pair = tuple[float, ...]


class Way(StrEnum):
    """What a quotient is. Only the first is right as it stands."""

    RIGHT = "change of y over change of x, of points on the line"
    INVERTED = "change of x over change of y, of points on the line"
    ONE_POINT = "one point only, and the line misses the origin"
    ONE_POINT_INVERTED = "one point only, upside down"
    OFF_LINE = "a reading that lies off the line"
    MISMATCHED = "values of different readings"
    MISREAD = "one reading with its figures exchanged, or one figure of it wrong"
    SIGN = "one of the differences the other way round"
    OTHER = "not a gradient of this line"


@dataclass(frozen=True, slots=True, kw_only=True)
class Slope:
    """One quotient found. `value` in the table's units when that can be told, else as typed; `apart` distance of the points along x
    as a fraction of the span, None when unknown; `order` its place in the run of values shown; `headed` the graph it is a gradient of where
    a power of ten was left in the heading of an axis."""

    way: Way
    value: float
    side: Side
    expr: Expr
    order: int
    apart: float | None = None
    headed: GradientPart | None = None

    @property
    def line(self) -> int:
        return self.side.line

    @property
    def inverted(self) -> bool:
        return self.way in (Way.INVERTED, Way.ONE_POINT_INVERTED)

    @property
    def of_points_shown(self) -> bool:
        """True for a quotient of two differences that are written out, so that both points can be seen."""
        return any(len(over) == len(under) == 2 for over, under in _quotients(self.expr))


def slopes(part: GradientPart, values: Sequence[Shown], headings: Sequence[GradientPart] = ()) -> tuple[Slope, ...]:
    """Every quotient of readings in the order written. `headings` are the graph with a power of ten left in the heading of an axis."""
    found: list[Slope] = []
    for order, piece in enumerate(values):
        for over, under in _quotients(piece.expr):
            slope = _slope(part, piece, order, over, under)
            if slope is None or slope.way not in (Way.RIGHT, Way.INVERTED, Way.SIGN):
                scaled = (_slope(h, piece, order, over, under) for h in headings)
                right = next((replace(s, headed=h) for h, s in zip(headings, scaled, strict=True) if s and s.way is Way.RIGHT), None)
                slope = right or slope
            if slope is not None:
                found.append(slope)
    return tuple(found)


def quotient_of_readings(part: GradientPart, expr: Expr) -> float | None:
    """What a quotient of readings comes to in the table's units (upside down as typed); None for any other expression."""
    for over, under in _quotients(expr):
        found = _found(part, over, under)
        if found is not None:
            return found[1]
    return None


def _quotients(expr: Expr) -> Iterator[tuple[tuple[Expr, ...], tuple[Expr, ...]]]:
    """(over, under) as one or two terms each; 37.0−7.4/100−20 is taken as it was meant, with its brackets lost."""
    if isinstance(expr, Quotient):
        over, under = _difference(expr.over), _difference(expr.under)
        if over and under:
            yield over, under
    if isinstance(expr, Sum) and len(expr.terms) == 3:
        first, middle, last = expr.terms
        if isinstance(middle, Negative) and isinstance(middle.inner, Quotient) and isinstance(last, Negative):
            yield (first, middle.inner.over), (middle.inner.under, last.inner)


def _difference(expr: Expr) -> tuple[Expr, ...]:
    """The two numbers of a difference, or the one of anything else."""
    if isinstance(expr, Sum):
        if len(expr.terms) == 2 and isinstance(expr.terms[1], Negative):
            return (expr.terms[0], expr.terms[1].inner)
        return () if len(expr.terms) > 2 else (expr,)
    return (expr,)


Found = tuple[Way, float, float | None]  # way, value in the table's units, distance apart along x


def _slope(part: GradientPart, piece: Shown, order: int, over: tuple[Expr, ...], under: tuple[Expr, ...]) -> Slope | None:
    found = _found(part, over, under)
    if found is None:
        return None
    way, value, apart = found
    return Slope(way=way, value=value, side=piece.side, expr=piece.expr, order=order, apart=apart)


def _found(part: GradientPart, over: tuple[Expr, ...], under: tuple[Expr, ...]) -> Found | None:
    """The way of a quotient, its value and the distance of its points."""
    if any(letters(e) for e in (*over, *under)):
        return None
    if len(over) == 2 and len(under) == 2:
        return _two_points(part, over, under)
    if len(over) == 1 and len(under) == 1:
        return _one_number_each(part, over[0], under[0])
    return _by_value(part, over, under)


def _number(expr: Expr, axis: Axis) -> Iterator[float]:
    """What a number may be in the axis's unit: by its unit, or bare in the table's unit, or bare after conversion to SI."""
    try:
        value = evaluate(expr)
    except Unknown:
        return
    if has_unit(expr):
        if value.dimensions == axis.unit.dimensions:
            yield value.si / axis.unit.scale
        return
    yield value.raw
    if axis.unit.scale != 1.0:
        yield value.raw / axis.unit.scale


def _columns(exprs: Sequence[Expr], axis: Axis) -> Iterator[Pair]:
    """Both numbers in the axis's unit, read the same way."""
    readings = [tuple(_number(e, axis)) for e in exprs]
    if all(readings):
        widths = {len(r) for r in readings}
        if len(widths) == 1:
            yield from zip(*readings, strict=True)
        else:
            yield from product(*readings)


def _on_line(part: GradientPart, x: float, y: float) -> bool:
    tolerance = max(part.spec.line_tolerance * part.y.span, 2 * part.y.reach)
    return abs(y - part.line.at(x)) <= tolerance


def _two_points(part: GradientPart, over: tuple[Expr, ...], under: tuple[Expr, ...]) -> Found | None:
    worst: Found | None = None
    for ys_of, xs_of, right in ((over, under, Way.RIGHT), (under, over, Way.INVERTED)):
        for ys, xs in product(_columns(ys_of, part.y), _columns(xs_of, part.x)):
            if xs[0] == xs[1] or ys[0] == ys[1]:
                continue
            apart, rise = abs(xs[0] - xs[1]) / part.x.span, (ys[0] - ys[1]) / (xs[0] - xs[1])
            value = rise if right is Way.RIGHT else 1.0 / rise
            straight = [_on_line(part, x, y) for x, y in zip(xs, ys, strict=True)]
            if all(straight):
                return right, value, apart
            if all(_on_line(part, x, y) for x, y in zip(reversed(xs), ys, strict=True)):
                return Way.SIGN, value, apart
            if right is Way.RIGHT and worst is None and any(straight):
                off = straight.index(False)
                worst = _off(part, xs[off], ys[off]), value, apart
    return worst or _by_value(part, over, under)


def _off(part: GradientPart, x: float, y: float) -> Way:
    """What a point off the line is: a reading as it stands, one with a number typed wrongly, or numbers that do not belong together."""
    if _is_reading(part, x, y):
        return Way.OFF_LINE
    here = [(a, b) for a, b in zip(part.x.values, part.y.values, strict=True)]
    tabled = any(close(y, b, slack=1e-6) for _, b in here) and any(close(x, a, slack=1e-6) for a, _ in here)
    like = (exchanged(f"{y:.10g}", f"{b:.10g}") or one_figure_off(f"{y:.10g}", f"{b:.10g}") for a, b in here if close(x, a, slack=1e-6))
    return Way.MISREAD if not tabled and any(like) else Way.MISMATCHED


def _is_reading(part: GradientPart, x: float, y: float) -> bool:
    return any(close(x, a, slack=1e-6) and close(y, b, slack=1e-6) for a, b in zip(part.x.values, part.y.values, strict=True))


def _one_number_each(part: GradientPart, over: Expr, under: Expr) -> Found | None:
    """A quotient of two numbers: two differences worked out before, one point, or something else altogether."""
    for y_of, x_of, right in ((over, under, True), (under, over, False)):
        for y, x in product(_number(y_of, part.y), _number(x_of, part.x)):
            if x == 0.0 or y == 0.0 or not _plausible(part, x, y) or (not right and _is_reciprocal(part, x, y)):
                continue
            value, apart = (y / x if right else x / y), abs(x) / part.x.span
            way = Way.RIGHT if right else Way.INVERTED
            if part.gradient_range[0] <= y / x <= part.gradient_range[1]:
                return way, value, apart
            if not part.through_origin and _on_line(part, x, y):
                return (Way.ONE_POINT if right else Way.ONE_POINT_INVERTED), value, None
            if _is_reading(part, x, y):
                return Way.OFF_LINE, value, None
            if _is_change(part, x, y):
                return way, value, apart
    return None


def _is_reciprocal(part: GradientPart, x: float, y: float) -> bool:
    """True for one over a gradient, which is no quotient of readings."""
    return x == 1.0 and part.gradient_range[0] <= y <= part.gradient_range[1] and not _is_reading(part, x, y)


def _plausible(part: GradientPart, x: float, y: float) -> bool:
    """True for numbers of the size the axes have, so that 1/0.37 is not taken for a quotient of readings."""
    return abs(x) <= 3 * max(map(abs, part.x.values)) and abs(x) >= 0.02 * part.x.span and abs(y) >= 0.02 * part.y.span


def _is_change(part: GradientPart, x: float, y: float) -> bool:
    """True when x and y are the changes between one and the same pair of readings."""
    table = list(zip(part.x.values, part.y.values, strict=True))
    pairs = ((c - a, d - b) for i, (a, b) in enumerate(table) for c, d in table[i + 1 :])
    return any(close(abs(x), abs(p), slack=1e-6) and close(abs(y), abs(q), slack=1e-6) for p, q in pairs)


def _by_value(part: GradientPart, over: tuple[Expr, ...], under: tuple[Expr, ...]) -> Found | None:
    """By the worth of the quotient alone."""
    for y_of, x_of, way in ((over, under, Way.RIGHT), (under, over, Way.INVERTED)):
        for ys, xs in product(_columns(y_of, part.y), _columns(x_of, part.x)):
            rise, run = (c[0] - c[1] if len(c) == 2 else c[0] for c in (ys, xs))
            if run and rise and part.gradient_range[0] <= rise / run <= part.gradient_range[1]:
                return way, (rise / run if way is Way.RIGHT else run / rise), None
    return None
