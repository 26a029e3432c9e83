"""Taking expression trees apart and putting them together: the ground under the transforms."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator

from marker.expression import Expr, Negative, Number, Power, Product, Quotient, Sum, children, has_unit, rebuild, symbols
from marker.physics.evaluate import value_at
from marker.reading import read_expression
from marker.reading.model import SymbolEntry, SymbolTable

Rule = Callable[[Expr], Iterator[Expr]]
ONE = Number(text="1", value=1.0)
_LETTERS = SymbolTable(tuple(SymbolEntry(name=n) for n in ("g", "n")))


def everywhere(node: Expr, rule: Rule) -> Iterator[Expr]:
    """The tree with the rule used on it, or on one node inside it."""
    yield from rule(node)
    inner = children(node)
    for place, child in enumerate(inner):
        for changed in everywhere(child, rule):
            yield rebuild(node, (*inner[:place], changed, *inner[place + 1 :]))


def factors(node: Expr, sign: int = 1) -> list[tuple[Expr, int]]:
    """Factors of a product or quotient, each with 1 (over) or -1 (under)."""
    match node:
        case Product(factors=inner):
            return [pair for f in inner for pair in factors(f, sign)]
        case Quotient(over=over, under=under):
            return [*factors(over, sign), *factors(under, -sign)]
    return [(node, sign)]


def assemble(parts: Iterable[tuple[Expr, int]]) -> Expr:
    """The product or quotient of factors, 1 when there are none."""
    pairs = list(parts)
    over, under = product([f for f, s in pairs if s > 0]), [f for f, s in pairs if s < 0]
    return Quotient(over=over, under=product(under)) if under else over


def product(parts: Iterable[Expr]) -> Expr:
    """Factors side by side; ones are left out, and products inside are opened."""
    flat = [g for f in parts for g in (f.factors if isinstance(f, Product) and not has_unit(f) else (f,)) if g != ONE]
    return ONE if not flat else flat[0] if len(flat) == 1 else Product(factors=tuple(flat))


def quotient(over: Expr, under: Expr) -> Expr:
    return over if is_one(under) else Quotient(over=over, under=under)


def negated(node: Expr) -> Expr:
    return node.inner if isinstance(node, Negative) else Negative(inner=node)


def total(terms: Iterable[Expr]) -> Expr:
    parts = tuple(terms)
    return parts[0] if len(parts) == 1 else Sum(terms=parts)


def numeric(node: Expr) -> float | None:
    """Value of a pure number such as 1/2, 2π or √2; None for anything with a letter or a unit."""
    if symbols(node) - {"π"} or has_unit(node):
        return None
    value = value_at(node, {})
    return value if math.isfinite(value) else None


def is_one(node: Expr) -> bool:
    return isinstance(node, Number) and node.value == 1.0


def squared(node: Expr) -> Expr | None:
    """The base of a square."""
    return node.base if isinstance(node, Power) and numeric(node.exponent) == 2.0 else None


def plain_number(value: float) -> Number:
    """An exact number. Its text has at most six figures."""
    return Number(text=f"{value:.6g}", value=value)


def read_factor(text: str) -> Expr:
    """A factor of the fault table, such as "4*pi^2", "10^-3" or "g"."""
    return read_expression(text, _LETTERS)


def distinct(found: Iterable[Expr], but: Expr) -> list[Expr]:
    """Each tree once, in order, without the tree it came from."""
    return [tree for tree in dict.fromkeys(found) if tree != but]
