"""Each of the 42 common errors in a candidate's own working: the department's list (conventions file, section 6) with its worked cases.

The numbers are those of the list; where it prints only numbers, the setting is invented. `marks` are those of the positive
three-mark convention: a wrong relationship stops the credit, a wrong datum leaves the relationship, a conversion or an arithmetic
slip costs the answer (AH2018, US-N5; conversions from memory).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class FaultCase:
    """`codes` are what the fault is told as: one, or several that the line cannot tell apart."""

    number: int
    part: str
    typed: str
    codes: tuple[str, ...]
    marks: float
    bare: str = ""

    def __str__(self) -> str:
        return f"row {self.number}: {self.typed}"


def _part(find: str, unit: str, using: str | list[str], **given: str) -> dict[str, Any]:
    return {"given": given, "find": find, "unit": unit, "using": [using] if isinstance(using, str) else using}


PARTS: Mapping[str, Mapping[str, Any]] = {
    "resistor": _part("R", "Ω", "V = I*R", V="7.5 V", I="1.5 A"),
    "kinetic": _part("E", "J", "E = 1/2*m*v^2", m="4.0 kg", v="2.0 m/s"),
    "fall": _part("v", "m/s", "v = sqrt(2*g*h)", g="9.8 N/kg", h="5.0 m"),
    "ramp": {**_part("s", "m", "s = 1/2*(u + v)*t", u="0 m/s", v="12 m/s", t="10 s"), "stem": "Find the distance from the mean speed."},
    "pendulum": _part("T", "s", "T = 2*pi*sqrt(l/g)", l="1.0 m", g="9.8 N/kg"),
    "wire": _part("A", "m^2", "A = pi*r^2", r="0.25 mm"),
    "press": _part("p", "Pa", "p = F/A", F="50 N", A="2.0 mm^2"),
    "syringe": _part("m", "kg", "m = ρ*V", ρ="1000 kg/m^3", V="25 cm^3"),
    "gauge": {**_part("A", "m^2", ["A = pi*r^2", "d = 2*r"], d="0.50 mm"), "names": {"d": ["diameter"], "r": ["radius"]}},
    "heater": _part("E", "J", "E = P*t", P="2000 W", t="5.0 min"),
    "car": _part("E", "J", "E = 1/2*m*v^2", m="1000 kg", v="72 km/h"),
    "tyre": _part("p_2", "kPa", "p_1/T_1 = p_2/T_2", p_1="100 kPa", T_1="20 °C", T_2="80 °C"),
    "water": _part("Q", "J", "Q = m*c*ΔT", m="2.0 kg", c="4180 J/(kg K)", ΔT="15 K"),
    "rope, up": _part("F_y", "N", "F_y = F*sin(θ)", F="10 N", θ="30°"),
    "rope, along": _part("F_x", "N", "F_x = F*cos(θ)", F="10 N", θ="30°"),
    "apple": _part("W", "N", "W = m*g", m="0.50 kg", g="9.8 N/kg"),
    "block": {**_part("a", "m/s^2", ["F = m*a", "W = m*g"], F="10 N", W="20 N", g="9.8 N/kg"), "marks": 4},
    "sack": _part("W", "N", "W = m*g", m="2.5 kg", g="9.8 N/kg"),
    "ball": {**_part("v", "m/s", "v = u + a*t", u="15 m/s", a="-9.8 m/s^2", t="2.0 s"), "signed": ["v", "u", "a"]},
    "capacitor": _part("Q", "C", "Q = C*V", C="47 µF", V="12 V"),
    "two loops": {**_part("P", "W", ["E = I*R", "P = I^2*r"], E="2.00 V", R="3.00 Ω", r="50.0 Ω"), "marks": 4},
    "parallel": _part("R", "Ω", "1/R = 1/R_1 + 1/R_2", R_1="3.0 Ω", R_2="6.0 Ω"),
    "photon": _part("λ", "m", "E = h*c/λ", E="3.0 eV", h="6.63e-34 J s", c="3.00e8 m/s"),
    "winch": {**_part("E_o", "J", "E_o = η*E_i", η="40 %", E_i="500 J"), "names": {"η": ["efficiency"]}},
    "sonar": {**_part("d", "m", "d = v*t/2", v="1500 m/s", t="0.080 s"), "stem": "An echo returns after 0.080 s."},
    "mains": {**_part("V", "V", "V = V_0/sqrt(2)", V_0="12 V"), "names": {"V_0": ["peak voltage"], "V": ["r.m.s. voltage"]}},
    "lantern": _part("I_2", "W/m^2", "I_1*d_1^2 = I_2*d_2^2", I_1="160 W/m^2", d_1="1.0 m", d_2="3.0 m"),
    "two ropes": {**_part("F", "N", "F = sqrt(F_x^2 + F_y^2)", F_x="3.0 N", F_y="4.0 N"), "names": {"F_x": ["horizontal component"]}},
    "sample": {**_part("A", "Bq", "A = A_0*(1/2)^n", A_0="80 Bq", n="3"), "names": {"n": ["number of half-lives"]}},
    "decay": _part("λ", "s^-1", "λ = ln(2)/T", T="5.0 s"),
    "grating": {**_part("λ", "m", ["λ = d*sin(θ)", "d = 1/N"], N="300 mm^-1", θ="10.2°"), "marks": 4, "names": {"N": ["lines per length"]}},
    "conductor": _part("B", "T", "B = F/(I*l)", F="6.0 N", I="2.0 A", l="3.0 m"),
    "laser": _part("λ", "m", "c = f*λ", c="3.00e8 m/s", f="6.0e14 Hz"),
    "three readings": _part("x", "cm", "x = (x_1 + x_2 + x_3)/3", x_1="2.1 cm", x_2="2.3 cm", x_3="2.2 cm"),
    "cell": {
        **_part("R", "Ω", ["V = E - I*r", "V = I*R"], E="6.0 V", I="2.0 A", r="0.50 Ω"),
        "marks": 4,
        "names": {"E": ["e.m.f.", "electromotive force"], "V": ["terminal p.d.", "terminal potential difference"]},
    },
}

CASES = (
    FaultCase(1, "resistor", "R = I/V = 1.5/7.5 = 0.20 Ω", ("inverted-quotient",), 0, "0.20 Ω"),
    FaultCase(2, "resistor", "R = VI = 7.5 x 1.5 = 11.25 Ω", ("product-for-quotient",), 0, "11.25 Ω"),
    FaultCase(3, "kinetic", "E = ½mv² = ½ x 4.0 x 2.0 = 4.0 J", ("square-omitted",), 1, "4.0 J"),
    FaultCase(3, "kinetic", "E = ½mv = ½ x 4.0 x 2.0 = 4.0 J", ("square-omitted",), 0),
    FaultCase(3, "kinetic", "E = ½mv² = ½ x 4.0 x 2.0² = 4.0 J", ("square-ignored",), 2),
    FaultCase(4, "kinetic", "E = ½mv² = (½ x 4.0 x 2.0)² = 16 J", ("whole-squared",), 1, "16 J"),
    FaultCase(5, "fall", "v = √(2gh) = √(2 x 9.8 x 5.0) = 98 m/s", ("root-forgotten",), 2, "98 m/s"),
    FaultCase(6, "kinetic", "E = mv² = 4.0 x 2.0² = 16 J", ("half-dropped",), 0),
    FaultCase(6, "ramp", "s = vt = 12 x 10 = 120 m", ("final-speed-for-mean",), 0, "120 m"),
    FaultCase(7, "pendulum", "T = √(l/g) = √(1.0/9.8) = 0.319 s", ("two-pi-dropped",), 0, "0.319 s"),
    FaultCase(8, "pendulum", "T = 2π√(g/l) = 2π√(9.8/1.0) = 19.7 s", ("inverted-under-root",), 0, "19.7 s"),
    FaultCase(9, "wire", "A = πr² = π x 0.25² = 0.196 m²", ("length-unconverted",), 2, "0.196 m²"),
    FaultCase(10, "press", "p = F/A = 50/(2.0 x 10^-3) = 25000 Pa", ("area-by-length-factor",), 2, "25000 Pa"),
    FaultCase(10, "syringe", "m = ρV = 1000 x 0.25 = 250 kg", ("volume-by-length-factor",), 2, "250 kg"),
    FaultCase(11, "gauge", "A = πr² = π x (0.50 x 10^-3)² = 7.85 x 10^-7 m²", ("diameter-for-radius",), 1, "7.85 x 10^-7 m²"),
    FaultCase(12, "heater", "E = Pt = 2000 x 5.0 = 1.0 x 10^4 J", ("time-unconverted",), 2, "1.0 x 10^4 J"),
    FaultCase(13, "car", "E = ½mv² = ½ x 1000 x 72² = 2.59 x 10^6 J", ("speed-unconverted",), 2, "2.59 x 10^6 J"),
    FaultCase(14, "tyre", "p2 = p1T2/T1 = 100 x 80/20 = 400 kPa", ("celsius-for-kelvin",), 2, "400 kPa"),
    FaultCase(15, "water", "Q = mcΔT = 2.0 x 4180 x (15 + 273) = 2.41 x 10^6 J", ("kelvin-added-to-difference",), 1, "2.41 x 10^6 J"),
    FaultCase(16, "rope, up", "Fy = F sin θ = 10 x sin 30 = -9.88 N", ("calculator-mode",), 2, "-9.88 N"),
    FaultCase(17, "rope, along", "Fx = F sin θ = 10 x sin 30 = 5.0 N", ("sine-cosine-swapped",), 0, "5.0 N"),
    FaultCase(18, "apple", "W = m = 0.50 N", ("mass-as-weight",), 0, "0.50 N"),
    FaultCase(19, "block", "a = F/m = 10/20 = 0.50 m/s²", ("weight-as-mass",), 1, "0.50 m/s²"),
    FaultCase(20, "sack", "W = mg = 2.5 x 10 = 25.0 N", ("other-g",), 2, "25.0 N"),
    FaultCase(21, "ball", "v = u + at = 15 + 9.8 x 2.0 = 34.6 m/s", ("sign",), 1, "34.6 m/s"),
    FaultCase(22, "capacitor", "Q = CV = 47 x 10^-3 x 12 = 0.564 C", ("wrong-prefix",), 2, "0.564 C"),
    FaultCase(23, "two loops", "I = E/R = 2.00/3.00 = 0.67 A; P = I²r = 0.67² x 50.0 = 22.4 W", ("rounded-early",), 3, "22.4 W"),
    FaultCase(23, "two loops", "I = E/R = 2.00/3.00 = 0.7 A; P = I²r = 0.7² x 50.0 = 24.5 W", ("rounded-to-one-figure",), 3),
    FaultCase(24, "resistor", "R = V/I = 5.7/1.5 = 3.8 Ω", ("digits-exchanged",), 1, "3.8 Ω"),
    FaultCase(25, "parallel", "1/R = 1/R1 + 1/R2 = 1/3.0 + 1/6.0 = 0.50; R = 0.50 Ω", ("last-reciprocal",), 2, "0.50 Ω"),
    FaultCase(26, "parallel", "R = R1 + R2 = 3.0 + 6.0 = 9.0 Ω", ("series-for-parallel",), 0, "9.0 Ω"),
    FaultCase(26, "parallel", "R = 1/(R1 + R2) = 1/(3.0 + 6.0) = 0.11 Ω", ("reciprocal-of-sum",), 0, "0.11 Ω"),
    FaultCase(
        27, "photon", "λ = hc/E = 6.63 x 10^-34 x 3.00 x 10^8/3.0 = 6.6 x 10^-26 m", ("electronvolt-unconverted",), 2, "6.6 x 10^-26 m"
    ),
    FaultCase(28, "winch", "Eo = ηEi = 40 x 500 = 20000 J", ("percent-as-number",), 2, "20000 J"),
    FaultCase(28, "winch", "Eo = Ei/η = 500/0.40 = 1250 J", ("efficiency-inverted",), 0, "1250 J"),
    FaultCase(29, "sonar", "d = vt = 1500 x 0.080 = 120 m", ("there-and-back",), 0, "120 m"),
    FaultCase(30, "mains", "V = V0√2 = 12 x √2 = 17.0 V", ("peak-for-rms",), 0, "17.0 V"),
    FaultCase(30, "mains", "V = V0 = 12 V", ("peak-as-rms",), 0, "12 V"),
    FaultCase(31, "lantern", "I2 = I1d1/d2 = 160 x 1.0/3.0 = 53.3 W/m²", ("inverse-for-inverse-square",), 0, "53.3 W/m²"),
    FaultCase(32, "two ropes", "F = Fx + Fy = 3.0 + 4.0 = 7.0 N", ("vectors-as-numbers",), 0, "7.0 N"),
    FaultCase(34, "sample", "A = A0/n = 80/3 = 26.7 Bq", ("half-life-divided",), 0, "26.7 Bq"),
    FaultCase(34, "sample", "A = A0/2n = 80/6 = 13.3 Bq", ("half-life-linear",), 0, "13.3 Bq"),
    FaultCase(35, "decay", "λ = log 2/T = log 2/5.0 = 0.0602 s^-1", ("log-for-ln",), 0, "0.0602 s^-1"),
    FaultCase(36, "grating", "λ = d sin θ = 300 x 10^3 x sin 10.2 = 5.3 x 10^4 m", ("lines-as-spacing",), 1, "5.3 x 10^4 m"),
    FaultCase(37, "conductor", "B = F/Il = 6.0/(2.0 x 3.0) = 9.0 T", ("bracket-dropped",), 2, "9.0 T"),
    FaultCase(
        38,
        "laser",
        "λ = c/f = 3.00 x 10^8/(6.0 x 10^14) = 5.0 x 10^-6 m",
        ("power-of-ten", "exponent-key-doubled"),
        2,
        "5.0 x 10^-6 m",
    ),
    FaultCase(39, "three readings", "x = (x1 + x2 + x3)/3 = (2.1 + 2.3 + 2.2)/3 = 5.13 cm", ("last-term-divided",), 2, "5.13 cm"),
    FaultCase(40, "laser", "λ = c/f = 340/(6.0 x 10^14) = 5.7 x 10^-13 m", ("wrong-constant",), 1, "5.7 x 10^-13 m"),
    FaultCase(41, "cell", "R = V/I = 6.0/2.0 = 3.0 Ω", ("emf-for-terminal-pd",), 1, "3.0 Ω"),
)

# Rows that are no calculation: where they are tested.
ELSEWHERE = {33: "tests/kinds/test_gradient_parts.py", 42: "tests/kinds/test_uncertainty_parts.py"}
