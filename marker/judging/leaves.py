"""The numbers of a typed expression, taken out so that each can be traced to where it came from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import field
from functools import lru_cache

from marker.expression import (
    Call,
    Expr,
    Hashed,
    Negative,
    Number,
    PlusMinus,
    Power,
    Product,
    Quotient,
    Root,
    Symbol,
    Unit,
    UnitFactor,
    children,
    has_unit,
    hashed_once,
    kept_on_tree,
    rebuild,
    symbols,
)
from marker.frozen import frozen
from marker.physics.evaluate import DEGREE, Unknown, evaluate

MOST_LEAVES = 14
EXACT = 1e-9
ONLY_PI = frozenset({"π"})


@hashed_once
@frozen
class Leaf(Hashed):
    """A number with the units written after it.

    si      value in SI, units counted (an angle without a unit counts as degrees);  raw  as typed
    angle   it stands alone inside sin, cos or tan without a unit
    within, raw_within  (low, high) between which a value lies that rounds to the figures typed, two at least
    """

    name: str
    number: Number
    unit: Unit | None
    si: float
    raw: float
    angle: bool = False
    within: tuple[float, float] = field(default=(0.0, 0.0), compare=False)
    raw_within: tuple[float, float] = field(default=(0.0, 0.0), compare=False)

    def close(self, value: float) -> bool:
        """The typed number is this value in SI, or this value rounded to the figures typed."""
        low, high = self.within
        return low <= value <= high and (value != 0 or self.si == 0)

    def raw_close(self, value: float) -> bool:
        """As `close`, for the number as it stands, without its unit."""
        low, high = self.raw_within
        return low <= value <= high and (value != 0 or self.raw == 0)


def leaf_of(name: str, number: Number, unit: Unit | None, angle: bool) -> Leaf:
    """A typed number with its value and how far that may be from what it was rounded from."""
    raw = number.value
    si = raw * (unit.scale if unit else DEGREE if angle else 1.0)
    slack = _half(number) * 1.0001 if number.figures[1] >= 2 else 0.0
    reach, raw_reach = max(slack * (abs(si / raw) if raw else 1.0), EXACT * abs(si)), max(slack, EXACT * abs(raw))
    within, raw_within = (si - reach, si + reach), (raw - raw_reach, raw + raw_reach)
    return Leaf(name=name, number=number, unit=unit, si=si, raw=raw, angle=angle, within=within, raw_within=raw_within)


def _half(number: Number) -> float:
    """Half a unit of the last place, trailing noughts of a whole number taken as no figures (two figures at least stand)."""
    least, most = number.figures
    return number.half * 10.0 ** max(0, most - max(least, 2))


@hashed_once
@frozen
class Template(Hashed):
    """An expression whose numbers are replaced by the letters "#0", "#1", … `unit` is a unit written after the whole."""

    tree: Expr
    leaves: tuple[Leaf, ...]
    unit: Unit | None = None


def template(node: Expr, first: int = 0) -> Template:
    """Takes the numbers out of a tree; exponents and roots' degrees stay. Leaves are numbered from `first`."""
    held = _templates(node)
    if first not in held:
        held[first] = _template(node, first)
    return held[first]


@kept_on_tree("_templates")
def _templates(node: Expr) -> dict[int, Template]:
    """The templates made of a tree, by the number their leaves begin with."""
    return {}


@lru_cache(maxsize=20_000)
def _template(node: Expr, first: int) -> Template:
    leaves: list[Leaf] = []

    def leaf(number: Number, unit: Unit | None, angle: bool) -> Expr:
        name = f"#{first + len(leaves)}"
        leaves.append(leaf_of(name, number, unit, angle))
        return Symbol(name=name, known=True)

    body, unit = _split_unit(node)
    tree = _strip(body, leaf, False)
    return Template(tree=tree, leaves=tuple(leaves), unit=unit)


def _split_unit(node: Expr) -> tuple[Expr, Unit | None]:
    """An expression with a unit after a bracket: the expression, and the unit apart."""
    if isinstance(node, Product) and not isinstance(node.factors[0], Number):
        cut = len(node.factors)
        while cut > 1 and is_unit(node.factors[cut - 1]):
            cut -= 1
        if cut < len(node.factors) and not any(is_unit(f) for f in node.factors[:cut]):
            rest = node.factors[:cut]
            return (rest[0] if cut == 1 else Product(factors=rest)), unit_of(node.factors[cut:])
    return node, None


def is_unit(node: Expr) -> bool:
    """A tree made of units only (with numbers as exponents)."""
    match node:
        case UnitFactor():
            return True
        case Power(base=b, exponent=e):
            return is_unit(b) and not is_unit(e)
        case Product(factors=fs):
            return all(map(is_unit, fs))
        case Quotient(over=a, under=b):
            return (is_unit(a) or _one(a)) and is_unit(b)
    return False


def _one(node: Expr) -> bool:
    return isinstance(node, Number) and node.value == 1 and node.half == 0


def unit_of(parts: tuple[Expr, ...]) -> Unit | None:
    """One unit standing for a product of unit trees."""
    if not parts:
        return None
    tree = parts[0] if len(parts) == 1 else Product(factors=parts)
    if isinstance(tree, UnitFactor):
        return tree.unit
    try:
        value = evaluate(tree)
    except Unknown:
        return None
    if value.dimensions is None:
        return None
    return Unit(name=_unit_name(tree), scale=value.si, dimensions=value.dimensions)


