"""The same fault in several parts: charged once a part, a question or a paper, as the convention rules."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Protocol

from marker.results import Award, Outcome, PartResult
from marker.scheme.convention import Convention


class HasConvention(Protocol):
    @property
    def question(self) -> str: ...
    @property
    def convention(self) -> Convention: ...


_KINDS = {
    "unit-missing": "unit",
    "unit-wrong": "unit",
    "too-few-figures": "figures",
    "too-many-figures": "figures",
    "power-of-ten": "power of ten",
    "unconverted": "power of ten",
    "wrong-prefix": "power of ten",
    "wrong-conversion": "power of ten",
}


def settle_recurring(results: tuple[PartResult, ...], parts: Mapping[str, HasConvention]) -> tuple[PartResult, ...]:
    """Gives back points that only a fault already charged has cost. Only points whose single fault is a recurring one are touched."""
    charged: set[tuple[str, str]] = set()
    out = []
    for result in results:
        part = parts[result.part]
        awards = tuple(_settled(a, part, charged) for a in result.awards)
        out.append(replace(result, awards=awards, mark=result.mark + sum(n.mark - o.mark for n, o in zip(awards, result.awards, strict=True))))
    return tuple(out)


def _settled(award: Award, part: HasConvention, charged: set[tuple[str, str]]) -> Award:
    kind = _KINDS.get(award.fault)
    if kind is None or award.outcome is not Outcome.NOT_EARNED:
        return award
    scope = _scope(kind, part.convention)
    if scope == "part":
        return award
    if scope == "never":
        return replace(award, mark=award.maximum, outcome=Outcome.EARNED, reason=f"{award.reason}; not charged under this convention")
    key = (kind, part.question if scope == "question" else "")
    if key in charged:
        reason = f"{award.reason}; this fault is charged once in a {scope} and has been already"
        return replace(award, mark=award.maximum, outcome=Outcome.EARNED, reason=reason)
    charged.add(key)
    return award


def _scope(kind: str, convention: Convention) -> str:
    if kind == "unit":
        return convention.unit_fault_scope
    if kind == "figures":
        return convention.significant_figures.scope
    return convention.power_of_ten_scope
