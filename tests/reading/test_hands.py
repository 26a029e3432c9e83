"""Lines as they are typed in many hands, each with the plain notation a teacher would put for it; several statements are parted by " ; ".

Invented numbers and settings; common practice, no source, unless a row says otherwise.
"""

import pytest

from marker.physics.evaluate import evaluate
from marker.reading import read_lines
from tests.reading.tables import TABLES, all_readings, read, shown

# typed, meant, and the table it is read with
FIRST: tuple[tuple[str, ...], ...] = (
    # a point that multiplies, and one that does not
    ("F = m.a", "F = m*a"),
    ("E=m.c^2", "E = m*c^2"),
    ("s = u.t + 0.5.a.t^2", "s = u*t + 0.5*a*t^2"),
    ("W = q.V = 4.8e-19", "W = q*V = 4.8e-19"),
    ("v = s/t.s = vt", "v = s/t ; s = v*t"),
    ("T = 15 N.a = 3", "T = 15 N ; a = 3"),
    ("v = 42. km/h", "v = 42 km/h"),
    ("6 in. = 15.2 cm", "6 in = 15.2 cm"),
    ("k.e. = 0.5 J", "KE = 0.5 J"),
    ("p.e. = mgh", "PE = m*g*h"),
    # units in the spellings of every day
    ("R = 2.2 MΩ", "R = 2.2 megohms"),
    ("L = 12 cms", "L = 12 cm"),
    ("d = 40 kms", "d = 40 km"),
    ("λ = 0.0012 years-1", "λ = 0.0012 y^-1"),
    ("λ = 0.035 min-1", "λ = 0.035 min^-1"),
    ("v = 7.5 m s⁻1", "v = 7.5 m/s"),
    ("q = 3.2x10⁻19 C", "q = 3.2e-19 C"),
    ("a = 4 units m/s^2", "a = 4 m/s^2"),
    ("50 miles/hour = 22 m/s", "50 mi/h = 22 m/s"),
    ("W = 6 N m = 6 J", "W = 6 N m = 6 J"),
    ("v (m/s) = 14", "v = 14 m/s"),
    ("R(ohms) = 9.0/1.5 = 6.0", "R = 9.0/1.5 = 6.0 Ω"),
    ("t = 2 hours and 20 minutes", "t = 2 h + 20 min"),
    ("t = 4m 12s", "t = 4 min + 12 s"),
    # one unit at the end of a quotient
    ("Q = 18/6 C", "Q = 18/(6 C)"),
    # letters
    ("v1' = 2.6", "v_1' = 2.6"),
    ("P = σAT4", "P = σ*A*T^4"),
    ("Q = mcdT", "Q = m*c*ΔT"),
    ("F prop to a", "F ∝ a"),
    ("U(valley) = 0", "U_valley = 0"),
    ("E = 0.35d = 0.35(1.2 m)", "E = 0.35*d = 0.35*(1.2 m)"),
    ("T = 2πm/(qB) = 2π(3.3e-27)/((1.6e-19 C)(0.02 T))", "T = (2*π*m)/(q*B) = (2*π*(3.3e-27))/((1.6e-19 C)*(0.02 T))"),
    # powers and roots
    ("r = root3(P/k)", "r = ∛(P/k)"),
    ("A = A0 x (1/2)t/T", "A = A_0*(1/2)^(t/T)"),
    ("A = 90 x 0.5^12/5", "A = 90*0.5^(12/5)"),
    ("I = 1e-12 x 10^76/10", "I = 1e-12*10^(76/10)"),
    ("θ = tan^-1 (5.2)/14 = 20°", "θ = atan(5.2/14) = 20°"),
    ("θ = tan-1(3)/(4)", "θ = atan(3/4)"),
    # lists of data and statements on one line
    ("u=3.1 m/s a=0.6 m/s2 s=2.2 m", "u = 3.1 m/s ; a = 0.6 m/s^2 ; s = 2.2 m"),
    ("u: 3.1, v: 7.2", "u = 3.1 ; v = 7.2"),
    ("v = u + at v = 2 + 3 x 4 v = 14", "v = u + a*t ; v = 2 + 3*4 ; v = 14"),
    # words
    ("let W be 350 N", "W = 350 N"),
    ("speed: 14 m/s", "v = 14 m/s", "names"),
    ("kinetic energy = 1/2 mass x speed squared", "E_k = (1/2)*m*v^2", "names"),
    ("F is mass times acceleration which is 3 x 6 = 18 N", "F = m*a = 3*6 = 18 N", "names"),
    ("Q = (0.4 kg of oil)(1900)(30)", "Q = (0.4 kg)*1900*30"),
    ("v = 4 m/s (4 m/s upwards)", "v = 4 m/s ; 4 m/s"),
    ("τ = 1.2 and 5 percent of that is 0.06", "τ = 1.2 ; 5 % * 1.2 = 0.06"),
)
# typed, and a meaning that must be among the readings
AMONG = (
    ("A = 45 x (1/2)18.0/6.5", "A = 45 × (1/2)^(18.0/6.5)"),
    ("v = 18/4 m/s", "v = 18/(4 m s⁻¹)"),
    ("m1v1' = 3", "m₁v₁' = 3"),
)
UNREAD = ("R is 4 – 6 Ω", "E = (energy at 20 m)/(time)")


def _read(typed: str, table: str) -> list[str]:
    return [shown(s.readings[0]).replace("½", "(1/2)") for s in read_lines([typed], TABLES[table])[0].statements]


@pytest.mark.parametrize(("typed", "value"), [("a = 18/4 m/s²", 4.5), ("θ = π/6 rad", 0.5236), ("R = 2.2 MΩ", 2.2e6)])
def test_the_unit_is_of_the_whole(typed: str, value: float) -> None:
    found = evaluate(read(typed).statements[0].readings[0].sides[1])
    assert found.si == pytest.approx(value, rel=1e-4)
    assert found.dimensions is not None and sum(map(abs, found.dimensions)) > 0


@pytest.mark.parametrize("row", FIRST, ids=lambda row: row[0])
def test_the_first_reading_is_the_plain_notation(row: tuple[str, ...]) -> None:
    typed, meant, *table = row
    name = table[0] if table else ""
    wanted = [one for part in meant.split(" ; ") for one in _read(part, name)]
    assert _read(typed, name) == wanted != []
    assert not read(typed, name).unread


@pytest.mark.parametrize(("typed", "meant"), AMONG)
def test_the_other_meaning_is_listed(typed: str, meant: str) -> None:
    assert meant in [r.replace("½", "(1/2)") for r in all_readings(typed)]


@pytest.mark.parametrize("typed", UNREAD)
def test_what_cannot_be_read_says_so(typed: str) -> None:
    assert read(typed).unread
