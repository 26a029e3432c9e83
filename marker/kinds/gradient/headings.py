"""The graph with a power of ten left in the heading of an axis: readings of 5.5 × 10¹⁴ are worked with as 5.5, as a heading lets one."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from marker.kinds.gradient.axes import Axis
from marker.kinds.gradient.wanted import Range

if TYPE_CHECKING:
    from marker.kinds.gradient.compiled import GradientPart

_LEAST_POWER = 3  # smaller powers of ten are not put into a heading


def headed(part: GradientPart) -> tuple[GradientPart, ...]:
    """The graph with the power of ten of one axis, or of both, left in its heading; none where the readings have no such power."""
    over, under = _power(part.y), _power(part.x)
    pairs = dict.fromkeys(((0, under), (over, 0), (over, under)))
    return tuple(_with_headings(part, y, x) for y, x in pairs if y or x)


def _power(axis: Axis) -> int:
    """The power of ten of the readings of one axis, nought for a small one."""
    largest = max(map(abs, axis.values))
    power = math.floor(math.log10(largest)) if largest else 0
    return power if abs(power) >= _LEAST_POWER else 0


def _with_headings(part: GradientPart, y: int, x: int) -> GradientPart:
    over, under = 10.0**y, 10.0**x
    line = replace(part.line, gradient=part.line.gradient * under / over, intercept=part.line.intercept / over)
    return replace(
        part,
        x=_divided(part.x, under),
        y=_divided(part.y, over),
        line=line,
        gradient_range=_times(part.gradient_range, under / over),
        intercept_range=_times(part.intercept_range, 1.0 / over),
    )


def _divided(axis: Axis, by: float) -> Axis:
    return replace(axis, values=tuple(v / by for v in axis.values), reach=axis.reach / by, bars=tuple(b / by for b in axis.bars))


def _times(ends: Range, factor: float) -> Range:
    return ends[0] * factor, ends[1] * factor
