"""Significant figures of a typed value against the ruling."""

from __future__ import annotations

from marker.kinds.fault_texts import fault
from marker.kinds.sides import Shown
from marker.kinds.typed_numbers import the_number
from marker.results import FaultFound
from marker.scheme.convention import Convention


def figures_fault(value: Shown, least: int, convention: Convention) -> FaultFound | None:
    """The fault of too many or too few figures, None when there is none. `least` are the figures of the least precise datum."""
    number = the_number(value.expr)
    window = convention.significant_figures
    if number is None or window.scope == "never":
        return None
    reference = least if window.reference == "least datum" else window.fixed
    low, high = max(1, reference - window.under), None if window.over is None else reference + window.over
    fewest, most = number.figures
    if most >= low and (high is None or fewest <= high):
        return None
    shown = most if most < low else fewest
    allowed = f"{low} or more" if high is None else f"{low} to {high}"
    return fault("too-few-figures" if most < low else "too-many-figures", value.line, shown=shown, allowed=allowed)
