"""Readings compared by factors: "the force doubles and the extension doubles", "30/15 = 2 and 12.5/6.2 = 2.0".

A factor of x and a factor of y belong together; they are right when two readings of the table bear both out.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations

from marker.expression import Quotient
from marker.kinds.gradient.axes import Axis
from marker.kinds.proportion.compiled import ProportionPart
from marker.kinds.sides import Shown
from marker.kinds.typed_numbers import close, the_number
from marker.reading.model import Line

_COUNTS = {"two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0, "eight": 8.0, "nine": 9.0, "ten": 10.0}
_COUNT = r"(?P<count>\d{1,3}(?:\.\d{1,3})?|" + "|".join(_COUNTS) + r")"
_THAN = "as|the|bigger|larger|greater|more|higher|longer|what"
_FACTOR = re.compile(
    r"\b(?P<two>doubl(?:e|es|ed|ing)|twice)\b|\b(?P<three>(?:tripl|trebl)(?:e|es|ed|ing))\b|\b(?P<four>quadrupl(?:e|es|ed|ing))\b"
    r"|\b(?P<half>halv(?:e|es|ed|ing)|half)\b|\b(?P<quarter>quarter(?:s|ed)?)\b"
    rf"|\b(?:by )?(?:a )?factor (?:of )?{_COUNT}\b".replace("<count>", "<of>")
    + rf"|\b{_COUNT} ?(?:times|x|×)(?P<less> (?:smaller|less|lower))?(?= ?(?:\b(?:{_THAN})\b|[,.;)]|$))",
    re.IGNORECASE,
)
_SIZES = {"two": 2.0, "three": 3.0, "four": 4.0, "half": 0.5, "quarter": 0.25}
_CLAUSES = re.compile(r"[,;.:)(](?!\d)|\b(?:and|so|then|gives?|when|if|means|but|while|makes?)\b|=>|->|⇒|→|∴", re.IGNORECASE)
_ALIKE = re.compile(r"^ ?(?:is|does|do|are|has|the same|also|too)\b|\b(?:too|also|as well|the same|likewise|similarly)\b", re.IGNORECASE)
_BOTH = re.compile(r"\bboth\b", re.IGNORECASE)
_NUMBER = re.compile(r"(?<![\d.\w])\d+(?:\.\d+)?(?![\d.])")
MOST_CLAUSES = 60
MOST_LENGTH = 600


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """Two readings compared. `readings` the places in the table that bear both factors out, none where no two do."""

    x: float
    y: float
    readings: tuple[int, ...]
    line: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Change:
    axis: str
    factor: float
    line: int


def compared(part: ProportionPart, lines: Sequence[Line], values: Sequence[Shown]) -> tuple[Compared, ...]:
    """Every comparison of readings by factors, in words or as quotients of readings of one axis."""
    found = [*_paired(part, _in_words(part, lines)), *_worked(part, values)]
    return tuple(found)


def _paired(part: ProportionPart, changes: Iterator[_Change]) -> Iterator[Compared]:
    """A factor of one axis with the next of the other."""
    waiting: _Change | None = None
    for change in changes:
        if waiting is None or waiting.axis == change.axis:
            waiting = change
            continue
        x, y = (waiting, change) if waiting.axis == "x" else (change, waiting)
        yield Compared(x=x.factor, y=y.factor, readings=_borne_out(part, x.factor, y.factor), line=change.line)
        waiting = None


def _borne_out(part: ProportionPart, x: float, y: float) -> tuple[int, ...]:
    """The first two readings between which x and y change by these factors."""
    slack = part.spec.tolerance
    for i, j in permutations(range(len(part.x.values)), 2):
        (a, b), (c, d) = (part.x.values[i], part.x.values[j]), (part.y.values[i], part.y.values[j])
        if a and c and close(b / a, x, slack=slack) and close(d / c, y, slack=slack):
            return (i, j)
    return ()


# ---- in words ----------------------------------------------------------------------------------------------------------


def _in_words(part: ProportionPart, lines: Sequence[Line]) -> Iterator[_Change]:
    for line in lines:
        if line.withdrawn or len(line.text) > MOST_LENGTH:
            continue
        last: float | None = None
        for clause in _CLAUSES.split(line.text)[:MOST_CLAUSES]:
            factors, named = [_size(m) for m in _FACTOR.finditer(clause)], _named(part, clause)
            if not factors and named and last is not None and _ALIKE.search(clause):
                factors = [last] * len(named)
            if len(factors) == 1 and _BOTH.search(clause):
                named, factors = ["x", "y"], factors * 2
            if factors and len(factors) == len(named):
                yield from (_Change(axis=a, factor=f, line=line.number) for a, f in zip(named, factors, strict=True))
            last = factors[-1] if factors else last


def _size(match: re.Match[str]) -> float:
    for name, size in _SIZES.items():
        if match.group(name):
            return size
    text = (match.group("of") or match.group("count")).lower()
    size = _COUNTS.get(text) or float(text)
    return 1.0 / size if match.group("less") and size else size


def _named(part: ProportionPart, clause: str) -> list[str]:
    """The axes a clause is about, in order: by letter, by name, or by two readings of one of them."""
    places = [(m.start(), axis) for axis, column in (("x", part.x), ("y", part.y)) for m in _mentions(column, clause)]
    if places:
        return list(dict.fromkeys(axis for _, axis in sorted(places)))
    numbers = [float(m.group()) for m in _NUMBER.finditer(_FACTOR.sub(" ", clause))]
    for axis, column in (("x", part.x), ("y", part.y)):
        if len(numbers) == 2 and all(any(close(n, v, slack=1e-6) for v in column.values) for n in numbers):
            return [axis]
    return []


def _mentions(column: Axis, clause: str) -> Iterator[re.Match[str]]:
    letter = re.escape(column.symbol)
    yield from re.finditer(rf"(?<![\w/]){letter}(?![\w(/])", clause)
    if column.name:
        yield from re.finditer(rf"\b{re.escape(column.name)}\b", clause, re.IGNORECASE)


# ---- in arithmetic -----------------------------------------------------------------------------------------------------


def _worked(part: ProportionPart, values: Sequence[Shown]) -> Iterator[Compared]:
    """30/15 = 2 and 12.5/6.2 = 2.0: quotients of the same two readings on both axes, each rightly worked out where it is."""
    xs, ys = dict(_quotients(part.x, values)), dict(_quotients(part.y, values))
    for pair, y in ys.items():
        x = xs.get(pair)
        if x is not None:
            yield Compared(x=x.raw, y=y.raw, readings=pair, line=max(x.line, y.line))


def _quotients(column: Axis, values: Sequence[Shown]) -> Iterator[tuple[tuple[int, int], Shown]]:
    """(reading below, reading above) of every quotient of two readings of one axis that is not worked out wrongly."""
    for index, value in enumerate(values):
        if not isinstance(value.expr, Quotient):
            continue
        above, below = the_number(value.expr.over), the_number(value.expr.under)
        after = (v for v in values[index + 1 :] if v.typed and v.side.chain == value.side.chain)
        given = next((v for v in after if v.side.place > value.side.place), None)
        if above is None or below is None or (given is not None and not close(given.raw, value.raw, given.half_raw, 0.005)):
            continue
        i, j = (next((k for k, v in enumerate(column.values) if close(n.value, v, slack=1e-6)), None) for n in (below, above))
        if i is not None and j is not None and i != j:
            yield (i, j), value
