"""One segment to its readings: sides between the relations, each read by the lattice, the brackets and the grammar."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

from marker.expression import Expr
from marker.reading.clean import Clean
from marker.reading.lattice import Area, paths
from marker.reading.model import Assumption, Reading
from marker.reading.numbers import NumberStyle
from marker.reading.parser import parse
from marker.reading.segments import Segment
from marker.reading.structure import variants
from marker.reading.symbols import Symbols

MOST_READINGS = 16
_MOST_A_SIDE = 8
_MOST_PARSES = 24
_DEAREST = 5.0
_DEEPEST = 40
_QUANTITY = re.compile(r"\d\)?\s?[A-Za-zΩμ°%]")


@dataclass(frozen=True, slots=True)
class SideReading:
    cost: float
    tree: Expr
    notes: tuple[Assumption, ...]


@dataclass(frozen=True, slots=True)
class Failure:
    """Why a segment could not be read; columns of the cleaned text."""

    start: int
    end: int
    why: str


def readings(clean: Clean, segment: Segment, symbols: Symbols, style: NumberStyle, used: frozenset[str]) -> tuple[Reading, ...] | Failure:
    """Readings of a segment, plainest first; a Failure when some side has none."""
    spans, signs, opens, unfinished = _sides(segment)
    if not spans:
        return Failure(segment.start, segment.end, "nothing stands beside the relation")
    choices: list[list[SideReading]] = []
    quantities = len(_QUANTITY.findall(clean.text))
    for start, end in spans:
        area = Area(clean.text, start, end, symbols, style, clean.place, segment.overrides, used, quantities)
        found = _read_side(area)
        if isinstance(found, Failure):
            return found
        choices.append(found)
    unfinished = unfinished or segment.unfinished
    return tuple(
        Reading(
            sides=tuple(side.tree for side in combination),
            relations=signs,
            opens=opens,
            unfinished=unfinished,
            cost=cost,
            assumptions=tuple(dict.fromkeys(n for side in combination for n in side.notes)),
        )
        for cost, combination in _cheapest(choices)
    )


def _sides(segment: Segment) -> tuple[list[tuple[int, int]], tuple[str, ...], bool, bool]:
    """Spans of the sides, the relations between them, whether a relation opens and whether one ends the segment."""
    spans: list[tuple[int, int]] = []
    signs: list[str] = []
    left, opens, dangling = segment.start, False, False
    for start, end, sign in segment.relations:
        if start > left and _filled(segment, left, start):
            spans.append((left, start))
            signs.append(sign)
        elif not spans:
            opens = True
        left, dangling = end, True
    if _filled(segment, left, segment.end):
        spans.append((left, segment.end))
        dangling = False
    elif signs:
        signs.pop()
    return spans, tuple(signs), opens, dangling


def _filled(segment: Segment, start: int, end: int) -> bool:
    return end > start


def _read_side(area: Area) -> list[SideReading] | Failure:
    area, repaired = _balanced(area)
    if area.end - area.start > 600:
        return Failure(area.start, area.end, "too long to read as one expression")
    found: dict[Expr, SideReading] = {}
    heap: list[tuple[float, int, tuple[object, ...], tuple[Assumption, ...]]] = []
    parses = serial = 0
    source = paths(area)
    upcoming = next(source, None)
    while len(found) < _MOST_A_SIDE and parses < _MOST_PARSES:
        while upcoming is not None and (not heap or upcoming[0] <= heap[0][0]):
            for variant in variants(upcoming[1], area.symbols.angles):
                serial += 1
                heappush(heap, (upcoming[0] + variant.cost, serial, variant.tokens, upcoming[2] + variant.notes))
            upcoming = next(source, None)
            if serial > 400:
                upcoming = None
        if not heap:
            break
        cost, _, tokens, notes = heappop(heap)
        if found and cost > _DEAREST + next(iter(found.values())).cost:
            break
        parses += 1
        tree = parse(tokens)  # type: ignore[arg-type]
        if tree is not None and tree not in found:
            found[tree] = SideReading(round(cost, 3), tree, notes + repaired)
    if not found:
        return Failure(area.start, area.end, _why(area))
    return list(found.values())


def _balanced(area: Area) -> tuple[Area, tuple[Assumption, ...]]:
    """A bracket too many or too few is mended at the end or the beginning of the side."""
    depth, least, deepest = 0, 0, 0
    at = area.start
    while at < area.end:
        if at in area.overrides:
            at = max(at + 1, area.overrides[at][0].end)
            continue
        c = area.text[at]
        depth += (c == "(") - (c == ")")
        least = min(least, depth)
        deepest = max(deepest, depth)
        at += 1
    if depth == 0 and least == 0:
        return area, ()
    opened, closed = -least, depth - least
    if opened + closed > 6 or deepest > _DEEPEST:
        return area, ()
    text = area.text[: area.start] + "(" * opened + area.text[area.start : area.end] + ")" * closed
    shift = opened
    first, last = area.start, area.end
    inner_place = area.place

    def place(start: int, end: int) -> tuple[int, int]:
        return inner_place(min(max(start - shift, first), last), min(max(end - shift, first), last))

    overrides = {key + shift: tuple(_moved(e, shift) for e in edges) for key, edges in area.overrides.items()}
    note = Assumption(code="bracket-added", text="a missing bracket is supplied", at=inner_place(first, last))
    mended = Area(text, area.start, area.end + opened + closed, area.symbols, area.style, place, overrides, area.used, area.quantities)
    return mended, (note,)


def _moved(edge: object, shift: int) -> object:
    from marker.reading.tokens import Edge

    assert isinstance(edge, Edge)
    return Edge(edge.start + shift, edge.end + shift, edge.kind, edge.toks, edge.cost, edge.note, edge.choice, edge.wide, edge.last)


def _why(area: Area) -> str:
    text = area.text[area.start : area.end].strip()
    strange = [c for c in text if not (c.isalnum() or c in " +-×*·/=()^√∛∜|.,°%'_{}±∥⊥∞½¼¾")]
    if strange:
        return f"the character “{strange[0]}” has no meaning here"
    if text and text[-1] in "+-×*·/^(√":
        return f"nothing follows the “{text[-1]}”"
    if text and text[0] in "×*·/^)":
        return f"nothing stands before the “{text[0]}”"
    if text.count("(") != text.count(")"):
        return "the brackets do not match"
    return "it does not read as an expression"


def _cheapest(choices: Sequence[list[SideReading]]) -> list[tuple[float, tuple[SideReading, ...]]]:
    """The cheapest combinations of one reading a side, at most MOST_READINGS, in rising cost."""
    start = (0,) * len(choices)
    heap = [(sum(c[0].cost for c in choices), start)]
    seen = {start}
    found: list[tuple[float, tuple[SideReading, ...]]] = []
    while heap and len(found) < MOST_READINGS:
        cost, index = heappop(heap)
        found.append((round(cost, 3), tuple(c[k] for c, k in zip(choices, index, strict=True))))
        for side in range(len(choices)):
            if index[side] + 1 < len(choices[side]):
                following = (*index[:side], index[side] + 1, *index[side + 1 :])
                if following not in seen:
                    seen.add(following)
                    extra = choices[side][index[side] + 1].cost - choices[side][index[side]].cost
                    heappush(heap, (cost + extra, following))
    return found
