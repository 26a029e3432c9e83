"""Spaces round a relation carry no meaning: each line reads the same with none, one and three, and is cut in the same places.

Rows: what is typed with one space, the first reading of each statement, the part's symbols. Common practice of school physics, no source.
"""

import pytest

from marker.reading import read_lines
from tests.reading.tables import TABLES, all_readings, first_readings, read, shown

ROWS: tuple[tuple[str, ...], ...] = (
    # one chain: the numbers are put in one for each letter
    ("F = m x a = 760 x 3.2 = 2432 N", "F = ma = 760 × 3.2 = 2432 N", "motion"),
    ("P = I V = 3.4 x 230", "P = IV = 3.4 × 230", "circuit"),
    ("W = m g h = 45 · 9.81 · 2.6", "W = mgh = 45 × 9.81 × 2.6"),
    ("a = w^2 r = 2.1^2 x 0.35 = 1.5", "a = w²r = 2.1² × 0.35 = 1.5"),
    ("E = ½ Q V = 0.5 x 0.31 x 240", "E = ½QV = 0.5 × 0.31 × 240"),
    ("s = u t = 12 × 0.4", "s = ut = 12 × 0.4", "motion"),
    ("x = ucosθ t = 15cos40x1.8 = 20.7", "x = u cos θ t = 15 cos 40 × 1.8 = 20.7", "motion"),
    ("p = rho g h = 1000 x 9.81 x 3", "p = ρgh = 1000 × 9.81 × 3"),
    ("V = I R = 12", "V = IR = 12", "circuit"),
    ("K = T - L = 450", "K = T − L = 450"),
    ("I1 R1 = I2 R2 = 6", "I₁R₁ = I₂R₂ = 6"),
    ("Q = 71 400 000 + 20 100 000 = 91 500 000 J", "Q = 71 400 000 + 20 100 000 = 91 500 000 J"),
    ("k = 12.4 x 3.0 = 37.2", "k = 12.4 × 3.0 = 37.2"),
    ("t = 2.5 h = 2.5 × 3600 s = 9000 s", "t = 2.5 h = 2.5 × 3600 s = 9000 s"),
    ("P = 14.2 V − 2.0 A × 0.6 Ω = 13.0 V", "P = 14.2 V − 2.0 A × 0.6 Ω = 13.0 V"),
    # a list, or a second statement
    ("u = 3.1 a = 0.65 s = 4.4 v = ?", "u = 3.1 ; a = 0.65 ; s = 4.4 ; v …"),
    ("E = 2.9 h = 6.63x10^-34 c = 3x10^8", "E = 2.9 ; h = 6.63 × 10⁻³⁴ ; c = 3 × 10⁸"),
    ("v = 3.1×10⁷ B = 4.4×10⁻³", "v = 3.1 × 10⁷ ; B = 4.4 × 10⁻³"),
    ("s = ut v = 3", "s = ut ; v = 3", "motion"),
    ("E = 1/2CV2 8.1 = 1/2 x 325 x V2", "E = (1/2)CV² ; 8.1 = (1/2) × 325 × V²"),
    ("sinC = 1/n C = 41", "sin C = 1/n ; C = 41"),
    ("v = u + at a = 2.4", "v = u + at ; a = 2.4", "motion"),
    # words
    ("mass = 3.2", "m = 3.2", "names"),
    ("force on the wire = current x 2", "F = I × 2", "names"),
    ("useful work = mass times 9.81 times height = 380 times 7.2", "useful work = m × 9.81 × height = 380 × 7.2", "names"),
    ("in = 5.2 x 200 = 1040", "in = 5.2 × 200 = 1040"),
    ("so wavelength = 50 cm over 1.5 = 0.33 metres", "wavelength = 50 cm/1.5 = 0.33 m"),
    ("push down the slope = 105", "push down the slope = 105", "slope"),
    ("x = Acoswt", "x = A cos(wt)"),
)


@pytest.mark.parametrize("gap", ["", " ", "   "], ids=["none", "one", "three"])
@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0])
def test_spaces_round_a_relation_carry_no_meaning(row: tuple[str, ...], gap: str) -> None:
    typed, expected, *table = row
    assert first_readings(typed.replace(" = ", f"{gap}={gap}"), *table) == expected


@pytest.mark.parametrize("typed", ["F   =   ma = 6.0 N", "v_{t=0} =3 and F=ma", "so p=mv=12", "~~F=3~~  V =  6 V"])
def test_places_are_those_of_the_typed_line(typed: str) -> None:
    for statement in read(typed).statements:
        assert statement.text == typed[slice(*statement.at)]
        assert statement.text.strip() == statement.text != ""


# a response without superscripts, and a reading its last line must have within the ones listed: common practice, no source
LOST: tuple[tuple[str, str], ...] = (
    ("v2 = u2 + 2as\n0.702 = 4.12 + 2 x a x 38", "0.70² = 4.1² + 2a × 38"),
    ("P = I2R = 172 x 0.35", "P = I²R = 17² × 0.35"),
    ("W = ½ m v2 = ½ · 130 · 2,42", "W = ½mv² = ½ × 130 × 2.4²"),
    ("0.5 x 0.00047 x 2452 = 14.1", "0.5 × 0.00047 × 245² = 14.1"),
    ("E = 0.5*71*3.62+0.5*64*1.52", "E = 0.5 × 71 × 3.6² + 0.5 × 64 × 1.5²"),
    ("k = (T2/T1)4", "k = (T₂/T₁)⁴"),
    ("n = 3.1 times 10-19 times 4.0 times 108", "n = (3.1 × 10⁻¹⁹) × (4.0 × 10⁸)"),
    ("F = mass x speed2 / radius", "F = mv²/radius"),
)


@pytest.mark.parametrize(("typed", "expected"), LOST, ids=lambda x: x[:30])
def test_lost_superscripts_are_among_the_readings(typed: str, expected: str) -> None:
    last = read_lines(typed.split("\n"), TABLES["names" if "mass" in typed else ""])[-1]
    assert expected in [shown(r) for r in last.statements[0].readings]


def test_the_other_hands_of_the_class_tests_that_this_mended() -> None:
    assert first_readings("a = -0.31 m/s² I think", "circuit") == "a = −0.31 m s⁻²"
    assert first_readings("F = m·v^2 : r = 61·7,5^2 : 4,2 = 816,9 N") == "F = mv²/r = 61 × 7.5²/4.2 = 816.9 N"
    assert all_readings("= (2π/4.1)^2·35")[0] == "= (2π/4.1)² × 35"
    assert not any("2.35" in r for r in all_readings("= (2π/4.1)^2·35"))
