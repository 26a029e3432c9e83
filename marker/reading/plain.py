"""What a scheme file says, read by the same engine in its plainest sense: expressions, relationships and quantities."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from marker.expression import Expr, Number, Unit
from marker.physics import units
from marker.reading.clean import clean
from marker.reading.model import Reading, SymbolTable
from marker.reading.numbers import NumberStyle, scan_numbers
from marker.reading.segment import Segment
from marker.reading.statements import Failure, readings
from marker.reading.symbols import compiled

_NO_SYMBOLS = SymbolTable()
_RELATIONS = re.compile(r"[=≈<>≤≥∝]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A datum as typed. `unit` is None for a pure number; `uncertainty` is in the same unit; si is in SI base units."""

    number: Number
    unit: Unit | None = None
    uncertainty: Number | None = None
    text: str = ""

    @property
    def si(self) -> float:
        """The value in SI: kelvin for 12 °C, radians for 52°."""
        if self.unit is None:
            return self.number.value
        return (self.number.value + self.unit.offset) * self.unit.scale


def read_relation(text: str, table: SymbolTable = _NO_SYMBOLS) -> Reading:
    """The plainest reading of one relation such as "F = B*I*L*sin(θ)". Raises ValueError with the column and the mend."""
    reading = _plainest(text, table)
    if len(reading.sides) < 2 or reading.opens or reading.unfinished:
        raise ValueError(f"“{text}” is not a relation: write two sides with = between, such as V = I*R")
    return reading


def read_expression(text: str, table: SymbolTable = _NO_SYMBOLS) -> Expr:
    """The plainest reading of one expression. Raises ValueError with the column and the mend."""
    reading = _plainest(text, table)
    if len(reading.sides) != 1 or reading.opens:
        raise ValueError(f"“{text}” is a relation, and one expression is wanted: leave out the = and what stands on one side of it")
    return reading.sides[0]


@lru_cache(maxsize=4096)
def _plainest(text: str, table: SymbolTable) -> Reading:
    if not text.strip():
        raise ValueError("the text is empty: write an expression such as m*g*h")
    if len(text) > 500:
        raise ValueError(f"“{text[:40]}…” has {len(text)} characters: write at most 500")
    cleaned = clean(text)
    relations = tuple((m.start(), m.end(), m.group()) for m in _RELATIONS.finditer(cleaned.text))
    start = len(cleaned.text) - len(cleaned.text.lstrip())
    segment = Segment(start=start, end=len(cleaned.text.rstrip()), relations=relations)
    found = readings(cleaned, segment, compiled(table), NumberStyle(decimal_point=True), frozenset())
    if isinstance(found, Failure):
        column = cleaned.place(found.start, found.end)[0] + 1
        raise ValueError(f"“{text}”, column {column}: {found.why}. Write * for products and brackets round what belongs together")
    return found[0]


_BETWEEN = re.compile(r"\s*(?:±|\+/-|\+-)\s*")


@lru_cache(maxsize=4096)
def read_quantity(text: str) -> Quantity:
    """A number with its unit and perhaps its uncertainty: "64 mA", "2.40e5 Pa", "12 °C", "(46.0 ± 0.5) m", "6.5 min".

    Raises ValueError that says what was wrong and the mend.
    """
    cleaned = clean(text).text.strip()
    if not cleaned:
        raise ValueError("the quantity is empty: write a number and a unit, such as 64 mA")
    if len(cleaned) > 200:
        raise ValueError(f"“{text[:40]}…” is too long for a quantity: write a number and a unit, such as 64 mA")
    bracketed = re.match(r"^\((.*)\)(.*)$", cleaned)
    inside, after = (bracketed.group(1), bracketed.group(2)) if bracketed else (cleaned, "")
    parts = _BETWEEN.split(inside)
    if len(parts) > 2:
        raise ValueError(f"“{text}” has more than one ±: write value ± uncertainty and the unit")
    number, unit = _number_and_unit(parts[0], text)
    uncertainty = None
    if len(parts) == 2:
        uncertainty, other = _number_and_unit(parts[1], text)
        uncertainty, unit = _in_one_unit(number, unit, uncertainty, other, text)
    if after.strip():
        if unit is not None:
            raise ValueError(f"“{text}” has two units: write one, after the bracket")
        unit = _unit(after.strip(), text)
    return Quantity(number=number, unit=unit, uncertainty=uncertainty, text=text)


def _in_one_unit(number: Number, unit: Unit | None, uncertainty: Number, other: Unit | None, text: str) -> tuple[Number, Unit | None]:
    if other is None or other == unit:
        return uncertainty, unit
    if other.name == "%" and (unit is None or unit.name != "%"):
        value = abs(number.value) * uncertainty.value / 100
        return Number(text=f"{value:g}", value=value), unit
    if unit is None:
        return uncertainty, other
    if other.dimensions == unit.dimensions:
        value = uncertainty.value * other.scale / unit.scale
        return Number(text=f"{value:g}", value=value, half=uncertainty.half * other.scale / unit.scale, figures=uncertainty.figures), unit
    raise ValueError(f"“{text}”: the uncertainty is in {other.name} and the value in {unit.name}; write both in one unit")


def _number_and_unit(text: str, whole: str) -> tuple[Number, Unit | None]:
    text = text.strip()
    sign = -1 if text.startswith("-") else 1
    at = 1 if text[:1] in ("-", "+") else 0
    while text[at : at + 1] == " ":
        at += 1
    scans = (
        [s for s in scan_numbers(text, at, NumberStyle(decimal_point=True)) if not s.power]
        if at < len(text) and text[at] in "0123456789.½¼¾"
        else []
    )
    for scan in sorted(scans, key=lambda s: (s.cost, -s.end)):
        rest = text[scan.end :].strip()
        try:
            unit = _unit(rest, whole) if rest else None
        except ValueError:
            continue
        number = scan.number
        if sign < 0:
            number = Number(text="-" + number.text, value=-number.value, half=number.half, figures=number.figures)
        return number, unit
    if scans:
        _unit(text[min(scans, key=lambda s: s.cost).end :].strip(), whole)
    raise ValueError(f"“{whole}” does not begin with a number: write a number and a unit, such as 64 mA")


def _unit(text: str, whole: str) -> Unit:
    found = units.parse_unit(text)
    if not found:
        raise ValueError(f"“{whole}”: “{text}” is not a unit. Write it in SI symbols, such as m/s, N m or kg/m^3")
    return found[0][0]
