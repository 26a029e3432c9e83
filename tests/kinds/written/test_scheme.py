"""Keys of a written part, what ideas are worth together, the list rule and referral."""

from typing import Any

import pytest
from pydantic import ValidationError

from marker.kinds.written import KIND, WrittenSpec
from marker.results import Outcome
from marker.scheme.convention import Convention
from tests.kinds.written.table import compiled

IDEA = {"name": "hotter", "says": ["it gets hotter"]}
OTHER = {"name": "brighter", "says": ["it gets brighter"]}
THIRD = {"name": "louder", "says": ["it gets louder"]}


def part(marks: int, *ideas: dict[str, Any], rulings: dict[str, Any] | None = None, **keys: Any) -> Any:
    return compiled(
        {"name": "1", "marks": marks, "stem": "What happens to the lamp?", "idea": list(ideas), **keys}, Convention(**(rulings or {}))
    )


@pytest.mark.parametrize(
    ("keys", "words"),
    (
        ({}, "either idea tables or accept"),
        ({"idea": [IDEA], "accept": ["x"]}, "either idea tables or accept"),
        ({"idea": [{"name": "empty"}]}, "nothing that could earn it"),
        ({"idea": [IDEA, IDEA]}, "same name"),
        ({"idea": [{**IDEA, "depends": ["nowhere"]}]}, "nowhere"),
        ({"idea": [IDEA], "needs": 2}, "needs = 2"),
        ({"idea": [IDEA], "marks": 3}, "worth 1 together"),
        ({"idea": [{**IDEA, "relation": {"between": ["a", "b"], "kind": "looks like"}}]}, "kind"),
        ({"idea": [{**IDEA, "says": "not a list"}]}, "list"),
        ({"idea": [IDEA], "nonsense": 1}, "nonsense"),
        ({"accept": ["x"], "settled": [{"text": "y"}]}, "needs mark or ideas"),
    ),
)
def test_a_part_that_cannot_work_is_refused(keys: dict[str, Any], words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        WrittenSpec.model_validate({"name": "1", "marks": 1, **keys})


@pytest.mark.parametrize(
    ("marks", "ideas", "keys", "typed", "mark"),
    (
        (2, (IDEA, OTHER), {}, "it gets hotter", 1),
        (2, (IDEA, OTHER), {}, "it gets hotter and it gets brighter", 2),
        (1, (IDEA, OTHER), {}, "it gets hotter and it gets brighter", 1),
        (1, (IDEA, OTHER), {"needs": 2}, "it gets hotter", 0),
        (1, (IDEA, OTHER), {"needs": 2}, "it gets hotter. it gets brighter", 1),
        (2, (IDEA, OTHER, THIRD), {"needs": 2}, "it gets hotter. it gets louder", 2),
        (3, ({**IDEA, "marks": 2}, OTHER), {}, "it gets hotter", 2),
        (2, (IDEA, {**OTHER, "depends": ["hotter"]}), {}, "it gets brighter", 0),
        (2, (IDEA, {**OTHER, "depends": ["hotter"]}), {}, "it gets brighter. it gets hotter", 2),
    ),
)
def test_what_ideas_are_worth_together(
    marks: int, ideas: tuple[dict[str, Any], ...], keys: dict[str, Any], typed: str, mark: float
) -> None:
    result = KIND.mark(part(marks, *ideas, **keys), [typed], {})
    assert (result.mark, result.referral) == (mark, None)
    assert sum(a.mark for a in result.awards) == mark
    assert all(0 <= a.mark <= a.maximum for a in result.awards)


def test_half_of_what_is_needed_earns_half_a_mark_where_half_marks_are_in_use() -> None:
    """H2013: half marks existed up to 2013, whole marks since (conventions file 1.3)."""
    for ruling, mark in ((True, 0.5), (False, 0.0)):
        result = KIND.mark(part(1, IDEA, OTHER, needs=2, rulings={"half_marks": ruling}), ["it gets hotter"], {})
        assert result.mark == mark


WRONG = {**IDEA, "contradicts": ["it gets colder"]}


@pytest.mark.parametrize(
    ("rule", "typed", "mark"),
    (
        ("wrong cancels right", "it gets hotter. it gets colder", 0),
        ("best", "it gets hotter. it gets colder", 1),
        ("first", "it gets hotter\nit gets colder", 1),
        ("first", "it gets colder\nit gets hotter", 0),
        ("wrong cancels right", "it gets hotter", 1),
    ),
)
def test_right_and_wrong_together(rule: str, typed: str, mark: float) -> None:
    """CCEA: right and wrong together are wrong; IB: the first n count; AQA list rule from memory (conventions file 2.4)."""
    assert KIND.mark(part(1, WRONG, rulings={"list_rule": rule}), typed.split("\n"), {}).mark == mark


LIST = {
    "name": "5", "marks": 2, "wants": 2, "stem": "Name two metals that a magnet attracts.",
    "idea": [{"name": m, "says": [m]} for m in ("iron", "nickel", "cobalt")], "wrong": ["copper", "aluminium"], "ignore": ["steel"],
}  # fmt: skip


@pytest.mark.parametrize(
    ("rule", "typed", "mark", "asks"),
    (
        ("wrong cancels right", "iron, nickel", 2, False),
        ("wrong cancels right", "iron, nickel, cobalt", 2, False),
        ("wrong cancels right", "iron, nickel, copper", 1, False),
        ("wrong cancels right", "iron\nnickel\ncopper\naluminium", 0, False),
        ("wrong cancels right", "iron, nickel, steel", 2, False),
        ("wrong cancels right", "iron, copper", 1, False),
        ("wrong cancels right", "iron, nickel, gadolinium", 2, True),
        ("first", "copper, iron, nickel", 1, False),
        ("first", "iron, nickel, copper", 2, False),
        ("best", "copper, iron, nickel", 2, False),
    ),
)
def test_list_rule(rule: str, typed: str, mark: float, asks: bool) -> None:
    """AQA: each wrong answer beyond those asked for cancels a right one (from memory); CCEA: neutral extras are ignored."""
    result = KIND.mark(compiled(LIST, Convention(list_rule=rule)), typed.split("\n"), {})
    assert (result.mark, result.referral is not None) == (mark, asks)
    assert sum(a.mark for a in result.awards) == mark


def test_a_wrong_point_in_a_list_is_named() -> None:
    result = KIND.mark(compiled(LIST), ["iron, nickel, copper"], {})
    assert [f.code for f in result.faults] == ["list-wrong-point"]
    assert "copper" in result.faults[0].teacher


def test_a_doubt_is_referred_with_both_possibilities() -> None:
    result = KIND.mark(part(1, IDEA), ["maybe it gets hotter"], {})
    assert result.referral is not None
    assert result.awards[0].outcome is Outcome.REFERRED
    assert {p.mark for p in result.referral.possibilities} == {0, 1}
    assert [f.sure for f in result.faults] == [False]


def test_a_doubt_that_changes_no_mark_is_not_referred() -> None:
    """Two ideas share one mark: with one of them certain the other need not be settled."""
    result = KIND.mark(part(1, IDEA, OTHER), ["it gets hotter. maybe it gets brighter"], {})
    assert (result.mark, result.referral) == (1, None)
    assert all(a.outcome is not Outcome.REFERRED for a in result.awards)


def test_lines_are_reported_with_what_they_were_good_for() -> None:
    result = KIND.mark(part(1, WRONG), ["My answer:", "~~it gets colder~~", "it gets hotter"], {})
    assert [line.verdict for line in result.lines] == ["remark", "withdrawn", "right"]
    wrong = KIND.mark(part(1, WRONG), ["it gets colder"], {})
    assert [line.verdict for line in wrong.lines] == ["wrong"]
    assert [f.code for f in wrong.faults] == ["idea-contradicted"]


def test_light_form_has_one_award_for_the_whole_mark() -> None:
    keys = {
        "name": "6",
        "marks": 2,
        "stem": "Why is the lamp dark?",
        "accept": [{"text": "the circuit is broken", "kind": "best"}, "there is a gap in the circuit"],
    }
    result = KIND.mark(compiled(keys), ["There is a gap in the circuit."], {})
    assert (result.mark, result.maximum, len(result.awards)) == (2, 2, 1)
    opposite = KIND.mark(compiled(keys), ["there is no gap in the circuit"], {})
    assert opposite.mark == 0


def test_rulings_of_the_part_replace_the_conventions() -> None:
    made = compiled({"name": "1", "marks": 1, "stem": "", "idea": [WRONG], "rulings": {"list_rule": "best"}})
    assert KIND.mark(made, ["it gets hotter. it gets colder"], {}).mark == 1
