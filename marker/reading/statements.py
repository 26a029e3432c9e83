"""One segment to its readings: the sides between its relations, and the ways to combine their readings."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from typing import NamedTuple

from marker.expression import Expr
from marker.reading.clean import Clean
from marker.reading.habits import habits, that_matter
from marker.reading.model import Reading, Readings
from marker.reading.numbers import LOST_STYLE, NumberStyle
from marker.reading.segment import Segment
from marker.reading.sides import (
    Setting,
    SideReading,
    all_readings,
    habitual,
    habitual_with_words,
    narrowed,
    placed,
    placed_note,
    plainest,
    plainest_at,
    plainest_with_words,
    read_with_words,
    why_unread,
)
from marker.reading.symbols import Symbols

MOST_READINGS = 16
_MOST_BY_HABIT = 8
_AGAINST_EACH_OTHER = 1.0
_TEMPERATURE = re.compile(r"\s*(?:(?:Δ\s?|[dD]elta ?)?T(?:_?\{?\w{1,4}\}?)?\s?[=≈]|[\w ]{0,30}[tT]emp)")
# a side that is nothing but this is a value in standard form, whose superscript was lost
_STANDARD_FORM = re.compile(r"-?[1-9]\s?[xX×*]\s?10(?:[3-9]|[12]\d)(?:\s?(?![xX]\s?[\d(])[A-Za-zΩμ°][^=+×*]{0,20})?")
_NUMBER_ALONE = re.compile(r"[\d.,]+[23]")
_QUANTITY = re.compile(r"\d\)?\s?[A-Za-zΩμ°%]")


Ranked = tuple[float, tuple[SideReading, ...]]


@dataclass(frozen=True, slots=True)
class Failure:
    """Why a segment could not be read; columns of the cleaned text."""

    start: int
    end: int
    why: str


class _Shape(NamedTuple):
    """A segment's sides as spans of the cleaned text, and what stands between and around them."""

    clean: Clean
    segment: Segment
    setting: Setting
    spans: tuple[tuple[int, int], ...]
    signs: tuple[str, ...]
    opening: str
    unfinished: bool


def readings(clean: Clean, segment: Segment, symbols: Symbols, style: NumberStyle, used: frozenset[str]) -> Readings | Failure:
    """Readings of a segment, plainest first; a Failure when some side has none."""
    several = len(_QUANTITY.findall(clean.text)) > 1
    if segment.broken:
        return Failure(segment.start, segment.end, "words stand inside the brackets")
    shape = _shape(clean, segment, Setting(symbols, style, used, several, _gives_temperature(clean.text, segment, symbols)))
    if not shape.spans:
        return Failure(segment.start, segment.end, "nothing stands beside the relation")
    first = []
    for span in shape.spans:
        side = _first(shape, span)
        if side is None:
            return Failure(*span, why_unread(clean.text[span[0] : span[1]]))
        first.append(side)
    return Readings([_reading(shape, sum([s.cost for s in first]), first)], lambda: _combined(shape))


def _gives_temperature(text: str, segment: Segment, symbols: Symbols) -> bool:
    """T = 25 C, temperature = 40 C, and any C where the part has a temperature and no charge."""
    if "C" not in text:
        return False
    return symbols.celsius or _TEMPERATURE.match(text, segment.start) is not None


def _shape(clean: Clean, segment: Segment, setting: Setting) -> _Shape:
    spans: list[tuple[int, int]] = []
    signs: list[str] = []
    left, opening, dangling = segment.start, "", False
    for start, end, sign in segment.relations:
        span = _stripped(clean.text, left, start)
        if span is not None:
            spans.append(span)
            signs.append(sign)
        elif not spans:
            opening = sign
        left, dangling = end, True
    last = _stripped(clean.text, left, segment.end)
    if last is not None:
        spans.append(last)
        dangling = False
    elif signs:
        signs.pop()
    return _Shape(clean, segment, setting, tuple(spans), tuple(signs), opening, dangling or segment.unfinished)


def _stripped(text: str, start: int, end: int) -> tuple[int, int] | None:
    while start < end and text[start] == " ":
        start += 1
    while end > start and text[end - 1] == " ":
        end -= 1
    return (start, end) if end > start else None


def _has_words(shape: _Shape, span: tuple[int, int]) -> bool:
    return bool(shape.segment.overrides) and any(span[0] <= k < span[1] for k in shape.segment.overrides)


def _first(shape: _Shape, span: tuple[int, int]) -> SideReading | None:
    if _has_words(shape, span):
        return plainest_with_words(shape.clean.text, *span, shape.setting, shape.clean.starts, shape.clean.ends, shape.segment.overrides)
    text = shape.clean.text[span[0] : span[1]]
    setting = _setting(shape, span, text)
    if isinstance(shape.clean.starts, range):
        return plainest_at(text, setting, span[0])
    found = plainest(text, setting)
    return None if found is None else _put(shape, span[0], found)


def _all(shape: _Shape, span: tuple[int, int]) -> list[SideReading]:
    clean = shape.clean
    if _has_words(shape, span):
        return list(read_with_words(clean.text, *span, shape.setting, clean.starts, clean.ends, shape.segment.overrides))
    text = clean.text[span[0] : span[1]]
    return [_put(shape, span[0], r) for r in all_readings(text, _setting(shape, span, text))]


