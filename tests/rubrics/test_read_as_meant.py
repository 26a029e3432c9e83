"""The package's own reader takes every equation, unit and constant of the data files as meant.

Judges: the plain notation evaluated by the standard library's syntax tree, and pint.
"""

import random
from typing import Any

import pytest

from marker.physics.evaluate import compiled
from marker.physics.units import parse_unit
from marker.reading.model import SymbolEntry, SymbolTable
from marker.reading.plain import read_quantity, read_relation

from .dimensions import registry, unit
from .files import REAL, constants, quantities, relationships, unit_of
from .plain import evaluate, letters, sides

EVERY = [pytest.param(r, id=name) for name, r in relationships().items()]
CONSTANTS = [pytest.param(c, id=symbol) for symbol, c in constants().items()]
UNITS = sorted(
    {unit_of(r, s) for r in relationships().values() for s in letters(r["equation"])}
    | {q["unit"] for q in quantities().values()}
    | {c["unit"] for c in constants().values()}
)
BASE = ("[length]", "[mass]", "[time]", "[current]", "[temperature]", "[substance]", "[luminosity]")


@pytest.mark.parametrize("r", EVERY)
def test_equation(r: dict[str, Any]) -> None:
    """Both sides have the values plain notation gives them, at drawn numbers."""
    names = sorted(letters(r["equation"]))
    read = read_relation(r["equation"], SymbolTable(tuple(SymbolEntry(name=n) for n in names)))
    draw = random.Random(r["name"])
    compared = 0
    for _ in range(20):
        values = {n: draw.uniform(0.2, 0.9) for n in names}
        try:
            expected = [evaluate(side, values, REAL) for side in sides(r["equation"])]
        except ValueError:  # a root or logarithm of a negative number
            continue
        assert [compiled(side)(values) for side in read.sides] == pytest.approx(expected, rel=1e-9)
        compared += 1
    assert compared >= 3


@pytest.mark.parametrize("text", [u for u in UNITS if u != "1" and "[" not in u])
def test_unit(text: str) -> None:
    """One reading, of pint's dimension and, angles and decibels apart, pint's size."""
    ((found, _),) = parse_unit(text)
    dimensions = dict(unit(text).dimensionality)
    assert list(found.dimensions[:7]) == [float(dimensions.get(b, 0)) for b in BASE]
    assert found.scale == pytest.approx(registry().Quantity(1, unit(text)).to_base_units().magnitude, rel=1e-6)


@pytest.mark.parametrize("c", CONSTANTS)
def test_constant(c: dict[str, Any]) -> None:
    for text in (c["value"], *c["accepted"]):
        expected = registry().Quantity(float(text), unit(c["unit"])).to_base_units().magnitude
        assert read_quantity(f"{text} {c['unit']}").si == pytest.approx(expected, rel=1e-6)
