"""What speaks for and against an idea in a response as a whole, whether or not a wording was found: a few shares and yes/no marks.

They are weighed together (second_opinion.py) where no single one of them settles the matter.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, fields

from marker.kinds.written.claims.claims import claims
from marker.kinds.written.claims.entail import agree
from marker.kinds.written.claims.model import Claims
from marker.kinds.written.claims.score import best, contrary, telling_words
from marker.kinds.written.claims.thesaurus import thesaurus
from marker.kinds.written.claims.tokens import Token
from marker.kinds.written.claims.verdict import Wants, said_whole
from marker.kinds.written.claims.wanted import Sample
from marker.kinds.written.evidence import Wording, alike, traits
from marker.kinds.written.match import ideas_of, nearest, stretches
from marker.kinds.written.model import Prose
from marker.kinds.written.part import Idea, WrittenPart

_SAYING = frozenset(("way", "named way", "act", "compare", "thing", "word", "letters"))
_MOST_SAID, _MOST_STRANGE, _MOST_MISSING = 20, 5, 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Witnesses:
    """Shares are 0 to 1, yes/no marks 0 or 1.

    share     how much of a wording is said claim by claim;  ways  share of its claims whose change or action is said of anything
    words     share of its words said anywhere;  together  the same in one sentence
    missing   words of that wording not said (of 4);  complete  no word of it is missing
    weak, against, opposite   a wording listed as not enough, one listed as cancelling, the opposite of a wording is said
    likeness, said, contrary  likeness to a wording, share of its words, and a word that excludes one, by the older reading
    like_weak, like_other     likeness to a wording listed as not enough, and to those of the part's other ideas
    length    what the sentence that comes nearest says at all (of 20 words)
    strange   words of it that neither question, scheme nor physics uses (of 5)
    """

    share: float
    ways: float
    words: float
    together: float
    missing: float
    complete: float
    weak: float
    against: float
    opposite: float
    likeness: float
    said: float
    contrary: float
    like_weak: float
    like_other: float
    length: float
    strange: float


NAMES = tuple(f.name for f in fields(Witnesses))


def witnesses(idea: Idea, wants: Wants, part: WrittenPart, prose: Prose) -> Witnesses:
    """What speaks for and against an idea."""
    said = claims(prose.lines, part.speech)
    told, near = best(wants.says, said), nearest(idea, prose, part)
    here = _families(said)
    sample = max(wants.says, key=lambda s: _coverage(s, wants, here))
    wanted = telling_words(sample.families)
    tokens = _statement(said, wanted)
    return Witnesses(
        share=told.share if told else 0.0,
        ways=_ways(sample, said),
        words=_share(wanted, here),
        together=max((_share(wanted, row) for row in _sentences(said)), default=0.0),
        missing=min(len(told.missing), _MOST_MISSING) / _MOST_MISSING if told else 1.0,
        complete=float(told is not None and told.complete),
        weak=float(said_whole(wants.not_enough, said)),
        against=float(said_whole(wants.contradicts, said)),
        opposite=float(contrary(wants.says, said) is not None),
        likeness=near.found.likeness,
        said=near.found.said,
        contrary=near.found.contrary,
        like_weak=_likest(idea.not_enough, prose),
        like_other=_likest([w for other in part.ideas if other is not idea for w in other.samples], prose),
        length=min(len(tokens), _MOST_SAID) / _MOST_SAID,
        strange=min(sum(t.kind == "word" and not _of_question(t, wants) for t in tokens), _MOST_STRANGE) / _MOST_STRANGE,
    )


def statement(wants: Wants, said: Claims) -> tuple[Token, ...]:
    """The words of a response that come nearest to saying an idea: those it shares with its wordings, in one sentence."""
    here = _families(said)
    wanted = telling_words(max(wants.says, key=lambda s: _coverage(s, wants, here)).families)
    return tuple(t for t in _statement(said, wanted) if any(f in wanted for f, _ in t.senses))


def _of_question(token: Token, wants: Wants) -> bool:
    return any(f in wants.given for f, _ in token.senses)


def _families(said: Claims) -> frozenset[str]:
    return frozenset(f for s in said.segments for t in s.tokens for f, _ in t.senses)


def _sentences(said: Claims) -> list[frozenset[str]]:
    numbers = sorted({s.sentence for s in said.segments})
    return [frozenset(f for s in said.segments if s.sentence == n for t in s.tokens for f, _ in t.senses) for n in numbers]


def _statement(said: Claims, wanted: frozenset[str]) -> list[Token]:
    """The words that say something in the sentence that has most of the wanted words."""
    known = thesaurus()
    little = known.weak | known.light
    shares = [_share(wanted, row) for row in _sentences(said)]
    number = sorted({s.sentence for s in said.segments})[shares.index(max(shares))] if shares else 0
    here = [t for s in said.segments if s.sentence == number for t in s.tokens]
    return [t for t in here if t.kind in _SAYING and not (t.senses and all(f in little for f, _ in t.senses))]


def _coverage(sample: Sample, wants: Wants, here: frozenset[str]) -> tuple[float, float]:
    wanted = telling_words(sample.families)
    return (_share(wanted, here) + _share(wanted - wants.given, here), _share(wanted, here))


def _share(wanted: frozenset[str], here: frozenset[str]) -> float:
    return len(wanted & here) / len(wanted) if wanted else 0.0


def _ways(sample: Sample, said: Claims) -> float:
    main = [w.claim for w in sample.wanted if w.weight >= 1]
    return sum(any(agree(c, w) for c in said.claims) for w in main) / len(main) if main else 0.0


def _likest(wordings: Iterable[Wording], prose: Prose) -> float:
    rows = [traits(items) for items in (*stretches(prose), *(ideas_of((c,)) for c in prose.clauses))]
    return max((alike(row, w.traits) for row in rows for w in wordings), default=0.0)
