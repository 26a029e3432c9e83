"""Several markers of the same responses at once: Fleiss kappa and intraclass correlations per part and over totals."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from marker.moderation.model import Mark, MarkSet, Response
from marker.moderation.reliability import Intraclass, ManyMarkers, fleiss_kappa, intraclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SeveralMarkers:
    """Agreement of `markers` marks of each of `n` responses to one part (or of totals, `part` "").

    exact   share of responses to which all gave the same mark
    icc     of the responses that the commonest set of markers, `names`, marked; None when there are fewer than two
    """

    part: str
    n: int
    markers: int
    exact: float
    fleiss: ManyMarkers | None
    icc: Intraclass | None
    names: tuple[str, ...]


def several_markers(sets: Sequence[MarkSet], parts: Sequence[str]) -> tuple[SeveralMarkers, ...]:
    """Figures per part, then for totals, from responses marked by three or more; () when there are none.

    Fleiss kappa needs equal numbers of markers: the commonest number of three or more is taken, and other responses are left out.
    """
    by_response: dict[Response, list[Mark]] = {}
    for marks in sets:
        for mark in marks.marks:
            by_response.setdefault(mark.response, []).append(mark)
    found = [s for part in parts if (s := _of_part(part, [g for (_, p), g in by_response.items() if p == part])) is not None]
    totals = _of_totals(by_response, parts)
    return (*found, totals) if totals is not None else tuple(found)


def _of_part(part: str, given: Sequence[Sequence[Mark]]) -> SeveralMarkers | None:
    sizes = Counter(len(g) for g in given if len(g) >= 3)
    if not sizes:
        return None
    size = max(sizes, key=lambda k: (sizes[k], k))
    rows = [g for g in given if len(g) == size]
    scale = sorted({m.mark for g in rows for m in g})
    counts = [[sum(m.mark == value for m in g) for value in scale] for g in rows]
    icc, names = _crossed(rows)
    return SeveralMarkers(
        part=part,
        n=len(rows),
        markers=size,
        exact=sum(len({m.mark for m in g}) == 1 for g in rows) / len(rows),
        fleiss=fleiss_kappa(counts),
        icc=icc,
        names=names,
    )


def _crossed(rows: Sequence[Sequence[Mark]]) -> tuple[Intraclass | None, tuple[str, ...]]:
    """Intraclass correlations of the responses that the commonest set of markers marked, and who they are."""
    sets = Counter(tuple(sorted(m.marker for m in g)) for g in rows)
    names = sets.most_common(1)[0][0]
    whole = [sorted(g, key=lambda m: m.marker) for g in rows if tuple(sorted(m.marker for m in g)) == names]
    return intraclass([[m.mark for m in g] for g in whole]), names


def _of_totals(by_response: dict[Response, list[Mark]], parts: Sequence[str]) -> SeveralMarkers | None:
    """Totals of candidates whose every part was marked by the same three or more markers."""
    totals: dict[str, dict[str, list[float]]] = {}
    for (candidate, part), given in by_response.items():
        if part in parts:
            for mark in given:
                totals.setdefault(candidate, {}).setdefault(mark.marker, []).append(mark.mark)
    whole = {c: {m: sum(v) for m, v in t.items() if len(v) == len(parts)} for c, t in totals.items()}
    sets = Counter(tuple(sorted(t)) for t in whole.values() if len(t) >= 3)
    if not sets or len(parts) < 2:
        return None
    names = sets.most_common(1)[0][0]
    rows = np.array([[t[m] for m in names] for t in whole.values() if tuple(sorted(t)) == names], dtype=float)
    exact = float(np.mean(np.ptp(rows, axis=1) == 0))
    return SeveralMarkers(part="", n=len(rows), markers=len(names), exact=exact, fleiss=None, icc=intraclass(rows), names=names)
