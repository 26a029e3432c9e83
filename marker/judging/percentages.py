"""A ratio worked out as a percentage: `η = P/Q × 100 = 64`, where the 100 stands for 100 % and the 64 for 64 %."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from marker.expression import Expr, Number, Product, Quotient, Symbol, UnitFactor, has_unit, rebuild
from marker.judging.leaves import value_parts
from marker.physics.units import parse_unit
from marker.reading.model import Assumption, Reading
from marker.scheme.compiled import CompiledCalculation

_COST = 1.0


def as_percentage(part: CompiledCalculation, reading: Reading) -> Iterator[Reading]:
    """The reading with a factor 100 as 100 % and the bare values after it in per cent, where a number without unit is sought."""
    if not _seeks_a_ratio(part, reading):
        return
    sides: list[Expr] = []
    found = False
    for side in reading.sides:
        if found and isinstance(side, Number) and not has_unit(side):
            sides.append(_percent(side))
            continue
        turned = _with_percent(side)
        found = found or turned != side
        sides.append(turned)
    if found:
        note = Assumption(code="percentage", text="100 is 100 %, and the value a percentage")
        yield replace(reading, sides=tuple(sides), cost=reading.cost + _COST, assumptions=(*reading.assumptions, note))


def _seeks_a_ratio(part: CompiledCalculation, reading: Reading) -> bool:
    """The statement is about a quantity without dimensions; one that names none, where such a quantity is all that is asked."""
    names = [s.name for s in reading.sides if isinstance(s, Symbol) and s.name in part.dimensions]
    about = names[:1] or [g.find for g in part.goals if len(part.goals) == 1]
    dimensions = [part.dimensions.get(n) for n in about]
    return bool(dimensions) and all(d is not None and not any(d) for d in dimensions)


def _with_percent(side: Expr) -> Expr:
    """The side with the factor 100 of a product, or of the number above a solidus, as 100 %."""
    if value_parts(side)[0] is not None:
        return side
    match side:
        case Product(factors=factors):
            place = next((i for i, f in enumerate(factors) if _hundred(f)), None)
            if place is not None and len(factors) > 1:
                return Product(factors=(*factors[:place], *_factors(_percent(factors[place])), *factors[place + 1 :]), at=side.at)
            return rebuild(side, tuple(_with_percent(p) for p in factors))
        case Quotient(over=over, under=under):
            return Quotient(over=_with_percent(over), under=under, at=side.at)
    return side


def _hundred(node: Expr) -> bool:
    return isinstance(node, Number) and node.value == 100.0


def _percent(node: Expr) -> Expr:
    return Product(factors=(node, UnitFactor(unit=parse_unit("%")[0][0])), at=node.at)


def _factors(node: Expr) -> tuple[Expr, ...]:
    return node.factors if isinstance(node, Product) else (node,)
