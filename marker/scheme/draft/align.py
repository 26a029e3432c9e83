"""Which number stands for which letter: an expression in letters laid beside the same expression with values put in."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from itertools import permutations

from marker.expression import ANGLE, Call, Expr, Negative, Number, Power, Product, Quotient, Root, Sum, Symbol, Unit, UnitFactor, has_unit
from marker.judging.leaves import is_numeric, value_parts
from marker.judging.transforms.trees import numeric
from marker.physics.evaluate import Unknown, evaluate

_MOST_TERMS = 4


def align(shape: Expr, side: Expr) -> dict[str, Expr]:
    """Letter -> the number or quantity in its place. What cannot be laid side by side is left out; nothing is guessed twice."""
    found: dict[str, Expr] = {}
    _align(shape, side, found)
    return found


def laid_beside(shapes: tuple[Expr, ...], sides: tuple[Expr, ...]) -> dict[str, Expr]:
    """Letter -> number for several expressions at once, whole or not at all; a letter that stands on both sides stays."""
    found: dict[str, Expr] = {}
    if not all(_align(shape, side, found) for shape, side in zip(shapes, sides, strict=True)):
        return {}
    return {n: v for n, v in found.items() if is_numeric(v)}


def _align(shape: Expr, side: Expr, found: dict[str, Expr]) -> bool:
    """True when all of the shape was laid beside the side."""
    if is_numeric(shape):
        return is_numeric(side)
    match shape, side:
        case Symbol(name=name), _:
            return _note(name, side, found)
        case Number(), _:
            return True
        case Negative(inner=a), Negative(inner=b):
            return _align(a, b, found)
        case Negative(inner=a), _:
            return _align(a, _turned(side), found)
        case _, Negative(inner=b) if not isinstance(shape, Product | Quotient):
            return _align(shape, b, found)
        case Root(inner=a), Root(inner=b):
            return _align(a, b, found)
        case Call(function=f, inner=a), Call(function=g, inner=b) if f == g:
            return _align(a, b, found)
        case Call(function=f, inner=Symbol(name=name)), _ if (
            f in _INVERSES and (value := numeric(side)) is not None and abs(value) <= _INVERSES[f][1]
        ):
            return _note(name, _degrees(_INVERSES[f][0](value)), found)
        case Power(base=a, exponent=e), Power(base=b, exponent=g) if numeric(e) == numeric(g) or isinstance(e, Symbol):
            if isinstance(e, Symbol) and not _note(e.name, g, found):
                return False
            return _align(a, b, found)
        case Power(base=a, exponent=e), Power(base=b, exponent=g):
            return _align(a, b, found) and _align(e, g, found)
        case Sum(terms=a), Sum(terms=b):
            return _sums(a, b, found)
        case Product() | Quotient(), _:
            return _products(shape, side, found)
    return False


def _degrees(angle: float) -> Expr:
    """An angle as a quantity in degrees, to four figures: sin θ put in as 0.500 is θ = 30.00°."""
    degrees = float(f"{math.degrees(angle):.4g}")
    number = Number(text=f"{degrees:g}", value=degrees, half=0.05, figures=(3, 4))
    return Product(factors=(number, UnitFactor(unit=Unit(name="°", scale=math.pi / 180, dimensions=ANGLE))))


_INVERSES: Mapping[str, tuple[Callable[[float], float], float]] = {
    "sin": (math.asin, 1.0),
    "cos": (math.acos, 1.0),
    "tan": (math.atan, math.inf),
}


def _note(name: str, side: Expr, found: dict[str, Expr]) -> bool:
    if name == "π":
        return True
    if not is_numeric(side):
        return isinstance(side, Symbol)
    if name not in found:
        found[name] = side
    return True


def _turned(side: Expr) -> Expr:
    return side.inner if isinstance(side, Negative) else Negative(inner=side)


def _sums(shape: tuple[Expr, ...], side: tuple[Expr, ...], found: dict[str, Expr]) -> bool:
    if len(shape) == len(side):
        return all([_align(a, b, found) for a, b in zip(shape, side, strict=True)])
    return False


def _products(shape: Expr, side: Expr, found: dict[str, Expr]) -> bool:
    """Factors over and under laid side by side in order, pure numbers left out; a rate (5.00 L/min) whole if need be."""
    over, under = _factors(shape)
    if (over, under) == ([shape], []):
        return False
    numbers = tuple(v for p in (*over, *under) if (v := numeric(p)) is not None)
    over, under = _without_numbers(over), _without_numbers(under)
    for whole_rates in (False, True):
        typed_over, typed_under = _factors(side, whole_rates)
        mine: dict[str, Expr] = {}
        if _rows(over, typed_over, mine, numbers) and _rows(under, typed_under, mine, numbers):
            for name, value in mine.items():
                found.setdefault(name, value)
            return True
    return False


def _factors(node: Expr, whole_rates: bool = False) -> tuple[list[Expr], list[Expr]]:
    """Factors over and under the line; a quantity with its unit is one factor, and so is a rate where asked."""
    node = _rate(node) if whole_rates else node
    match node:
        case Product(factors=fs) if not _is_quantity(node):
            fs = tuple(f for f in fs if not _is_conversion(f)) or fs
            over: list[Expr] = []
            under: list[Expr] = []
            for f in _with_units(fs):
                a, b = _factors(f, whole_rates) if f in fs else ([f], [])
                over += a
                under += b
            return over, under
        case Quotient(over=a, under=b) if not _is_quantity(node):
            over, under = _factors(a, whole_rates)
            more_under, more_over = _factors(b, whole_rates)
            return over + more_over, under + more_under
        case Negative(inner=inner) if not _is_quantity(node):
            over, under = _factors(inner, whole_rates)
            return [Negative(inner=over[0]), *over[1:]], under
    return [node], []


def _rate(node: Expr) -> Expr:
    """(5.00 L)/(1 min) is 5.00 L/min."""
    if isinstance(node, Quotient):
        (a, unit_a), (b, unit_b) = value_parts(node.over), value_parts(node.under)
        if a is not None and b is not None and b.value == 1.0 and unit_b is not None:
            over: tuple[Expr, ...] = () if unit_a is None else (UnitFactor(unit=unit_a),)
            return Product(factors=(a, *over, Power(base=UnitFactor(unit=unit_b), exponent=Number(text="-1", value=-1.0))))
    return node


def _is_conversion(node: Expr) -> bool:
    """(1 m^3)/(10^3 L), or 60 s/min: worth one, in other units."""
    if not (is_numeric(node) and has_unit(node)):
        return False
    try:
        found = evaluate(node)
    except Unknown:
        return False
    plain = found.dimensions is not None and not any(found.dimensions[:7])
    return plain and math.isclose(found.si, 1.0, rel_tol=5e-3) and not math.isclose(found.raw, 1.0)


def _with_units(fs: tuple[Expr, ...]) -> list[Expr]:
    """Units joined to the factor before them."""
    out: list[Expr] = []
    for f in fs:
        if isinstance(f, UnitFactor) and out and not isinstance(out[-1], Symbol):
            out[-1] = Product(factors=(out[-1], f))
        else:
            out.append(f)
    return out


def _is_quantity(node: Expr) -> bool:
    return value_parts(node)[0] is not None


def _without_numbers(parts: list[Expr]) -> list[Expr]:
    return [p for p in parts if numeric(p) is None]


def _rows(shape: list[Expr], side: list[Expr], found: dict[str, Expr], numbers: tuple[float, ...]) -> bool:
    """Two lists of factors, in order; a bare number among the typed ones is passed over where there are too many."""
    if len(side) > len(shape):
        side = _passed_over(side, len(side) - len(shape), numbers)
    if len(shape) != len(side):
        return not shape
    if all(_alike(a, b) for a, b in zip(shape, side, strict=True)):
        return all([_align(a, b, found) for a, b in zip(shape, side, strict=True)])
    if len(shape) <= _MOST_TERMS:
        for order in permutations(side):
            if all(_alike(a, b) for a, b in zip(shape, order, strict=True)):
                return all([_align(a, b, found) for a, b in zip(shape, order, strict=True)])
    return False


def _passed_over(side: list[Expr], count: int, numbers: tuple[float, ...]) -> list[Expr]:
    """Without so many numbers that stand in the shape too, or are structural (½, 2, 0.500, π)."""
    out = list(side)
    for part in list(out):
        value = numeric(part)
        usual = value is not None and any(
            math.isclose(value, k, rel_tol=1e-3) for k in (*numbers, 1.0, 0.5, 2.0, math.pi, 2 * math.pi, 100.0)
        )
        if count and (usual or (isinstance(part, Symbol) and part.name == "π")):
            out.remove(part)
            count -= 1
    return out


def _alike(shape: Expr, side: Expr) -> bool:
    """A function or root or power lies beside its like; a letter beside any number."""
    if isinstance(shape, Symbol):
        return is_numeric(side) or side == shape
    if is_numeric(shape):
        return is_numeric(side)
    if isinstance(shape, Call):
        return (isinstance(side, Call) and side.function == shape.function) or (shape.function in _INVERSES and numeric(side) is not None)
    if isinstance(shape, Root):
        return isinstance(side, Root)
    if isinstance(shape, Power):
        return isinstance(side, Power)
    if isinstance(shape, Sum):
        return isinstance(side, Sum)
    return True
