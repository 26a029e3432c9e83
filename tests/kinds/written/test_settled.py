"""What a teacher settles stands, and teaches. Common practice, no source; the statistics are checked by hand."""

import json
import math
from pathlib import Path

import pytest

from marker.errors import SchemeError
from marker.kinds.written import KIND, group_key, groups
from marker.kinds.written.evidence import alike, logistic
from marker.kinds.written.learning import fit
from marker.results import Outcome, PartResult
from tests.kinds.written.table import compiled

LIGHT = {
    "name": "3",
    "marks": 1,
    "stem": "Why does the pointer of the meter stay at zero?",
    "accept": ["the loop has a gap in it", "the circuit is incomplete"],
}
IDEAS = {
    "name": "4",
    "marks": 2,
    "stem": "Explain why the boat drifts.",
    "idea": [
        {"name": "wind", "says": ["the wind pushes the boat"]},
        {"name": "no anchor", "says": ["there is no anchor to hold it", "nothing holds it in place"]},
    ],
}


def mark(keys: dict[str, object], typed: str, settled: object = ()) -> PartResult:
    return KIND.mark(compiled({**keys, "settled": settled or []}), typed.split("\n"), {})


def test_the_same_words_are_decided_as_settled() -> None:
    typed = "a squirrel ate the cable"
    assert mark(LIGHT, typed).mark == 0
    after = mark(LIGHT, "A SQUIRREL ate the cable!!", [{"text": typed, "mark": 1}])
    assert (after.mark, after.referral) == (1, None)
    assert "As a teacher settled" in after.awards[0].reason


def test_decisions_that_differ_decide_nothing() -> None:
    settled = [{"text": "a squirrel ate the cable", "mark": 1}, {"text": "A squirrel ate the cable.", "mark": 0}]
    assert "As a teacher settled" not in mark(LIGHT, "a squirrel ate the cable", settled).awards[0].reason


def test_the_same_words_misspelt_need_two_decisions_alike() -> None:
    one = [{"text": "the squirrel ate the cable", "mark": 1}]
    two = [*one, {"text": "squirrels ate a cable", "mark": 1}]
    typed = "Squirrels ate the cables"
    assert "As a teacher settled" not in mark(LIGHT, typed, one).awards[0].reason
    assert "As a teacher settled" in mark(LIGHT, typed, two).awards[0].reason


def test_ideas_named_by_the_teacher_are_awarded_one_by_one() -> None:
    result = mark(IDEAS, "it just floats about", [{"text": "it just floats about", "ideas": ["no anchor"]}])
    assert [a.outcome for a in result.awards] == [Outcome.NOT_EARNED, Outcome.EARNED]
    assert result.mark == 1


def test_a_part_mark_without_ideas_stands_for_these_words_only() -> None:
    settled = [{"text": "it just floats about", "mark": 1}]
    result = mark(IDEAS, "it just floats about", settled)
    assert (result.mark, len(result.awards), result.referral) == (1, 1, None)
    assert mark(IDEAS, "the wind pushes the boat", settled).mark == 1


RIGHT = """
a squirrel ate the cable
squirrels chewed the cable
the cable was eaten by a squirrel
a squirrel bit the cable through
the squirrel has chewed through the cable
"""
WRONG = """
the meter is green
the pointer is tired
green meters are slow
the needle is green and tired
it is a slow meter
the battery is asleep
"""
TAUGHT = [{"text": t, "mark": mark} for texts, mark in ((RIGHT, 1), (WRONG, 0)) for t in texts.strip().splitlines()]


def test_settled_responses_teach_the_next_ones() -> None:
    """A response like those that earned the mark is proposed with it; one like the others is not."""
    like_right, like_wrong = "a squirrel bit the cable", "the meter is slow and green"
    assert mark(LIGHT, like_right).mark == 0
    assert mark(LIGHT, like_right, TAUGHT).mark == 1
    assert mark(LIGHT, like_wrong, TAUGHT).mark == 0


