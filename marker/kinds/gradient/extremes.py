"""Best and worst lines: the gradient of a steepest or shallowest line, and the uncertainty of the gradient."""

from __future__ import annotations

import re

from marker.kinds.gradient.claims import in_table_units
from marker.kinds.gradient.evidence import Evidence
from marker.kinds.gradient.slopes import Way
from marker.kinds.gradient.wanted import GRADIENT
from marker.kinds.marking import Finding
from marker.kinds.sides import Shown
from marker.kinds.typed_numbers import close, halves

_NAMED = re.compile(r"uncertain|\berror\b|±|\+/-")
_WORST = re.compile(r"\b(?:steep|shallow|worst|max|min|greatest|smallest)")
_SHARE = 0.35  # how far an eye-drawn worst line may be from the computed one, as a fraction of its distance from the best line


def worst_line(e: Evidence) -> Finding:
    """Looks for the gradient of a line as steep or as shallow as the error bars allow."""
    best = e.part.line.gradient
    values = [(in_table_units(e.part, c.shown), c.line) for c in e.working.of(GRADIENT)]
    named = {line.number for line in e.lines if not line.withdrawn and _WORST.search(line.text.lower())}
    values += [(in_table_units(e.part, v), v.line) for v in e.working.values if v.line in named]
    values += [(s.value, s.line) for s in e.working.slopes if s.way not in (Way.INVERTED, Way.ONE_POINT_INVERTED)]
    for extreme in e.part.extremes or ():
        reach = abs(extreme.gradient - best)
        for value, line in values:
            if reach and abs(value - extreme.gradient) <= _SHARE * reach:
                return Finding(earned=True, reason="Gradient of a worst line through the error bars.", lines=(line,))
    if e.part.extremes is None:
        doubt = "no straight line passes through all error bars of the table"
        return Finding(earned=False, reason="No worst line can be computed.", doubt=doubt)
    return Finding(earned=False, reason="No gradient of a worst line.")


def uncertainty(e: Evidence) -> Finding:
    """Looks for the uncertainty of the gradient: half the difference of the extreme gradients, or best less worst."""
    if e.part.extremes is None:
        return Finding(
            earned=False, reason="No worst line can be computed.", doubt="no straight line passes through all error bars of the table"
        )
    low, high = (line.gradient for line in e.part.extremes)
    best = e.part.line.gradient
    targets = {abs(high - low) / 2.0, abs(high - best), abs(best - low)}
    for value in reversed(e.working.values):
        if value.typed and _is_for_uncertainty(e, value):
            number = in_table_units(e.part, value)
            half = min(value.half_raw, 0.5 * abs(value.raw)) * (number / value.raw)
            if any(close(abs(number), t, abs(half), slack=_SHARE) for t in targets):
                return Finding(earned=True, reason="Uncertainty of the gradient from the worst lines.", lines=(value.line,))
    return Finding(earned=False, reason="The uncertainty of the gradient is not given, or not within reach of the worst lines.")


def _is_for_uncertainty(e: Evidence, value: Shown) -> bool:
    """True for the uncertainty half of gradient ± uncertainty, or a number said to be one."""
    both = halves(value.side.expr)
    if both is not None:
        return value.expr == both[1]
    if _NAMED.search(f"{value.side.subject} {value.side.words}".lower()):
        return True
    line = next((line for line in e.lines if line.number == value.line), None)
    return line is not None and bool(_NAMED.search(line.text.lower()))
