"""Conversion factors in working: (1 eV)/(1.60 × 10^-19 J), 60 min/h, ((10^3 m)/(1 km))^2.

Such a factor is 1, whatever numbers stand in it; they are no data and are left out before the working is traced.
"""

from __future__ import annotations

from collections.abc import Sequence

from marker.expression import NO_DIMENSIONS, Expr, Number, Power, Product, Quotient, UnitFactor, children, has_unit, kept_on_tree, rebuild
from marker.physics.evaluate import Unknown, Value, evaluate, same_dimensions

NEAR_ONE = 0.01
_ONE = Number(text="1", value=1.0, figures=(1, 15))


@kept_on_tree("_converted")
def without_conversions(tree: Expr) -> Expr:
    """The tree without the conversion factors in it; the tree itself when there are none."""
    if not has_unit(tree):
        return tree
    inner = children(tree)
    if inner and not isinstance(tree, Product | Quotient):
        return rebuild(tree, tuple(without_conversions(p) for p in inner))
    over, under = _factors(tree)
    if len(over) + len(under) < 2:
        return tree
    kept_over, kept_under = _kept(over, under)
    if (kept_over, kept_under) == (over, under):
        return tree
    top = _product(kept_over, tree)
    return top if not kept_under else Quotient(over=top, under=_product(kept_under, tree), at=tree.at)


def _factors(tree: Expr) -> tuple[list[Expr], list[Expr]]:
    """Quantities multiplied and divided by, each number together with its unit."""
    if isinstance(tree, Quotient):
        a, b = _factors(tree.over), _factors(tree.under)
        return a[0] + b[1], a[1] + b[0]
    if isinstance(tree, Product) and not _is_quantity(tree):
        parts = [_factors(f) for f in tree.factors]
        return [x for p in parts for x in p[0]], [x for p in parts for x in p[1]]
    if isinstance(tree, Power):
        return [rebuild(tree, (without_conversions(tree.base), tree.exponent))], []
    return [tree], []


def _is_quantity(tree: Expr) -> bool:
    if not isinstance(tree, Product) or len(tree.factors) != 2:
        return False
    return isinstance(tree.factors[0], Number) and isinstance(tree.factors[1], UnitFactor)


def _kept(over: Sequence[Expr], under: Sequence[Expr]) -> tuple[list[Expr], list[Expr]]:
    above = [x for x in over if not _is_one(x)]
    below = list(under)
    for low in list(below):
        value = _value(low)
        if value is None or value.dimensions == NO_DIMENSIONS:
            continue
        for high in above:
            other = _value(high)
            if other is not None and _converts(high, low) and _equal(other, value):
                above.remove(high)
                below.remove(low)
                break
    return above, below


def _converts(high: Expr, low: Expr) -> bool:
    """A one and another unit: (1 eV)/(1.60e-19 J), (1000 m)/(1 km); not (35 m)/(35 m)."""
    a, b = (x.factors if isinstance(x, Product) else () for x in (high, low))
    if not a or not b or a[1] == b[1]:
        return False
    return any(isinstance(x[0], Number) and x[0].value == 1 for x in (a, b))


def _is_one(tree: Expr) -> bool:
    """24 h/d: a number and a unit that come to one together; a power of such a factor."""
    if tree == _ONE or (isinstance(tree, Power) and tree.base == _ONE):
        return True
    if not _is_quantity(tree) or not isinstance(tree, Product) or not isinstance(tree.factors[1], UnitFactor):
        return False
    unit = tree.factors[1].unit
    value = _value(tree)
    return " " in unit.name and value is not None and value.dimensions == NO_DIMENSIONS and abs(value.si - 1) <= NEAR_ONE


def _value(tree: Expr) -> Value | None:
    if not _is_quantity(tree):
        return None
    try:
        return evaluate(tree)
    except Unknown:
        return None


def _equal(a: Value, b: Value) -> bool:
    return same_dimensions(a.dimensions, b.dimensions) and abs(a.si - b.si) <= NEAR_ONE * abs(b.si)


def _product(factors: Sequence[Expr], tree: Expr) -> Expr:
    if len(factors) == 1:
        return factors[0]
    return Product(factors=tuple(factors), at=tree.at) if factors else _ONE
