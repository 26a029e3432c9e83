"""The dimensions of an expression in the letters of a part."""

from __future__ import annotations

from collections.abc import Mapping

from marker.expression import NO_DIMENSIONS, Dimensions, Expr, Number, Product, Unit, UnitFactor, put, symbols
from marker.physics.evaluate import Unknown, evaluate


def dimensions_of(tree: Expr, dimensions: Mapping[str, Dimensions | None]) -> Dimensions | None:
    """Dimensions of a tree, from those of its letters; None where one of them is unknown or the terms of a sum do not agree."""
    turned: dict[str, Expr] = {}
    for name in symbols(tree) - {"π"}:
        known = dimensions.get(name)
        if known is None:
            return None
        unit = Unit(name=name, scale=1.0, dimensions=known)
        turned[name] = Product(factors=(Number(text="1", value=1.0), UnitFactor(unit=unit)))
    try:
        return evaluate(put(tree, turned)).dimensions or NO_DIMENSIONS
    except Unknown:
        return None
