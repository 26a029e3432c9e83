"""Typed answers to school questions, idea by idea. Sources stand in the tables, answers.toml, answers_more.toml and answers_third.toml."""

import pytest

from marker.kinds.written import KIND
from tests.kinds.written.table import ALLOWED, MORE_PARTS, MORE_ROWS, PARTS, ROWS, Row, findings, load

ALL_PARTS = {**PARTS, **MORE_PARTS}


@pytest.mark.parametrize("row", (*ROWS, *MORE_ROWS), ids=str)
def test_ideas_of_a_typed_answer(row: Row) -> None:
    found = findings(ALL_PARTS[row.part], row.typed)
    assert len(found) == len(row.expect)
    wrong = [f.reason for f, letter in zip(found, row.expect, strict=True) if f.outcome not in ALLOWED[letter]]
    assert not wrong
    if row.mark is not None:
        assert KIND.mark(ALL_PARTS[row.part], row.typed.split("\n"), {}).mark == row.mark


@pytest.mark.parametrize("part", ALL_PARTS.values(), ids=lambda p: p.name)
def test_the_model_answer_earns_the_part_and_a_blank_nothing(part: object) -> None:
    model = KIND.mark(part, KIND.model(part), {})
    assert (model.mark, model.referral) == (model.maximum, None)
    for blank in ((), ("",), ("I don't know",), ("?",)):
        nothing = KIND.mark(part, blank, {})
        assert (nothing.mark, nothing.referral) == (0, None)


def test_every_reason_of_an_earned_idea_quotes_the_line() -> None:
    for row in ROWS:
        result = KIND.mark(PARTS[row.part], row.typed.split("\n"), {})
        for award in result.awards:
            assert award.reason
            assert all(1 <= n <= len(row.typed.split("\n")) for n in award.lines)
            if award.mark:
                assert award.lines and "“" in award.reason


def test_most_ideas_are_decided_without_a_person() -> None:
    """Of the answers in both tables; a person is asked about the rest. Common practice, no source for the share."""
    outcomes = [f.outcome for row in (*ROWS, *MORE_ROWS) for f in findings(ALL_PARTS[row.part], row.typed)]
    assert sum(o.value != "referred" for o in outcomes) / len(outcomes) > 0.85


def test_tables_are_read_whole() -> None:
    assert len(ROWS) >= 100 and len(MORE_ROWS) >= 95
    assert len(PARTS) >= 14 and len(MORE_PARTS) >= 16
    assert load("answers.toml")[1] == ROWS
