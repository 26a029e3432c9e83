"""The tables of quantities and constants, held to pint, to scipy's CODATA values and to themselves."""

import re
from typing import Any

import pytest
import scipy.constants

from .dimensions import registry, unit
from .files import constants, quantities, relationships

# One letter (with Δ before it, or a few as in KE) and perhaps an index: never an expression such as m/l, which would be read as one letter.
LETTER = re.compile(r"Δ?[^\W\d_]{1,3}(_[\w½]+)?")
QUANTITIES = [pytest.param(q, id=name) for name, q in quantities().items()]
CONSTANTS = [pytest.param(c, id=symbol) for symbol, c in constants().items()]
CODATA = [pytest.param(c, id=symbol) for symbol, c in constants().items() if "codata" in c]


@pytest.mark.parametrize("q", QUANTITIES)
def test_quantity_is_built_as_documented(q: dict[str, Any]) -> None:
    assert set(q) <= {"name", "symbols", "words", "unit", "angle", "may_be_negative"}
    assert q["symbols"] and len(set(q["symbols"])) == len(q["symbols"])
    assert all(LETTER.fullmatch(s) for s in q["symbols"])
    assert all(w == w.strip() and len(w) > 1 for w in q["words"])


@pytest.mark.parametrize("q", QUANTITIES)
def test_unit_of_a_quantity_is_a_unit(q: dict[str, Any]) -> None:
    """Judge: pint. An angle has the dimension of a number."""
    dimensions = unit(q["unit"]).dimensionality
    assert not q.get("angle") or dict(dimensions) == {}


# The usual symbol, from the recommendations for school science (IUPAP-25 "red book" symbols, from memory), and the SI unit.
USUAL = (
    ("mass", "m", "kg"), ("force", "F", "N"), ("potential difference", "V", "V"), ("current", "I", "A"), ("resistance", "R", "Ω"),
    ("charge", "Q", "C"), ("capacitance", "C", "F"), ("magnetic flux density", "B", "T"), ("magnetic flux", "Φ", "Wb"),
    ("inductance", "L", "H"), ("wavelength", "λ", "m"), ("frequency", "f", "Hz"), ("pressure", "p", "Pa"), ("density", "ρ", "kg/m^3"),
    ("activity", "A", "Bq"), ("amount of substance", "n", "mol"), ("temperature", "T", "K"), ("absorbed dose", "D", "Gy"),
    ("resistivity", "ρ", "Ω m"),
)  # fmt: skip


@pytest.mark.parametrize(("name", "symbol", "si"), USUAL)
def test_usual_symbol_comes_first(name: str, symbol: str, si: str) -> None:
    assert quantities()[name]["symbols"][0] == symbol
    assert quantities()[name]["unit"] == si


def test_every_quantity_is_used() -> None:
    used = {q for r in relationships().values() for q in r["quantities"].values()} | {c.get("quantity") for c in constants().values()}
    assert sorted(set(quantities()) - used) == []


@pytest.mark.parametrize("c", CONSTANTS)
def test_constant_is_built_as_documented(c: dict[str, Any]) -> None:
    assert set(c) <= {"symbol", "aliases", "names", "quantity", "unit", "value", "accepted", "kind", "codata", "source"}
    assert c["kind"] in {"constant", "conversion", "school value"}
    assert c["names"] and c["source"]
    assert "quantity" not in c or unit(c["unit"]).dimensionality == unit(quantities()[c["quantity"]]["unit"]).dimensionality
    assert c["kind"] != "constant" or "codata" in c or c["symbol"] in {"k_e", "T_0"}


@pytest.mark.parametrize("c", CODATA)
def test_value_is_the_codata_value(c: dict[str, Any]) -> None:
    """Judge: scipy.constants (CODATA 2022); the value must lie within its standard uncertainty, or agree to ten figures."""
    value, unit_text, uncertainty = scipy.constants.physical_constants[c["codata"]]
    assert abs(float(c["value"]) - value) <= max(uncertainty, 1e-9 * abs(value))
    theirs = unit_text.replace("^", "**").replace(" ", "*") or "dimensionless"
    assert registry().Quantity(1, theirs).is_compatible_with(unit(c["unit"]))


