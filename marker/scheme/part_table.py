"""The letters and words a candidate may use in a part."""

from __future__ import annotations

from collections.abc import Mapping

from marker.expression import Dimensions, Unit
from marker.physics.system import System
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.calculation import CalculationPart
from marker.scheme.compiled import Datum
from marker.scheme.lexicon import constants, kinds_of


def table_of(
    spec: CalculationPart,
    system: System,
    data: Mapping[str, Datum],
    dimensions: Mapping[str, Dimensions | None],
    angles: frozenset[str],
    units: Mapping[str, Unit | None],
) -> SymbolTable:
    """Letters and words for every quantity: the scheme's own first, then those the library knows, where they clash with nothing."""
    taken = {n.casefold() for n in system.base}
    own: dict[str, list[str]] = {n: [] for n in system.base}
    words: dict[str, list[str]] = {n: [] for n in system.base}
    for name, given in spec.names.items():
        if name not in own:
            continue
        for text in given:
            (own if len(text) <= 3 and " " not in text else words)[name].append(text)
    candidates: dict[str, list[str]] = {}
    word_owners: dict[str, set[str]] = {}
    for name in system.base:
        for kind in kinds_of(name, dimensions.get(name)):
            for letter in kind.letters:
                if len(letter) > 1:
                    candidates.setdefault(letter, []).append(name)
            for word in kind.words:
                word_owners.setdefault(word, set()).add(name)
    for letter, names in candidates.items():
        if len(set(names)) == 1 and letter.casefold() not in taken and not any(letter in o for o in own.values()):
            own[names[0]].append(letter)
    for word, names_ in word_owners.items():
        if len(names_) == 1:
            words[next(iter(names_))].append(word)
    by_symbol = {c.symbol: c for c in constants()}
    entries = []
    for name in system.base:
        constant = by_symbol.get(name) if name in data and data[name].constant else None
        if constant is not None:
            words[name].extend(w for w in constant.words if w not in word_owners)
        unit = units.get(name)
        entries.append(
            SymbolEntry(
                name=name,
                spellings=tuple(dict.fromkeys(own[name])),
                names=tuple(dict.fromkeys(words[name])),
                unit=unit.name if unit else "",
                angle=name in angles,
                constant=constant is not None,
            )
        )
    return SymbolTable(tuple(entries))
