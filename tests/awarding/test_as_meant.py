"""Lines that say less than they mean, or other than they say, marked as an examiner takes them.

Marks worked out by hand under the usual three-mark split; common practice, no source, except where a row names one. Numbers invented.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from tests.awarding.parts import mark, one_part

FOLLOWED = {"transcription_slip": "substitution mark, followed"}
SPLIT = [{"kind": "relationship"}, {"kind": "substitution"}, {"kind": "answer"}]

PARTS: Mapping[str, Mapping[str, Any]] = {
    "carts": {
        "given": {"m_1": "320 kg", "u": "2.5 m/s", "m_2": "130 kg"},
        "find": "v",
        "unit": "m/s",
        "using": ["m_1*u = (m_1 + m_2)*v"],
        "also": ["M = m_1 + m_2"],
        "names": {"u": ["v1", "u1"], "v": ["v2"]},
    },
    "stored": {"given": {"P": "1.8 W", "t": "7.5 h"}, "find": "E", "unit": "J", "using": ["E = P*t"]},
    "pressed": {"given": {"F": "84 N", "A": "350 cm^2"}, "find": "p", "unit": "Pa", "using": ["p = F/A"]},
    "swing": {
        "given": {"T": "2.4 s", "A": "36 cm"},
        "find": "a",
        "unit": "m/s^2",
        "using": ["a = ω^2*A"],
        "also": ["ω = 2*π/T"],
        "either_sign": True,
    },
    "freed": {
        "given": {"λ": "310 nm", "φ": "4.10e-19 J", "h": "6.63e-34 J s", "c": "3.00e8 m/s"},
        "marks": 4,
        "find": "E_k",
        "unit": "J",
        "using": ["E = h*c/λ", "E_k = E - φ"],
        "points": [{"kind": "relationship", "of": "E = h*c/λ"}, {"kind": "relationship", "of": "E_k = E - φ"}, *SPLIT[1:]],
    },
    "lamp": {
        "given": {"P": "60 W", "I": "0.85 W/m^2"},
        "find": "d",
        "unit": "m",
        "using": ["I = P/(4*π*d^2)"],
        "also": ["A = 4*π*d^2", "I = P/A"],
    },
    "source": {
        "given": {"A_0": "52 kBq", "T": "8.24 h", "t": "20.0 h"},
        "find": "A",
        "unit": "kBq",
        "using": ["A = A_0*exp(-λ*t)", "λ = ln(2)/T"],
        "points": SPLIT,
    },
    "bath": {
        "given": {"Q": "5.4 MJ", "P": "2.0 kW", "k": "15 %"},
        "find": "t",
        "unit": "s",
        "using": ["Q = (1 - k)*E", "E = P*t"],
        "points": [{"kind": "relationship", "of": "Q = (1 - k)*E"}, {"kind": "relationship", "of": "E = P*t"}, {"kind": "answer"}],
    },
    "slope": {
        "given": {"m": "15 kg", "θ": "12°", "F_R": "9.0 N", "g": "9.8 N/kg"},
        "find": "a",
        "unit": "m/s^2",
        "using": ["m*g*sin(θ) - F_R = m*a"],
    },
    "urn": {"given": {"m": "2.4 kg", "c": "4200 J kg^-1 K^-1", "ΔT": "65 K"}, "find": "Q", "unit": "J", "using": ["Q = m*c*ΔT"]},
    "hoist": {
        "given": {"N": "9", "m": "22 kg", "h": "3.5 m", "t": "40 s", "g": "9.81 N/kg"},
        "find": "P",
        "unit": "W",
        "using": ["P = N*m*g*h/t"],
    },
    "kiln": {
        "given": {"m": "730 g", "T_1": "18 °C", "T_2": "460 °C", "P": "2.2 kW", "η": "55 %", "c": "880 J kg^-1 K^-1"},
        "marks": 4,
        "find": "t",
        "unit": "s",
        "using": ["Q = m*c*ΔT", "Q = η*P*t"],
        "also": ["ΔT = T_2 - T_1", "E = P*t", "Q = η*E"],
        "points": [{"kind": "relationship", "of": "Q = m*c*ΔT"}, {"kind": "relationship", "of": "Q = η*P*t"}, *SPLIT[1:]],
    },
    "cell": {
        "given": {"E": "6.0 V", "r": "0.80 Ω", "R_1": "15 Ω", "R_2": "10 Ω"},
        "marks": 4,
        "find": "I",
        "unit": "A",
        "using": ["1/R = 1/R_1 + 1/R_2", "E = I*(R + r)"],
        "points": [{"kind": "relationship", "of": "1/R = 1/R_1 + 1/R_2"}, {"kind": "relationship", "of": "E = I*(R + r)"}, *SPLIT[1:]],
    },
    "heater": {
        "given": {"I": "2.4 A", "R_1": "5.5 Ω", "R_2": "3.2 Ω"},
        "find": "P",
        "unit": "W",
        "using": ["P = I^2*R_2"],
    },
    "pendulum": {"given": {"T": "1.50 s", "g": "9.81 N/kg"}, "find": "L", "unit": "m", "using": ["T = 2*π*sqrt(L/g)"]},
    "ramp": {
        "given": {"m": "6.0 kg", "h": "1.5 m", "F": "12 N", "d": "4.0 m", "g": "9.81 N/kg"},
        "find": "v",
        "unit": "m/s",
        "using": ["m*v^2/2 = m*g*h - F*d"],
        "also": ["E_k = m*v^2/2"],
    },
    "net": {
        "given": {"m_1": "240 kg", "u": "1.8 m/s", "m_2": "95 kg"},
        "find": "v",
        "unit": "m/s",
        "using": ["m_1*u = (m_1 + m_2)*v"],
        "names": {"u": ["u1"]},
    },
    "thrown": {
        "marks": 3,
        "given": {"u": "4.2 m/s", "s": "1.90 m", "g": "9.81 N/kg"},
        "find": "w",
        "unit": "m/s",
        "using": ["v^2 = 2*g*s", "w^2 = u^2 + v^2"],
        "points": [{"kind": "relationship", "of": "v^2 = 2*g*s"}, {"kind": "relationship", "of": "w^2 = u^2 + v^2"}, {"kind": "answer"}],
    },
    "grating": {
        "given": {"λ": "520 nm", "d": "3.00e-6 m", "n": "3"},
        "find": "θ",
        "unit": "°",
        "using": ["n*λ = d*sin(θ)"],
    },
    "incline": {
        "marks": 4,
        "given": {"m": "620 kg", "θ": "14°", "F": "510 N", "g": "9.81 N/kg"},
        "find": "T",
        "unit": "N",
        "using": ["W_p = m*g*sin(θ)", "T = W_p + F"],
        "points": [{"kind": "relationship", "of": "W_p = m*g*sin(θ)"}, {"kind": "relationship", "of": "T = W_p + F"}, *SPLIT[1:]],
    },
    "wire": {
        "marks": 4,
        "given": {"L": "24 m", "d": "3.6 mm", "ρ": "1.72e-8 Ω m"},
        "find": "R",
        "unit": "Ω",
        "using": ["R = ρ*L/A", "A = π*d^2/4"],
        "also": ["r = d/2", "A = π*r^2"],
        "points": [{"kind": "relationship", "of": "R = ρ*L/A"}, {"kind": "relationship", "of": "A = π*d^2/4"}, *SPLIT[1:]],
    },
    "kettle": {
        "marks": 3,
        "given": {"m": "1.3 kg", "c": "4180 J kg^-1 K^-1", "T_1": "16 °C", "T_2": "83 °C", "P": "2000 W"},
        "find": "t",
        "unit": "s",
        "using": ["E = m*c*ΔT", "E = P*t"],
        "also": ["ΔT = T_2 - T_1"],
        "names": {"ΔT": ["Δθ", "rise"]},
        "points": [{"kind": "relationship", "of": "E = m*c*ΔT"}, {"kind": "relationship", "of": "E = P*t"}, {"kind": "answer"}],
    },
    "weir": {
        "marks": 4,
        "given": {"m": "140 kg", "h": "2.6 m", "η": "58 %", "t": "1.0 s", "g": "9.81 N/kg"},
        "find": "P",
        "unit": "W",
        "using": ["P_in = m*g*h/t", "η = P/P_in"],
        "also": ["E = m*g*h", "P_in = E/t", "W = m*g"],
        "points": [{"kind": "relationship", "of": "P_in = m*g*h/t"}, {"kind": "relationship", "of": "η = P/P_in"}, *SPLIT[1:]],
    },
    "battery": {
        "given": {"E": "18.6 V", "r": "0.22 Ω", "R": "1.30 Ω"},
        "find": "I",
        "unit": "A",
        "using": ["E = I*(R + r)"],
        "also": ["R_T = R + r", "E = I*R_T", "V = I*R", "V = E - I*r"],
    },
    "crank": {"given": {"F": "210 N", "d": "0.45 m"}, "find": "M", "unit": "N m", "using": ["M = F*d"]},
    "lifted": {"given": {"F": "210 N", "d": "0.45 m"}, "find": "W", "unit": "J", "using": ["W = F*d"]},
    "frost": {
        "marks": 4,
        "given": {"m": "3.0 kg", "c": "900 J kg^-1 K^-1", "T_1": "-6.0 °C", "T_2": "12.0 °C", "P": "450 W"},
        "find": "t",
        "unit": "s",
        "using": ["E = m*c*ΔT", "E = P*t"],
        "also": ["ΔT = T_2 - T_1"],
        "points": [{"kind": "relationship", "of": "E = m*c*ΔT"}, {"kind": "relationship", "of": "E = P*t"}, *SPLIT[1:]],
    },
    "plate": {"given": {"A": "0.040 m^2", "P": "14.2 W"}, "find": "T", "unit": "K", "using": ["P = σ*A*T^4"], "points": SPLIT},
    "stay": {
        "given": {"F": "510 N", "θ": "34°"},
        "find": "T",
        "unit": "N",
        "using": ["F = T*sin(θ)"],
        "also": ["F = T*cos(φ)", "φ = 90° - θ"],
    },
    "sledder": {
        "marks": 4,
        "given": {"T": "290 N", "θ": "22°", "F": "110 N", "m": "64 kg"},
        "find": "a",
        "unit": "m/s^2",
        "using": ["T_x = T*cos(θ)", "T_x - F = m*a"],
        "also": ["F_R = T_x - F", "F_R = m*a"],
        "points": [{"kind": "relationship", "of": "T_x = T*cos(θ)"}, {"kind": "relationship", "of": "T_x - F = m*a"}, *SPLIT[1:]],
    },
    "horn": {"given": {"f_s": "520 Hz", "v": "340 m/s", "v_s": "7.5 m/s"}, "find": "f_o", "unit": "Hz", "using": ["f_o = f_s*v/(v - v_s)"]},
    "balloon": {
        "given": {"p_1": "1.01e5 Pa", "V_1": "2.4 m^3", "T_1": "290 K", "p_2": "0.62e5 Pa", "T_2": "262 K"},
        "find": "V_2",
        "unit": "m^3",
        "using": ["p_1*V_1/T_1 = p_2*V_2/T_2"],
        "names": {"V_2": ["V"]},
    },
    "level": {
        "given": {"I": "3.0e-5 W/m^2", "I_0": "1.0e-12 W/m^2"},
        "find": "L",
        "unit": "dB",
        "using": ["L = 10*log10(I/I_0)"],
    },
    "wheel": {
        "given": {"I": "240 kg m^2", "f": "18 min^-1"},
        "find": "E",
        "unit": "J",
        "using": ["ω = 2*π*f", "E = 1/2*I*ω^2"],
        "also": ["T = 1/f", "ω = 2*π/T"],
        "points": [{"kind": "relationship", "of": "ω = 2*π*f"}, {"kind": "relationship", "of": "E = 1/2*I*ω^2"}, {"kind": "answer"}],
    },
    "yield": {"given": {"P_o": "25 W", "P_i": "40 W"}, "find": "η", "unit": "%", "using": ["η = P_o/P_i"]},
    "photons": {
        "given": {"P": "12 W", "E": "3.6e-19 J", "t": "1.0 s"},
        "find": "N",
        "unit": "",
        "using": ["P*t = N*E"],
    },
    "ice": {
        "given": {"m": "8.0 kg", "c": "4200 J kg^-1 K^-1", "ΔT": "20 K", "L": "3.3e5 J/kg"},
        "find": "Q",
        "unit": "J",
        "using": ["Q_1 = m*c*ΔT", "Q_2 = m*L", "Q = Q_1 + Q_2"],
        "points": [{"kind": "relationship", "of": "Q_1 = m*c*ΔT"}, *SPLIT[1:]],
    },
    "halves": {
        "given": {"A_0": "52 kBq", "T": "8.24 h", "t": "20.0 h"},
        "find": "A",
        "unit": "kBq",
        "using": ["A = A_0*(1/2)^(t/T)"],
    },
    "sledge": {"given": {"m": "35 kg", "θ": "7.5°", "g": "9.81 N/kg"}, "find": "F", "unit": "N", "using": ["F = m*g*sin(θ)"]},
}

Rulings = dict[str, Any]
ROWS: list[tuple[str, str, Rulings, str]] = [
    # A sum that lost its brackets, in letters as in numbers; another name for u beside u itself is another quantity.
    ("carts", "m1u = m1+m2v\nv = 320x2.5/320+130 = 1.78 m/s", {}, "111"),
    ("carts", "m1 v1 = (m1 + m2) u\n320 × 2.5 = 450 u\nu = 1.78 m/s", {}, "111"),
    ("carts", "m1u = m1v + m2\nv = 4.6 m/s", {}, "000"),
    # Numbers on one line, what they come to on the next.
    ("carts", "=320*2.5/(320+103)\n1.89 m/s", FOLLOWED, "101"),
    ("carts", "=320*2.5/(320+103)\n1.78 m/s", FOLLOWED, "100"),
    # A conversion half done: a conversion all the same, charged to the answer.
    ("stored", "E = Pt = 1.8 × 7.5 × 60 = 810 J", {}, "110"),
    ("stored", "7.5 × 60 = 450 s\nE = 1.8 × 450 = 810 J", {}, "110"),
    ("stored", "E = Pt = 1.8 × 7.5 × 360 = 4860 J", {}, "100"),
    ("pressed", "A = 350/100 = 3.5\np = 84/3.5 = 24 Pa", {}, "110"),
    # The sign of an acceleration asked for as a size.
    ("swing", "a = -ω²A\nω = 2π/2.4 = 2.62\na = 2.62² × 0.36 = 2.47 m/s²", {}, "111"),
    ("swing", "a = -ω²A\nω = 2π/2.4 = 2.62\na = 2.62² × 36 = 247 m/s²", {}, "110"),
    # A power of ten written once, at the end of a sum.
    ("freed", "E = hc/λ = 6.42 × 10^-19 J\nEk = 6.42 - 4.10 = 2.32 × 10^-19 J", {}, "1111"),
    ("freed", "E = hc/λ = 6.42 × 10^-19 J\nEk = 6.42 + 4.10 = 10.5 × 10^-19 J", {}, "1000"),
    # A lost superscript is no letter that may stand for anything.
    ("lamp", "I = P/d2\nd2 = 60/0.85 = 70.6\nd = 8.4 m", {}, "000"),
    ("lamp", "I = P/4πd2\nd2 = 60/(4π × 0.85) = 5.62\nd = 2.37 m", {}, "111"),
    # Two data in each other's place, and digits exchanged in a value left in hours, followed where the ruling follows.
    ("lamp", "I = P/(4πd²)\n60 = 0.85/(4πd²)\nd = 0.0336 m", FOLLOWED, "101"),
    ("lamp", "I = P/(4πd²)\n60 = 0.85/(4πd²)\nd = 0.0336 m", {"transcription_slip": "stop"}, "100"),
    ("source", "λ = ln2/T = 0.693/8.42 = 0.0823\nA = A0 e^-λt = 52 × e^(-0.0823 × 20.0) = 10.0 kBq", FOLLOWED, "101"),
    # What is left of the whole, as a fraction of the energy or of the power.
    ("bath", "0.85 × 2000 = 1700 W\nt = 5.4 × 10^6/1700 = 3180 s", {}, "111"),
    ("bath", "5.4 × 10^6/0.85 = 6.35 × 10^6 J\nt = 6.35 × 10^6/2000 = 3180 s", {}, "111"),
    ("bath", "t = Q/P = 5.4 × 10^6/2000 = 2700 s", {}, "000"),
    # A datum in thousands where the result is; the letters of one crate and the numbers of nine.
    ("urn", "Q = mcT = 2.4 × 4.2 × 65 = 655 kJ", {}, "111"),
    ("hoist", "P = mgh/t = 9 × 22 × 9.81 × 3.5/40 = 170 W", {}, "111"),
    ("hoist", "P = mgh/t = 22 × 9.81 × 3.5/40 = 18.9 W", {}, "000"),
    ("hoist", "P = Nmgt/h = 9 × 22 × 9.81 × 3.5/40 = 170 W", {}, "000"),
    # The angle that makes it a right one, with and without its degrees.
    ("sledge", "90 − 7.5 = 82.5\nF = 35 × 9.81 × cos 82.5 = 44.8 N", {}, "111"),
    ("sledge", "angle to the vertical = 90 − 7.5 = 82.5°\nF = 35 × 9.81 × cos 82.5° = 44.8 N", {}, "111"),
    # An answer first, with its unit, and a bare number after it; a level without its unit; LaTeX with the base of the logarithm.
    ("level", "74.8 dB because the ratio is 3.0 × 10^7 and its lg is 7.48", {}, "111"),
    ("level", "L = 10 lg(I/I0) = 10 lg(3.0 × 10^-5/10^-12) = 74.8", {}, "110"),
    ("level", "$L = 10\\log_{10}\\frac{I}{I_0} = 10\\log_{10}\\frac{3.0\\times10^{-5}}{10^{-12}} = 74.8\\,\\text{dB}$", {}, "111"),
    # What the numbers of several sentences come to together.
    ("slope", "Force down the slope = mg sin 12 = 15 × 9.8 × 0.208 = 30.6 N, less 9.0 leaves 21.6 N. a = 21.6/15 = 1.44 m/s^2", {}, "111"),
    # Another number in the place of a quantity between is no relationship for it.
    ("wheel", "18/60 = 0.30\nE = 0.5 × 240 × 0.30^2 = 10.8 J", {}, "010"),
    ("wheel", "ω = 2π × 18/60 = 1.88\nE = 0.5 × 240 × 1.88^2 = 426 J", {}, "111"),
    # A ratio the wrong way up, given in per cent.
    ("yield", "25/40 × 100 = 62.5 %", {}, "111"),
    ("yield", "40/25 × 100 = 160 %", {}, "000"),
    # A number a second: the second need not be written.
    ("photons", "N = P/E = 12/3.6×10^-19 = 3.3×10^19", {}, "111"),
    # An own value carried on wrongly loses the substitution, whatever was put in before it; where no mark pays for it, the answer.
    ("ice", "Q1 = 8.0 × 4200 × 20 = 672000 J\nQ2 = 8.0 × 3.3 × 10^5 = 2640000 J\nQ = 627000 + 2640000 = 3.27 × 10^6 J", FOLLOWED, "101"),
    ("bath", "5.4 × 10^6/0.85 = 6.35 × 10^6 J\nt = 6.35 × 10^6/2500 = 2541 s", FOLLOWED, "110"),
    # Standard form in words.
    ("photons", "number = 12 divided by 3.6 times 10^-19 = 3.3 times 10^19 photons", {}, "111"),
    # Half-lives counted: the superscript of the half lost, or put in words.
    ("halves", "20.0/8.24 = 2.43 half-lives\nA = 52 x (1/2)2.43 = 9.7 kBq", {}, "111"),
    ("halves", "20 over 8.24 = 2.43\n52 times a half to the power 2.43 = 9.7 kBq", {}, "111"),
    ("halves", "A = A0(1/2)n\nn = 20.0/8.24 = 2.43\nA = 52 × (1/2)2.43 = 9.7 kBq", {}, "111"),
    ("halves", "A = A0(1/2)(t/T) = 9.7 kBq", {}, "111"),
    ("halves", "A = 52 × (1/2)2.43 = 63.2 kBq", {}, "000"),
    # One side worked out, the other left as it is.
    ("slope", "mg sinθ − F = ma\n15×9.8×sin 12° − 9.0 = 15a\n21.6 = 15a\na = 1.44 m/s²", {}, "111"),
    # One letter for two things: the rise of temperature t where the time is t; the relationship is right, the datum put in for R is not.
    ("kiln", "Q = mct = 0.73 × 880 × 442 = 283941 J", {}, "1000"),
    ("heater", "P = I²R_1 = 2.4² × 5.5 = 31.7 W", FOLLOWED, "101"),
    ("heater", "P = IR_1 = 2.4 × 5.5 = 13.2 W", FOLLOWED, "000"),
    # The heat worked out in the head, and the efficiency left out.
    ("kiln", "283941/2200 = 129 s", {}, "1000"),
    # A potential of the candidate's own: what leaves the cell goes through the two.
    ("cell", "Let V be the terminal p.d.\nV/15 + V/10 = (6.0 − V)/0.80\nV = 5.29 V\nI = (6.0 − 5.29)/0.80 = 0.88 A", {}, "1111"),
    ("cell", "V/15 + V/10 = (6.0 + V)/0.80", {}, "0000"),
    # One long line in which "=" comes to mean "so".
    ("pendulum", "T = 2π√(L/g) = 1.50 = L/g = (1.50/2π)² = 0.0570 = L = 0.0570 × 9.81 = 0.559 m", {}, "111"),
    ("pendulum", "T = 2π√(L/g) = 1.50 = L/g = 1.50/2π = 0.239 = L = 0.239 × 9.81 = 2.34 m", {}, "100"),
    # A definition written wrongly: what rests on it does not show the whole.
    ("ramp", "E_k = mgh − Fd = 88.3 − 48 = 40.3 J\nE_k = mv²\nv = √(40.3/6.0) = 2.59 m/s", {}, "000"),
    ("ramp", "E_k = mgh − Fd = 88.3 − 48 = 40.3 J\nE_k = ½mv²\nv = √(2 × 40.3/6.0) = 3.67 m/s", {}, "111"),
    # A body at rest whose speed is written all the same; a mass that cancels.
    ("net", "m1u1 + m2u2 = (m1 + m2)v\n240 × 1.8 + 95 × 0 = (240 + 95)v\nv = 1.29 m/s", {}, "111"),
    ("net", "m1u1 + m2u2 = (m1 − m2)v\n240 × 1.8 + 95 × 0 = (240 − 95)v\nv = 2.98 m/s", {}, "000"),
    ("thrown", "½mv² = ½mu² + mgh\nv² = 4.2² + 2 × 9.81 × 1.90\nv = 7.41 m/s", {}, "111"),
    # A number of things left out is a wrong substitution of a relationship stated rightly.
    ("grating", "nλ = d sin θ\nsin θ = 520e-9/3.00e-6 = 0.173\nθ = 9.98°", FOLLOWED, "101"),
    ("grating", "sin θ = 520e-9/3.00e-6 = 0.173\nθ = 9.98°", FOLLOWED, "000"),
    # One of two relationships shown, with a wrong piece in its right place.
    ("incline", "T = mg cos θ + F = 620 × 9.81 × cos 14° + 510 = 6411 N", {}, "0100"),
    ("incline", "T = mg + F = 620 × 9.81 + 510 = 6592 N", {}, "0100"),
    ("incline", "T = mg sin θ − F = 620 × 9.81 × sin 14° − 510 = 961 N", {}, "1000"),
    ("cell", "I = E/(R1 + R2 + r) = 6.0/(15 + 10 + 0.80) = 0.233 A", {}, "0100"),
    # The subject called by the letter of a datum.
    ("incline", "F1 = mg sin 14 = 620 × 9.81 × 0.242 = 1471 N\nF = F1 + 510 = 1981 N", {}, "1111"),
    # The diameter for the radius: the area's formula is the right one.
    ("wire", "A = πr² = π × 0.0036² = 4.07 × 10^-5\nR = 1.72 × 10^-8 × 24/4.07 × 10^-5 = 0.0101 Ω", FOLLOWED, "1101"),
    # A rise of temperature typed t; another temperature for it, where no mark pays for the values put in.
    ("kettle", "E = mct\n1.3 × 4180 × 67 = 364078\nt = 364078/2000 = 182 s", FOLLOWED, "111"),
    ("kettle", "E = 1.3 × 4180 × 83 = 451022 J\nt = E/P = 451022/2000 = 226 s", FOLLOWED, "010"),
    ("kettle", "ΔT = 38 − 16 = 22\nE = mcΔT = 1.3 × 4180 × 22 = 119548 J\nt = E/P = 119548/2000 = 60 s", FOLLOWED, "110"),
    # The work called W where the part means the weight by it; g left out spoils one relationship and not the next.
    ("weir", "W = mgh = 140 × 9.81 × 2.6 = 3571 J\nη = Wu/W → Wu = 0.58 × 3571 = 2071 J in one second\nP = 2071 W", {}, "1111"),
    ("weir", "E = mh = 140 × 2.6 = 364\nP = 364 × 0.58 = 211 W", {}, "0100"),
    # A total put in that was added up in the head.
    ("battery", "18.6/1.52 = 12.2 A", {}, "111"),
    ("battery", "I = 18.6/1.30 = 14.3 A", {}, "000"),
    # The joule is kept for energy (SI Brochure, 2.3.4), and a newton metre of work is a joule.
    ("crank", "M = Fd = 210 × 0.45 = 94.5 J", {}, "110"),
    ("crank", "M = Fd = 210 × 0.45 = 94.5 Nm", {}, "111"),
    ("lifted", "W = Fd = 210 × 0.45 = 94.5 N m", {}, "111"),
    # A letter used for a component, then for the whole; squares that have lost their superscripts.
    ("thrown", "v = √(2 × 9.81 × 1.90) = 6.11 m/s\nv² = 4.2² + 6.11²\nv = 7.41 m/s", {}, "111"),
    ("thrown", "v = √(2 × 9.81 × 1.90) = 6.11 m/s\nv2 = 4.22 + 6.112 = 55.0\nv = 7.41 m/s", {}, "111"),
    # A temperature below freezing: its sign beside it, written once, or lost.
    ("frost", "ΔT = 12.0 − (−6.0) = 18.0 °C\nE = mcΔT = 3.0 × 900 × 18.0 = 48600 J\nt = E/P = 48600/450 = 108 s", {}, "1111"),
    ("frost", "E = 3.0 × 900 × (12.0 + 6.0) = 48600\nt = 48600/450 = 108 s", {}, "1111"),
    ("frost", "ΔT = 12.0 − 6.0 = 6.0 K\nE = mcΔT = 3.0 × 900 × 6.0 = 16200 J\nt = E/P = 16200/450 = 36 s", FOLLOWED, "1101"),
    # The right number of kelvins is the wrong number of degrees Celsius.
    ("plate", "T⁴ = 14.2/(5.67e-8 × 0.040) = 6.26e9\nT = 281 K", {}, "111"),
    ("plate", "T⁴ = 14.2/(5.67e-8 × 0.040) = 6.26e9\nT = 281 °C", {}, "110"),
    # The root left out, or the square root of a fourth power, after the relationship.
    ("plate", "P = σAT⁴\nT = √(14.2/(5.67e-8 × 0.040)) = 79000 K", {}, "110"),
    ("plate", "T = √(14.2/(5.67e-8 × 0.040)) = 79000 K", {}, "000"),
    # An own letter for the angle given is not its complement.
    ("stay", "F = T sin x\n510 = T × sin 34\nT = 912 N", {}, "111"),
    ("stay", "F = T cos x\n510 = T × cos 34\nT = 615 N", FOLLOWED, "000"),
    # The letter of the friction given, for the resultant force; a mass miscopied under it.
    ("sledder", "290 cos 22 = 269 N\nF = 269 − 110 = 159 N\na = F/m = 159/64 = 2.48 m/s²", {}, "1111"),
    ("sledder", "290 cos 22 = 269 N\nFun = 269 − 110 = 159 N\na = F/m = 159/46 = 3.46 m/s²", FOLLOWED, "1101"),
    # The source's letter for the frequency heard; a number that is right by chance and follows from a misread one.
    ("horn", "f = 520 × 340/(340 − 5.7)\nf = 529 Hz", FOLLOWED, "101"),
    # Any state, where the letter by itself is a name of the second.
    ("balloon", "pV/T = constant", {}, "100"),
]


@pytest.mark.parametrize(("part", "typed", "rulings", "points"), ROWS, ids=[f"{r[0]}: {r[1][:40]}" for r in ROWS])
def test_points(part: str, typed: str, rulings: Rulings, points: str) -> None:
    result = mark(one_part(rulings, **PARTS[part]), typed)
    assert "".join("1" if a.mark else "0" for a in result.awards) == points, [a.reason for a in result.awards]
