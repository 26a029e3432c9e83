"""Statements about any state, where a part has two: `I = k/d²` or `p/T = constant`, for I₁, d₁ and I₂, d₂."""

from __future__ import annotations

import re

from marker.expression import Expr, Symbol, put, symbols
from marker.physics.algebra import NotSolved, solve_for
from marker.physics.system import Equation
from marker.scheme.compiled import CompiledCalculation

_INDEX = re.compile(r"^(.+?)_?(\d+|[₀-₉]+)$")


def stem(symbol: str) -> str:
    """A symbol without its number: d of d_1; the symbol itself when it has none."""
    found = _INDEX.match(symbol)
    return found.group(1) if found else symbol


def states(part: CompiledCalculation, letter: str) -> tuple[str, ...]:
    """The part's symbols of which a letter is the stem, in order; empty unless there are two at least."""
    found = tuple(sorted(n for n in part.system.base if n != letter and stem(n).casefold() == letter.casefold()))
    return found if len(found) > 1 else ()


def family_relations(part: CompiledCalculation, equation: Equation) -> frozenset[int]:
    """Relationships shown by a statement about any state with one constant in it; empty when it shows none.

    The constant is solved for; the statement is right when it has the same value in both states.
    """
    names = (symbols(equation[0]) | symbols(equation[1])) - {"π"}
    indexed = {n: states(part, n) for n in names if n not in part.system.base}
    loose = [n for n, found in indexed.items() if not found]
    indexed = {n: found for n, found in indexed.items() if found}
    if not indexed or len(loose) > 1:
        return frozenset()
    try:
        values = solve_for(equation, loose[0]) if loose else (equation[0],) if equation[0] == equation[1] else ()
    except NotSolved:
        return frozenset()
    for value in values:
        first, second = (_in_state(value, indexed, k) for k in (0, 1))
        shown = part.system.support((first, second))
        if shown:
            return shown
    return frozenset()


def _in_state(tree: Expr, indexed: dict[str, tuple[str, ...]], k: int) -> Expr:
    return put(tree, {n: Symbol(name=found[k], known=True) for n, found in indexed.items()})
