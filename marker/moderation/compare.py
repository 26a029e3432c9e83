"""First marks against second marks of the same responses: agreement overall and by part, marker, class, point and fault."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd
from scipy import stats

from marker.moderation import agreement as ag
from marker.moderation.agreement import Estimate, Limits, Share, Slope
from marker.moderation.model import Mark, MarkSet, refuse_one
from marker.moderation.reliability import intraclass
from marker.moderation.rules import Tolerance

NAN = float("nan")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """One response marked by two markers, and how far the marks may differ before it matters."""

    first: Mark
    second: Mark
    group: str
    tolerance: float

    @property
    def candidate(self) -> str:
        return self.first.candidate

    @property
    def part(self) -> str:
        return self.first.part

    @property
    def difference(self) -> float:
        """Second minus first."""
        return self.second.mark - self.first.mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """Agreement of pairs of marks. kappa and the intraclass correlations are None where marks of different worth are pooled.

    exact, adjacent, within   equal marks; at most one mark apart; within the tolerance of the part
    bias                      mean of second minus first, standard error over candidates;  mean_absolute  mean size of the difference
    kappa, weighted           Cohen's kappa; with quadratic weights
    """

    n: int
    candidates: int
    first_mean: float
    second_mean: float
    exact: Share
    adjacent: Share
    within: Share
    bias: Estimate
    limits: Limits
    mean_absolute: float
    kappa: Estimate | None = None
    weighted: Estimate | None = None
    icc21: Estimate | None = None
    icc31: Estimate | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TotalPair:
    """One candidate marked twice over all compared parts. Where several second markers marked a response, their mean counts."""

    candidate: str
    first: float
    second: float
    marker: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TotalFigures:
    """Agreement of candidates' totals over the parts compared. order: Spearman's rank correlation."""

    n: int
    maximum: float
    within: Share
    bias: Estimate
    limits: Limits
    mean_absolute: float
    slope: Slope
    order: float
    icc21: Estimate | None
    icc31: Estimate | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Pairs that belong together. kind: "overall", "part", "first marker", "second marker", "class", "point" or "fault"."""

    kind: str
    name: str
    figures: Figures
    totals: TotalFigures | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Pairs, their groups, and the totals of candidates who were marked twice throughout. `parts` are those compared."""

    pairs: tuple[Pair, ...]
    groups: tuple[Group, ...]
    totals: tuple[TotalPair, ...]
    parts: Mapping[str, float]
    tolerance: Tolerance

    def of(self, kind: str) -> tuple[Group, ...]:
        return tuple(g for g in self.groups if g.kind == kind)

    @property
    def overall(self) -> Group:
        return self.of("overall")[0]


def split_markers(marks: MarkSet, first: str = "") -> tuple[MarkSet, tuple[MarkSet, ...]]:
    """Marks of several markers in one table to first marks and second marks.

    A response marked once counts as first marked. Of a response marked several times the mark of `first` is the first one; without a
    name, that of the marker met first in the table. Raises WorkbookError for a name that is not a marker there.
    """
    if first and first not in marks.markers:
        refuse_one(marks.name, f'"{first}" has given no mark there', expected=", ".join(marks.markers))
    if all(len(given) == 1 for given in marks.by_response.values()):
        return marks, ()
    lead = first or marks.markers[0]
    chosen = {response: next((m for m in given if m.marker == lead), given[0]) for response, given in marks.by_response.items()}
    rest = [m for m in marks.marks if chosen[m.response] is not m]
    kept = replace(marks, marks=tuple(chosen.values()))
    names = dict.fromkeys(m.marker for m in rest)
    return kept, tuple(replace(marks, marks=tuple(m for m in rest if m.marker == name)) for name in names)


def pair_up(first: MarkSet, seconds: Iterable[MarkSet], tolerance: Tolerance) -> tuple[Pair, ...]:
    """Every second mark with the first mark of the same response, in the order of the first marks.

    Raises WorkbookError for a second mark without a first one, a marker who would be compared with their own first mark under the same
    name, or one marker's mark of a response given twice.
    """
    found: dict[tuple[str, str], list[Mark]] = {}
    for marks in seconds:
        for mark in marks.marks:
            given = first.by_response.get(mark.response)
            if given is None:
                refuse_one(
                    mark.where, f"candidate {mark.candidate}, part {mark.part} has no first mark", mend="Compare marks of one class test."
                )
            others = [*given, *found.get(mark.response, [])]
            twin = next((m for m in others if m.marker == mark.marker), None)
            if twin is not None:
                seen = f"{mark.marker} has marked candidate {mark.candidate}, part {mark.part} already ({twin.where})"
                refuse_one(mark.where, seen, mend="Give each marker's marks once, and different markers different names.")
            found.setdefault(mark.response, []).append(mark)
    return tuple(
        Pair(
            first=given[0],
            second=second,
            group=first.classes.get(given[0].candidate, ""),
            tolerance=tolerance.for_response(given[0].maximum),
        )
        for response, given in first.by_response.items()
        for second in found.get(response, [])
    )


def compare(first: MarkSet, seconds: Sequence[MarkSet], tolerance: Tolerance) -> Comparison:
    """All figures of a comparison. Raises WorkbookError when a pairing is wrong or nothing was marked twice."""
    pairs = pair_up(first, seconds, tolerance)
    if not pairs:
        refuse_one(first.name, "no response was marked twice", mend="Give a second set of marks of the same responses.")
    parts = {p: m for p, m in first.parts.items() if any(x.part == p for x in pairs)}
    totals = total_pairs(pairs, parts, first)
    return Comparison(pairs=pairs, groups=tuple(_groups(pairs, parts, first, tolerance)), totals=totals, parts=parts, tolerance=tolerance)


def total_pairs(pairs: Sequence[Pair], parts: Mapping[str, float], first: MarkSet) -> tuple[TotalPair, ...]:
    """Totals of the candidates whose every compared part was marked twice."""
    frame = pd.DataFrame(
        [(p.candidate, p.part, p.first.mark, p.second.mark) for p in pairs], columns=["candidate", "part", "first", "second"]
    )
    each = frame.groupby(["candidate", "part"], sort=False).mean()
    wide = each.groupby(level="candidate", sort=False).agg(["sum", "count"])
    whole = wide[wide["first", "count"] == len(parts)]
    return tuple(
        TotalPair(candidate=str(c), first=float(a), second=float(b), marker=first.first_marker(str(c)))
        for c, a, b in zip(whole.index, whole["first", "sum"], whole["second", "sum"], strict=True)
    )


def _groups(pairs: Sequence[Pair], parts: Mapping[str, float], first: MarkSet, tolerance: Tolerance) -> Iterable[Group]:
    maximum = sum(parts.values())

    def totals(of: Sequence[Pair]) -> TotalFigures | None:
        return total_figures(total_pairs(of, parts, first), maximum, tolerance)

    yield Group(kind="overall", name="all responses", figures=figures(pairs, len(parts) == 1), totals=totals(pairs))
    for part in parts:
        yield Group(kind="part", name=part, figures=figures([p for p in pairs if p.part == part], True))
    keys: tuple[tuple[str, Callable[[Pair], str]], ...] = (
        ("first marker", lambda p: p.first.marker),
        ("second marker", lambda p: p.second.marker),
        ("class", lambda p: p.group),
    )
    for kind, key in keys:
        names = dict.fromkeys(key(p) for p in pairs if key(p))
        for name in names if len(names) > 1 else ():
            of = [p for p in pairs if key(p) == name]
            yield Group(kind=kind, name=name, figures=figures(of, len(parts) == 1), totals=totals(of))
    yield from _point_groups(pairs)
    yield from _fault_groups(pairs)


def _point_groups(pairs: Sequence[Pair]) -> Iterable[Group]:
    """Marking points that both markers gave marks to, by name."""
    found: dict[tuple[str, str], list[Pair]] = {}
    for pair in pairs:
        theirs = {q.name: q for q in pair.second.points}
        for point in pair.first.points:
            other = theirs.get(point.name)
            if other is not None and other.maximum == point.maximum:
                found.setdefault((pair.part, point.name), []).append(
                    replace(
                        pair,
                        first=replace(pair.first, mark=point.mark, maximum=point.maximum),
                        second=replace(pair.second, mark=other.mark, maximum=other.maximum),
                        tolerance=0.0,
                    )
                )
    for (part, name), of in found.items():
        yield Group(kind="point", name=f"{part}: {name}", figures=figures(of, True))


def _fault_groups(pairs: Sequence[Pair]) -> Iterable[Group]:
    """Responses in which either set of marks names a fault, fault by fault; a response may show several."""
    found: dict[str, list[Pair]] = {}
    for pair in pairs:
        for code in dict.fromkeys(c for c, _ in (*pair.first.faults, *pair.second.faults)):
            found.setdefault(code, []).append(pair)
    for code in sorted(found, key=lambda c: (-len(found[c]), c)):
        yield Group(kind="fault", name=code, figures=figures(found[code], False))


def figures(pairs: Sequence[Pair], one_worth: bool) -> Figures:
    """Agreement of some pairs. one_worth: all are out of the same maximum and mean the same, so that kappa and ICC have a meaning."""
    a = np.array([p.first.mark for p in pairs], dtype=float)
    b = np.array([p.second.mark for p in pairs], dtype=float)
    d = np.round(b - a, 9)
    n = len(pairs)
    allowed = np.array([p.tolerance for p in pairs])
    found = Figures(
        n=n,
        candidates=len({p.candidate for p in pairs}),
        first_mean=float(a.mean()),
        second_mean=float(b.mean()),
        exact=ag.share(int((d == 0).sum()), n),
        adjacent=ag.share(int((abs(d) <= 1).sum()), n),
        within=ag.share(int((abs(d) <= allowed + 1e-9).sum()), n),
        bias=ag.bias(d, [p.candidate for p in pairs]),
        limits=ag.limits_of_agreement(d),
        mean_absolute=float(abs(d).mean()),
    )
    if not one_worth:
        return found
    scale = sorted({round(float(x), 6) for x in (*a, *b)})
    counts = ag.cross_table(a.tolist(), b.tolist(), scale)
    icc = intraclass(np.column_stack([a, b]))
    return replace(
        found,
        kappa=ag.kappa(counts),
        weighted=ag.kappa(counts, ag.quadratic_cost(scale)),
        icc21=icc.icc21 if icc else None,
        icc31=icc.icc31 if icc else None,
    )


def total_figures(pairs: Sequence[TotalPair], maximum: float, tolerance: Tolerance) -> TotalFigures | None:
    """Agreement of totals; None when no candidate was marked twice throughout."""
    if not pairs:
        return None
    a = np.array([p.first for p in pairs], dtype=float)
    b = np.array([p.second for p in pairs], dtype=float)
    d = np.round(b - a, 9)
    icc = intraclass(np.column_stack([a, b]))
    varied = len(a) > 2 and np.ptp(a) > 0 and np.ptp(b) > 0
    return TotalFigures(
        n=len(pairs),
        maximum=maximum,
        within=ag.share(int((abs(d) <= tolerance.for_total(maximum) + 1e-9).sum()), len(pairs)),
        bias=ag.bias(d),
        limits=ag.limits_of_agreement(d),
        mean_absolute=float(abs(d).mean()),
        slope=ag.slope_on_mean(a, b),
        order=float(stats.spearmanr(a, b).statistic) if varied else NAN,
        icc21=icc.icc21 if icc else None,
        icc31=icc.icc31 if icc else None,
    )
