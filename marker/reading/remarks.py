"""Brackets that hold no operand: remarks, conditions, points read off a graph."""

from __future__ import annotations

import re

from marker.reading.items import Item


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
            elif inner and all(x.kind in "wfnbr" for x in inner) and any(x.kind == "w" for x in inner):
                _remark(items, start, index, before)
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


def _remark(items: list[Item], start: int, end: int, before: Item | None) -> None:
    """Words in brackets after an operand are a remark; where an operand is due they name a quantity."""
    if before is None or before.kind not in "mn)wb":
        return
    for x in items[start : end + 1]:
        if x.kind in "wfnr":
            x.kind, x.payload = "w", None
    items[start].kind, items[start].payload = "b", "("
    items[end].kind, items[end].payload = "b", ")"
