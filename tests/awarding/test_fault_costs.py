"""What a fault costs, by authority: the table of the conventions file, section 2.4, each cell as rulings or a ready convention.

Only cells with a published source are tested against a ready convention; a cell from memory names the rulings it tests. The authority
stands in `source` by its key. The parts are invented but for the resistor (BA7377).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import pytest

from marker import build_paper
from marker.marking import mark_candidate
from tests.awarding.switch_rows import RESISTOR, SETTINGS


@dataclass(frozen=True)
class Row:
    """`typed` has its lines parted by "; ", the parts of a paper by " / "."""

    error: str
    typed: str
    marks: float
    source: str
    setting: str = "resistor"
    convention: str = "positive three-mark"
    rulings: Mapping[str, Any] = field(default_factory=dict)

    def __str__(self) -> str:
        return f"{self.error}, {self.source}: {self.typed}"


SPRING = {"given": {"F": "27.9 N", "x": "1.50 m"}, "find": "k", "unit": "N/m", "using": ["F = k*x"]}
MORE: Mapping[str, Mapping[str, Any]] = {
    "spring": SPRING,
    "two marks": {**RESISTOR, "marks": 2},
    "heater, 2 marks": {**SETTINGS["heater"], "marks": 2},
    "resistor, M": {**RESISTOR, "points": [{"kind": "relationship", "type": "M"}, {"kind": "substitution"}, {"kind": "answer"}]},
    "twice": {
        "parts": [
            {"name": "1a", "marks": 2, "given": {"V": "7.5 V", "I": "1.5 A"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
            {"name": "1b", "marks": 2, "given": {"I": "2.0 A"}, "carry": {"R": "1a"}, "find": "V", "unit": "V", "using": ["V = I*R"]},
        ]
    },
    "fast": {
        "parts": [
            {
                "name": "1a",
                "marks": 3,
                "given": {"s": "6.0e8 m", "t": "4.0 s"},
                "find": "v",
                "unit": "m/s",
                "using": ["v = s/t"],
                "sensible": ["0 m/s", "3.0e8 m/s"],
            },
            {"name": "1b", "marks": 3, "given": {"T": "10 s"}, "carry": {"v": "1a"}, "find": "d", "unit": "m", "using": ["d = v*T"]},
        ]
    },
}
BPHO = {"significant_figures": {"under": 0, "scope": "question"}}
ALL = {**SETTINGS, **MORE}
SLIP = "E = mgh = 2.0*9.8*5.0 = 89 J; P = E/t = 89/0.40 = 223 W"
NO_UNITS = "R = 7.5/1.5 = 5.0 / R = 9.0/1.5 = 6.0 / R = 3.0/1.5 = 2.0"
ONE_FIGURE = "R = 7.5/1.5 = 5 Ω / R = 9.0/1.5 = 6 Ω / R = 3.0/1.5 = 2 Ω"
FASTER = "v = s/t = 6.0x10^8/4.0 = 1.5x10^9 m/s / d = vT = 1.5x10^9 x 10 = 1.5x10^10 m"
COPIED = "R = V/I = 7.3/1.5 = 4.9 Ω"
REPLACED = "~~R = V/I = 7.5/1.5 = 5.0 Ω~~; R = VI = 7.5*1.5 = 11.25 Ω"
EARLY = "I = E/R = 2.00/3.00 = 0.67; P = I²r = 0.67² x 50 = 22.4 W"

ROWS = (
    Row("arithmetic", SLIP, 5, "OCR19: lost where it happens, then followed", "lift", "compensatory"),
    Row("arithmetic", SLIP, 5, "IB03: one mark, followed", "lift", "answer first"),
    Row("arithmetic", SLIP, 5, "AP06, AP12: no double penalty", "lift", "unit point"),
    Row("arithmetic", SLIP, 5, "IE11: one for the slip, its use credited", "lift", "slips deducted"),
    Row("arithmetic", SLIP, 5, "US-N5", "lift"),
    Row("arithmetic", "R = V/I = 7.5/1.5 = 4.0 Ω", 1, "AQA-P: one mark only", "two marks"),
    Row("power of ten", "R = V/I = 27.6/64 = 0.43 Ω", 1, "EDXG: 1 of 2", "heater, 2 marks"),
    Row("power of ten", "R = V/I = 27.6/0.064 = 0.431 Ω", 1, "EDXG: 1 of 2", "heater, 2 marks"),
    Row("power of ten", "R = V/I = 27.6/64 = 0.43 Ω", 2, "OCR15MS: annotation of its own", "heater", "compensatory"),
    Row("transcription", COPIED, 2, "AQA-P: as arithmetic", rulings={"transcription_slip": "answer mark"}),
    Row("transcription", COPIED, 1, "AH2018"),
    Row("transcription", COPIED, 2, "OCR16: lost, then followed (from memory)", convention="compensatory"),
    Row("rounding", EARLY, 3, "OCR14: on the way, penalised", "two loops"),
    Row("rounding", EARLY, 4, "AP06: full credit", "two loops", rulings={"rounding_tolerance": 0.02}),
    Row("rounding", "k = F/x = 27.9/1.50 = 18 N/m", 2, "EDXG: 18.6 required, 18 refused", "spring"),
    Row("rounding", "k = F/x = 27.9/1.50 = 18.0 N/m", 2, "EDXG: 18.6 required, 18.0 refused", "spring"),
    Row("too few figures", "5 Ω", 2, "OCR18: data of 2, fewer refused", convention="compensatory"),
    Row("too few figures", "5 Ω", 3, "LITH: one fewer allowed"),
    Row("figures", "R = V/I = 7.5/1.5 = 5.000 Ω", 4, "AP06: 2 to 4 are fine", "resistor, 4 marks", "unit point"),
    Row("figures", "R = V/I = 7.5/1.5 = 5 Ω", 3, "AP06: 2 to 4 are fine", "resistor, 4 marks", "unit point"),
    Row("too many figures", "5.0000000 Ω", 3, "EDXG: never penalised", rulings={"significant_figures": {"over": None}}),
    Row("too many figures", "5.0000000 Ω", 2, "LITH: two more allowed"),
    Row("unit missing", "R = V/I = 7.5/1.5 = 5.00", 2, "EDX10: not in a show-that", "show", rulings={"show_unit": False}),
    Row("unit missing", "R = V/I = 7.5/1.5 = 5.0", 3, "AP09: a point of its own", "resistor, 4 marks", "unit point"),
    Row("unit missing", "R = V/I = 7.5/1.5 = 5.0 Ω; R = 5.0", 3, "BPHO: a line earlier can count", rulings={"earlier_unit": True}),
    Row("wrong physics, right number", "R = V/I = 1.5/7.5 = 5.0 Ω", 1, "OCR15MS, AH2018", convention="compensatory"),
    Row("wrong physics, right number", "R = V/I = 75/1.5 = 5.0 Ω", 1, "AH2018"),
    Row("contradiction", "R = V/I = 7.5/1.5 = 5.0 Ω or R = 0.2 Ω", 2, "OCR19", convention="compensatory"),
    Row("contradiction", "R = 5.0 Ω or R = 0.2 Ω", 0, "CCEA: right and wrong is wrong"),
    Row("contradiction", "R = 5.0 Ω; a small resistance", 3, "CCEA: neutral extras ignored"),
    Row("fraction", "I = V/R = 5.0/3.0 = 5/3 A", 2, "OCR15", "lamp", "compensatory"),
    Row("surd", "c = sqrt(a^2 + b^2) = √8 m", 2, "AQA-P", "diagonal"),
    Row("surd", "c = sqrt(a^2 + b^2) = √8 m", 3, "maths papers: often accepted", "diagonal", "method and accuracy"),
    Row("g taken as 10", "W = mg = 4.00*10 = 40.0 N", 3, "AP06: 9.8 and 10 both fine", "load", rulings={"g_values": [10, 9.8]}),
    Row("answer only", "5.0 Ω", 3, "OCR18: full where C and A", convention="compensatory"),
    Row("answer only", "5.0 Ω", 0, "OCR18: not where M", "resistor, M", "compensatory"),
    Row("answer only", "5.0 Ω", 3, "AH2022"),
    Row("answer only", "R = 5.0 Ω", 0, "EDXG: full except in a show-that", "show"),
    Row("answer only", "5.0 Ω", 0, "APW: calculate expects working", "resistor, 4 marks", "unit point"),
    Row("show that, backwards", "V = IR = 1.5*5.0 = 7.5 V", 2, "OCRB", "show", "compensatory"),
    Row("two solutions", "~~R = V/I = 7.5/1.5 = 5.0 Ω~~", 3, "EDX11: marked unless replaced"),
    Row("two solutions", "~~R = V/I = 7.5/1.5 = 5.0 Ω~~", 0, "IBS: no marks", convention="answer first"),
    Row("two solutions", "R = 4.0 Ω or R = 5.0 Ω", 0, "IBS: the first", convention="answer first"),
    Row("two solutions", "R = 5.0 Ω or R = 4.0 Ω", 3, "IBS: the first", convention="answer first"),
    Row("two solutions", "R = 5.0 Ω or R = 4.0 Ω", 0, "SQAM: the lowest", rulings={"two_answers": "lowest"}),
    Row("two solutions", "R = 4.0 Ω or R = 5.0 Ω; Answer: 5.0 Ω", 3, "CCEA: the one on the answer line"),
    Row("two solutions", REPLACED, 10, "IE14: the best, even cancelled", "resistor, 10 marks", "slips deducted"),
    Row("arithmetic", "R = V/I = 7.5/1.5 = 4.0 Ω", 9, "IE14: a slip", "resistor, 10 marks", "slips deducted"),
    Row("wrong physics", "R = VI = 7.5*1.5 = 11.25 Ω", 7, "IE14: a blunder", "resistor, 10 marks", "slips deducted"),
    Row("misread", "R = V/I = 7.3/1.5 = 4.9 Ω", 9, "IE14, value from memory", "resistor, 10 marks", "slips deducted"),
    Row("two marks: method", "R = V/I = 7.5/1.5", 1, "OCRB (2006): one for method", "two marks"),
    Row("two marks: evaluation", "R = V/I = 7.5/1.5 = 5.0 Ω", 2, "OCRB (2006): one for evaluation", "two marks"),
)

PAPERS = (
    Row("too few figures", ONE_FIGURE, 8, "OCR18: once in the paper", "cells", "compensatory"),
    Row("too few figures", ONE_FIGURE, 7, "BPHO: once in a question", "cells", rulings=BPHO),
    Row("unit missing", NO_UNITS, 7, "EDX10: once in a question", "cells", rulings={"unit_fault_scope": "question"}),
    Row("unit missing", NO_UNITS, 8, "IB02, IB03: once in the paper", "cells", "answer first"),
    Row("own value", FASTER, 4, "AP06, AP12: not when it should be seen as impossible", "fast", rulings={"follow_unless_absurd": True}),
    Row("own value", FASTER, 5, "AH2022", "fast"),
    Row("own value", "R = 7.5/1.5 = 4.0 Ω / V = 2.0*4.0 = 8.0 V", 3, "OCRB: an own result is not penalised again", "twice"),
)


@pytest.mark.parametrize("row", (*ROWS, *PAPERS), ids=str)
def test_cost(row: Row) -> None:
    setting = ALL[row.setting]
    parts = setting.get("parts") or [{"name": "a", "marks": 3, **setting}]
    paper = build_paper({"paper": {"title": "costs", "convention": row.convention, "rulings": dict(row.rulings)}, "part": parts})
    typed = dict(zip([p.name for p in paper.parts], row.typed.split(" / "), strict=True))
    results = mark_candidate(paper, {name: text.split("; ") for name, text in typed.items()})
    assert sum(r.mark for r in results) == row.marks, [f"{a.point}: {a.reason}" for r in results for a in r.awards]
