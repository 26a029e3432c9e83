"""Value and dimensions of an expression tree.

Two values are kept of every expression: `si`, with units counted, and `raw`, the numbers as typed with
all units left out. Working of school calculations drops units or carries them only at the end, so an
equality may hold either way, and which way matters for the mark.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from marker.expression import (
    ANGLE,
    NO_DIMENSIONS,
    Call,
    Dimensions,
    Expr,
    Negative,
    Number,
    PlusMinus,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    UnitFactor,
    has_unit,
    kept_on_tree,
    symbols,
)
from marker.frozen import frozen

DEGREE = math.pi / 180
LARGEST = 1e200


class Unknown(Exception):
    """The expression has a letter without a value, or no value in the real numbers."""


@frozen(kw_only=False)
class Value:
    """`si` in SI base units, `raw` as typed, and dimensions (None where terms of a sum disagree)."""

    si: float
    raw: float
    dimensions: Dimensions | None = NO_DIMENSIONS


Values = Mapping[str, Value]
EMPTY: Values = {}


def evaluate(node: Expr, values: Values = EMPTY, *, radians: bool = False) -> Value:
    """Value of a tree. A bare number inside sin, cos or tan is in degrees unless `radians`.

    Raises Unknown for a letter not in `values` (π is built in) or an operation without a real result.
    """
    if values is EMPTY and not radians:
        found = _by_itself(node)
        if isinstance(found, Value):
            return found
        raise Unknown(found)
    return _within_range(node, values, radians)


@kept_on_tree("_by_itself")
def _by_itself(node: Expr) -> Value | str:
    """The value of a tree of numbers, or why it has none."""
    try:
        return _within_range(node, EMPTY, False)
    except Unknown as why:
        return str(why)


def _within_range(node: Expr, values: Values, radians: bool) -> Value:
    try:
        result = _evaluate(node, values, radians)
    except (ValueError, ZeroDivisionError, OverflowError) as error:
        raise Unknown(str(error)) from error
    if not (math.isfinite(result.si) and math.isfinite(result.raw)) or abs(result.si) > LARGEST:
        raise Unknown("out of range")
    return result


def _evaluate(node: Expr, values: Values, radians: bool) -> Value:
    handler = _HANDLERS.get(type(node))
    if handler is None:
        raise Unknown(type(node).__name__)
    return handler(node, values, radians)


def _number(node: Number, values: Values, radians: bool) -> Value:
    return Value(node.value, node.value)


def _symbol(node: Symbol, values: Values, radians: bool) -> Value:
    found = values.get(node.name)
    if found is not None:
        return found
    if node.name == "π":
        return Value(math.pi, math.pi)
    raise Unknown(node.name)


def _unit(node: UnitFactor, values: Values, radians: bool) -> Value:
    return Value(node.unit.scale, 1.0, node.unit.dimensions)


def _sum(node: Sum, values: Values, radians: bool) -> Value:
    parts = [_evaluate(t, values, radians) for t in node.terms]
    dimensions: Dimensions | None = next((p.dimensions for p in parts if p.si != 0), parts[0].dimensions)  # 0 has no kind
    for term, part in zip(node.terms, parts, strict=True):
        if part.dimensions == dimensions or part.si == 0 or same_dimensions(part.dimensions, dimensions):
            continue
        if part.dimensions == NO_DIMENSIONS and not has_unit(term):
            continue
        dimensions = part.dimensions if dimensions == NO_DIMENSIONS else None
        if dimensions is None:
            break
    return Value(math.fsum(p.si for p in parts), math.fsum(p.raw for p in parts), dimensions)


def _product(node: Product, values: Values, radians: bool) -> Value:
    si = raw = 1.0
    dimensions: Dimensions | None = NO_DIMENSIONS
    for factor in node.factors:
        part = _evaluate(factor, values, radians)
        si *= part.si
        raw *= part.raw
        dimensions = _combine(dimensions, part.dimensions, 1)
    return Value(si, raw, dimensions)


def _quotient(node: Quotient, values: Values, radians: bool) -> Value:
    over, under = _evaluate(node.over, values, radians), _evaluate(node.under, values, radians)
    return Value(over.si / under.si, over.raw / under.raw, _combine(over.dimensions, under.dimensions, -1))


def _power(node: Power, values: Values, radians: bool) -> Value:
    base, exponent = _evaluate(node.base, values, radians), _evaluate(node.exponent, values, radians)
    if abs(exponent.si) > 400:
        raise Unknown("exponent out of range")
    dimensions = base.dimensions
    if dimensions is not None and dimensions != NO_DIMENSIONS:
        dimensions = _scaled(dimensions, exponent.si)
    si, raw = _real_power(base.si, exponent.si), _real_power(base.raw, exponent.si)
    return Value(si, raw, dimensions)


def _real_power(base: float, exponent: float) -> float:
    if base < 0 and exponent != int(exponent):
        raise Unknown("power of a negative number")
    return float(base**exponent)


def _negative(node: Negative, values: Values, radians: bool) -> Value:
    inner = _evaluate(node.inner, values, radians)
    return Value(-inner.si, -inner.raw, inner.dimensions)


def _root(node: Root, values: Values, radians: bool) -> Value:
    inner = _evaluate(node.inner, values, radians)
    if inner.si < 0:
        raise Unknown("root of a negative number")
    dimensions = inner.dimensions if inner.dimensions is None else _scaled(inner.dimensions, 1 / node.degree)
    return Value(inner.si ** (1 / node.degree), abs(inner.raw) ** (1 / node.degree), dimensions)


def _call(node: Call, values: Values, radians: bool) -> Value:
    inner = _evaluate(node.inner, values, radians)
    name = node.function
    if name in ("sin", "cos", "tan"):
        angle = inner.si if _is_angle(node.inner, inner, radians) else inner.si * DEGREE
        result = {"sin": math.sin, "cos": math.cos, "tan": math.tan}[name](angle)
        return Value(result, result)
    if name in _INVERSES:
        result = _INVERSES[name](inner.si)
        return Value(result, result if radians else result / DEGREE, ANGLE)
    if name == "abs":
        return Value(abs(inner.si), abs(inner.raw), inner.dimensions)
    function = _PLAIN.get(name)
    if function is None:
        raise Unknown(name)
    result = function(inner.si)
    return Value(result, result)


_INVERSES: Mapping[str, Callable[[float], float]] = {"asin": math.asin, "acos": math.acos, "atan": math.atan}
_PLAIN: Mapping[str, Callable[[float], float]] = {
    "ln": math.log,
    "log10": math.log10,
    "log2": math.log2,
    "exp": math.exp,
    "sinh": math.sinh,
    "cosh": math.cosh,
    "tanh": math.tanh,
}


def _is_angle(argument: Expr, value: Value, radians: bool) -> bool:
    """True when the argument is in radians already: it carries an angle unit, a π or another letter, or dimensions that cancel."""
    if radians or value.dimensions != NO_DIMENSIONS or has_unit(argument):
        return True
    return bool(symbols(argument))


def _plus_minus(node: PlusMinus, values: Values, radians: bool) -> Value:
    return _evaluate(node.value, values, radians)


_HANDLERS: Mapping[type[Expr], Callable[..., Value]] = {
    Number: _number,
    Symbol: _symbol,
    UnitFactor: _unit,
    Sum: _sum,
    Product: _product,
    Quotient: _quotient,
    Power: _power,
    Negative: _negative,
    Root: _root,
    Call: _call,
    PlusMinus: _plus_minus,
}


def _combine(a: Dimensions | None, b: Dimensions | None, sign: int) -> Dimensions | None:
    if a is None or b is None:
        return None
    if b == NO_DIMENSIONS:
        return a
    return tuple(x + sign * y for x, y in zip(a, b, strict=True))  # type: ignore[return-value]


def _scaled(dimensions: Dimensions, factor: float) -> Dimensions:
    return tuple(x * factor for x in dimensions)  # type: ignore[return-value]


def same_dimensions(a: Dimensions | None, b: Dimensions | None) -> bool:
    """Angles count as numbers, as in SI."""
    if a is None or b is None:
        return False
    return a == b or all(x == y or abs(x - y) < 1e-6 for x, y in zip(a[:7], b[:7], strict=True))


def last_place(node: Expr) -> tuple[float, float]:
    """Half a unit of the last place shown, (si, raw), when the tree is one number with or without a unit; else zeros."""
    scale, half = 1.0, 0.0
    inner = node.inner if isinstance(node, Negative) else node
    if isinstance(inner, PlusMinus):
        inner = inner.value
    parts = inner.factors if isinstance(inner, Product) else (inner.over, inner.under) if isinstance(inner, Quotient) else (inner,)
    for index, part in enumerate(parts):
        if isinstance(part, Number) and index == 0:
            half = part.half
        elif isinstance(part, Number) and isinstance(inner, Product) and part.half == 0.0:
            half *= abs(part.value)  # a power of ten written once for value and uncertainty
        elif isinstance(part, Number) or symbols(part):
            return 0.0, 0.0
        else:
            if isinstance(inner, Quotient) and index == 0 and isinstance(part, Product):
                si, _ = last_place(part)
                raw_half = part.factors[0].half if isinstance(part.factors[0], Number) else 0.0
                half = raw_half
                scale *= si / raw_half if raw_half else 0.0
                continue
            try:
                value = evaluate(part).si
            except Unknown:
                return 0.0, 0.0
            scale *= 1 / value if isinstance(inner, Quotient) and index == 1 else value
    return abs(half * scale), half


def absolute_temperature(node: Expr) -> float | None:
    """Kelvin value of a lone number in °C or °F, else None."""
    if isinstance(node, Negative):
        inner = absolute_temperature(node.inner)
        unit = next((n.unit for n in _units(node.inner)), None)
        return None if inner is None or unit is None else 2 * unit.offset * unit.scale - inner
    if isinstance(node, Product) and len(node.factors) == 2:
        number, unit_factor = node.factors
        if isinstance(number, Number) and isinstance(unit_factor, UnitFactor) and unit_factor.unit.offset:
            return (number.value + unit_factor.unit.offset) * unit_factor.unit.scale
    return None


def _units(node: Expr) -> list[UnitFactor]:
    return [f for f in node.factors if isinstance(f, UnitFactor)] if isinstance(node, Product) else []


_BUILT_IN: Mapping[str, float] = {"π": math.pi, "°": DEGREE}


@kept_on_tree("_function")
def compiled(node: Expr) -> Callable[[Mapping[str, float]], float]:
    """The tree as one function of letter values in SI (angles in radians); raises KeyError, ValueError or ZeroDivisionError."""
    match node:
        case Number(value=v):
            return lambda env: v
        case Symbol(name=n):
            if n in _BUILT_IN:
                value = _BUILT_IN[n]
                return lambda env: env.get(n, value)
            return lambda env: env[n]
        case UnitFactor(unit=u):
            scale = u.scale
            return lambda env: scale
        case Negative(inner=a):
            f = compiled(a)
            return lambda env: -f(env)
        case PlusMinus(value=a):
            return compiled(a)
        case Sum(terms=parts):
            fs = tuple(map(compiled, parts))
            return lambda env: sum(f(env) for f in fs)
        case Product(factors=parts):
            return _compiled_product(tuple(map(compiled, parts)))
        case Quotient(over=a, under=b):
            f, g = compiled(a), compiled(b)
            return lambda env: f(env) / g(env)
        case Power(base=a, exponent=b):
            f, g = compiled(a), compiled(b)
            return lambda env: _real_power(f(env), g(env))
        case Root(inner=a, degree=d):
            f = compiled(a)
            return lambda env: _real_power(f(env), 1 / d)
        case Call(function=name, inner=a):
            return _compiled_call(name, a)
    raise Unknown(type(node).__name__)


def value_at(node: Expr, point: Mapping[str, float]) -> float:
    """The tree's value at a point; nan where it has none."""
    try:
        value = compiled(node)(point)
    except (Unknown, ValueError, ZeroDivisionError, OverflowError, KeyError):
        return math.nan
    return math.nan if isinstance(value, complex) else value


def _compiled_product(fs: tuple[Callable[[Mapping[str, float]], float], ...]) -> Callable[[Mapping[str, float]], float]:
    if len(fs) == 2:
        f, g = fs
        return lambda env: f(env) * g(env)
    return lambda env: math.prod([h(env) for h in fs])


def _compiled_call(name: str, argument: Expr) -> Callable[[Mapping[str, float]], float]:
    f = compiled(argument)
    if name in ("sin", "cos", "tan"):
        function = {"sin": math.sin, "cos": math.cos, "tan": math.tan}[name]
        if not symbols(argument) and not has_unit(argument):
            return lambda env: function(f(env) * DEGREE)
        return lambda env: function(f(env))
    if name == "abs":
        return lambda env: abs(f(env))
    plain = _INVERSES.get(name) or _PLAIN.get(name)
    if plain is None:
        raise Unknown(name)
    return lambda env: plain(f(env))
