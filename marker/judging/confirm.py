"""SymPy's second opinion on a statement in letters that the probes found true, asked once for each distinct statement."""

from __future__ import annotations

import math
from functools import lru_cache

from marker.expression import Call, Expr, Number, Power, Quotient, Root, Symbol, symbols, walk
from marker.physics.algebra import follows
from marker.physics.system import Equation
from marker.scheme.compiled import CompiledCalculation

MOST_NODES = 36
MOST_CALLS = 4
LARGEST_EXPONENT = 4.0


@lru_cache(maxsize=5_000)
def confirmed(part: CompiledCalculation, equation: Equation) -> bool | None:
    """Whether the statement is an identity once everything found is written in the data; None when it is too long
    to ask or has a rounded number in it, or a letter that the part leaves open.

    Only short statements with small exponents are asked: a candidate's text must never keep SymPy busy.
    """
    if not all(_short(side) and _exact(side) for side in equation) or any(equation == r.equation for r in part.system.relations):
        return None
    solved = tuple((letter, tree) for step in reversed(part.system.steps) for letter, tree in zip(step.letters, step.trees, strict=True))
    if not all(_short(tree) for _, tree in solved):
        return None
    reached = part.system.data.keys() | {letter for letter, _ in solved} | {"π"}
    if not symbols(equation[0]) | symbols(equation[1]) <= reached:
        return None
    return follows(equation, (*solved, *_special_cases(part)))


def _special_cases(part: CompiledCalculation) -> tuple[tuple[str, Expr], ...]:
    """Letters that the question fixes at nought or at a right angle: F = BIL is true where θ = 90°."""
    nought: Expr = Number(text="0", value=0.0)
    right_angle: Expr = Quotient(over=Symbol(name="π", known=True), under=Number(text="2", value=2.0))
    return tuple((n, right_angle if v else nought) for n, v in sorted(part.system.data.items()) if part.system.fixed(n))


def _short(tree: Expr) -> bool:
    nodes = list(walk(tree))
    if len(nodes) > MOST_NODES or sum(isinstance(n, Call | Root) for n in nodes) > MOST_CALLS:
        return False
    return all(_small_exponent(n.exponent) for n in nodes if isinstance(n, Power))


def _exact(tree: Expr) -> bool:
    """Without a rounded number in it: 1.414 for √2 is true to its figures and no identity."""
    numbers = (n.value for n in walk(tree) if isinstance(n, Number))
    return all(v.is_integer() or math.isclose(v, float(f"{v:.2g}"), rel_tol=1e-12) for v in numbers)


def _small_exponent(exponent: Expr) -> bool:
    numbers = [n for n in walk(exponent) if isinstance(n, Number)]
    return len(numbers) == 1 and abs(numbers[0].value) <= LARGEST_EXPONENT and len(list(walk(exponent))) <= 2
