"""The values a part has: given, of the data sheet, of the library, and carried from earlier parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.physics.system import Relation
from marker.reading import Quantity, read_quantity
from marker.scheme.calculation import CalculationPart
from marker.scheme.compiled import Datum
from marker.scheme.convention import Convention
from marker.scheme.lexicon import constants
from marker.scheme.sheets import by_name
from marker.scheme.surroundings import Carryable, Surroundings, problem

_UNMISTAKABLE = frozenset({"g", "G", "h", "ħ", "N_A", "σ", "ε_0", "μ_0", "m_e", "m_p"})


def data_of(
    spec: CalculationPart, relations: Sequence[Relation], around: Surroundings, texts: Sequence[str], convention: Convention, where: str
) -> dict[str, Datum]:
    data = {symbol: datum_of(symbol, text, where) for symbol, text in spec.given.items()}
    needed = frozenset[str]().union(*(r.letters for r in relations)) - data.keys() - spec.carry.keys()
    sought = {s.find for s in spec.steps()}
    for symbol in sorted(needed - sought):
        values = around.data.get(symbol) or library_constant(symbol, texts, convention)
        if values is not None:
            data[symbol] = constant_of(symbol, values, where)
    return data


def library_constant(symbol: str, texts: Sequence[str], convention: Convention) -> tuple[str, ...] | None:
    """A constant the paper's data sheet does not list: those whose letter means nothing else, or that a named relationship uses."""
    rows = [row for t in texts if (row := by_name().get(t.casefold())) is not None]
    if symbol not in _UNMISTAKABLE and not any(symbol in row.constants for row in rows):
        return None
    if symbol == "g":
        return tuple(f"{v} N/kg" for v in reversed(convention.g_values))
    found = next((c for c in constants() if c.symbol == symbol), None)
    return None if found is None else tuple(f"{v} {found.unit}" for v in found.values)


def datum_of(symbol: str, text: str, where: str) -> Datum:
    try:
        quantity: Quantity = read_quantity(text)
    except ValueError as error:
        raise problem(where, f"given.{symbol}", f"{text!r} is not a quantity: {error}", 'a number with a unit, such as "64 mA"') from error
    return Datum(symbol=symbol, text=text, number=quantity.number, si=quantity.si, raw=quantity.number.value, unit=quantity.unit)


def constant_of(symbol: str, values: tuple[str, ...], where: str) -> Datum:
    first, *others = (datum_of(symbol, v, where) for v in values)
    return replace(first, constant=True, others=tuple(o.si for o in others))


def carried_of(spec: CalculationPart, around: Surroundings, where: str) -> dict[str, Carryable]:
    out = {}
    for symbol, source in spec.carry.items():
        part, name = source_of(source, symbol)
        found = around.carried.get(f"{part}.{name}")
        if found is None:
            known = ", ".join(sorted(around.carried)) or "none so far"
            raise problem(
                where, f"carry.{symbol}", f"{source!r} is not a value of an earlier part", f"one of: {known}", "Parts come in order."
            )
        out[symbol] = found
    return out


def source_of(text: str, symbol: str) -> tuple[str, str]:
    part, _, name = text.partition(".")
    return part.strip(), (name or symbol).strip()
