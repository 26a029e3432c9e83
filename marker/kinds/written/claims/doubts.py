"""What makes it unsafe to say that an idea is said though a wording was found: each doubt sends the idea to a person."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from marker.kinds.written.claims.model import Claims
from marker.kinds.written.claims.score import Met, best, telling_words
from marker.kinds.written.claims.wanted import Sample

_FULLY = 0.9
_NEARLY = 0.75
_MISSED = 2


def doubt(found: Met, against: Sequence[Sample], said: Claims) -> bool:
    """Whether what was found of a wording is no clear evidence. against: the wordings that cancel the idea."""
    return any(unsafe(found, against, said) for unsafe in _DOUBTS)


def _by_half(found: Met, _: Sequence[Sample], __: Claims) -> bool:
    """Words of the wording that the question does not have are missing, and little of it is said."""
    return found.share < _FULLY and not found.whole


def _bare(found: Met, _: Sequence[Sample], __: Claims) -> bool:
    """No word of it is new to the question, and two of those it takes from there are missing: "smoke bumps into smoke"."""
    own = telling_words(found.sample.families) - _given(found)
    missing = found.missing & _given(found)
    return not own & found.words and len(missing) >= _MISSED


def _as_near_to_wrong(found: Met, against: Sequence[Sample], said: Claims) -> bool:
    """The same statement comes near a wording that cancels the idea, and lacks a word of the one that earns it."""
    other = best(against, said)
    return other is not None and other.share >= _NEARLY and not found.complete and bool(other.core & found.core)


def _given(found: Met) -> frozenset[str]:
    return frozenset(g for w in found.sample.wanted for g in w.stem)


_DOUBTS: tuple[Callable[[Met, Sequence[Sample], Claims], bool], ...] = (_by_half, _bare, _as_near_to_wrong)
