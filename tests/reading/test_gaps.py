"""Notation between two lines of the books: units run together, letters with words, signs left out, labels inside a line.

FIRST rows: what is typed, the first reading of each statement, the part's symbols. AMONG rows: a reading that must be among those of the
first statement. Common practice of school physics, no source, where a row names none.
"""

import pytest

from marker.physics.units import parse_unit
from marker.reading import read_lines
from marker.reading.model import SymbolTable
from marker.reading.ranges import WHY
from tests.reading.tables import TABLES, all_readings, entry, shown

OWN = TABLES | {
    "gas": SymbolTable((entry("p", unit="Pa"), entry("V", unit="m^3"), entry("T", unit="K"))),
    "charge and temperature": SymbolTable((entry("Q", unit="C"), entry("T", unit="K"))),
    "resistors": SymbolTable((entry("V_1", unit="V"), entry("V_2", unit="V"), entry("V", unit="V"))),
    "decay half": SymbolTable((entry("N"), entry("N_0"), entry("λ"), entry("t", unit="s"), entry("T", "T½", "t½", names=("T_1/2",)))),
    "decay": SymbolTable((entry("N"), entry("t", unit="s"), entry("T_half", unit="s"), entry("λ", unit="s^-1"))),
}

# SI Brochure, 9th edition, 5.4.6: W/(m K), J/(kg K), W/(m² K⁴) written with brackets; a denominator takes what runs on
UNITS = (
    ("W/m²K", "W m⁻² K⁻¹"),
    ("W/m^2K^4", "W m⁻² K⁻⁴"),
    ("W/m2K4", "W m⁻² K⁻⁴"),
    ("W/mK", "W m⁻¹ K⁻¹"),
    ("J/kgK", "J kg⁻¹ K⁻¹"),
    ("kJ/kg°C", "kJ kg⁻¹ °C⁻¹"),
    ("J/kgC", "J kg⁻¹ °C⁻¹"),
    ("J kg-1K-1", "J kg⁻¹ K⁻¹"),
    ("W m-2K-1", "W m⁻² K⁻¹"),
    ("m^3kg^-1s^-2", "m³ kg⁻¹ s⁻²"),
    ("m²K/W", "m² K W⁻¹"),
    ("mK", "mK"),
)

FIRST: tuple[tuple[str, ...], ...] = (
    # whose the quantity is
    ("V across R2 = 7.2 V", "V = 7.2 V", "circuit"),
    ("I through the heater is 2.6 A", "I = 2.6 A", "circuit"),
    ("so I in the motor = 1.9 A", "I = 1.9 A", "circuit"),
    ("v at the top is sqrt(2gh)", "v = √(2gh)", "motion"),
    ("V across R1 = 2.4 V", "V₁ = 2.4 V", "resistors"),
    ("V across R1 + V across R2 = 9.6", "V across R1 + V across R2 = 9.6", "circuit"),
    ("current in coil = 0.7A", "I = 0.7 A", "names"),
    ("F = kx at x = 0.2", "F = kx ; x = 0.2", "spring"),
    # a letter that cancels begins no statement; a line that ends in a sign of equality
    ("T = 2 pi R v over G m v = 2 pi R over G m", "T = 2πRv/(Gmv) = 2πR/(Gm)"),
    ("y = 5pq/7r q = 5p/7r", "y = 5pq/(7rq) = 5p/(7r)"),
    ("N = N_0e^{-\\lambda t} =", "N = N₀ exp(−λt) …", "decay half"),
    ("$N = N_0e^{-\\lambda t} = $", "N = N₀ exp(−λt) …", "decay half"),
    # a value in standard form that lost its superscript
    ("c = 3x108", "c = 3 × 10⁸"),
    ("v = 2 x 107 m/s", "v = 2 × 10⁷ m s⁻¹", "motion"),
    ("k = 9 x 10 9", "k = 9 × 10⁹"),
    ("E = 7 x 10 -19", "E = 7 × 10⁻¹⁹"),
    ("A = 3x104 = 312", "A = 3 × 104 = 312"),
    ("s = 3x105 + 2", "s = 3 × 105 + 2", "motion"),
    # degrees Celsius without the ring
    ("T = 34 C", "T = 34 °C", "gas"),
    ("temperature = 18C", "temperature = 18 °C"),
    ("19 C is 292 K", "19 °C = 292 K", "gas"),
    ("Q = 12 C", "Q = 12 C", "charge and temperature"),
    ("q = 12 C", "q = 12 C"),
    # labels inside a line
    ("1) F = ma 2) a = F/m", "F = ma ; a = F/m"),
    ("a) v = u + at b) s = ut", "v = u + at ; s = ut", "motion"),
    ("1. P = IV 2. I = P/V = 3.1 A", "P = IV ; I = P/V = 3.1 A"),
    ("1) v = 3(4 + 2) x 5 = 90", "v = 3(4 + 2) × 5 = 90"),
    # a sign left out between a letter and its value
    ("λ 6.63x10^-34/(9.11x10^-31 x 2.4x10^6)", "λ = 6.63 × 10⁻³⁴/((9.11 × 10⁻³¹) × (2.4 × 10⁶))"),
    ("KE 310 J", "KE = 310 J"),
    ("v 4.2 m/s", "v = 4.2 m s⁻¹"),
    # remarks in brackets
    ("E = 1.6x10^7 J (about 2x10^7 J)", "E = 1.6 × 10⁷ J ; ≈ 2 × 10⁷ J"),
    ("W = mgh (roughly 350 J)", "W = mgh ; ≈ 350 J"),
    # the half-life
    ("λ = ln 2/T₁/₂", "λ = ln 2/T_½"),
    ("N = 80(1/2)^(t/T1/2)", "N = 80 × (1/2)^(t/T_½)"),
    ("λ = ln2/t½", "λ = ln 2/T_½", "decay"),
    ("v = y¹/²", "v = y^(1/2)", "motion"),
)

