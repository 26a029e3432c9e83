"""Agreement of two markers on the same responses: shares, bias, limits of agreement, kappa.

Differences are second minus first throughout: a positive bias means the second marker gave more.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import stats

LEVEL = 0.95
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """A figure with its standard error and interval at the stated level; nan where it cannot be had."""

    value: float
    low: float = float("nan")
    high: float = float("nan")
    error: float = float("nan")


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """A share of responses: count of n, with Wilson's interval."""

    count: int
    n: int
    low: float
    high: float

    @property
    def value(self) -> float:
        return self.count / self.n if self.n else float("nan")


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Limits of agreement of Bland and Altman: mean difference ± multiplier × SD, each with its interval.

    deviation  SD of the differences (divisor n − 1);  error  standard error of a limit, √(3/n) × SD, their approximation
    """

    mean: float
    deviation: float
    low: float
    high: float
    error: float
    low_interval: tuple[float, float]
    high_interval: tuple[float, float]


def share(count: int, n: int, level: float = LEVEL) -> Share:
    """Share with Wilson's score interval (Wilson 1927, Journal of the American Statistical Association 22)."""
    if not n:
        return Share(count=0, n=0, low=float("nan"), high=float("nan"))
    z = float(stats.norm.ppf(0.5 + level / 2))
    p, spread = count / n, z * z / n
    middle = (p + spread / 2) / (1 + spread)
    half = z * np.sqrt(p * (1 - p) / n + spread / (4 * n)) / (1 + spread)
    return Share(count=count, n=n, low=max(0.0, float(middle - half)), high=min(1.0, float(middle + half)))


def bias(differences: Sequence[float] | Floats, clusters: Sequence[Hashable] | None = None, level: float = LEVEL) -> Estimate:
    """Mean difference with its t interval.

    clusters  the candidate of each difference: responses of one candidate are not independent, so the standard error is
              taken over candidates (cluster-robust, with G/(G − 1)); with one response each it is SD/√n.
    """
    d = np.asarray(differences, dtype=float)
    n = len(d)
    if n == 0:
        return Estimate(value=float("nan"))
    mean = float(d.mean())
    groups = _cluster_sums(d - mean, clusters)
    g = len(groups)
    if g < 2:
        return Estimate(value=mean)
    error = float(np.sqrt(g / (g - 1) * np.sum(groups**2)) / n)
    half = float(stats.t.ppf(0.5 + level / 2, g - 1)) * error
    return Estimate(value=mean, low=mean - half, high=mean + half, error=error)


def _cluster_sums(residuals: Floats, clusters: Sequence[Hashable] | None) -> Floats:
    if clusters is None:
        return residuals
    sums: dict[Hashable, float] = {}
    for key, value in zip(clusters, residuals, strict=True):
        sums[key] = sums.get(key, 0.0) + float(value)
    return np.asarray(list(sums.values()), dtype=float)


def limits_of_agreement(differences: Sequence[float] | Floats, multiplier: float | None = None, level: float = LEVEL) -> Limits:
    """Limits of agreement; `multiplier` 1.96 unless given (Bland and Altman 1986 print 2).

    Source   Bland and Altman 1986, Lancet i: 307-310.
    Returns  nan throughout for fewer than two differences.
    """
    d = np.asarray(differences, dtype=float)
    n = len(d)
    nan = float("nan")
    if n < 2:
        return Limits(
            mean=float(d.mean()) if n else nan,
            deviation=nan,
            low=nan,
            high=nan,
            error=nan,
            low_interval=(nan, nan),
            high_interval=(nan, nan),
        )
    mean, deviation = float(d.mean()), float(d.std(ddof=1))
    z = float(stats.norm.ppf(0.5 + level / 2)) if multiplier is None else multiplier
    error = float(np.sqrt(3 / n)) * deviation
    half = float(stats.t.ppf(0.5 + level / 2, n - 1)) * error
    low, high = mean - z * deviation, mean + z * deviation
    return Limits(
        mean=mean,
        deviation=deviation,
        low=low,
        high=high,
        error=error,
        low_interval=(low - half, low + half),
        high_interval=(high - half, high + half),
    )


