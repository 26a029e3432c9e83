"""What a scheme's wordings want: each wording as claims, with the weight of every word in them.

A word the question has said already need not be said again; nor one that the other wordings of the same thing leave out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from marker.kinds.written.claims.claims import claims
from marker.kinds.written.claims.entail import agree, one_way
from marker.kinds.written.claims.model import Claim, Claims
from marker.kinds.written.claims.thesaurus import thesaurus
from marker.kinds.written.claims.tokens import Speech

_CONDITION = 0.15
_OPTIONAL = 0.25
_NUMBER = 0.7
_GIVEN_LISTED = 0.5
_QUANTIFYING = frozenset(("all", "both", "only", "any", "every"))
_WEIGHTS = {**dict.fromkeys(("one", "each", "single", "individual", "another"), 0.3), "resultant": 0.6, "move": 0.4, "take": 0.3}


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """One claim of a wording: its weight among them, and the weight of each word it should be said with.

    given  words of it that the question names;  stem  all the question's words;  elsewhere  other things the question names
    earning  it is one of the wordings that earn the idea
    """

    claim: Claim
    weight: float
    words: tuple[tuple[str, float], ...]
    given: frozenset[str]
    stem: frozenset[str]
    elsewhere: frozenset[str]
    earning: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """A wording of the scheme."""

    text: str
    wanted: tuple[Wanted, ...]

    @property
    def families(self) -> frozenset[str]:
        claims = [w.claim for w in self.wanted]
        return frozenset(f for c in claims for f in (*c.words, *c.heads, *(s for s, _ in c.senses)))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Setting:
    """What a wording is weighed against: the other wordings of its idea (None where all words count), and what the question says.

    needed  the wording has no words but the question's, which then count
    given  words of the question;  elsewhere  things it names that no wording of the idea does
    """

    others: Sequence[Claims] | None
    stem: Claims
    given: frozenset[str]
    elsewhere: frozenset[str]
    needed: bool = False


def samples(texts: Sequence[str], stem: Claims, speech: Speech, earning: bool = True) -> tuple[Sample, ...]:
    """The wordings of one idea; those that earn it are weighed beside each other, of the others (earning = False) all words count."""
    read = [claims((t,), speech) for t in texts]
    given = frozenset(w for c in stem.claims for w in c.words)
    things = frozenset(s for g in stem.segments for t in g.tokens if t.kind in ("thing", "word") for s, _ in t.senses)
    elsewhere = things - {w for r in read for c in r.claims for w in c.words | c.heads} - thesaurus().weak
    return tuple(
        _sample(t, r, _Setting(others=[o for o in read if o is not r] if earning else None, stem=stem, given=given, elsewhere=elsewhere))
        for t, r in zip(texts, read, strict=True)
    )


def _sample(text: str, read: Claims, setting: _Setting) -> Sample:
    parts = _without_doubles(read.claims)
    plain = [c for c in parts if not c.condition and not (setting.others is not None and _stated(c, setting.stem))]
    named = {f for c in parts for f in (*c.words, *c.heads, *(s for s, _ in c.senses))} - thesaurus().weak - thesaurus().light
    if named <= setting.given:
        setting = replace(setting, needed=True)
    return Sample(text=text, wanted=tuple(_wanted(c, parts, plain, setting) for c in parts))


def _wanted(claim: Claim, parts: Sequence[Claim], plain: Sequence[Claim], setting: _Setting) -> Wanted:
    aim = claim.condition and any(c is not claim and c.segment == claim.segment and not c.condition for c in parts)
    weight = 1.0 if claim in plain or not plain else _CONDITION if not (aim or _stated(claim, setting.stem)) else 0.0
    named = claim.words | claim.left | claim.right
    return Wanted(
        claim=claim,
        weight=weight,
        words=_words(claim, setting),
        given=named & setting.given,
        stem=setting.given,
        elsewhere=setting.elsewhere,
        earning=setting.others is not None,
    )


def _without_doubles(parts: Iterable[Claim]) -> list[Claim]:
    """Where a way is said of an action ("collide more often"), the action alone is not wanted besides; nor the way where it is compared."""
    row = list(parts)
    compared = {c.segment for c in row if c.kind == "compare"}
    row = [c for c in row if not (c.kind == "way" and c.segment in compared and len(row) > 1)]
    ways = [c for c in row if c.kind == "way"]
    row = [c for c in row if not (c.kind == "act" and any(w.segment == c.segment and _covers(w, c) for w in ways))]
    return [c for c in row if not (_moves(c) and any(o is not c and o.segment == c.segment for o in row))]


def _moves(claim: Claim) -> bool:
    return claim.kind == "act" and claim.senses[0][0] in ("move", "take")


def _covers(way: Claim, act: Claim) -> bool:
    return bool(way.heads & {s for s, _ in act.senses}) or act.senses[0][0] in ("lose", "gain", "form", "induce", "transfer")


def _stated(claim: Claim, stem: Claims) -> bool:
    """What the question itself says."""
    known = thesaurus()
    named = claim.heads | (claim.words - known.weak - known.light)
    here = frozenset(w for c in stem.claims for w in c.words)
    return named <= here and any(agree(c, claim) and claim.heads <= c.heads | c.words for c in stem.claims if c.kind in ("way", "act"))


def _words(claim: Claim, setting: _Setting) -> tuple[tuple[str, float], ...]:
    known, others, given = thesaurus(), setting.others, setting.given
    alike = [o for read in others or () for o in _without_doubles(read.claims) if one_way(o, claim) and not o.condition]
    weights = {}
    own = claim.left | claim.right if claim.kind == "compare" else claim.words
    for word in own - claim.heads:
        if word != "number" and (word in known.weak or word in known.light):
            weights[word] = 0.4 if word in _QUANTIFYING and others is None else 0.0
        elif word == "number":
            weights[word] = _NUMBER
        elif word in given:
            weights[word] = 0.0 if others is not None and not (setting.needed and claim.kind in ("way", "act")) else _GIVEN_LISTED
        elif any(word not in o.words | o.heads for o in alike):
            weights[word] = _OPTIONAL
        else:
            weights[word] = _WEIGHTS.get(word, 1.0)
    if claim.kind in ("is", "compare") and not any(weights.values()) and not claim.heads:
        weights = dict.fromkeys(weights, 1.0)
    elif claim.kind == "is" and others is None and all(w in given for w, x in weights.items() if x):
        weights = {w: x or 1.0 for w, x in weights.items()}
    return tuple(sorted(weights.items()))
