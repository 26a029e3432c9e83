"""Reasons: one sentence each, in an examiner's words, that names the line. Common practice, no source; invented responses."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import pytest

from marker.awarding.wording import quoted, say, sentence
from marker.marking import mark_response
from tests.awarding.issue_rows import ALL
from tests.awarding.parts import mark, one_part
from tests.awarding.switch_rows import ROWS, SETTINGS
from tests.awarding.test_worked_examples import CASES, Case, _part

JARGON = re.compile(r"taint|evidence|lift|probe|world|reading|parse|token|None\b|relations?\b|judg|substituted into|['`]\w+['`]|\{|\\")


def _is_a_sentence(reason: str) -> bool:
    ends = reason.endswith(".") and not reason.endswith("..")
    return ends and not reason[:1].isspace() and "  " not in reason and not JARGON.search(re.sub(r"“[^”]*”", "“…”", reason))


@pytest.mark.parametrize("case", CASES, ids=str)
def test_every_reason_is_one_sentence_that_names_its_lines(case: Case) -> None:
    for award in mark_response(_part(case.example), case.lines).awards:
        assert _is_a_sentence(award.reason), award.reason
        assert not award.lines or say(award.lines) in award.reason or all(say((n,)) in award.reason for n in award.lines), award.reason


@pytest.mark.parametrize("row", [r for r in ROWS if "parts" not in SETTINGS[r.setting]], ids=str)
def test_reasons_under_every_ruling(row: Any) -> None:
    part = one_part(rulings={row.switch: row.option, **row.also}, **SETTINGS[row.setting])
    for award in mark(part, row.typed).awards:
        assert _is_a_sentence(award.reason), award.reason


@dataclass(frozen=True)
class Said:
    typed: str
    point: int
    reason: str
    setting: str = "resistor"
    rulings: Mapping[str, Any] | None = None

    def __str__(self) -> str:
        return f"{self.typed} [{self.point}]"


LOOP = {
    "given": {"R_1": "3.0 Ω", "R_2": "6.0 Ω", "V": "4.0 V"},
    "find": "I",
    "unit": "A",
    "using": ["1/R = 1/R_1 + 1/R_2", "V = I*R"],
}
PARTS = {
    **ALL,
    "side by side": {**LOOP, "points": [{"kind": "relationship", "of": "V = I*R"}, {"kind": "value", "of": "R"}, {"kind": "answer"}]},
    "both": {**LOOP, "marks": 2, "points": [{"kind": "relationship", "of": LOOP["using"]}, {"kind": "answer"}]},
    "either": {**LOOP, "marks": 2, "points": [{"kind": "relationship", "of": LOOP["using"], "any": True}, {"kind": "answer"}]},
}
PARTS["edge"] = {"given": {"n": "1.50"}, "find": "C", "unit": "°", "using": ["sin(C) = 1/n"]}
EARLY = "I = E/R = 2.00/3.00 = 0.67; P = I²r = 0.67² x 50 = 22.4 W"
OTHER = "V = IR; I = 4.0/3.0 = 1.3 A"
SAID = (
    # earned
    Said("R = V/I = 7.5/1.5 = 5.0 Ω", 0, "V = IR is stated (line 1)."),
    Said("R = 7.5/1.5 = 5.0 Ω", 0, "The numbers show V = IR (line 1)."),
    Said("5.0 Ω", 0, "V = IR is implied by the right answer (line 1)."),
    Said("V = IR; 7.5 = 1.5R; R = 5.0 Ω", 1, "All values are substituted (line 2)."),
    Said("V = IR; 7.5 = 1.5R; R = 5.0 Ω", 2, "“5.0 Ω” is right (line 3)."),
    # left out
    Said("4.0 Ω", 0, "V = IR is not shown."),
    Said("R = V/I", 2, "No value of R is given."),
    Said("4.0 Ω", 2, "“4.0 Ω” is not the right value, and no working shows why (line 1)."),
    # arithmetic and rounding
    Said("R = V/I = 7.5/1.5 = 4.0 Ω", 2, "“4.0 Ω” is not the right value: an arithmetic slip (line 1)."),
    Said("R = V/I = 8.5/1.5 = 5.6 Ω", 2, "“5.6 Ω” is cut off where it should be rounded (line 1).", "coil"),
    Said(EARLY, 3, "“22.4 W” is not the right value: rounded too early (line 2).", "two loops"),
    # copying, exchanging
    Said("R = V/I; R = 5.7/1.5 = 3.8 Ω", 1, "7.5 V is copied as “5.7” (line 2)."),
    Said("R = V/I = 75/1.5 = 50 Ω", 1, "7.5 V is copied as “75”, with its decimal point moved (line 1)."),
    Said("R = V/I; R = 1.5/7.5 = 0.20 Ω", 1, "The values of I and V are exchanged (line 2)."),
    # conversion
    Said("R = V/I = 27.6/64 = 0.43 Ω", 2, "“0.43 Ω” is not the right value: 64 mA is put in as “64”, not converted (line 1).", "heater"),
    Said("R = V/I = 27.6/0.064 = 0.431 Ω", 2, "“0.431 Ω” is not the right value: its power of ten is wrong (line 1).", "heater"),
    # relationship and rearrangement
    Said("R = I/V = 1.5/7.5 = 0.20 Ω", 0, "“I/V” is not V = IR (line 1)."),
    Said("V = IR; R = I/V = 1.5/7.5 = 0.20 Ω", 1, "The relationship is rearranged wrongly, to “I/V” (line 2)."),
    Said("R = I/V = 7.5/1.5 = 5.0 Ω", 2, "“5.0 Ω” rests on a wrong line: “I/V” is not the relationship needed (line 1)."),
    Said("R = 2V/I = 2 × 7.5/1.5 = 10 Ω", 0, "“2V/I” is not V = IR (line 1)."),
    Said("R = 2V/I = 2 × 7.5/1.5 = 10 Ω", 1, "The values are not put into V = IR (line 1)."),
    Said("R = 2V/I = 2 × 7.5/1.5 = 10 Ω", 2, "“10 Ω” is not the right value: it comes from the wrong relationship in line 1."),
    Said("V = IR; R = I/V = 1.5/7.5 = 0.20 Ω", 2, "“0.20 Ω” is not the right value: it comes from the wrong rearrangement in line 2."),
    Said("R = V/I = 5.7/1.5 = 3.8 Ω", 2, "“3.8 Ω” is not the right value: it rests on “5.7” in place of 7.5 V (line 1)."),
    Said("V = IR, P = IV", 0, "V = IR stands among other relationships and is not used (line 1)."),
    # unit, figures, form
    Said("R = V/I = 7.5/1.5 = 5.0", 2, "“5.0” has no unit (line 1)."),
    Said("R = V/I = 7.5/1.5 = 5.0 V", 2, "“5.0 V” has a unit of another quantity (line 1)."),
    Said("R = V/I = 7.5/1.5 = 5.00000 Ω", 2, "“5.00000 Ω” has too many significant figures (line 1)."),
    Said("R = V/I = 8.5/1.5 = 17/3 Ω", 2, "“17/3 Ω” is left as a fraction or root, not worked out (line 1).", "coil"),
    Said("R = V/I = 7.5/1.5 = 5.0 Ω or 4.0 Ω", 2, "Different answers are offered, “5.0 Ω” and “4.0 Ω” (line 1)."),
    # own values
    Said("E = mgh = 2.0*9.8*5.0 = 89 J; P = E/t = 89/0.40 = 223 W", 5, "“223 W” is right on the candidate's own E (line 2).", "lift"),
    # an answer not reached; values on the way; the relationship shown of several
    Said("E = mgh = 2.0*9.8*5.0 = 98 J", 3, "No value of P is given; the working ends with “98 J” (line 1).", "ladder"),
    Said("P = E/t", 3, "No value of P is given.", "ladder"),
    Said("E = ½mv² = ½ x 4.0 x 4.0 = 8.0 J", 0, "E = ½mv² is stated (line 1).", "kinetic"),
    Said("1/R = 1/3.0 + 1/6.0; R = 0.50 Ω", 1, "“0.50 Ω” is not the right value of R: an arithmetic slip (line 2).", "side by side"),
    Said("R = 1/3.0 + 1/6.0 = 0.50 Ω", 0, "V = IR is not shown; “1/3.0 + 1/6.0” is wrong (line 1).", "side by side"),
    Said("1/R = 1/3.0 + 1/6.0 = 0.50; R = 0.50 Ω", 0, "The numbers show 1/R = 1/R₁ + 1/R₂ (line 1).", "either"),
    Said("I = 2.0/4.0 = 50 %", 0, "“2.0/4.0” is not V = IR (line 1).", "side by side"),
    Said("I = 50 %", 0, "V = IR is not shown.", "side by side"),
    Said("V = IR; 4.0 = 2.0 I", 0, "V = IR is stated (line 1).", "either"),
    # several relationships; a value used for what it is not; a wrong value at the end of working in which nothing wrong was seen
    Said("I = 2.0 A", 0, "1/R = 1/R₁ + 1/R₂ and V = IR are implied by the right answer (line 1).", "both"),
    Said("I = 9.0 A", 0, "1/R = 1/R₁ + 1/R₂ and V = IR are not shown.", "both"),
    Said(OTHER, 2, "“1.3 A” is not the right value: “3.0” is used for R, whose value it is not (line 2).", "side by side"),
    Said("V = IR; I = 3.7 A", 2, "“3.7 A” is not the right value (line 2).", "side by side"),
    # a function keeps its small letter
    Said("C = 42°", 0, "sin C = 1/n is implied by the right answer (line 1).", "edge"),
    # "show that"
    Said("R = V/I = 7.5/1.5 = 5.00", 1, "“5.00” has no unit (line 1).", "show", {"show_unit": True}),
    Said("R = V/I = 7.5/1.5", 1, "The values are substituted, but the result is not stated.", "show"),
)


@pytest.mark.parametrize("said", SAID, ids=str)
def test_what_is_said(said: Said) -> None:
    result = mark(one_part(rulings=dict(said.rulings or {}), **PARTS[said.setting]), said.typed)
    assert result.awards[said.point].reason == said.reason


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("5.0 Ω", "“5.0 Ω”"),
        ("sin(47/1.52", "“sin(47/1.52)”"),
        ("10^{3}}", "“10^{3}”"),
        ("5.0 Ω)", "“5.0 Ω”"),
        ("44 N + 10 N)/85 kg", "“(44 N + 10 N)/85 kg”"),
        ("3*6/60)/(6*4", "“(3*6/60)/(6*4)”"),
        ("((3 + 4)", "“(3 + 4)”"),
        (r"33\,\text{A", "“33 A”"),
        ("$E = mgh$", "“E = mgh”"),
        ("   a    b ", "“a b”"),
        ("x" * 200, "“" + "x" * 59 + "…”"),
    ],
)
def test_quotations(typed: str, shown: str) -> None:
    assert quoted(typed) == shown


@pytest.mark.parametrize(
    ("lines", "said"),
    [((2,), "line 2"), ((4, 2, 2), "lines 2 and 4"), ((3, 1, 2), "lines 1, 2 and 3"), ((0,), "carried from an earlier part")],
)
def test_lines_named(lines: tuple[int, ...], said: str) -> None:
    assert say(lines) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [("the numbers show it", "The numbers show it."), ("“I/V” is wrong", "“I/V” is wrong."), ("v is right", "v is right.")],
)
def test_sentences(text: str, said: str) -> None:
    assert sentence(text) == said
