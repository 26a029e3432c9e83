"""Statements called true or false, with their correction."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.errors import SchemeError
from marker.kinds.true_false import KIND
from marker.results import PartResult
from marker.scheme.convention import Convention

FALSE = {
    "statement": "The force on the charge is parallel to the field.",
    "answer": False,
    "replaced": "parallel",
    "correction": ["perpendicular", "at right angles", "at 90 degrees", "normal"],
}


def part(**keys: Any) -> Any:
    spec = KIND.spec.model_validate({"name": "1", "kind": "true or false", "marks": 1, **FALSE, **keys})
    return KIND.compile(spec, Convention())


PARTS = {
    "false": part(),
    "two marks": part(marks=2),
    "true": part(answer=True, replaced="", correction=[]),
    "no correction": part(replaced="", correction=[]),
    "near words": part(statement="Light bends at a boundary by reflection.", replaced="reflection", correction=["refraction"]),
}


def mark(name: str, text: str) -> PartResult:
    return KIND.mark(PARTS[name], text.split("\n"), {})


# Ways candidates write it; common practice, no source. Near terms: conventions file 1.3, spelling (reflect/refract/diffract).
READ = {
    "false": {
        1.0: (
            "False, perpendicular",
            "false - perpendicular",
            "F perpendicular",
            "False. It should be perpendicular.",
            "False\nperpendicular",
            "false, it is at right angles to the field",
            "not true, perpendicular",
            "False; the force is perpendicular to the field not parallel",
            "false (perpendicuar)",
            "FALSE: Perpendicular",
            "False: replace parallel with perpendicular",
            "incorrect, should be at 90 degrees",
            "no, perpendicular",
            "it is false because the force is perpendicular to the field",
            "True no wait false, perpendicular",
            "~~true~~ false perpendicular",
            "False, perpendicular instead of parallel",
            "✗ perpendicular",
            "flase perpendicular",
            "The statement is false. The correct word is perpendicular.",
        ),
        0.0: ("True", "False", "false, parallel", "T", "true, perpendicular", "", "dont know", "true or false", "the statement is true"),
    },
    "two marks": {2.0: ("False, perpendicular",), 1.0: ("False", "true, perpendicular", "false, parallel"), 0.0: ("True",)},
    "true": {
        1.0: ("True", "T", "true.", "correct", "yes", "It is true", "✓", "ture", "True because the force is parallel"),
        0.0: ("False", "f", "not true", "no", "true false", "isn't true", "incorrect"),
    },
    "no correction": {1.0: ("False", "F", "not true", "untrue", "wrong"), 0.0: ("True",)},
    "near words": {
        1.0: ("False, refraction", "false refracton"),
        0.0: ("False, diffraction", "False, reflection", "false reflecton", "False, difraction"),
    },
}
ROWS = [(name, expected, text) for name, table in READ.items() for expected, texts in table.items() for text in texts]


@pytest.mark.parametrize(("name", "expected", "text"), ROWS)
def test_verdicts_and_corrections(name: str, expected: float, text: str) -> None:
    result = mark(name, text)
    assert (result.mark, result.referral) == (expected, None), result


@pytest.mark.parametrize("text", ["perpendicular", "False, vertical", "banana", "False, perpendicular or parallel", "false, across it"])
def test_what_the_scheme_does_not_settle_is_referred(text: str) -> None:
    result = mark("false", text)
    assert result.mark == 0.0
    assert result.referral is not None
    assert [p.mark for p in result.referral.possibilities] == [0.0, 1.0]


def test_no_referral_where_the_verdict_is_wrong_already() -> None:
    assert mark("false", "True, vertical").referral is None


# Conventions file 1.5 switch 12.
@pytest.mark.parametrize(("ruling", "expected"), [("zero", 0.0), ("lowest", 0.0), ("first", 1.0), ("last", 0.0), ("best", 1.0)])
def test_both_verdicts(ruling: str, expected: float) -> None:
    compiled = part(answer=True, replaced="", correction=[], rulings={"two_answers": ruling})
    assert KIND.mark(compiled, ["true", "false"], {}).mark == expected


def test_reasons_lines_and_faults() -> None:
    right = mark("false", "False\nperpendicular")
    assert right.awards[0].reason == "Lines 1 and 2: “false” is right; “perpendicular” puts it right."
    assert [x.verdict for x in right.lines] == ["right", "right"]
    bare = mark("false", "False")
    assert bare.awards[0].reason == "Line 1: “false” is right; no correction is given; “perpendicular” puts it right."
    assert [f.code for f in bare.faults] == ["correction-missing"]
    wrong = mark("false", "True")
    assert wrong.awards[0].reason == "Line 1: “true” is not right; the statement is false."
    assert [f.code for f in wrong.faults] == ["truth-wrong"]


@pytest.mark.parametrize("name", sorted(PARTS))
def test_the_model_answer_earns_full_marks(name: str) -> None:
    result = KIND.mark(PARTS[name], KIND.model(PARTS[name]), {})
    assert (result.mark, result.referral) == (result.maximum, None)


REFUSED = (
    ({"answer": True}, "part 1, correction"),
    ({"correction": []}, "part 1, correction"),
    ({"correction": ["parallel"]}, "part 1, correction"),
    ({"marks": 3, "points": "each"}, "part 1, points"),
)


@pytest.mark.parametrize(("keys", "where"), REFUSED)
def test_schemes_that_are_refused(keys: dict[str, Any], where: str) -> None:
    with pytest.raises(SchemeError) as refused:
        part(**keys)
    assert refused.value.problems[0].where == where
    assert refused.value.problems[0].mend


@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.text(max_size=60), st.sampled_from(sorted(PARTS)))
def test_any_text_is_marked(text: str, name: str) -> None:
    result = mark(name, text)
    assert 0 <= result.mark <= result.maximum
    assert len(result.lines) == len(text.split("\n"))
