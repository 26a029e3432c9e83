"""Drawing a sample by a named rule: seen by nobody in advance, repeatable by anybody from the draw number.

Every choice by chance is the order of SHA-256 digests of draw number and candidate number, so that a draw depends on neither the
order of the file nor the version of a library.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from marker.moderation.model import MarkSet, Response, refuse_one
from marker.moderation.rules import SamplingRule


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """One candidate (all parts) or one response of the sample, why it is in, and whether it is checked first (stage 1) or after."""

    candidate: str
    parts: tuple[str, ...]
    why: str
    stage: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    rule: SamplingRule
    draw: int
    drawn: tuple[Drawn, ...]

    @property
    def responses(self) -> tuple[Response, ...]:
        return tuple((d.candidate, p) for d in self.drawn for p in d.parts)


def by_chance(draw: int, names: Iterable[str], purpose: str = "") -> list[str]:
    """The names in the order of this draw; `purpose` gives another order from the same draw number."""
    return sorted(names, key=lambda n: hashlib.sha256(f"{draw}|{purpose}|{n}".encode()).digest())


def size_for(rule: SamplingRule, cohort: int) -> int | None:
    """How many the size bands ask for from a cohort, before `maximum`; None when the rule counts by band, class or marker only."""
    band = next(b for b in rule.size if b.up_to is None or cohort <= b.up_to)
    if band.all:
        return cohort
    if band.take is None and band.percent is None:
        return None
    number = band.take if band.take is not None else math.ceil(cohort * (band.percent or 0) / 100 - 1e-9)
    limit = cohort if rule.maximum is None else min(cohort, rule.maximum)
    return min(max(number, rule.minimum), limit)


def draw_sample(marks: MarkSet, rule: SamplingRule, draw: int, chosen: Sequence[str] = (), parts: Sequence[str] = ()) -> Sample:
    """The sample of this draw. `chosen` candidates are always in it; `parts` limits which parts are marked again.

    Raises WorkbookError for a chosen candidate or part that the marks do not have, or a rule by class when classes are not known.
    """
    wanted = _known_parts(marks, parts)
    for candidate in chosen:
        if candidate not in marks.candidates:
            refuse_one("chosen candidates", f'"{candidate}" has no marks in {marks.name}', mend="Check the candidate number.")
    if rule.unit == "response":
        return Sample(rule=rule, draw=draw, drawn=_draw_responses(marks, rule, draw, chosen, wanted))
    picked = {c: "chosen" for c in dict.fromkeys(chosen)}
    ranked = _ranked(marks, draw)
    number = size_for(rule, len(ranked))
    if number is not None and number >= len(ranked):
        picked |= {c: "all candidates" for c in ranked if c not in picked}
    else:
        _extremes(rule, ranked, picked)
        _spread(marks, rule, draw, ranked, number, picked)
    order = [c for c in ranked if c in picked]
    first = _first_checked(order, rule)
    return Sample(
        rule=rule,
        draw=draw,
        drawn=tuple(Drawn(candidate=c, parts=wanted, why=picked[c], stage=1 if c in first else 2) for c in order),
    )


def _known_parts(marks: MarkSet, parts: Sequence[str]) -> tuple[str, ...]:
    for part in parts:
        if part not in marks.parts:
            refuse_one("parts to mark again", f'"{part}" is not a part of {marks.name}', expected=", ".join(marks.parts))
    return tuple(p for p in marks.parts if not parts or p in parts)


def _ranked(marks: MarkSet, draw: int) -> list[str]:
    """Candidates by total, highest first; equal totals in the order of the draw."""
    return sorted(by_chance(draw, marks.candidates, "ties"), key=lambda c: -marks.totals[c])


def _extremes(rule: SamplingRule, ranked: list[str], picked: dict[str, str]) -> None:
    for which, order in (("highest", ranked), ("lowest", ranked[::-1])):
        if which in rule.always:
            found = next((c for c in order if c not in picked or picked[c] == "chosen"), None)
            if found is not None:
                picked[found] = f"{which} mark" if found not in picked else f"chosen, {which} mark"


def _spread(marks: MarkSet, rule: SamplingRule, draw: int, ranked: list[str], number: int | None, picked: dict[str, str]) -> None:
    """Add the drawn candidates to `picked`. Those already in do not count, except chosen ones under a rule that says so."""
    free = [c for c in ranked if c not in picked]
    if rule.chosen_count and number is not None:
        number = max(0, number - sum(w.startswith("chosen") for w in picked.values()))
    if rule.spread == "random":
        drawn = [(c, "drawn") for c in by_chance(draw, free)[: number or 0]]
    elif rule.spread == "even by rank":
        drawn = _one_each(draw, _slices(free, number or 0), "drawn, rank slice")
    else:
        drawn = _from_strata(rule, draw, _strata(marks, rule, free), number)
    for candidate, why in drawn:
        picked[candidate] = why


def _slices(ranked: list[str], number: int) -> list[list[str]]:
    """The rank order cut into so many slices of nearly equal size."""
    n = len(ranked)
    number = min(number, n)
    return [ranked[i * n // number : (i + 1) * n // number] for i in range(number)]


def _one_each(draw: int, slices: list[list[str]], why: str) -> list[tuple[str, str]]:
    return [(by_chance(draw, s)[0], f"{why} {i}") for i, s in enumerate(slices, start=1) if s]


def _strata(marks: MarkSet, rule: SamplingRule, free: list[str]) -> dict[str, list[str]]:
    if rule.spread == "rank bands":
        return {f"rank band {i}": s for i, s in enumerate(_slices(free, rule.bands), start=1)}
    found: dict[str, list[str]] = {}
    for candidate in free:
        found.setdefault(_stratum(marks, rule, candidate), []).append(candidate)
    return found


def _stratum(marks: MarkSet, rule: SamplingRule, candidate: str) -> str:
    if rule.spread == "mark bands":
        percent = 100 * marks.totals[candidate] / marks.maximum if marks.maximum else 0.0
        limit = next((b for b in sorted(rule.boundaries, reverse=True) if percent >= b), None)
        return f"{limit:g} % and above" if limit is not None else f"below {min(rule.boundaries):g} %"
    if rule.spread == "by marker":
        return f"marker {marks.first_marker(candidate)}"
    if candidate not in marks.classes:
        refuse_one(
            f"candidate {candidate}",
            f'no class known, and the rule "{rule.name}" draws by class',
            mend="Add a column Class to the marks, or give a table with --classes.",
        )
    return f"class {marks.classes[candidate]}"


def _from_strata(rule: SamplingRule, draw: int, strata: dict[str, list[str]], number: int | None) -> list[tuple[str, str]]:
    """`per_band` from each stratum, or `number` shared out: one each first, then in proportion; never over the rule's maximum."""
    orders = {name: by_chance(draw, members, name) for name, members in strata.items()}
    quota = {n: min(rule.per_band, len(m)) for n, m in strata.items()} if rule.per_band else _shared_out(strata, number or 0)
    if rule.maximum is not None:
        while sum(quota.values()) > rule.maximum:
            quota[max(quota, key=lambda n: quota[n])] -= 1
    return [(c, f"drawn, {name}") for name, order in orders.items() for c in order[: quota[name]]]


