"""Whether a value can come from rounding on the way: a value between two operations cut to a few figures."""

from __future__ import annotations

import math
from collections.abc import Iterator

from marker.expression import Expr, Number, Product, Quotient, Sum, children, rebuild, symbols, walk
from marker.physics.evaluate import value_at
from marker.physics.system import Point

FIGURES = (1, 2, 3)


def rounded_on_the_way(tree: Expr, values: Point, ratio: float, half: float) -> bool:
    """With some value between rounded to one, two or three figures, the tree is worth `ratio` times what it is worth.

    values  of its letters, in SI;  half  half a unit of the last place of what was written, as a fraction of the right value
    """
    right = value_at(tree, values)
    if not right or not math.isfinite(right):
        return False
    return any(abs(value_at(other, values) / right - ratio) <= half for other in _rounded(tree, values))


def _rounded(tree: Expr, values: Point) -> Iterator[Expr]:
    """The tree with one of the values worked out on the way rounded."""
    for inner in dict.fromkeys(n for n in walk(tree) if n is not tree and children(n)):
        yield from (_with(tree, inner, cut) for cut in _cut(inner, values))
    for node in walk(tree):
        for first in _first_operations(node):
            yield from (_with(tree, node, cut) for cut in _cut_first(node, first, values))


def _first_operations(node: Expr) -> Iterator[Expr]:
    """Of a product or a sum the first so many taken together; of a product over something one factor over it."""
    match node:
        case Product(factors=many) if len(many) > 2:
            yield from (Product(factors=many[:count]) for count in range(2, len(many)))
        case Sum(terms=many) if len(many) > 2:
            yield from (Sum(terms=many[:count]) for count in range(2, len(many)))
        case Quotient(over=Product(factors=many), under=under):
            yield from (Quotient(over=f, under=under) for f in many)


def _cut(inner: Expr, values: Point) -> Iterator[Number]:
    """What a tree is worth, to so many figures, where that is something else."""
    worth = value_at(inner, values)
    if not worth or not math.isfinite(worth):
        return
    for figures in FIGURES:
        short = float(f"{worth:.{figures - 1}e}")
        if short != worth and symbols(inner):
            yield Number(text="", value=short)


def _cut_first(node: Expr, first: Expr, values: Point) -> Iterator[Expr]:
    """The node with its first operations worked out and cut short."""
    whole, part = value_at(node, values), value_at(first, values)
    if not part or not math.isfinite(whole / part):
        return
    for short in _cut(first, values):
        kept = whole - part if isinstance(node, Sum) else whole / part
        made = short.value + kept if isinstance(node, Sum) else short.value * kept
        yield Number(text="", value=made)


def _with(tree: Expr, inner: Expr, number: Expr) -> Expr:
    """The tree with a number in the place of a part of it."""
    if tree == inner:
        return number
    parts = children(tree)
    return rebuild(tree, tuple(_with(p, inner, number) for p in parts)) if parts else tree
