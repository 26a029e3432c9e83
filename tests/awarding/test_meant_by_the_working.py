"""Working that means more than it says at first sight: numbers among letters, rounded for a show, brackets and units left to the reader.

Marks worked out by hand under the usual three-mark split; common practice, no source. Numbers invented.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from tests.awarding.parts import mark, one_part

FOLLOWED = {"transcription_slip": "substitution mark, followed"}
SPLIT = [{"kind": "relationship"}, {"kind": "substitution"}, {"kind": "answer"}]

PARTS: Mapping[str, Mapping[str, Any]] = {
    "prism": {
        "given": {"n_1": "1.62", "n_2": "1.31"},
        "find": "C",
        "unit": "°",
        "using": ["sin(C) = n_2/n_1"],
        "names": {"n_1": ["n of glass"]},
    },
    "block": {"given": {"n": "1.47"}, "find": "C", "unit": "°", "using": ["sin(C) = 1/n"]},
    "vat": {
        "given": {"m": "1500 kg", "c": "3700 J/(kg K)", "T_1": "27 °C", "T_2": "18 °C"},
        "find": "Q",
        "unit": "J",
        "using": ["Q = m*c*ΔT"],
        "also": ["ΔT = T_1 - T_2"],
    },
    "tank": {
        "given": {"p": "1.8e5 Pa", "V": "24 L", "T": "21 °C", "R": "8.31 J/(mol K)"},
        "find": "n",
        "unit": "mol",
        "using": ["p*V = n*R*T"],
    },
    "balloon": {
        "given": {"p_1": "96 kPa", "V_1": "1.20 m^3", "T_1": "15 °C", "p_2": "40 kPa", "T_2": "-35 °C"},
        "find": "V_2",
        "unit": "m^3",
        "using": ["p_1*V_1/T_1 = p_2*V_2/T_2"],
    },
    "divider": {
        "given": {"V": "9.0 V", "R": "330 Ω", "V_R": "3.4 V"},
        "find": "R_T",
        "unit": "Ω",
        "using": ["V_T/V_R = R_T/R"],
        "also": ["V_T = V - V_R"],
        "names": {"V_R": ["V1"], "V_T": ["V2"], "R": ["R1"], "R_T": ["R2"]},
    },
    "clamp": {"given": {"p": "5.2e5 Pa", "d": "54 mm"}, "find": "F", "unit": "N", "using": ["p = F/A"], "also": ["A = π*d^2/4"]},
    "glow": {
        "given": {"λ": "880 nm", "P": "15 mW", "t": "1.0 s", "h": "6.63e-34 J s", "c": "3.00e8 m/s"},
        "find": "N",
        "unit": "",
        "using": ["E = h*c/λ", "P*t = N*E"],
        "names": {"E": ["energy of one photon"], "N": ["number"]},
        "points": [{"kind": "relationship", "of": "E = h*c/λ"}, {"kind": "relationship", "of": "P*t = N*E"}, {"kind": "answer"}],
    },
    "rod": {
        "marks": 5,
        "given": {"L": "26 m", "d": "24 mm", "F": "88 kN", "E": "2.0e11 Pa"},
        "names": {"σ": ["stress"], "ε": ["strain"], "ΔL": ["extension"]},
        "step": [
            {
                "label": "(i)",
                "find": "σ",
                "unit": "MPa",
                "marks": 2,
                "using": ["σ = F/A"],
                "also": ["A = π*d^2/4", "A = π*r^2", "r = d/2"],
                "show": "190 MPa",
            },
            {
                "label": "(ii)",
                "find": "ΔL",
                "unit": "m",
                "marks": 3,
                "using": ["E = σ*L/ΔL"],
                "also": ["ε = ΔL/L", "E = σ/ε"],
                "figures": 2,
            },
        ],
    },
    "starter": {
        "marks": 5,
        "given": {"E": "12.8 V", "r": "0.020 Ω", "I": "130 A", "t": "4.0 s"},
        "names": {"W": ["energy"]},
        "step": [
            {
                "label": "(i)",
                "find": "V",
                "unit": "V",
                "marks": 2,
                "show": "10 V",
                "using": ["V = E - I*r"],
                "also": ["u = I*r", "V = E - u"],
            },
            {"label": "(ii)", "find": "W", "unit": "J", "marks": 3, "using": ["W = V*I*t"], "figures": 2},
        ],
    },
    "dial": {
        "marks": 5,
        "given": {"T": "14.6 year", "A_0": "7.5 MBq", "t": "30 year"},
        "names": {"T": ["half-life", "T1/2"], "λ": ["k"]},
        "step": [
            {"label": "(i)", "find": "λ", "unit": "year^-1", "marks": 2, "show": "0.047 year^-1", "using": ["λ = ln(2)/T"]},
            {
                "label": "(ii)",
                "find": "A",
                "unit": "MBq",
                "marks": 3,
                "using": ["A = A_0*exp(-λ*t)"],
                "figures": 2,
                "accept": ["1.78 MBq", "1.83 MBq"],
            },
        ],
    },
    "wheel": {
        "marks": 5,
        "given": {"f": "540 min^-1", "I": "0.64 kg m^2"},
        "step": [
            {"label": "(i)", "find": "ω", "unit": "rad/s", "marks": 2, "show": "57 rad/s", "using": ["ω = 2*π*f"]},
            {"label": "(ii)", "find": "E_k", "unit": "J", "marks": 3, "using": ["E_k = 1/2*I*ω^2"], "names": {"ω": ["angular velocity"]}},
        ],
    },
}

Rulings = dict[str, Any]
ROWS: list[tuple[str, str, Rulings, str]] = [
    # A right angle is a number of the relationship; a letter among numbers, a datum on the other side.
    ("prism", "n1 sin C = n2 sin 90°\nsin C = 1.31/1.62 = 0.809\nC = 54.0°", {}, "111"),
    ("prism", "n1sinC=n2sin90\nsin C = n1/n2 = 1.24", {}, "100"),
    ("prism", "1.62 sin C = 1.31\nC = 54.0°", {}, "111"),
    ("prism", "1.62 sin C = 1.31 sin 90\nC = 45°", {}, "110"),
    ("block", "n sin C = 1\nC = 42.9°", {}, "111"),
    ("block", "n sin C = sin 90\n1.47 sin C = 1\nC = 47.1°", {}, "110"),
    # Brackets that the numbers put back.
    ("vat", "Q = mcT = 1500x3700x27-18 = 49950000 J", {}, "111"),
    ("vat", "Q = mcT = 1500x3700x27-18 = 149849982 J", {}, "100"),
    # What the equation is solved for in one run of signs.
    ("tank", "pV = nRT = 1.8x10^5 x 24/1000 = 4320 = n x 8.31 x 294 = n = 1.77 mol", {}, "111"),
    ("tank", "pV = nRT = 1.8x10^5 x 24/1000 = 4320 = n x 8.31 x 21 = n = 24.8 mol", {}, "110"),
    # Temperatures left in degrees Celsius, one of them below freezing.
    ("balloon", "96 x 1.20/15 = 40 x V/-35\nV = -6.7 m3", {}, "110"),
    # Indices counted the other way; the whole put in for one piece.
    ("divider", "V1/V2 = R1/R2\n5.6/3.4 = R1/330\nR1 = 544 ohms", {}, "111"),
    ("divider", "V2/V1 = R2/R1\n5.6/3.4 = R2/330\nR2 = 544 ohms", {}, "111"),
    ("divider", "R = 330*9.0/3.4 = 874 ohm", FOLLOWED, "101"),
    # A wrong area, told by its unit and used next.
    ("clamp", "pi x 0.054 = 0.170 m2\n5.2x10^5 x 0.170 = 88400 N", {}, "100"),
    # A number for one second, with or without "per second"; powers of ten and names in words.
    ("glow", "E = hc/λ = 2.26×10⁻¹⁹ J\nN = P/E = 0.015/2.26×10⁻¹⁹ = 6.6×10¹⁶ s⁻¹", {}, "111"),
    (
        "glow",
        "energy of a photon = hc/λ = 2.26 times 10 to the minus 19 joules\n"
        "number = 0.015 divided by 2.26 times 10 to the minus 19 = 6.6 times 10 to the 16",
        {},
        "111",
    ),
    ("glow", "6.6×10¹⁶ m", {}, "110"),
    # The result of a show rounded to what was to be shown; a wrong (i) followed in (ii); the value shown not converted.
    ("rod", "(i) σ = F/A = 88000/4.52e-4\nσ = 1.947 × 10^8 Pa ≈ 190 MPa\n(ii) ΔL = σL/E = 1.95e8 × 26/2.0e11 = 0.025 m", {}, "11111"),
    ("rod", "(i) σ = F/A = 88000/4.52e-4 = 1.95 × 10^8 Pa ≈ 200 MPa\n(ii) ΔL = σL/E = 1.95e8 × 26/2.0e11 = 0.025 m", {}, "10111"),
    (
        "rod",
        "i A = pi d^2 = pi x 0.024^2 = 1.81e-3\nstress = F/A = 88000/1.81e-3 = 4.86e7 Pa\n"
        "ii strain = 4.86e7/2.0e11 = 2.43e-4\nextension = 2.43e-4 x 26 = 6.3e-3 m",
        {},
        "10111",
    ),
    ("rod", "(i)\n(ii) strain = 190/2.0e11 = 9.5e-10\nextension = 9.5e-10 x 26 = 2.5e-8 m", {}, "00110"),
    # The letter of the e.m.f. for the energy that is found.
    ("starter", "(i) V = IR = 130 x 0.020 = 2.6\n12.8 - 2.6 = 10.2\n(ii) E = VIt = 10.2 x 130 x 4.0 = 5300 J", {}, "11111"),
    ("starter", "(i) V = IR = 130 x 0.020 = 2.6\n12.8 - 2.6 = 10.2\n(ii) E = VIt = 12.8 x 130 x 4.0 = 6660 J", FOLLOWED, "11101"),
    # A value in the unit the data are printed in, a unit alone below the line, a datum copied wrongly with its unit.
    ("dial", "(i) k = LN(2)/14.6 = 4.75E-2 /year\n(ii) A = 7.5*EXP(-4.75E-2*30) = 1.80 MBq", {}, "11111"),
    ("dial", "(i) λ = 0.693/14.6 = 0.0475 1/year\n(ii) A = 7.5 e^(-0.0475 × 30) = 1.80 MBq", {}, "11111"),
    ("dial", "(i) T1/2 = 16.4 years\nλ = 0.693/16.4 = 0.0423\n(ii) A = A0e^(-λt) = 7.5 × e^(-0.0423 × 30) = 2.11 MBq", FOLLOWED, "10111"),
    # Radians in a minute are no result yet; a Greek letter by name beside another letter.
    (
        "wheel",
        "(i) in one minute 540 × 2π = 3393 radians, so in one second it is 3393/60 = 57 rad/s\n"
        "(ii) E is half I omega squared = 0.5 × 0.64 × 57² = 1040 J",
        {},
        "11111",
    ),
]


@pytest.mark.parametrize(("part", "typed", "rulings", "points"), ROWS, ids=[f"{r[0]}: {r[1][:40]}" for r in ROWS])
def test_points(part: str, typed: str, rulings: Rulings, points: str) -> None:
    result = mark(one_part(rulings, **PARTS[part]), typed)
    assert "".join("1" if a.mark else "0" for a in result.awards) == points, [a.reason for a in result.awards]


def test_an_assumed_value_is_told_by_its_unit() -> None:
    """With the part before blank, "no time, so say 60 s" states the value that is missing (common practice, no source)."""
    from marker import build_paper, mark_response

    first = {"name": "1", "marks": 3, "given": {"s": "45 m", "v": "0.90 m/s"}, "find": "t", "unit": "s", "using": ["v = s/t"]}
    second = {"name": "2", "marks": 3, "given": {"I": "36 A"}, "carry": {"t": "1"}, "find": "Q", "unit": "C", "using": ["Q = I*t"]}
    part = build_paper({"paper": {"title": "t"}, "part": [first, second]}).parts[1]
    assert mark_response(part, ["no time so say 60 s", "Q = It = 36 x 60 = 2160 C"]).mark == 3
    assert mark_response(part, ["no time so say 60 m", "Q = It = 36 x 60 = 2160 C"]).mark < 3