def _unit_name(node: Expr) -> str:
    match node:
        case UnitFactor(unit=u):
            return u.name
        case Power(base=b, exponent=e):
            return f"{_unit_name(b)}^{_unit_name(e)}"
        case Number(text=t):
            return t
        case Negative(inner=a):
            return f"-{_unit_name(a)}"
        case Product(factors=fs):
            return " ".join(map(_unit_name, fs))
        case Quotient(over=a, under=b):
            return f"{_unit_name(a)}/{_unit_name(b)}"
    return "?"


def _strip(node: Expr, leaf: Callable[[Number, Unit | None, bool], Expr], angle: bool) -> Expr:
    match node:
        case Number(figures=(0, 0)):
            return node
        case Number():
            return leaf(node, None, angle)
        case Power(base=b, exponent=e):
            return Power(base=_strip(b, leaf, False), exponent=e if _plain_exponent(e) else _strip(e, leaf, False))
        case Product(factors=fs):
            return _strip_product(fs, leaf, angle)
        case Quotient(over=a, under=b) if is_unit(b):
            number, unit = value_parts(node)
            if number is not None:
                return leaf(number, unit, False)
            return Quotient(over=_strip(a, leaf, False), under=b)
        case Quotient(over=a, under=b):
            return Quotient(over=_strip(a, leaf, False), under=_strip(b, leaf, False))
        case Call(function=name, inner=a):
            if name in ("sin", "cos", "tan") and not isinstance(a, Number) and is_numeric(a) and not has_unit(a) and not symbols(a):
                inner = Product(factors=(_strip(a, leaf, False), Symbol(name="°", known=True)))
                return Call(function=name, inner=inner)
            return Call(function=name, inner=_strip(a, leaf, name in ("sin", "cos", "tan")))
        case Root(inner=a, degree=d):
            return Root(inner=_strip(a, leaf, False), degree=d)
        case PlusMinus(value=a):
            return _strip(a, leaf, angle)
        case Negative(inner=a):
            return Negative(inner=_strip(a, leaf, angle))
    parts = children(node)
    return rebuild(node, tuple(_strip(p, leaf, angle) for p in parts)) if parts else node


def _plain_exponent(node: Expr) -> bool:
    """A small whole number or a half, with or without a sign: part of the shape, not of the data."""
    inner = node.inner if isinstance(node, Negative) else node
    if isinstance(inner, Quotient):
        return isinstance(inner.over, Number) and isinstance(inner.under, Number) and inner.over.value == 1 and inner.under.value <= 4
    return isinstance(inner, Number) and (inner.value == int(inner.value) or inner.value in (0.5, 1.5))


def _strip_product(factors: tuple[Expr, ...], leaf: Callable[[Number, Unit | None, bool], Expr], angle: bool) -> Expr:
    out: list[Expr] = []
    index = 0
    while index < len(factors):
        here = factors[index]
        end = index + 1
        while end < len(factors) and is_unit(factors[end]):
            end += 1
        if isinstance(here, Number) and end > index + 1:
            out.append(leaf(here, unit_of(factors[index + 1 : end]), False))
        else:
            out.append(_strip(here, leaf, angle and len(factors) == 1))
            out.extend(factors[index + 1 : end])
        index = end
    return out[0] if len(out) == 1 else Product(factors=tuple(out))


@kept_on_tree("_number")
def value_parts(node: Expr) -> tuple[Number | None, Unit | None]:
    """Number and unit of a tree that is just a value ("5.0 Ω", "-9.8 m/s^2" has its sign in the number); (None, None) otherwise."""
    match node:
        case Number():
            return node, None
        case Negative(inner=a):
            number, unit = value_parts(a)
            if number is None:
                return None, None
            return Number(text="-" + number.text, value=-number.value, half=number.half, figures=number.figures, at=node.at), unit
        case PlusMinus(value=a):
            return value_parts(a)
        case Product(factors=(Number() as n, Power(base=Number(value=10.0), exponent=e), *rest)) if _plain_exponent(e):
            folded = _times_power_of_ten(n, e)
            return value_parts(Product(factors=(folded, *rest))) if rest else (folded, None)
        case Product(factors=fs) if isinstance(fs[0], Number | Negative | PlusMinus) and all(map(is_unit, fs[1:])):
            number, unit = value_parts(fs[0])
            return (None, None) if number is None or unit is not None else (number, unit_of(fs[1:]))
        case Product(factors=(Product() as first, *rest)) if rest and all(map(is_unit, rest)):
            number, unit = value_parts(first)
            if number is None or unit is None:
                return None, None
            return number, unit_of((UnitFactor(unit=unit), *rest))
        case Quotient(over=a, under=b) if is_unit(b):
            number, unit = value_parts(a)
            if number is None:
                return None, None
            over: Expr = UnitFactor(unit=unit) if unit else Number(text="1", value=1.0)
            return number, unit_of((Quotient(over=over, under=b),))
    return None, None


def _times_power_of_ten(number: Number, exponent: Expr) -> Number:
    inner = exponent.inner if isinstance(exponent, Negative) else exponent
    power = (inner.value if isinstance(inner, Number) else 0.0) * (-1 if isinstance(exponent, Negative) else 1)
    if abs(power) > 40:
        return number
    scale = 10.0**power
    return Number(
        text=f"{number.text} × 10^{power:g}",
        value=float(f"{number.value * scale:.15g}"),
        half=number.half * scale,
        figures=number.figures,
        at=number.at,
    )


def is_value(node: Expr) -> bool:
    """Just a number, with or without a unit."""
    return value_parts(node)[0] is not None


def is_numeric(node: Expr) -> bool:
    """No letters but π."""
    return symbols(node) <= ONLY_PI
