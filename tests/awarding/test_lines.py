"""What each typed line is said to be: right, followed from an own value, wrong, data. Common practice, no source; invented parts."""

from __future__ import annotations

import pytest

from marker import build_paper
from marker.marking import mark_candidate
from tests.awarding.parts import mark, one_part
from tests.awarding.switch_rows import SETTINGS

TABLE = (
    ("resistor", "V = IR; 7.5 = 1.5R; R = 5.0 Ω", "right right value"),
    ("resistor", "V = 7.5 V; R = V/I; R = 7.5/1.5; R = 4.0 Ω", "data right right wrong"),
    ("resistor", "V = IR; R = I/V; R = 1.5/7.5; R = 0.20 Ω", "right wrong follows follows"),
    ("resistor", "~~R = VI~~; R = V/I", "withdrawn right"),
    ("resistor", "I think this is hard; 5.0 Ω", "remark value"),
    ("lift", "E = mgh = 2.0*9.8*5.0 = 89 J; P = E/t; P = 89/0.40; P = 223 W", "wrong right follows follows"),
)


@pytest.mark.parametrize(("setting", "typed", "verdicts"), TABLE)
def test_verdicts(setting: str, typed: str, verdicts: str) -> None:
    result = mark(one_part(**SETTINGS[setting]), typed)
    assert [x.verdict for x in result.lines] == verdicts.split()


@pytest.mark.parametrize(
    ("first", "second", "verdicts"),
    [
        ("Q = It = 2.5*8.0 = 22 C", "E = QV; E = 22*6.0; E = 132 J", "right right follows"),
        ("", "assume Q = 50 C; E = QV = 50*6.0 = 300 J", "follows follows"),
        ("Q = It = 2.5*8.0 = 20 C", "E = QV; E = 20*6.0; E = 120 J", "right right value"),
    ],
)
def test_verdicts_of_a_part_that_carries_a_value(first: str, second: str, verdicts: str) -> None:
    paper = build_paper({"paper": {"title": "two parts"}, "part": SETTINGS["charge"]["parts"]})
    results = mark_candidate(paper, {"1": first.split("; ") if first else (), "2": second.split("; ")})
    assert [x.verdict for x in results[1].lines] == verdicts.split()
