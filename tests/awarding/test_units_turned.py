"""Sizes of units in the arithmetic, sums found in the head, points that one of several relationships earns, offers in unlike units.

Physics: photon energy E = hf, constant power, kinetic energy; sizes of units from the SI Brochure (9th edition,
table 8: 1 eV = 1.602 × 10⁻¹⁹ J) and by definition (1 kWh = 3.6 × 10⁶ J). What each response earns is common practice, no source.
"""

import pytest

from marker.marking import mark_candidate
from marker.scheme.paper import build_paper

PHOTON = {
    "name": "1",
    "marks": 3,
    "stem": "A lamp gives light of frequency 7.41 × 10^14 Hz. Find the energy of a photon in electronvolts.",
    "given": {"f": "7.41e14 Hz", "h": "6.63e-34 J s"},
    "using": ["E = h*f"],
    "find": "E",
    "unit": "eV",
    "rulings": {"equivalent_units": False},
}
KILN = {
    "name": "1",
    "marks": 3,
    "stem": "A kiln of 5.6 kW runs for 4.5 h. Find the energy in kilowatt hours.",
    "given": {"P": "5600 W", "t": "16200 s"},
    "using": ["E = P*t"],
    "find": "E",
    "unit": "kWh",
    "rulings": {"equivalent_units": False},
}
BEND = {
    "name": "1",
    "marks": 3,
    "stem": "Find the force on a car of mass 870 kg in a bend of radius 42 m at 54 km/h.",
    "given": {"m": "870 kg", "v": "54 km/h", "r": "42 m"},
    "using": ["F = m*v^2/r"],
    "find": "F",
    "unit": "N",
}
CARTS = {
    "name": "1",
    "marks": 3,
    "stem": "Two carts, of 2.4 kg at 3.1 m/s and 1.7 kg at 5.2 m/s, are stopped by one spring. Find the energy it takes up.",
    "given": {"m_1": "2.4 kg", "u_1": "3.1 m/s", "m_2": "1.7 kg", "u_2": "5.2 m/s"},
    "using": ["E_1 = 1/2*m_1*u_1^2", "E_2 = 1/2*m_2*u_2^2", "E = E_1 + E_2"],
    "find": "E",
    "unit": "J",
    "points": [
        {"kind": "relationship", "of": ["E_1 = 1/2*m_1*u_1^2", "E_2 = 1/2*m_2*u_2^2"], "any": True},
        {"kind": "value", "of": "E_1"},
        {"kind": "answer"},
    ],
}

ROWS = (
    ("divided by the size of the unit", PHOTON, ("E = hf = 6.63e-34 × 7.41e14 = 4.91e-19 J = 4.91e-19/1.60e-19 = 3.07 eV",), 3),
    ("run on, without a letter", PHOTON, ("6.63e-34 × 7.41e14 = 4.91e-19/1.6e-19 = 3.07 eV",), 3),
    ("all in one", PHOTON, ("E = 6.63e-34 × 7.41e14/1.602e-19 = 3.07 eV",), 3),
    ("on a line of its own", PHOTON, ("hf = 6.63e-34 × 7.41e14 = 4.91e-19", "/1.6e-19 = 3.07 eV"), 3),
    ("on a wrong power of ten", PHOTON, ("hf = 6.63e-34 × 7.41e15 = 4.91e-18", "/1.6e-19 = 30.7 eV"), 2),
    ("multiplied instead", PHOTON, ("E = hf = 6.63e-34 × 7.41e14 = 4.91e-19 J", "E = 4.91e-19 × 1.6e-19 = 7.86e-38 eV"), 2),
    ("left in joules", PHOTON, ("E = hf = 6.63e-34 × 7.41e14 = 4.91e-19 J",), 2),
    ("with its units", KILN, ("E = 5600 × 16200 = 9.07e7 J / (3.6e6 J/kWh) = 25.2 kWh",), 3),
    ("without", KILN, ("E = Pt = 5600 × 16200 = 90720000", "90720000/3600000 = 25.2 kWh"), 3),
    ("two answers of unlike units", KILN, ("E = Pt = 5600 × 16200 = 9.072e7 J", "so 25.2 kWh or 9.1e7 kWh"), 2),
    ("the other side alone", BEND, ("mv²/r = 870 × 15² / 42 = 4660 N",), 3),
    ("the other side alone, not converted", BEND, ("mv²/r = 870 × 54² / 42 = 60403 N",), 2),
    ("the other side alone, a square lost", BEND, ("mv²/r = 870 × 15 / 42 = 311 N",), 1),
    ("a sum in the head", CARTS, ("0.5 × 2.4 × 3.1^2 = 11.5", "0.5 × 1.7 × 5.2^2 = 23.0", "total 34.5 J"), 3),
    ("one of the two only", CARTS, ("½ × 2.4 × 3.1² = 11.5 J",), 2),
    ("a wrong formula", CARTS, ("2.4 × 3.1² = 23.1 J",), 0),
)


@pytest.mark.parametrize(("name", "part", "lines", "mark"), ROWS, ids=[r[0] for r in ROWS])
def test_mark(name: str, part: dict[str, object], lines: tuple[str, ...], mark: int) -> None:
    result = mark_candidate(build_paper({"paper": {"title": "a trial"}, "part": [part]}), {"1": lines})[0]
    assert result.mark == mark, [(a.point, a.mark, a.reason) for a in result.awards]
