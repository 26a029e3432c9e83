"""How directions are read: every phrase against every direction, and whole responses."""

import pytest

from marker.kinds.direction import KIND
from tests.kinds.direction_parts import PARTS, given, part
from tests.kinds.direction_phrases import PHRASES, REFERRED, SIX

# the data by which some phrases give their reasons: current up the page, field out of the page
WITH_DATA = part({"of": "force on the wire", "rule": "force on a current", "current": "up the page", "field": "out of the page"})
ANSWERS = {answer: WITH_DATA if answer == "to the right" else given(answer) for answer in SIX}


@pytest.mark.parametrize(("said", "phrase"), [(said, phrase) for said, phrases in SIX.items() for phrase in phrases])
def test_a_phrase_earns_its_own_direction_and_no_other(said: str, phrase: str) -> None:
    for answer, compiled in ANSWERS.items():
        result = KIND.mark(compiled, [phrase], {})
        assert (result.mark, result.referral) == (float(answer == said), None), (answer, result)


ROWS = [(name, mark, text) for name, table in PHRASES.items() for mark, texts in table.items() for text in texts]


@pytest.mark.parametrize(("name", "mark", "text"), ROWS)
def test_responses(name: str, mark: float, text: str) -> None:
    result = KIND.mark(PARTS[name], text.split("\n"), {})
    assert (result.mark, result.referral) == (mark, None), result


@pytest.mark.parametrize(("name", "text"), [(name, text) for name, texts in REFERRED.items() for text in texts])
def test_what_cannot_be_told_is_referred(name: str, text: str) -> None:
    result = KIND.mark(PARTS[name], text.split("\n"), {})
    assert result.referral is not None, result
    assert len({p.mark for p in result.referral.possibilities}) > 1
    assert result.referral.reason.endswith(".")


def test_the_table_is_large() -> None:
    assert len(ROWS) > 500
    assert sum(map(len, SIX.values())) > 100


@pytest.mark.parametrize("word", ["light", "might", "night", "lift", "felt", "town", "dawn", "own", "went", "onto", "least", "tight"])
def test_another_word_is_no_slip_for_a_direction(word: str) -> None:
    """Real English words one letter away from a direction are never read as it (from memory)."""
    for compiled in ANSWERS.values():
        assert KIND.mark(compiled, [word], {}).mark == 0.0


@pytest.mark.parametrize("slip", ["rigth", "rihgt", "rigt", "rightt", "irght", "righ"])
def test_slips_of_right_are_right_and_never_left(slip: str) -> None:
    assert KIND.mark(given("right"), [slip], {}).mark == 1.0
    assert KIND.mark(given("left"), [slip], {}).mark == 0.0
