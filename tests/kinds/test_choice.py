"""Choices of letters: how they are read, and the list rule."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.errors import SchemeError
from marker.kinds.choice import KIND
from marker.results import PartResult
from marker.scheme.convention import Convention


def part(**keys: Any) -> Any:
    options = {"A": "3.0 N", "B": "6.0 N", "C": "12 N", "D": "24 N"}
    spec = KIND.spec.model_validate({"name": "1", "kind": "choice", "marks": 1, "options": options, "key": "B", **keys})
    return KIND.compile(spec, Convention())


PARTS = {
    "force": part(),
    "two": part(options=["the mass", "the volume", "the speed", "the colour", "the shape"], key=["A", "C"], marks=2),
    "kind": part(options=["a scalar", "a vector", "a unit", "none of these"]),
}


def mark(name: str, text: str) -> PartResult:
    return KIND.mark(PARTS[name], text.split("\n"), {})


# Ways candidates write a choice; common practice, no source.
READ = {
    "force": {
        1.0: (
            "B",
            "b",
            "(b)",
            "B)",
            "[B]",
            "B.",
            "Option B",
            "option b",
            "The answer is B",
            "B because the force doubles",
            "B 6.0 N",
            "B. 6.0 N",
            "6.0 N",
            "6 N",
            "6N",
            "6.00 N",
            "0.0060 kN",
            "it's B",
            "its b",
            "not A, so B",
            "A is wrong, C is too big so B",
            "A no wait B",
            "A - scrap that B",
            "~~A~~ B",
            "B not C",
            "B, not C",
            "I think B",
            "I think it is B",
            "definitely b",
            "ans: B",
            "answer = B",
            "B!",
            "B because A is too small and C has twice the force",
            "A\nno, B",
            "A, actually B",
            "sorry B",
            "B as it is double",
            "B is correct",
            "B is the right answer",
            "Not A or C or D. B",
            "B - A has the wrong unit",
            "B?",
            "Ｂ",
            "B since D would need 4 times the force",
            "Its definitely B because a larger force means a larger acceleration",
        ),
        0.0: (
            "A",
            "C",
            "D",
            "not B",
            "A or B",
            "B or C",
            "B and C",
            "AB",
            "A, B",
            "c because B is wrong",
            "B is wrong",
            "3.0 N",
            "24N",
            "A because B is too big",
            "",
            "-",
            "?",
            "dont know",
            "B C",
            "B\nC",
            "all of them A B C D",
        ),
    },
    "two": {
        2.0: (
            "A and C",
            "AC",
            "A, C",
            "C A",
            "a and c",
            "A\nC",
            "A & C",
            "A + C",
            "the mass and the speed",
            "mass A, speed C",
            "both A and C",
            "A and C because mass and speed matter",
        ),
        1.0: ("A", "A and B", "A, C, D", "the mass"),
        0.0: ("B and D", "B", "A, B, D", "A,B,C,D,E"),
    },
    "kind": {
        1.0: (
            "B",
            "a vector",
            "it is a vector",
            "A vector",
            "b, a vector",
            "It's a vector not a scalar",
            "A vector, because it has direction",
        ),
        0.0: ("a scalar", "A scalar", "A", "a", "C"),
    },
}
ROWS = [(name, expected, text) for name, table in READ.items() for expected, texts in table.items() for text in texts]


@pytest.mark.parametrize(("name", "expected", "text"), ROWS)
def test_letters_and_texts(name: str, expected: float, text: str) -> None:
    result = mark(name, text)
    assert (result.mark, result.referral) == (expected, None), result


CHANGES = [
    "the pressure stays the same, the volume increases",
    "the pressure increases, the volume stays the same",
    "both increase",
    "both decrease",
]


# An option in the candidate's own words; common practice, no source.
@pytest.mark.parametrize(
    ("text", "letter"),
    [
        ("pressure is unchanged and the volume gets bigger", "A"),
        ("volume goes up, pressure doesn't change", "A"),
        ("the pressure goes up but the volume remains constant", "B"),
        ("they both rise", "C"),
        ("both get smaller", "D"),
        ("the volume goes up", ""),
        ("pressure does not go up and the volume increases", ""),
        ("the volume increases because it is heated and the pressure is the same", ""),
    ],
)
def test_an_option_in_other_words(text: str, letter: str) -> None:
    results = {key: KIND.mark(part(options=CHANGES, key=key), [text], {}) for key in "ABCD"}
    assert {k for k, r in results.items() if r.mark == 1.0} == set(letter)
    assert all(r.referred == (not letter) for r in results.values())


# Conventions file 1.5 switch 22, and 2.4 (each wrong one cancels a right one; first n); CCEA: right + wrong = wrong.
LIST_RULE = (
    ("wrong cancels right", "A, B", 0.0),
    ("first", "B, A", 1.0),
    ("first", "A, B", 0.0),
    ("best", "A, B", 1.0),
    ("wrong cancels right", "B, b, (B)", 1.0),
)


@pytest.mark.parametrize(("rule", "text", "expected"), LIST_RULE)
def test_list_rule(rule: str, text: str, expected: float) -> None:
    assert KIND.mark(part(rulings={"list_rule": rule}), [text], {}).mark == expected


SHARED = (("wrong cancels right", "A, C, D", 1.0), ("first", "A, C, D", 2.0), ("first", "D, A, C", 1.0), ("best", "D, A, C", 2.0))


@pytest.mark.parametrize(("rule", "text", "expected"), SHARED)
def test_list_rule_where_letters_share_the_marks(rule: str, text: str, expected: float) -> None:
    compiled = part(options=["p", "q", "r", "s"], key=["A", "C"], marks=2, rulings={"list_rule": rule})
    assert KIND.mark(compiled, [text], {}).mark == expected


def test_any_two_of_three() -> None:
    compiled = part(options=["p", "q", "r", "s"], key=["A", "B", "C"], wanted=2, marks=2)
    assert [KIND.mark(compiled, [t], {}).mark for t in ("A, C", "B, C", "A, B, C", "A, D", "A, B, D")] == [2.0, 2.0, 2.0, 1.0, 1.0]


@pytest.mark.parametrize("text", ["B 12 N", "b 24 N", "force", "A larger force acts"])
def test_a_letter_at_odds_with_its_text_or_none_at_all_is_referred(text: str) -> None:
    result = mark("force", text)
    assert result.mark == 0.0
    assert result.referral is not None
    assert [p.mark for p in result.referral.possibilities] == [0.0, 1.0]
    assert result.lines[0].verdict == "unread"


def test_reasons_and_lines() -> None:
    result = mark("force", "A\nno, B")
    assert result.awards[0].reason == "Line 2: B is chosen, as in the key."
    assert [x.verdict for x in result.lines] == ["withdrawn", "right"]
    assert mark("force", "C").awards[0].reason == "Line 1: C is chosen; the key is B."
    assert mark("force", "").awards[0].reason == "Nothing is chosen."
    assert [f.code for f in mark("force", "A, B").faults] == ["too-many-chosen"]


def test_crossed_out_and_not_replaced() -> None:
    assert KIND.mark(part(), ["~~B~~"], {}).mark == 1.0
    assert KIND.mark(part(rulings={"crossed_out": "never"}), ["~~B~~"], {}).mark == 0.0


@pytest.mark.parametrize("name", sorted(PARTS))
def test_the_model_answer_earns_full_marks(name: str) -> None:
    result = KIND.mark(PARTS[name], KIND.model(PARTS[name]), {})
    assert (result.mark, result.referral) == (result.maximum, None)


REFUSED = (
    ({"key": "E"}, "part 1, key"),
    ({"key": []}, "part 1, key"),
    ({"options": ["one"]}, "part 1, options"),
    ({"key": ["A", "B"], "wanted": 3}, "part 1, wanted"),
    ({"key": ["A", "B"], "marks": 3, "points": "each"}, "part 1, points"),
)


@pytest.mark.parametrize(("keys", "where"), REFUSED)
def test_schemes_that_are_refused(keys: dict[str, Any], where: str) -> None:
    with pytest.raises(SchemeError) as refused:
        part(**keys)
    assert refused.value.problems[0].where == where
    assert refused.value.problems[0].mend


@settings(max_examples=200, deadline=None, derandomize=True)
@given(st.text(max_size=60), st.sampled_from(sorted(PARTS)))
def test_any_text_is_marked(text: str, name: str) -> None:
    result = mark(name, text)
    assert 0 <= result.mark <= result.maximum
    assert len(result.lines) == len(text.split("\n"))
