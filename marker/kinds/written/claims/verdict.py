"""From claims to a finding on one idea: earned, against it, not enough, not said, or for a person."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field, replace

from marker.kinds.written.claims.doubts import bare
from marker.kinds.written.claims.entail import agree
from marker.kinds.written.claims.model import Claim, Claims
from marker.kinds.written.claims.nearness import Near, Place, nearness, place
from marker.kinds.written.claims.score import Met, beside, best, contrary, met
from marker.kinds.written.claims.segments import NAMING
from marker.kinds.written.claims.thesaurus import thesaurus
from marker.kinds.written.claims.tokens import Token
from marker.kinds.written.claims.wanted import Sample, Wanted

EARNED = 0.84
UNSURE = 0.6
_LISTED = 0.9
_AGAINST = 0.3
"""How likely an idea is said where something else in the response contradicts it."""
_LONGEST_QUOTE = 90


@dataclass(frozen=True, slots=True, kw_only=True)
class Wants:
    """The wordings of one idea as claims. `families`: all words of its wordings; `given`: those of the question."""

    says: tuple[Sample, ...]
    not_enough: tuple[Sample, ...]
    contradicts: tuple[Sample, ...]
    given: frozenset[str]
    known: frozenset[str]

    @property
    def families(self) -> frozenset[str]:
        return frozenset(f for s in self.says for f in s.families)

    @property
    def wanted(self) -> tuple[Wanted, ...]:
        return tuple(w for s in self.says for w in s.wanted)


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """What was heard of an idea.

    code  "said", "contradicted", "not enough", "unsure", "touched" (it may be meant in other words) or "not said"
    share  how much of a wording is said, 0 to 1
    tokens  that say it;  against, clash  what contradicts it, by a listed wording or by the opposite
    segments  where it is said;  near  what is left over
    doubtful  what is found is no clear evidence;  complete  no word of the wording is missing;  told  places of its words
    """

    code: str
    share: float
    tokens: tuple[Token, ...] = ()
    against: tuple[Token, ...] = ()
    clash: tuple[Token, ...] = ()
    segments: frozenset[int] = frozenset()
    near: Near = field(default_factory=Near)
    doubtful: bool = False
    complete: bool = False
    told: frozenset[Place] = frozenset()


def hear(wants: Wants, said: Claims, passed: Collection[int] = ()) -> Heard:
    """What a response says of an idea. `passed`: segments that other ideas have used up."""
    against, weak = _listed(wants.contradicts, said), _listed(wants.not_enough, said)
    opposite = contrary(wants.says, said, {*passed, *_saying(wants.says, said)})
    found = _earning(wants.says, said, weak)
    if against is not None and _places(against.by) <= set(passed) - (_places(found.by) if found else frozenset()):
        against = _listed(wants.contradicts, _without(said, passed))
    if found is not None:
        opposite = opposite if opposite is not None and _of_named(opposite) else None
        if against is not None and _places(against.by) <= _places(found.by) and found.rank > against.rank:
            against = None
        against = against if against is not None and _named(against) else None
        if against is not None and not against.complete:
            opposite, against = opposite or against.by[0], None
        return Heard(
            code="said", share=found.share, tokens=telling(found), segments=found.core,
            against=telling(against) if against else (), clash=_core(opposite) if opposite else (),
            doubtful=bare(found, said), complete=found.complete, told=_told(found),
        )  # fmt: skip
    return _unsaid(wants, said, passed, (against, weak, opposite))


def _without(said: Claims, passed: Collection[int]) -> Claims:
    return said if not passed else replace(said, claims=tuple(c for c in said.claims if c.segment not in passed))


def _named(found: Met) -> bool:
    """Whether what a listed wording is said of is named, not meant by "it" or left out."""
    return all(_of_named(c) for c in found.by)


def _of_named(claim: Claim) -> bool:
    return claim.kind != "way" or bool(claim.heads & claim.words) or not claim.headless


def _earning(says: Sequence[Sample], said: Claims, weak: Met | None) -> Met | None:
    """The wording that is said and says more than what the scheme lists as not enough; None without one."""
    found = (met(s, said) for s in says if s.wanted)
    return max((m for m in found if m.share >= EARNED and not _outweighed(m, weak)), key=lambda m: m.rank, default=None)


def _unsaid(wants: Wants, said: Claims, passed: Collection[int], listed: tuple[Met | None, Met | None, Claim | None]) -> Heard:
    """What to make of a response that says no wording: decided only where nothing that is left over comes near one."""
    against, weak, opposite = listed
    spent = [t for m in (met(s, said) for s in wants.not_enough if weak is not None) if m.share >= _LISTED for t in telling(m)]
    spent += [t for c in (*(beside(against, said) if against else ()), *((opposite,) if opposite else ())) for t in c.tokens]
    near = nearness(wants.says, wants.given, said, spent, passed)
    rest = _without(said, passed)
    best_left = best(wants.says, rest)
    share = best_left.share if best_left else 0.0
    supposed = _supposed([*(against.by if against else ()), *((opposite,) if opposite else ())])
    if near.hits or supposed or (best_left is not None and share >= UNSURE and not _spent(best_left, spent)):
        tokens = telling(best_left) if best_left is not None and share >= UNSURE else near.tokens or supposed
        likely = _AGAINST if against or opposite else max(share, near.share)
        return Heard(code="unsure", share=likely, tokens=tokens, near=near)
    if against is not None and _named(against):
        return Heard(code="contradicted", share=share, tokens=telling(against), segments=_places(against.by), near=near)
    if opposite is not None:
        return Heard(code="contradicted", share=share, tokens=_core(opposite), segments=frozenset((opposite.segment,)), near=near)
    if weak is not None:
        return Heard(code="not enough", share=share, tokens=telling(weak), segments=_places(weak.by), near=near)
    if touched := _touched(wants, rest, passed):
        return Heard(code="touched", share=min(share, 0.4), tokens=touched, near=near)
    return Heard(code="not said", share=share, near=near)


def _supposed(by: Sequence[Claim]) -> tuple[Token, ...]:
    """The tokens of what is told as it would otherwise be: "a thin wire would have too much resistance" speaks for a thick one."""
    return next((_core(c) for c in by if any(t.typed.lower() in ("would", "otherwise") for t in c.tokens)), ())


def listed_words(wants: Wants, said: Claims) -> list[Token]:
    """The tokens that say a wording listed as not enough or as cancelling."""
    found = (met(s, said) for s in (*wants.not_enough, *wants.contradicts) if s.wanted)
    return [t for m in found if m.share >= _LISTED for t in telling(m)]


def _spent(found: Met, spent: Iterable[Token]) -> bool:
    """Whether all that says a wording by half is what a listed wording says."""
    used = {place(t) for t in spent}
    return all(place(t) in used for t in telling(found))


def _saying(says: Sequence[Sample], said: Claims) -> set[int]:
    """Segments that say one of the wordings whole."""
    return {c.segment for s in says for m in (met(s, said),) if m.share >= EARNED for c in m.by}


def _listed(samples: Iterable[Sample], said: Claims) -> Met | None:
    """The wording of a list that is said whole; None when none is."""
    found = best(tuple(samples), said)
    return found if found is not None and found.share >= _LISTED else None


def said_whole(samples: Iterable[Sample], said: Claims) -> bool:
    """Whether one of a list of wordings is said whole."""
    return _listed(samples, said) is not None


def _outweighed(found: Met, other: Met | None) -> bool:
    """True when a listed wording takes the place of what earns the idea: the same words say it, and say as much of it."""
    if other is None or not _places(other.by) & _places(found.by):
        return False
    if found.words < other.words:
        return True
    sure = not any(c.borrowed or not c.heads for c in other.by if c.kind == "way")
    return sure and found.words == other.words and (other.rank > found.rank or not found.whole)


def _places(by: Iterable[Claim]) -> frozenset[int]:
    return frozenset(c.segment for c in by)


def _touched(wants: Wants, said: Claims, passed: Collection[int]) -> tuple[Token, ...]:
    """The tokens of a segment that speaks of what the idea is about, beyond what the question names: it may be the idea in other words.

    A segment that another idea or a listed wording has used up says nothing of this one.
    """
    known = thesaurus()
    about = {f for f in wants.families - wants.given if f not in known.weak and f not in known.light and not f.startswith("n:")}
    for number, segment in enumerate(said.segments):
        here = {f for c in said.of(number) for f in (*c.words, *c.heads, *(s for s, _ in c.senses))}
        if number not in passed and (here & about or any(_nearly(w, c) for w in wants.wanted for c in said.of(number))):
            return segment.tokens
    return ()


def _nearly(wanted: Wanted, claim: Claim) -> bool:
    """The wanted change, of something the wording names besides: "the output is larger" for the output voltage; half a comparison."""
    want = wanted.claim
    if wanted.weight < 1 or want.kind not in ("way", "compare") or not agree(claim, want):
        return False
    if want.kind == "compare":
        return bool((claim.left | claim.right) & (want.left | want.right))
    return bool(claim.heads & want.heads) or (want.heads <= wanted.given and bool(claim.heads & want.words))


def telling(found: Met) -> tuple[Token, ...]:
    """The tokens of a response that say a wording: its words, and the words of change, action and denial among them."""
    wanted = found.sample.families
    ways = {w.claim.way for w in found.sample.wanted}
    return tuple(t for c in found.by for t in c.tokens if _tells(t, wanted, ways))


def _told(found: Met) -> frozenset[Place]:
    """Where the words of a wording stand."""
    wanted = found.sample.families
    return frozenset(place(t) for c in found.by for t in c.tokens if any(s in wanted for s, _ in t.senses))


def _tells(token: Token, wanted: frozenset[str], ways: set[str]) -> bool:
    if token.kind in NAMING:
        return any(s in wanted for s, _ in token.senses) or token.kind in ("named way", "act")
    return token.kind in ("not", "no", "compare") or (token.kind == "way" and bool(ways))


def _core(claim: Claim) -> tuple[Token, ...]:
    return tuple(t for t in claim.tokens if t.kind in (*NAMING, "way", "not", "no", "compare"))


def quote(row: Sequence[Token], lines: Sequence[str]) -> str:
    """The candidate's own words from the first to the last of some tokens, line by line."""
    pieces = []
    for number in sorted({t.line for t in row}):
        here = [t for t in row if t.line == number]
        start, end = min(t.at[0] for t in here), max(t.at[1] for t in here)
        text = lines[number - 1][start:end] if 0 < number <= len(lines) else ""
        pieces.append(text if len(text) <= _LONGEST_QUOTE else " … ".join(dict.fromkeys(t.typed for t in here)))
    return " … ".join(pieces)
