"""What a fault costs, authority by authority: every cell of the conventions file's table 2.4 that says something.

A cell is a row with the response it rules on, or is named with the reason why it is none for an engine. Cells from memory say so and
are tested as rulings, never as a ready convention's name. Numbers invented but for the resistor (BA7377).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import pytest

from marker import build_paper
from marker.marking import mark_candidate
from tests.awarding.conventions_file import beside, table
from tests.awarding.test_fault_costs import ALL, NO_UNITS, ONE_FIGURE, REPLACED, SLIP

AUTHORITIES = ("OCR", "AQA", "EDX", "CIE", "IB", "SQA", "AP", "others")
M = ", from memory"


@dataclass(frozen=True)
class Cell:
    """`cell` is the error and the authorities whose cell says the same; lines parted by "; ", parts by " / "."""

    error: str
    authorities: str
    typed: str
    marks: float
    source: str
    setting: str = "resistor"
    rulings: Mapping[str, Any] = field(default_factory=dict)

    def __str__(self) -> str:
        return f"{self.error}, {self.authorities}: {self.typed}"


FIGURES_ONCE = {"significant_figures": {"under": 0, "over": None, "scope": "paper"}}
ANY_FIGURES = {"significant_figures": {"under": 5, "over": None}}
MANY = {"significant_figures": {"over": None}}
WHOLE = {"half_marks": False, "unit_fault": "separate mark"}
POWER = {"conversion_fault": "power of ten", "power_of_ten_scope": "part"}
METHOD = {"mark_types": {"relationship": "M", "substitution": "M", "answer": "A"}}
EARLY = "I = E/R = 2.00/3.00 = 0.67; P = I²r = 0.67² x 50 = 22.4 W"
COPIED = "R = V/I = 7.3/1.5 = 4.9 Ω"
NOT_CONVERTED = "R = V/I = 27.6/64 = 0.43 Ω"
LONG = "R = V/I = 7.5/1.5 = 5.000000 Ω"
BARE = "R = V/I = 7.5/1.5 = 5.0"
SWAPPED = "R = V/I = 1.5/7.5 = 5.0 Ω"
EITHER = "R = V/I = 7.5/1.5 = 5.0 Ω or R = 0.2 Ω"
FRACTION = "I = V/R = 5.0/3.0 = 5/3 A"
BACK = "V = IR = 1.5*5.0 = 7.5 V"
TEN = "W = mg = 4.00*10 = 40.0 N"
CARRIED = "Q = It = 2.5*8.0 = 22 C / E = QV = 22*6.0 = 132 J"
FASTER = "v = s/t = 6.0x10^8/4.0 = 1.5x10^9 m/s / d = vT = 1.5x10^9 x 10 = 1.5x10^10 m"
CROSSED = "~~R = V/I = 7.5/1.5 = 5.0 Ω~~"

CELLS = (
    Cell(
        "arithmetic",
        "OCR AQA EDX CIE IB AP SQA",
        SLIP,
        5,
        "OCR19, AQA-P, IB03, AP06, AP12; CIE common practice; others from memory",
        "lift",
    ),
    Cell(
        "arithmetic",
        "others",
        "R = V/I = 7.5/1.5 = 4.0 Ω",
        9,
        "IE11, IE14: a slip; a misread from memory",
        "resistor, 10 marks",
        {"direction": "negative"},
    ),
    Cell("power of ten", "AQA EDX SQA", NOT_CONVERTED, 2, "EDXG, EDX from memory; AQA, SQA not certain: as a slip, the answer", "heater"),
    Cell("power of ten", "OCR CIE IB", NOT_CONVERTED, 2, "OCR15MS (annotation)" + M, "heater", POWER),
    Cell("transcription", "OCR", COPIED, 2, "OCR16 (annotation)" + M, rulings={"transcription_slip": "substitution mark, followed"}),
    Cell("transcription", "AQA", COPIED, 2, "AQA-P", rulings={"transcription_slip": "answer mark"}),
    Cell("transcription", "SQA", COPIED, 1, "AH2018"),
    Cell("transcription", "others", "R = V/I = 7.3/1.5 = 4.9 Ω", 9, "IE14" + M, "resistor, 10 marks", {"direction": "negative"}),
    Cell("rounding", "OCR SQA", EARLY, 3, "OCR14, OCR17; SQA from memory", "two loops"),
    Cell("rounding", "EDX CIE AP", EARLY, 4, "AP06; others from memory", "two loops", {"rounding_tolerance": 0.02}),
    Cell("rounding", "others", "k = F/x = 27.9/1.50 = 18.0 N/m", 2, "EDXG", "spring"),
    Cell("too few figures", "OCR IB", ONE_FIGURE, 8, "OCR18; IB03", "cells", FIGURES_ONCE),
    Cell("too few figures", "AQA SQA", "5 Ω", 3, "LITH; AQA from memory (or one fewer)"),
    Cell("too few figures", "EDX", "R = V/I = 7.5/1.5 = 5 Ω", 3, "EDX10" + M, rulings=ANY_FIGURES),
    Cell("too few figures", "CIE", "R = V/I = 7.6/1.5 = 5 Ω", 2, "from memory", "third cell", {"significant_figures": {"under": 0}}),
    Cell("too few figures", "AP", "R = 5.0 Ω", 3, "AP06", rulings={"significant_figures": {"reference": "fixed", "fixed": 2, "under": 0}}),
    Cell("too few figures", "others", ONE_FIGURE, 7, "BPHO", "cells", {"significant_figures": {"under": 0, "scope": "question"}}),
    Cell("too many figures", "OCR AQA EDX CIE IB", LONG, 3, "EDXG; OCR15 and others from memory", rulings=MANY),
    Cell("too many figures", "SQA AP", LONG, 2, "LITH; AP06"),
    Cell("unit missing", "EDX", NO_UNITS, 7, "EDX10", "cells", {"unit_fault_scope": "question"}),
    Cell("unit missing", "IB", NO_UNITS, 8, "IB02, IB03", "cells", {"unit_fault_scope": "paper"}),
    Cell("unit missing", "CIE SQA", BARE, 2, "from memory"),
    Cell("unit missing", "OCR AQA", BARE, 3, "from memory: printed, or not asked for", rulings={"unit_fault": "none"}),
    Cell("unit missing", "AP", BARE, 3, "AP09", "resistor, 4 marks", {"unit_fault": "separate mark"}),
    Cell("unit missing", "others", "R = V/I = 7.5/1.5 = 5.0 Ω; R = 5.0", 3, "BPHO", rulings={"earlier_unit": True}),
    Cell("wrong physics, right number", "OCR CIE SQA", SWAPPED, 1, "AH2018; OCR15MS; CIE from memory"),
    Cell("wrong physics, right number", "AQA", "5.0 Ω", 0, "from memory: working required", rulings={"answer_only": "none"}),
    Cell("contradiction", "OCR AQA SQA others", EITHER, 2, "OCR19; AQA-P; CCEA; SQA from memory"),
    Cell("answer as surd", "OCR AQA SQA", FRACTION, 2, "OCR15; AQA-P; SQA from memory", "lamp"),
    Cell("answer as surd", "others", FRACTION, 3, "from memory: maths papers", "lamp", {"fraction_answer": True}),
    Cell("symbols: g", "EDX", TEN, 2, "from memory", "load", {"other_g": "answer mark"}),
    Cell("symbols: g", "CIE", "W = mg = 4.00*9.81 = 39.2 N", 3, "from memory", "load"),
    Cell("symbols: g", "AP", TEN, 3, "AP06", "load", {"other_g": "accepted"}),
    Cell("answer only", "OCR", "5.0 Ω", 0, "OCR18: not where M", rulings=METHOD),
    Cell("answer only", "OCR AQA EDX CIE IB SQA", "5.0 Ω", 3, "OCR18 (C, A); AH2022; EDXG; AQA-P and others from memory"),
    Cell("answer only", "EDX", "R = 5.0 Ω", 0, "EDXG: not in a show-that", "show"),
    Cell("answer only", "AP", "5.0 Ω", 0, "APW: calculate expects working", rulings={"answer_only": "none"}),
    Cell("show-that", "OCR EDX", BACK, 2, "OCRB; EDX from memory (2-mark)", "show", {"show_reverse": True}),
    Cell("show-that", "AQA CIE", "R = V/I = 7.5/1.5 = 5.0 Ω", 1, "from memory", "show", {"show_extra_figure": True}),
    Cell("show-that", "SQA", "R = V/I = 7.5/1.5", 1, "from memory: all steps", "show"),
    Cell("two solutions", "EDX", CROSSED, 3, "EDX11"),
    Cell("two solutions", "IB", CROSSED, 0, "IBS", rulings={"crossed_out": "never", "two_answers": "first"}),
    Cell("two solutions", "CIE IB", "R = 4.0 Ω or R = 5.0 Ω", 0, "IBS; CIE from memory: the first", rulings={"two_answers": "first"}),
    Cell("two solutions", "SQA", "R = 5.0 Ω or R = 4.0 Ω", 0, "SQAM: the lowest", rulings={"two_answers": "lowest"}),
    Cell("two solutions", "SQA AQA others", "R = 5.0 Ω or R = 4.0 Ω", 0, "CCEA: none; SQA, AQA from memory"),
    Cell("two solutions", "others", REPLACED, 3, "IE14: the best, even cancelled", rulings={"crossed_out": "best"}),
    Cell("ecf limits", "OCR AQA CIE IB SQA", CARRIED, 5, "OCR19; AQA-P; IB03; CIE, SQA from memory", "charge"),
    Cell("ecf limits", "AP others", FASTER, 4, "AP06, AP12; BPHO", "fast", {"follow_unless_absurd": True}),
    Cell("whole/half marks", "SQA", "R = V/I", 0.5, "H2013", "two marks", {"half_marks": True, "unit_fault": "separate mark"}),
    Cell("whole/half marks", "OCR AQA EDX CIE IB SQA AP", "R = V/I", 0, "CIE22; IB16; others from memory", "two marks", WHOLE),
)

ELSEWHERE = {
    "spelling": "a matter of written answers: tests/awarding/issue_rows.py, spelling; tests/kinds/written",
}
"""Rows of the table whose cells rule on no calculation."""

ERRORS = {
    "arithmetic": "arithmetic",
    "power of ten / prefix": "power of ten",
    "transcription": "transcription",
    "rounding": "rounding",
    "too few s.f.": "too few figures",
    "too many s.f.": "too many figures",
    "unit missing/wrong": "unit missing",
    "wrong physics, right number": "wrong physics, right number",
    "contradiction": "contradiction",
    "answer as surd / fraction": "answer as surd",
    "spelling": "spelling",
    "symbols: g": "symbols: g",
    "answer only": "answer only",
    "show-that": "show-that",
    "two solutions offered": "two solutions",
    "ecf limits": "ecf limits",
    "whole/half marks": "whole/half marks",
}
NOT_MARKED = {
    ("show-that", "AP"): "says what a derivation starts from; a derivation's scheme names its starts",
}
"""Cells that say something no response of a calculation can show."""
SETTINGS = {
    **ALL,
    "third cell": {"given": {"V": "7.6 V", "I": "1.5 A"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
}


@pytest.mark.parametrize("cell", CELLS, ids=str)
def test_cell(cell: Cell) -> None:
    setting = SETTINGS[cell.setting]
    parts = setting.get("parts") or [{"name": "a", "marks": 3, **setting}]
    paper = build_paper({"paper": {"title": "costs", "rulings": dict(cell.rulings)}, "part": parts})
    typed = dict(zip([p.name for p in paper.parts], cell.typed.split(" / "), strict=True))
    results = mark_candidate(paper, {name: text.split("; ") for name, text in typed.items()})
    assert sum(r.mark for r in results) == cell.marks, [f"{a.point}: {a.reason}" for r in results for a in r.awards]


@beside
def test_every_cell_of_the_table_has_a_row() -> None:
    rows = table("2.4")
    assert [r[0] for r in rows] == list(ERRORS)
    covered = {(c.error, a) for c in CELLS for a in c.authorities.split()} | NOT_MARKED.keys()
    said = {(ERRORS[r[0]], a) for r in rows for a, text in zip(AUTHORITIES, r[1:], strict=True) if text not in ("–", "")}
    wanted = {(error, a) for error, a in said if error not in ELSEWHERE}
    assert wanted <= covered, wanted - covered
    assert covered <= wanted, covered - wanted
