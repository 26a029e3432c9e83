"""Letters that could be another name of a quantity, and are not in a response that uses both side by side.

F_net is a usual name of the one force of a part, F_s; in a response with the line F_net = F_s - w it is a force of its own.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from marker.reading.model import SymbolEntry, SymbolTable
from marker.reading.symbols import key_of

_NAMED = re.compile(
    r"(?<![A-Za-z\\])(?:Δ|delta ?)?[A-Za-zα-ω]"
    r"(?:_\{\w{1,12}\}|_\(\w{1,12}\)|_\w{1,12}|[a-z]{1,3}(?![A-Za-z_])|[0-9](?![0-9.,])|[₀-₉ₐ-ₜᵢ-ᵪ]{1,4})?"
)
_LONGEST = 2000


def told_apart(table: SymbolTable, lines: Sequence[str]) -> SymbolTable:
    """The table without the spellings that a line of the response sets beside the quantity's own letter. Never raises."""
    rivals = _rivals(table)
    if not rivals:
        return table
    apart: set[tuple[str, str]] = set()
    for line in lines:
        keys = {key_of(m) for m in _NAMED.findall(line[:_LONGEST])} & rivals.keys() if "=" in line else set[str]()
        for key in keys:
            others = {k for k in keys if k != key and rivals[k] == rivals[key]}
            if others and key != key_of(rivals[key]):
                apart.add((rivals[key], key))
    if not apart:
        return table
    return SymbolTable(tuple([_without(entry, apart) for entry in table.entries]))


def _without(entry: SymbolEntry, apart: set[tuple[str, str]]) -> SymbolEntry:
    kept = tuple(s for s in entry.spellings if (entry.name, key_of(s)) not in apart)
    return entry if len(kept) == len(entry.spellings) else replace(entry, spellings=kept)


@lru_cache(maxsize=512)
def _rivals(table: SymbolTable) -> Mapping[str, str]:
    """Each spelling of a quantity that has several -> the quantity."""
    return {key_of(s): e.name for e in reversed(table.entries) if e.spellings for s in (*e.spellings, e.name)}
