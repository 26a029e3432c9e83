"""Units of measurement as they are typed, which say nothing of what happens."""

from __future__ import annotations

from collections.abc import Sequence

from marker.kinds.written.text import Sort, Word

UNITS = frozenset(
    ("a", "cm", "ev", "g", "hz", "j", "k", "kev", "kg", "kj", "km", "kpa", "kw", "m", "ma", "mev", "mg", "mj", "mm", "ms", "mv", "mw",
     "n", "nm", "s", "v", "w")
)  # fmt: skip
_CAPITALS = frozenset(("Ω", "°C", "Pa", "Wb", "T", "C", "F"))
_LONGEST = 8


def without_units(row: Sequence[Word]) -> list[Word]:
    """Words without units in brackets: "the energy (in J) of the particles", "the energy (J) of"."""
    kept: list[Word] = []
    here = 0
    while here < len(row):
        end = next((k for k in range(here + 1, min(here + 1 + _LONGEST, len(row))) if row[k].text == ")"), None)
        inside = [w for w in row[here + 1 : end or here] if w.text not in ("in", "per")]
        if row[here].text == "(" and end is not None and inside and all(_unit_like(w) for w in inside):
            here = end + 1
            continue
        kept.append(row[here])
        here += 1
    return kept


def _unit_like(word: Word) -> bool:
    return word.text in UNITS or word.sort is Sort.NUMBER or word.text in "/^-·" or word.typed in _CAPITALS
