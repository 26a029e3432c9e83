"""Reliability of several markers, or several parts: intraclass correlations, Fleiss kappa, Cronbach's alpha."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from marker.moderation.agreement import LEVEL, Estimate, Floats

NAN = float("nan")


@dataclass(frozen=True, slots=True, kw_only=True)
class MeanSquares:
    """Two-way analysis of variance of an (n, k) table: between rows, within rows, between columns, residual."""

    rows: float
    within: float
    columns: float
    residual: float
    n: int
    k: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Intraclass:
    """The six forms of Shrout and Fleiss. (2,1): absolute agreement of one marker; (3,1): consistency; (·,k): mean of the k markers."""

    icc11: Estimate
    icc21: Estimate
    icc31: Estimate
    icc1k: Estimate
    icc2k: Estimate
    icc3k: Estimate
    squares: MeanSquares


def mean_squares(table: Floats) -> MeanSquares:
    n, k = table.shape
    grand = table.mean()
    rows, columns = table.mean(axis=1), table.mean(axis=0)
    between = k * float(((rows - grand) ** 2).sum())
    across = n * float(((columns - grand) ** 2).sum())
    inside = float(((table - rows[:, None]) ** 2).sum())
    left = max(0.0, inside - across)
    return MeanSquares(
        rows=between / (n - 1), within=inside / (n * (k - 1)), columns=across / (k - 1), residual=left / ((n - 1) * (k - 1)), n=n, k=k
    )


def intraclass(table: Sequence[Sequence[float]] | Floats, level: float = LEVEL) -> Intraclass | None:
    """Intraclass correlations of an (n, k) table: rows are responses or candidates, columns markers, no gaps.

    Returns  None for fewer than two rows or columns, or when all rows have the same mean and marks (nothing to correlate).
    Source   Shrout and Fleiss 1979, Psychological Bulletin 86; interval of (2,1) after their equation for
             a two-way random model (Fleiss and Shrout 1978).
    """
    x = np.asarray(table, dtype=float)
    if x.ndim != 2 or min(x.shape) < 2 or np.ptp(x) == 0:
        return None
    m = mean_squares(x)
    tail = 0.5 + level / 2
    one = _ratio_form(m.rows, m.within, m.n - 1, m.n * (m.k - 1), m.k, tail)
    three = _ratio_form(m.rows, m.residual, m.n - 1, (m.n - 1) * (m.k - 1), m.k, tail)
    two = _absolute(m, tail)
    k = m.k
    return Intraclass(
        icc11=one, icc21=two, icc31=three, icc1k=_stepped(one, k), icc2k=_stepped(two, k), icc3k=_stepped(three, k), squares=m
    )


def _ratio_form(top: float, bottom: float, df1: int, df2: int, k: int, tail: float) -> Estimate:
    """ICC from one ratio of mean squares, F = top/bottom: (F − 1)/(F + k − 1), likewise for its limits."""
    if top == 0 and bottom == 0:
        return Estimate(value=NAN)
    if bottom == 0:
        return Estimate(value=1.0, low=1.0, high=1.0)
    f = top / bottom
    low, high = f / float(stats.f.ppf(tail, df1, df2)), f * float(stats.f.ppf(tail, df2, df1))
    return Estimate(value=(f - 1) / (f + k - 1), low=(low - 1) / (low + k - 1), high=(high - 1) / (high + k - 1))


def _absolute(m: MeanSquares, tail: float) -> Estimate:
    """ICC(2,1) and its interval by Satterthwaite's degrees of freedom."""
    n, k = m.n, m.k
    below = m.rows + (k - 1) * m.residual + k * (m.columns - m.residual) / n
    if below <= 0:
        return Estimate(value=NAN)
    value = (m.rows - m.residual) / below
    if m.residual == 0:
        return Estimate(value=value) if m.columns else Estimate(value=value, low=value, high=value)
    ratio = m.columns / m.residual
    share = n * (1 + (k - 1) * value) - k * value
    df = (k - 1) * (n - 1) * (k * value * ratio + share) ** 2 / ((n - 1) * k**2 * value**2 * ratio**2 + share**2)
    up, down = float(stats.f.ppf(tail, n - 1, df)), float(stats.f.ppf(tail, df, n - 1))
    spread = k * m.columns + (k * n - k - n) * m.residual
    low = n * (m.rows - up * m.residual) / (up * spread + n * m.rows)
    high = n * (down * m.rows - m.residual) / (spread + n * down * m.rows)
    return Estimate(value=value, low=low, high=high)


