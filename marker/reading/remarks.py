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
            elif _counted(items, start, index):
                for x in inner[1 + (inner[1].payload == "unit") :]:
                    x.kind = "k"
            elif _value_aside(inner, before, items[index + 1 : index + 2]):
                items[start].kind, items[start].payload = "b", "("  # v = 3 m/s (2 m/s north)
                item.kind, item.payload = "b", ")"
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


def _counted(items: list[Item], start: int, end: int) -> bool:
    """(2 mol oxygen)(16.0 g/mol), (10.3 blocks)(0.874), (0.25 kg of water) × 4200: a factor, and words that say of what."""
    inner, before = items[start + 1 : end], items[start - 1] if start else None
    after = items[end + 1] if end + 1 < len(items) else None
    if len(inner) < 2 or not inner[0].is_value or inner[0].payload == "unit" or (before is not None and before.kind not in "or()"):
        return False
    if after is None or (after.kind not in "(or" and after.text not in "xX") or after.word:
        return False
    said = inner[1 + (inner[1].payload == "unit") :]
    names = "wfn" if inner[1].payload == "unit" else "wf"  # (3 mass)(speed) may be a product
    return bool(said) and all(x.kind in names for x in said) and any(x.kind != "f" for x in said)


def _value_aside(inner: list[Item], before: Item | None, after: list[Item]) -> bool:
    """A value and words, in brackets after a value with its unit, at the end."""
    if before is None or before.payload != "unit" or (after and after[0].kind != "b"):
        return False
    said = [x for x in inner if x.kind == "w"]
    return len(inner) > 2 and inner[0].is_value and inner[1].payload == "unit" and bool(said) and all(x.kind in "wfb" for x in inner[2:])


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
