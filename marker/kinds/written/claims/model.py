"""What is claimed: one thing said, and all things said in a text."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from marker.kinds.written.claims.segments import NAMING, Segment
from marker.kinds.written.claims.thesaurus import Sense
from marker.kinds.written.claims.tokens import Token


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """One thing said.

    kind    "way", "act", "compare" or "is"
    way     of a way or a comparison;  senses  of an act, with signs as said;  sign  -1 when a bare statement denies its words
    named   the quantity a word like "faster" names itself
    heads   what a way is about: one of these;  words  all families named in the segment;  left, right  of a comparison
    being   "become" or "stay", where it is said to come to be or to go on being so
    echo    what the actions named in the segment say besides: what leaves is emitted, and passes
    carried words of the segment before, for what is left out or said as it, they, this
    """

    kind: str
    way: str = ""
    senses: tuple[Sense, ...] = ()
    sign: int = 1
    heads: frozenset[str] = frozenset()
    words: frozenset[str] = frozenset()
    left: frozenset[str] = frozenset()
    right: frozenset[str] = frozenset()
    carried: frozenset[str] = frozenset()
    carried_heads: frozenset[str] = frozenset()
    condition: bool = False
    denies: bool = False
    level: bool = False
    borrowed: bool = False
    attribute: bool = False
    named: frozenset[str] = frozenset()
    subject: frozenset[str] = frozenset()
    headless: bool = False
    being: str = ""
    echo: frozenset[str] = frozenset()
    segment: int = 0
    tokens: tuple[Token, ...] = field(default=(), compare=False)

    @property
    def families(self) -> frozenset[str]:
        """All families it names."""
        return self.words | self.heads | frozenset(s for s, _ in self.senses)


@dataclass(frozen=True, slots=True, kw_only=True)
class Claims:
    """All claims of a text, with its segments for quoting and for what was not understood."""

    claims: tuple[Claim, ...]
    segments: tuple[Segment, ...]

    def of(self, segment: int) -> tuple[Claim, ...]:
        return tuple(c for c in self.claims if c.segment == segment)


def families(row: Iterable[Token]) -> list[str]:
    """The families tokens name, words of degree and sentence-making left out."""
    named = (t for t in row if t.kind in NAMING or t.kind == "light")
    return [s for t in named for s, _ in (t.senses[:1] if t.kind == "act" else t.senses)]