def _stepped(single: Estimate, k: int) -> Estimate:
    """Reliability of the mean of k markers from that of one (Spearman and Brown)."""
    return Estimate(value=_brown(single.value, k), low=_brown(single.low, k), high=_brown(single.high, k))


def _brown(value: float, k: int) -> float:
    below = 1 + (k - 1) * value
    return k * value / below if below > 0 else NAN


@dataclass(frozen=True, slots=True, kw_only=True)
class ManyMarkers:
    """Fleiss kappa: overall, per category, observed and chance agreement, and its standard error when there is no agreement but chance."""

    value: float
    categories: tuple[float, ...]
    observed: float
    expected: float
    error: float


def fleiss_kappa(counts: NDArray[np.integer] | Sequence[Sequence[int]]) -> ManyMarkers:
    """Agreement of several markers beyond chance on categories.

    counts   (n, categories): how many markers put each response there; every row adds up to the same number of markers, 2 or more.
    Returns  nan when all marks fall into one category.
    Source   Fleiss 1971, Psychological Bulletin 76; standard error Fleiss, Nee and Landis 1979.
    """
    table = np.asarray(counts, dtype=float)
    raters = table.sum(axis=1)
    if table.ndim != 2 or not len(table) or np.ptp(raters) != 0 or raters[0] < 2:
        raise ValueError("every response needs the same number of markers, at least two")
    n, m = len(table), float(raters[0])
    p = table.sum(axis=0) / (n * m)
    observed = float(((table**2).sum(axis=1) - m).sum() / (n * m * (m - 1)))
    expected = float((p**2).sum())
    q = 1 - p
    with np.errstate(divide="ignore", invalid="ignore"):
        single = 1 - (table * (m - table)).sum(axis=0) / (n * m * (m - 1) * p * q)
    spread = float((p * q).sum())
    inner = spread**2 - float((p * q * (q - p)).sum())
    error = float(np.sqrt(max(0.0, 2 * inner / (n * m * (m - 1)))) / spread) if spread else NAN
    value = (observed - expected) / (1 - expected) if expected < 1 else NAN
    return ManyMarkers(value=value, categories=tuple(float(s) for s in single), observed=observed, expected=expected, error=error)


def alpha_from_variances(parts: int, sum_of_part_variances: float, total_variance: float) -> float:
    """Cronbach's alpha from variances taken with one and the same divisor (Bland and Altman 1997, BMJ 314)."""
    if parts < 2 or total_variance <= 0:
        return NAN
    return parts / (parts - 1) * (1 - sum_of_part_variances / total_variance)


def cronbach_alpha(table: Sequence[Sequence[float]] | Floats, level: float = LEVEL) -> Estimate:
    """Internal consistency of an (n candidates, k parts) table of marks, with Feldt's interval.

    Convention   "matched variances": parts' and total's variances have the same divisor, so that n or n − 1 gives the same alpha;
                 for 0/1 marks this is KR-20. (Mixing divisors n and n − 1 gives another number.)
    Returns      nan for fewer than two parts or candidates, or when all totals are equal.
    Source       Cronbach 1951; interval Feldt 1965, Psychometrika 30.
    """
    x = np.asarray(table, dtype=float)
    if x.ndim != 2 or min(x.shape) < 2:
        return Estimate(value=NAN)
    value = alpha_from_variances(x.shape[1], float(x.var(axis=0, ddof=1).sum()), float(x.sum(axis=1).var(ddof=1)))
    if np.isnan(value):
        return Estimate(value=NAN)
    df1, df2 = len(x) - 1, (len(x) - 1) * (x.shape[1] - 1)
    tail = 0.5 + level / 2
    return Estimate(
        value=value, low=1 - (1 - value) * float(stats.f.ppf(tail, df1, df2)), high=1 - (1 - value) * float(stats.f.ppf(1 - tail, df1, df2))
    )
