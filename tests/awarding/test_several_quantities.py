"""Several quantities in one part: values on the way, relationships combined, two unknowns, roots and signs, components, ratios.

Marks are those of the positive three-mark convention, worked out by hand point by point; common practice, no source. Numbers invented.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import pytest

from marker.marking import mark_response
from tests.awarding.parts import mark, one_part

PARTS: Mapping[str, Mapping[str, Any]] = {
    "lamp": {
        "given": {"E": "2.00 V", "R": "3.00 Ω", "r": "50.0 Ω"},
        "find": "P",
        "unit": "W",
        "marks": 4,
        "using": ["E = I*R", "P = I^2*r"],
    },
    "balance": {
        "given": {"m": "0.0120 kg", "I": "2.50 A", "L": "0.150 m", "g": "9.81 N/kg"},
        "find": "B",
        "unit": "T",
        "marks": 4,
        "using": ["W = m*g", "W = B*I*L"],
    },
    "trolley": {
        "given": {"m_1": "2.0 kg", "m_2": "3.0 kg", "g": "9.8 N/kg"},
        "marks": 6,
        "using": ["T = m_1*a", "m_2*g - T = m_2*a"],
        "step": [{"find": "a", "unit": "m/s^2", "marks": 4}, {"find": "T", "unit": "N", "marks": 2}],
    },
    "sledge": {
        "given": {"u": "5.0 m/s", "a": "2.0 m/s^2", "s": "36 m"},
        "find": "t",
        "unit": "s",
        "using": ["s = u*t + 1/2*a*t^2"],
    },
    "stone": {
        "given": {"u": "12 m/s", "t": "2.0 s", "a": "-9.8 m/s^2"},
        "find": "v",
        "unit": "m/s",
        "signed": ["v", "u", "a"],
        "using": ["v = u + a*t"],
    },
    "rope": {
        "given": {"F": "20 N", "θ": "30°"},
        "marks": 4,
        "using": ["F_x = F*cos(θ)"],
        "step": [{"find": "F_x", "unit": "N", "marks": 2}, {"find": "F_y", "unit": "N", "marks": 2, "using": ["F_y = F*sin(θ)"]}],
    },
    "two forces": {
        "given": {"x": "3.0 N", "y": "4.0 N"},
        "marks": 5,
        "using": ["R^2 = x^2 + y^2"],
        "step": [{"find": "R", "unit": "N", "marks": 3}, {"find": "θ", "unit": "°", "marks": 2, "using": ["tan(θ) = y/x"]}],
    },
    "factor": {"given": {"n": "3"}, "find": "k", "marks": 2, "using": ["k = n^2"], "names": {"k": ["factor"]}},
    "lantern": {
        "given": {"I_1": "160 W/m^2", "d_1": "2.0 m", "d_2": "3.0 m"},
        "find": "I_2",
        "unit": "W/m^2",
        "using": ["I_1*d_1^2 = I_2*d_2^2"],
    },
    "winch": {
        "given": {"E_o": "200 J", "E_i": "500 J"},
        "find": "η",
        "unit": "%",
        "marks": 2,
        "using": ["η = E_o/E_i"],
        "names": {"η": ["efficiency"]},
    },
    "tablet": {
        "given": {"m_1": "2.50 kg", "m_2": "2.35 kg"},
        "find": "p",
        "unit": "%",
        "marks": 2,
        "using": ["p = (m_1 - m_2)/m_1"],
        "names": {"p": ["loss"]},
    },
    "bus": {"given": {"v": "72 km/h"}, "find": "w", "unit": "m/s", "marks": 1, "using": ["w = v"], "names": {"w": ["speed"]}},
    "crane": {
        "given": {"m": "250 kg", "h": "12 m", "t": "20 s", "V": "400 V", "η": "0.70", "g": "9.8 N/kg"},
        "find": "I",
        "unit": "A",
        "marks": 6,
        "using": ["E = m*g*h", "P_o = E/t", "η = P_o/P_i", "P_i = I*V"],
    },
    "well": {"given": {"h": "20 m", "u": "15 m/s", "g": "9.8 m/s^2"}, "find": "t", "unit": "s", "using": ["h = u*t + 1/2*g*t^2"]},
    "ball": {"given": {"m": "0.20 kg", "v": "15 m/s"}, "find": "E", "show": "22 J", "marks": 2, "unit": "J", "using": ["E = 1/2*m*v^2"]},
    "nearer": {"given": {"n": "0.5"}, "find": "k", "marks": 2, "using": ["k = 1/n^2"], "names": {"k": ["factor"]}},
    "rail": {
        "given": {"L_1": "2.00 m", "L_2": "2.03 m"},
        "find": "p",
        "unit": "%",
        "marks": 2,
        "using": ["p = (L_2 - L_1)/L_1"],
        "names": {"p": ["change", "increase"]},
    },
    "bulb": {"given": {"E_i": "60 J", "E_o": "9.0 J"}, "find": "W", "unit": "J", "using": ["η = E_o/E_i", "W = (1 - η)*E_i"]},
    "jug": {"given": {"V": "250 cm^3"}, "find": "w", "unit": "m^3", "marks": 1, "using": ["w = V"], "names": {"w": ["volume"]}},
    "metal": {"given": {"ρ": "2.7 g/cm^3"}, "find": "w", "unit": "kg/m^3", "marks": 1, "using": ["w = ρ"], "names": {"w": ["density"]}},
    "meter": {"given": {"E": "5.4e6 J"}, "find": "w", "unit": "kWh", "marks": 1, "using": ["w = E"], "names": {"w": ["energy"]}},
    "boat": {
        "given": {"a": "4.0 m/s", "b": "3.0 m/s"},
        "marks": 4,
        "using": ["v^2 = a^2 + b^2"],
        "step": [{"find": "v", "unit": "m/s", "marks": 2}, {"find": "θ", "unit": "°", "marks": 2, "using": ["tan(θ) = b/a"]}],
    },
}


@dataclass(frozen=True)
class Row:
    part: str
    typed: str
    got: str
    referred: bool = False

    def __str__(self) -> str:
        return f"{self.part}: {self.typed}"


ROWS = (
    # intermediate values named, not named, not found at all
    Row("lamp", "I = E/R = 2.00/3.00 = 0.667 A; P = I²r = 0.667² x 50.0 = 22.2 W", "1111"),
    Row("lamp", "2.00/3.00 = 0.667; 0.667² x 50.0 = 22.2 W", "1111"),
    Row("lamp", "P = (E/R)²r = (2.00/3.00)² x 50.0 = 22.2 W", "1111"),
    Row("lamp", "I = E/R = 0.667 A", "1000"),
    Row("lamp", "I = E/R = 2.00/3.00 = 0.76 A; P = I²r = 0.76² x 50.0 = 28.9 W", "1110"),
    Row("lamp", "I = ER = 6.00 A; P = I²r = 6.00² x 50.0 = 1800 W", "0100"),
    # combined relationships credit each they show
    Row("balance", "B = mg/IL = 0.0120*9.81/(2.50*0.150) = 0.314 T", "1111"),
    Row("balance", "mg = BIL; 0.0120*9.81 = B*2.50*0.150; B = 0.314 T", "1111"),
    Row("balance", "B = mg/IL", "1100"),
    Row("balance", "W = mg = 0.118 N", "1000"),
    Row("balance", "B = IL/mg = 3.19 T", "0000"),
    # two unknowns
    Row("trolley", "T = m1 a; m2 g - T = m2 a; 3.0*9.8 = (2.0 + 3.0)a; a = 5.88 m/s²; T = 2.0*5.88 = 11.8 N", "111111"),
    Row("trolley", "T = 2.0a; 29.4 - T = 3.0a; 29.4 = 5.0a; a = 5.88 m/s²; T = 11.8 N", "111111"),
    Row("trolley", "a = m2g/(m1 + m2) = 3.0*9.8/5.0 = 5.9 m/s²; T = m1a = 2.0 x 5.9 = 12 N", "111111"),
    Row("trolley", "T = m1 a; m2 g - T = m2 a; 3.0*9.8 = (2.0 + 3.0)a; a = 5.88 m/s²", "111100"),
    Row("trolley", "T = m1 a; m2 g - T = m2 a; 3.0*9.8 = 5.0a; a = 8.58 m/s²; T = 2.0*8.58 = 17.2 N", "111011"),
    # quadratic: the root that the question wants
    Row("sledge", "s = ut + ½at²; 36 = 5.0t + 0.5*2.0*t²; t = (-5 + √(25 + 144))/2 = 4.0 s", "111"),
    Row("sledge", "s = ut + ½at²; t = (-5.0 ± √(5.0² + 4 x 36))/2 = 4.0 s", "111"),
    Row("sledge", "36 = 5t + t²; t² + 5t - 36 = 0; (t + 9)(t - 4) = 0; t = 4.0 s", "111"),
    Row("sledge", "s = ut + ½at²; 36 = 5.0t + 1.0t²; t = 4.0 or -9.0 s; t = 4.0 s", "111"),
    Row("sledge", "s = ut + ½at²; 36 = 5.0t + 1.0t²; t = 4.0 s or t = -9.0 s", "110"),
    Row("sledge", "s = ut + ½at²; 36 = 5.0t + 1.0t²; t = -9.0 s", "110"),
    # signs
    Row("stone", "v = u + at = 12 - 9.8*2.0 = -7.6 m/s", "111"),
    Row("stone", "v = u - gt = 12 - 9.8 x 2.0 = -7.6 m/s", "111"),
    Row("stone", "v = u + at = 12 + 9.8*2.0 = 31.6 m/s", "100"),
    Row("stone", "v = u + at = 12 - 9.8*2.0 = 7.6 m/s", "110"),
    Row("stone", "v = u + at = 12 - 9.8*2.0 = 7.6 m/s downwards", "110", referred=True),
    # components
    Row("rope", "Fx = F cos θ = 20 cos 30 = 17.3 N; Fy = F sin θ = 20 sin 30 = 10 N", "1111"),
    Row("rope", "17.3 N; 10 N", "1111"),
    Row("rope", "Fx = F cos θ = 20 cos 30 = 17.3 N; Fy = F cos θ = 17.3 N", "1100"),
    Row("two forces", "R = √(3.0² + 4.0²) = 5.0 N; tan θ = 4.0/3.0; θ = 53°", "11111"),
    Row("two forces", "R² = 9 + 16 = 25; R = 5.0 N; θ = tan⁻¹(4/3) = 53.1°", "11111"),
    Row("two forces", "R² = x² + y² = 3.0² + 4.0² = 25; R = 25 N; tan θ = 4.0/3.0; θ = 53°", "11011"),
    # ratios, "by what factor"
    Row("factor", "k = 3² = 9", "11"),
    Row("factor", "factor = 3^2 = 9", "11"),
    Row("factor", "9 times", "11"),
    Row("factor", "k = n = 3", "00"),
    Row("lantern", "I2/I1 = (d1/d2)² = 4/9; I2 = 71 W/m²", "111"),
    Row("lantern", "I1d1² = I2d2²; 160 x 2.0² = I2 x 3.0²; I2 = 71 W/m²", "111"),
    Row("lantern", "I1/I2 = d2/d1; I2 = 160 x 2.0/3.0 = 107 W/m²", "000"),
    # efficiency, percentage change
    Row("winch", "efficiency = 200/500 = 40 %", "11"),
    Row("winch", "η = 200/500 = 0.40", "11"),
    Row("winch", "η = 500/200 = 250 %", "00"),
    Row("tablet", "(2.50 - 2.35)/2.50 x 100 = 6.0 %", "11"),
    Row("tablet", "p = 0.15/2.50 = 6.0%", "11"),
    Row("tablet", "p = 0.15/2.35 = 6.4%", "10"),
    # a conversion as the question itself
    Row("bus", "72/3.6 = 20 m/s", "1"),
    Row("bus", "72 x 1000/3600 = 20 m/s", "1"),
    Row("bus", "72 x 3.6 = 259 m/s", "0"),
    # six marks and four relationships
    Row("crane", "E = mgh = 250 x 9.8 x 12 = 29400 J; P = E/t = 1470 W; Pin = 1470/0.70 = 2100 W; I = P/V = 2100/400 = 5.25 A", "111111"),
    Row("crane", "29400; 1470; 2100; 5.25 A", "111111"),
    Row("crane", "I = mgh/(tηV) = 250*9.8*12/(20*0.70*400) = 5.25 A", "111111"),
    Row("crane", "E = mgh = 29400 J; P = E/t = 1470 W; Pin = 1470 x 0.70 = 1029 W; I = P/V = 1029/400 = 2.57 A", "110100"),
    Row("crane", "E = 250 x 9.8 x 12 = 24900 J; P = 24900/20 = 1245 W; Pin = 1245/0.70 = 1779 W; I = 1779/400 = 4.45 A", "111110"),
    Row("crane", "P = mgh/t = 250*9.8*12/20 = 1470 W", "110000"),
    Row("trolley", "m2g = (m1+m2)a; a = 29.4/5 = 5.88 m/s²; T = m2(g - a) = 3.0 x (9.8 - 5.88) = 11.8 N", "111111"),
    Row("trolley", "a = g = 9.8 m/s²; T = 2.0 x 9.8 = 19.6 N", "000000"),
    Row("balance", "F = mg = 0.0120 x 9.81 = 0.1177; B = F/IL = 0.1177/(2.50 x 0.150) = 0.314 T", "1111"),
    Row("balance", "B = 0.1177/0.375 = 0.314 T", "1111"),
    Row("balance", "B = m/IL = 0.0120/(2.50 x 0.150) = 0.032 T", "0000"),
    # a quadratic without its numbers rounded into it, the root chosen
    Row("well", "20 = 15t + 4.9t²; t = (-15 + √(225 + 392))/9.8 = 1.0 s", "111"),
    Row("well", "h = ut + ½gt²; 4.9t² + 15t - 20 = 0; t = 1.00 s or -4.07 s; time is positive so t = 1.00 s", "111"),
    Row("well", "t = h/u = 20/15 = 1.3 s", "000"),
    # "show that"
    Row("ball", "E = ½mv² = 0.5 x 0.20 x 15² = 22.5 J", "11"),
    Row("ball", "½ x 0.20 x 15² = 22.5 J", "11"),
    Row("ball", "E = mv² = 0.20 x 15² = 45 J; half of it 22.5 J", "00"),
    Row("ball", "E = ½mv² = 22 J", "10"),
    Row("ball", "22 J", "00"),
    # by what factor, change in per cent, what is lost
    Row("nearer", "k = 1/0.5² = 4", "11"),
    Row("nearer", "4 times as much", "11"),
    Row("nearer", "k = 1/n = 2", "00"),
    Row("lantern", "I ∝ 1/d²; 160 x (2/3)² = 71 W/m²", "111"),
    Row("lantern", "160/2.25 = 71 W/m²", "111"),
    Row("rail", "(2.03 - 2.00)/2.00 x 100 = 1.5 %", "11"),
    Row("rail", "0.03/2.00 = 0.015", "11"),
    Row("rail", "2.03/2.00 = 1.015 so 1.5 % increase", "11"),
    Row("rail", "0.03/2.03 x 100 = 1.48 %", "10"),
    Row("rail", "2.03/2.00 = 101.5 %", "00"),
    Row("bulb", "η = 9.0/60 = 0.15; W = 0.85 x 60 = 51 J", "111"),
    Row("bulb", "60 - 9.0 = 51 J", "111"),
    Row("bulb", "η = 9.0/60 = 0.15; W = 0.15 x 60 = 9 J", "100"),
    # vectors at right angles
    Row("boat", "v² = 16 + 9 = 25, v = 5 m/s at 37° to the bank", "1111"),
    Row("boat", "5.0 m/s; 37°", "1111"),
    Row("boat", "v = 4 + 3 = 7 m/s; tan θ = 4/3; θ = 53°", "0000"),
    Row("boat", "v = √(4² + 3²) = 5.0 m/s; tan θ = 3/4; θ = 0.64", "1110"),
    # what a datum is in another unit
    Row("jug", "250/10^6 = 2.5x10^-4 m³", "1"),
    Row("jug", "250 cm³ = 0.00025 m³", "1"),
    Row("jug", "V = 250 cm³ = 2.5x10^-4 m³", "1"),
    Row("jug", "250 cm³ = 2.5 m³", "0"),
    Row("jug", "2.5e-4", "0"),
    Row("metal", "2.7 x 1000 = 2700 kg/m³", "1"),
    Row("metal", "2.7 g/cm³ = 2700 kg/m³", "1"),
    Row("metal", "2.7 g/cm³ = 0.0027 kg/m³", "0"),
    Row("meter", "5.4x10^6/3.6x10^6 = 1.5 kWh", "1"),
    Row("meter", "5400000 J = 1.5 kWh", "1"),
    Row("meter", "5.4x10^6/3600 = 1500 kWh", "0"),
    Row("bus", "72 km/h = 20 m/s", "1"),
    Row("bus", "72 km/h = 259 m/s", "0"),
)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_several_quantities(row: Row) -> None:
    result = mark(one_part(**PARTS[row.part]), row.typed)
    assert "".join(f"{a.mark:g}" for a in result.awards) == row.got, [f"{a.point}: {a.reason}" for a in result.awards]
    assert not row.referred or result.referred


@pytest.mark.parametrize("name", PARTS)
def test_model_answer(name: str) -> None:
    part = one_part(**PARTS[name])
    assert mark_response(part, part.kind.model(part.compiled)).mark == part.marks