def _shared_out(strata: dict[str, list[str]], number: int) -> dict[str, int]:
    total = sum(map(len, strata.values()))
    quota = dict.fromkeys(strata, 0)
    for _ in range(min(number, total)):
        open_ = [n for n, members in strata.items() if quota[n] < len(members)]
        neediest = min(open_, key=lambda n: (quota[n] > 0, quota[n] - number * len(strata[n]) / total))
        quota[neediest] += 1
    return quota


def _first_checked(order: list[str], rule: SamplingRule) -> set[str]:
    """Those checked first: spread evenly over the rank order, ends included."""
    if not rule.first or rule.first >= len(order):
        return set(order)
    if rule.first == 1:
        return {order[len(order) // 2]}
    return {order[round(i * (len(order) - 1) / (rule.first - 1))] for i in range(rule.first)}


def _draw_responses(marks: MarkSet, rule: SamplingRule, draw: int, chosen: Sequence[str], parts: tuple[str, ...]) -> tuple[Drawn, ...]:
    """So many responses of every part, each part drawn by itself; all responses of chosen candidates."""
    drawn: dict[Response, str] = {(c, p): "chosen" for c in chosen for p in parts}
    for part in parts:
        free = [c for c in marks.candidates if (c, part) in marks.by_response and (c, part) not in drawn]
        number = size_for(rule, len(free)) or 0
        drawn |= {(c, part): "drawn" for c in by_chance(draw, free, part)[:number]}
    kept = {c: [(p, drawn[c, p]) for p in parts if (c, p) in drawn] for c in marks.candidates}
    return tuple(Drawn(candidate=c, parts=tuple(p for p, _ in found), why=found[0][1]) for c, found in kept.items() if found)
