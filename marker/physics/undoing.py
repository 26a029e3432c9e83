"""A letter that stands once in an equation, freed from what is done to it step by step, as it is done on paper.

No algebra program is asked: a cube is undone by a cube root, a sine by an inverse sine, so that the closed form is the one a
person would write. Both signs of an even root are given, the positive one first.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from marker.expression import Call, Expr, Negative, Number, Power, Product, Quotient, Root, Sum, Symbol, walk

Equation = tuple[Expr, Expr]

MOST_DEGREE = 12
_ONE = Number(text="1", value=1.0)
_INVERSES = {"sin": "asin", "cos": "acos", "tan": "atan", "asin": "sin", "acos": "cos", "atan": "tan", "ln": "exp", "exp": "ln"}
_BASES = {"log10": "10", "log2": "2"}


def undone(equation: Equation, name: str) -> tuple[Expr, ...]:
    """Closed forms of the letter; empty where it stands more than once or under something that is not undone here."""
    if _times(equation[0], name) + _times(equation[1], name) != 1:
        return ()
    side, other = equation if _times(equation[0], name) else equation[::-1]
    found: tuple[tuple[Expr, Expr], ...] = ((side, other),)
    while any(not isinstance(tree, Symbol) for tree, _ in found):
        found = tuple(step for tree, rest in found for step in _peeled(tree, rest, name))
    return tuple(rest for _, rest in found)


def beyond_squares(equation: Equation, name: str) -> bool:
    """The letter stands under a power other than a square, a root or a reciprocal: a cube, a fourth power, 3/2."""
    powers = [n for side in equation for n in walk(side) if isinstance(n, Power) and _times(n.base, name)]
    exponents = [_ratio(n.exponent) for n in powers]
    return any(e is not None and abs(e) not in (1, 2, Fraction(1, 2)) for e in exponents)


def _times(tree: Expr, name: str) -> int:
    return sum(isinstance(n, Symbol) and n.name == name for n in walk(tree))


def _peeled(tree: Expr, rest: Expr, name: str) -> Sequence[tuple[Expr, Expr]]:
    """One operation undone: what stands inside, and what the other side becomes. Empty when it cannot be undone."""
    match tree:
        case Symbol():
            return ((tree, rest),)
        case Sum(terms=terms):
            inner, others = _parted(terms, name)
            return ((inner, Sum(terms=(rest, *map(_negated, others)))),)
        case Product(factors=factors):
            inner, others = _parted(factors, name)
            return ((inner, _over(rest, others)),)
        case Quotient(over=over, under=under):
            return ((over, _times_both(rest, under)),) if _times(over, name) else ((under, _over(over, (rest,))),)
        case Negative(inner=inner):
            return ((inner, _negated(rest)),)
        case Root(inner=inner, degree=degree):
            return ((inner, Power(base=rest, exponent=_number(degree))),)
        case Power():
            return _power_undone(tree, rest, name)
        case Call(function=function, inner=inner):
            return _call_undone(function, inner, rest)
    return ()


def _parted(parts: Sequence[Expr], name: str) -> tuple[Expr, tuple[Expr, ...]]:
    inner = next(p for p in parts if _times(p, name))
    return inner, tuple(p for p in parts if p is not inner)


def _negated(tree: Expr) -> Expr:
    """−(a − b) as b − a."""
    match tree:
        case Negative(inner=inner):
            return inner
        case Sum(terms=terms) if isinstance(terms[-1], Negative):
            return Sum(terms=tuple(map(_negated, reversed(terms))))
    return Negative(inner=tree)


def _over(rest: Expr, divisors: Sequence[Expr]) -> Expr:
    """rest divided by factors; a fraction among them is turned over: E/(½m) is written 2E/m."""
    above: list[Expr] = []
    below: list[Expr] = []
    for divisor in divisors:
        over, under = _halves(divisor)
        above += _factors(under)
        below += _factors(over)
    if isinstance(rest, Quotient):
        below = [*_factors(rest.under), *below]
        rest = rest.over
    top = _product([f for f in (*above, *_factors(rest)) if not _is_one(f)])
    kept = [f for f in below if not _is_one(f)]
    return Quotient(over=top, under=_product(kept)) if kept else top


def _halves(factor: Expr) -> tuple[Expr, Expr]:
    """What stands over and under the line of a factor."""
    if isinstance(factor, Quotient):
        return factor.over, factor.under
    return (_ONE, _number(2)) if isinstance(factor, Number) and factor.value == 0.5 else (factor, _ONE)


def _times_both(rest: Expr, factor: Expr) -> Expr:
    if isinstance(rest, Negative):
        return Negative(inner=_times_both(rest.inner, factor))
    if isinstance(rest, Quotient):
        return Quotient(over=_times_both(rest.over, factor), under=rest.under)
    return _product([*_factors(factor), *_factors(rest)])


def _factors(tree: Expr) -> tuple[Expr, ...]:
    return tree.factors if isinstance(tree, Product) else (tree,)


def _product(factors: Sequence[Expr]) -> Expr:
    return Product(factors=tuple(factors)) if len(factors) > 1 else factors[0] if factors else _ONE


def _power_undone(tree: Power, rest: Expr, name: str) -> Sequence[tuple[Expr, Expr]]:
    if _times(tree.exponent, name):
        base = Call(function="ln", inner=tree.base)
        return ((tree.exponent, Quotient(over=Call(function="ln", inner=rest), under=base)),)
    exponent = _ratio(tree.exponent)
    if not exponent or exponent.numerator > MOST_DEGREE or exponent.denominator > MOST_DEGREE:
        return ()
    if exponent < 0:
        rest, exponent = _over(_ONE, (rest,)), -exponent
    found = _raised(rest, 1 / exponent)
    return ((tree.base, found), (tree.base, Negative(inner=found))) if exponent.numerator % 2 == 0 else ((tree.base, found),)


def _raised(base: Expr, exponent: Fraction) -> Expr:
    if exponent.numerator == 1 and exponent.denominator > 1:
        return Root(inner=base, degree=exponent.denominator)
    if exponent.denominator == 1:
        return base if exponent == 1 else Power(base=base, exponent=_number(exponent.numerator))
    return Power(base=base, exponent=Quotient(over=_number(exponent.numerator), under=_number(exponent.denominator)))


def _call_undone(function: str, inner: Expr, rest: Expr) -> Sequence[tuple[Expr, Expr]]:
    if function in _INVERSES:
        return ((inner, Call(function=_INVERSES[function], inner=rest)),)
    if function in _BASES:
        return ((inner, Power(base=Number(text=_BASES[function], value=float(_BASES[function])), exponent=rest)),)
    return ((inner, rest), (inner, Negative(inner=rest))) if function == "abs" else ()


def _ratio(tree: Expr) -> Fraction | None:
    """An exponent as a fraction of whole numbers; None when it holds a letter or is no such fraction."""
    match tree:
        case Number(value=value):
            found = Fraction(value).limit_denominator(MOST_DEGREE)
            return found if abs(float(found) - value) <= 1e-9 else None
        case Negative(inner=inner):
            found_inside = _ratio(inner)
            return None if found_inside is None else -found_inside
        case Quotient(over=over, under=under):
            top, bottom = _ratio(over), _ratio(under)
            return None if top is None or not bottom else top / bottom
    return None


def _is_one(tree: Expr) -> bool:
    return isinstance(tree, Number) and tree.value == 1.0


def _number(value: int) -> Number:
    return Number(text=str(value), value=float(value))