AMONG = (
    ("c = 3x108", "c = 3 × 108", ""),
    ("T = 34 C", "T = 34 C", "gas"),
    ("V across R2 = 7.2 V", "V across R2 = 7.2 V", "circuit"),
    ("A = 3x104 = 312", "A = 3 × 10⁴ = 312", ""),
    ("c = 390 J/kgK", "c = (390 J/k)gK", ""),
    ("s = 3.142/2.5", "s = 3.14²/2.5", ""),
)

RANGES = (
    ("F = 4-6 N", True),
    ("t = 1.5-2.0 s", True),
    ("F = 6-4 N", False),
    ("ΔT = 20-80 K", False),
    ("v = 4-9", False),
    ("F = 2-3 x 4 N", False),
)


@pytest.mark.parametrize(("typed", "si"), UNITS, ids=[row[0] for row in UNITS])
def test_units_run_together(typed: str, si: str) -> None:
    assert parse_unit(typed)[0][0].name == si


@pytest.mark.parametrize("row", FIRST, ids=lambda row: row[0])
def test_first_reading(row: tuple[str, ...]) -> None:
    typed, expected, *table = row
    line = read_lines([typed], OWN[table[0] if table else ""])[0]
    assert " ; ".join(shown(s.readings[0]) for s in line.statements) == expected
    assert not line.unread


@pytest.mark.parametrize(("typed", "meant", "table"), AMONG, ids=[row[0] for row in AMONG])
def test_the_other_meaning_is_kept(typed: str, meant: str, table: str) -> None:
    line = read_lines([typed], OWN[table])[0]
    assert meant in [shown(r) for r in line.statements[0].readings]


@pytest.mark.parametrize(("typed", "is_range"), RANGES, ids=[row[0] for row in RANGES])
def test_a_rising_hyphen_is_a_range(typed: str, is_range: bool) -> None:
    assert (WHY in [f.why for f in read_lines([typed], TABLES[""])[0].unread]) is is_range


def test_labels_inside_a_line_name_their_statements() -> None:
    line = read_lines(["a) F = 3 N b) W = 3 x 2 = 6 J"], TABLES[""])[0]
    assert [s.label for s in line.statements] == ["a", "b"]
    assert all_readings("a) F = 3 N")[0] == "F = 3 N"
