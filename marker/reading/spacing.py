"""One space on either side of each relation, so that none typed, one and three read alike: F=ma, F = ma, F   =   ma."""

from __future__ import annotations

import re

from marker.reading.clean import Clean

_RELATION = r"[=≈<>≤≥∝]"
UNEVEN = re.compile(rf"\S{_RELATION}|{_RELATION}(?=[^\s=≈<>≤≥∝])|[^\S\n][^\S\n]+{_RELATION}|{_RELATION}[^\S\n][^\S\n]")
_SCRIPT = r"_\{[^}]*\}|_\([^)]*\)"
_PIECE = re.compile(rf"{_SCRIPT}|[^\S\n]*(?P<sign>{_RELATION})[^\S\n]*|[^=≈<>≤≥∝_\s]+|.", re.DOTALL)


def evenly(clean: Clean) -> Clean:
    """The line with its relations set off evenly; a space put in stands for no typed column. Never raises."""
    text: list[str] = []
    starts: list[int] = []
    ends: list[int] = []

    def put(piece: str, start: int, end: int) -> None:
        text.append(piece)
        starts.extend([start] * len(piece))
        ends.extend([end] * len(piece))

    def keep(start: int, end: int) -> None:
        text.append(clean.text[start:end])
        starts.extend(clean.starts[start:end])
        ends.extend(clean.ends[start:end])

    for found in _PIECE.finditer(clean.text):
        sign = found.start("sign")
        if sign < 0:
            keep(*found.span())
            continue
        a, b = clean.place(sign, sign + 1)
        if found.start() > 0 and not text[-1].endswith(" "):
            put(" ", a, a)
        keep(sign, sign + 1)
        if found.end() < len(clean.text):
            put(" ", b, b)
    return Clean("".join(text), tuple(starts), tuple(ends))
