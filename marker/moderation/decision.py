"""From the comparison of totals to a decision, and from a decision to adjusted marks. A proposal: a person decides."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from marker.moderation.agreement import Floats, bias, slope_on_mean
from marker.moderation.compare import TotalPair
from marker.moderation.model import MarkSet, plain, signed
from marker.moderation.rules import DecisionRule, Tolerance

NAN = float("nan")


class Verdict(StrEnum):
    """What the rule proposes for one marker's marks."""

    STANDS = "stands"
    CONSTANT = "constant adjustment"
    REGRESSION = "regression adjustment"
    BAND = "adjustment by band"
    RE_MARK = "re-mark: erratic"
    MORE = "more needed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjustment:
    """How a total changes. Straight line: shift + slope × total; by band: `knots` of (first total, second total) joined by lines.

    cap       largest change in marks;  step  totals are rounded to it, halves up
    """

    shift: float = 0.0
    slope: float = 1.0
    knots: tuple[tuple[float, float], ...] = ()
    cap: float = math.inf
    step: float = 1.0

    def change(self, total: float) -> float:
        """The capped change of one total, before rounding."""
        if self.knots:
            xs, changes = [x for x, _ in self.knots], [y - x for x, y in self.knots]
            wanted = float(np.interp(total, xs, changes))
        else:
            wanted = self.shift + (self.slope - 1) * total
        return max(-self.cap, min(self.cap, wanted))

    def apply(self, total: float, lowest: float, highest: float) -> float:
        """The adjusted total, rounded, within its limits."""
        change = self.change(total)
        if change == 0:
            return total
        value = math.floor((total + change) / self.step + 0.5 + 1e-9) * self.step
        return max(lowest, min(highest, value))


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """What a rule proposes for the marks of one first marker (`marker` "" for all), and why.

    within_now, within_after   share of totals within tolerance as they are, and with the adjustment
    """

    marker: str
    verdict: Verdict
    reason: str
    rule: str
    n: int
    adjustment: Adjustment | None = None
    within_now: float = NAN
    within_after: float = NAN


def decide(
    pairs: Sequence[TotalPair], maximum: float, rule: DecisionRule, tolerance: Tolerance, marker: str = "", first: Sequence[str] = ()
) -> Decision:
    """The decision for the totals of one marker.

    maximum   marks of the parts compared;  first  candidates checked first, under a staged rule (default: all)
    """
    a = np.array([p.first for p in pairs], dtype=float)
    b = np.array([p.second for p in pairs], dtype=float)
    within = tolerance.for_total(maximum)
    checked = np.array([not first or p.candidate in first for p in pairs], dtype=bool)
    verdict, reason, adjustment = _verdict(a, b, checked, maximum, within, rule)
    return Decision(
        marker=marker,
        verdict=verdict,
        reason=reason,
        rule=rule.name,
        n=len(pairs),
        adjustment=adjustment,
        within_now=_share_within(b - a, within) if len(a) else NAN,
        within_after=_share_after(a, b, adjustment, within) if adjustment is not None else NAN,
    )


Told = tuple[Verdict, str, Adjustment | None]


def _verdict(a: Floats, b: Floats, checked: NDArray[np.bool_], maximum: float, within: float, rule: DecisionRule) -> Told:
    if len(a) < rule.minimum:
        return Verdict.MORE, f"{len(a)} whole scripts were marked twice; the rule needs {rule.minimum}.", None
    early = _staged(a, b, checked, within, rule) if rule.staged else _stands(a, b, within, rule.share)
    if early is not None:
        return early
    trouble = _order_lost(a, b, rule)
    return (Verdict.RE_MARK, trouble, None) if trouble else _adjusted(a, b, maximum, within, rule)


