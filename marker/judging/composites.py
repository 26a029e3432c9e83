"""Numbers worked out in the head from data: a double, a square, the product of two."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from functools import lru_cache
from itertools import combinations
from operator import attrgetter
from typing import NamedTuple

from marker.expression import Call, Dimensions, Expr, Power, Product, Quotient, Sum, symbols
from marker.judging.leaves import Leaf
from marker.judging.origins import Source, constant, letter
from marker.physics.evaluate import same_dimensions, value_at
from marker.scheme.compiled import CompiledCalculation

ROUNDED = 0.4  # what it costs that a number is only near the one worked out
MULTIPLES = (2.0, 0.5, 4.0, 0.25, 3.0, math.pi, 2 * math.pi)


Parts = tuple[type[Expr], tuple[Expr, ...]]  # a tree still to be made: few of all that can be worked out are ever asked for


class _Worked(NamedTuple):
    """Something worked out from a part's data, and its rank when explanations are listed.

    figures  how many figures a number must have to be taken for it
    """

    value: float
    rank: int
    figures: int
    cost: float
    parts: Parts


@lru_cache(maxsize=20_000)
def from_data_together(part: CompiledCalculation, leaf: Leaf) -> tuple[Source, ...]:
    """The number as something worked out from data alone."""
    worked = _by_value(part)
    low, high = leaf.within
    near = worked[bisect_left(worked, low, key=_value) : bisect_right(worked, high, key=_value)]
    fitting = [w for w in near if leaf.number.figures[1] >= w.figures and leaf.close(w.value)]
    found = (
        Source(cost=w.cost if _exactly(leaf, w.value) else w.cost + ROUNDED, stands_for=_tree(w.parts)) for w in sorted(fitting, key=_rank)
    )
    return tuple(sorted(found, key=_cost))


def _tree(parts: Parts) -> Expr:
    kind, inner = parts
    if kind is Product:
        return Product(factors=inner)
    if kind is Sum:
        return Sum(terms=inner)
    if kind is Quotient:
        return Quotient(over=inner[0], under=inner[1])
    return Power(base=inner[0], exponent=inner[1]) if kind is Power else inner[0]


_value, _rank, _cost = attrgetter("value"), attrgetter("rank"), attrgetter("cost")


def _exactly(leaf: Leaf, value: float) -> bool:
    """6900 as 2200 + 4700, and not as π × 2200."""
    return math.isclose(leaf.si, value, rel_tol=1e-6)


@lru_cache(maxsize=256)
def _by_value(part: CompiledCalculation) -> tuple[_Worked, ...]:
    listed = [_Worked(value, rank, figures, cost, parts) for rank, (value, figures, cost, parts) in enumerate(_listed(part))]
    return tuple(sorted(listed, key=_value))


def _listed(part: CompiledCalculation) -> Iterator[tuple[float, int, float, Parts]]:
    """(value, fewest figures, cost, tree to be made): multiples and reciprocals, squares, then two or three data together."""
    data = _values_as_typed(part)
    for tree, value in data:
        for factor in MULTIPLES:
            yield value * factor, 0, 1.0, (Product, (constant(factor), tree))
        for shift in (1e-3, 1e3):  # 4.18 for 4180 J, where the result is in kJ
            yield value * shift, 2, 1.2, (Quotient, (tree, constant(1 / shift)))
        yield 1 / value, 0, 1.0, (Quotient, (constant(1.0), tree))
        for factor in (1.0, 0.5):
            yield factor * value * value, 2, 1.1, (Product, (constant(factor), tree, tree))
        for power, high in ((3.0, value * value * value), (4.0, value * value * value * value)):
            yield high, 2, 1.15, (Power, (tree, constant(power)))
    for tree in _of_angles(part):
        value = value_at(tree, part.system.base)
        if math.isfinite(value):
            yield value, 2, 0.9, (Expr, (tree,))
    for tree, value in _complements(part):
        yield value, 2, 0.9, (Expr, (tree,))
        for other, size in data:
            yield value * size, 2, 1.35, (Product, (tree, other))
    for (a, x), (b, y) in combinations(data, 2):
        for value, parts in _pairs(a, x, b, y):
            yield value, 2, 1.35, parts
    for (a, x), (b, y), (c, z) in combinations(data, 3):
        yield x * y * z, 2, 1.35, (Product, (a, b, c))


def _values_as_typed(part: CompiledCalculation) -> tuple[tuple[Expr, float], ...]:
    """Every datum with its value in SI, and with the number printed where that is another."""
    out: list[tuple[Expr, float]] = []
    for symbol, datum in part.data.items():
        if datum.si:
            out.append((letter(symbol), datum.si))
        unit = datum.unit
        if unit is not None and datum.needs_conversion and not unit.offset and datum.raw:
            out.append((Quotient(over=letter(symbol), under=constant(unit.scale)), datum.raw))
    return tuple(out)


def _complements(part: CompiledCalculation) -> Iterator[tuple[Expr, float]]:
    """What is left of the whole: 0.88, or 88, where 12 % is lost."""
    for symbol, datum in part.data.items():
        if datum.unit is None or datum.unit.name != "%" or not 0 < datum.si < 1:
            continue
        left = Sum(terms=(constant(1.0), Product(factors=(constant(-1.0), letter(symbol)))))
        yield left, 1 - datum.si
        yield Quotient(over=left, under=constant(datum.unit.scale)), 100 - datum.raw


def _of_angles(part: CompiledCalculation) -> list[Expr]:
    """Sine, cosine and tangent of the angles given, worked out in the head or on a calculator."""
    return [Call(function=f, inner=letter(n)) for n in sorted(part.angles & part.data.keys()) for f in ("sin", "cos", "tan")]


@lru_cache(maxsize=20_000)
def small_multiples(part: CompiledCalculation, leaf: Leaf) -> tuple[Source, ...]:
    """A number of one figure exactly: 9 as 3.0², 4 as 2 × 2.0, 0.05 as 1/20, 4 as 3.5 + 0.50."""
    if leaf.unit is not None or leaf.raw == 1.0:
        return ()
    given = [(letter(s), d.si) for s, d in part.data.items()]
    sums = [Source(cost=1.2, stands_for=tree) for tree, value in _sums(part) if leaf.raw and _same(leaf.raw, value)]
    squares = [Source(cost=1.1, stands_for=Product(factors=(x, x))) for x, si in given if _same(leaf.raw, si * si)]
    doubles = [Source(cost=1.2, stands_for=Product(factors=(constant(2.0), x))) for x, si in given if _same(leaf.raw, 2.0 * si)]
    under = [tree for tree, value in _values_as_typed(part) if _same(leaf.raw * value, 1.0)]
    return (*sums, *squares, *doubles, *(Source(cost=1.1, stands_for=Quotient(over=constant(1.0), under=tree)) for tree in under))


def alike(a: Dimensions | None, b: Dimensions | None) -> bool:
    """Quantities of one kind, as far as that is known."""
    return a is None or b is None or same_dimensions(a, b)


def _same(a: float, b: float) -> bool:
    return math.isclose(a, b, rel_tol=1e-9)


@lru_cache(maxsize=256)
def _sums(part: CompiledCalculation) -> tuple[tuple[Expr, float], ...]:
    """Sums and differences of two data of a kind, with their values as typed."""
    out: list[tuple[Expr, float]] = []
    for (a, x), (b, y) in combinations(_values_as_typed(part), 2):
        kinds = [part.dimensions.get(n) for tree in (a, b) for n in symbols(tree)]
        if len(kinds) == 2 and alike(kinds[0], kinds[1]):
            out.append((Sum(terms=(a, b)), x + y))
            out.append((Sum(terms=(a, Product(factors=(constant(-1.0), b)))), x - y))
            out.append((Sum(terms=(b, Product(factors=(constant(-1.0), a)))), y - x))
    return tuple(out)


def _pairs(first: Expr, x: float, second: Expr, y: float) -> Iterator[tuple[float, Parts]]:
    less_first, less_second = (Product(factors=(constant(-1.0), tree)) for tree in (first, second))
    yield x * y, (Product, (first, second))
    yield x / y, (Quotient, (first, second))
    yield y / x, (Quotient, (second, first))
    yield x * y / 2, (Product, (constant(0.5), first, second))
    yield 2 * x * y, (Product, (constant(2.0), first, second))
    yield x + y, (Sum, (first, second))
    yield x - y, (Sum, (first, less_second))
    yield y - x, (Sum, (second, less_first))
    yield x * y * y, (Product, (first, second, second))
    yield x * y * y / 2, (Product, (constant(0.5), first, second, second))
    yield x * x * y / 2, (Product, (constant(0.5), first, first, second))
    yield x * x * y, (Product, (first, first, second))
