"""What of a response is left over that may be the idea in other words: how near it comes to any of the wordings."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from marker.kinds.written.claims.model import Claims
from marker.kinds.written.claims.score import telling_words
from marker.kinds.written.claims.segments import NAMING
from marker.kinds.written.claims.thesaurus import thesaurus
from marker.kinds.written.claims.tokens import Token
from marker.kinds.written.claims.wanted import Sample

Place = tuple[int, tuple[int, int]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Near:
    """share  of the words of one wording, those of the question left out, that are left over;  tokens  those that name them

    strange  words left over that neither the question, the scheme nor physics uses
    """

    share: float = 0.0
    hits: int = 0
    tokens: tuple[Token, ...] = ()
    strange: int = 0


def place(token: Token) -> Place:
    return (token.line, token.at)


def nearness(samples: Sequence[Sample], given: frozenset[str], said: Claims, spent: Iterable[Token], passed: Collection[int]) -> Near:
    """spent: tokens that a listed wording has used up;  passed: segments that other ideas have used up."""
    used = {place(t) for t in spent}
    left = [t for n, s in enumerate(said.segments) if n not in passed for t in s.tokens if t.kind in NAMING and place(t) not in used]
    here = frozenset(f for t in left for f, _ in t.senses)
    kin = thesaurus().kin
    best: tuple[float, frozenset[str]] = (0.0, frozenset())
    for sample in samples:
        words = telling_words(sample.families) - given
        hits = frozenset(w for w in words if w in here or kin.get(w, frozenset()) & (here - given))
        best = max(best, (len(hits) / len(words) if words else 0.0, hits), key=lambda b: (b[0], len(b[1])))
    share, hits = best
    told = hits.union(*(kin.get(h, frozenset()) for h in hits))
    tokens = tuple(t for t in left if any(f in told for f, _ in t.senses))
    strange = sum(t.kind == "word" and not any(f in given for f, _ in t.senses) for t in left)
    return Near(share=share, hits=len(hits), tokens=tokens, strange=strange)
