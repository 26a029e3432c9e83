"""How much of a wording a response says, claim by claim, 0 to 1, and whether it says the contrary."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from marker.frozen import frozen
from marker.kinds.written.claims.entail import agree, opposed, rival
from marker.kinds.written.claims.model import Claim, Claims
from marker.kinds.written.claims.thesaurus import thesaurus
from marker.kinds.written.claims.tokens import Token
from marker.kinds.written.claims.wanted import Sample, Wanted

_CORE = 1.5
_GIVEN_CORE = 0.3
_ELSEWHERE = 0.8
_CARRIED = 0.9
_THERE = 0.9
_COMING_TO_BE = frozenset((("induce", 1), ("form", 1), ("flow", 1)))
"""Actions that only bring about what is named: "so there is an e.m.f." says that one is induced."""
_MOVING = frozenset(("move", "take"))
"""Actions that "speeds up" and "slows down" say by themselves."""
_WHOLE = 0.99
_PART = 0.65


@frozen
class Met:
    """How far one wording is said: `share` 0 to 1, by these claims; `words` of the wording that were found, `missing` those that were not.

    core  segments of the claims that say it, those of mere conditions left out
    """

    sample: Sample
    share: float
    by: tuple[Claim, ...] = ()
    core: frozenset[int] = frozenset()
    words: frozenset[str] = frozenset()
    missing: frozenset[str] = frozenset()
    exact: int = 0
    order: float = 0.0
    literal: int = 0

    @property
    def rank(self) -> tuple[float, int, int, float, int, int]:
        """Which of two wordings is said more fully and more nearly in its own words and order."""
        return (round(self.share, 2), len(self.words), self.exact, self.order, self.literal, -len(self.missing))

    @property
    def whole(self) -> bool:
        """Whether none of the wording's words is missing, those of the question and those that little hangs on left out."""
        return self.missing <= frozenset(g for w in self.sample.wanted for g in w.stem)

    @property
    def complete(self) -> bool:
        """Whether none of its words is missing at all."""
        told = self.words | {f for c in self.by for f in (*c.carried, *(s for s, _ in c.senses))}
        return telling_words(self.sample.families) <= told

def best(samples: Sequence[Sample], said: Claims) -> Met | None:
    """The wording that is said most fully; of equals the one with more words found."""
    found = [met(s, said) for s in samples if s.wanted]
    return max(found, key=lambda m: m.rank, default=None)


def met(sample: Sample, said: Claims) -> Met:
    total = sum(w.weight for w in sample.wanted)
    share = least = 0.0
    by: list[Claim] = []
    core: set[int] = set()
    words: set[str] = set()
    for wanted in sample.wanted:
        value, claim, found = _nearest(wanted, said)
        if wanted.weight:
            share += wanted.weight * value
            words |= found
            if value >= _WHOLE and wanted.weight >= 1 and (wanted.claim.words | wanted.claim.heads) - wanted.given:
                least = _PART
            if claim is not None and value > 0.4:
                by.append(claim)
                core |= {claim.segment} if wanted.weight >= 1 else set()
    claims = tuple(dict.fromkeys(by))
    exact = sum(any(c.way == w.claim.way and c.kind == w.claim.kind for c in claims) for w in sample.wanted)
    whole = max(least, share / total) if total else 0.0
    return Met(
        sample=sample, share=whole, by=claims, core=frozenset(core), words=frozenset(words), missing=_missing(sample, claims) - words,
        exact=exact, order=_order(sample, claims), literal=_literal(sample, claims),
    )  # fmt: skip


def _missing(sample: Sample, by: Sequence[Claim]) -> frozenset[str]:
    """Words of a wording, its mere conditions left out, that are neither said nor carried over by what says it."""
    main = (w.claim for w in sample.wanted if w.weight >= 1)
    return telling_words(f for c in main for f in c.families) - {f for c in by for f in (*c.carried, *(s for s, _ in c.senses))}


def beside(found: Met, said: Claims) -> tuple[Claim, ...]:
    """All claims of a response that a wording has too, those that count for nothing included."""
    nearest = (_nearest(w, said) for w in found.sample.wanted)
    return tuple(c for value, c, _ in nearest if c is not None and value > 0.4)


