"""Run-on equals signs: `a − b = 6.0/2 = 3.0` is two steps written as one chain, the second beginning with the result of the first."""

from __future__ import annotations

from collections.abc import Sequence

from marker.expression import Expr
from marker.judging.leaves import is_numeric, is_value, template
from marker.judging.values import nearly
from marker.physics.evaluate import Unknown, evaluate


def begun_anew(sides: Sequence[Expr]) -> tuple[int, ...]:
    """Places of the sides that take up the number before them and go on to another."""
    return tuple(i for i in range(1, len(sides)) if _goes_on(sides[i - 1], sides[i]))


def _goes_on(side: Expr, after: Expr) -> bool:
    if is_value(after) or not (is_numeric(side) and is_numeric(after)):
        return False
    value, whole = _raw(side), _raw(after)
    if value is None or whole is None or nearly(whole, value):
        return False
    for place, leaf in enumerate(template(after).leaves):
        if place == 0 and nearly(leaf.raw, value, leaf.number.half):
            return True
        if leaf.number.figures[1] >= 2 and abs(leaf.raw - value) <= max(leaf.number.half * 1.0001, 1e-9 * abs(value)):
            return True
    return False


def _raw(side: Expr) -> float | None:
    try:
        return evaluate(side).raw
    except Unknown:
        return None
