"""What a transform may know of the part: its data as given, its values, and what its letters stand for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from marker.expression import NO_DIMENSIONS, Dimensions, Expr, Negative, Number, Product, Symbol, UnitFactor, symbols, walk
from marker.physics.evaluate import same_dimensions
from marker.scheme.compiled import CompiledCalculation, Datum
from marker.scheme.lexicon import kinds_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Givens:
    """data        symbol -> datum as given;  values  symbol -> value in SI, also of quantities found on the way
    dimensions  symbol -> dimensions, None where unknown;  kinds  symbol -> names of the kinds of quantity it may be
    """

    data: Mapping[str, Datum] = field(default_factory=dict)
    values: Mapping[str, float] = field(default_factory=dict)
    dimensions: Mapping[str, Dimensions | None] = field(default_factory=dict)
    kinds: Mapping[str, frozenset[str]] = field(default_factory=dict)

    def is_a(self, symbol: str, quantity: str) -> bool:
        """Whether a letter may be that kind of quantity; where nothing is known of letters, any may be."""
        return quantity in self.kinds.get(symbol, ()) if self.kinds else True


NOTHING = Givens()


@lru_cache(maxsize=256)
def givens_of(part: CompiledCalculation) -> Givens:
    """What a compiled part tells of its quantities."""
    return Givens(
        data=part.data,
        values=part.system.base,
        dimensions=part.dimensions,
        kinds={n: frozenset(k.name for k in kinds_of(n, part.dimensions.get(n))) for n in part.system.base},
    )


def data_in(expression: Expr, givens: Givens) -> Iterator[tuple[Expr, Datum]]:
    """Each given value in the tree: letters that are data, quantities as typed, or (in an expression of numbers) numbers."""
    seen: set[Expr] = set()
    quantities = [n for n in walk(expression) if _is_quantity(n)]
    inside = {id(f) for q in quantities for f in walk(q) if f is not q}
    numeric = not symbols(expression) - {"π"}
    for node in walk(expression):
        datum = None
        if isinstance(node, Symbol):
            datum = givens.data.get(node.name)
        elif _is_quantity(node) or (numeric and isinstance(node, Number) and id(node) not in inside):
            datum = _typed(node)
        if datum is not None and node not in seen:
            seen.add(node)
            yield node, datum


def _is_quantity(node: Expr) -> bool:
    match node:
        case Product(factors=(Number() | Negative(inner=Number()), UnitFactor())):
            return True
    return False


def _typed(node: Expr) -> Datum:
    """A datum made of a quantity typed in an expression."""
    match node:
        case Product(factors=(Number() as number, UnitFactor(unit=unit))):
            return Datum(symbol="", text="", number=number, si=(number.value + unit.offset) * unit.scale, raw=number.value, unit=unit)
        case Product(factors=(Negative(inner=Number() as inner), UnitFactor(unit=unit))):
            turned = Number(text=f"-{inner.text}", value=-inner.value, half=inner.half, figures=inner.figures)
            return Datum(symbol="", text="", number=turned, si=(turned.value + unit.offset) * unit.scale, raw=turned.value, unit=unit)
        case Number():
            return Datum(symbol="", text="", number=node, si=node.value, raw=node.value)
    raise TypeError(type(node).__name__)


def dimensions_of(node: Expr, datum: Datum, givens: Givens) -> Dimensions:
    """Of a datum, from its unit or from what is known of its letter."""
    known = givens.dimensions.get(node.name) if isinstance(node, Symbol) else None
    return known or (datum.unit.dimensions if datum.unit is not None else NO_DIMENSIONS)


def has_dimensions(node: Expr, datum: Datum, givens: Givens, wanted: Dimensions) -> bool:
    return same_dimensions(dimensions_of(node, datum, givens), wanted)


def with_number(datum: Datum, raw: float, text: str = "") -> Expr:
    """The datum with another number in the same unit; a temperature on a scale of its own in kelvin."""
    if datum.unit is None:
        return measured(raw, text)
    if datum.unit.offset:
        return measured((raw + datum.unit.offset) * datum.unit.scale)
    return Product(factors=(measured(raw, text), UnitFactor(unit=datum.unit)))


def bare(value: float) -> Number:
    """A number put in where SI is expected."""
    return measured(value)


def measured(value: float, text: str = "") -> Number:
    """A number as of a measurement, not an exact one: 0.5 and not ½."""
    return Number(text=text or f"{value:.10g}", value=value, half=1e-9 * abs(value))
