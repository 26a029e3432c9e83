"""Dimensions in words a teacher reads: the SI unit they make."""

from __future__ import annotations

from marker.expression import Dimensions
from marker.physics.evaluate import same_dimensions
from marker.physics.units import parse_unit

_NAMED = ("N", "J", "W", "Pa", "C", "V", "Ω", "F", "T", "Wb", "H", "s^-1", "N/m", "J/kg", "m/s", "m/s^2", "N/C", "kg/m^3", "kg m/s")


def in_units(dimensions: Dimensions | None) -> str:
    """ "newtons" are N; a pure number is "no unit"."""
    if dimensions is None:
        return "no one unit (terms that are added or subtracted are of different kinds)"
    if not any(abs(d) > 1e-9 for d in dimensions[:7]):
        return "degrees or radians" if dimensions[7] else "no unit"
    for name in _NAMED:
        if same_dimensions(parse_unit(name)[0][0].dimensions, dimensions):
            return name
    parts = [
        b if e == 1 else f"{b}^{e:g}" for b, e in zip(("m", "kg", "s", "A", "K", "mol", "cd"), dimensions, strict=False) if abs(e) > 1e-9
    ]
    return " ".join(parts)
