"""State, rearrange, substitute, evaluate: the fifteen responses of the published table, written again in many topics.

Rule and marks: SQA, Physics: general marking principles, March 2017, as test_resistor_table.py has them with the source of each row (rows
10-12 published, the rest from memory); rows 14 and 15 come to one wrong value and differ only in when the slip was made. Each response is
written in three hands: a chain, a line for each side, and a chain with the numbers in brackets and ×.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import pytest

from marker.marking import mark_response
from marker.scheme.paper import CompiledPart
from tests.awarding.order_topics import TOPICS, Topic
from tests.awarding.parts import one_part
from tests.awarding.test_resistor_table import TABLE

MARKS = {row.number: row.marks for row in TABLE}
Lines = tuple[str, ...]


@dataclass(frozen=True)
class Response:
    topic: Topic
    row: int
    hand: str
    lines: Lines

    def __str__(self) -> str:
        return f"{self.topic.name}, row {self.row}, {self.hand}"


def typed(value: float, figures: int) -> str:
    """A number as a person types it."""
    text = f"{value:.{figures - 1}e}"
    mantissa, _, power = text.partition("e")
    if -3 <= int(power) <= figures:
        return f"{value:.{max(0, figures - 1 - int(power))}f}"
    return f"{mantissa} x 10^{int(power)}"


def number(text: str) -> float:
    mantissa, _, power = text.partition(" x 10^")
    return float(mantissa) * 10.0 ** float(power or 0)


def chain(topic: Topic, head: str, sides: tuple[str, ...], value: str) -> Lines:
    """`head = side = side = value`; where the head is a function of the quantity sought, its value stands in a line of its own."""
    if head == topic.find:
        return (" = ".join((head, *sides, value)),)
    lone = (f"{topic.find} = {value}",) if value else ()
    return (" = ".join((head, *sides)), *lone)


def rows(t: Topic) -> Iterator[tuple[int, Lines]]:
    si = dict(t.si)
    floats = {n: number(x) for n, x in si.items()}
    right, wrong = typed(t.value(**floats), t.figures), typed(t.wrong_value(**floats), t.figures)
    slip = typed(t.value(**floats) * 0.83, t.figures)
    head, letters = t.solved
    put = t.put.format(**si)
    yield 1, (t.stated, t.first.format(**si), f"{t.find} = {right} {t.unit}")
    yield 2, (f"{right} {t.unit}",)
    yield 3, (right,)
    yield 4, (f"{slip} {t.unit}",)
    yield 5, (t.unit,)
    yield 6, chain(t, head, (letters, put), f"{slip} {t.unit}")
    yield 7, chain(t, head, (letters,), f"{slip} {t.unit}")
    yield 8, chain(t, head, (letters,), t.unit)
    yield 9, chain(t, head, (letters, put), t.unit)
    yield 10, chain(t, head, (letters, put), slip)
    a, b = t.swapped
    if a:
        yield 11, chain(t, head, (letters, t.put.format(**{**si, a: si[b], b: si[a]})), f"{right} {t.unit}")
    if t.tenfold:
        moved = typed(floats[t.tenfold] * 10, t.figures)
        yield 12, chain(t, head, (letters, t.put.format(**{**si, t.tenfold: moved})), f"{right} {t.unit}")
    yield 13, chain(t, t.wrong[0], (t.wrong[1], put), f"{right} {t.unit}")
    if t.stated != " = ".join(t.solved):
        yield 14, (t.stated, t.first.format(**si), f"{t.find} = {wrong} {t.unit}")
        yield 15, (t.stated, *chain(t, t.wrong[0], (t.wrong[1], t.wrong_put.format(**si)), f"{wrong} {t.unit}"))


def one_side_a_line(lines: Lines) -> Lines:
    out: list[str] = []
    for line in lines:
        head, *sides = line.split(" = ")
        out.extend([f"{head} = {sides[0]}", *(f"= {side}" for side in sides[1:])] if sides else [line])
    return tuple(out)


def other_signs(lines: Lines) -> Lines:
    return tuple(line.replace(" x 10^", "e").replace(" x ", " × ").replace(" = ", "=") for line in lines)


HANDS = {"a chain": lambda x: x, "one side a line": one_side_a_line, "other signs": other_signs}
RESPONSES = [Response(t, n, hand, write(lines)) for t in TOPICS for n, lines in rows(t) for hand, write in HANDS.items()]


@lru_cache
def part_of(name: str) -> CompiledPart:
    t = next(t for t in TOPICS if t.name == name)
    return one_part(given=dict(t.given), find=t.find, unit=t.unit, using=[t.using], **t.extra)


@pytest.mark.parametrize("response", RESPONSES, ids=str)
def test_the_published_rows_in_other_topics(response: Response) -> None:
    result = mark_response(part_of(response.topic.name), response.lines)
    assert result.mark == MARKS[response.row], (response.lines, [f"{a.point}: {a.reason}" for a in result.awards])
    assert not result.referred


def test_there_is_something_to_tell_apart() -> None:
    """Rows 14 and 15 end in the same wrong value, in every topic that has both."""
    ends = {(r.topic.name, r.row): r.lines[-1].rsplit("=", 1)[-1].strip() for r in RESPONSES if r.hand == "a chain"}
    pairs = [(ends[name, 14], ends[name, 15]) for name, row in ends if row == 14]
    assert len(pairs) >= 20
    assert all(a == b for a, b in pairs)
