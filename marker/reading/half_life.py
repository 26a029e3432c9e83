"""The letter of a half-life, T with an index of one half, in every way it is typed: T½, T_1/2, t_{1/2}, T1/2.

Elsewhere ½ and 1/2 are numbers, so that the index is made a word, T_half, as soon as it is seen.
"""

from __future__ import annotations

import re

_BEFORE = r"(?<![A-Za-z0-9.)½_])"
_AFTER = r"(?![A-Za-z0-9.(^½])"
_INDEXED = r"_?½|_?[({]+\s?1\s?\)?\s?/\s?\(?\s?2\s?[)}]+|_1\s?/\s?_?2|_half"
_ON_THE_LINE = r"1/2(?=\s?(?:[=≈;,]|is\b|$))"  # T1/2 stands alone before a sign or at an end: no half of T_1
_PER_HALF_LIFE = r"(?<=[tT]/[tT])1/2(?![\d.])"  # 2^(t/T1/2)
HALF_LIFE = re.compile(rf"{_BEFORE}([Tt])((?:{_INDEXED}){_AFTER}|{_ON_THE_LINE}|{_PER_HALF_LIFE})")
INDEX = "_half"


def half_lives(text: str) -> list[tuple[int, int]]:
    """Places of the indices of one half in cleaned text, from the left."""
    return [(m.start(2), m.end(2)) for m in HALF_LIFE.finditer(text)]