def telling_words(of: Iterable[str]) -> frozenset[str]:
    """Families that say something: not those that only add degree, place or number."""
    known = thesaurus()
    return frozenset(f for f in of if f not in known.weak and f not in known.light and not f.startswith("n:"))


def _literal(sample: Sample, by: Sequence[Claim]) -> int:
    """How many words of the wording are used as they stand in it."""
    wanted, said = (
        {t.text for c in row for t in c.tokens if t.kind not in ("article", "be", "preposition", "pronoun")}
        for row in ([w.claim for w in sample.wanted], by)
    )
    return len(wanted & said)


def _order(sample: Sample, by: Sequence[Claim]) -> float:
    """How far the words come in the wording's order: the longest run of them in common, as a share of the wording's words."""
    wanted = [f for s in dict.fromkeys(w.claim.tokens for w in sample.wanted) for f in sequence(s)]
    said = [f for s in dict.fromkeys(c.tokens for c in by) for f in sequence(s)]
    row = [0] * (len(said) + 1)
    for a in wanted:
        before = 0
        for k, b in enumerate(said, 1):
            before, row[k] = row[k], before + 1 if a == b else max(row[k], row[k - 1])
    return row[-1] / len(wanted) if wanted else 0.0


def sequence(row: Sequence[Token]) -> list[str]:
    return [t.way or t.concept for t in row if t.kind not in ("article", "be", "stop", "comma")]


def _nearest(wanted: Wanted, said: Claims) -> tuple[float, Claim | None, frozenset[str]]:
    scored = [(*_said(wanted, c, said), c) for c in said.claims]
    if not scored:
        return 0.0, None, frozenset()
    value, found, claim = max(scored, key=lambda s: s[0])
    return value, claim, found


def _said(wanted: Wanted, claim: Claim, said: Claims) -> tuple[float, frozenset[str]]:
    """How far one claim says a wanted one, and the words it says it with."""
    want = wanted.claim
    if not wanted.earning and want.being and want.kind in ("is", "act") and claim.being != want.being:
        return 0.0, frozenset()
    if want.kind == "is":
        return _mere(wanted, claim)
    if want.kind == "compare":
        return _compared(wanted, claim)
    if want.kind == "act" and claim.kind == "is" and want.senses[0] in _COMING_TO_BE:
        value, found = _words(wanted, claim, want.words)
        there = claim.sign > 0 and not claim.denies and bool(found & want.words)
        return (_THERE * value, found) if there else (0.0, frozenset())
    if not agree(claim, want) or not about(claim, want, wanted.given):
        return 0.0, frozenset()
    if wanted.weight >= 1 and claim.condition and not wanted.earning and not want.condition:
        return 0.0, frozenset()
    if want.way == "changing" != claim.way and not wanted.earning:
        return 0.0, frozenset()
    return _words(wanted, claim, want.words)


def about(claim: Claim, want: Claim, given: frozenset[str]) -> bool:
    """Whether a way is said of the wanted thing; what is left out may be what was spoken of before, or what the question named."""
    if want.kind != "way":
        return True
    if want.heads & claim.heads:
        return not (want.named and claim.named) or _same_doing(claim, want)
    if claim.heads:
        return False
    alone = not claim.words - thesaurus().light - thesaurus().weak
    return bool(claim.carried_heads & want.heads) or (alone and want.heads <= given)


def _same_doing(claim: Claim, want: Claim) -> bool:
    """Of words that name a quantity and its way the action counts too: "cut faster" is not "spins faster"."""
    own, other = want.heads - want.named, claim.heads - claim.named
    if not other and own <= _MOVING:
        return True
    return not own or bool(own & (other | (claim.words if not other else frozenset())))


def _words(wanted: Wanted, claim: Claim, own: frozenset[str]) -> tuple[float, frozenset[str]]:
    here = claim.words | claim.heads | (claim.echo & own)
    if rival(here | claim.carried, own | wanted.claim.heads):
        return 0.0, frozenset()
    core = _GIVEN_CORE if wanted.claim.kind == "act" and wanted.claim.senses[0][0] in wanted.stem else _CORE
    total, got, found = core, core, set(here & (own | wanted.claim.heads))
    unnamed = wanted.earning and claim.headless
    for word, weight in wanted.words:
        total += weight
        if word in here:
            got += weight
        elif word in claim.carried | claim.carried_heads | claim.subject or (unnamed and word in wanted.claim.subject):
            got += weight * _CARRIED
    elsewhere = _ELSEWHERE if of_another(wanted, claim) else 1.0
    return elsewhere * got / total, frozenset(found)


