"""Values in the cells of a table: by name, in order, with figures and units."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.errors import SchemeError
from marker.kinds.table import KIND
from marker.results import PartResult
from marker.scheme.convention import Convention


def part(**keys: Any) -> Any:
    return KIND.compile(KIND.spec.model_validate({"name": "1", "kind": "table", "marks": 3, **keys}), Convention())


# 2.4 V across a lamp with 0.50 A in it: R = 4.8 Ω, P = 1.2 W. Values of our own, checked by R = V/I and P = IV.
LAMP = [
    {"label": "resistance", "names": ["R"], "value": "4.8 Ω", "figures": 2},
    {"label": "current", "names": ["I"], "value": "0.50 A", "figures": 2, "symbol": "I"},
    {"label": "power", "names": ["P"], "value": "1.2 W", "figures": 2},
]
VOLTS = [
    {"label": "0.50 A", "names": ["row 1", "first"], "value": "2.4 V"},
    {"label": "0.80 A", "names": ["row 2", "second"], "value": "3.8 V"},
    {"label": "1.20 A", "names": ["row 3", "third"], "value": "5.8 V"},
]
PARTS = {
    "lamp": part(cell=LAMP),
    "lamp, units": part(cell=LAMP, units="cell"),
    "lamp, all": part(cell=LAMP, points="all", marks=1),
    "volts": part(cell=VOLTS, tolerance=0.02),
}


def mark(name: str, text: str) -> PartResult:
    return KIND.mark(PARTS[name], text.split("\n"), {})


# Ways of typing a table into a box: common practice, no source.
READ = {
    "lamp": {
        3.0: (
            "resistance: 4.8\ncurrent: 0.50\npower: 1.2",
            "R = 4.8 Ω\nI = 0.50 A\nP = 1.2 W",
            "4.8, 0.50, 1.2",
            "4.8\n0.50\n1.2",
            "resistance 4.8 ohms, current 0.5 A, power 1.2 W",
            "P = 1.2 W\nI = 0.5 A\nR = 4.8 ohm",
            "R = V/I = 2.4/0.50 = 4.8 Ω\nI = 0.50 A\nP = IV = 0.50 x 2.4 = 1.2 W",
            "4.8 | 0.50 | 1.2",
            "4.8;0.50;1.2",
            "Resistance = 4.8, Current = 0.50, Power = 1.2",
            "R: 4.80\nI: 0.500 A\nP: 1.20",
            "R=5.2 no R = 4.8\nI=0.5\nP = 1.2",
            "R = 5.2 Ω\nno, R = 4.8 Ω\nI = 0.5\nP = 1.2",
        ),
        2.0: (
            "R = 4.8\nI = 0.50",
            "4.8, 0.50, 2.4",
            "R = 4.8 Ω\nI = 0.70 A\nP = 1.2 W",
            "R = 4.8\nI = 0.5\nP = 1.23456",
            "R = 4.8 V\nI = 0.50 A\nP = 1.2 W",
            "R = 4.8 or 5.2\nI = 0.5\nP=1.2",
        ),
        1.0: ("resistance: 0.50\ncurrent: 4.8\npower: 1.2",),
        0.0: ("",),
    },
    # the same unit fault costs once in a part (conventions file 1.3, recurring fault)
    "lamp, units": {3.0: ("R = 4.8 Ω\nI = 0.50 A\nP = 1.2 W",), 2.0: ("R = 4.8\nI = 0.50\nP = 1.2", "R = 4.8\nI = 0.50 A\nP = 1.2 W")},
    "lamp, all": {1.0: ("4.8, 0.50, 1.2",), 0.0: ("4.8, 0.50, 1.3", "R = 4.8")},
    "volts": {
        3.0: (
            "0.50 A: 2.4 V\n0.80 A: 3.8 V\n1.20 A: 5.8 V",
            "2.4, 3.8, 5.8",
            "row 1: 2.4\nrow 2: 3.8\nrow 3: 5.8",
            "first 2.4 V, second 3.8 V, third 5.8 V",
            "0.50 A = 2.4 V; 0.80 A = 3.8 V; 1.20 A = 5.8 V",
            "2400 mV, 3800 mV, 5800 mV",
            "V / V: 2.4, 3.8, 5.8",
        ),
        2.0: ("row 1: 2.4\nrow 2: 3.8\nrow 3: 5.2",),
        1.0: ("third: 5.8",),
    },
}
ROWS = [(name, expected, text) for name, table in READ.items() for expected, texts in table.items() for text in texts]


@pytest.mark.parametrize(("name", "expected", "text"), ROWS)
def test_tables(name: str, expected: float, text: str) -> None:
    result = mark(name, text)
    assert (result.mark, result.referral) == (expected, None), result


@pytest.mark.parametrize("text", ["4.8, 0.50", "4.8", "the values", "R = four point eight\nI = 0.5\nP=1.2"])
def test_what_cannot_be_told_apart_is_referred(text: str) -> None:
    result = mark("lamp", text)
    assert result.referral is not None
    assert result.mark == result.referral.possibilities[0].mark
    assert len({p.mark for p in result.referral.possibilities}) > 1


# Conventions file 1.5 switches 2, 3, 4, 5 and 12.
RULINGS = (
    ({"two_answers": "first"}, "R = 4.8 or 5.2\nI = 0.5\nP=1.2", 3.0),
    ({"two_answers": "last"}, "R = 4.8 or 5.2\nI = 0.5\nP=1.2", 2.0),
    ({"two_answers": "best"}, "R = 5.2 or 4.8\nI = 0.5\nP=1.2", 3.0),
    ({"significant_figures": {"scope": "never"}}, "R = 4.8\nI = 0.5\nP = 1.200000", 3.0),
    ({"unit_fault": "none"}, "R = 4.8 V\nI = 0.50 A\nP = 1.2 W", 3.0),
    ({"unit_fault_scope": "never"}, "R = 4.8 V\nI = 0.50 A\nP = 1.2 W", 3.0),
)


@pytest.mark.parametrize(("rulings", "text", "expected"), RULINGS)
def test_rulings(rulings: dict[str, Any], text: str, expected: float) -> None:
    assert KIND.mark(part(cell=LAMP, rulings=rulings), text.split("\n"), {}).mark == expected


def test_reasons_faults_lines_and_own_values() -> None:
    result = mark("lamp", "R = 0.50\nI = 0.70 A\nP = 1.2 W")
    assert [a.reason for a in result.awards] == [
        "Line 1: “0.50” for resistance is not right; it is 4.8 Ω.",
        "Line 2: “0.70 A” for current is not right; it is 0.50 A.",
        "Line 3: “1.2 W” for power is right.",
    ]
    assert [(f.code, f.sure) for f in result.faults] == [("cells-exchanged", False), ("cell-wrong", True)]
    assert [x.verdict for x in result.lines] == ["wrong", "wrong", "right"]
    assert [(o.symbol, o.value, o.right) for o in result.own] == [("I", 0.7, False)]


@pytest.mark.parametrize("name", sorted(PARTS))
def test_the_model_answer_earns_full_marks(name: str) -> None:
    result = KIND.mark(PARTS[name], KIND.model(PARTS[name]), {})
    assert (result.mark, result.referral) == (result.maximum, None)


REFUSED = (
    ({"cell": LAMP, "marks": 4}, "part 1, marks"),
    ({"cell": [{**LAMP[0], "value": "a lot"}], "marks": 1}, "part 1, cell 1, value"),
    ({"cell": [{**LAMP[0], "accept": ["5 Ω"]}], "marks": 1}, "part 1, cell 1, accept"),
    ({"cell": [{**LAMP[0], "accept": ["5 Ω", "4 Ω"]}], "marks": 1}, "part 1, cell 1, accept"),
    ({"cell": [LAMP[0], LAMP[0]], "marks": 2}, "part 1, cell 2, label"),
)


@pytest.mark.parametrize(("keys", "where"), REFUSED)
def test_schemes_that_are_refused(keys: dict[str, Any], where: str) -> None:
    with pytest.raises(SchemeError) as refused:
        part(**keys)
    assert refused.value.problems[0].where == where
    assert refused.value.problems[0].mend


@settings(max_examples=80, deadline=None, derandomize=True)
@given(st.text(max_size=60), st.sampled_from(sorted(PARTS)))
def test_any_text_is_marked(text: str, name: str) -> None:
    result = mark(name, text)
    assert 0 <= result.mark <= result.maximum
    assert len(result.lines) == len(text.split("\n"))


# A value to be written to a number of figures: no more and no fewer. Common practice, no source.
ROUNDED = (
    ("0.0046", 1), ("0.0046 m", 1), ("4.6e-3 m", 1), ("4.6 x 10^-3", 1), ("4.6 mm", 1),
    ("0.004562 m", 0), ("0.00456 m", 0), ("0.00460 m", 0), ("0.005 m", 0), ("0.0045 m", 0), ("46", 0),
)  # fmt: skip


@pytest.mark.parametrize(("typed", "right"), ROUNDED)
def test_written_to_so_many_figures(typed: str, right: float) -> None:
    keys = {
        "name": "1",
        "kind": "table",
        "marks": 1,
        "stem": "Write 0.004562 m to two significant figures.",
        "rulings": {"significant_figures": {"under": 0, "over": 0}},
        "cell": [{"label": "rounded value", "value": "0.0046 m", "figures": 2}],
    }
    made = KIND.compile(KIND.spec.model_validate(keys), Convention())
    assert KIND.mark(made, (typed,), {}).mark == right


@pytest.mark.parametrize(("typed", "right"), [("12 24 36", 3), ("12, 24, 36", 3), ("12 24", 0), ("12 000 24 36", 0)])
def test_numbers_in_a_row(typed: str, right: float) -> None:
    cells = [{"label": name, "value": value} for name, value in (("first", "12 V"), ("second", "24 V"), ("third", "36 V"))]
    made = KIND.compile(KIND.spec.model_validate({"name": "1", "kind": "table", "marks": 3, "cell": cells}), Convention())
    assert KIND.mark(made, (typed,), {}).mark == right
