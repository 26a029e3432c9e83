"""What an equation in letters looks like: its sides compared as expressions, factors left to cancel, numbers in it."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence

from marker.expression import Expr, Negative, Number, Power, Product, Quotient, Root, Sum, Symbol, UnitFactor, symbols, walk
from marker.physics.evaluate import value_at
from marker.physics.system import Equation

PLACES = 3
_CLOSE = 1e-7
_ORDINARY = 100.0

Places = Sequence[Mapping[str, float]]


def free_places(names: frozenset[str]) -> Places:
    """Values for letters that are bound by nothing."""
    rng = random.Random(" ".join(sorted(names)))
    return tuple({n: rng.uniform(0.4, 1.2) for n in sorted(names)} for _ in range(PLACES))


def same_form(a: Equation, b: Equation, places: Places, *, factor: bool = True) -> bool:
    """The same two sides, in either order, whatever values the letters have; a number on both sides makes no difference."""
    sides = [[value_at(s, p) for p in places] for s in (*a, *b)]
    return any(_alike(sides[0], sides[2 + i], sides[1], sides[3 - i], factor) for i in (0, 1))


def _alike(a: Sequence[float], x: Sequence[float], b: Sequence[float], y: Sequence[float], factor: bool) -> bool:
    if not all(map(math.isfinite, (*a, *b, *x, *y))) or any(v == 0 for v in (*x, *y)):
        return False
    left, right = [i / j for i, j in zip(a, x, strict=True)], [i / j for i, j in zip(b, y, strict=True)]
    number = left[0] if factor else 1.0
    return all(abs(v - number) <= _CLOSE * abs(number) for v in (*left, *right))


def left_to_cancel(equation: Equation) -> frozenset[str]:
    """Letters that both sides, or both halves of a fraction, have as a factor."""
    (top, bottom), (other_top, other_bottom) = _factors(equation[0]), _factors(equation[1])
    return (top & other_top) | (bottom & other_bottom) | (top & bottom) | (other_top & other_bottom)


def _factors(tree: Expr) -> tuple[frozenset[str], frozenset[str]]:
    """Letters that multiply, and letters that divide."""
    none = frozenset[str]()
    match tree:
        case Symbol(name=n):
            return frozenset({n}), none
        case Product(factors=parts):
            found = [_factors(p) for p in parts]
            return none.union(*(f[0] for f in found)), none.union(*(f[1] for f in found))
        case Quotient(over=a, under=b):
            top, bottom = _factors(a), _factors(b)
            return top[0] | bottom[1], top[1] | bottom[0]
        case Power(base=inner) | Root(inner=inner) | Negative(inner=inner):
            return _factors(inner)
        case Sum(terms=terms):
            found = [_factors(t) for t in terms]
            tops, bottoms = [f[0] for f in found], [f[1] for f in found]
            return tops[0].intersection(*tops), bottoms[0].intersection(*bottoms)
    return none, none


def numerical(equation: Equation) -> bool:
    """Values stand in it: a side without a letter, a unit, or a number that no formula of a school has."""
    sides = [s for s in equation if not symbols(s) - {"π"} and not _is_plain(s)]
    inside = [n for s in equation for n in walk(s) if isinstance(n, UnitFactor) or (isinstance(n, Number) and not _formula_number(n))]
    return bool(sides) or bool(inside)


def _is_plain(tree: Expr) -> bool:
    return all(_formula_number(n) for n in walk(tree) if isinstance(n, Number))


def _formula_number(number: Number) -> bool:
    """1, 2, ½, 0.5, 12: not 1.6 × 10⁻¹⁹ or 3.72."""
    doubled = number.value * 2
    return abs(number.value) < _ORDINARY and (doubled.is_integer() or number.half == 0)
