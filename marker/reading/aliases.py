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


def indices_exchanged(table: SymbolTable, lines: Sequence[str]) -> SymbolTable | None:
    """The table with 1 and 2 exchanged in its spellings, for a candidate who counts the other way than the scheme: V1/V2 = R1/R2.

    None where the response has no letter with both indices that are two other spellings of quantities.
    """
    pairs = _by_index(table)
    if not pairs or not any("1" in line or "₁" in line for line in lines):
        return None
    used = {key_of(m) for line in lines for m in _NAMED.findall(line[:_LONGEST])}
    if not any({stem + "1", stem + "2"} <= used for stem in pairs):
        return None
    return SymbolTable(tuple([replace(e, spellings=tuple([_turned(s) for s in e.spellings])) for e in table.entries]))


@lru_cache(maxsize=512)
def _by_index(table: SymbolTable) -> frozenset[str]:
    """Letters that stand with 1 and with 2 among the spellings of two quantities, V1 for V_R and V2 for V_T; not V_1 and V_2 by name."""
    own = {key_of(e.name).lower() for e in table.entries}
    meant = {key_of(s): e.name for e in table.entries for s in e.spellings}
    both = {key[:-1] for key in meant if key[-1:] == "1" and meant.get(key[:-1] + "2", meant[key]) != meant[key]}
    return frozenset(stem for stem in both if not {stem.lower() + "1", stem.lower() + "2"} & own)


def _turned(spelling: str) -> str:
    key = key_of(spelling)
    return key[:-1] + {"1": "2", "2": "1"}[key[-1]] if key[-1:] in ("1", "2") and len(key) > 1 else spelling
