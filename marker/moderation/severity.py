"""Severity of markers who share responses: a linear model with one effect per response and one per marker.

mark = response + marker + error, by least squares. The marker effects add up to 0, so that each is the number of marks a response
gains (positive: lenient) or loses (negative: severe) with this marker against the average of the markers compared.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy import stats

from marker.errors import MarkerError, Problem
from marker.moderation.agreement import LEVEL, Estimate, Floats
from marker.moderation.model import Mark, Response


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkerSeverity:
    """One marker's effect in marks per response, from `n` shared responses."""

    marker: str
    n: int
    effect: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class Severity:
    """Effects of all markers, residual SD in marks, its degrees of freedom, and the F test that all markers are alike."""

    markers: tuple[MarkerSeverity, ...]
    responses: int
    residual: float
    freedom: int
    f: float
    p: float


def severity(marks: Sequence[Mark], level: float = LEVEL) -> Severity | None:
    """Marker effects from the responses that at least two markers marked; None when there are none, or no freedom is left.

    Raises MarkerError when the markers fall into groups without a common response: their severities cannot be compared.
    """
    shared = _shared(marks)
    if not shared:
        return None
    names = tuple(dict.fromkeys(m.marker for given in shared.values() for m in given))
    _must_connect(names, shared)
    freedom = sum(len(given) for given in shared.values()) - len(shared) - len(names) + 1
    if freedom < 1:
        return None
    counts, laplacian, right, within = _reduced(names, shared)
    inverse = np.linalg.pinv(laplacian)
    effects = inverse @ right
    explained = float(effects @ right)
    variance = max(0.0, within - explained) / freedom
    errors = np.sqrt(variance * np.diag(inverse))
    t = float(stats.t.ppf(0.5 + level / 2, freedom))
    f = explained / (len(names) - 1) / variance if variance > 1e-12 else float("nan")
    return Severity(
        markers=tuple(
            MarkerSeverity(
                marker=name, n=int(counts[i]), effect=Estimate(value=float(e), low=float(e - t * s), high=float(e + t * s), error=float(s))
            )
            for i, (name, e, s) in enumerate(zip(names, effects, errors, strict=True))
        ),
        responses=len(shared),
        residual=float(np.sqrt(variance)),
        freedom=freedom,
        f=f,
        p=float(stats.f.sf(f, len(names) - 1, freedom)) if not np.isnan(f) else float("nan"),
    )


def _shared(marks: Sequence[Mark]) -> dict[Response, list[Mark]]:
    found: dict[Response, list[Mark]] = {}
    for mark in marks:
        found.setdefault(mark.response, []).append(mark)
    return {k: v for k, v in found.items() if len(v) > 1}


def _reduced(names: Sequence[str], shared: dict[Response, list[Mark]]) -> tuple[Floats, Floats, Floats, float]:
    """Marks per marker; normal equations of the marker effects with the response effects swept out; sum of squares within responses."""
    place = {name: i for i, name in enumerate(names)}
    counts = np.zeros(len(names))
    laplacian = np.zeros((len(names), len(names)))
    right = np.zeros(len(names))
    within = 0.0
    for given in shared.values():
        mean = sum(m.mark for m in given) / len(given)
        here = [place[m.marker] for m in given]
        for i, mark in zip(here, given, strict=True):
            counts[i] += 1
            laplacian[i, i] += 1
            right[i] += mark.mark - mean
            within += (mark.mark - mean) ** 2
            for j in here:
                laplacian[i, j] -= 1 / len(given)
    return counts, laplacian, right, within


def _must_connect(names: Sequence[str], shared: dict[Response, list[Mark]]) -> None:
    group = {name: name for name in names}

    def root(name: str) -> str:
        while group[name] != name:
            name = group[name]
        return name

    for given in shared.values():
        for mark in given[1:]:
            group[root(mark.marker)] = root(given[0].marker)
    islands: dict[str, list[str]] = {}
    for name in names:
        islands.setdefault(root(name), []).append(name)
    if len(islands) > 1:
        raise MarkerError(
            Problem(
                where="severity of the markers",
                seen="no common response links " + " with ".join(" and ".join(i) for i in islands.values()),
                mend="Let one marker of each group mark some responses of the other; until then only pairs are compared.",
            )
        )
