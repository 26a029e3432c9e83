"""Run-on chains, where "=" comes to mean "and then": every step counts as if it stood on a line of its own.

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
    "slide": {
        "given": {"m": "36 kg", "h": "4.5 m", "d": "11 m", "f": "62 N"},
        "find": "v",
        "unit": "m/s",
        "marks": 5,
        "using": ["E_p = m*g*h", "W = f*d", "1/2*m*v^2 = E_p - W"],
        "also": ["E_k = 1/2*m*v^2"],
    },
    "lamps": {
        "given": {"ε": "12.6 V", "r": "0.80 Ω", "R_1": "6.0 Ω", "R_2": "14 Ω"},
        "find": "I",
        "unit": "A",
        "marks": 5,
        "using": ["1/R = 1/R_1 + 1/R_2", "ε = I*(R + r)"],
        "points": [
            {"kind": "relationship", "of": "1/R = 1/R_1 + 1/R_2"},
            {"kind": "value", "of": "R", "accept": ["4.2 Ω", "4.2 Ω"]},
            {"kind": "relationship", "of": "ε = I*(R + r)"},
            {"kind": "substitution", "of": "ε = I*(R + r)"},
            {"kind": "answer"},
        ],
    },
    "tuned circuit": {
        "given": {"L": "38 µH", "C": "120 pF"},
        "find": "f",
        "unit": "Hz",
        "using": ["f = 1/(2*π*√(L*C))"],
    },
    "rod": {
        "given": {"L": "2.4 m", "d": "3.0 mm", "F": "540 N", "ΔL": "0.90 mm"},
        "find": "E",
        "unit": "Pa",
        "marks": 5,
        "using": ["A = π*r^2", "E = F*L/(A*ΔL)"],
        "also": ["d = 2*r"],
    },
    "divider": {
        "given": {"E": "6.0 V", "R_1": "4.7 kΩ", "R_2": "2.2 kΩ"},
        "find": "V",
        "unit": "V",
        "using": ["V = E*R_2/(R_1 + R_2)"],
        "also": ["I = E/(R_1 + R_2)", "R = R_1 + R_2"],
        "route": [{"name": "current", "using": ["V = I*R_2"], "also": ["I = E/R", "R = R_1 + R_2"]}],
    },
    "ball": {"given": {"s": "7.4 m"}, "find": "t", "unit": "s", "using": ["s = 1/2*g*t^2"]},
    "slope": {
        "given": {"m": "12 kg", "θ": "24°", "f": "19 N"},
        "find": "a",
        "unit": "m/s^2",
        "marks": 4,
        "using": ["F_1 = m*g*sin(θ)", "F_2 = F_1 - f"],
        "also": ["F_2 = m*a"],
    },
}


@dataclass(frozen=True, slots=True)
class Row:
    part: str
    typed: str
    mark: float

    def __str__(self) -> str:
        return f"{self.part}: {self.typed[:60]}"


ROWS = (
    Row("slide", "Ek = mgh - Fd = 36 x 9.81 x 4.5 = 1589 - 62 x 11 = 907 = 1/2 x 36 x v^2 = 7.1 m/s", 5),
    Row("slide", "Ek = mgh - Fd = 36 x 9.81 x 4.5 = 1589 - 62 x 11 = 907 = 1/2 x 36 x v^2 = 50.4 m/s", 4),
    Row("slide", "36 x 9.81 x 4.5 = 1589 - 62 x 11 = 907 = 1/2 x 36 x v^2 = 50.4 m/s", 4),
    Row("slide", "36 x 9.81 x 4.5 = 1589 = 62 x 11 = 682 = 1589 - 682 = 907 = 1/2 x 36 v^2 = v^2 = 50.4 = v = 7.1 m/s", 5),
    Row("slide", "v = 36 x 9.81 x 4.5 = 1589 - 682 = 907 x 2 / 36 = 50.4 = sqrt(50.4) = 7.1 m/s", 5),
    Row("slide", "36 x 9.81 x 4.5 = 1589 = 1589 x 2 / 36 = 88.3 = 9.4 m/s", 1),
    Row("lamps", "1/6 + 1/14 = 0.167 + 0.071 = 0.238 = R = 0.238 + 0.8 = 1.038 = 12.6/1.038 = 12.1 A", 4),
    Row("lamps", "1/6 + 1/14 = 0.238 = 4.2 = 4.2 + 0.8 = 5 = 12.6/5 = 2.52 A", 5),
    Row("lamps", "6 x 14 = 84 / 20 = 4.2 + 0.8 = 5.0 = 12.6 / 5.0 = 2.5 A", 5),
    Row("tuned circuit", "f = 38e-6 x 120e-12 = 4.56e-15 = sqrt(4.56e-15) = 6.75e-8 x 2 x pi = 4.24e-7 = 1/4.24e-7 = 2.36e6 Hz", 3),
    Row("tuned circuit", "38e-6 x 120e-12 = 4.56e-15 = sqrt(4.56e-15) = 6.75e-8 x 2pi = 4.24e-7 = 1/4.24e-7 = 2.36e6 Hz", 3),
    Row("rod", "A = π x 0.0015^2 = 7.07e-6 = 540/7.07e-6 = 7.64e7 = stress / 3.75e-4 = 2.04e11 Pa", 5),
    Row("rod", "π x 0.0015^2 = 7.07e-6 = 540/7.07e-6 = 7.64e7 = 7.64e7/(0.0009/2.4) = 2.04e11 Pa", 5),
    Row("divider", "I = V/R = 6/6900 = 0.00087 x 2200 = 1.91", 2),
    Row("divider", "6 / 6900 = 0.00087 = 0.00087 x 2200 = 1.91 V", 3),
    Row("ball", "7.4 = 1/2 x 9.81 x t^2 = t^2 = 1.51 = t = 1.23 s", 3),
    Row("ball", "7.4 = 4.905 x t^2 = 1.51 = 1.23 s", 3),
    Row("ball", "7.4 = 1/2 x 9.81 x t^2 = 1.51 s", 2),
    Row("slope", "12 x 9.81 x sin 24 = 47.9 - 19 = 28.9 / 12 = 2.4 m/s^2", 4),
    Row("slope", "F_H = m g sin a = 12 x 9.81 x sin 24 = 47.9 = 47.9 - 19 = 28.9 = 28.9/12 = 2.4 m/s^2", 4),
    Row("slope", "ma = 12 x 9.81 x sin 24 = 47.9 + 19 = 66.9 = 66.9/12 = 5.6 m/s^2", 1),
)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_each_step_of_a_run_on_chain_counts(row: Row) -> None:
    result = mark(one_part(data=G, **PARTS[row.part]), row.typed)
    assert result.mark == row.mark, [(a.point, a.mark, a.reason) for a in result.awards]
