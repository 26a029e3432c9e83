"""How far a response says what a sample wording says: a few shares and yes/no marks, and one probability from them.

The essential words of a wording are those the question has not already given, and those that could be denied.
The weights (rubrics/written_weights.toml) were fitted once to marked answers; they are plain numbers a reader can follow.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from functools import lru_cache

from marker.kinds.written.lexicon import Lexicon
from marker.kinds.written.model import Item, Prose, Role
from marker.resources import rubrics

_COUNTED = frozenset(("twice", "half"))
_POLAR_WEIGHT = 1.5
_LEAST_WORTH = {"minimal", "keyword"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """One sample wording: its text, how good an answer it is ("best", "good", "minimal"), and its ideas once each.

    essential  what a response must say itself;  given  the rest, which the question has said already
    """

    text: str
    kind: str
    items: tuple[Item, ...]
    essential: tuple[Item, ...]
    given: tuple[Item, ...]
    concepts: frozenset[str]
    labels: frozenset[str]
    traits: frozenset[str]
    clauses: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """A response against one wording. Shares are 0 to 1, yes/no marks 0 or 1.

    said, given_said  share of the essential and of the given words found, with their signs
    all_said, half_said, all_given_said  those shares reached 1 (or ½)
    denied            an essential word is found with the other sign;  near  share met only by a word near in meaning
    contrary          a word that excludes one of the wording's;  swapped  another label in place of the wording's
    other_labels      labels the wording does not have (at most 2);  strange  words neither question nor scheme uses (at most 3)
    strange_share     strange words among all;  unrelated  nothing of any wording was met
    blank, hedged     nothing is said; it is offered with "maybe"
    short             two ideas or fewer;  clean  all said, and nothing besides;  least  the wording is one of the least that is accepted
    count             how many of the response's ideas the wording has too (at most 6)
    likeness          cosine of the response with the wording most like it, neighbouring ideas included
    agreeing          share of wordings said whole
    """

    said: float
    all_said: float
    half_said: float
    given_said: float
    all_given_said: float
    denied: float
    near: float
    contrary: float
    swapped: float
    other_labels: float
    strange: float
    strange_share: float
    unrelated: float
    blank: float
    hedged: float
    short: float
    clean: float
    least: float
    count: float
    likeness: float = 0.0
    agreeing: float = 0.0


FEATURES = tuple(f.name for f in fields(Evidence))


def once_each(items: Iterable[Item]) -> tuple[Item, ...]:
    """Each idea once with each sign; twice and half as often as they stand ("twice the mass gives twice the reading")."""
    seen: set[tuple[str, str, str, int]] = set()
    kept: list[Item] = []
    for item in items:
        mark = (item.concept, item.of, item.side, item.sign)
        if item.concept in _COUNTED or mark not in seen:
            kept.append(item)
        seen.add(mark)
    return tuple(kept)


def wording(text: str, kind: str, prose: Prose, given: frozenset[str], known: Lexicon) -> Wording:
    """A sample wording read against the words the question gives."""
    items = once_each(prose.mentions())
    light, telling = given | known.weak, known.polar | known.decisive
    essential = tuple(i for i in items if i.concept not in light or i.concept in telling or i.sign < 0)
    rest = tuple(i for i in items if i not in essential)
    if not essential:
        essential, rest = items, ()
    return Wording(
        text=text,
        kind=kind,
        items=items,
        essential=essential,
        given=rest,
        concepts=frozenset(i.concept for i in items),
        labels=frozenset(i.concept for i in items if i.role is Role.LABEL),
        traits=traits(items),
        clauses=sum(1 for c in prose.clauses if c.mentions),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """Weighted shares of some words: found with their sign, found denied, met by a near word only."""

    same: float
    opposite: float
    near: float


def share(wanted: Sequence[Item], said: Sequence[Item], known: Lexicon) -> Share:
    """How much of `wanted` is in `said`. A word found with both signs counts half for each."""
    present = {i.concept for i in said}
    used: dict[str, int] = {}
    same = opposite = near = total = 0.0
    for item in wanted:
        weight = _POLAR_WEIGHT if item.concept in known.polar else 1.0
        total += weight
        met = [s for s in said if meets(s, item)]
        # "no mass" is not denied by a mention of the mass elsewhere, but "connected" is by "not connected", and the other way about.
        mere = item.sign < 0 and item.concept not in known.polar
        agree, differ = sum(s.sign == item.sign for s in met), not mere and any(s.sign != item.sign for s in met)
        needed = used.get(item.concept, 0) + 1 if item.concept in _COUNTED else 1
        if agree >= needed:
            used[item.concept] = needed
            same += weight / 2 if differ else weight
            opposite += weight / 2 if differ else 0.0
        elif differ:
            opposite += weight
        elif item.concept not in present and known.kin.get(item.concept, frozenset()) & present:
            near += weight
    if not total:
        return Share(same=1.0, opposite=0.0, near=0.0)
    return Share(same=same / total, opposite=opposite / total, near=near / total)


_COMPARED = {"up": "greater_than", "down": "less_than"}


def meets(said: Item, wanted: Item) -> bool:
    """True when two items can be the same idea, signs apart: one concept, one quantity for words of change, one side of a comparison.

    "Lower than the other" meets "lower"; "lower" does not meet "lower than".
    """
    one = said.concept == wanted.concept or _COMPARED.get(wanted.concept) == said.concept
    return one and one_owner(said, wanted) and (said.side == wanted.side or not said.side or not wanted.side)


def one_owner(a: Item, b: Item) -> bool:
    """True when two words of change can be about one quantity."""
    return a.of == b.of or not a.of or not b.of


def evidence(sample: Wording, prose: Prose, said: Sequence[Item], used_words: frozenset[str], known: Lexicon) -> Evidence:
    """The response (or the part of it in `said`) against one wording. `used_words`: concepts of question and scheme."""
    own, lent = share(sample.essential, said, known), share(sample.given, said, known)
    labels = {i.concept for i in said if i.role is Role.LABEL}
    other = len(labels - sample.labels)
    unknown = [i for i in said if i.concept not in used_words and i.concept not in known.weak]
    strange = [i for i in unknown if i.role is not Role.LABEL and i.concept not in known.polar]
    extra_polar = any(i.concept in known.polar and i.concept not in sample.concepts for i in said)
    contrary = bool(contraries(sample, said, known))
    whole = own.same > 0.999
    return Evidence(
        said=own.same,
        all_said=float(whole),
        half_said=float(own.same >= 0.5),
        given_said=lent.same,
        all_given_said=float(lent.same > 0.999),
        denied=float(own.opposite > 0),
        near=own.near,
        contrary=float(contrary),
        swapped=float(bool(sample.labels - labels) and other > 0),
        other_labels=float(min(other, 2)),
        strange=float(min(len(strange), 3)),
        strange_share=len(unknown) / max(len(said), 1),
        unrelated=float(own.same + own.opposite + own.near == 0),
        blank=float(prose.blank),
        hedged=float(any(c.hedged for c in prose.clauses)),
        short=float(len(said) <= 2),
        clean=float(whole and not own.opposite and not contrary and not other and not strange and not extra_polar),
        least=float(sample.kind in _LEAST_WORTH),
        count=float(min(sum(i.concept in sample.concepts for i in said), 6)),
    )


def signed(item: Item) -> str:
    return item.concept if item.sign > 0 else "-" + item.concept


def traits(items: Iterable[Item]) -> frozenset[str]:
    """Ideas of a stretch and pairs of neighbouring ideas."""
    row = [signed(i) for i in items]
    return frozenset(row) | frozenset(f"{a} {b}" for a, b in zip(["^", *row], [*row, "$"], strict=True))


def alike(a: Collection[str], b: Collection[str]) -> float:
    """Cosine of two sets of traits, 0 to 1."""
    return sum(1 for k in a if k in b) / math.sqrt(len(a) * len(b)) if a and b else 0.0


def nearest_wording(
    samples: Sequence[Wording], prose: Prose, said: Sequence[Item], used_words: frozenset[str], known: Lexicon
) -> tuple[Wording, Evidence]:
    """The wording a stretch of the response comes nearest to, and the evidence, with what the other wordings add."""
    found = [(s, evidence(s, prose, said, used_words, known)) for s in samples]
    sample, best = max(found, key=lambda f: closeness(f[1]))
    own = traits(said)
    whole = sum(1 for _, e in found if e.all_said and not e.denied)
    return sample, replace(best, likeness=max(alike(own, s.traits) for s in samples), agreeing=whole / len(samples))


def contraries(sample: Wording, said: Sequence[Item], known: Lexicon) -> tuple[Item, ...]:
    """What a response says that excludes a word of the wording: "inverse" against "direct", "falls" against "rises" of one quantity."""
    return tuple(i for i in said if i.sign > 0 and any(_excludes(i, w, known) for w in sample.items) and not _in(i, sample.items))


def _excludes(item: Item, wanted: Item, known: Lexicon) -> bool:
    changes = item.concept in ("up", "down", "steady")
    if wanted.sign < 0 or item.concept not in known.contraries.get(wanted.concept, frozenset()):
        return False
    return one_owner(item, wanted) if changes else True


def _in(item: Item, wanted: Sequence[Item]) -> bool:
    return any(w.concept == item.concept and w.of == item.of for w in wanted)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """A logistic rule: constant and one weight per feature; decided at or above `earned`, at or below `not_earned`.

    absent       where no wording is said by half, or one is said but denied, not earned at or below this
    absent_idea  the same for one idea of several, which has wordings of its own
    """

    constant: float
    by_feature: Mapping[str, float]
    earned: float
    not_earned: float
    absent: float
    absent_idea: float


@lru_cache(maxsize=4)
def weights(name: str) -> Weights:
    """One table of rubrics/written_weights.toml."""
    table = tomllib.loads((rubrics() / "written_weights.toml").read_text(encoding="utf-8"))[name]
    edges = {k: float(table[k]) for k in ("constant", "earned", "not_earned", "absent", "absent_idea")}
    return Weights(by_feature=dict(table["weight"]), **edges)


def likelihood(found: Mapping[str, float], rule: Weights) -> float:
    """Probability, by the rule, that a marker would give the point."""
    return logistic(rule.constant + sum(w * found[name] for name, w in rule.by_feature.items()))


def logistic(x: float) -> float:
    return 1 / (1 + math.exp(-max(-40.0, min(40.0, x))))


def closeness(found: Evidence) -> float:
    """A rough order among wordings: which one a response comes nearest to."""
    return (
        found.said
        + 0.25 * found.given_said
        - 1.2 * found.denied * (1 - found.said)
        - 0.4 * found.contrary
        - 0.2 * (found.other_labels > 0)
        + 0.3 * found.near
        - 0.05 * found.least
    )
