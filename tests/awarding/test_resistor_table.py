"""The published 15-response table: 7.5 V across a resistor carrying 1.5 A, find R, three marks.

Source: SQA, Physics: general marking principles, March 2017 (question, split, rows 10-12 confirmed by the Advanced Higher
instructions of 2018); the other rows from memory, consistent with every fragment seen. The /3 column is tested.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from tests.awarding.parts import mark, one_part


@dataclass(frozen=True)
class Row:
    number: int
    typed: str
    marks: int
    source: str

    def __str__(self) -> str:
        return f"row {self.number}: {self.typed}"


TABLE = (
    Row(1, "V = IR; 7.5 = 1.5R; R = 5.0 Ω", 3, "split BA7377; rest from memory"),
    Row(2, "5.0 Ω", 3, "rule AH2022; from memory"),
    Row(3, "5.0", 2, "from memory"),
    Row(4, "4.0 Ω", 0, "from memory"),
    Row(5, "Ω", 0, "from memory"),
    Row(6, "R = V/I = 7.5/1.5 = 4.0 Ω", 2, "from memory; same ruling US-N5"),
    Row(7, "R = V/I = 4.0 Ω", 1, "from memory"),
    Row(8, "R = V/I = Ω", 1, "from memory"),
    Row(9, "R = V/I = 7.5/1.5 = Ω", 2, "from memory"),
    Row(10, "R = V/I = 7.5/1.5 = 4.0", 2, "AH2018"),
    Row(11, "R = V/I = 1.5/7.5 = 5.0 Ω", 1, "AH2018"),
    Row(12, "R = V/I = 75/1.5 = 5.0 Ω", 1, "AH2018"),
    Row(13, "R = I/V = 7.5/1.5 = 5.0 Ω", 0, "from memory"),
    Row(14, "V = IR; 7.5 = 1.5 × R; R = 0.2 Ω", 2, "from memory"),
    Row(15, "V = IR; R = I/V = 1.5/7.5 = 0.2 Ω", 1, "from memory"),
)

RESISTOR = {"given": {"V": "7.5 V", "I": "1.5 A"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]}


@pytest.mark.parametrize("row", TABLE, ids=str)
def test_resistor(row: Row) -> None:
    result = mark(one_part(**RESISTOR), row.typed)
    assert result.mark == row.marks, [a.reason for a in result.awards]


@pytest.mark.parametrize("row", TABLE, ids=str)
def test_every_award_says_why(row: Row) -> None:
    result = mark(one_part(**RESISTOR), row.typed)
    assert len(result.awards) == 3
    assert all(a.reason for a in result.awards)


def test_blank_earns_nothing() -> None:
    assert mark(one_part(**RESISTOR), "").mark == 0
