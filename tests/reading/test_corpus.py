"""The worked examples of a published textbook: every line is read, and its arithmetic agrees.

Source: OpenStax, College Physics 2e, CC BY 4.0, re-typed as lines (../shared/corpus/README.md, which states the rule of agreement).
"""

import random
import re

import pytest

from marker.reading import read_lines
from tests.reading.corpus import EMPTY, FOLDER, Checked, change, check_example, check_line, examples, exceptions, plain_lines, word_lines

pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason="the corpus of worked examples is not beside this checkout")


@pytest.fixture(scope="module")
def checked() -> list[Checked]:
    return [found for example in examples() for found in check_example(example)]


def test_every_plain_line_is_read_whole() -> None:
    lines = list(plain_lines())
    unread = []
    for text in lines:
        line = read_lines([text], EMPTY)[0]
        covered = sum(s.at[1] - s.at[0] for s in line.statements)
        if line.unread or len(line.statements) != 1 or line.words or covered < len(text.strip()):
            unread.append(text)
    assert unread == []
    assert len(lines) == 2085


def test_lines_with_words_give_what_mathematics_they_hold() -> None:
    lines = list(word_lines())
    without = [t for t in lines if not read_lines([t], EMPTY)[0].statements]
    assert len(lines) > 80
    assert len(without) <= 1, without  # "area × thickness(m^3)" has a unit in brackets after a word


def test_numeric_equalities_hold_but_for_the_listed_exceptions(checked: list[Checked]) -> None:
    ordinary = [c for c in checked if (c.example, c.text) not in exceptions()]
    failing = [c for c in ordinary if c.holding < c.pairs and not _follows_an_exception(c)]
    pairs = sum(c.pairs for c in ordinary)
    assert pairs > 500
    assert sum(c.pairs - c.holding for c in failing) <= 0.005 * pairs, failing


def _follows_an_exception(c: Checked) -> bool:
    """A line that opens is compared with the line before, which may be the slip."""
    texts = _texts(c.example)
    place = texts.index(c.text)
    return c.text[0] in "=≈" and place > 0 and (c.example, texts[place - 1]) in exceptions()


# exceptions that are none to a reader who knows both temperature scales, mm Hg and the quantity after a solidus
KNOWN_TO_HOLD = ("1 kcal/4186 J", "1 min/60 s", "mm Hg", "m42214", "m42216", "m42219", "m42237")


def test_the_slips_of_the_book_are_found(checked: list[Checked]) -> None:
    """The slip shows in the exception's own line or in the line after, which is compared with it."""
    slips = [e for e in exceptions() if not any(k in e[0] or k in e[1] for k in KNOWN_TO_HOLD) and e[1] in _texts(e[0])]
    wrong = {(c.example, c.text) for c in checked if c.holding < c.pairs}
    missed = [
        s
        for s in slips
        if s not in wrong and not any((c.example, c.text) in wrong and _after(s, c.text) for c in checked if c.example == s[0])
    ]
    assert len(slips) >= 15
    assert len(missed) <= 4, missed  # a unit left out on both sides of a step; sides in letters; a line after that is no equality


def _texts(name: str) -> list[str]:
    example = next(e for e in examples() if e["id"] == name)
    return [x if isinstance(x, str) else x["text"] for x in example["lines"]]


def _after(slip: tuple[str, str], text: str) -> bool:
    texts = _texts(slip[0])
    place = texts.index(slip[1]) + 1
    return place < len(texts) and texts[place] == text


def test_the_plainest_reading_is_the_right_one(checked: list[Checked]) -> None:
    """Where arithmetic can tell, the first reading is the one that holds in at least 98 % of lines."""
    holding = [c for c in checked if c.holding == c.pairs]
    assert sum(c.reading == 0 for c in holding) >= 0.98 * len(holding)


def test_a_change_in_a_correct_line_is_caught() -> None:
    """Seeded changes of one digit, sign, power or operation: at least 99 % no longer hold, those apart that rounding cannot show."""
    choose = random.Random(20261125)
    correct = [c for example in examples() for c in check_example(example) if c.holding == c.pairs and c.text[0] not in "=≈"]
    made = missed = 0
    while made < 1500:
        original = choose.choice(correct)
        changed = change(original.text, choose)
        if changed is None or changed == original.text:
            continue
        found = check_line(original.example, read_lines([changed], EMPTY)[0], None)
        if found is None:
            continue
        made += 1
        if found.holding == found.pairs and found.reading > 0:
            missed += 1
    assert missed <= 0.01 * made


VARIANTS = (("×", "*"), ("×", "x"), ("^2", "²"), ("θ", "theta"), ("√(", "sqrt("), ("^(-3)", "^-3"), ("·", "⋅"), (" - ", " − "))


@pytest.mark.parametrize(("old", "new"), VARIANTS, ids=[f"{a} as {b}" for a, b in VARIANTS])
def test_another_way_of_typing_reads_the_same(old: str, new: str) -> None:
    """README of the corpus, variants: the first reading is the same tree."""
    lines = [t for t in dict.fromkeys(plain_lines()) if old in t]
    assert len(lines) > 10
    different = []
    for text in lines:
        a, b = (
            read_lines([t], EMPTY)[0]
            for t in (text, re.sub(re.escape(old) + r"(?!\d)" if old[-1].isdigit() else re.escape(old), new, text))
        )
        if [_shape(s) for s in a.statements] != [_shape(s) for s in b.statements]:
            different.append(text)
    assert len(different) <= max(1, 0.01 * len(lines)), different


def _shape(statement: object) -> str:
    from tests.reading.tables import shown

    return shown(statement.readings[0])  # type: ignore[attr-defined]