def of_another(wanted: Wanted, claim: Claim) -> bool:
    """Whether it is said of another thing the question names: "across the thermistor" where "across the fixed resistor" is wanted."""
    want, here = wanted.claim, claim.words | claim.heads
    missing = (wanted.given & want.words) - here - want.heads
    return bool(missing) and bool(here & wanted.elsewhere)


def _mere(wanted: Wanted, claim: Claim) -> tuple[float, frozenset[str]]:
    """Words said together in one segment, none of them denied where the wording does not."""
    want = wanted.claim
    if want.sign < 0 and not (claim.kind == "is" and claim.sign < 0):
        return 0.0, frozenset()
    if want.sign > 0 and (claim.sign < 0 or claim.denies):
        return 0.0, frozenset()
    here = claim.words | claim.heads | {s for s, sign in claim.senses if sign > 0}
    if rival(here, want.words):
        return 0.0, frozenset()
    total = got = 0.0
    for word, weight in wanted.words:
        total += weight
        got += weight if word in here else weight * 0.5 if word in claim.carried else 0.0
    if want.heads & here and want.sign < 0:
        total, got = total + 1, got + 1
    elif want.sign < 0 and want.heads:
        total += 1
    return (got / total if total else 0.0), frozenset(here & (want.words | want.heads))


def _compared(wanted: Wanted, claim: Claim) -> tuple[float, frozenset[str]]:
    """Each side of a comparison on its side, or both exchanged with the comparison turned."""
    want = wanted.claim
    if claim.kind != "compare":
        return 0.0, frozenset()
    weights = dict(wanted.words)
    value = 0.0
    for way, left, right in (
        (claim.way, claim.left, claim.right),
        ({"less": "more", "more": "less"}.get(claim.way, claim.way), claim.right, claim.left),
    ):
        if way != want.way:
            continue
        sides = [_side(want.left, left or claim.carried, weights), _side(want.right, right, weights)]
        if min(sides) == 0:
            continue
        value = max(value, (_CORE + sum(sides)) / (_CORE + 2))
    return value, frozenset((claim.left | claim.right) & (want.left | want.right))


def _side(wanted: frozenset[str], said: frozenset[str], weights: dict[str, float]) -> float:
    """How much of one side is named; something of it must be."""
    if not wanted:
        return 1.0
    if not wanted & said or rival(said, wanted):
        return 0.0
    total = sum(weights.get(w, 1.0) for w in wanted)
    return sum(weights.get(w, 1.0) for w in wanted & said) / total if total else 1.0


def contrary(samples: Sequence[Sample], said: Claims, passed: Collection[int] = ()) -> Claim | None:
    """A claim that says of the same thing the opposite of what a wording wants; None when there is none.

    passed  segments that say one of the wordings, or another idea
    """
    claims = [c for c in said.claims if c.segment not in passed and not c.condition and not c.borrowed]
    for sample in samples:
        for wanted in sample.wanted:
            if wanted.weight < 1 or wanted.claim.attribute:
                continue
            for claim in claims:
                if (opposed(claim, wanted.claim) and _same_thing(wanted, claim)) or _denied(wanted, claim):
                    return claim
    return None


def _denied(wanted: Wanted, claim: Claim) -> bool:
    """ "They are not on separate branches": all the words of a plain statement, denied."""
    want = wanted.claim
    if want.kind != "is" or want.sign < 0 or not claim.denies:
        return False
    words = {w for w, x in wanted.words if x > 0}
    return bool(words - wanted.given) and words <= claim.words


def _same_thing(wanted: Wanted, claim: Claim) -> bool:
    want = wanted.claim
    if want.kind == "is":
        return True
    if want.kind == "compare":
        return bool(want.left & claim.left and want.right & claim.right)
    if want.kind == "way" and not (claim.heads & want.heads and want.heads <= claim.heads | claim.words):
        return False
    here = claim.words | claim.heads | claim.carried
    return all(w in here for w, x in wanted.words if x > 0) and not here & wanted.elsewhere and not rival(here, want.words | want.heads)
