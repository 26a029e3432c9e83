"""What stands on the paper and what follows from it: units a candidate works in, answers before their working, misreadings, loops.

Marks worked out by hand; common practice, no source, except where a row names one. Numbers invented.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from tests.awarding.parts import mark, one_part

MISREAD = {"transcription_slip": "substitution mark, followed", "follow_wrong_physics": True}


def _steps(*relations: str) -> list[dict[str, str]]:
    return [*({"kind": "relationship", "of": r} for r in relations), {"kind": "answer"}]


LOOPS = ("E_1 = I_1*R_1 + (I_1+I_2)*R", "E_2 = I_2*R_2 + (I_1+I_2)*R")
PARTS: Mapping[str, Mapping[str, Any]] = {
    "heater": {"given": {"V": "9.0 V", "I": "0.45 A"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
    "sonar": {
        "given": {"v": "1480 m/s", "t": "54 ms", "h": "12.5 m"},
        "find": "x",
        "unit": "m",
        "using": ["d = v*t/2", "x = d - h"],
        "points": _steps("d = v*t/2", "x = d - h"),
    },
    "accumulator": {
        "given": {"I": "35 mA", "t_1": "4.0 min", "Q_2": "3.2 C"},
        "find": "Q",
        "unit": "C",
        "using": ["Q_1 = I*t_1", "Q = Q_1 + Q_2"],
        "points": _steps("Q_1 = I*t_1", "Q = Q_1 + Q_2"),
    },
    "cell": {
        "data": {"h": "6.63e-34 J s", "e": "1.60e-19 C"},
        "given": {"f": "9.5e14 Hz", "φ": "2.3 eV"},
        "find": "E_k",
        "unit": "J",
        "marks": 4,
        "using": ["E = h*f", "E_k = E - φ"],
        "points": [*_steps("E = h*f", "E_k = E - φ")[:2], {"kind": "substitution"}, {"kind": "answer"}],
    },
    "loops": {
        "given": {"E_1": "6.0 V", "E_2": "4.5 V", "R_1": "2.0 Ω", "R_2": "1.0 Ω", "R": "5.0 Ω"},
        "marks": 4,
        "step": [
            {"find": "I_1", "marks": 3, "unit": "A", "using": list(LOOPS), "points": _steps(*LOOPS)},
            {"find": "I_2", "marks": 1, "unit": "A", "points": [{"kind": "answer"}]},
        ],
    },
    "turntable": {
        "given": {"m": "0.30 kg", "r": "0.14 m", "T": "1.2 s"},
        "find": "F",
        "unit": "N",
        "marks": 4,
        "using": ["v = 2*π*r/T", "F = m*v^2/r"],
        "points": [*_steps("v = 2*π*r/T", "F = m*v^2/r")[:2], {"kind": "substitution"}, {"kind": "answer"}],
    },
    "shield": {
        "given": {"I_0": "850 W/m^2", "μ": "0.42 /cm", "x": "3.6 cm"},
        "find": "I",
        "unit": "W/m^2",
        "using": ["I = I_0*exp(-μ*x)"],
    },
    "kettle": {
        "given": {"m": "0.50 kg", "c": "4200 J/(kg K)", "T_1": "18 °C", "P": "35 W", "t": "600 s"},
        "find": "T_2",
        "unit": "°C",
        "using": ["P*t = m*c*(T_2 - T_1)"],
    },
}

ROWS = [
    # An answer with its unit first, the working under it: the number the working ends in needs no unit of its own.
    ("heater", "20 Ω\nR = V/I = 9.0/0.45 = 20", {}, "111"),
    ("heater", "R = 20 ohms because 9.0/0.45 = 20", {}, "111"),
    ("heater", "20 Ω, 9.0/0.45 = 20", {}, "111"),
    ("heater", "R = V/I = 9.0/0.45 = 20 Ω\nR = 20", {}, "110"),
    ("heater", "20 Ω\nR = V/I = 9.0/0.45 = 25", {}, "110"),
    # A value written in another unit, and the working going on in that unit.
    ("sonar", "d = 1480*0.054/2 = 39.96 m = 3996 cm\nx = 3996 - 1250 = 2746 cm", {}, "111"),
    ("accumulator", "Q1 = 0.035*240 = 8.4 C = 8400 mC\nQ = 8400 + 3200 = 11600 mC", {}, "111"),
    ("cell", "E = 6.63e-34*9.5e14 = 6.30e-19 J = 3.94 eV\nEk = 3.94 - 2.3 = 1.64 eV", {}, "1111"),
    ("cell", "1.64 eV\nE = 6.63e-34*9.5e14 = 6.30e-19 J = 3.94 eV\n3.94 - 2.3 = 1.64", {}, "1111"),
    ("cell", "E = 6.63e-34*9.5e14 = 6.30e-19 J\nEk = 6.30e-19 - 2.3 = -2.3 J", {}, "1110"),
    # A datum copied wrongly before it is put in costs the substitution and is followed (IBM2); invented values are not.
    ("cell", "E = 6.63e-34*9.5e14 = 6.30e-19 J\nW = 3.2*1.6e-19 = 5.12e-19 J\nEk = 6.30e-19 - 5.12e-19 = 1.18e-19 J", MISREAD, "1101"),
    ("turntable", "v = 2π × 0.41/1.2 = 2.15 m/s\nF = 0.30 × 2.15²/0.41 = 3.4 N", MISREAD, "1101"),
    ("turntable", "F = mv²/r = 0.30 × 3.0²/0.14 = 19.3 N", MISREAD, "0100"),
    # One wrong loop spoils both currents; a slip of arithmetic only the one it is in.
    ("loops", "6 = 2I1 + 5(I1+I2)\n4.5 = -I2 + 5(I1+I2)\nI1 = 0.115 A\nI2 = 1.04 A", {"follow_wrong_physics": True}, "1000"),
    ("loops", "6 = 2I1 + 5I2\n4.5 = I2 + 5(I1+I2)\nI1 = 0.75 A\nI2 = 0.9 A", {"follow_wrong_physics": True}, "0100"),
    ("loops", "6 = 2I1 + 5(I1+I2)\n4.5 = I2 + 5(I1+I2)\nI1 = 0.97 A\nI2 = -0.158 A", {}, "1101"),
    ("loops", "6 = 7I1 + 5I2\n4.5 = 5I1 + 6I2\nI1 = 0.79 A\nI2 = (4.5 - 5 × 0.79)/6 = 0.092 A", {}, "1111"),
    # A factor that does not belong makes the relationship a wrong one, in letters and in the numbers after it.
    ("heater", "R = (1/2)(V/I) = (1/2) × (9.0/0.45) = 10 Ω", {}, "000"),
    ("heater", "R = 2V/I = 2 × 9.0/0.45 = 40 Ω", {}, "000"),
    ("heater", "V = IR/2\n9.0 = 0.45 × R/2\nR = 40 Ω", {}, "000"),
    # One letter for the datum and for what is sought of the same kind.
    ("shield", "I0 = 850 exp(-0.42 × 3.6) = 187 W/m^2", {}, "111"),
    ("shield", "I0 = 850 exp(-0.42 × 6.3) = 60 W/m^2", MISREAD, "101"),
    ("kettle", "T = 18 + 35 × 600/(0.50 × 4200) = 28 °C", {}, "111"),
]


@pytest.mark.parametrize(("part", "typed", "rulings", "points"), ROWS, ids=[f"{r[0]}: {r[1][:40]}" for r in ROWS])
def test_points(part: str, typed: str, rulings: dict[str, Any], points: str) -> None:
    result = mark(one_part(rulings, **PARTS[part]), typed)
    assert "".join("1" if a.mark else "0" for a in result.awards) == points, [a.reason for a in result.awards]


def test_a_temperature_in_celsius_is_no_fault() -> None:
    result = mark(one_part(**PARTS["kettle"]), "T2 = 18 + 35 × 600/(0.50 × 4200) = 28 °C")
    assert [line.verdict for line in result.lines] == ["right"]


BLOCKS = {"given": {"m": "0.45 kg", "M": "0.85 kg", "u": "3.2 m/s"}, "find": "v", "unit": "m/s", "using": ["m*u = (m+M)*v"]}
SLIDE = {"given": {"m": "26 kg", "v": "3.1 m/s", "s": "18.0 m"}, "find": "F", "unit": "N", "using": ["E = 1/2*m*v^2", "E = F*s"]}
BY_ACCELERATION = {**SLIDE, "route": [{"using": ["v^2 = 2*a*s", "F = m*a"]}]}
PHOTON = {"data": {"h": "6.63e-34 J s", "c": "3.00e8 m/s"}, "given": {"λ": "520 nm"}, "find": "E", "unit": "J", "using": ["E = h*c/λ"]}
PEAK = {"given": {"V": "15 V"}, "find": "V_0", "unit": "V", "using": ["V_0 = √2*V"]}
BESIDE = [
    # the part's own letter beside a general v: each means what makes its line right
    (BLOCKS, "p = mv", "mu = (m + M)v\nv = 0.45 × 3.2/1.30 = 1.11 m/s"),
    # a line of the first method beside another method changes nothing of that
    (BY_ACCELERATION, "124.93 = F × 18.0", "v² = 2as; a = 3.1²/(2 × 18.0) = 0.267 m/s²; F = ma = 26 × 0.267 = 6.94 N"),
    (BY_ACCELERATION, "E = ½mv²", "v² = 2as; a = 3.1²/(2 × 18.0) = 0.267 m/s²; F = ma = 26 × 0.267 = 6.94 N"),
    # the product worked out before is h c, also where the value sought stands above it
    (PHOTON, "E = 3.825 × 10⁻¹⁹ J", "E = hc/λ = 1.99 × 10⁻²⁵/5.20 × 10⁻⁷ = 3.8 × 10⁻¹⁹ J"),
    # an answer written first, its working under it, and the working begun above it as well
    (PEAK, "V₀ = √2 × 15", "21 V peak because 15 × 1.414 = 21"),
]


@pytest.mark.parametrize(("part", "line", "typed"), BESIDE, ids=[f"{r[1]} | {r[2][:40]}" for r in BESIDE])
def test_a_right_line_before_takes_nothing_away(part: dict[str, Any], line: str, typed: str) -> None:
    """Common practice, no source."""
    made = one_part(**part)
    before, after = mark(made, typed.replace("; ", "\n")), mark(made, "\n".join((line, *typed.split("; "))))
    assert after.mark >= before.mark == 3, [a.reason for a in (*before.awards, *after.awards)]