def _staged(a: Floats, b: Floats, checked: NDArray[np.bool_], within: float, rule: DecisionRule) -> Told | None:
    """All stand when those checked first are within tolerance; else a script of each band is needed."""
    d = (b - a)[checked]
    if len(d) and _share_within(d, within) == 1:
        return Verdict.STANDS, f"All {len(d)} scripts checked first are within {plain(within)} marks: all marks stand.", None
    if len(a) < rule.bands:
        reason = f"Not all scripts checked first are within {plain(within)} marks: mark one script of each of the {rule.bands} bands."
        return Verdict.MORE, reason, None
    return None


def _adjusted(a: Floats, b: Floats, maximum: float, within: float, rule: DecisionRule) -> Told:
    """The first allowed adjustment that brings enough totals within tolerance; without one the marks are erratic."""
    now = _percent(_share_within(b - a, within))
    trouble = f"Only {now} of totals are within {plain(within)} marks, and the differences show no even pattern to adjust by."
    for kind in rule.adjustments:
        found = _ADJUSTMENTS[kind](a, b, maximum, rule)
        if found is None:
            continue
        verdict, adjustment, why = found
        after = _share_after(a, b, adjustment, within)
        if after >= rule.share - 1e-9:
            return verdict, f"{why} With it {_percent(after)} of totals are within {plain(within)} marks.", adjustment
        trouble = (
            f"{why} But even then only {_percent(after)} of totals would be within {plain(within)} marks"
            f" (the rule asks {_percent(rule.share)})."
        )
    return Verdict.RE_MARK, trouble, None


def _share_after(a: Floats, b: Floats, adjustment: Adjustment, within: float) -> float:
    return _share_within(b - np.array([x + adjustment.change(float(x)) for x in a]), within)


def _share_within(differences: Floats, within: float) -> float:
    return float(np.mean(np.abs(differences) <= within + 1e-9))


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"


def _stands(a: Floats, b: Floats, within: float, share: float) -> Told | None:
    """Marks stand when enough totals are within tolerance and the mean difference is too (half of it, when it is certain)."""
    now, mean = _share_within(b - a, within), bias(b - a)
    certain = not math.isnan(mean.low) and (mean.low > 0 or mean.high < 0)
    limit = within / 2 if certain else within
    if now < share - 1e-9 or abs(mean.value) > limit + 1e-9:
        return None
    reason = f"{_percent(now)} of totals are within {plain(within)} marks and the mean difference is {signed(mean.value)} marks."
    return Verdict.STANDS, reason, None


def _order_lost(a: Floats, b: Floats, rule: DecisionRule) -> str:
    if len(a) < 3 or np.ptp(a) == 0 or np.ptp(b) == 0:
        return ""
    order = float(stats.spearmanr(a, b).statistic)
    if order >= rule.rank_order:
        return ""
    asked = plain(rule.rank_order)
    return f"The rank order is not kept: rank correlation {order:.2f}, the rule asks {asked}. Mark again, or draw a second sample."


Found = tuple[Verdict, Adjustment, str]


def _constant(a: Floats, b: Floats, maximum: float, rule: DecisionRule) -> Found | None:
    """An even shift, when the mean difference is certain and does not vary with the mark."""
    mean, slope = bias(b - a), slope_on_mean(a, b)
    if math.isnan(mean.low) or mean.low <= 0 <= mean.high:
        return None
    if "regression" in rule.adjustments and not math.isnan(slope.low) and not slope.low <= 0 <= slope.high:
        return None
    adjustment = Adjustment(shift=mean.value, cap=maximum * rule.cap_percent / 100, step=rule.round_to)
    interval = f"95 % interval {signed(mean.low)} to {signed(mean.high)}"
    why = f"The second marks differ by {signed(mean.value)} marks on average ({interval}), evenly over the range."
    return Verdict.CONSTANT, adjustment, why


def _regression(a: Floats, b: Floats, maximum: float, rule: DecisionRule) -> Found | None:
    """A straight line, when the difference varies with the mark."""
    slope = slope_on_mean(a, b)
    if math.isnan(slope.low) or slope.low <= 0 <= slope.high or np.ptp(a) == 0:
        return None
    m, c = fit_line(a, b, rule.line)
    if m <= 0:
        return None
    adjustment = Adjustment(shift=c, slope=m, cap=maximum * rule.cap_percent / 100, step=rule.round_to)
    interval = f"95 % interval {signed(slope.low)} to {signed(slope.high)}"
    why = f"The difference changes with the mark (by {signed(slope.value)} for each mark, {interval}): {_line_text(m, c)}."
    return Verdict.REGRESSION, adjustment, why


