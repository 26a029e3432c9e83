"""Typed numbers in expression trees: with their units, with ±, with %, and whether two agree."""

from __future__ import annotations

import math

from marker.expression import (
    Expr,
    Negative,
    Number,
    PlusMinus,
    Power,
    Product,
    Quotient,
    UnitFactor,
    children,
    kept_on_tree,
    symbols,
    walk,
)
from marker.physics.evaluate import Unknown, Value, evaluate


def letters(node: Expr) -> frozenset[str]:
    return symbols(node) - {"π"}


def value_of(expr: Expr) -> Value | None:
    try:
        return evaluate(expr)
    except Unknown:
        return None


@kept_on_tree("_typed")
def is_typed_number(expr: Expr) -> bool:
    """True for one typed number: 0.37, -4, 3.7 × 10⁻⁴, with or without a unit; False for arithmetic."""
    if isinstance(expr, Number):
        return True
    if isinstance(expr, Negative):
        return is_typed_number(expr.inner)
    if isinstance(expr, Product):
        rest = expr.factors[1:]
        return is_typed_number(expr.factors[0]) and all(has_unit_alone(f) or _power_of_ten(f) for f in rest)
    if isinstance(expr, Quotient):
        return is_typed_number(expr.over) and has_unit_alone(expr.under)
    return False


def the_number(expr: Expr) -> Number | None:
    """The number of a typed value, None for arithmetic."""
    if not is_typed_number(expr):
        return None
    if isinstance(expr, Number):
        return expr
    return the_number(children(expr)[0])


def _power_of_ten(expr: Expr) -> bool:
    if isinstance(expr, Number):
        return expr.text.replace(" ", "").startswith("10^")
    return isinstance(expr, Power) and isinstance(expr.base, Number) and expr.base.value == 10.0 and not letters(expr)


@kept_on_tree("_percent")
def carries_percent(expr: Expr) -> bool:
    if isinstance(expr, UnitFactor):
        return expr.unit.name == "%"
    return any(map(carries_percent, children(expr)))


def has_unit_alone(expr: Expr) -> bool:
    """True for an expression made of units only."""
    if isinstance(expr, UnitFactor):
        return True
    if isinstance(expr, Power):
        return has_unit_alone(expr.base)
    parts = children(expr)
    return bool(parts) and isinstance(expr, Product | Quotient) and all(map(has_unit_alone, parts))


def unit_part(expr: Expr) -> Expr | None:
    """The unit a typed number carries, as a tree of unit factors; None without one."""
    if isinstance(expr, Negative):
        return unit_part(expr.inner)
    if isinstance(expr, Product):
        units = tuple(f for f in expr.factors if has_unit_alone(f))
        return units[0] if len(units) == 1 else Product(factors=units) if units else None
    if isinstance(expr, Quotient):
        over = unit_part(expr.over)
        if has_unit_alone(expr.under):
            return Quotient(over=over or Number(text="1", value=1.0), under=expr.under)
        return over
    return None


def unit_text(expr: Expr) -> str:
    """The unit of a typed number as symbols, "N/m"; "" without one."""
    if isinstance(expr, UnitFactor):
        return expr.unit.name
    if isinstance(expr, Power) and has_unit_alone(expr):
        return f"{unit_text(expr.base)}^{_exponent(expr.exponent)}"
    if isinstance(expr, Quotient):
        return f"{unit_text(expr.over)}/{unit_text(expr.under)}" if has_unit_alone(expr.under) else unit_text(expr.over)
    return " ".join(t for t in map(unit_text, children(expr)) if t) if isinstance(expr, Product | Negative | PlusMinus) else ""


def _exponent(expr: Expr) -> str:
    value = value_of(expr)
    return "" if value is None else f"{value.raw:g}"


def halves(expr: Expr) -> tuple[Expr, Expr] | None:
    """Value and uncertainty of value ± uncertainty, each with its unit, when the unit is written once for both; else None."""
    if isinstance(expr, PlusMinus):
        first, second = unit_part(expr.value), unit_part(expr.uncertainty)
        return _in_unit(expr.value, second if first is None else None), _in_unit(expr.uncertainty, first if second is None else None)
    if isinstance(expr, Product) and sum(isinstance(f, PlusMinus) for f in expr.factors) == 1:
        rest = tuple(g for f in expr.factors if not isinstance(f, PlusMinus) for g in (f.factors if isinstance(f, Product) else (f,)))
        both = next(f for f in expr.factors if isinstance(f, PlusMinus))
        if all(has_unit_alone(f) or _power_of_ten(f) for f in rest):
            return Product(factors=(both.value, *rest), at=expr.at), Product(factors=(both.uncertainty, *rest), at=expr.at)
    if isinstance(expr, Quotient) and has_unit_alone(expr.under):
        over = halves(expr.over)
        if over is not None:
            return Quotient(over=over[0], under=expr.under, at=expr.at), Quotient(over=over[1], under=expr.under, at=expr.at)
    return None


def _in_unit(expr: Expr, unit: Expr | None) -> Expr:
    return expr if unit is None or carries_percent(unit) else Product(factors=(expr, unit), at=expr.at)


def holds_number(expr: Expr, target: float, slack: float = 0.001) -> bool:
    """True when one of the numbers typed in a tree is the target, or a power of ten of it."""
    numbers = (n for n in walk(expr) if isinstance(n, Number))
    return any(power_of_ten_between(n.value, target, max(slack, min(n.half / abs(n.value), 0.05))) is not None for n in numbers if n.value)


def close(value: float, target: float, half: float = 0.0, slack: float = 0.005) -> bool:
    """True when a value agrees with a target to half its last place, or within the slack (a fraction of the target)."""
    return abs(value - target) <= max(half * (1 + 1e-9), slack * abs(target)) + 1e-15


def power_of_ten_between(value: float, target: float, slack: float = 0.015, widest: int = 9) -> int | None:
    """n when value = target × 10ⁿ within the slack, nearest n; None when no power of ten does it."""
    if value == 0.0 or target == 0.0 or (value > 0) != (target > 0):
        return None
    n = round(math.log10(value / target))
    return n if abs(n) <= widest and close(value, target * 10.0**n, slack=slack) else None
