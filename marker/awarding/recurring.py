"""The same fault again: charged once in a part, a question or a paper, or never, as the convention rules."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Protocol

from marker.results import Award, Outcome, PartResult, Possibility, Referral
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


def settle_in_part(awards: Sequence[Award], convention: Convention) -> tuple[Award, ...]:
    """Gives back points of one part that a fault already charged in it has cost, or that the convention never charges."""
    charged: set[str] = set()
    out = []
    for award in awards:
        kind, scope = _charge(award, convention)
        if scope == "never":
            award = _given_back(award, "the convention does not charge this fault")
        elif kind and kind in charged:
            award = _given_back(award, f"this fault is charged once in a {scope}, and has been already")
        elif kind:
            charged.add(kind)
        out.append(award)
    return tuple(out)


def settle_recurring(results: tuple[PartResult, ...], parts: Mapping[str, HasConvention]) -> tuple[PartResult, ...]:
    """Gives back points that only a fault already charged in the question or paper has cost, in the order of the parts."""
    charged: set[tuple[str, str]] = set()
    out = []
    for result in results:
        if not any(a.fault in _KINDS for a in result.awards):
            out.append(result)
            continue
        part = parts[result.part]
        awards = tuple(_settled(a, part, charged) for a in result.awards)
        more = sum(n.mark - o.mark for n, o in zip(awards, result.awards, strict=True))
        out.append(_raised(result, awards, more) if more else result)
    return tuple(out)


def _settled(award: Award, part: HasConvention, charged: set[tuple[str, str]]) -> Award:
    kind, scope = _charge(award, part.convention)
    if not kind or scope == "part":
        return award
    if scope == "never":
        return _given_back(award, "the convention does not charge this fault")
    key = (kind, part.question if scope == "question" else "")
    if key in charged:
        return _given_back(award, f"this fault is charged once in a {scope}, and has been already")
    charged.add(key)
    return award


def _charge(award: Award, convention: Convention) -> tuple[str, str]:
    """(kind of fault, scope) of a point that a recurring kind of fault alone has cost; ("", "") for any other."""
    kind = _KINDS.get(award.fault, "")
    if not kind or award.outcome is not Outcome.NOT_EARNED:
        return "", ""
    if kind == "unit":
        return kind, convention.unit_fault_scope
    if kind == "figures":
        return kind, convention.significant_figures.scope
    return (kind, convention.power_of_ten_scope) if convention.conversion_fault == "power of ten" else ("", "")


def _given_back(award: Award, why: str) -> Award:
    reason = f"{award.reason.rstrip('.')}; {why}."
    return replace(award, mark=award.maximum, outcome=Outcome.EARNED, reason=reason)


def _raised(result: PartResult, awards: tuple[Award, ...], more: float) -> PartResult:
    """The result with more marks; a referral's possibilities rise with it, and none is left where nothing is missing."""
    mark = result.mark + more
    referral = result.referral if mark < result.maximum else None
    if referral is not None:
        possible = (Possibility(text=p.text, mark=min(result.maximum, p.mark + more)) for p in referral.possibilities)
        referral = Referral(reason=referral.reason, possibilities=tuple(possible))
    return replace(result, awards=awards, mark=mark, referral=referral)
