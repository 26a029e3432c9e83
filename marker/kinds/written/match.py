"""Where a response says a wording: the whole of it in one stretch, or the wording it comes nearest to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, replace

from marker.kinds.written.evidence import Evidence, Wording, alike, likelihood, meets, nearest_wording, once_each, share, traits, weights
from marker.kinds.written.model import Clause, Item, Prose
from marker.kinds.written.part import Idea, WrittenPart

_PLAUSIBLE = 0.5
"""A sample wording found whole earns the idea only where a marker would more often than not give the point."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """The sample wording a stretch of the response comes nearest to; `odds` the log-odds that a marker would give the point.

    absent  no wording is said by half, in no stretch, nor met by near words;  denied  a wording is said whole but for words denied in it
    """

    sample: Wording
    found: Evidence
    items: tuple[Item, ...]
    odds: float

    absent: bool = False
    denied: bool = False

    @property
    def near(self) -> tuple[Item, ...]:
        """The words of the response that the wording has too."""
        return tuple(i for i in self.items if any(i.concept == e.concept for e in self.sample.essential))


def stretches(prose: Prose) -> tuple[tuple[Item, ...], ...]:
    """The ideas of the response as a whole, and of each sentence."""
    whole = once_each(prose.mentions())
    sentences = prose.sentences
    return (whole, *(ideas_of(s) for s in sentences)) if len(sentences) > 1 else (whole,)


def ideas_of(clauses: Iterable[Clause]) -> tuple[Item, ...]:
    return once_each(m for c in clauses for m in c.mentions)


def nearest(idea: Idea, prose: Prose, part: WrittenPart) -> Match:
    """The best match in any stretch, by likelihood."""
    rule, lexicon = weights("wordings"), part.known.lexicon
    matches = []
    for items in stretches(prose):
        sample, best = nearest_wording(idea.samples, prose, items, part.used, lexicon)
        p = likelihood(asdict(best), rule)
        matches.append(Match(sample=sample, found=best, items=items, odds=math.log(max(p, 1e-9) / max(1 - p, 1e-9))))
    shares = [share(s.essential, items, lexicon) for items in stretches(prose) for s in idea.samples]
    return replace(
        max(matches, key=lambda m: m.odds),
        absent=all(s.same < 0.5 and s.near == 0 for s in shares),
        denied=any(s.opposite > 0 and s.same + s.opposite > 0.999 for s in shares),
    )


def plainly(idea: Idea, prose: Prose, part: WrittenPart) -> tuple[Item, ...]:
    """The words that say a sample wording whole, with nothing against it in the same stretch; () when there are none."""
    rule, lexicon = weights("wordings"), part.known.lexicon
    clauses = tuple(ideas_of((c,)) for c in prose.clauses)
    for items in (*clauses, *stretches(prose)):
        for sample in (s for s in idea.samples if s.kind != "relation"):
            _, found = nearest_wording((sample,), prose, items, part.used, lexicon)
            clear = found.all_said and not (found.denied or found.contrary or found.swapped or _another_quantity(sample, items, part))
            if clear and likelihood({**asdict(found), "hedged": 0.0}, rule) >= _PLAUSIBLE:
                return whole(sample, items, part)
    return ()


def _another_quantity(sample: Wording, items: Sequence[Item], part: WrittenPart) -> bool:
    """True when another quantity stands where the wording has one that the question has named: "change the thickness" for "the length"."""
    quantities = part.known.quantities
    said, wanted = ({i.concept for i in row if i.concept in quantities} for row in (items, sample.items))
    return bool(said - wanted) and bool(wanted - said)


def whole(wording: Wording, items: Sequence[Item], part: WrittenPart) -> tuple[Item, ...]:
    """The items that say all of a wording; () when they do not, or deny part of it."""
    found = share(wording.essential, items, part.known.lexicon)
    if found.same < 0.999 or found.opposite or wording.labels - {i.concept for i in items}:
        return ()
    return tuple(i for i in items if any(meets(i, e) and i.sign == e.sign for e in wording.essential))


def listed(wordings: Iterable[Wording], prose: Prose, part: WrittenPart, unless: Sequence[Wording] = ()) -> tuple[Item, ...]:
    """The words that say one of the wordings whole, in one clause, or in one sentence for a wording of several clauses; () when none does.

    unless  wordings that take its place where they are said whole too and are more like the words
    """
    clauses = [ideas_of((c,)) for c in prose.clauses]
    sentences = [ideas_of(s) for s in prose.sentences]
    for wording in wordings:
        for items in sentences if wording.clauses > 1 else clauses:
            found = whole(wording, items, part)
            if found and not _liker(unless, wording, items, part):
                return found
    return ()


def _liker(samples: Iterable[Wording], wording: Wording, items: Sequence[Item], part: WrittenPart) -> bool:
    """True when a sample has the same ideas and the words come in its order: "the time for half", not "half the time"."""
    own = traits(items)
    likeness = alike(own, wording.traits)
    ideas = {(i.concept, i.sign) for i in wording.essential}
    rivals = (s for s in samples if ideas <= {(i.concept, i.sign) for i in s.items})
    return any(whole(s, items, part) and alike(own, s.traits) >= likeness for s in rivals)


def denied(idea: Idea, prose: Prose, part: WrittenPart) -> tuple[Item, ...]:
    """The words of one clause that say a sample wording whole but for a word they deny; () when none does."""
    for clause in prose.clauses:
        items = ideas_of((clause,))
        for sample in idea.samples:
            found = share(sample.essential, items, part.known.lexicon)
            if found.opposite > 0 and found.same + found.opposite > 0.999 and not sample.labels - {i.concept for i in items}:
                return tuple(i for i in items if any(i.concept == e.concept for e in sample.essential))
    return ()
