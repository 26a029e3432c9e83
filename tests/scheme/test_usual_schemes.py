"""What is usual in school physics and must simply work in a scheme: letters that differ in case, a second unit, °C and a difference,
a mark for a relationship with its numbers. Numbers of our own, worked by hand; common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest

from marker import build_paper
from marker.marking import mark_response
from marker.scheme.checking import check_paper

SHEET = {"h": "6.63e-34 J s", "c": "3.00e8 m/s"}
PARTS: dict[str, dict[str, Any]] = {
    "cell": {
        "marks": 3,
        "given": {"E": "9.0 V", "R": "16 Ω", "r": "2.0 Ω"},
        "find": "I",
        "unit": "A",
        "using": ["E = I*(R + r)"],
        "names": {"r": ["internal resistance"]},
    },
    "inside": {"marks": 3, "given": {"E": "9.0 V", "R": "16 Ω", "I": "0.50 A"}, "find": "r", "unit": "Ω", "using": ["E = I*(R + r)"]},
    "photon": {"marks": 3, "given": {"λ": "248 nm", "φ": "3.7 eV"}, "find": "E_k", "unit": "J", "using": ["E_k = h*c/λ - φ"]},
    "in eV": {"marks": 3, "given": {"λ": "248 nm", "φ": "3.7 eV"}, "find": "E_k", "unit": "eV", "using": ["E_k = h*c/λ - φ"]},
    "warmed": {
        "marks": 3,
        "given": {"m": "12 kg", "c": "4180 J/(kg K)", "T_1": "16 °C", "T_2": "41 °C"},
        "find": "Q",
        "unit": "J",
        "using": ["Q = m*c*ΔT"],
        "also": ["ΔT = T_2 - T_1"],
    },
    "together": {
        "marks": 2,
        "given": {"P": "1.8 kW", "V": "230 V"},
        "find": "I",
        "unit": "A",
        "using": ["P = I*V"],
        "points": [{"kind": "substitution", "name": "relationship with values"}, {"kind": "answer"}],
    },
    "gas": {
        "marks": 3,
        "given": {"p_1": "101 kPa", "V_1": "2.5 L", "T_1": "290 K", "T_2": "350 K"},
        "find": "p_2",
        "unit": "kPa",
        "using": ["p_1/T_1 = p_2/T_2"],
        "route": [{"using": ["p_1*V_1 = n*R*T_1", "p_2*V_1 = n*R*T_2"], "given": {"R": "8.31 J/(mol K)"}, "names": {"n": ["amount"]}}],
    },
    "each": {
        "marks": 3,
        "given": {"m": "12 kg", "c": "4180 J/(kg K)", "ΔT": "16 K", "L": "3.34e5 J/kg"},
        "find": "Q",
        "unit": "J",
        "using": ["Q_1 = m*c*ΔT", "Q_2 = m*L", "Q = Q_1 + Q_2"],
        "points": [
            {"kind": "substitution", "of": "Q_1 = m*c*ΔT"},
            {"kind": "substitution", "of": ["Q_2 = m*L"]},
            {"kind": "answer"},
        ],
    },
}
ROWS = (
    ("cell", "E=I(R+r); 9=I(16+2); I=0.50 A", 3),
    ("cell", "I = 9/(16+2) = 0.5A", 3),
    ("inside", "r = E/I - R = 9/0.5-16=2 Ω", 3),
    ("inside", "9=0.5(16+r); r=2.0 ohm", 3),
    ("photon", "E_k = 2.1e-19 J", 3),
    ("photon", "E_k = 1.3 eV", 3),
    ("in eV", "E_k = 2.1e-19 J", 3),
    ("in eV", "1.3 eV", 3),
    ("warmed", "Q=mcΔT = 12 x 4180 x 25 = 1.25e6 J", 3),
    ("warmed", "Q = 12 x 4180 x (41-16) = 1.3 MJ", 3),
    ("together", "1800 = I x 230; 7.8 A", 2),
    ("together", "P = IV", 0),
    ("gas", "101/290 = p/350; p = 122 kPa", 3),
    ("gas", "amount = pV/RT = 101000 x 0.0025/(8.31 x 290) = 0.1048 mol; p = nRT/V = 0.1048x8.31x350/0.0025 = 1.22e5 Pa", 3),
    ("each", "12x4180x16=802560; 12x334000=4008000; 4.8e6 J", 3),
    ("each", "Q=12x4180x16=802560", 1),
)


def paper(name: str) -> Any:
    used = {k: v for k, v in SHEET.items() if "λ" in PARTS[name]["given"]}
    return build_paper({"paper": {"title": "x", "data": used}, "part": [{"name": "1", "stem": "Find it.", **PARTS[name]}]})


@pytest.mark.parametrize(("name", "typed", "mark"), ROWS, ids=[f"{n}: {t}" for n, t, _ in ROWS])
def test_marks(name: str, typed: str, mark: float) -> None:
    result = mark_response(paper(name).parts[0], typed.split("; "))
    assert result.mark == mark, [a.reason for a in result.awards]


@pytest.mark.parametrize("name", ["cell", "warmed"])
def test_letters_that_differ_in_case_are_no_fault(name: str) -> None:
    proof = check_paper(paper(name))
    assert proof.passes and proof.remarks == ()
