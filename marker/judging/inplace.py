"""Wrong pieces in right places: `T = mg + F` on a slope says T = W_p + F, with something else for the component W_p."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from marker.expression import Expr, Product, Quotient, Sum, Symbol, children, rebuild, symbols
from marker.judging.dimensions import dimensions_of
from marker.physics.evaluate import same_dimensions
from marker.physics.system import Equation
from marker.scheme.compiled import CompiledCalculation


def shown_but_for_a_piece(part: CompiledCalculation, equation: Equation, about: str) -> frozenset[int]:
    """Relationships that a wrong equation shows once one piece of it is taken for a quantity found on the way; empty when none.

    The piece has two quantities at least and is of the kind of what it stands for.
    Source: common practice, no source (each relationship of several earns its own mark).
    """
    goals = {g.find for g in part.goals} | {about}
    for name in part.system.base:
        if name in part.data or name in goals or name in part.free or name in symbols(equation[0]) | symbols(equation[1]):
            continue
        for right in _with_a_piece_as(part, equation[1], name):
            shown = part.system.support((equation[0], right))
            if shown and any(name in part.system.relations[r].letters for r in shown - part.helpers):
                return shown
    return frozenset()


def _with_a_piece_as(part: CompiledCalculation, tree: Expr, name: str) -> Iterator[Expr]:
    """The tree with each of its pieces of the quantity's kind replaced by its letter."""
    letter = Symbol(name=name, known=True)
    parts = children(tree)
    for i, piece in enumerate(parts):
        if isinstance(piece, Sum | Product | Quotient) and _may_stand_for(part, piece, name):
            yield rebuild(tree, (*parts[:i], letter, *parts[i + 1 :]))
        for inner in _with_a_piece_as(part, piece, name):
            yield rebuild(tree, (*parts[:i], inner, *parts[i + 1 :]))
    if isinstance(tree, Sum) and len(tree.terms) > 2:
        for size in range(2, len(tree.terms)):
            for chosen in combinations(range(len(tree.terms)), size):
                piece = Sum(terms=tuple(tree.terms[k] for k in chosen))
                if _may_stand_for(part, piece, name):
                    yield Sum(terms=(letter, *(t for k, t in enumerate(tree.terms) if k not in chosen)))


def _may_stand_for(part: CompiledCalculation, piece: Expr, name: str) -> bool:
    dims = part.dimensions.get(name)
    return len(symbols(piece)) > 1 and dims is not None and any(dims) and same_dimensions(dimensions_of(piece, part.dimensions), dims)
