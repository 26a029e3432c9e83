"""The responses that most need another look, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.moderation.compare import Comparison, Pair
from marker.moderation.model import Mark, plain


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """One response to look at again. marks: (marker, mark), first mark first; weight orders the list, largest first."""

    candidate: str
    part: str
    maximum: float
    marks: tuple[tuple[str, float], ...]
    reasons: tuple[str, ...]
    text: str
    weight: float


def look_again(comparison: Comparison) -> tuple[Again, ...]:
    """Responses whose marks differ by more than the tolerance, whose points differ though the marks agree, or whose mark was provisional
    and is not confirmed; those furthest apart, for their worth, first."""
    found: dict[tuple[str, str], list[Pair]] = {}
    for pair in comparison.pairs:
        found.setdefault((pair.candidate, pair.part), []).append(pair)
    listed = [a for pairs in found.values() if (a := _again(pairs)) is not None]
    return tuple(sorted(listed, key=lambda a: -a.weight))


def _again(pairs: Sequence[Pair]) -> Again | None:
    first = pairs[0].first
    marks = [first, *(p.second for p in pairs)]
    values = [m.mark for m in marks]
    spread, allowed = max(values) - min(values), pairs[0].tolerance
    reasons = []
    weight = spread / first.maximum
    if spread > allowed + 1e-9:
        reasons.append(f"marks {plain(spread)} apart, more than the {plain(allowed)} allowed")
        weight += 2
    crossed = _points_crossed(marks)
    if crossed and spread == 0:
        reasons.append(f"the same mark for different points ({crossed})")
        weight += 1
    if any(m.referred for m in marks) and spread > 0:
        reasons.append("one of the marks was provisional, referred to a person")
        weight += 0.5
    if not reasons:
        return None
    text = next((m.text for m in marks if m.text), "")
    return Again(
        candidate=first.candidate,
        part=first.part,
        maximum=first.maximum,
        marks=tuple((m.marker, m.mark) for m in marks),
        reasons=tuple(reasons),
        text=text,
        weight=weight,
    )


def _points_crossed(marks: Sequence[Mark]) -> str:
    """Names of the points that two of the markers marked differently; "" when there are none."""
    names: dict[str, set[float]] = {}
    for mark in marks:
        for point in mark.points:
            names.setdefault(point.name, set()).add(point.mark)
    return ", ".join(name for name, values in names.items() if len(values) > 1)
