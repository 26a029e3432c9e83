"""Brackets that hold no operand: remarks, conditions, points read off a graph."""

from __future__ import annotations

import re

from marker.reading.item import Item
from marker.reading.symbols import index_words


def settle_brackets(items: list[Item]) -> tuple[tuple[int, int], ...]:
    """Settles bracketed remarks, conditions and points; changes the items in place and returns the spans of points (20, 7.4)."""
    points = []
    stack: list[int] = []
    for index, item in enumerate(items):
        if item.kind == "(":
            stack.append(index)
        elif item.kind == ")" and stack:
            start = stack.pop()
            inner = items[start + 1 : index]
            before = items[start - 1] if start else None
            if _is_point(inner, before):
                points.append((items[start].start, item.end))
                for x in items[start : index + 1]:
                    x.kind, x.payload = "b", "point"
            elif any(x.kind == "r" and not x.word for x in inner) or any(x.kind == "b" and x.payload in (",", ";") for x in inner):
                items[start].kind, items[start].payload = "b", "("
                item.kind, item.payload = "b", ")"
            elif inner and inner[0].kind == "r" and before is not None and before.kind in "mn)" and any(x.is_value for x in inner):
                items[start].kind, items[start].payload = "b", "("  # 2.0 × 10^8 J (about 200 MJ)
                item.kind, item.payload = "b", ")"
            elif _names_a_case(inner, before):
                inner[0].kind = "w"
                _remark(items, start, index)
            elif inner and all(x.kind in "wfnbr" for x in inner) and any(x.kind in "wb" and x.text.isalpha() for x in inner):
                if not _factor(items, start, index):
                    _remark(items, start, index)
            elif inner and inner[0].kind in "wb" and before is not None and before.kind in "mn)" and not any(x.kind == "o" for x in inner):
                items[start].kind, items[start].payload = "b", "("
                item.kind, item.payload = "b", ")"
    return tuple(points)


def _is_point(inner: list[Item], before: Item | None) -> bool:
    if before is not None and before.kind in "mn)or":
        return False
    commas = [x for x in inner if x.kind == "b" and x.payload == ","]
    if len(commas) == 1:
        return len(inner) > 2 and all(x.is_value or x in commas or x.text == "-" for x in inner)
    return len(inner) == 1 and inner[0].kind == "m" and re.fullmatch(r"\d+(\.\d+)?,\d+(\.\d+)?", inner[0].text) is not None


def _names_a_case(inner: list[Item], before: Item | None) -> bool:
    """3 A (max): the word of an index after a value."""
    return len(inner) == 1 and before is not None and before.is_value and inner[0].kind == "m" and inner[0].text.lower() in index_words()


def _factor(items: list[Item], start: int, end: int) -> bool:
    """(mass)(acceleration), 1/2(mass)(velocity)^2: words in brackets that multiply what they touch."""
    before = items[start - 1] if start else None
    after = items[end + 1] if end + 1 < len(items) else None
    if before is None or before.end < items[start].start:
        return False
    if before.kind == ")":
        return True
    if items[start + 1].text.lower() in ("a", "an") or not before.is_value or before.payload == "unit":
        return False
    return after is not None and after.kind in "(^o"


def _remark(items: list[Item], start: int, end: int) -> None:
    """Words in brackets after an operand are a remark, passed over where a sign follows; where an operand is due they name a quantity."""
    before = items[start - 1] if start else None
    if before is None or before.kind not in "mn)wb":
        return
    after = items[end + 1] if end + 1 < len(items) else None
    if before.kind in "mn)" and after is not None and after.kind in "or" and not after.word:
        items[start].kind, items[start].end = "k", items[end].end
        for x in items[start + 1 : end + 1]:
            x.kind = "j"
        return
    for x in items[start : end + 1]:
        if x.kind in "wfnr":
            x.kind, x.payload = "w", None
    items[start].kind, items[start].payload = "b", "("
    items[end].kind, items[end].payload = "b", ")"
