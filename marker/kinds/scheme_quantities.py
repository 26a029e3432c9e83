"""Quantities, units and relationships as a scheme file types them, with refusals that name the key and the mend."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NoReturn

from marker.errors import Problem, SchemeError
from marker.expression import NO_DIMENSIONS, Dimensions, Expr
from marker.physics.evaluate import Value
from marker.reading import read_expression, read_quantity, read_relation
from marker.reading.model import SymbolTable


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitOf:
    """A unit text: SI value of one of it, and its dimensions. "" is the number 1."""

    text: str
    scale: float = 1.0
    dimensions: Dimensions = NO_DIMENSIONS


@dataclass(frozen=True, slots=True, kw_only=True)
class SchemeQuantity:
    """A quantity of the scheme: value in SI and as typed, its number's text for its figures, its unit ("" for none)."""

    text: str
    si: float
    raw: float
    number: str
    dimensions: Dimensions
    unit: str = ""

    @property
    def value(self) -> Value:
        return Value(self.si, self.raw, self.dimensions)


def refuse(where: str, seen: str, expected: str = "", mend: str = "") -> NoReturn:
    """Raises SchemeError with one problem."""
    raise SchemeError(Problem(where=where, seen=seen, expected=expected, mend=mend)) from None


def unit_of(text: str, where: str) -> UnitOf:
    """A unit such as "mm/N". Raises SchemeError naming the key when it is not one."""
    if not text.strip():
        return UnitOf(text="")
    one = quantity(f"1 {text}", where)
    return UnitOf(text=text, scale=one.si, dimensions=one.dimensions)


def quantity(text: str | int | float, where: str) -> SchemeQuantity:
    """A quantity such as "0.36 mm/N" or 4. Raises SchemeError naming the key when it is not a value."""
    typed = str(text).strip()
    try:
        read = read_quantity(typed)
    except ValueError as error:
        refuse(where, str(error), "a value with its unit", 'Write it as "0.36 mm/N".')
    unit = read.unit
    return SchemeQuantity(
        text=typed,
        si=read.si,
        raw=read.number.value,
        number=read.number.text,
        dimensions=NO_DIMENSIONS if unit is None else unit.dimensions,
        unit="" if unit is None else unit.name,
    )


def with_uncertainty(text: str, where: str) -> tuple[Value, Value, str] | None:
    """(value, uncertainty, text of the uncertainty) of "(46.0 ± 0.5) m"; None when the text has no ±."""
    try:
        read = read_quantity(text)
    except ValueError as error:
        refuse(where, str(error), "a value ± its uncertainty", 'Write it as "(46.0 ± 0.5) m".')
    if read.uncertainty is None:
        return None
    scale, dimensions = (1.0, NO_DIMENSIONS) if read.unit is None else (read.unit.scale, read.unit.dimensions)
    spread = abs(read.uncertainty.value)
    return Value(read.si, read.number.value, dimensions), Value(spread * scale, spread, dimensions), read.uncertainty.text


def relationship(text: str, table: SymbolTable, where: str) -> tuple[Expr, Expr]:
    """Both sides of one equation. Raises SchemeError naming the key when it is not one."""
    try:
        reading = read_relation(text, table)
    except ValueError as error:
        refuse(where, str(error), "one equation", 'Write it as "k = 1/gradient".')
    if reading.relations != ("=",):
        refuse(where, repr(text), "one equation", 'Write it as "k = 1/gradient".')
    return reading.sides[0], reading.sides[1]


def expression(text: str, table: SymbolTable, where: str) -> Expr:
    """One expression. Raises SchemeError naming the key when it is not one."""
    try:
        return read_expression(text, table)
    except ValueError as error:
        refuse(where, str(error), "one expression", 'Write it as "T^2".')
