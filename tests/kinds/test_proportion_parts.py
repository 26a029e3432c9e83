"""Proportion parts: invented tables, typed working, marks expected (common practice, no source; numbers worked by hand)."""

from __future__ import annotations

import tomllib
from functools import lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.errors import SchemeError
from marker.kinds.proportion.compiled import ProportionPart, ProportionSpec, compile_proportion
from marker.kinds.proportion.mark import KIND, mark_proportion, model_proportion
from marker.results import PartResult
from marker.scheme.convention import Convention

SCHEMES = {
    "spring": """
        name = "s"
        marks = 2
        table.x = { name = "force", symbol = "F", unit = "N", values = [15, 30, 45, 60] }
        table.y = { name = "extension", symbol = "x", unit = "mm", values = [6.2, 12.5, 18.7, 24.9] }
        """,
    "gas": """
        name = "b"
        marks = 3
        relation = "inverse"
        needs = 3
        table.x = { name = "volume", symbol = "V", unit = "cm^3", values = [10, 15, 20, 30] }
        table.y = { name = "pressure", symbol = "p", unit = "kPa", values = [240, 161, 120, 79.5] }
        """,
    "drop": """
        name = "d"
        marks = 3
        relation = "square"
        needs = 3
        table.x = { name = "time", symbol = "t", unit = "s", values = [0.2, 0.3, 0.4, 0.5] }
        table.y = { name = "distance", symbol = "s", unit = "m", values = [0.196, 0.44, 0.785, 1.22] }
        """,
    "pendulum": """
        name = "p"
        marks = 3
        ask = "test"
        needs = 3
        table.x = { name = "length", symbol = "L", unit = "m", values = [0.2, 0.4, 0.6, 0.8] }
        table.y = { name = "period", symbol = "T", unit = "s", values = [0.90, 1.27, 1.55, 1.79] }
        """,
    "lamp": """
        name = "l"
        marks = 3
        relation = "inverse square"
        table.x = { name = "distance", symbol = "r", unit = "m", values = [1.0, 2.0, 3.0] }
        table.y = { name = "irradiance", symbol = "I", unit = "W/m^2", values = [160, 40, 17.8] }
        """,
    "decay": """
        name = "h"
        marks = 2
        relation = "exponential"
        table.x = { name = "time", symbol = "t", unit = "min", values = [0, 2, 4, 6] }
        table.y = { name = "count rate", symbol = "R", unit = "", values = [640, 480, 361, 270] }
        """,
}


@lru_cache
def part(name: str) -> ProportionPart:
    return compile_proportion(ProportionSpec(**tomllib.loads(SCHEMES[name])), Convention())


def marks(result: PartResult) -> tuple[int, ...]:
    return tuple(int(a.mark) for a in result.awards)


