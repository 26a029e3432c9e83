"""Values that stand alone, letters of the candidate's own, values worked out in the head: what an examiner sees in them.

Marks worked out by hand under the positive three-mark convention; common practice, no source. Numbers invented.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import pytest

from tests.awarding.parts import mark, one_part

G = {"g": ["9.81 N/kg", "9.8 N/kg"]}
PARTS: Mapping[str, Mapping[str, Any]] = {
    "rod": {
        "given": {"L": "2.4 m", "d": "3.0 mm", "F": "540 N", "ΔL": "0.90 mm"},
        "find": "E",
        "unit": "Pa",
        "marks": 5,
        "using": ["A = π*r^2", "E = F*L/(A*ΔL)"],
        "also": ["d = 2*r"],
        "points": [
            {"kind": "relationship", "of": "A = π*r^2"},
            {"kind": "value", "of": "A", "accept": ["7.0e-6 m^2", "7.1e-6 m^2"]},
            {"kind": "relationship", "of": "E = F*L/(A*ΔL)"},
            {"kind": "substitution"},
            {"kind": "answer"},
        ],
    },
    "slide": {
        "given": {"m": "36 kg", "h": "4.5 m", "d": "11 m", "f": "62 N"},
        "find": "v",
        "unit": "m/s",
        "marks": 5,
        "using": ["E_p = m*g*h", "W = f*d", "1/2*m*v^2 = E_p - W"],
        "also": ["E_k = 1/2*m*v^2"],
    },
    "brake": {
        "given": {"m": "22 kg", "h": "3.1 m", "s": "6.4 m", "v": "5.2 m/s"},
        "find": "F",
        "unit": "N",
        "marks": 5,
        "using": ["E_p = m*g*h", "E_k = 1/2*m*v^2", "F*s = E_p - E_k"],
    },
    "decay": {
        "given": {"A_0": "52 kBq", "T": "8.1 d", "t": "30 d"},
        "find": "A",
        "unit": "kBq",
        "using": ["A = A_0*exp(-λ*t)"],
        "also": ["λ = ln(2)/T"],
    },
    "divider": {
        "given": {"E": "6.0 V", "R_1": "4.7 kΩ", "R_2": "2.2 kΩ"},
        "find": "V",
        "unit": "V",
        "using": ["V = E*R_2/(R_1 + R_2)"],
        "names": {"V": ["V_2"]},
    },
    "ratio": {
        "given": {"v_1": "12 m/s", "v_2": "30 m/s"},
        "find": "k",
        "marks": 2,
        "using": ["k = (v_2/v_1)^2"],
        "rulings": {"fraction_answer": True},
    },
    "photon": {
        "given": {"E": "2.4 eV"},
        "find": "λ",
        "unit": "m",
        "using": ["E = h*c/λ"],
    },
}
DATA = {**G, "h": "6.63e-34 J s", "c": "3.00e8 m/s"}


@dataclass(frozen=True, slots=True)
class Row:
    part: str
    typed: str
    mark: float

    def __str__(self) -> str:
        return f"{self.part}: {self.typed[:60]}"


ROWS = (
    # a value on the line after the numbers it is of
    Row("rod", "A; =PI()*0.003^2/4; 7.07E-06; E=F*L/(A*e); =540*2.4/7.07E-06*9.0E-4; 1.65E+05 Pa", 4),
    Row(
        "rod",
        "A = 3.14x0.0015^2 so 7.07e-6 so stress = 540/7.07e-6 so 7.64e7 so strain = 0.9/2.4 so 0.375 so E = 7.64e7/0.375 so 2.04x10^8 Pa",
        4,
    ),
    # values of the candidate's own put into a relationship without being written again
    Row(
        "rod", "A = π x 0.0015^2 = 7.07e-6; stress = 540/7.07e-6 = 7.64e7; strain = 0.9e-3/2.4 = 3.75e-3; E = stress/strain = 2.04e10 Pa", 4
    ),
    # a right value implies the relationship it comes from
    Row("rod", "The area is 7.07e-6 m^2; stress = 540/7.07e-6 = 7.64e7 Pa; strain = 2.4/0.0009 = 2667; E = 7.64e7/2667 = 28600 Pa", 2),
    # a value found in the head and put in
    Row("brake", "mgh = 1/2mv^2 + Fs; 669 = 297 + F x 6.4; F = 669 - 297 - 6.4 = 366 N", 4),
    Row("brake", "mgh = 22 x 10 x 3.1 = 682 J; 1/2mv^2 = 0.5 x 22 x 27 = 297 J; 682 - 297 = 385 J; F = 385/6.4 = 60.1 N", 4),
    # letters of the candidate's own
    Row("slide", "Ep = mgh = 36 x 9.81 x 4.5 = 1589; Wf = 62 x 4.5 = 279; Ek = 1589 - 279 = 1310; v = √(2 x 1310/36) = 8.53 m/s", 3),
    Row("slide", "Ep = 36 x 9.81 x 4.5 = 1589; Wf = 62 x 11 = 682; Ek = Ep - Wf = 907; v = √(2 x 907/36) = 9.1 m/s", 4),
    Row("divider", "V₂ = V × R₂/(R₁ + R₂); V₂ = 6.0 × 2.2/(4.7 + 2.2); V₂ = 1.9 V", 3),
    # a piece of the expression before worked out, a value in the unit the data have
    Row("decay", "λ = ln 2/T = 0.693/8.1 = 0.0856 per day; A = 52 exp(-0.0856 x 30) = 52 x 0.0767 = 4.0 kBq", 3),
    # the ratio alone is not its square
    Row("ratio", "30/12 = 2.5 times", 0),
    Row("ratio", "30/12 = 2.5; 2.5^2 = 6.25", 2),
    Row("ratio", "$\\left(\\frac{30}{12}\\right)^2 = \\frac{25}{4}$", 2),
    # a value after a list of data is no value of the last of them
    Row("photon", "E=2.4 h=6.63x10^-34 c=3x10^8; = 5.17x10^-7 m; 6.63x10^-34 x 3x10^8 / (2.4 x 1.6x10^-19)", 3),
)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_marks_of_values_alone(row: Row) -> None:
    result = mark(one_part(data=DATA, **PARTS[row.part]), row.typed)
    assert result.mark == row.mark, [(a.point, a.mark, a.reason) for a in result.awards]
