"""A segment as claims: each change, comparison or action with what it is about, its sign and the words beside it.

"steel absorbs alpha", "alpha is absorbed by steel"     act absorb (so not pass) of {alpha, steel}
"low current", "reduces the current", "the current is small"    way down, of current
"no radiation gets to the detector"                     act reach, denied, of {radiation, detector}
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from marker.kinds.written.claims.binding import left_names
from marker.kinds.written.claims.context import in_context
from marker.kinds.written.claims.denials import denials
from marker.kinds.written.claims.model import Claim, Claims, families
from marker.kinds.written.claims.segments import NAMING, Segment, segments
from marker.kinds.written.claims.thesaurus import Sense, thesaurus
from marker.kinds.written.claims.tokens import Speech, Token, tokens
from marker.kinds.written.claims.ways import compared, comparison, levels, lost, of_named_way, way_claim

_STANDING_IN = frozenset(("each", "one", "both"))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Before:
    """What the segment before leaves to the next; `own` are the heads of that segment itself, without what it took over."""

    words: frozenset[str] = frozenset()
    heads: frozenset[str] = frozenset()
    subject: frozenset[str] = frozenset()
    own: frozenset[str] = frozenset()


@lru_cache(maxsize=20_000)
def claims(lines: tuple[str, ...], speech: Speech) -> Claims:
    """The claims of typed lines in order."""
    made: list[Claim] = []
    cut = segments(in_context(tokens(lines, speech)))
    before = _Before()
    for number, segment in enumerate(cut):
        spoken_of = (
            before if segment.opens != "join" or any(t.kind == "pronoun" for t in segment.tokens) else replace(before, heads=before.own)
        )
        here = [replace(c, segment=number, condition=c.condition or segment.opens == "condition") for c in _of(segment, spoken_of)]
        made += here
        after = _left(segment, here, before)
        before = _both(before, after) if segment.opens == "condition" else after
    return Claims(claims=tuple(made), segments=cut)


def _both(a: _Before, b: _Before) -> _Before:
    """After a condition, it and this may stand for something in it or for what was spoken of before."""
    return _Before(words=a.words | b.words, heads=a.heads | b.heads, subject=b.subject, own=b.own)


def _left(segment: Segment, here: Sequence[Claim], before: _Before) -> _Before:
    words = frozenset(families(segment.tokens))
    if not words:
        return before
    heads = frozenset(h for c in here for h in (*c.heads, *(s for s, _ in c.senses))) | frozenset(
        left_names(segment.tokens, len(segment.tokens))
    )
    named = frozenset(_subject(segment.tokens))
    subject = named or before.subject
    return _Before(words=words | subject, heads=heads | subject, subject=subject, own=heads | named)


def _subject(row: Sequence[Token]) -> list[str]:
    """What a statement begins with: its first run of names that does not hang on a preposition."""
    run: list[str] = []
    hangs = False
    for token in row:
        if token.kind in ("thing", "letters", "word"):
            if not hangs:
                run += [s for s, _ in token.senses]
        elif run and token.kind != "number":
            break
        elif token.kind != "way":
            hangs = token.kind == "preposition" or (hangs and token.kind == "article")
    return run


def _of(segment: Segment, before: _Before) -> list[Claim]:
    """All claims of one segment; a mere statement of its words where it has no other."""
    row = segment.tokens
    denied, bare = denials(segment)
    base = _base(row, before)
    found = _ways(base, row, denied)
    found += _acts(base, row, denied, found)
    if bare:
        found.append(replace(base, sign=-1, words=frozenset(bare), heads=frozenset(bare[-1:])))
    return found or ([base] if base.words else [])


def _base(row: Sequence[Token], before: _Before) -> Claim:
    named = frozenset(_subject(_up_to_saying(row))) - _STANDING_IN
    return Claim(
        kind="is",
        words=frozenset(families(row)),
        echo=frozenset(s for t in row if t.kind == "act" for s, sign in t.senses if sign == t.senses[0][1]),
        being=_being(row),
        denies=any(t.kind in ("not", "no") for t in row),
        carried=frozenset() if named and not any(t.kind == "pronoun" for t in row) else before.words,
        carried_heads=before.heads,
        subject=named or before.subject,
        headless=not named,
        tokens=tuple(row),
    )


def _being(row: Sequence[Token]) -> str:
    """ "Stays in the trough" is not "is in the trough", nor "becomes polarised" "is polarised"."""
    words = [t.typed.lower() for t in row if t.kind == "be"]
    return next((name for name, forms in thesaurus().being.items() if any(w in forms for w in words)), "")


def _ways(base: Claim, row: Sequence[Token], denied: set[int]) -> list[Claim]:
    """Comparisons, changes and sizes."""
    found = [comparison(base, row, n, n in denied) for n in range(len(row)) if _compares(row, n)]
    than = compared(base, row)
    for n, token in enumerate(row):
        if token.kind in ("way", "named way") and not of_named_way(row, n):
            level = than is not None or bool(levels() & {token.text, *token.text.split()})
            found.append(replace(way_claim(base, row, n, n in denied), level=level, attribute=_attribute(row, n)))
    return found + ([than] if than is not None else [])


def _attribute(row: Sequence[Token], n: int) -> bool:
    """A word that only describes who acts: "the fastest molecules leave"."""
    named = n + 1 < len(row) and row[n + 1].kind in ("thing", "word", "letters")
    return named and any(t.kind == "act" and t.concept not in ("lose", "gain") for t in row[n + 2 :])


def _compares(row: Sequence[Token], n: int) -> bool:
    token = row[n]
    return (token.kind == "compare" and not (token.way == "equal" and n + 1 == len(row))) or (token.kind == "sign" and token.text == "=")


def _acts(base: Claim, row: Sequence[Token], denied: set[int], found: Sequence[Claim]) -> list[Claim]:
    """Actions with their signs; what is lost is less, what is gained more. "Less penetrating" says not that it penetrates."""
    bound = frozenset(h for c in found for h in c.heads)
    made: list[Claim] = []
    for n, token in enumerate(row):
        lessened = n > 0 and row[n - 1].kind == "way" and row[n - 1].way == "down" and "adjective" in row[n - 1].forms
        if token.kind != "act" or lessened:
            continue
        senses, own = _signed(token.senses, n in denied), token.senses[0][0]
        if own in ("lose", "gain") and not any(c.kind == "way" for c in (*found, *made)):
            made.append(lost(base, row, n, senses))
        aim = any(t.text == "to" for t in row[max(0, n - 2) : n])
        made.append(replace(base, kind="act", senses=senses, words=base.words - {own}, heads=bound & {own}, condition=aim))
    return made


def _up_to_saying(row: Sequence[Token]) -> Sequence[Token]:
    """The tokens before the first verb or word of change that is not an adjective before a name."""
    for n, token in enumerate(row):
        if token.kind in ("compare", "be", "not") or (token.kind in ("way", "act") and n and row[n - 1].kind in NAMING):
            return row[:n]
    return row


def _signed(senses: Sequence[Sense], denied: bool) -> tuple[Sense, ...]:
    """Denied, a word says the contrary of what it says; what only follows from it ("absorbed", so it does not pass) falls away."""
    sign = senses[0][1]
    return tuple((s, -x) for s, x in senses if x == sign) if denied else tuple(senses)
