"""Statements about any state, where a part has two: `I = k/d²` or `p/T = constant`, for I₁, d₁ and I₂, d₂."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from itertools import combinations

from marker.expression import Expr, Symbol, put, symbols
from marker.physics.evaluate import value_at
from marker.physics.system import Equation, Point
from marker.scheme.compiled import CompiledCalculation

_INDEX = re.compile(r"^(.+?)_?(\d+|[₀-₉]+)$")


@lru_cache(maxsize=4_000)
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

    The statement is right when its constant has the same value in both states, at every probe.
    """
    equation = _without_index(part, equation)
    names = (symbols(equation[0]) | symbols(equation[1])) - {"π"}
    indexed = {n: states(part, n) for n in names if n not in part.system.base}
    loose = [n for n, found in indexed.items() if not found]
    indexed = {n: found for n, found in indexed.items() if found}
    if not indexed or len(loose) != 1:
        return frozenset()
    system = part.system
    for size in range(len(system.relations) + 1):
        for chosen in combinations(range(len(system.relations)), size):
            points = system.points(frozenset(chosen))
            if points is not None and all(_same_constant(equation, loose[0], indexed, p) for p in points):
                return frozenset(chosen)
    return frozenset()


def _without_index(part: CompiledCalculation, equation: Equation) -> Equation:
    """`pV/T = constant` where V is a name of V₂: the letter for any state, beside others without an index."""
    names = (symbols(equation[0]) | symbols(equation[1])) - {"π"}
    loose = {n for n in names if n not in part.system.base and states(part, n)}
    turn: dict[str, Expr] = {n: Symbol(name=stem(n)) for n in names if loose and stem(n) != n and states(part, stem(n))}
    return (put(equation[0], turn), put(equation[1], turn)) if turn else equation


def _same_constant(equation: Equation, constant: str, indexed: Mapping[str, tuple[str, ...]], point: Point) -> bool:
    values = []
    for k in (0, 1):
        env = {**point, **{n: point[found[k]] for n, found in indexed.items()}}
        value = _linear_root(equation, constant, env)
        if value is None:
            return False
        values.append(value)
    return abs(values[0] - values[1]) <= 1e-6 * max(map(abs, values))


def _linear_root(equation: Equation, name: str, env: Mapping[str, float]) -> float | None:
    """The value of a letter the equation is linear in; None when it is not."""

    def gap(x: float) -> float:
        at = {**env, name: x}
        return value_at(equation[0], at) - value_at(equation[1], at)

    at_none, at_one = gap(0.0), gap(1.0)
    if not at_one - at_none:
        return None
    root = at_none / (at_none - at_one)
    rest = gap(root)
    return root if abs(rest) <= 1e-9 * max(abs(at_none), abs(at_one), 1e-300) else None
