"""Lines that are one statement without doubt, as most lines of working are: nothing in them can be a word or part them."""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import pairwise

from marker.reading.phrasebook import never_prose
from marker.reading.segment import Segment
from marker.reading.symbols import Symbols

# v 3.5 m/s: a letter and its value with no sign between
LETTER_THEN_VALUE = re.compile(r"[^\W\d_][\w{}]{0,6} -?\d+(\.\d|\s?[x×*]\s?10\s?\^?\(?-?\d)?")
# a mark that can part statements, name a percentage or be more than it seems; a letter after a value, as in a list of data
_PARTS = re.compile(
    r"\s{3}|\s\([ivx]{1,4}\)|[;:?!,\"⇒⇔∴∵≀≠@#&~\u0307\n]|\.(?!\d)|(?<!\d)\.(?=\d)|(?<![\d)\s])\s?%|^\s*[×*·/^)%+]|^\s*[xX]\s?\d|\d\s?(?:sf|dp|sigfig)(?![A-Za-z])|[×*/+^=≈-]\s*$|[=≈]\s*[-+]?[\d.](?:[^=≈+/(]|\^\()*\s[^\W\d_][\w'{}]{0,8}\s?[=≈]"
    r"|[=≈][^=≈]*[A-Za-zα-ωΩ_}][\w}]*\s[\w.{}]{1,8}\s?=|(?:sqrt|root|rt)\s?=|[=≈].*\d\s?[A-Za-zΩμ°][A-Za-z/]{0,5}\s\d"
)
# the letter before the first relation stands alone before a later one: F = ma  F = 6
_AGAIN = re.compile(r"^\s*(?:sin|cos|tan)?\s?([^\W\d_][\w{}]{0,6})\s?=.*[\w)%°]\s\1\s?=")
_RUN = re.compile(r"(?<![A-Za-z_])[A-Za-z]{2,}")
_RELATIONS = frozenset("=≈<>≤≥∝")


def all_mathematics(text: str, symbols: Symbols) -> Segment | None:
    """The line as one segment when nothing in it can be a word or part it; most lines of working are such. None when in doubt."""
    typed = text.rstrip()
    ends = typed.endswith("=")  # A = A_0 e^(-λt) = with nothing after it: as it would be with a value there
    found = _found(typed + " 1" if ends else text, symbols)
    if found is None:
        return None
    return Segment(start=found[0], end=len(typed) if ends else found[1], relations=found[2], unfinished=ends)


@lru_cache(maxsize=256)
def _found(text: str, symbols: Symbols) -> tuple[int, int, tuple[tuple[int, int, str], ...]] | None:
    """Start, end and relations of that segment."""
    if _PARTS.search(text) is not None:
        return None
    for run in _RUN.findall(text):
        if not never_prose(run, symbols):
            return None
    relations = [(at, at + 1, c) for at, c in enumerate(text) if c in _RELATIONS]
    if "(" in text and any(text.count("(", 0, at) != text.count(")", 0, at) for at, _, _ in relations):
        return None
    if len(relations) > 1 and _AGAIN.search(text) is not None:
        return None
    if any(not text[a[1] : b[0]].strip() for a, b in pairwise(relations)):
        return None
    start, end = len(text) - len(text.lstrip()), len(text.rstrip())
    if not relations and LETTER_THEN_VALUE.match(text, start) is not None:
        return None
    if end > start and not any(c.isdigit() for c in text) and "½" not in text and not relations and " " in text.strip():
        return None
    return start, end, tuple(relations)