@pytest.mark.parametrize(
    ("scheme", "typed", "expected", "fault"),
    [
        ("spring", "6.2/15 = 0.413, 12.5/30 = 0.417, 24.9/60=0.415\nthe ratio is constant so directly proportional", (1, 1), ""),
        ("spring", "15/6.2=2.42\n30/12.5=2.40\nx/F is constant", (1, 1), ""),
        ("spring", "0.413 0.417 0.416 0.415 all about the same so x ∝ F", (1, 1), ""),
        ("spring", "6.2/15 = 0.413", (0, 0), "too-few-ratios"),
        ("spring", "6.2/15 = 0.413\n12.5/30 = 0.417\nnot proportional", (1, 0), "conclusion-against-numbers"),
        ("spring", "6.2/15 = 0.413\n12.5/30 = 0.24\nso x is not proportional to F", (0, 1), "ratio-arithmetic"),
        ("spring", "6.2 x 15 = 93, 12.5 x 30 = 375, not constant so not proportional", (0, 0), "wrong-test"),
        ("spring", "they go up together so proportional", (0, 0), "too-few-ratios"),
        ("gas", "10×240=2400\n15×161=2415\n30×79.5=2385\np ∝ 1/V", (2, 1), ""),
        ("gas", "pV: 240×10 = 2400, 161×15 = 2415, 120×20 = 2400\nconstant so p is inversely proportional to V", (2, 1), ""),
        ("gas", "240×10 = 2400, 161×15 = 2415\nconstant so p is inversely proportional to V", (1, 1), "too-few-ratios"),
        ("gas", "240/10 = 24\n161/15=10.7\n120/20=6\nnot constant", (0, 0), "wrong-test"),
        ("drop", "0.196/0.2² = 4.9\n0.44/0.3^2 = 4.89\n0.785/0.16 = 4.91\ns/t² constant so s is proportional to t squared", (2, 1), ""),
        ("drop", "s/t^2 = 4.9, 4.89, 4.91, 4.88 so s ∝ t²", (2, 1), ""),
        ("pendulum", "0.90/0.2=4.5\n1.27/0.4=3.18\n1.55/0.6=2.58\nnot constant so T is not proportional to L", (2, 1), ""),
        ("pendulum", "0.90/0.2=4.5, 1.27/0.4=3.18, 1.55/0.6=2.58 so it is proportional", (2, 0), "conclusion-against-numbers"),
        ("lamp", "160 × 1² = 160, 40 × 2² = 160, 17.8 × 3² = 160.2\nconstant, so inverse square law", (2, 1), ""),
        ("decay", "480/640 = 0.75, 361/480 = 0.752, 270/361 = 0.748\nconstant ratio so exponential", (1, 1), ""),
        ("decay", "", (0, 0), ""),
        # readings compared by factors
        ("spring", "F doubles, x doubles so x is proportional to F", (1, 1), ""),
        ("spring", "when the force doubles the extension doubles too, so directly proportional", (1, 1), ""),
        ("spring", "doubling the force doubles the extension. proportional", (1, 1), ""),
        ("spring", "when F is 3 times bigger so is x\nx ∝ F", (1, 1), ""),
        ("spring", "twice the force gives twice the extension so x ∝ F", (1, 1), ""),
        ("spring", "30/15 = 2\n12.5/6.2 = 2.02\nso proportional", (1, 1), ""),
        ("spring", "15 to 30 doubles, 6.2 to 12.5 doubles, so proportional", (1, 1), ""),
        ("spring", "both double so proportional", (1, 1), ""),
        ("spring", "F doubles and x triples so proportional", (0, 0), "conclusion-against-numbers"),
        ("spring", "F doubles, x doubles", (1, 0), ""),
        ("spring", "F is 10 times bigger and x is 10 times bigger, proportional", (0, 1), ""),
        ("lamp", "when r doubles, I is a quarter. when r is 3 times bigger I is 9 times smaller. inverse square law", (2, 1), ""),
        ("lamp", "r doubles, I halves so it is the inverse square law", (0, 0), "conclusion-against-numbers"),
        ("gas", "V doubles (10 to 20), p halves; V three times bigger and p 3 times smaller; so p ∝ 1/V", (2, 1), ""),
        ("gas", "when V is doubled p is halved so inversely proportional", (1, 1), "too-few-ratios"),
        ("drop", "t doubles from 0.2 to 0.4, s is 4 times larger, s ∝ t²", (1, 1), "too-few-ratios"),
        ("pendulum", "L doubles but T is only 1.41 times bigger so T is not proportional to L", (1, 1), "too-few-ratios"),
    ],
)
def test_marks(scheme: str, typed: str, expected: tuple[int, ...], fault: str) -> None:
    result = mark_proportion(part(scheme), typed.split("\n"), {})
    assert (marks(result), result.referred) == (expected, False)
    if fault:
        assert fault in {f.code for f in result.faults}


@pytest.mark.parametrize("name", sorted(SCHEMES))
def test_model_answer_earns_everything(name: str) -> None:
    compiled = part(name)
    assert mark_proportion(compiled, model_proportion(compiled), {}).mark == compiled.spec.marks


@pytest.mark.parametrize(
    ("change", "key"),
    [({"relation": "square"}, "relation"), ({"needs": 9}, "table"), ({"points": ["ratios"], "worth": [1]}, "points")],
)
def test_a_scheme_that_cannot_be_marked_with_is_refused(change: dict[str, object], key: str) -> None:
    with pytest.raises(SchemeError) as refused:
        compile_proportion(ProportionSpec(**{**tomllib.loads(SCHEMES["spring"]), **change}), Convention())
    assert key in str(refused.value)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.text(alphabet="xFconstant proportional=∝*/()^.0123456789²\n", max_size=60), max_size=4))
def test_any_text_gives_a_mark_in_bounds(lines: list[str]) -> None:
    """Property of style companion 2.9: bounds; nothing raised on hostile text."""
    result = mark_proportion(part("spring"), lines, {})
    assert 0 <= result.mark <= result.maximum


def test_the_kind_offers_what_a_kind_must() -> None:
    assert (KIND.name, KIND.spec) == ("proportion", ProportionSpec)