def repeatability(first: Sequence[float], second: Sequence[float], multiplier: float = 2.0) -> float:
    """How far one marker's two marks of the same response may lie apart: multiplier × root mean square difference.

    Source   British Standards Institution's coefficient as used in Bland and Altman 1986, with their multiplier of 2.
    """
    d = np.asarray(second, dtype=float) - np.asarray(first, dtype=float)
    return float(multiplier * np.sqrt(np.mean(d**2)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Slope:
    """Slope of difference on mean, with its interval: whether the bias changes with the mark (Bland and Altman 1986)."""

    value: float
    low: float
    high: float
    p: float


def slope_on_mean(first: Sequence[float] | Floats, second: Sequence[float] | Floats, level: float = LEVEL) -> Slope:
    """nan for fewer than three pairs or when all means are equal."""
    x, y = np.asarray(first, dtype=float), np.asarray(second, dtype=float)
    mean, difference = (x + y) / 2, y - x
    nan = float("nan")
    if len(x) < 3 or np.ptp(mean) == 0:
        return Slope(value=nan, low=nan, high=nan, p=nan)
    if np.ptp(difference) == 0:
        return Slope(value=0.0, low=0.0, high=0.0, p=1.0)
    fit = stats.linregress(mean, difference)
    half = float(stats.t.ppf(0.5 + level / 2, len(x) - 2)) * float(fit.stderr)
    return Slope(value=float(fit.slope), low=float(fit.slope) - half, high=float(fit.slope) + half, p=float(fit.pvalue))


def cross_table(first: Sequence[float], second: Sequence[float], scale: Sequence[float]) -> Floats:
    """Counts (k, k) of responses; rows are first marks, columns second marks, in the order of `scale`."""
    place = {round(value, 6): i for i, value in enumerate(scale)}
    counts = np.zeros((len(scale), len(scale)))
    for a, b in zip(first, second, strict=True):
        counts[place[round(a, 6)], place[round(b, 6)]] += 1
    return counts


def quadratic_cost(scale: Sequence[float]) -> Floats:
    """Disagreement weights (k, k): squared distance on the scale of marks."""
    values = np.asarray(scale, dtype=float)
    return np.asarray((values[:, None] - values[None, :]) ** 2, dtype=float)


def kappa(
    counts: NDArray[np.floating] | Sequence[Sequence[float]],
    cost: NDArray[np.floating] | Sequence[Sequence[float]] | None = None,
    n: float | None = None,
    level: float = LEVEL,
) -> Estimate:
    """Agreement between two markers beyond chance; with `cost`, near misses count in part.

    counts   (k, k) responses, or proportions with `n` given; rows are marker A, columns marker B.
    cost     (k, k) disagreement weights with zero diagonal, no unit; None for plain kappa.
    Returns  at most 1, with a large-sample interval; nan when chance alone would agree fully (one and the same mark throughout).
    Source   Cohen 1960, 1968; variance Fleiss, Cohen and Everitt 1969, Psychological Bulletin 72.
    """
    table = np.asarray(counts, dtype=float)
    weights = np.ones_like(table) - np.eye(len(table)) if cost is None else np.asarray(cost, dtype=float)
    if table.shape != weights.shape or table.shape[0] != table.shape[1]:
        raise ValueError(f"counts {table.shape} and weights {weights.shape} must be the same square")
    total = float(table.sum())
    if total == 0:
        return Estimate(value=float("nan"))
    p = table / total
    chance = np.outer(p.sum(axis=1), p.sum(axis=0))
    expected = float((weights * chance).sum())
    if expected == 0:
        return Estimate(value=float("nan"))
    value = 1 - float((weights * p).sum()) / expected
    error = _kappa_error(p, weights / weights.max(), total if n is None else n)
    half = float(stats.norm.ppf(0.5 + level / 2)) * error
    return Estimate(value=value, low=max(-1.0, value - half), high=min(1.0, value + half), error=error)


def _kappa_error(p: Floats, cost: Floats, n: float) -> float:
    """Large-sample standard error, with agreement weights 1 − cost."""
    w = 1 - cost
    rows, columns = p.sum(axis=1), p.sum(axis=0)
    observed, expected = float((w * p).sum()), float((w * np.outer(rows, columns)).sum())
    row_mean, column_mean = w @ columns, rows @ w
    pull = row_mean[:, None] + column_mean[None, :]
    spread = (p * (w * (1 - expected) - pull * (1 - observed)) ** 2).sum() - (observed * expected - 2 * expected + observed) ** 2
    return float(np.sqrt(max(0.0, float(spread)) / n)) / (1 - expected) ** 2
