"""A line's habits: one decision for all places of a kind.

Whoever types 6.63x10-34 has no superscripts, so 3x108 and (6.92x106)2 on the same line have lost theirs too; whoever puts no
brackets round one sum or round what stands below one solidus puts them nowhere. Read place by place, a line with four such places
has sixteen readings and the one that is meant drowns; read by habit it has one.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from itertools import combinations

RAISED = "raised"  # every figure that can be a lost superscript is one
SQUARED = "squared"  # and so is the last figure of every number it can be one of: 0.802 for 0.80²
INDEX = "index"  # every figure after a letter is its index
BELOW = "below"  # all that is multiplied after a solidus is below the line
SUMS = "sums"  # every sum beside a solidus or a product is in brackets

_MOST = 12
_LOST = re.compile(r"[\w)]\d|10\s?-\s?\d|e-")
# where a figure can be raised at all: after a letter, a bracket, a function's name, a power of e or ten; most numbers have no such place
_RAISABLE = re.compile(r"[^\W\d]['′″’]*\s?-?\d|\)[123-]|[×xX*·.]\s*10\s?-?\s?\d|e\s?[-(]")
_FIGURE_AFTER_LETTER = re.compile(r"[^\W\d_]\d")
_PRODUCT_BELOW = re.compile(r"/[^=≈]*?(?:[×*·)]|[xX]|\d\s*[^\W\d_])")
_SUM = re.compile(r"[\w)°'] ?[+-] ?[\w(.√]")
# a place in one side that the habit is about
_PLACES = {
    RAISED: _RAISABLE,
    SQUARED: re.compile(r"\d\.\d*\d[23](?![\d.])|\d,\d*\d[23](?![\d.])|[1-9]\d+2(?![\d.,])"),
    INDEX: re.compile(r"[^\W\d]['′″’]*\d|(?:sin|cos|tan)\s?\(?\d"),
    BELOW: re.compile("/"),
    SUMS: re.compile(r"[+−-]"),
}


@lru_cache(maxsize=4096)
def habits(sides: Sequence[str]) -> tuple[frozenset[str], ...]:
    """The habits that could matter to the sides of a statement: single ones first, then all joint ones."""
    found = []
    if any(_LOST.search(side) for side in sides) and any(_RAISABLE.search(side) for side in sides):
        found.append(RAISED)
    if any(_FIGURE_AFTER_LETTER.search(side) for side in sides):
        found.append(INDEX)
    if any(_PRODUCT_BELOW.search(side) for side in sides):
        found.append(BELOW)
    if any(_SUM.search(side) and ("/" in side or "×" in side or "x" in side or "*" in side) for side in sides):
        found.append(SUMS)
    joint = [frozenset(group) for size in range(1, len(found) + 1) for group in combinations(found, size)]
    squares = _squares(sides, found)
    return (*joint[: _MOST - len(squares)], *squares)


def _squares(sides: Sequence[str], found: Sequence[str]) -> list[frozenset[str]]:
    """The habits of who raises no figure, joined with those of who puts no brackets."""
    if not any(_PLACES[SQUARED].search(side) for side in sides):
        return []
    others = [h for h in found if h in (BELOW, SUMS)]
    return [frozenset((RAISED, SQUARED, *group)) for size in range(len(others) + 1) for group in combinations(others, size)]


@lru_cache(maxsize=4096)
def that_matter(habit: frozenset[str], side: str) -> frozenset[str]:
    """What of a habit can change how a side is read; the rest has no place in it."""
    return frozenset([h for h in habit if _PLACES[h].search(side)])