def test_a_handful_of_decisions_teaches_nothing_general() -> None:
    part = compiled({**LIGHT, "settled": TAUGHT[:3]})
    assert all(i.learned is None for i in part.ideas)
    assert all(i.learned is not None for i in compiled({**LIGHT, "settled": TAUGHT}).ideas)


def test_settled_file(tmp_path: Path) -> None:
    path = tmp_path / "settled.jsonl"
    path.write_text("\n".join(json.dumps({**entry, "candidate": "s01"}) for entry in TAUGHT) + "\n\n", encoding="utf-8")
    assert mark(LIGHT, "A squirrel ate the cable", str(path)) == mark(LIGHT, "A squirrel ate the cable", TAUGHT)


@pytest.mark.parametrize(
    ("line", "words"),
    (
        ("{not json", "line 1"),
        ('{"text": "x"}', "needs mark or ideas"),
        ('{"text": "x", "mark": 7}', "0 to 1"),
        ('{"text": "x", "ideas": ["nonsense"]}', "nonsense"),
    ),
)
def test_a_settled_file_that_cannot_be_used_is_refused(tmp_path: Path, line: str, words: str) -> None:
    path = tmp_path / "settled.jsonl"
    path.write_text(line, encoding="utf-8")
    with pytest.raises(SchemeError, match=words):
        compiled({**LIGHT, "settled": str(path)})


def test_a_missing_settled_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SchemeError, match="settled"):
        compiled({**LIGHT, "settled": str(tmp_path / "none.jsonl")})


def test_alike_answers_are_gathered() -> None:
    typed = ["The loop has a gap", "the LOOP has a gpa", "there is a gap in the loop.", "loops have gaps", "the battery is flat", "", "idk"]
    found = groups(typed, compiled(LIGHT))
    assert found[0].members == (0, 1, 3)
    assert found[0].text == typed[0]
    assert sorted(n for g in found for n in g.members) == list(range(len(typed)))


@pytest.mark.parametrize(
    ("one", "other", "alike_words"),
    (
        ("The current rises.", "the current RISES", True),
        ("resistance falls. current rises.", "Current rises. Resistance falls.", True),
        ("the resistence falls", "resistance falls", True),
        ("the resistance falls", "the resistance does not fall", False),
        ("the current falls", "the resistance falls", False),
        ("bulb A lights", "bulb B lights", False),
        ("it is only in series", "it is in series", False),
        ("the field pushes the wire", "the wire pushes the field", False),
        ("", "", True),
        ("???", "!!!", True),
    ),
)
def test_group_keys(one: str, other: str, alike_words: bool) -> None:
    assert (group_key(one) == group_key(other)) is alike_words


def test_the_rule_is_the_logistic_regression_it_says() -> None:
    """At the optimum each weight's slope vanishes: sum of (p - y) x + penalty w = 0 (Cox 1958, with a squared penalty)."""
    rows = [{"a": 1.0}, {"a": 1.0, "b": 1.0}, {"b": 1.0}, {"c": 2.0}, {"a": 1.0, "c": 1.0}, {"b": 1.0, "c": 1.0}]
    labels = [1.0, 1.0, 0.0, 0.0, 1.0, 0.0]
    constant, weight = fit(rows, labels, 0.5, 2_000)
    miss = [logistic(constant + sum(weight[k] * v for k, v in r.items())) - y for r, y in zip(rows, labels, strict=True)]
    assert abs(sum(miss)) < 1e-3
    for name, w in weight.items():
        assert abs(sum(m * r.get(name, 0.0) for m, r in zip(miss, rows, strict=True)) + 0.5 * w) < 1e-3


def test_likeness_is_the_cosine() -> None:
    assert alike({"a", "b", "c", "d"}, {"a"}) == pytest.approx(1 / math.sqrt(4))
    assert alike({"a"}, {"b"}) == 0 == alike((), {"a"})
