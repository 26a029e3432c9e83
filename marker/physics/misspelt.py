"""A unit's name misspelt: newtens, omhs, secunds, pascles. The nearest name, when it is near and begins with the same letter."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from marker.physics.unit_table import unit_table
from marker.physics.units import is_unit_word

_SHORTEST, _LONG, _LONGEST = 4, 7, 16


@lru_cache(maxsize=1)
def _plain_names() -> Mapping[str, tuple[str, ...]]:
    """First letter -> names of units, in order."""
    found: dict[str, list[str]] = {}
    for word in sorted(unit_table().words):
        if word.isalpha() and len(word) >= _SHORTEST:
            found.setdefault(word[0], []).append(word)
    return {letter: tuple(names) for letter, names in found.items()}


@lru_cache(maxsize=4096)
def meant_unit(word: str) -> str | None:
    """The unit's name that `word` is a slip for: one slip, or two in a word of seven letters or more.

    None for a right word, or a strange one.
    """
    lower = word.lower()
    if not _SHORTEST <= len(lower) <= _LONGEST or not lower.isascii() or not lower.isalpha() or is_unit_word(lower):
        return None
    allowed = 2 if len(lower) >= _LONG else 1
    best: tuple[int, str] | None = None
    for name in _plain_names().get(lower[0], ()):
        if abs(len(name) - len(lower)) <= allowed:
            slips = _slips(lower, name)
            if slips <= allowed and (best is None or slips < best[0]):
                best = (slips, name)
    return None if best is None else best[1]


def _slips(a: str, b: str) -> int:
    """Letters changed, missing, added, or neighbours exchanged (Damerau's distance, each stretch changed once)."""
    rows = [list(range(len(b) + 1))]
    for i, x in enumerate(a, start=1):
        row = [i]
        for j, y in enumerate(b, start=1):
            least = min(rows[i - 1][j] + 1, row[j - 1] + 1, rows[i - 1][j - 1] + (x != y))
            if i > 1 and j > 1 and x == b[j - 2] and a[i - 2] == y:
                least = min(least, rows[i - 2][j - 2] + 1)
            row.append(least)
        rows.append(row)
    return rows[-1][-1]
