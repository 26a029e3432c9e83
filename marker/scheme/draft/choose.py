"""From a model answer to the makings of a part: which equations are needed, which values are data, and what is found."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from marker.expression import symbols
from marker.physics.evaluate import same_dimensions
from marker.scheme.draft.complete import fill, from_stem
from marker.scheme.draft.equations import Equation, kept
from marker.scheme.draft.stem import Given, values_given
from marker.scheme.draft.values import Value, close, in_stem, letter_values
from marker.scheme.draft.working import Assigned, Working, Written


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """A run of lines in which every letter keeps one value: the makings of one part.

    goals  letters found that lead to nothing further, in order;  lines  (first, last + 1) of the model answer
    left_out  equations that do not hold with the values, or whose letters have none
    """

    equations: tuple[Equation, ...]
    values: Mapping[str, Value]
    goals: tuple[str, ...]
    lines: tuple[int, int]
    left_out: tuple[Written, ...] = field(default=())


def segments_of(working: Working, stem: str, count: int) -> tuple[Segment, ...]:
    """The model answer cut where a letter takes a second value, each piece with its equations, values and goals."""
    given = values_given(stem)
    cuts = [0, *_cuts(working, count, given), count]
    out: list[Segment] = []
    before: dict[str, Value] = {}
    for start, end in pairwise(cuts):
        segment = _segment(working, given, start, end, before)
        if segment is not None:
            out.append(segment)
            before.update(segment.values)
    return tuple(out)


def _cuts(working: Working, count: int, given: Sequence[Given]) -> list[int]:
    """Lines at which a letter already valued is given another value (not a rounding, another unit or another sign).

    A value that is only put in cuts where it is another one of the question's: a second case of the same equation.
    """
    last: dict[str, Assigned] = {}
    cuts: list[int] = []
    for a in (a for a in working.assigned if math.isfinite(a.si)):
        held = last.get(a.letter)
        if held is not None and (not a.put_in or (held.put_in and in_stem((a,), given) and in_stem((held,), given))) and _other(held, a):
            if not cuts or a.line > cuts[-1]:
                cuts.append(a.line)
            last = {}
        if held is None or not a.put_in:
            last[a.letter] = a
    return [c for c in cuts if 0 < c < count]


def _other(a: Assigned, b: Assigned) -> bool:
    if a.unit is not None and b.unit is not None and not same_dimensions(a.unit.dimensions, b.unit.dimensions):
        return False
    if a.unit is None or b.unit is None:
        near = abs(a.number.value - b.number.value) <= 0.05 * max(abs(a.number.value), abs(b.number.value))
        return not near and not close(a.si, b.si, 0.05)
    return not close(abs(a.si), abs(b.si), 0.05)


def _segment(working: Working, given: Sequence[Given], start: int, end: int, before: Mapping[str, Value]) -> Segment | None:
    written = [e for e in working.equations if start <= e.line < end]
    assigned = [a for a in working.assigned if start <= a.line < end]
    earlier = [e for e in working.equations if e.line < start]
    values = letter_values(assigned, written, given)
    letters = {n for e in written for n in (symbols(e.left) | symbols(e.right))} | {a.letter for a in assigned}
    for name, value in before.items():
        if name in letters and name not in values:
            values[name] = replace(value, source="working" if value.source != "found" else "carried")
    if not any(v.source == "found" for v in values.values()):
        return None
    written += [e for e in earlier if _needed(e, written, values)]
    from_stem(written, values, given, [x for line, x in working.loose if start <= line < end])
    fill(written, values)
    equations, left_out = kept(written, values)
    goals = _goals(equations, values, assigned)
    if not goals:
        return None
    return Segment(equations=equations, values=values, goals=goals, lines=(start, end), left_out=left_out)


def _needed(equation: Written, here: Sequence[Written], values: Mapping[str, Value]) -> bool:
    """An equation stated before a cut serves the piece after it where that piece finds one of its letters without saying how."""
    names = (symbols(equation.left) | symbols(equation.right)) - {"π"}
    found = {n for n, v in values.items() if v.source == "found"}
    explained = {n for e in here for n in (symbols(e.left) | symbols(e.right))}
    return bool(names & found - explained)


def _goals(equations: Sequence[Equation], values: Mapping[str, Value], assigned: Sequence[Assigned]) -> tuple[str, ...]:
    """Letters found that nothing found later rests on, in the order they are found."""
    last = {a.letter: i for i, a in enumerate(assigned)}
    found = [n for n, v in values.items() if v.source == "found" and any(n in e.letters for e in equations)]
    found.sort(key=lambda n: last.get(n, 0))
    out = []
    for name in found:
        later = {n for n in found if last.get(n, 0) > last.get(name, 0)}
        if not any(name in e.letters and e.letters & later for e in equations):
            out.append(name)
    return tuple(out)
