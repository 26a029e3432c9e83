"""Estimates: sizes within powers of ten or a range, ranges as answers, units, lost powers."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.errors import SchemeError
from marker.kinds.magnitude import KIND
from marker.results import PartResult
from marker.scheme.convention import Convention


def part(**keys: Any) -> Any:
    return KIND.compile(KIND.spec.model_validate({"name": "1", "kind": "estimate", "marks": 1, **keys}), Convention())


STUDENT = {"of": "mass of a student", "accept": ["40 kg", "120 kg"]}
PARTS = {
    "student": part(**STUDENT),
    "student, unit mark": part(**STUDENT, marks=2, rulings={"unit_fault": "separate mark"}),
    "air": part(of="atmospheric pressure", about="1e5 Pa"),
    "proton": part(of="mass of a proton", about="1e-27 kg", exponent="accepted"),
    "turns": part(of="number of turns", accept=["100", "1000"]),
}


def mark(name: str, text: str) -> PartResult:
    return KIND.mark(PARTS[name], text.split("\n"), {})


# Ways of writing: common practice, no source. 101325 Pa: standard atmosphere, ISO 2533. 1.673e-27 kg: proton mass, CODATA 2022.
READ = {
    "student": {
        1.0: (
            "70 kg",
            "70kg",
            "about 70 kg",
            "~70 kg",
            "60-80 kg",
            "60 to 80 kg",
            "between 60 and 80 kg",
            "70 kg or 80 kg",
            "70000 g",
            "m = 70 kg",
            "mass = density x volume = 1000 x 0.07 = 70 kg",
            "volume = 0.07 m^3\nmass = 1000 x 0.07 = 70 kg",
            "500 kg - scrap that - 70 kg",
            "7.0 x 10^1 kg",
            "70 kilograms",
            "ans: 70 kg",
            "70 kg ± 10 kg",
            "W = 700 N so m = 70 kg",
            "10^2 kg",
            "700 kg no too big\n70 kg",
            "700 kg - far too heavy, so 70 kg",
            "7 kg (no, that can't be) 70 kg",
        ),
        0.0: (
            *("700 kg", "7 kg", "70", "70 N", "700 N", "", "500 kg or 70 kg"),
            *("70 kg no too small\n700 kg", "70 tonnes", "dont know", "7000 kg", "-70 kg"),
        ),
    },
    "student, unit mark": {2.0: ("70 kg",), 1.0: ("70", "700 kg", "70 N"), 0.0: ("700", "")},
    "air": {
        1.0: (
            "10^5 Pa",
            "1e5 pascals",
            "100 000 Pa",
            "roughly 100 kPa",
            "1 x 10^5 N/m2",
            "5x105 Pa",
            "101325 Pa",
            "10^5 N m^-2",
            "10 to the power 5 Pa",
            "10⁵ Pa",
        ),
        0.0: ("10^7 Pa", "100 Pa", "100", "10^5", "10^5 N"),
    },
    "proton": {1.0: ("10-27 kg", "10^-27 kg", "1.673 x 10-27 kg", "-27", "2x10^-27kg"), 0.0: ("10^-31 kg", "27 kg", "9.1e-31 kg")},
    "turns": {1.0: ("500", "about 500 turns", "n = 500"), 0.0: ("5000", "10")},
}
ROWS = [(name, expected, text) for name, table in READ.items() for expected, texts in table.items() for text in texts]


@pytest.mark.parametrize(("name", "expected", "text"), ROWS)
def test_estimates(name: str, expected: float, text: str) -> None:
    result = mark(name, text)
    assert (result.mark, result.referral) == (expected, None), result


@pytest.mark.parametrize(
    ("name", "text"), [("student", "100 to 200 kg"), ("air", "5"), ("air", "a hundred thousand pascals"), ("student", "average")]
)
def test_what_cannot_be_decided_is_referred(name: str, text: str) -> None:
    result = mark(name, text)
    assert result.mark == 0.0
    assert result.referral is not None
    assert [p.mark for p in result.referral.possibilities] == [0.0, 1.0]
    assert result.lines[0].verdict == "unread"


# Conventions file 1.5 switches 4, 12 and 13.
RULINGS = (
    ({"unit_fault": "none"}, "70", 1.0),
    ({"unit_fault": "answer mark"}, "70", 0.0),
    ({"unit_fault": "separate mark", "half_marks": True}, "70", 0.5),
    ({"two_answers": "zero"}, "500 kg or 70 kg", 0.0),
    ({"two_answers": "first"}, "500 kg or 70 kg", 0.0),
    ({"two_answers": "last"}, "500 kg or 70 kg", 1.0),
    ({"two_answers": "best"}, "500 kg or 70 kg", 1.0),
    ({"crossed_out": "never"}, "~~70 kg~~", 0.0),
    ({"crossed_out": "if not replaced"}, "~~70 kg~~", 1.0),
)


@pytest.mark.parametrize(("rulings", "text", "expected"), RULINGS)
def test_rulings(rulings: dict[str, Any], text: str, expected: float) -> None:
    assert KIND.mark(part(**STUDENT, rulings=rulings), [text], {}).mark == expected


def test_reasons_faults_and_lines() -> None:
    result = mark("student", "volume = 0.07 m^3\n7000 kg")
    assert result.awards[0].reason == "Line 2: “7000 kg” is outside the accepted range for the mass of a student."
    assert [(f.code, f.line) for f in result.faults] == [("size-off", 2)]
    assert "58 times too large" in result.faults[0].teacher  # 7000 / 120
    assert [x.verdict for x in result.lines] == ["value", "wrong"]
    assert mark("student", "70").awards[0].fault == "unit-absent"


def test_the_own_value_is_carried_under_its_letter() -> None:
    compiled = part(**STUDENT, symbol="m")
    own = KIND.mark(compiled, ["m = 80 kg"], {}).own
    assert [(o.symbol, o.value, o.right) for o in own] == [("m", 80.0, True)]


@pytest.mark.parametrize("name", sorted(PARTS))
def test_the_model_answer_earns_full_marks(name: str) -> None:
    result = KIND.mark(PARTS[name], KIND.model(PARTS[name]), {})
    assert (result.mark, result.referral) == (result.maximum, None)


REFUSED = (
    {},
    {"about": "70 kg", "accept": ["1 kg", "2 kg"]},
    {"accept": ["120 kg", "40 kg"]},
    {"accept": ["40 kg", "120 N"]},
    {"about": "heavy"},
)


@pytest.mark.parametrize("keys", REFUSED)
def test_schemes_that_are_refused(keys: dict[str, Any]) -> None:
    with pytest.raises(SchemeError) as refused:
        part(of="mass", **keys)
    assert refused.value.problems[0].where in ("part 1, accept", "part 1, about")
    assert refused.value.problems[0].mend


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.text(max_size=60), st.sampled_from(sorted(PARTS)))
def test_any_text_is_marked(text: str, name: str) -> None:
    result = mark(name, text)
    assert 0 <= result.mark <= result.maximum
    assert len(result.lines) == len(text.split("\n"))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.floats(min_value=1.0, max_value=1e4))
def test_the_range_is_the_range(value: float) -> None:
    assert mark("student", f"{value:.3f} kg").mark == float(40 <= round(value, 3) <= 120)


# The number of significant figures of 0.00450 is three: common practice, no source.
@pytest.mark.parametrize(
    ("typed", "right"),
    [
        ("3", 1),
        ("3 s.f.", 1),
        ("3sf", 1),
        ("three", 1),
        ("Three significant figures.", 1),
        ("3 sig figs", 1),
        ("6", 0),
        ("two", 0),
        ("5 s.f.", 0),
    ],
)
def test_a_count_of_figures(typed: str, right: float) -> None:
    made = part(of="number of significant figures of 0.00450", accept=["2.9", "3.1"])
    result = KIND.mark(made, (typed,), {})
    assert (result.mark, result.referred) == (right, False), [a.reason for a in result.awards]
