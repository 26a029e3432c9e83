"""Places left blank for a value: "R = ____ Ω", "θ = … °". The statement ends at its last relation, as one with nothing after it does."""

from __future__ import annotations

import re
from dataclasses import replace

from marker.physics.units import parse_unit
from marker.reading.segment import Segment

_BLANK = re.compile(r"\s*[_…?.\s]*")
_BEGINS = re.compile(r"\s*-?\s?(?:\.?\d|\()")  # a side that begins so is no blank
_LETTER = re.compile(r"[^\W\d_]")


def without_blank(text: str, segment: Segment) -> Segment:
    """The segment without a last side that is a blank, a blank with its unit, or a sign such as ° by itself."""
    if not segment.relations or segment.unfinished:
        return segment
    end = segment.relations[-1][1]
    if _BEGINS.match(text, end, segment.end) is not None:
        return segment
    tail = text[end : segment.end]
    found = _BLANK.match(tail)
    blank, unit = (tail[: found.end()].strip(), tail[found.end() :].strip()) if found else ("", tail.strip())
    if not blank and (not unit or _LETTER.search(unit)):
        return segment
    if unit and not parse_unit(unit):
        return segment
    return replace(segment, end=end, unfinished=True)
