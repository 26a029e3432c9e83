"""The page of notations: every example is read as the page says, and every group of the page has some."""

import tomllib

import pytest

from marker.reading.report import notation_page
from marker.resources import grammar
from tests.reading.tables import first_readings, read

GROUPS = tomllib.loads(grammar("notation.toml"))["group"]
EXAMPLES = [(example["typed"], example["read"]) for group in GROUPS for example in group["example"]]


@pytest.mark.parametrize(("typed", "meaning"), EXAMPLES, ids=[e[0] for e in EXAMPLES])
def test_every_example_is_read_as_the_page_says(typed: str, meaning: str) -> None:
    assert first_readings(typed) == meaning
    assert meaning and not read(typed).unread


def test_the_page_shows_all_of_them() -> None:
    page = notation_page()
    assert len(EXAMPLES) > 100
    assert all(typed in page and meaning in page for typed, meaning in EXAMPLES)
    assert all(group["name"] in page for group in GROUPS)
