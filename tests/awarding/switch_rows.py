"""The rows of test_switches: a ruling, an option, a response, its marks and where the ruling comes from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class Row:
    """`typed` has its lines parted by "; ", and in a paper its parts by " / "."""

    switch: str
    option: Any
    typed: str
    marks: float
    source: str
    setting: str = "resistor"
    also: Mapping[str, Any] = field(default_factory=dict)
    referred: bool = False

    def __str__(self) -> str:
        return f"{self.switch} = {self.option}: {self.typed}"


RESISTOR = {"given": {"V": "7.5 V", "I": "1.5 A"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]}
LIFT = {
    "marks": 6,
    "given": {"m": "2.0 kg", "h": "5.0 m", "t": "0.40 s", "g": "9.8 N/kg"},
    "using": ["E = m*g*h"],
    "step": [
        {"find": "E", "marks": 3, "unit": "J", "sensible": ["10 J", "1000 J"]},
        {"find": "P", "marks": 3, "unit": "W", "using": ["P = E/t"]},
    ],
}
TOW = {
    "marks": 6,
    "given": {"a": "3.0 m/s^2", "t": "0.50 s", "F": "40 N"},
    "using": ["v = a*t"],
    "step": [{"find": "v", "marks": 3, "unit": "m/s"}, {"find": "P", "marks": 3, "unit": "W", "using": ["P = F*v"]}],
}
SETTINGS: Mapping[str, Mapping[str, Any]] = {
    "resistor": RESISTOR,
    "resistor, 2 marks": {**RESISTOR, "marks": 2},
    "resistor, 4 marks": {**RESISTOR, "marks": 4},
    "resistor, 10 marks": {
        **RESISTOR,
        "marks": 10,
        "points": [{"kind": "relationship", "marks": 4}, {"kind": "substitution", "marks": 3}, {"kind": "answer", "marks": 3}],
    },
    "show": {**RESISTOR, "marks": 2, "show": "5.0 Ω"},
    "show, with an answer": {**RESISTOR, "marks": 3, "show": "5.0 Ω"},
    "lift": LIFT,
    "lift, (i) and (ii)": {**LIFT, "step": [{**step, "label": label} for step, label in zip(LIFT["step"], ("(i)", "(ii)"), strict=True)]},
    "tow": TOW,
    "pulse": {"given": {"T": "0.25 s"}, "find": "f", "unit": "Hz", "using": ["f = 1/T"]},
    "heater": {"given": {"V": "27.6 V", "I": "64 mA"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
    "heater, power of ten": {
        "given": {"V": "27.6 V", "I": "64 mA"},
        "find": "R",
        "unit": "Ω",
        "using": ["V = I*R"],
        "marks": 4,
        "points": [{"kind": "relationship"}, {"kind": "substitution"}, {"kind": "answer"}, {"kind": "power of ten"}],
    },
    "lamp": {"given": {"V": "5.0 V", "R": "3.0 Ω"}, "find": "I", "unit": "A", "using": ["V = I*R"]},
    "coil": {"given": {"V": "8.5 V", "I": "1.5 A"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
    "diagonal": {"given": {"a": "2.0 m", "b": "2.0 m"}, "find": "c", "unit": "m", "using": ["c^2 = a^2 + b^2"]},
    "load": {"given": {"m": "4.00 kg"}, "find": "W", "unit": "N", "using": ["W = m*g"]},
    "two loops": {
        "given": {"E": "2.00 V", "R": "3.00 Ω", "r": "50.0 Ω"},
        "find": "P",
        "unit": "W",
        "marks": 4,
        "using": ["E = I*R", "P = I^2*r"],
    },
    "cells": {
        "parts": [
            {"name": "1a", "marks": 3, **RESISTOR},
            {"name": "1b", "marks": 3, "given": {"V": "9.0 V", "I": "1.5 A"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
            {"name": "2", "marks": 3, "given": {"V": "3.0 V", "I": "1.5 A"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
        ]
    },
    "milliamps": {
        "parts": [
            {"name": "1a", "marks": 3, "given": {"V": "7.5 V", "I": "15 mA"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
            {"name": "1b", "marks": 3, "given": {"V": "9.0 V", "I": "25 mA"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
            {"name": "2", "marks": 3, "given": {"V": "3.0 V", "I": "12 mA"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
        ]
    },
    "kettle": {"given": {"E": "600 J", "t": "4.0 s"}, "find": "P", "unit": "W", "using": ["P = E/t"]},
    "drop": {
        "parts": [
            {"name": "1", "marks": 2, "given": {"h": "1.25 m", "g": "9.8 N/kg"}, "find": "v", "show": "5.0 m/s", "using": ["v^2 = 2*g*h"]},
            {"name": "2", "marks": 3, "given": {"m": "2.0 kg"}, "carry": {"v": "1"}, "find": "p", "unit": "kg m/s", "using": ["p = m*v"]},
        ]
    },
    "charge": {
        "parts": [
            {"name": "1", "marks": 3, "given": {"I": "2.5 A", "t": "8.0 s"}, "find": "Q", "unit": "C", "using": ["Q = I*t"]},
            {"name": "2", "marks": 3, "given": {"V": "6.0 V"}, "carry": {"Q": "1"}, "find": "E", "unit": "J", "using": ["E = Q*V"]},
        ]
    },
    "resistance, with uncertainty": {
        "name": "a",
        "kind": "uncertainty",
        "marks": 1,
        "quantities": {"V": "(7.5 ± 0.1) V", "I": "(1.50 ± 0.05) A"},
        "using": "R = V/I",
        "find": "R",
        "unit": "Ω",
        "ask": "percentage",
        "points": ["combined"],
    },
    "orbit in letters": {
        "name": "a",
        "kind": "derivation",
        "marks": 3,
        "target": "v^2 = G*M/r",
        "using": ["F = G*M*m/r^2", "F = m*v^2/r"],
        "points": [{"kind": "start"}, {"kind": "step"}, {"kind": "target"}],
    },
    "two of four": {
        "name": "a",
        "kind": "choice",
        "marks": 2,
        "options": {"A": "charge", "B": "mass", "C": "energy", "D": "speed"},
        "key": ["A", "C"],
    },
}

WRONG_E = "E = mgh = 2.0*9.8*5.0 = 89 J; P = E/t = 89/0.40 = 223 W"
BARE_AFTER = "E = mgh = 2.0*9.8*5.0 = 89 J; P = 223 W"
SQUARED = "E = mgh^2 = 2.0*9.8*5.0^2 = 490 J; P = E/t = 490/0.40 = 1225 W"
HUGE_E = "E = mgh = 2.0*9.8*5.0 = 9800 J; P = E/t = 9800/0.40 = 24500 W"
EASY = "v = at = 3.0*0.50 = 1.0 m/s; P = Fv = 40*1.0 = 40 W"
HARD = "v = at = 3.0*0.50 = 1.2 m/s; P = Fv = 40*1.2 = 48 W"
TWICE = "R = V/I = 7.5/1.5 = 5.0 Ω or 4.0 Ω"
TURNED = "R = 4.0 Ω or R = 5.0 Ω"
REPLACED = "~~R = V/I = 7.5/1.5 = 5.0 Ω~~; R = I/V = 1.5/7.5 = 0.2 Ω"
SWAPPED = "R = V/I = 1.5/7.5 = 5.0 Ω"
LISTED = "V = IR, P = IV, E = Pt"
ELSEWHERE = "V = IR; R = I/V = 1.5/7.5 = 0.2 Ω"
NOT_CONVERTED = "R = V/I = 27.6/64 = 0.43 Ω"
EARLY = "I = E/R = 2.00/3.00 = 0.67; P = I^2 r = 0.67^2*50 = 22.4 W"
LATER = "R = V/I = 7.5/1.5 = 5.0 Ω; R = 5.0/2 = 2.5 Ω"
BACK = "V = IR = 1.5*5.0 = 7.5 V"
METHOD = {"relationship": "M", "substitution": "M", "answer": "A"}
NO_UNITS = "R = 7.5/1.5 = 5.0 / R = 9.0/1.5 = 6.0 / R = 3.0/1.5 = 2.0"
ONE_FIGURE = "R = 7.5/1.5 = 5 Ω / R = 9.0/1.5 = 6 Ω / R = 3.0/1.5 = 2 Ω"
MILLI = "R = 7.5/15 = 0.50 Ω / R = 9.0/25 = 0.36 Ω / R = 3.0/12 = 0.25 Ω"
CARRIED = "Q = It = 2.5*8.0 = 22 C / E = QV = 22*6.0 = 132 J"
UNIT = {"unit_fault": "separate mark"}
OTHERWISE_LOST = "R = 7.5/1.5 = 4.0 / R = 9.0/1.5 = 6.0 / R = 3.0/1.5 = 2.0"
LARGEST = "V: 1.3 %, I: 3.3 %; the largest is 3.33 %"
OWN_FOR_SHOWN = "v = sqrt(2gh) = sqrt(2*9.8*1.25) = 3.5 m/s / p = mv = 2.0*3.5 = 7.0 kg m/s"
SHOWN_USED = "- / p = mv = 2.0*5.0 = 10 kg m/s"
EXACT_USED = "v^2 = 2gh = 2*9.8*1.25; v = 4.95 m/s / p = mv = 2.0*4.95 = 9.9 kg m/s"
ASSUMED = "not sure / assume Q = 50 C; E = QV = 50*6.0 = 300 J"
POWER = {"conversion_fault": "power of ten"}

ROWS = (
    # 1 a right answer alone
    Row("answer_only", "full", "5.0 Ω", 3, "AH2022"),
    Row("answer_only", "none", "5.0 Ω", 0, "APW"),
    Row("answer_only", "none", "R = V/I = 7.5/1.5 = 5.0 Ω", 3, "APW"),
    Row("answer_only", "unless show", "5.0 Ω", 3, "AH2022"),
    Row("answer_only", "full", "R = 5.00 Ω", 2, "definition", "show"),
    Row("answer_only", "unless show", "R = 5.00 Ω", 0, "AH2022 (principle)", "show"),
    Row("answer_only", "full", "R = 5.0 Ω", 0, "the value given earns nothing: IBM, AQA-AM (AG)", "show"),
    # 2 figures: data of 2, so 1 to 4 by default
    Row("significant_figures", {"under": 1, "over": 2}, "5 Ω", 3, "LITH"),
    Row("significant_figures", {"under": 0}, "5 Ω", 2, "OCR18"),
    Row("significant_figures", {"under": 0}, "5.0 Ω", 3, "OCR18"),
    Row("significant_figures", {"over": 2}, "5.0000 Ω", 2, "LITH"),
    Row("significant_figures", {"over": 0}, "5.00 Ω", 2, "definition"),
    Row("significant_figures", {"over": None}, "5.0000 Ω", 3, "EDXG"),
    Row("significant_figures", {"reference": "fixed", "fixed": 3, "under": 0}, "5.0 Ω", 2, "definition"),
    Row("significant_figures", {"reference": "fixed", "fixed": 3, "under": 0}, "5.00 Ω", 3, "definition"),
    Row("significant_figures", {"reference": "fixed", "fixed": 2, "under": 0}, "5.0 Ω", 3, "definition"),
    Row("significant_figures", {"reference": "least datum", "under": 0}, "5.0 Ω", 3, "definition"),
    # 4 the unit mark
    Row("unit_fault", "answer mark", "R = V/I = 7.5/1.5 = 5.0", 2, "BA7377; AH2018"),
    Row("unit_fault", "none", "R = V/I = 7.5/1.5 = 5.0", 3, "OCR, from memory (unit printed)"),
    Row("unit_fault", "answer mark", "R = V/I = 7.5/1.5 = 5.0 V", 2, "from memory"),
    Row("unit_fault", "none", "R = V/I = 7.5/1.5 = 5.0 V", 3, "definition"),
    Row("unit_fault", "answer mark", "R = V/I = 7.5/1.5 = 4.0", 2, "AH2018 row 10"),
    Row("unit_fault", "separate mark", "R = V/I = 7.5/1.5 = 4.0", 1, "AP09"),
    Row("unit_fault", "separate mark", "R = V/I = 7.5/1.5 = 5.0 Ω", 4, "AP09", "resistor, 4 marks"),
    Row("unit_fault", "separate mark", "R = V/I = 7.5/1.5 = 5.0", 3, "AP09", "resistor, 4 marks"),
    Row("unit_fault", "separate mark", "R = V/I = 7.5/1.5 = 4.0 Ω", 3, "AP09", "resistor, 4 marks"),
    Row("unit_fault", "separate mark", "R = V/I = 7.5/1.5 = 4.0", 2, "AP09", "resistor, 4 marks"),
    # 5 once in a part, however many steps it has
    Row("unit_fault_scope", "part", "E = 2.0*9.8*5.0 = 98; P = 98/0.40 = 245", 5, "definition", "lift"),
    Row("unit_fault_scope", "never", "E = 2.0*9.8*5.0 = 98; P = 98/0.40 = 245", 6, "definition", "lift"),
    # 6 letters of the unit
    Row("case_tolerant_units", True, "f = 1/T = 1/0.25 = 4.0 hz", 3, "EDX10", "pulse"),
    Row("case_tolerant_units", False, "f = 1/T = 1/0.25 = 4.0 hz", 2, "SP330", "pulse"),
    Row("case_tolerant_units", False, "f = 1/T = 1/0.25 = 4.0 Hz", 3, "SP330", "pulse"),
    # 7 conversions
    Row("conversion_fault", "answer mark", NOT_CONVERTED, 2, "SQA, from memory", "heater"),
    Row("conversion_fault", "substitution", NOT_CONVERTED, 1, "definition; as AH2018 row 12", "heater"),
    Row("conversion_fault", "power of ten", NOT_CONVERTED, 2, "CIE, from memory", "heater"),
    Row("conversion_fault", "power of ten", NOT_CONVERTED, 3, "OCR15MS", "heater, power of ten"),
    Row("conversion_fault", "power of ten", "R = V/I = 27.6/64 = 0.43", 2, "OCR15MS (beside the unit)", "heater, power of ten"),
    Row("conversion_fault", "power of ten", "R = V/I = 27.6/0.064 = 0.431 Ω", 3, "OCR15MS", "heater, power of ten"),
    Row("conversion_fault", "power of ten", "431 Ω", 4, "AH2022", "heater, power of ten"),
    Row("digit_place", "copying", "R = V/I = 75/1.5 = 50 Ω", 1, "AH2018 row 12"),
    Row("digit_place", "conversion", "R = V/I = 75/1.5 = 50 Ω", 2, "OCR15MS"),
    # 8 arithmetic
    Row("arithmetic_slip", "answer mark, followed", WRONG_E, 5, "OCR19, IB03", "lift"),
    Row("arithmetic_slip", "answer mark, stop", WRONG_E, 4, "CSM", "lift"),
    # 9 copying
    Row("transcription_slip", "stop", "R = V/I = 5.7/1.5 = 3.8 Ω", 1, "AH2018"),
    Row("transcription_slip", "substitution mark, followed", "R = V/I = 5.7/1.5 = 3.8 Ω", 2, "IBM2"),
    Row("transcription_slip", "answer mark", "R = V/I = 5.7/1.5 = 3.8 Ω", 2, "AQA-P"),
    Row("transcription_slip", "substitution mark, followed", "R = V/I = 5.7/1.5 = 3.3 Ω", 1, "IBM2"),
    Row("transcription_slip", "answer mark", "R = V/I = 5.7/1.5 = 3.3 Ω", 2, "AQA-P"),
    # 10 a right number from wrong working
    Row("right_from_wrong", "nothing", SWAPPED, 1, "AH2018 row 11"),
    Row("right_from_wrong", "full", SWAPPED, 3, "IBS"),
    Row("right_from_wrong", "refer", SWAPPED, 1, "definition", referred=True),
    Row("right_from_wrong", "full", "R = I/V = 7.5/1.5 = 5.0 Ω", 3, "IBS"),
    # 11 own figures
    Row("follow_within_part", True, WRONG_E, 5, "OCR19, IB03", "lift"),
    Row("follow_within_part", False, WRONG_E, 4, "definition", "lift"),
    Row("follow_wrong_physics", True, SQUARED, 3, "OCR19", "lift"),
    Row("follow_wrong_physics", False, SQUARED, 1, "from memory", "lift"),
    Row("follow_labelled", True, SQUARED, 3, "common practice", "lift, (i) and (ii)"),
    Row("follow_labelled", False, SQUARED, 1, "common practice", "lift, (i) and (ii)"),
    Row("follow_labelled", True, SQUARED, 1, "from memory (stop within the part)", "lift"),
    Row("earlier_unit", False, "R = V/I = 7.5/1.5 = 5.0 Ω; R = 5.0", 2, "from memory"),
    Row("earlier_unit", True, "R = V/I = 7.5/1.5 = 5.0 Ω; R = 5.0", 3, "BPHO"),
    Row("equivalent_units", True, "P = E/t = 600/4.0 = 150 J/s", 3, "from memory", "kettle"),
    Row("equivalent_units", False, "P = E/t = 600/4.0 = 150 J/s", 2, "AQA, from memory", "kettle"),
    Row("equivalent_units", False, "P = E/t = 600/4.0 = 0.15 kW", 3, "AQA, from memory", "kettle"),
    Row("follow_unworked", True, BARE_AFTER, 5, "AH2022", "lift"),
    Row("follow_unworked", False, BARE_AFTER, 2, "CSM", "lift"),
    Row("follow_unworked", False, WRONG_E, 5, "CSM", "lift"),
    Row("follow_unless_absurd", True, HUGE_E, 4, "AP06, AP12", "lift"),
    Row("follow_unless_absurd", False, HUGE_E, 5, "AH2022", "lift"),
    Row("follow_unless_absurd", True, WRONG_E, 5, "AP06, AP12", "lift"),
    Row("follow_unless_easier", True, EASY, 4, "CSM, SQAM", "tow", referred=True),
    Row("follow_unless_easier", False, EASY, 5, "AH2022", "tow"),
    Row("follow_unless_easier", True, HARD, 5, "CSM, SQAM", "tow"),
    # 12 two answers
    Row("two_answers", "zero", TWICE, 2, "CCEA"),
    Row("two_answers", "lowest", TWICE, 2, "SQAM"),
    Row("two_answers", "first", TWICE, 3, "IBS"),
    Row("two_answers", "best", TWICE, 3, "IE14"),
    Row("two_answers", "last", TWICE, 2, "common practice, no source"),
    Row("two_answers", "zero", TURNED, 0, "CCEA"),
    Row("two_answers", "lowest", TURNED, 0, "SQAM"),
    Row("two_answers", "first", TURNED, 0, "IBS"),
    Row("two_answers", "best", TURNED, 3, "IE14"),
    Row("two_answers", "last", TURNED, 3, "common practice, no source"),
    Row("two_answers", "zero", "R = V/I = 7.5/1.5 = 5.0 Ω or 0.0050 kΩ", 3, "one answer in two units is one answer: common practice"),
    Row("two_answers", "zero", "R = 5.0 or 4.0 Ω; R = 5.0 Ω", 3, "chosen in the end: CCEA (the one on the answer line)"),
    # 13 crossed out
    Row("crossed_out", "if not replaced", "~~R = V/I = 7.5/1.5 = 5.0 Ω~~", 3, "EDX11"),
    Row("crossed_out", "never", "~~R = V/I = 7.5/1.5 = 5.0 Ω~~", 0, "IBS, CCEA"),
    Row("crossed_out", "best", "~~R = V/I = 7.5/1.5 = 5.0 Ω~~", 3, "IE14"),
    Row("crossed_out", "if not replaced", REPLACED, 0, "EDX11"),
    Row("crossed_out", "best", REPLACED, 3, "IE14"),
    # 14 implied relationship
    Row("implied_relationship", True, "R = 7.5/1.5 = 4.0 Ω", 2, "US-N5"),
    Row("implied_relationship", False, "R = 7.5/1.5 = 4.0 Ω", 1, "definition"),
    # 15 lists and triangles
    Row("unselected_list", False, LISTED, 0, "from memory"),
    Row("unselected_list", True, LISTED, 1, "definition"),
    Row("unselected_list", False, "triangle: V on top, I and R below", 0, "from memory"),
    Row("unselected_list", True, "triangle: V on top, I and R below", 1, "definition"),
    Row("unselected_list", False, "V = IR, P = IV, E = Pt; R = 7.5/1.5 = 4.0 Ω", 2, "one of them used: from memory"),
    # 16 g
    Row("g_values", (9.8, 9.81), "W = mg = 4.00*10 = 40.0 N", 2, "from memory", "load"),
    Row("g_values", (9.8, 9.81, 10.0), "W = mg = 4.00*10 = 40.0 N", 3, "AP06", "load"),
    Row("other_g", "substitution", "W = mg = 4.00*10 = 40.0 N", 1, "from memory", "load"),
    Row("other_g", "answer mark", "W = mg = 4.00*10 = 40.0 N", 2, "from memory", "load"),
    Row("other_g", "accepted", "W = mg = 4.00*10 = 40.0 N", 3, "AP06", "load"),
    # 17 fractions, surds, endless decimals
    Row("fraction_answer", False, "I = V/R = 5.0/3.0 = 5/3 A", 2, "OCR15", "lamp"),
    Row("fraction_answer", True, "I = V/R = 5.0/3.0 = 5/3 A", 3, "maths papers: often accepted", "lamp"),
    Row("fraction_answer", False, "c = sqrt(a^2 + b^2) = √8 m", 2, "AQA-P", "diagonal"),
    Row("fraction_answer", True, "c = sqrt(a^2 + b^2) = √8 m", 3, "maths papers: often accepted", "diagonal"),
    Row("recurring_answer", False, "I = V/R = 5.0/3.0 = 1.66... A", 2, "LITH", "lamp"),
    Row("recurring_answer", True, "I = V/R = 5.0/3.0 = 1.66... A", 3, "definition", "lamp"),
    Row("recurring_answer", False, "I = V/R = 5.0/3.0 = 1.666...; I = 1.7 A", 3, "US-N5: in a working line it is ignored", "lamp"),
    # 18 "show that"
    Row("show_extra_figure", False, "R = V/I = 7.5/1.5 = 5.0 Ω", 2, "AH2022 (principle)", "show"),
    Row("show_extra_figure", True, "R = V/I = 7.5/1.5 = 5.0 Ω", 1, "AQA, CIE, from memory", "show"),
    Row("show_extra_figure", True, "R = V/I = 7.5/1.5 = 5.00 Ω", 2, "AQA, CIE, from memory", "show"),
    Row("show_final_line", True, "R = V/I = 7.5/1.5", 1, "AH2022 (principle)", "show"),
    Row("show_final_line", False, "R = V/I = 7.5/1.5", 2, "definition", "show"),
    Row("show_reverse", False, BACK, 1, "AH2022 (principle)", "show"),
    Row("show_reverse", True, BACK, 2, "OCRB", "show"),
    Row("show_unit", True, "R = V/I = 7.5/1.5 = 5.0 Ω", 2, "AH2022 (principle)", "show"),
    Row("show_unit", True, "R = V/I = 7.5/1.5 = 5.00", 1, "AH2022 (principle)", "show"),
    Row("show_unit", False, "R = V/I = 7.5/1.5 = 5.00", 2, "EDX10", "show"),
    Row("show_unit", True, "R = V/I = 7.5/1.5 = 5.00 V", 1, "AH2022 (principle)", "show"),
    Row("show_unit", False, "R = V/I = 7.5/1.5 = 5.00 V", 2, "EDX10", "show"),
    Row("show_unit", False, "R = V/I = 7.5/1.5 = 5.00 kΩ", 1, "a power of ten, no unit fault: SQA, from memory", "show"),
    Row("show_unit", True, "R = V/I = 7.5/1.5 = 5.00; R ≈ 5.0 Ω", 2, "the value given with its unit: common practice, no source", "show"),
    Row("show_unit", True, "R = V/I = 7.5/1.5 = 4.00", 1, "one mark for number and unit: AH2018 row 10", "show"),
    Row("show_unit", True, "R = V/I = 7.5/1.5 = 5.00", 2, "definition", "show", {"unit_fault": "none"}),
    Row("show_unit", True, "R = V/I = 7.5/1.5 = 5.00", 2, "definition", "show, with an answer"),
    Row("show_unit", False, "R = V/I = 7.5/1.5 = 5.00", 3, "EDX10", "show, with an answer"),
    # 19 half marks: the older edition of the resistor table has its own test
    Row("half_marks", True, "R = V/I = 7.5/1.5 = 4.0 Ω", 1.5, "H2013; row from memory", "resistor, 2 marks", UNIT),
    Row("half_marks", False, "R = V/I = 7.5/1.5 = 4.0 Ω", 0, "CIE22", "resistor, 2 marks", UNIT),
    # 20 negative marking
    Row("direction", "positive", "R = V/I = 7.5/1.5 = 4.0 Ω", 7, "N5-2019", "resistor, 10 marks"),
    Row("direction", "negative", "R = V/I = 7.5/1.5 = 4.0 Ω", 9, "IE14", "resistor, 10 marks"),
    Row("direction", "negative", "R = I/V = 7.5/1.5 = 5.0 Ω", 7, "IE14", "resistor, 10 marks"),
    Row("direction", "negative", "R = V/I = 7.3/1.5 = 4.9 Ω", 9, "IE14, value from memory", "resistor, 10 marks"),
    Row("direction", "negative", "R = V/I", 4, "what is left out earns nothing", "resistor, 10 marks"),
    Row("direction", "negative", "4.0 Ω", 0, "what is left out earns nothing", "resistor, 10 marks"),
    Row("slip_deduction", 1, "R = V/I = 7.5/1.5 = 4.0 Ω", 9, "IE14", "resistor, 10 marks", {"direction": "negative"}),
    Row("slip_deduction", 2, "R = V/I = 7.5/1.5 = 4.0 Ω", 8, "definition", "resistor, 10 marks", {"direction": "negative"}),
    Row("blunder_deduction", 3, "R = I/V = 7.5/1.5 = 5.0 Ω", 7, "IE14", "resistor, 10 marks", {"direction": "negative"}),
    Row("blunder_deduction", 5, "R = I/V = 7.5/1.5 = 5.0 Ω", 5, "definition", "resistor, 10 marks", {"direction": "negative"}),
    Row("misread_deduction", 1, "R = V/I = 7.3/1.5 = 4.9 Ω", 9, "IE14, value from memory", "resistor, 10 marks", {"direction": "negative"}),
    Row("misread_deduction", 2, "R = V/I = 7.3/1.5 = 4.9 Ω", 8, "definition", "resistor, 10 marks", {"direction": "negative"}),
    # mark types
    Row("mark_types", {"relationship": "C", "substitution": "C"}, "5.0 Ω", 3, "CIE01, OCR18"),
    Row("mark_types", METHOD, "5.0 Ω", 0, "CIE01, OCR18"),
    Row("mark_types", METHOD, "R = V/I = 7.5/1.5 = 4.0 Ω", 2, "CIE01, OCR18"),
    Row("method_missing", "accuracy lost", "R = V/I = 5.0 Ω", 1, "CIE01, OCR18", also={"mark_types": METHOD}),
    Row("method_missing", "accuracy open", "R = V/I = 5.0 Ω", 2, "IBM, CSM", also={"mark_types": METHOD}),
    Row("method_missing", "accuracy open", "R = I/V = 7.5/1.5 = 5.0 Ω", 0, "wrong, not missing: IBM, CSM", also={"mark_types": METHOD}),
    # work after the answer, rounding, rearranging
    Row("later_work", "counts", LATER, 2, "from memory"),
    Row("later_work", "ignored", LATER, 3, "SCI, AQA06, OCRM"),
    Row("later_work", "ignored", "R = I/V = 7.5/1.5 = 5.0 Ω; R = 2.5 Ω", 0, "passed through in a wrong argument: OCRM"),
    Row("rounding_tolerance", 0.005, EARLY, 3, "OCR14", "two loops"),
    Row("rounding_tolerance", 0.02, EARLY, 4, "AP06", "two loops"),
    Row("wrong_rounding", "answer mark", "R = V/I = 8.5/1.5 = 5.6 Ω", 2, "EDXG", "coil"),
    Row("wrong_rounding", "accepted", "R = V/I = 8.5/1.5 = 5.6 Ω", 3, "EDX, from memory", "coil"),
    Row("wrong_rounding", "answer mark", "R = V/I = 8.5/1.5 = 5.7 Ω", 3, "EDXG", "coil"),
    Row("rearranged_symbols", "stop", ELSEWHERE, 1, "from memory (row 15)"),
    Row("rearranged_symbols", "answer mark", ELSEWHERE, 2, "from memory"),
)

PAPERS = (
    # 3, 5, 7 the same fault again in 1a, 1b and 2
    Row("unit_fault_scope", "part", NO_UNITS, 6, "common practice, no source", "cells"),
    Row("unit_fault_scope", "question", NO_UNITS, 7, "EDX10", "cells"),
    Row("unit_fault_scope", "paper", NO_UNITS, 8, "IB02, IB03", "cells"),
    Row("unit_fault_scope", "never", NO_UNITS, 9, "definition", "cells"),
    Row("unit_fault_scope", "paper", OTHERWISE_LOST, 7, "the first is lost for its number: AH2018 row 10", "cells"),
    Row("significant_figures", {"scope": "part", "under": 0}, ONE_FIGURE, 6, "definition", "cells"),
    Row("significant_figures", {"scope": "question", "under": 0}, ONE_FIGURE, 7, "BPHO", "cells"),
    Row("significant_figures", {"scope": "paper", "under": 0}, ONE_FIGURE, 8, "OCR18", "cells"),
    Row("significant_figures", {"scope": "never", "under": 0}, ONE_FIGURE, 9, "definition", "cells"),
    Row("power_of_ten_scope", "part", MILLI, 6, "CIE, from memory", "milliamps", POWER),
    Row("power_of_ten_scope", "question", MILLI, 7, "from memory", "milliamps", POWER),
    Row("power_of_ten_scope", "paper", MILLI, 8, "definition", "milliamps", POWER),
    Row("power_of_ten_scope", "never", MILLI, 9, "definition", "milliamps", POWER),
    Row("conversion_fault", "answer mark", MILLI, 6, "each time: from memory", "milliamps", {"power_of_ten_scope": "paper"}),
    Row("follow_across_parts", True, CARRIED, 5, "AH2022, N5-2019", "charge"),
    Row("follow_across_parts", False, CARRIED, 4, "definition", "charge"),
    Row("follow_assumed", True, ASSUMED, 3, "common practice, no source", "charge"),
    Row("follow_assumed", False, ASSUMED, 2, "common practice, no source", "charge"),
    Row("follow_shown", True, OWN_FOR_SHOWN, 4, "common practice, no source", "drop"),
    Row("follow_shown", False, OWN_FOR_SHOWN, 3, "common practice, no source", "drop"),
    Row("follow_shown", False, SHOWN_USED, 3, "common practice, no source", "drop"),
    Row("follow_shown", False, EXACT_USED, 5, "common practice, no source", "drop"),
)

LEAP = "F = GMm/r²; F = mv²/r; v² = GM/r"

OTHER_KINDS = (
    # 21 the neutral example of the conventions file, section 1.4
    Row("uncertainty_rule", "root sum of squares", "3.6 %", 1, "conventions file 1.4, recomputed there", "resistance, with uncertainty"),
    Row("uncertainty_rule", "sum", "3.6 %", 0, "conventions file 1.4, recomputed there", "resistance, with uncertainty"),
    Row("uncertainty_rule", "largest", "3.6 %", 0, "conventions file 1.4, recomputed there", "resistance, with uncertainty"),
    Row("uncertainty_rule", "sum", "4.7 %", 1, "conventions file 1.4, recomputed there", "resistance, with uncertainty"),
    Row("uncertainty_rule", "largest", LARGEST, 1, "conventions file 1.4, recomputed there", "resistance, with uncertainty"),
    # 18 a step left out in letters; worked backwards; the last line left out
    Row("derivation_gap", "accepted", LEAP, 3, "common practice, no source", "orbit in letters"),
    Row("derivation_gap", "refused", LEAP, 2, "common practice, no source", "orbit in letters"),
    Row("derivation_gap", "refer", LEAP, 2, "definition", "orbit in letters", referred=True),
    Row("show_reverse", True, "v² = GM/r; mv² = GMm/r; mv²/r = GMm/r²", 3, "OCRB, 2006", "orbit in letters"),
    Row("show_reverse", False, "v² = GM/r; mv² = GMm/r; mv²/r = GMm/r²", 0, "OCRB, 2006", "orbit in letters", referred=True),
    # 22 three letters where two are asked for
    Row("list_rule", "wrong cancels right", "A, C, B", 1, "CCEA", "two of four"),
    Row("list_rule", "first", "A, C, B", 2, "CIE, from memory", "two of four"),
    Row("list_rule", "best", "B, A, C", 2, "definition", "two of four"),
    Row("list_rule", "first", "B, A, C", 1, "CIE, from memory", "two of four"),
)