def _line_text(slope: float, shift: float) -> str:
    return f"adjusted = {slope:.3f} × mark {'+' if shift >= 0 else '−'} {abs(shift):.2f}"


def fit_line(a: Floats, b: Floats, kind: str) -> tuple[float, float]:
    """Slope and shift of b on a: least squares, or orthogonal (Deming with equal errors; Deming 1943)."""
    if kind == "least squares":
        fit = stats.linregress(a, b)
        return float(fit.slope), float(fit.intercept)
    sxx, syy = float(np.var(a, ddof=1)), float(np.var(b, ddof=1))
    sxy = float(np.cov(a, b, ddof=1)[0, 1])
    if sxy == 0:
        return 0.0, float(b.mean())
    slope = (syy - sxx + math.hypot(syy - sxx, 2 * sxy)) / (2 * sxy)
    return slope, float(b.mean() - slope * a.mean())


def _by_band(a: Floats, b: Floats, maximum: float, rule: DecisionRule) -> Found | None:
    """The mean change in each rank band, joined by lines; second means that would reverse the order are pooled."""
    order = np.argsort(a, kind="stable")
    bands = [part for part in np.array_split(order, min(rule.bands, len(a))) if len(part)]
    means = [[float(a[p].mean()), float(b[p].mean()), float(len(p))] for p in bands]
    blocks: list[list[float]] = []
    for block in means:
        blocks.append(list(block))
        while len(blocks) > 1 and (blocks[-1][1] < blocks[-2][1] or blocks[-1][0] <= blocks[-2][0]):
            x2, y2, n2 = blocks.pop()
            x1, y1, n1 = blocks.pop()
            blocks.append([(x1 * n1 + x2 * n2) / (n1 + n2), (y1 * n1 + y2 * n2) / (n1 + n2), n1 + n2])
    knots = tuple((x, y) for x, y, _ in blocks)
    adjustment = Adjustment(knots=knots, cap=maximum * rule.cap_percent / 100, step=rule.round_to)
    changes = ", ".join(f"{signed(y - x, 1)} at {plain(x, 1)}" for x, y in knots)
    return Verdict.BAND, adjustment, f"Adjusted by rank band ({changes} marks)."


_ADJUSTMENTS = {"constant": _constant, "regression": _regression, "by band": _by_band}


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjusted:
    """One candidate's total as first marked and as adjusted; both are kept. compared: the part of it that was open to adjustment."""

    candidate: str
    group: str
    marker: str
    total: float
    compared: float
    adjusted: float

    @property
    def change(self) -> float:
        return self.adjusted - self.total


def adjusted_marks(first: MarkSet, parts: Mapping[str, float], decisions: Sequence[Decision]) -> tuple[Adjusted, ...]:
    """Every candidate of the first marks with the adjustment of their marker; unchanged where there is none.

    When only some parts were compared, the adjustment is of the total of those parts.
    """
    by_marker = {d.marker: d for d in decisions}
    maximum = sum(parts.values())
    rows = []
    for candidate in first.candidates:
        marker = first.first_marker(candidate)
        decision = by_marker.get(marker) or by_marker.get("")
        total = first.totals[candidate]
        compared = sum(m.mark for m in first.marks_of(candidate) if m.part in parts)
        change = 0.0
        if decision is not None and decision.adjustment is not None:
            change = decision.adjustment.apply(compared, 0.0, maximum) - compared
        rows.append(
            Adjusted(
                candidate=candidate,
                group=first.classes.get(candidate, ""),
                marker=marker,
                total=total,
                compared=compared,
                adjusted=total + change,
            )
        )
    return tuple(rows)