def _setting(shape: _Shape, span: tuple[int, int], text: str) -> Setting:
    setting = narrowed(shape.setting, text)
    if setting.style.lost and span == shape.spans[0] != shape.spans[-1] and _NUMBER_ALONE.fullmatch(text) is not None:
        return setting._replace(style=setting.style._replace(first=True))
    if span == shape.spans[-1] and "10" in text and _STANDARD_FORM.fullmatch(text):
        return setting._replace(style=LOST_STYLE)
    return setting


def _put(shape: _Shape, base: int, side: SideReading) -> SideReading:
    starts, ends = shape.clean.starts, shape.clean.ends
    notes = tuple([placed_note(n, starts, ends, base) for n in side.notes]) if side.notes else ()
    return SideReading(side.cost, placed(side.tree, starts, ends, base), notes, side.choices)


def _reading(shape: _Shape, cost: float, sides: Sequence[SideReading]) -> Reading:
    notes = [n for side in sides for n in side.notes]
    return Reading(
        sides=tuple([side.tree for side in sides]),
        relations=shape.signs,
        opens=bool(shape.opening),
        opening=shape.opening,
        unfinished=shape.unfinished,
        cost=round(cost, 3),
        assumptions=tuple(dict.fromkeys(notes)) if notes else (),
    )


def _combined(shape: _Shape) -> list[Reading]:
    """The cheapest combinations of one reading a side, and those of one habit throughout, at most MOST_READINGS, in rising cost."""
    cheapest = sorted(_cheapest([_all(shape, span) for span in shape.spans]), key=lambda c: c[0])
    of_habit = _of_one_habit(shape)
    known: dict[tuple[Expr, ...], Ranked] = {}
    for cost, sides in (*of_habit[:_MOST_BY_HABIT], *cheapest):
        trees = tuple([side.tree for side in sides])
        if trees not in known or cost < known[trees][0]:
            known[trees] = (cost, sides)
        if len(known) == MOST_READINGS:
            break
    return [_reading(shape, cost, sides) for cost, sides in sorted(known.values(), key=lambda c: c[0])]


def _of_one_habit(shape: _Shape) -> list[Ranked]:
    """The statement read with each habit throughout. A habit is one decision: it costs what it costs where it costs most."""
    texts = tuple([shape.clean.text[a:b] for a, b in shape.spans])
    ways = _ways_of_habits(shape, texts)
    plain = [_first(shape, span) for span in shape.spans] if ways else []
    found: dict[tuple[Expr, ...], Ranked] = {}
    for way in ways:
        sides = [_with_habit(shape, span, first, habit) for span, first, habit in zip(shape.spans, plain, way, strict=True)]
        if any(side is None for side in sides):
            continue
        pairs = [(side, first) for side, first in zip(sides, plain, strict=True) if side is not None and first is not None]
        dearest = max((side.cost - first.cost for side, first in pairs if side.tree != first.tree), default=0.0)
        cost = sum(first.cost for _, first in pairs) + max(0.1, dearest)
        trees = tuple(side.tree for side, _ in pairs)
        if all(side.tree == first.tree for side, first in pairs) or (trees in found and found[trees][0] <= cost):
            continue
        found[trees] = (cost, tuple(side for side, _ in pairs))
    return sorted(found.values(), key=lambda c: c[0])


def _ways_of_habits(shape: _Shape, texts: tuple[str, ...]) -> list[tuple[frozenset[str], ...]]:
    """For each habit, what of it can change each of the sides; once where two come to the same, and none that changes nothing."""
    worded = [_has_words(shape, span) for span in shape.spans]
    ways = (
        tuple([habit if words else that_matter(habit, text) for text, words in zip(texts, worded, strict=True)]) for habit in habits(texts)
    )
    return [way for way in dict.fromkeys(ways) if any(way)]


def _with_habit(shape: _Shape, span: tuple[int, int], first: SideReading | None, habit: frozenset[str]) -> SideReading | None:
    """One side with a habit throughout; its first reading where the habit has no place in it, or leaves it unreadable."""
    clean = shape.clean
    if not habit:
        return first
    if _has_words(shape, span):
        worded = habitual_with_words(clean.text, span, shape.setting, clean.starts, clean.ends, shape.segment.overrides, habit)
        return worded or first
    text = clean.text[span[0] : span[1]]
    found = habitual(text, _setting(shape, span, text), habit)
    return first if found is None else _put(shape, span[0], found)


def _cheapest(choices: Sequence[list[SideReading]]) -> Iterator[Ranked]:
    """Combinations by cost; one that takes the same letters in two ways costs more."""
    start = (0,) * len(choices)
    heap = [(sum(c[0].cost for c in choices), start)]
    seen = {start}
    for _ in range(MOST_READINGS):
        if not heap:
            return
        cost, index = heappop(heap)
        sides = tuple(c[k] for c, k in zip(choices, index, strict=True))
        yield cost + (_AGAINST_EACH_OTHER if _conflict(sides) else 0.0), sides
        for side, options in enumerate(choices):
            if index[side] + 1 < len(options):
                following = (*index[:side], index[side] + 1, *index[side + 1 :])
                if following not in seen:
                    seen.add(following)
                    heappush(heap, (cost + options[index[side] + 1].cost - options[index[side]].cost, following))


def _conflict(sides: Sequence[SideReading]) -> bool:
    """v2 is v² on one side and v₂ on the other."""
    meant: dict[str, str] = {}
    return any(meant.setdefault(text, meaning) != meaning for side in sides for text, meaning in side.choices)
