"""Whether the sign of an answer is a matter of which way one counts: F = m(u − v)/t or m(v − u)/t."""

from __future__ import annotations

import math
import re
from itertools import combinations

from marker.expression import Dimensions
from marker.physics.evaluate import same_dimensions
from marker.physics.system import System
from marker.scheme.calculation import CalculationPart
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.lexicon import unit_dimensions

# quantities of which a school answer gives the size: the direction, or "loss" and "induced", says the rest
_OF_A_DIRECTION = ("N", "m/s^2", "kg m/s", "m/s", "N/C", "V")

_SLOWING = re.compile(r"decelerat|retard", re.IGNORECASE)


def sign_is_free(spec: CalculationPart, made: CompiledCalculation) -> bool:
    """Nothing in the part tells which of two alike data is taken from the other, and the answer is a size.

    True for one thing to find whose sign turns, and nothing else, when the two data change places; where the data
    themselves are signed, or the scheme names signed symbols, the sign is part of the question.
    """
    if spec.step or spec.signed or spec.route or len(made.goals) != 1:
        return False
    goal = made.goals[0]
    if goal.value <= 0 or not _of_a_direction(made.dimensions.get(goal.find)) or any(d.si < 0 for d in made.data.values()):
        return False
    if _is_slowing(spec, made.dimensions.get(goal.find)):
        return True
    alike = (
        (a, b)
        for a, b in combinations(sorted(made.data), 2)
        if same_dimensions(made.dimensions.get(a), made.dimensions.get(b)) and made.data[a].si != made.data[b].si
    )
    return any(_only_the_difference_counts(made, goal.find, goal.value, a, b) for a, b in alike)


def _is_slowing(spec: CalculationPart, dimensions: Dimensions | None) -> bool:
    """A deceleration asked for by that name is its size, whichever way the candidate counts."""
    return same_dimensions(dimensions, unit_dimensions("m/s^2")) and _SLOWING.search(spec.stem) is not None


def _of_a_direction(dimensions: Dimensions | None) -> bool:
    return dimensions is not None and any(same_dimensions(dimensions, unit_dimensions(u)) for u in _OF_A_DIRECTION)


def _only_the_difference_counts(made: CompiledCalculation, find: str, value: float, a: str, b: str) -> bool:
    x, y = made.data[a].si, made.data[b].si
    exchanged, shifted = _found(made.system, {a: y, b: x}, find), _found(made.system, {a: x + 1.0, b: y + 1.0}, find)
    return exchanged is not None and shifted is not None and math.isclose(exchanged, -value) and math.isclose(shifted, value)


def _found(system: System, given: dict[str, float], find: str) -> float | None:
    env = system.solve(given)
    return None if env is None else env[find]
