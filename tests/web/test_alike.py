"""Which responses count as alike: the same readings, values and marks, however they were spelt. Common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from marker import mark_response
from marker.results import LineReport, OwnValue, PartResult
from marker.web.alike import alike_key
from tests.web.scene import paper

SAME = (
    ("spacing", ("P = IV", "I = 46/230"), ("P=IV", "I=46/230")),
    ("signs", ("P = I*V", "46 = I × 230"), ("P = I × V", "46 = I * 230")),
    ("prose", ("It draws more current.",), ("it  draws more current",)),
)
OTHER = (
    ("another value", ("I = 0.20 A",), ("I = 0.21 A",)),
    ("another unit", ("I = 0.20 A",), ("I = 0.20 V",)),
    ("a line more", ("P = IV",), ("P = IV", "I = 0.20 A")),
    ("another order", ("P = IV", "I = 46/230"), ("I = 46/230", "P = IV")),
    ("other words", ("it draws more current",), ("it draws less current",)),
)


def key(*lines: str) -> str:
    return alike_key(mark_response(paper().part("1a"), lines))


@pytest.mark.parametrize("row", SAME, ids=[r[0] for r in SAME])
def test_alike(row: tuple[str, tuple[str, ...], tuple[str, ...]]) -> None:
    assert key(*row[1]) == key(*row[2])


@pytest.mark.parametrize("row", OTHER, ids=[r[0] for r in OTHER])
def test_not_alike(row: tuple[str, tuple[str, ...], tuple[str, ...]]) -> None:
    assert key(*row[1]) != key(*row[2])


def test_the_same_words_followed_through_from_other_values_are_not_alike() -> None:
    line = LineReport(number=1, text="I = P/V", readings=("I = P/V",), verdict="follows")
    one = PartResult(part="2", mark=1, maximum=3, lines=(line,), own=(OwnValue(symbol="P", value=340.0, typed="340", unit="W"),))
    two = replace(one, own=(OwnValue(symbol="P", value=350.0, typed="350", unit="W"),))
    assert alike_key(one) != alike_key(two)
    assert alike_key(one) == alike_key(replace(one, notes=("seen twice",)))
