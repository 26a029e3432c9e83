"""The rows of test_issues: issue → rule → marks, each row of the conventions file's table 1.3 by its place in it.

Source field: the published key, else "from memory"; "not certain" marks a row the conventions file is not sure of ([M?]), tested as an
option of a ruling and never as the default. The resistor is that of BA7377; the other parts are invented.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from tests.awarding.switch_rows import RESISTOR, SETTINGS

ISSUES = (
    "marking direction",
    "marks recorded on script",
    "half marks",
    "no working, right value and unit",
    "no working, wrong",
    "no working, right value, no or wrong unit",
    "relationship implied by correct substitution",
    "relationship stated then not used, or several listed",
    'relationship given only as a "triangle"',
    "right relationship and substitution, wrong arithmetic",
    "wrong substitution",
    "wrong relationship",
    "wrong physics leading to right number",
    "rearranged symbols wrongly",
    "rearranged numbers wrongly",
    "squared term: square written",
    "squared term: square absent",
    "unit missing",
    "unit wrong",
    "same unit fault again",
    "case of unit symbol",
    "equivalent unit",
    "unit on intermediate lines",
    "prefix or conversion missed",
    "significant figures",
    "– example",
    "– recurring-dot or ellipsis",
    "rounding wrong",
    "rounding in intermediate lines",
    "scientific notation",
    "fraction as final answer",
    "wrong value from the data sheet",
    "value of g",
    "carry-forward across parts",
    "carry-forward within one part",
    'carry-forward into a "show that"',
    "non-standard symbols",
    '"show that"',
    '"must justify"',
    "diagram or sketch as answer",
    "surplus working or information",
    "correct answer then contradicted",
    "two answers",
    "crossed out",
    "spelling",
    "numerical gradient",
    "follow-on in 4- and 5-mark chains",
    "command words",
)
"""The first words of each row of the table, in its order."""

NOT_FOR_AN_ENGINE = {
    "marks recorded on script": "how a person writes the mark down; that no mark is below nothing is a law (test_laws)",
    "diagram or sketch as answer": "responses are typed; a line that points to a sketch sends the response to a person (test_laws)",
    "command words": "what a question's verb asks for; the scheme says it by the kind of part",
}


@dataclass(frozen=True)
class Row:
    """`typed` has its lines parted by "; ", and in a paper its parts by " / ". `said` is what is particular to it."""

    issue: str
    said: str
    typed: str
    marks: float
    source: str
    setting: str = "resistor"
    rulings: Mapping[str, Any] = field(default_factory=dict)
    referred: bool = False

    def __str__(self) -> str:
        return f"{self.issue}, {self.said}: {self.typed}"


MORE: Mapping[str, Mapping[str, Any]] = {
    "kinetic": {"given": {"m": "4.0 kg", "v": "2.0 m/s"}, "find": "E", "unit": "J", "using": ["E = 1/2*m*v^2"]},
    # ½ × 0.307 × 7.29² = 8.15762 J: three figures, and the value of the conventions file's example but for its last figure
    "ball": {"given": {"m": "0.307 kg", "v": "7.29 m/s"}, "find": "E", "unit": "J", "using": ["E = 1/2*m*v^2"]},
    "light": {"given": {"f": "5.0e14 Hz", "c": "3.00e8 m/s"}, "find": "λ", "unit": "m", "using": ["c = f*λ"]},
    "beam": {"given": {"f": "5.0e14 Hz", "λ": "6.0e-7 m"}, "find": "c", "unit": "m/s", "using": ["c = f*λ"]},
    "car": {"given": {"s": "60 km", "t": "1.5 h"}, "find": "v", "unit": "m/s", "using": ["v = s/t"]},
    "run": {"given": {"s": "3.0 km", "t": "600 s"}, "find": "v", "unit": "m/s", "using": ["v = s/t"]},
    "flash": {"given": {"E": "6.0 J", "t": "40 ms"}, "find": "P", "unit": "W", "using": ["P = E/t"]},
    "iron": {"given": {"P": "2000 W", "t": "5.0 min"}, "find": "E", "unit": "J", "using": ["E = P*t"]},
    "third": {"given": {"V": "8.5 V", "I": "1.5 A"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
    "block": {"given": {"F": "12 N", "A": "0.50 m^2"}, "find": "p", "unit": "Pa", "using": ["p = F/A"]},
    "siren": {"given": {"I": "2.0e-6 W/m^2", "I_0": "1.0e-12 W/m^2"}, "find": "β", "unit": "dB", "using": ["β = 10*log(I/I_0)"]},
    "dose": {"given": {"D": "0.020 Gy", "w": "20"}, "find": "H", "unit": "Sv", "using": ["H = D*w"]},
    "source": {"given": {"N": "480", "t": "60 s"}, "find": "A", "unit": "Bq", "using": ["A = N/t"]},
    "load, 2 figures": {"given": {"m": "3.2 kg"}, "find": "W", "unit": "N", "using": ["W = m*g"]},
    "ladder": {
        "given": {"m": "2.0 kg", "h": "5.0 m", "t": "0.40 s", "g": "9.8 N/kg"},
        "find": "P",
        "unit": "W",
        "marks": 4,
        "using": ["E = m*g*h", "P = E/t"],
    },
    "pump": {
        "given": {"m": "3.0 kg", "h": "4.0 m", "t": "6.0 s", "V": "7.0 V", "g": "9.8 N/kg"},
        "find": "I",
        "unit": "A",
        "marks": 5,
        "using": ["E = m*g*h", "P = E/t", "P = I*V"],
    },
    "two loops, 3 marks": {**SETTINGS["two loops"], "marks": 3},
    "resistor, 2 marks in halves": {**RESISTOR, "marks": 2},
}
ALL = {**SETTINGS, **MORE}
EARLY = "I = E/R = 2.00/3.00 = 0.67; P = I²r = 0.67² x 50 = 22.4 W"
LIGHT = "c = fλ = 5.0x10^14 x 6.0x10^-7 = "
NINE_EIGHT = {"g_values": [9.8], "other_g": "substitution"}
HALVES = {"half_marks": True, "unit_fault": "separate mark"}

ROWS = (
    Row("marking direction", "a wrong line beside takes nothing off", "R = V/I = 7.5/1.5 = 5.0 Ω; P = I/V = 0.2 W", 3, "H2013, N5-2019"),
    Row("marking direction", "what is right before a fault stays", "R = V/I = 7.5/1.5 = 4.0 V", 2, "H2013, H2017, N5-2019"),
    Row("half marks", "allowed until 2013", "R = V/I", 0.5, "H2013", "resistor, 2 marks in halves", HALVES),
    Row("half marks", "whole marks since", "R = V/I", 0, "H2013; CIE22", "resistor, 2 marks", {"unit_fault": "separate mark"}),
    Row("no working, right value and unit", "", "5.0 Ω", 3, "AH2022 (GMP 1)"),
    Row("no working, wrong", "", "4.0 Ω", 0, "from memory"),
    Row("no working, right value, no or wrong unit", "no unit", "5.0", 2, "from memory"),
    Row("no working, right value, no or wrong unit", "a wrong unit", "5.0 A", 2, "from memory"),
    Row("relationship implied by correct substitution", "", "7.5/1.5 = 4.0 Ω", 2, "US-N5"),
    Row("relationship implied by correct substitution", "and nothing after it", "R = 7.5/1.5", 2, "US-N5"),
    Row("relationship stated then not used, or several listed", "listed", "V = IR, P = IV, Q = It", 0, "from memory (GMP 3)"),
    Row("relationship stated then not used, or several listed", "not used", "V = IR; P = IV = 7.5*1.5 = 11.25 W", 0, "from memory (GMP 3)"),
    Row("relationship stated then not used, or several listed", "chosen", "V = IR, P = IV; 7.5 = 1.5R", 2, "from memory (GMP 3)"),
    Row('relationship given only as a "triangle"', "", "triangle with V over I and R", 0, "from memory (GMP 6)"),
    Row('relationship given only as a "triangle"', "and used", "triangle V I R; R = 7.5/1.5 = 5.0 Ω", 3, "from memory (GMP 6)"),
    Row("right relationship and substitution, wrong arithmetic", "", "R = V/I = 7.5/1.5 = 6.0 Ω", 2, "from memory; same ruling US-N5"),
    Row("wrong substitution", "a wrong value", "R = V/I = 7.5/2.5 = 3.0 Ω", 1, "AH2018"),
    Row("wrong substitution", "values exchanged", "V = IR; 1.5 = 7.5R; R = 0.20 Ω", 1, "AH2018"),
    Row("wrong relationship", "", "R = VI = 7.5 x 1.5 = 11.25 Ω", 0, "from memory"),
    Row("wrong physics leading to right number", "", "R = I/V = 7.5/1.5 = 5.0 Ω", 0, "from memory; annotation H2013"),
    Row("wrong physics leading to right number", "after a right statement", "R = V/I; R = 1.5/7.5 = 5.0 Ω", 1, "AH2018"),
    Row("rearranged symbols wrongly", "", "V = IR; R = VI = 7.5 x 1.5 = 11.25 Ω", 1, "from memory"),
    Row("rearranged symbols wrongly", "upside down", "V = IR; R = I/V = 1.5/7.5 = 0.20 Ω", 1, "from memory"),
    Row("rearranged numbers wrongly", "", "V = IR; 7.5 = 1.5 x R; R = 7.5 x 1.5 = 11.25 Ω", 2, "from memory"),
    Row("squared term: square written", "then ignored", "E = ½mv² = ½ x 4.0 x 2.0² = 4.0 J", 2, "from memory", "kinetic"),
    Row("squared term: square absent", "from the substitution", "E = ½mv² = ½ x 4.0 x 2.0 = 4.0 J", 1, "from memory", "kinetic"),
    Row("unit missing", "", "R = V/I = 7.5/1.5 = 5.0", 2, "from memory"),
    Row("unit wrong", "", "R = V/I = 7.5/1.5 = 5.0 W", 2, "from memory"),
    Row("case of unit symbol", "hZ", "f = 1/T = 1/0.25 = 4.0 hZ", 3, "from memory", "pulse"),
    Row("case of unit symbol", "sV", "H = Dw = 0.020 x 20 = 0.40 sV", 3, "from memory", "dose"),
    Row("case of unit symbol", "bq", "A = N/t = 480/60 = 8.0 bq", 3, "from memory", "source"),
    Row("case of unit symbol", "DB", "β = 10 log(I/I0) = 10 log(2.0x10^-6/1.0x10^-12) = 63 DB", 3, "from memory", "siren"),
    Row("equivalent unit", "J/s for W", "P = E/t = 600/4.0 = 150 J/s", 3, "not certain", "kettle", {"equivalent_units": True}),
    Row("equivalent unit", "N m⁻² for Pa", "p = F/A = 12/0.50 = 24 N m⁻²", 3, "not certain", "block", {"equivalent_units": True}),
    Row("equivalent unit", "km/h", "v = s/t = 60/1.5 = 40 km/h", 3, "not certain", "car", {"equivalent_units": True}),
    Row("equivalent unit", "km/h, wrong in number", "v = s/t = 60/1.5 = 11 km/h", 2, "not certain", "car", {"equivalent_units": True}),
    Row("equivalent unit", "refused", "p = F/A = 12/0.50 = 24 N m⁻²", 2, "not certain", "block", {"equivalent_units": False}),
    Row("unit on intermediate lines", "none", "I = E/R = 2.00/3.00 = 0.667; P = I²r = 0.667² x 50 = 22.2 W", 4, "not certain", "two loops"),
    Row(
        "unit on intermediate lines",
        "wrong",
        "I = E/R = 2.00/3.00 = 0.667 V; P = I²r = 0.667² x 50 = 22.2 W",
        4,
        "not certain",
        "two loops",
    ),
    Row("unit on intermediate lines", "wrong in the substitution", "R = V/I = 7.5 A/1.5 V = 5.0 Ω", 3, "not certain"),
    Row(
        "unit on intermediate lines",
        "that changes the value",
        "I = 2.00/3.00 = 667 A; P = 667² x 50 = 2.22e7 W",
        3,
        "not certain",
        "two loops",
    ),
    Row(
        "prefix or conversion missed", "km", "v = s/t = 3.0/600 = 0.0050 m/s", 2, "not certain", "run", {"conversion_fault": "answer mark"}
    ),
    Row("prefix or conversion missed", "ms", "P = E/t = 6.0/40 = 0.15 W", 2, "not certain", "flash", {"conversion_fault": "answer mark"}),
    Row(
        "prefix or conversion missed",
        "minutes",
        "E = Pt = 2000 x 5.0 = 10000 J",
        2,
        "not certain",
        "iron",
        {"conversion_fault": "answer mark"},
    ),
    Row(
        "prefix or conversion missed",
        "as row 12",
        "P = E/t = 6.0/40 = 0.15 W",
        1,
        "not certain",
        "flash",
        {"conversion_fault": "substitution"},
    ),
    Row("significant figures", "one fewer", "E = ½mv² = ½ x 4.0 x 2.0² = 8 J", 3, "LITH", "kinetic"),
    Row("significant figures", "two more", "E = ½mv² = ½ x 4.0 x 2.0² = 8.000 J", 3, "LITH", "kinetic"),
    Row("significant figures", "three more", "E = ½mv² = ½ x 4.0 x 2.0² = 8.0000 J", 2, "LITH; from memory (GMP 10)", "kinetic"),
    Row("– example", "one fewer", "E = ½mv² = ½ x 0.307 x 7.29² = 8.2 J", 3, "from memory; LITH", "ball"),
    Row("– example", "as many", "E = ½mv² = ½ x 0.307 x 7.29² = 8.16 J", 3, "from memory; LITH", "ball"),
    Row("– example", "one more", "E = ½mv² = ½ x 0.307 x 7.29² = 8.158 J", 3, "from memory; LITH", "ball"),
    Row("– example", "two more", "E = ½mv² = ½ x 0.307 x 7.29² = 8.1576 J", 3, "from memory; LITH", "ball"),
    Row("– example", "two fewer", "E = ½mv² = ½ x 0.307 x 7.29² = 8 J", 2, "from memory; LITH", "ball"),
    Row("– example", "three more", "E = ½mv² = ½ x 0.307 x 7.29² = 8.15762 J", 2, "from memory; LITH", "ball"),
    Row("– recurring-dot or ellipsis", "as the final form", "R = V/I = 8.5/1.5 = 5.66... Ω", 2, "from memory; LITH", "third"),
    Row("– recurring-dot or ellipsis", "in a working line", "R = V/I = 8.5/1.5 = 5.666...; R = 5.7 Ω", 3, "US-N5", "third"),
    Row("rounding wrong", "5.67 to 5.6", "R = V/I = 8.5/1.5 = 5.6 Ω", 2, "from memory", "third"),
    Row("rounding in intermediate lines", "", EARLY, 2, "not certain", "two loops, 3 marks", {"rounding_tolerance": 0.005}),
    Row("rounding in intermediate lines", "tolerated", EARLY, 3, "not certain", "two loops, 3 marks", {"rounding_tolerance": 0.02}),
    Row("scientific notation", "", LIGHT + "3.0×10⁸ m/s", 3, "not certain", "beam"),
    Row("scientific notation", "written out", LIGHT + "300000000 m/s", 3, "not certain", "beam"),
    Row("scientific notation", "a number below one", LIGHT + "0.30×10⁹ m/s", 3, "not certain", "beam"),
    Row("scientific notation", "as a calculator shows it", LIGHT + "3⁸ m/s", 2, "not certain", "beam"),
    Row("fraction as final answer", "", "R = V/I = 8.5/1.5 = 17/3 Ω", 2, "from memory; OCR15", "third"),
    Row("wrong value from the data sheet", "", "λ = c/f = 3.4 x 10^2/5.0 x 10^14 = 6.8 x 10^-13 m", 1, "from memory", "light"),
    Row("wrong value from the data sheet", "remembered", "λ = c/f = 3.1 x 10^8/5.0 x 10^14 = 6.2 x 10^-7 m", 1, "from memory", "light"),
    Row("value of g", "9.8", "W = mg = 3.2 x 9.8 = 31 N", 3, "not certain", "load, 2 figures"),
    Row("value of g", "9.81, the same number", "W = mg = 4.00 x 9.81 = 39.2 N", 3, "not certain", "load", {"g_values": [9.8]}),
    Row("value of g", "9.81, a wrong datum", "W = mg = 4.00 x 9.81 = 39.2 N", 1, "not certain", "load", NINE_EIGHT),
    Row("value of g", "10, costs the answer", "W = mg = 4.00 x 10 = 40.0 N", 2, "not certain", "load", {"other_g": "answer mark"}),
    Row("value of g", "10, a wrong datum", "W = mg = 4.00 x 10 = 40.0 N", 1, "not certain", "load", {"other_g": "substitution"}),
    Row("value of g", "10, accepted", "W = mg = 4.00 x 10 = 40.0 N", 3, "not certain", "load", {"other_g": "accepted"}),
    Row("carry-forward within one part", "a slip", "E = mgh = 2.0*9.8*5.0 = 89 J; P = E/t = 89/0.40 = 223 W", 5, "US-N5", "lift"),
    Row(
        "carry-forward within one part",
        "wrong physics, stop",
        "E = mgh² = 2.0*9.8*5.0² = 490 J; P = E/t = 490/0.40 = 1225 W",
        1,
        "not certain",
        "lift",
        {"follow_wrong_physics": False},
    ),
    Row(
        "carry-forward within one part",
        "wrong physics, followed",
        "E = mgh² = 2.0*9.8*5.0² = 490 J; P = E/t = 490/0.40 = 1225 W",
        3,
        "not certain",
        "lift",
        {"follow_wrong_physics": True},
    ),
    Row("non-standard symbols", "clear by the substitution", "Z = V/I = 7.5/1.5 = 5.0 Ω", 3, "from memory (GMP 22)"),
    Row("non-standard symbols", "defined", "let k be the resistance; k = V/I; k = 5.0 Ω", 3, "from memory (GMP 22)"),
    Row("non-standard symbols", "neither", "a = b/c", 0, "from memory (GMP 22)"),
    Row('"show that"', "a bare result", "R = 5.0 Ω", 0, "AH2022 (principle); split from memory", "show"),
    Row('"show that"', "all steps", "V = IR; 7.5 = 1.5R; R = 5.0 Ω", 2, "AH2022 (principle); split from memory", "show"),
    Row('"show that"', "the final line left out", "V = IR; 7.5 = 1.5R", 1, "AH2022 (principle); split from memory", "show"),
    Row(
        '"show that"',
        "the value without its unit",
        "V = IR; 7.5 = 1.5R; R = 5.0",
        1,
        "AH2022 (principle); split from memory",
        "show",
        {"show_unit": True},
    ),
    Row('"show that"', "the relationship alone", "V = IR; R = 5.0 Ω", 1, "AH2022 (principle); split from memory", "show"),
    Row("surplus working or information", "", "R = V/I = 7.5/1.5 = 5.0 Ω; P = IV = 11.25 W", 3, "US-N5"),
    Row("correct answer then contradicted", "", "R = V/I = 7.5/1.5 = 5.0 Ω; so R = 0.2 Ω", 2, "from memory"),
    Row("two answers", "", "R = V/I = 7.5/1.5 = 5.0 Ω or 0.2 Ω", 2, "from memory"),
    Row("two answers", "without working", "5.0 Ω or 0.2 Ω", 0, "from memory"),
    Row("crossed out", "and not replaced", "~~R = V/I = 7.5/1.5 = 5.0 Ω~~", 3, "from memory"),
    Row("crossed out", "and replaced", "~~R = V/I = 7.5/1.5 = 5.0 Ω~~; R = VI = 11.25 Ω", 0, "from memory"),
    Row("crossed out", "wrong, and replaced", "~~R = VI = 11.25 Ω~~; R = V/I = 7.5/1.5 = 5.0 Ω", 3, "from memory"),
    # one mark a relationship, one the answer, the substitutions shared; a wrong first stage carries (not certain)
    Row("follow-on in 4- and 5-mark chains", "4", "E = mgh = 2.0*9.8*5.0 = 98 J; P = E/t = 98/0.40 = 245 W", 4, "not certain", "ladder"),
    Row(
        "follow-on in 4- and 5-mark chains",
        "4, a slip first",
        "E = mgh = 2.0*9.8*5.0 = 89 J; P = E/t = 89/0.40 = 223 W",
        3,
        "not certain",
        "ladder",
    ),
    Row("follow-on in 4- and 5-mark chains", "4, half of it", "E = mgh = 2.0*9.8*5.0 = 98 J", 1, "not certain", "ladder"),
    Row(
        "follow-on in 4- and 5-mark chains",
        "5",
        "E = mgh = 118 J; P = E/t = 118/6.0 = 19.6; I = P/V = 19.6/7.0 = 2.8 A",
        5,
        "not certain",
        "pump",
    ),
    Row(
        "follow-on in 4- and 5-mark chains", "5, all in one", "I = mgh/(tV) = 3.0 x 9.8 x 4.0/(6.0 x 7.0) = 2.8 A", 5, "not certain", "pump"
    ),
    Row(
        "follow-on in 4- and 5-mark chains",
        "5, a slip in the middle",
        "E = mgh = 117.6; P = E/t = 117.6/6.0 = 16.9; I = P/V = 16.9/7.0 = 2.4 A",
        4,
        "not certain",
        "pump",
    ),
    Row("follow-on in 4- and 5-mark chains", "5, two of three", "E = mgh; P = E/t", 2, "not certain", "pump"),
)

PAPERS = (
    Row(
        "carry-forward across parts",
        "a slip before",
        "Q = It = 2.5*8.0 = 22 C / E = QV = 22*6.0 = 132 J",
        5,
        "N5-2019, AH2022 (GMP 17)",
        "charge",
    ),
    Row(
        "carry-forward across parts",
        "wrong physics before",
        "Q = I/t = 2.5/8.0 = 0.31 C / E = QV = 0.31*6.0 = 1.9 J",
        3,
        "AH2022",
        "charge",
    ),
    Row(
        "carry-forward across parts",
        "the right value all the same",
        "Q = It = 2.5*8.0 = 22 C / E = QV = 20*6.0 = 120 J",
        5,
        "common practice",
        "charge",
    ),
    Row(
        "carry-forward across parts",
        "nothing before, a value assumed",
        "- / assume Q = 50 C; E = QV = 50*6.0 = 300 J",
        3,
        "common practice, no source",
        "charge",
    ),
    Row(
        "carry-forward across parts",
        "nothing before, a value from nowhere",
        "- / E = QV; 50*6.0 = 300 J",
        1,
        "common practice, no source",
        "charge",
    ),
    Row(
        "same unit fault again",
        "once in a question",
        "R = 7.5/1.5 = 5.0 / R = 9.0/1.5 = 6.0 / R = 3.0/1.5 = 2.0",
        7,
        "not certain",
        "cells",
        {"unit_fault_scope": "question"},
    ),
    Row(
        "prefix or conversion missed",
        "once in a question",
        "R = 7.5/15 = 0.50 Ω / R = 9.0/25 = 0.36 Ω / R = 3.0/12 = 0.25 Ω",
        7,
        "not certain",
        "milliamps",
        {"conversion_fault": "power of ten", "power_of_ten_scope": "question"},
    ),
    Row(
        'carry-forward into a "show that"',
        "the value to be shown used",
        "v = sqrt(2gh) = sqrt(2*9.8*1.25) = 3.5 m/s / p = mv = 2.0*5.0 = 10 kg m/s",
        4,
        "common practice, no source",
        "drop",
    ),
    Row(
        'carry-forward into a "show that"',
        "own value in its place",
        "v = sqrt(2gh) = sqrt(2*9.8*1.25) = 3.5 m/s / p = mv = 2.0*3.5 = 7.0 kg m/s",
        3,
        "common practice, no source",
        "drop",
        {"follow_shown": False},
    ),
)
