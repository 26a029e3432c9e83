"""The sine and the cosine of a right angle are whole numbers: n₁ sin C = n₂ sin 90° says n₁ sin C = n₂."""

from __future__ import annotations

import math

from marker.expression import Call, Expr, Negative, Number, Product, children, kept_on_tree, rebuild
from marker.judging.leaves import value_parts
from marker.judging.origins import constant
from marker.scheme.compiled import CompiledCalculation

RIGHT_ANGLES = frozenset((0.0, 90.0, 180.0, 270.0, 360.0))


def right_angles_worked_out(part: CompiledCalculation, tree: Expr) -> Expr:
    """The tree with such sines and cosines as numbers; as it is where the part gives a right angle as one of its data."""
    if any(part.data[name].raw in RIGHT_ANGLES for name in part.angles & part.data.keys()):
        return tree
    return _worked_out(tree)


@kept_on_tree("_right_angles")
def _worked_out(tree: Expr) -> Expr:
    parts = children(tree)
    if not parts:
        return tree
    if isinstance(tree, Call) and tree.function in ("sin", "cos"):
        number, unit = value_parts(tree.inner)
        if number is not None and number.value in RIGHT_ANGLES and (unit is None or unit.name == "°"):
            angle = math.radians(number.value)
            whole = round(math.sin(angle) if tree.function == "sin" else math.cos(angle))
            return constant(1.0) if whole == 1 else Negative(inner=constant(1.0)) if whole else constant(0.0)
    made = tuple(_worked_out(p) for p in parts)
    if all(a is b for a, b in zip(parts, made, strict=True)):
        return tree
    if isinstance(tree, Product):
        kept = tuple(f for f in made if not (isinstance(f, Number) and f.value == 1.0 and f.figures == (0, 0)))
        return Product(factors=kept, at=tree.at) if len(kept) > 1 else kept[0] if kept else constant(1.0)
    return rebuild(tree, made)