def test_values_that_follow_from_others() -> None:
    """Judge: scipy.constants, arithmetic done here."""
    k = scipy.constants
    assert float(constants()["k_e"]["value"]) == pytest.approx(1 / (4 * k.pi * k.epsilon_0), rel=1e-9)
    assert float(constants()["T_0"]["value"]) == k.zero_Celsius
    assert float(constants()["ly"]["value"]) == pytest.approx(k.light_year, rel=1e-12)
    assert float(constants()["AU"]["value"]) == pytest.approx(k.au, rel=1e-12)
    assert float(constants()["pc"]["value"]) == pytest.approx(k.parsec, rel=1e-12)
    assert float(constants()["d_10"]["value"]) == pytest.approx(10 * k.parsec, rel=1e-12)
    assert float(constants()["kWh"]["value"]) == k.kilo * k.hour
    assert float(constants()["Ci"]["value"]) == pytest.approx(registry().Quantity(1, "curie").to("1/second").magnitude, rel=1e-12)
    # IAU 2015 resolution B3: nominal GM of the Sun and of the Earth, in m^3/s^2
    assert float(constants()["M_S"]["value"]) == pytest.approx(1.3271244e20 / k.G, rel=2e-4)
    assert float(constants()["M_E"]["value"]) == pytest.approx(3.986004e14 / k.G, rel=1e-4)


@pytest.mark.parametrize("c", CONSTANTS)
def test_accepted_values_round_the_value(c: dict[str, Any]) -> None:
    """A school value of a true constant is its value to the figures written, or within 1 % of it when it has three figures or more."""
    value = float(c["value"])
    for text in c["accepted"]:
        half = _half_a_place(text)
        if c["kind"] == "school value":
            assert float(text) == pytest.approx(value, rel=0.1)
        else:
            assert abs(float(text) - value) <= half * 1.02 or float(text) == pytest.approx(value, rel=0.01), text


# Values that textbooks and data sheets print; from memory where no book is named.
SCHOOL = (
    ("g", "9.8"), ("g", "9.81"), ("g", "10"), ("c", "3.00e8"), ("c", "3.0e8"), ("c", "2.998e8"), ("e", "1.6e-19"), ("e", "1.60e-19"),
    ("e", "1.602e-19"), ("h", "6.63e-34"), ("h", "6.626e-34"), ("R", "8.31"), ("R", "8.314"), ("G", "6.67e-11"), ("m_e", "9.11e-31"),
    ("m_p", "1.673e-27"), ("k", "1.38e-23"), ("N_A", "6.02e23"), ("T_0", "273"), ("T_0", "273.15"), ("ε_0", "8.85e-12"), ("σ", "5.67e-8"),
    ("u", "1.66e-27"), ("v_s", "340"), ("eV", "1.60e-19"), ("k_e", "8.99e9"), ("R_inf", "1.097e7"),
)  # fmt: skip


@pytest.mark.parametrize(("symbol", "text"), SCHOOL)
def test_usual_school_values_are_accepted(symbol: str, text: str) -> None:
    assert text in constants()[symbol]["accepted"]


def test_a_school_value_is_flagged() -> None:
    """What varies with place or material is not called a constant."""
    flagged = {c["symbol"] for c in constants().values() if c["kind"] == "school value"}
    assert {"v_s", "ρ_air", "c_w", "H_0"} <= flagged
    assert flagged.isdisjoint({"c", "h", "e", "G", "k", "N_A"})


def _half_a_place(text: str) -> float:
    """Half a unit in the last place written: 0.005 for "6.67", 0.5 for "10"."""
    digits, _, power = text.partition("e")
    decimals = len(digits.partition(".")[2])
    return float(0.5 * 10.0 ** (int(power or 0) - decimals))
