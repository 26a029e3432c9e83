"""Symbol tables for parts that are not calculations: the scheme's letters with the words physics has for them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from marker.expression import Dimensions
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.lexicon import kinds_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """One letter of a part: words the scheme gives for it, its unit and dimensions (None where unknown)."""

    symbol: str
    words: Sequence[str] = ()
    unit: str = ""
    dimensions: Dimensions | None = None


def symbol_table(letters: Iterable[Letter], further: Iterable[SymbolEntry] = ()) -> SymbolTable:
    """The letters with the scheme's words, and those the library knows where only one letter claims them; then further entries."""
    rows = list(letters)
    claims: dict[str, set[str]] = {}
    for row in rows:
        for word in _library(row):
            claims.setdefault(word, set()).add(row.symbol)
    extra = tuple(further)
    taken = {w for row in rows for w in row.words} | {w for e in extra for w in e.names}
    entries = []
    for row in rows:
        known = [w for w in _library(row) if len(claims[w]) == 1 and w not in taken]
        words = [w for w in row.words if len(w) > 3 or " " in w]
        short = [w for w in row.words if w not in words]
        entries.append(SymbolEntry(name=row.symbol, spellings=tuple(short), names=tuple(dict.fromkeys((*words, *known))), unit=row.unit))
    return SymbolTable((*entries, *extra))


def _library(row: Letter) -> tuple[str, ...]:
    return tuple(dict.fromkeys(w for kind in kinds_of(row.symbol, row.dimensions) for w in kind.words))
