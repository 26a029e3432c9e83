"""The working of the gradient put as the value it comes to, so that what follows is judged as a calculation on that value.

`gradient = (4.35 - 6.20)/(16 - 0) = -0.116` becomes `gradient = -0.116`; the quotient in `A × (2.45 - 1.22)/(1.00 - 0.50)` becomes 2.46.
The places of what stays are kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.expression import Expr, Negative, Number, Product, Quotient, Sum, UnitFactor, children, has_unit, rebuild
from marker.kinds.gradient.axes import Axis
from marker.kinds.gradient.carrying import gradient_unit
from marker.kinds.gradient.compiled import GradientPart
from marker.kinds.gradient.slopes import quotient_of_readings
from marker.kinds.typed_numbers import close, letters
from marker.physics.evaluate import Unknown, evaluate
from marker.reading.model import Line, Reading, Readings, Statement


def without_working(part: GradientPart, lines: Sequence[Line]) -> tuple[Line, ...]:
    """The lines with quotients of readings as values, and differences of readings left out."""
    return tuple(replace(line, statements=_kept(part, line.statements)) for line in lines)


def _kept(part: GradientPart, found: Sequence[Statement]) -> tuple[Statement, ...]:
    return tuple(replace(s, readings=_readings(part, s.readings)) for s in found if not _is_working_alone(part, s.readings[0]))


def _readings(part: GradientPart, readings: Sequence[Reading]) -> Readings:
    return Readings([_put(part, readings[0])], lambda: [_put(part, r) for r in readings])


def _is_working_alone(part: GradientPart, reading: Reading) -> bool:
    """True for a change of one axis worked out, "4.35 - 6.20 = -1.85"."""
    numbers = [side for side in reading.sides if not letters(side)]
    return len(numbers) > 1 and _is_change(part, numbers[0]) and all(_same(numbers[0], n) for n in numbers[1:])


def _put(part: GradientPart, reading: Reading) -> Reading:
    """The reading without sides that are a quotient or a difference of readings, as long as a side that is none follows."""
    sides, relations = list(reading.sides), list(reading.relations)
    place = 0
    while place < len(sides) - 1:
        if _is_quotient(part, sides[place]) or _is_change(part, sides[place]) or _is_quotient_in_letters(part, sides[place]):
            del sides[place], relations[place]
        else:
            place += 1
    return replace(reading, sides=tuple(_valued(part, s) for s in sides), relations=tuple(relations))


def _is_quotient(part: GradientPart, expr: Expr) -> bool:
    return not letters(expr) and quotient_of_readings(part, expr) is not None


def _is_quotient_in_letters(part: GradientPart, expr: Expr) -> bool:
    """Δx/ΔF: what a gradient is, and no statement about any other quantity."""
    names = letters(expr) if isinstance(expr, Quotient) else frozenset[str]()
    changes = any(n.startswith("Δ") for n in names)
    return changes and all(n.removeprefix("Δ") in part.axis_letters | {""} for n in names)


def _valued(part: GradientPart, expr: Expr) -> Expr:
    """The expression with every quotient of readings in it as one number in the table's unit."""
    value = quotient_of_readings(part, expr)
    if value is not None:
        number = Number(text=f"{value:.6g}", value=abs(value), at=expr.at)
        unit = UnitFactor(unit=gradient_unit(part.x, part.y), at=expr.at)
        size = Product(factors=(number, unit), at=expr.at) if any(part.dimensions) else number
        return Negative(inner=size, at=expr.at) if value < 0 else size
    parts = children(expr)
    return rebuild(expr, tuple(_valued(part, p) for p in parts)) if parts else expr


def _is_change(part: GradientPart, expr: Expr) -> bool:
    """True for the difference of two readings of one axis."""
    if not (isinstance(expr, Sum) and len(expr.terms) == 2 and isinstance(expr.terms[1], Negative)):
        return False
    ends = [_typed(t) for t in (expr.terms[0], expr.terms[1].inner)]
    first, last = ends
    return first is not None and last is not None and any(_is_reading(a, first) and _is_reading(a, last) for a in (part.x, part.y))


def _typed(expr: Expr) -> float | None:
    if letters(expr) or has_unit(expr):
        return None
    try:
        return evaluate(expr).raw
    except Unknown:
        return None


def _is_reading(axis: Axis, value: float) -> bool:
    return any(close(value, v, slack=1e-6) for v in axis.values)


def _same(a: Expr, b: Expr) -> bool:
    first, other = _typed(a), _typed(b)
    return first is not None and other is not None and close(first, other, slack=0.01)
