"""Labels of parts at the head of a line and inside it: "(i)", "b)", "part 2:", "first part:";  1) F = ma 2) a = F/m."""

from __future__ import annotations

import re

_LABEL = re.compile(
    r"\s*(?:(?:part|question|q)\s*)?(?:\(\s*([ivx]{1,4}|[a-h]|\d{1,2})\s*\)|([ivx]{1,4}|[a-h]|\d{1,2})\s*\))\s*(?:[.:](?=\s|$))?\s*(?=\S|$)|"
    r"\s*(?:part|question|q)\s*([ivx]{1,4}|[a-h]|\d{1,2})\s*[:.)]\s*|\s*(first|second|third)\s+part\s*[:,-]?\s*|\s*(\d{1,2})\.\s+(?=[A-Za-z])",
    re.IGNORECASE,
)
_ROMAN = re.compile(r"\s*(ii|iii|iv|i)\s+(?=\S)", re.IGNORECASE)
_ORDINALS = {"first": "i", "second": "ii", "third": "iii"}
_BULLET = re.compile(r"\s*(?:[·*>]|-(?=\s+(?:[A-Za-z].*)?=))\s+")
DASHED = re.compile(r"\s*-\s+(?=\S)")
Label = tuple[int, int, str]  # where it stands, and its name
_NEXT_ROMAN = {"i": "ii", "ii": "iii", "iii": "iv", "iv": "v"}
_MOST_LABELS = 8


def head_label(text: str, dashed: bool, roman: bool) -> tuple[str, int]:
    """(label, where the line goes on): "(i)", "b)", "part 2:", "first part:", or a bare roman numeral where the response has more.

    dashed  the response is a list in dashes;  roman  it has the numeral ii at the head of a line
    """
    bullet = _BULLET.match(text) or (DASHED.match(text) if dashed else None)
    start = bullet.end() if bullet else 0
    found = _LABEL.match(text, start)
    if found is not None:
        name = next(g for g in found.groups() if g is not None).lower()
        return _ORDINALS.get(name, name), found.end()
    numeral = _ROMAN.match(text, start)
    if numeral is not None and (roman or len(numeral.group(1)) > 1):
        return numeral.group(1).lower(), numeral.end()
    return "", start


def labels_inside(text: str, label: str, start: int) -> list[Label]:
    """The labels that follow on the line's own, in order: where each stands and its name. Only a relation makes a label worth parting."""
    found: list[Label] = []
    mark = text[:start].rstrip()[-1:]
    following = _following(label) if mark and mark in ").:" else ""
    while following and len(found) < _MOST_LABELS:
        closing = r"\)\s?" if mark == ")" else r"[.:]\s+"
        pattern = re.compile(rf"(?<=\s)\(?{following}{closing}(?=[^\s=][^=]{{0,60}}=)", re.IGNORECASE)
        begin = found[-1][1] if found else start
        # no bracket is open there: 3(4 + 2) × 5
        apart = (m for m in pattern.finditer(text, begin) if text.count("(", begin, m.start()) == text.count(")", begin, m.start()))
        here = next(apart, None)
        if here is None:
            break
        found.append((here.start(), here.end(), following))
        following = _following(following)
    return found


def _following(label: str) -> str:
    """The label after this one; "" when there is none."""
    if label.isdigit():
        return str(int(label) + 1)
    if label in _NEXT_ROMAN:
        return _NEXT_ROMAN[label]
    return chr(ord(label) + 1) if label in tuple("abcdefg") else ""


def blanked(text: str, start: int, labels: list[Label]) -> str:
    """The text with its labels blank, those inside it as breaks."""
    text = " " * start + text[start:]
    for a, b, _ in labels:
        text = text[:a] + ";" + " " * (b - a - 1) + text[b:]
    return text


def label_of(at: int, labels: list[Label], last: int) -> str:
    """The label a statement at this place is the first to stand under; last  where the statement before it began."""
    return next((name for a, _, name in reversed(labels) if last < a <= at), "")
