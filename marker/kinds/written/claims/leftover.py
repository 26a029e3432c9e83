"""What a response says besides all that the scheme accounts for: words that may be an idea put in a way nobody thought of."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from marker.kinds.written.claims.model import Claims
from marker.kinds.written.claims.nearness import Place, place
from marker.kinds.written.claims.thesaurus import thesaurus
from marker.kinds.written.claims.tokens import Token
from marker.kinds.written.claims.verdict import Wants, listed_words

_SAYING = frozenset(("way", "named way", "act", "compare", "thing", "word", "letters"))
MOST_LEFT = 2
"""With more words than this left over (a word less, where another idea is earned) that an idea is missing is for a person to say.

Of ten invented parts read for the first time (tests/kinds/written/answers_eighth.toml), 45 of 46 ideas found missing were missing up to
here, and 22 of 35 beyond.
"""


def spent(wants: Iterable[Wants], said: Claims) -> frozenset[Place]:
    """Where wordings stand that the scheme lists, for any idea, as not enough or as cancelling."""
    return frozenset(place(t) for w in wants for t in listed_words(w, said))


def left_over(said: Claims, given: Collection[str], used: Collection[Place]) -> tuple[Token, ...]:
    """The tokens that say something, are not the question's own and are not used up."""
    known = thesaurus()
    little = known.weak | known.light
    return tuple(
        t
        for s in said.segments
        for t in s.tokens
        if t.kind in _SAYING and place(t) not in used and not any(f in little or f in given for f, _ in t.senses)
    )
