"""What a teacher's settled responses teach about the next ones: a small model of one part's words, plain and deterministic.

Three witnesses are heard for a new response: the same response settled before, the settled responses most like it,
and a logistic rule over its ideas and pairs of neighbouring ideas. One fixed rule weighs them with the evidence from
the scheme's own wordings.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marker.kinds.written.evidence import alike, logistic, traits
from marker.kinds.written.lexicon import lexicon
from marker.kinds.written.model import Clause, Prose, Role

Key = tuple[tuple[str, ...], ...]
_NEIGHBOURS = 5
_PENALTY = 2.0
_ROUNDS = 80
_FEWEST = 8


def key(prose: Prose) -> Key:
    """Responses with one key say the same in the same words: spelling, case, endings, little words and order of clauses apart."""
    return tuple(sorted(filter(None, (_words(c) for c in prose.clauses))))


def _words(clause: Clause) -> tuple[str, ...]:
    """The stems of a clause, with the little words that can change what is said. A word with two ideas (faster) stands once."""
    telling = lexicon().telling
    row = [i for i in clause.items if i.role not in (Role.FUNCTION, Role.SIGN) or i.concept in telling or i.concept in "=∝<>"]
    return tuple(i.stems for n, i in enumerate(row) if n == 0 or i.at != row[n - 1].at or i.line != row[n - 1].line)


def response_traits(prose: Prose) -> frozenset[str]:
    """Ideas and pairs of neighbouring ideas of a response, clause by clause."""
    return frozenset().union(*(traits(c.mentions) for c in prose.clauses))


def fit(rows: Sequence[Mapping[str, float]], labels: Sequence[float], penalty: float, rounds: int) -> tuple[float, dict[str, float]]:
    """Constant and weights of a logistic rule with squared weights penalised, by accelerated descent.

    Each weight's step is the largest that cannot overshoot (a quarter bounds the curve of the logistic), so no step size is tuned.
    """
    names = sorted({k for r in rows for k in r})
    spread = [1.0 + sum(abs(v) for v in r.values()) for r in rows]
    bend = dict.fromkeys(names, penalty)
    for row, wide in zip(rows, spread, strict=True):
        for k, v in row.items():
            bend[k] += 0.25 * wide * abs(v)
    bend_constant = 0.25 * sum(spread) + 1e-9
    weight, ahead = dict.fromkeys(names, 0.0), dict.fromkeys(names, 0.0)
    constant = ahead_constant = 0.0
    for turn in range(rounds):
        slope, slope_constant = {k: penalty * w for k, w in ahead.items()}, 0.0
        for row, label in zip(rows, labels, strict=True):
            miss = logistic(ahead_constant + sum(ahead[k] * v for k, v in row.items())) - label
            slope_constant += miss
            for k, v in row.items():
                slope[k] += miss * v
        push = turn / (turn + 3)
        new = {k: ahead[k] - slope[k] / bend[k] for k in names}
        ahead = {k: new[k] + push * (new[k] - weight[k]) for k in names}
        new_constant = ahead_constant - slope_constant / bend_constant
        ahead_constant = new_constant + push * (new_constant - constant)
        weight, constant = new, new_constant
    return constant, weight


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """One settled response as read: its key, traits, whether the point was given, and the scheme's evidence for it (log-odds)."""

    key: Key
    traits: frozenset[str]
    given: bool
    evidence: float
    contradicts: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """A part's settled responses and the rule fitted to them; `contrary` tells, among those not given, the contrary from the rest."""

    settled: tuple[Settled, ...]
    constant: float
    weight: Mapping[str, float]
    known: frozenset[str]
    contrary: tuple[float, Mapping[str, float]] | None = None


def enough(settled: Sequence[Settled]) -> bool:
    """True when there are responses of both outcomes, and eight or more: with fewer nothing general is learned."""
    return len(settled) >= _FEWEST and len({s.given for s in settled}) == 2


def learn(settled: Sequence[Settled]) -> Learned:
    rows = [{**dict.fromkeys(sorted(s.traits), 1.0), "= evidence": s.evidence} for s in settled]
    constant, weight = fit(rows, [float(s.given) for s in settled], _PENALTY, _ROUNDS)
    known = frozenset(k for s in settled for k in s.traits)
    return Learned(settled=tuple(settled), constant=constant, weight=weight, known=known, contrary=_contrary(settled))


def _contrary(settled: Sequence[Settled]) -> tuple[float, Mapping[str, float]] | None:
    refused = [s for s in settled if not s.given]
    if min(sum(s.contradicts for s in refused), sum(not s.contradicts for s in refused)) < _FEWEST // 4:
        return None
    rows = [{**dict.fromkeys(sorted(s.traits), 1.0), "= any": float(bool(s.traits))} for s in refused]
    return fit(rows, [float(s.contradicts) for s in refused], _PENALTY, _ROUNDS)


def contradicts(learned: Learned, prose: Prose) -> bool | None:
    """Whether a response that does not earn the point says the contrary, as settled responses tell; None when they do not."""
    if learned.contrary is None:
        return None
    constant, weight = learned.contrary
    own = response_traits(prose)
    return constant + sum(weight.get(k, 0.0) for k in sorted(own)) + weight["= any"] * bool(own) > 0


def witnesses(learned: Learned, prose: Prose, evidence: float) -> dict[str, float]:
    """What the settled responses say about a response.

    rule          log-odds by the fitted rule;  likest_given, likest_not  the greatest likeness to one given, not given
    neighbours    log-odds of the vote of the five nearest;  same  how many of one mind are word for word alike (+ given, - not)
    new_words     share of its ideas no settled response has;  evidence  log-odds from the scheme's wordings
    few           1 with no settled response, falling to 0 with many
    """
    own, own_key = response_traits(prose), key(prose)
    near = sorted(((alike(own, s.traits), n) for n, s in enumerate(learned.settled)), key=lambda x: (-x[0], x[1]))
    ranked = [(likeness, learned.settled[n]) for likeness, n in near]
    base = (sum(s.given for s in learned.settled) + 1) / (len(learned.settled) + 2)
    top = ranked[:_NEIGHBOURS]
    vote = (sum(x * x for x, s in top if s.given) + 0.3 * base) / (sum(x * x for x, _ in top) + 0.3)
    twins = [s.given for s in learned.settled if s.key == own_key and own_key]
    ideas = [k for k in own if " " not in k]
    return {
        "rule": _bounded(learned.constant + sum(learned.weight.get(k, 0.0) for k in sorted(own)) + learned.weight["= evidence"] * evidence),
        "likest_given": max((x for x, s in ranked if s.given), default=0.0),
        "likest_not": max((x for x, s in ranked if not s.given), default=0.0),
        "neighbours": _bounded(math.log(max(vote, 1e-9) / max(1 - vote, 1e-9))),
        "same": float(max(-5, min(5, sum(1 if t else -1 for t in twins)))),
        "new_words": sum(k not in learned.known for k in ideas) / max(len(ideas), 1),
        "evidence": evidence,
        "blank": float(prose.blank),
        "few": 1 / (1 + len(learned.settled) / 10),
    }


def _bounded(odds: float) -> float:
    return max(-5.0, min(5.0, odds))
