"""What makes it unsafe to say that an idea is said although a wording was found: such an idea goes to a person."""

from __future__ import annotations

from marker.kinds.written.claims.model import Claims
from marker.kinds.written.claims.score import Met, telling_words

_MISSED = 2


def bare(found: Met, said: Claims) -> bool:
    """Whether no word of the wording is new to the question, and two of those it takes from there are missing: "smoke bumps into smoke"."""
    given = frozenset(g for w in found.sample.wanted for g in w.stem)
    own = telling_words(found.sample.families) - given
    sentences = {said.segments[n].sentence for n in found.core}
    beside = {f for c in said.claims if said.segments[c.segment].sentence in sentences for f in (*c.words, *c.heads, *c.carried)}
    return not own & found.words and len(found.missing & given - beside) >= _MISSED
