"""Numbers that only turn one unit into another: 1.60 × 10⁻¹⁹ (J in an electronvolt), 3.6 × 10⁶ (J in a kilowatt hour), 3.6 × 10⁶ J/kWh.

A value divided by the size of a unit is the same value in that unit, so such a number is part of the arithmetic and not of the physics.
Source: SI Brochure, 9th edition, table 8 (eV); kilowatt hour from its definition.
"""

from __future__ import annotations

import math
from functools import lru_cache

from marker.expression import Dimensions, Unit
from marker.judging.leaves import Leaf
from marker.physics.evaluate import same_dimensions
from marker.physics.units import parse_unit
from marker.scheme.compiled import CompiledCalculation

USUAL = ("eV", "keV", "MeV", "GeV", "kWh", "Wh", "ly", "u", "km/h")


def unit_ratio(part: CompiledCalculation, leaf: Leaf) -> float | None:
    """The size in SI of the unit that a number is the size of (3.6e6 for "3600000"), 1 for one with units that say so; else None."""
    unit = leaf.unit
    if unit is not None:
        plain = not any(unit.dimensions) and unit.scale != 1.0
        return 1.0 if plain and math.isclose(leaf.si, 1.0, rel_tol=2e-3) else None
    if leaf.number.figures[1] < 2:
        return None
    return next((s for s in unit_sizes(part) if math.isclose(leaf.raw, s, rel_tol=2.5e-3)), None)


@lru_cache(maxsize=256)
def unit_sizes(part: CompiledCalculation) -> tuple[float, ...]:
    """Sizes of the units values of this part may be turned into: those it prints or asks for, and usual ones of its quantities' kinds."""
    units = [*(g.unit for g in part.goals), *(d.unit for d in part.data.values() if not d.constant), *part.units.values()]
    units.extend(u for u in _usual_units() if _of_a_quantity(part, u.dimensions))
    found = {u.scale for u in units if u is not None and not u.offset and u.scale > 0}
    return tuple(sorted(s for s in found if not _power_of_ten(s)))


@lru_cache(maxsize=1)
def _usual_units() -> tuple[Unit, ...]:
    return tuple(found[0][0] for found in map(parse_unit, USUAL) if found)


def _of_a_quantity(part: CompiledCalculation, dimensions: Dimensions) -> bool:
    return any(same_dimensions(found, dimensions) for found in part.dimensions.values() if found)


def _power_of_ten(scale: float) -> bool:
    return math.isclose(math.log10(scale), round(math.log10(scale)), abs_tol=1e-9)
