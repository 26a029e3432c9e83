"""Whether a statement in letters is an identity, told from its two sides to fifty figures at points drawn at random.

Two different expressions of a school calculation do not agree to forty figures at two random points, so this settles what SymPy's
`simplify` settles, a hundred times faster and without importing it. What has no real value at the points tried, or a function
that is not worked out here, is left to SymPy.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping
from decimal import Context, Decimal, DecimalException, localcontext

from marker.expression import Call, Expr, Negative, Number, PlusMinus, Power, Product, Quotient, Root, Sum, Symbol, UnitFactor, symbols

Equation = tuple[Expr, Expr]
Point = Mapping[str, Decimal]

WORKING = Context(prec=60, Emax=9999, Emin=-9999)
NOTHING = Decimal("1e-40")
POINTS = 2
TRIES = 24
LARGEST_ANGLE = 1000
PI = Decimal("3.14159265358979323846264338327950288419716939937510582097494459230781641")


class _NoValue(Exception):
    """No real value at this point, or a function that is not worked out here."""


def identical(statement: Equation, solved: tuple[tuple[str, Expr], ...]) -> bool | None:
    """Whether the sides agree wherever the letters that are left are positive; None when it cannot be told here.

    solved  letters and what they are, each in terms of letters that stand later in the list or not in it at all
    """
    drawn = random.Random(len(solved))
    agreed = 0
    with localcontext(WORKING):
        for _ in range(TRIES):
            try:
                sides = _at_a_point(statement, solved, drawn)
            except (_NoValue, DecimalException, RecursionError):
                continue
            if abs(sides[0] - sides[1]) > NOTHING * max(abs(sides[0]), abs(sides[1]), Decimal(1)):
                return False
            agreed += 1
            if agreed == POINTS:
                return True
    return None


def _at_a_point(statement: Equation, solved: tuple[tuple[str, Expr], ...], drawn: random.Random) -> tuple[Decimal, Decimal]:
    """Both sides where the open letters have random values between a half and two; only the letters that are needed are worked out."""
    needed = set(symbols(statement[0]) | symbols(statement[1]))
    steps = []
    for name, tree in solved:
        if name in needed:
            needed |= symbols(tree)
            steps.append((name, tree))
    point = {name: Decimal(drawn.randrange(500_000_000, 2_000_000_000)).scaleb(-9) for name in sorted(needed)}
    for name, tree in reversed(steps):
        point[name] = _value(tree, point)
    return _value(statement[0], point), _value(statement[1], point)


def _value(node: Expr, point: Point) -> Decimal:
    match node:
        case Number(value=v):
            return Decimal(repr(v))
        case Symbol(name="π"):
            return +PI
        case Symbol(name=name):
            return point[name]
        case UnitFactor(unit=unit):
            return PI / 180 if unit.name == "°" else Decimal(repr(unit.scale))
        case Sum(terms=terms):
            return sum((_value(t, point) for t in terms), Decimal(0))
        case Product(factors=factors):
            out = Decimal(1)
            for factor in factors:
                out *= _value(factor, point)
            return out
        case Quotient(over=over, under=under):
            return _value(over, point) / _value(under, point)
        case Power(base=base, exponent=exponent):
            return _value(base, point) ** _value(exponent, point)
        case Negative(inner=inner):
            return -_value(inner, point)
        case Root(inner=inner, degree=degree):
            value = _value(inner, point)
            return value.sqrt() if degree == 2 else value ** (1 / Decimal(degree))
        case PlusMinus(value=value):
            return _value(value, point)
        case Call(function="sin" | "cos" | "tan" as name, inner=Number() as angle):  # a bare number there is in degrees
            return _FUNCTIONS[name](_value(angle, point) * PI / 180)
        case Call(function=name, inner=inner) if name in _FUNCTIONS:
            return _FUNCTIONS[name](_value(inner, point))
    raise _NoValue


def _sine(angle: Decimal) -> Decimal:
    """Its series, the angle first brought between −π and π."""
    if abs(angle) > LARGEST_ANGLE:
        raise _NoValue
    angle %= 2 * PI
    term = total = angle
    n = 1
    while abs(term) > Decimal("1e-58"):
        term *= -angle * angle / ((n + 1) * (n + 2))
        total += term
        n += 2
    return total


def _cosine(angle: Decimal) -> Decimal:
    return _sine(angle + PI / 2)


def _arcsine(value: Decimal) -> Decimal:
    """By Newton's rule from the value to sixteen figures, which each step doubles."""
    if abs(value) > Decimal("0.999"):
        raise _NoValue
    angle = Decimal(math.asin(value))
    for _ in range(3):
        angle += (value - _sine(angle)) / _cosine(angle)
    return angle


_FUNCTIONS: Mapping[str, Callable[[Decimal], Decimal]] = {
    "sin": _sine,
    "cos": _cosine,
    "tan": lambda angle: _sine(angle) / _cosine(angle),
    "asin": _arcsine,
    "acos": lambda value: PI / 2 - _arcsine(value),
    "atan": lambda value: _arcsine(value / (1 + value * value).sqrt()),
    "ln": Decimal.ln,
    "log10": Decimal.log10,
    "log2": lambda value: value.ln() / Decimal(2).ln(),
    "exp": Decimal.exp,
    "abs": abs,
}
