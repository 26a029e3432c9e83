"""The rows of test_mark_types: the conventions file's tables 2.1 (physics) and 2.2 (mathematics), each of their rows with responses.

Source field: the published keys of the table's row, else "from memory" or "common practice, no source". The parts are invented but for
the resistor (BA7377).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from tests.awarding.issue_rows_of_kinds import CHOICE
from tests.awarding.switch_rows import LIFT, RESISTOR, TOW

PHYSICS: Mapping[str, str] = {
    "M method": "CIE01, OCR18",
    "A accuracy/answer": "CIE01, OCR18",
    "C compensatory": "CIE01, OCR18",
    "B independent": "CIE01, OCR18",
}
"""Table 2.1: its first cells and their sources."""

MATHEMATICS: Mapping[str, str] = {
    "M": "AQA-GM, MNA, MSH",
    "A": "AQA-GM, IBM",
    "B": "AQA-GM, MSH",
    "dM, DM, m, M dep": "AQA-AM, MSH, AQA-GM",
    "B dep, E, R, F": "AQA-AM, AQA-GM",
    "(M), (A) – IB brackets": "IBM",
    "N – IB (older)": "IBM2",
    "AG": "IBM, AQA-AM",
    "C – IB studies": "IBS",
    '"M0 then A1"': "IBM, CSM",
    "after an error inside one part (IB)": "CSM",
    "easier after error (IB)": "CSM, SQAM",
    "FT without working (IB)": "CSM",
    "misread": "IBM2, from memory",
    "marks gained are not lost by later work (isw)": "OCRM",
}
"""Table 2.2: its first cells and their sources."""


def _with_types(types: str) -> Mapping[str, Any]:
    """The resistor with a type for each of its three points."""
    kinds = ("relationship", "substitution", "answer")
    return {**RESISTOR, "points": [{"kind": kind, "type": letter} for kind, letter in zip(kinds, types.split(), strict=True)]}


def _second(**answer: Any) -> Mapping[str, Any]:
    """The lift, with keys for the answer point of its second step."""
    first, second = LIFT["step"]
    points = [{"kind": "relationship"}, {"kind": "substitution"}, {"kind": "answer", **answer}]
    return {**LIFT, "step": [first, {**second, "points": points}]}


DEPENDENT = [
    {"kind": "relationship"},
    {"kind": "substitution", "type": "M"},
    {"kind": "answer", "type": "B", "needs": ["substitution"]},
]
ALONE = [{"answer": "5.0 Ω", "marks": 2, "because": "the answer alone"}]
JUST_THE_ANSWER = {**LIFT, "marks": 4, "step": [LIFT["step"][0], {**LIFT["step"][1], "marks": 1}]}
SETTINGS: Mapping[str, Mapping[str, Any]] = {
    "lift": LIFT,
    "lift, correct answer only": _second(follow=False),
    "lift, second answer only": JUST_THE_ANSWER,
    "tow": TOW,
    "dependent": {**RESISTOR, "points": DEPENDENT},
    "two lamps": CHOICE,
    "show": {**RESISTOR, "marks": 2, "show": "5.0 Ω"},
    "M M A, N2": {**_with_types("M M A"), "special": ALONE},
}


@dataclass(frozen=True)
class Row:
    """`code` is the table's first cell; `setting` the types of the resistor's points in order, or a name of SETTINGS; `got` the marks
    of the points in order."""

    code: str
    setting: str
    typed: str
    got: str
    source: str
    rulings: Mapping[str, Any] = field(default_factory=dict)
    referred: bool = False

    def __str__(self) -> str:
        return f"{self.code}, {self.setting}: {self.typed}"

    @property
    def part(self) -> Mapping[str, Any]:
        return SETTINGS.get(self.setting) or _with_types(self.setting)


SLIP = "E = mgh = 2.0*9.8*5.0 = 89 J; P = E/t = 89/0.40 = 223 W"
BARE_AFTER = "E = mgh = 2.0*9.8*5.0 = 89 J; P = 223 W"
MISREAD = "E = mgh = 2.0*9.8*3.0 = 58.8 J; P = E/t = 58.8/0.40 = 147 W"
EASY = "v = at = 3.0*0.50 = 1.0 m/s; P = Fv = 40*1.0 = 40 W"
STOP = {"arithmetic_slip": "answer mark, stop"}
FOLLOWED = {"transcription_slip": "substitution mark, followed"}
WORKED = {"follow_unworked": False}
IGNORED = {"later_work": "ignored"}
OPEN = {"method_missing": "accuracy open"}

ROWS = (
    # --- 2.1: M is seen, and its A goes with it -------------------------------------------------------
    Row("M method", "M M A", "R = V/I = 5.0 Ω", "100", "CIE01, OCR18"),
    Row("M method", "M M A", "R = V/I = 7.5/1.5 = 4.0 Ω", "110", "CIE01, OCR18"),
    Row("M method", "M C A", "5.0 Ω", "000", "CIE01, OCR18"),
    Row("A accuracy/answer", "M M A", "5.0 Ω", "000", "depends on an M: CIE01, OCR18"),
    Row("A accuracy/answer", "M M A", "R = V/I = 7.5/1.5 = 5.0 Ω", "111", "CIE01, OCR18"),
    Row("A accuracy/answer", "M M A", "R = I/V = 7.5/1.5 = 5.0 Ω", "000", "CIE01, OCR18"),
    Row("A accuracy/answer", "C C A", "5.0 Ω", "111", "releases the C before it: CIE01, OCR18"),
    Row("A accuracy/answer", "C C A", "5.0", "110", "from memory (the unit alone is lost); CIE01, OCR18"),
    Row("C compensatory", "C C A", "R = V/I = 5.0 Ω", "111", "CIE01, OCR18"),
    Row("C compensatory", "C C A", "7.5/1.5 = 4.0 Ω", "110", "never written but used: CIE01, OCR18"),
    Row("C compensatory", "C C A", "R = V/I = 7.3/1.5 = 4.9 Ω", "100", "CIE01, OCR18; wrong substitution AH2018"),
    Row("C compensatory", "C C A", "R = V/I = 4.0 Ω", "100", "an A not given releases nothing: CIE01, OCR18"),
    Row("B independent", "B C A", "5.0 Ω", "011", "the point is seen: CIE01, OCR18"),
    Row("B independent", "B C A", "R = V/I = 5.0 Ω", "111", "CIE01, OCR18"),
    Row("B independent", "B M A", "R = V/I = 4.0 Ω", "100", "stands though method and answer are lost: CIE01, OCR18"),
    Row("B independent", "M M B", "5.0 Ω", "001", "stands alone: CIE01, OCR18"),
    # --- 2.2 ------------------------------------------------------------------------------------------
    Row("M", "M A A", "R = V/I = 7.5/1.5 = 4.0 Ω", "110", "not lost for arithmetic: AQA-GM, MNA, MSH"),
    Row("M", "M A A", "R = V/I = 7.5/1.5", "110", "could lead to the answer: AQA-GM, MNA, MSH"),
    Row("M", "M A A", "R = I/V = 1.5/7.5 = 0.20 Ω", "000", "could not lead to it: AQA-GM, MNA, MSH"),
    Row("A", "M A A", "R = V/I = 5.0 Ω", "111", "after a correct method, may be implied: AQA-GM, IBM"),
    Row("A", "M A A", "R = I/V = 7.5/1.5 = 5.0 Ω", "000", "not after a wrong one: AQA-GM, IBM"),
    Row("B", "M M B", "5.0 Ω", "001", "independent of method: AQA-GM, MSH"),
    Row("B", "M M B", "R = I/V = 7.5/1.5 = 5.0 Ω", "000", "wrong working is no missing method: common practice, no source; AQA-GM, MSH"),
    Row("dM, DM, m, M dep", "M dM A", "R = V/I = 7.5/1.5 = 5.0 Ω", "111", "AQA-AM, MSH, AQA-GM"),
    Row("dM, DM, m, M dep", "M M A", "R = 7.5/1.5 = 4.0 Ω", "010", "definition: numbers do not show it", {"implied_relationship": False}),
    Row("dM, DM, m, M dep", "M dM A", "R = 7.5/1.5 = 4.0 Ω", "000", "AQA-AM, MSH, AQA-GM", {"implied_relationship": False}),
    Row("B dep, E, R, F", "dependent", "R = V/I = 5.0 Ω", "100", "B dep: AQA-AM, AQA-GM"),
    Row("B dep, E, R, F", "dependent", "R = V/I = 7.5/1.5 = 5.0 Ω", "111", "B dep: AQA-AM, AQA-GM"),
    Row("B dep, E, R, F", "two lamps", "lamp B is brighter because the current is the same and power is I²R", "11", "E, R: AQA-AM, AQA-GM"),
    Row("B dep, E, R, F", "two lamps", "lamp B is brighter", "00", "E, R: AQA-AM, AQA-GM"),
    Row("B dep, E, R, F", "lift", SLIP, "110111", "F: AQA-AM, AQA-GM"),
    Row("B dep, E, R, F", "lift, correct answer only", SLIP, "110110", "an A that is no F: AQA-AM, AQA-GM"),
    Row("(M), (A) – IB brackets", "C C A", "5.0 Ω", "111", "in brackets, implied by later work: IBM"),
    Row("(M), (A) – IB brackets", "M C A", "R = V/I = 5.0 Ω", "111", "M seen, (M) implied: IBM"),
    Row("(M), (A) – IB brackets", "M M A", "5.0 Ω", "000", "without brackets, to be seen: IBM"),
    Row("N – IB (older)", "M M A, N2", "5.0 Ω", "110", "for the answer where no working is shown: IBM2"),
    Row("N – IB (older)", "M M A, N2", "R = V/I = 5.0 Ω", "100", "working shown is marked: IBM2"),
    Row("N – IB (older)", "M M A, N2", "R = I/V = 5.0 Ω", "000", "working shown is marked: IBM2"),
    Row("N – IB (older)", "M M A, N2", "R = V/I = 7.5/1.5 = 5.0 Ω", "111", "used instead of the split: IBM2"),
    Row("AG", "show", "R = 5.0 Ω", "00", "no mark for the answer given: IBM, AQA-AM"),
    Row("AG", "show", "R = V/I; R = 5.0 Ω", "10", "no mark for the answer given: IBM, AQA-AM"),
    Row("C – IB studies", "C C A", "R = I/V = 7.5/1.5 = 5.0 Ω", "111", "the working not inspected: IBS", {"right_from_wrong": "full"}),
    Row(
        "C – IB studies",
        "C C A",
        "R = V/I = 7.5/1.5 = 4.0 Ω",
        "110",
        "a wrong answer has its working marked: IBS",
        {"right_from_wrong": "full"},
    ),
    Row('"M0 then A1"', "M M A", "R = V/I = 5.0 Ω", "100", "not normally possible: IBM, CSM"),
    Row('"M0 then A1"', "M M A", "R = V/I = 5.0 Ω", "101", "open where the method is missing: IBM, CSM", OPEN),
    Row('"M0 then A1"', "M M A", "R = V/I = 1.5/7.5 = 5.0 Ω", "100", "wrong, not missing: IBM, CSM", OPEN),
    Row("after an error inside one part (IB)", "lift", SLIP, "110110", "no further A, M still open: CSM", STOP),
    Row("after an error inside one part (IB)", "lift", SLIP, "110111", "where it is followed: OCR19, IB03 (not CSM)"),
    Row("easier after error (IB)", "tow", EASY, "110110", "discretion, so a person says: CSM, SQAM", {"follow_unless_easier": True}, True),
    Row("easier after error (IB)", "tow", EASY, "110111", "followed all the same: AH2022", {"follow_unless_easier": False}),
    Row("FT without working (IB)", "lift", BARE_AFTER, "110000", "working must be present: CSM", WORKED),
    Row("FT without working (IB)", "lift", BARE_AFTER, "110111", "an answer alone earns all it rests on: AH2022"),
    Row("FT without working (IB)", "lift", SLIP, "110111", "with working: CSM", WORKED),
    Row(
        "FT without working (IB)",
        "lift",
        "E = mgh = 2.0*9.8*5.0 = 98 J; P = 245 W",
        "111111",
        "a right answer is none to follow: CSM",
        WORKED,
    ),
    Row("FT without working (IB)", "lift, second answer only", BARE_AFTER, "1101", "except where only an answer is asked for: CSM", WORKED),
    Row("misread", "C C A", "R = V/I = 7.3/1.5 = 4.9 Ω", "101", "charged once, then followed: IBM2; from memory (1 mark)", FOLLOWED),
    Row("misread", "lift", MISREAD, "101111", "charged once, then followed: IBM2", FOLLOWED),
    Row("misread", "lift", MISREAD, "100111", "a wrong datum, charged where it is put in: AH2018; carried on: not certain"),
    Row("misread", "C C A", "R = V/I = 7.3/1.5 = 4.1 Ω", "100", "followed wrongly: IBM2; from memory", FOLLOWED),
    Row("marks gained are not lost by later work (isw)", "C C A", "R = 7.5/1.5 = 5.0 Ω; R = 50 Ω", "111", "SCI, AQA06, OCRM", IGNORED),
    Row(
        "marks gained are not lost by later work (isw)",
        "C C A",
        "R = I/V = 7.5/1.5 = 5.0 Ω; R = 50 Ω",
        "000",
        "passed through in a wrong argument: OCRM",
        IGNORED,
    ),
)
