"""What the shape of a part's relationships says of its quantities: a letter that only restates another, a change of two of a kind."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from functools import lru_cache

from marker.physics.evaluate import same_dimensions
from marker.scheme.compiled import CompiledCalculation


@lru_cache(maxsize=256)
def restatements(part: CompiledCalculation) -> tuple[tuple[int, frozenset[str]], ...]:
    """Relationships of two letters alone, with their index: d = 2r, f = 1/T, A = πr². The one value gives the other."""
    pairs = ((r, relation.letters - {"π"}) for r, relation in enumerate(part.system.relations))
    return tuple((r, pair) for r, pair in pairs if len(pair) == 2)


def other_of(part: CompiledCalculation, symbol: str) -> Iterator[tuple[int, str]]:
    """The letters that a definition without a mark makes of this one alone, each with the index of the definition."""
    for r, pair in restatements(part):
        if r in part.helpers and symbol in pair:
            yield r, next(iter(pair - {symbol}))


@lru_cache(maxsize=256)
def changes(part: CompiledCalculation) -> tuple[tuple[int, frozenset[str]], ...]:
    """Relationships of three letters of one kind, with their index: ΔT = T₂ − T₁, V = E − V_r."""
    out = []
    for r, relation in enumerate(part.system.relations):
        first, *others = (part.dimensions.get(n) for n in sorted(relation.letters))
        if len(others) == 2 and first is not None and all(same_dimensions(first, d) for d in others):
            out.append((r, relation.letters))
    return tuple(out)


def with_restatements(part: CompiledCalculation, letters: Collection[str]) -> frozenset[str]:
    """The letters, and those that a definition without a mark makes of one of them: with r also d = 2r, with T also f = 1/T."""
    return frozenset(letters).union(*({other for _, other in other_of(part, n)} for n in letters))
