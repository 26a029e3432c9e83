"""Who marks what again: an even share each, and nobody the work of their own class or what they marked first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marker.errors import Problem
from marker.moderation.model import MarkSet, refuse
from marker.moderation.sampling import Drawn, Sample, by_chance


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondMarker:
    """A second marker and the classes they teach."""

    name: str
    classes: tuple[str, ...] = ()


def allocate(
    sample: Sample, marks: MarkSet, markers: Sequence[SecondMarker], copies: int = 1, common: int = 0
) -> Mapping[str, tuple[Drawn, ...]]:
    """Second marker -> the scripts or responses they mark, in sample order.

    copies   how many second markers mark each script;  common  so many scripts go to every marker who may have them, so that all
             markers share some work (their severity can then be compared)
    Raises   WorkbookError naming each candidate for whom too few second markers are free.
    """
    free = {d.candidate: [m.name for m in markers if _may_mark(m, d.candidate, marks)] for d in sample.drawn}
    short = [d for d in sample.drawn if len(free[d.candidate]) < copies]
    refuse(_nobody_free(d, marks, copies, len(free[d.candidate])) for d in short)
    load = {m.name: 0 for m in markers}
    given: dict[str, set[str]] = {d.candidate: set() for d in sample.drawn}
    size = {d.candidate: len(d.parts) for d in sample.drawn}
    shared = set(by_chance(sample.draw, free, "common")[:common])
    for candidate in sorted(by_chance(sample.draw, free, "allocation"), key=lambda c: (c not in shared, len(free[c]))):
        order = by_chance(sample.draw, free[candidate], candidate)
        wanted = len(order) if candidate in shared else copies
        for name in sorted(order, key=lambda n: load[n])[:wanted]:
            given[candidate].add(name)
            load[name] += size[candidate]
    return {m.name: tuple(d for d in sample.drawn if m.name in given[d.candidate]) for m in markers}


def _may_mark(marker: SecondMarker, candidate: str, marks: MarkSet) -> bool:
    if marks.classes.get(candidate, "") in marker.classes and marks.classes.get(candidate):
        return False
    return all(m.marker.casefold() != marker.name.casefold() for m in marks.marks_of(candidate))


def _nobody_free(drawn: Drawn, marks: MarkSet, copies: int, found: int) -> Problem:
    who = f"candidate {drawn.candidate}" + (f", class {marks.classes[drawn.candidate]}" if drawn.candidate in marks.classes else "")
    return Problem(
        where=who,
        seen=f"{found} of the second markers named may mark this script, since nobody marks their own class or their own first marks",
        expected=f"{copies}",
        mend="Name another second marker.",
    )
