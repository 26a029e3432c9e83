"""What a scheme file says: expressions, relationships and quantities in their plainest sense, and refusals that can be acted on."""

import math

import pytest

from marker.expression import NO_DIMENSIONS
from marker.reading import read_expression, read_quantity, read_relation, write_plain
from tests.reading.tables import TABLES

EXPRESSIONS = (
    ("m*g*h", "mgh"),
    ("B*I*L*sin(θ)", "BIL sin θ"),
    ("B*I*L*sin(theta)", "BIL sin θ"),
    ("(1/2)*m*v^2", "(1/2)mv²"),
    ("1/2*m*v^2", "(1/2)mv²"),
    ("sqrt(2*g*h)", "√(2gh)"),
    ("2*pi*sqrt(l/g)", "2π√(l/g)"),
    ("k*q_1*q_2/r^2", "kq₁q₂/r²"),
    ("N_0*e^(-λ*t)", "N₀ exp(−λt)"),
    ("exp(-t/(R*C))", "exp(−t/(RC))"),
    ("4*π*r^2", "4πr²"),
    ("m*v^2/r", "mv²/r"),
    ("asin(n_1*sin(θ_1)/n_2)", "sin⁻¹(n₁ sin θ₁/n₂)"),
    ("-k*x", "−kx"),
    ("u + a*t", "u + at"),
    ("ρ*g*Δh", "ρgΔh"),
    ("x^(1/2)", "x^(1/2)"),
    ("log10(P/P_0)", "log₁₀(P/P₀)"),
)


@pytest.mark.parametrize(("text", "written"), EXPRESSIONS, ids=[e[0] for e in EXPRESSIONS])
def test_expressions(text: str, written: str) -> None:
    assert write_plain(read_expression(text)) == written


def test_known_symbols_come_back_as_the_parts_own() -> None:
    reading = read_relation("KE = ½ m v²", TABLES["energy"])
    assert write_plain(reading.sides[0]) == "Eₖ"


RELATIONS = (
    ("F = B*I*L*sin(θ)", ["F", "BIL sin θ"]),
    ("p_1/T_1 = p_2/T_2", ["p₁/T₁", "p₂/T₂"]),
    ("V = I*R", ["V", "IR"]),
    ("n = sin(i)/sin(r)", ["n", "sin i/sin r"]),
)


@pytest.mark.parametrize(("text", "sides"), RELATIONS, ids=[r[0] for r in RELATIONS])
def test_relations(text: str, sides: list[str]) -> None:
    reading = read_relation(text)
    assert [write_plain(s) for s in reading.sides] == sides
    assert reading.relations == ("=",)


REFUSED = (
    ("", "the text is empty"),
    ("m*g*", "nothing follows the “\\*”"),
    ("a*/b", "column 1"),
    ("V = I*R", "leave out the ="),
    ("m @ g", "the character “@” has no meaning here"),
)


@pytest.mark.parametrize(("text", "message"), REFUSED, ids=[r[0] or "empty" for r in REFUSED])
def test_refused_expressions_say_why(text: str, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        read_expression(text)


@pytest.mark.parametrize("text", ["m*g*h", "F =", "= 3"])
def test_refused_relations(text: str) -> None:
    with pytest.raises(ValueError, match="is not a relation"):
        read_relation(text)


# text, number, unit as written, value in SI base units
QUANTITIES = (
    ("64 mA", 64, "mA", 0.064),
    ("2.40e5 Pa", 2.4e5, "Pa", 2.4e5),
    ("12 °C", 12, "°C", 285.15),
    ("6.5 min", 6.5, "min", 390),
    ("1.85 × 10^4 J", 1.85e4, "J", 1.85e4),
    ("52°", 52, "°", math.radians(52)),
    ("52 deg", 52, "°", math.radians(52)),
    ("3.2", 3.2, None, 3.2),
    ("-1.6e-19 C", -1.6e-19, "C", -1.6e-19),
    ("24 cm", 24, "cm", 0.24),
    ("9.81 N/kg", 9.81, "N kg⁻¹", 9.81),
    ("4180 J/(kg °C)", 4180, "J kg⁻¹ °C⁻¹", 4180),
    ("1.8 kW", 1.8, "kW", 1800),
    ("½", 0.5, None, 0.5),
    ("72 km/h", 72, "km h⁻¹", 20),
    ("15 %", 15, "%", 0.15),
    ("20 000 V", 20000, "V", 20000),
    ("0.5", 0.5, None, 0.5),
    ("10 m", 10, "m", 10),
    ("3 A", 3, "A", 3),
)


@pytest.mark.parametrize(("text", "number", "unit", "si"), QUANTITIES, ids=[q[0] for q in QUANTITIES])
def test_quantities(text: str, number: float, unit: str | None, si: float) -> None:
    found = read_quantity(text)
    assert found.number.value == pytest.approx(number)
    assert (found.unit.name if found.unit else None) == unit
    assert found.si == pytest.approx(si)
    assert found.text == text


@pytest.mark.parametrize(
    ("text", "number", "uncertainty", "unit"),
    [
        ("46.0 ± 0.5 m", 46.0, 0.5, "m"),
        ("(46.0 ± 0.5) m", 46.0, 0.5, "m"),
        ("5.0 Ω ± 4 %", 5.0, 0.2, "Ω"),
        ("10.4 s ± 0.3 s", 10.4, 0.3, "s"),
        ("20 cm ± 2 mm", 20, 0.2, "cm"),
        ("7 ± 1", 7, 1, None),
    ],
)
def test_quantities_with_uncertainty(text: str, number: float, uncertainty: float, unit: str | None) -> None:
    found = read_quantity(text)
    assert found.uncertainty is not None
    assert (found.number.value, found.uncertainty.value) == pytest.approx((number, uncertainty))
    assert (found.unit.name if found.unit else None) == unit


def test_figures_and_half_a_unit_of_the_last_place_are_kept() -> None:
    # significant figures counted as AS 2706 does: conventions file 3.3
    rows = {"300": (1, 3, 0.5), "5.0": (2, 2, 0.05), "0.0250": (3, 3, 5e-5), "2.40e5": (3, 3, 500), "1200": (2, 4, 0.5), "64": (2, 2, 0.5)}
    for text, (least, most, half) in rows.items():
        number = read_quantity(text).number
        assert number.figures == (least, most), text
        assert number.half == pytest.approx(half), text


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "is empty"),
        ("fast", "does not begin with a number"),
        ("3 furlongs", "“furlongs” is not a unit"),
        ("3 ± 2 ± 1 m", "more than one ±"),
        ("(3 ± 1 m) m", "two units"),
        ("3 m ± 1 s", "write both in one unit"),
    ],
)
def test_refused_quantities_say_what_and_the_mend(text: str, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        read_quantity(text)


def test_a_pure_number_has_no_dimensions() -> None:
    assert read_quantity("3.2").unit is None
    unit = read_quantity("15 %").unit
    assert unit is not None and unit.dimensions == NO_DIMENSIONS
