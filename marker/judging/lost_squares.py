"""Superscripts lost from decimals: `3.42 + 7.462` for 3.4² + 7.46². A reading tells it of one number; what the data say decides here."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from marker.expression import Expr, Number, Power, children, rebuild, walk
from marker.reading.model import Assumption, Reading
from marker.scheme.compiled import CompiledCalculation

_SQUARED = re.compile(r"\d+\.\d+2")
_COST = 1.2
_LOST = Assumption(code="lost-power", text="numbers that end in 2 are squares, their superscripts lost")


def squares_lost_together(part: CompiledCalculation, reading: Reading) -> Iterator[Reading]:
    """The reading with all its decimals that end in 2 and are no data as squares, where there are two at least: a hand that loses
    one superscript loses the next."""
    printed = _mantissas(part)
    lost = {n for side in reading.sides for n in walk(side) if isinstance(n, Number) and _SQUARED.fullmatch(n.text)}
    lost = {n for n in lost if n.text not in printed}
    if sum(n in lost for side in reading.sides[1:] for n in walk(side)) > 1:
        sides = (reading.sides[0], *(_squared(side, lost) for side in reading.sides[1:]))
        yield replace(reading, sides=sides, cost=reading.cost + _COST, assumptions=(*reading.assumptions, _LOST))


def squares_a_datum(part: CompiledCalculation, reading: Reading) -> bool:
    """A reading with 1.6² for 1.62, where the question prints 1.62 × 10⁵ Pa."""
    if not any(a.code == "lost-power" for a in reading.assumptions):
        return False
    printed = _mantissas(part)
    for power in (n for side in reading.sides for n in walk(side) if isinstance(n, Power)):
        if isinstance(power.base, Number) and isinstance(power.exponent, Number) and power.base.text + power.exponent.text in printed:
            return True
    return False


def _mantissas(part: CompiledCalculation) -> frozenset[str]:
    """The figures of the data as printed, without their powers of ten."""
    return frozenset(found.group() for d in part.data.values() if (found := re.match(r"\d*\.?\d+", d.text)))


def _squared(tree: Expr, lost: set[Number]) -> Expr:
    if isinstance(tree, Number) and tree in lost:
        least, most = tree.figures
        base = replace(tree, text=tree.text[:-1], value=float(tree.text[:-1]), half=tree.half * 10, figures=(least - 1, most - 1))
        return Power(base=base, exponent=Number(text="2", value=2.0), at=tree.at)
    parts = children(tree)
    return rebuild(tree, tuple(_squared(p, lost) for p in parts)) if parts else tree
