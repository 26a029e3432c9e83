"""Expressions with two values: (−b ± √(b² − 4ac))/2a read with the upper sign and with the lower."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from marker.expression import Expr, Negative, PlusMinus, Root, Sum, children, kept_on_tree, rebuild, walk
from marker.reading.model import Assumption, Reading


def with_either_sign(reading: Reading) -> Iterator[Reading]:
    """The reading itself; where it has ± before a root, once with + and once with − instead."""
    if not any(map(_has_choice, reading.sides)):
        yield reading
        return
    for upper in (True, False):
        taken = Assumption(code="sign-taken", text=f"{'+' if upper else '−'} taken of ±")
        sides = tuple(_signed(side, upper) for side in reading.sides)
        yield replace(reading, sides=sides, assumptions=(*reading.assumptions, taken))


@kept_on_tree("_choice")
def _has_choice(side: Expr) -> bool:
    return any([_is_choice(node) for node in walk(side) if isinstance(node, PlusMinus)])


def _is_choice(node: Expr) -> bool:
    """± that gives two values, not an uncertainty."""
    return isinstance(node, PlusMinus) and any(isinstance(n, Root) for n in walk(node.uncertainty))


def _signed(node: Expr, upper: bool) -> Expr:
    if isinstance(node, PlusMinus) and _is_choice(node):
        second = _signed(node.uncertainty, upper)
        return Sum(terms=(_signed(node.value, upper), second if upper else Negative(inner=second)), at=node.at)
    parts = children(node)
    return rebuild(node, tuple(_signed(p, upper) for p in parts)) if parts else node
