"""Letters filled by numbers: what stands where in a substitution written in the shape of its relationship."""

from __future__ import annotations

from marker.expression import Expr, Number, Product, Symbol, children
from marker.judging.leaves import is_numeric, is_unit, is_value


def fill(pattern: Expr, numbers: Expr) -> dict[str, Expr]:
    """Which numeric expression stands for which letter; empty when the two are not of one shape.

    `d/t` against `π × 3.8/2.6` gives d: π × 3.8, t: 2.6. A product matches factor by factor, units attached to numbers.
    """
    found: dict[str, Expr] = {}
    return found if _fill(pattern, numbers, found) else {}


def _fill(pattern: Expr, numbers: Expr, found: dict[str, Expr]) -> bool:
    if isinstance(pattern, Symbol) and pattern.name != "π":
        if not is_numeric(numbers) or (pattern.name in found and found[pattern.name] != numbers):
            return False
        found[pattern.name] = numbers
        return True
    if isinstance(pattern, Number):
        return isinstance(numbers, Number) and abs(numbers.value - pattern.value) < 1e-12
    if isinstance(pattern, Product) or isinstance(numbers, Product):
        a, b = _factors(pattern), _factors(numbers)
        return (a != [pattern] or b != [numbers]) and _fill_product(a, b, found)
    if type(pattern) is not type(numbers):
        return False
    ours, theirs = children(pattern), children(numbers)
    return len(ours) == len(theirs) and bool(ours) and all(_fill(x, y, found) for x, y in zip(ours, theirs, strict=True))


def _factors(tree: Expr) -> list[Expr]:
    """Factors with each number's unit attached; a lone value is one factor."""
    if not isinstance(tree, Product) or is_value(tree):
        return [tree]
    out: list[Expr] = []
    for factor in tree.factors:
        if out and is_unit(factor) and isinstance(out[-1], Number | Product):
            out[-1] = Product(factors=(out[-1], factor))
        else:
            out.append(factor)
    return out


def _fill_product(pattern: list[Expr], numbers: list[Expr], found: dict[str, Expr]) -> bool:
    if len(pattern) == len(numbers):
        return all(_fill(p, n, found) for p, n in zip(pattern, numbers, strict=True))
    if len(pattern) == 1 and isinstance(pattern[0], Symbol):
        return _fill(pattern[0], Product(factors=tuple(numbers)), found)
    return False
