"""What makes it unsafe to say that an idea is said although a wording was found: such an idea goes to a person."""

from __future__ import annotations

from marker.kinds.written.claims.model import Claims
from marker.kinds.written.claims.score import Met, telling_words

_MISSED = 2


def bare(found: Met, said: Claims) -> bool:
    """Whether two of the wording's words that the question has too are missing, and it is said of other things: "smoke bumps into smoke".

    "Directly proportional" alone leaves the question's words out, as one does.
    """
    given = frozenset(g for w in found.sample.wanted for g in w.stem)
    own = telling_words(found.sample.families) - given
    sentences = {said.segments[n].sentence for n in found.core}
    beside = {f for c in said.claims if said.segments[c.segment].sentence in sentences for f in (*c.words, *c.heads, *c.carried)}
    says = found.words | {s for c in found.by for s, _ in c.senses}
    named = telling_words(f for c in found.by if c.kind == "act" for f in c.words)
    return len(found.missing & given - beside) >= _MISSED and (not own & says or bool(named))
