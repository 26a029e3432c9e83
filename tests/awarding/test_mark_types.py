"""Mark types and their dependence: conventions file 2.1 (physics: M, A, C, B) and 2.2 (mathematics), and the abbreviations of 2.3.

Source field: the published key, else "from memory" or "common practice, no source". The parts are invented but for the resistor (BA7377).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from marker import build_paper
from marker.errors import SchemeError
from tests.awarding.mark_type_rows import ROWS, Row
from tests.awarding.parts import mark, one_part
from tests.awarding.switch_rows import RESISTOR, SETTINGS


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_mark_type(row: Row) -> None:
    paper = build_paper({"paper": {"title": "types", "rulings": dict(row.rulings)}, "part": [{"name": "a", "marks": 3, **row.part}]})
    result = mark(paper.parts[0], row.typed)
    assert "".join(f"{a.mark:g}" for a in result.awards) == row.got, [a.reason for a in result.awards]
    assert result.referred == row.referred


# --- keys of a point --------------------------------------------------------------------------------

TWO_STEPS = "E = mgh = 2.0*9.8*5.0 = 89 J; P = E/t = 89/0.40 = 223 W"


def _lift(**answer: Any) -> Mapping[str, Any]:
    points = [{"kind": "relationship"}, {"kind": "substitution"}, {"kind": "answer", **answer}]
    first, second = SETTINGS["lift"]["step"]
    return {**SETTINGS["lift"], "step": [first, {**second, "points": points}]}


@pytest.mark.parametrize(
    ("keys", "marks", "source"),
    [
        ({}, 5, "ft: own earlier value used correctly (AQA-AM, SCI, AQA-P)"),
        ({"follow": False}, 4, "cao: correct answer only (AQA-AM, SCI)"),
    ],
)
def test_follow_through_and_correct_answer_only(keys: Mapping[str, Any], marks: float, source: str) -> None:
    assert mark(one_part(**_lift(**keys)), TWO_STEPS).mark == marks, source


def test_correct_answer_only_names_the_own_value() -> None:
    award = mark(one_part(**_lift(follow=False)), TWO_STEPS).awards[-1]
    assert award.mark == 0 and "candidate's own E" in award.reason and "not followed" in award.reason


@pytest.mark.parametrize(("isw", "marks"), [(True, 3), (False, 2)])
def test_ignore_subsequent_working(isw: bool, marks: float) -> None:
    """isw (SCI, AQA06): work after a right answer is ignored."""
    points = [{"kind": "relationship"}, {"kind": "substitution"}, {"kind": "answer", "isw": isw}]
    assert mark(one_part(**RESISTOR, points=points), "R = V/I = 7.5/1.5 = 5.0 Ω; R = 5.0 x 2 = 10 Ω").mark == marks


@pytest.mark.parametrize(("needs", "marks"), [([], 2), (["substitution"], 1)])
def test_dependent_points(needs: list[str], marks: float) -> None:
    """dep (AQA-AM, AQA-GM): a point that needs another is lost with it."""
    points = [{"kind": "relationship"}, {"kind": "substitution", "type": "M"}, {"kind": "answer", "type": "B", "needs": needs}]
    assert mark(one_part(**RESISTOR, points=points), "R = V/I = 5.0 Ω").mark == marks


@pytest.mark.parametrize(("special", "marks"), [([], 1), ([{"answer": "0.20 Ω", "marks": 2, "because": "the quotient upside down"}], 2)])
def test_special_case(special: list[dict[str, Any]], marks: float) -> None:
    """SC (AQA-GM, AQA-AM): a scripted award for a common wrong route, where the points give less."""
    result = mark(one_part(**RESISTOR, special=special), "R = V/I = 1.5/7.5 = 0.20 Ω")
    assert result.mark == marks
    assert any("upside down" in a.reason for a in result.awards) == bool(special)


def test_special_case_never_takes_marks_away() -> None:
    special = [{"answer": "0.20 Ω", "marks": 1, "because": "upside down"}]
    assert mark(one_part(**RESISTOR, special=special), "V = IR; 7.5 = 1.5 x R; R = 0.20 Ω").mark == 2


@pytest.mark.parametrize("typed", ["R = 5.0 Ω", "R = 5.0 V/A", "R = 5000 mΩ", "R = 0.0050 kΩ", "R = 5.0 x 10^0 ohm"])
def test_or_equivalent(typed: str) -> None:
    """oe, ACF (AQA-AM, SCI): any correct form."""
    assert mark(one_part(**RESISTOR), typed).mark == 3


def test_benefit_of_doubt_is_noted() -> None:
    """bod (OCR15MS, OCR19): a reading beyond the plainest is taken in the candidate's favour, and said so."""
    kinetic = {"given": {"m": "5.0 kg", "v": "3.0 m/s"}, "find": "E", "unit": "J", "using": ["E = 1/2*m*v^2"]}
    result = mark(one_part(**kinetic), "E = 1/2mv2 = 0.5 x 5.0 x 3.02 = 22.5 J")
    assert result.mark == 3
    assert result.notes


def test_half_a_mark_needs_the_ruling() -> None:
    """H2013 allowed half marks; CIE22 and IB16 give whole ones."""
    points = [{"kind": "relationship", "marks": 0.5}, {"kind": "substitution", "marks": 0.5}, {"kind": "answer", "marks": 2}]
    with pytest.raises(SchemeError, match="half_marks"):
        one_part(**RESISTOR, points=points)
    assert mark(one_part({"half_marks": True}, **RESISTOR, points=points), "R = V/I").mark == 0.5
