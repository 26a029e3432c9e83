"""Points and lines of the three charts, for the workbook and the page alike."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from marker.moderation.compare import Comparison
from marker.moderation.model import signed

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """One scatter chart. points: (x, y, how many coincide); lines: (name, start, end);  of: what a point is."""

    title: str
    x: str
    y: str
    points: tuple[tuple[float, float, int], ...]
    lines: tuple[tuple[str, Point, Point], ...]
    x_range: Point
    y_range: Point
    of: str = "pairs"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bars:
    """One share for each part; intervals () when there are none."""

    title: str
    names: tuple[str, ...]
    values: tuple[float, ...]
    intervals: tuple[Point, ...]


def _pairs(comparison: Comparison) -> tuple[list[Point], float, str]:
    """First and second marks of totals where there are some, else of single responses."""
    if len(comparison.totals) >= 2:
        return [(t.first, t.second) for t in comparison.totals], sum(comparison.parts.values()), "total"
    return [(p.first.mark, p.second.mark) for p in comparison.pairs], max(comparison.parts.values()), "mark"


def _counted(points: list[Point]) -> tuple[tuple[float, float, int], ...]:
    return tuple((x, y, n) for (x, y), n in sorted(Counter(points).items()))


def difference_chart(comparison: Comparison) -> Chart:
    """Difference against mean, with the mean difference and the limits of agreement."""
    pairs, maximum, word = _pairs(comparison)
    group = comparison.overall
    limits = group.totals.limits if group.totals is not None and word == "total" else group.figures.limits
    points = [((a + b) / 2, b - a) for a, b in pairs]
    low, high = 0.0, float(maximum)
    named = (("lower limit", limits.low), ("mean difference", limits.mean), ("upper limit", limits.high))
    lines = tuple((f"{name} {signed(value)}", (low, value), (high, value)) for name, value in named if value == value)
    reach = max(1.0, *(abs(y) for _, y in points), *(abs(a[1]) for _, a, _ in lines))
    return Chart(
        title="Difference against mean",
        x=f"mean of the two {word}s",
        y="second minus first",
        points=_counted(points),
        lines=lines,
        x_range=(low, high),
        y_range=(-1.15 * reach, 1.15 * reach),
    )


def mark_chart(comparison: Comparison) -> Chart:
    """Second against first, with the line of equal marks."""
    pairs, maximum, word = _pairs(comparison)
    top = float(maximum)
    return Chart(
        title="Mark against mark",
        x=f"first {word}",
        y=f"second {word}",
        points=_counted(pairs),
        lines=(("equal marks", (0.0, 0.0), (top, top)),),
        x_range=(0.0, top),
        y_range=(0.0, top),
    )


def part_bars(comparison: Comparison) -> Bars:
    parts = comparison.of("part")
    return Bars(
        title="Exact agreement by part",
        names=tuple(g.name for g in parts),
        values=tuple(g.figures.exact.value for g in parts),
        intervals=tuple((g.figures.exact.low, g.figures.exact.high) for g in parts),
    )
