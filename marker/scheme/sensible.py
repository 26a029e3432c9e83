"""Whether a part with other numbers is still the same question: signs, order and rough size of every quantity."""

from __future__ import annotations

import math
from collections.abc import Iterator

from marker.expression import Dimensions
from marker.physics.evaluate import same_dimensions
from marker.scheme.compiled import CompiledCalculation

FARTHEST = 6.0
"""The greatest factor by which an answer may differ from the paper's."""

LIGHT = 2.9e8
"""A speed in m/s that no drawn speed may reach."""


def sensible(paper: CompiledCalculation, made: CompiledCalculation) -> bool:
    """Signs, order and rough size of every quantity are as in the paper, and the answers differ from the paper's."""
    goals = {g.find for g in paper.goals}
    for name, was in paper.system.base.items():
        now = made.system.base.get(name)
        if now is None or not math.isfinite(now) or not _near(was, now, name in paper.angles):
            return False
    if not _same_order(paper, made):
        return False
    return any(not math.isclose(paper.system.base[n], made.system.base[n], rel_tol=0.02) for n in goals)


def _near(was: float, now: float, angle: bool) -> bool:
    if was == 0 or now == 0:
        return math.isclose(was, now, abs_tol=1e-12)
    if was * now < 0 or not 1 / FARTHEST <= now / was <= FARTHEST:
        return False
    if angle and 0 < was < math.pi / 2:
        return math.radians(3) < now < math.radians(87)
    return True


def _same_order(paper: CompiledCalculation, made: CompiledCalculation) -> bool:
    """Of two quantities of one kind the larger stays larger; pure numbers stay on their side of 1; no speed passes that of light."""
    for a, b in _pairs(paper):
        before, after = paper.system.base[a] - paper.system.base[b], made.system.base[a] - made.system.base[b]
        if before * after < 0 or (before == 0) != (after == 0):
            return False
    for name, was in paper.system.base.items():
        dimensions = paper.dimensions.get(name)
        now = made.system.base[name]
        if dimensions is not None and not any(dimensions) and (was < 1) != (now < 1):
            return False
        if dimensions is not None and _is_speed(dimensions) and abs(was) < LIGHT <= abs(now):
            return False
    return True


def _pairs(paper: CompiledCalculation) -> Iterator[tuple[str, str]]:
    names = sorted(paper.system.base)
    for i, a in enumerate(names):
        for b in names[i + 1 :]:
            one, two = paper.dimensions.get(a), paper.dimensions.get(b)
            if one is not None and two is not None and any(one) and same_dimensions(one, two):
                yield a, b


def _is_speed(dimensions: Dimensions) -> bool:
    return tuple(dimensions[:7]) == (1, 0, -1, 0, 0, 0, 0)
