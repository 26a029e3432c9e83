"""What makes it unsafe to say that an idea is said though a wording was found: each doubt sends the idea to a person."""

from __future__ import annotations

from collections.abc import Callable

from marker.kinds.written.claims.model import Claims
from marker.kinds.written.claims.score import Met, telling_words

_MISSED = 2


def doubt(found: Met, said: Claims) -> bool:
    """Whether what was found of a wording is no clear evidence."""
    return any(unsafe(found, said) for unsafe in _DOUBTS)


def _bare(found: Met, said: Claims) -> bool:
    """No word of it is new to the question, and two of those it takes from there are missing: "smoke bumps into smoke"."""
    own = telling_words(found.sample.families) - _given(found)
    sentences = {said.segments[n].sentence for n in found.core}
    beside = {f for c in said.claims if said.segments[c.segment].sentence in sentences for f in (*c.words, *c.heads, *c.carried)}
    missing = found.missing & _given(found) - beside
    return not own & found.words and len(missing) >= _MISSED


def _given(found: Met) -> frozenset[str]:
    return frozenset(g for w in found.sample.wanted for g in w.stem)


_DOUBTS: tuple[Callable[[Met, Claims], bool], ...] = (_bare,)
