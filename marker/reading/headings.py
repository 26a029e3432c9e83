"""What stands before a colon: a heading (Eq: v = u + at), or the quantity whose value follows (v: 9.4 m/s)."""

from __future__ import annotations

import re
from collections.abc import Sequence

from marker.reading.item import Item
from marker.reading.symbols import Symbols, key_of

HEADING, QUANTITY, NEITHER = "heading", "quantity", ""
_LONGEST = 12
_DATUM = re.compile(r"[j-zA-ZΑ-ω](?:_?\{?\w{1,3}\}?)?")


def before_colon(stretch: Sequence[Item], following: Sequence[Item], symbols: Symbols) -> str:
    """Which of the two the stretch is. following  the items after the colon up to the next break."""
    if not stretch or any(x.kind not in "mn" or x.is_value or x.payload == "unit" for x in stretch):
        return NEITHER
    typed = "".join(x.text for x in stretch)
    if len(typed) > _LONGEST and stretch[0].kind != "n":
        return NEITHER
    known = stretch[0].kind == "n" or key_of(typed) in symbols.exact
    if known and following and not any(x.kind in "ro" and x.text not in "+-" for x in following):
        return QUANTITY if following[0].is_value or following[0].text == "-" else NEITHER
    if _DATUM.fullmatch(typed) and following and following[0].is_value and not any(x.kind in "ro" for x in following):
        return QUANTITY  # u: 2.4, v: 9.6; a: 3 N may be the label of a part
    related = any(x.kind == "r" for x in following)
    return HEADING if typed.isalpha() and (len(typed) > 1 or related) else NEITHER
