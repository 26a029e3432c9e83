"""The readings a candidate tests: which test it is, and whether its value is right."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from marker.expression import Number, walk
from marker.kinds.proportion.compiled import ProportionPart
from marker.kinds.sides import Shown
from marker.kinds.typed_numbers import close
from marker.physics.graphs import RELATIONS, Relation, constants


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One reading tested. `relation` the proportion the test is for; `right` False when the number given is not the value of the test."""

    relation: Relation
    reading: int
    value: float
    right: bool
    line: int
    typed: str


def trials_of(part: ProportionPart, values: Sequence[Shown]) -> Iterator[Trial]:
    """Each test of a reading: arithmetic on its numbers first, then bare numbers that are its constant."""
    found: list[Trial] = []
    for index, value in enumerate(values):
        if not value.typed:
            trial = _worked(part, value, values[index + 1 :])
            if trial is not None:
                found.append(trial)
    yield from found
    tested = {t.reading for t in found if t.relation == part.spec.relation}
    worked_lines = {t.line for t in found}
    free = [i for i in range(len(part.constant.values)) if i not in tested]
    for value in values:
        if value.typed and value.line not in worked_lines and not _is_reading(part, value):
            reading = next((i for i in free if _states(part, value, part.constant.values[i])), None)
            if reading is not None:
                free.remove(reading)
                yield Trial(
                    relation=part.spec.relation, reading=reading, value=value.raw, right=True, line=value.line, typed=f"{value.raw:g}"
                )


def _worked(part: ProportionPart, value: Shown, later: Sequence[Shown]) -> Trial | None:
    """Arithmetic on one reading's numbers: which test it is, and whether the number written after it is its value."""
    numbers = [n.value for n in walk(value.expr) if isinstance(n, Number)]
    for reading, relation, target in _targets(part):
        if not _uses(part, numbers, reading, relation):
            continue
        for goal in (target, 1.0 / target if target else math.inf):
            if close(value.raw, goal, slack=1e-6):
                given = next((v for v in later if v.typed and v.side.chain == value.side.chain and v.side.place > value.side.place), None)
                right = given is None or _is_value(given, goal)
                typed = f"{given.raw:g}" if given is not None else ""
                stated = given.raw if given is not None else value.raw
                own = stated if goal == target else (1.0 / stated if stated else math.inf)
                return Trial(relation=relation, reading=reading, value=own, right=right, line=value.line, typed=typed)
    return None


def _targets(part: ProportionPart) -> Iterator[tuple[int, Relation, float]]:
    """(reading, relation, its constant), the relation asked for first."""
    for relation in sorted(RELATIONS, key=lambda r: r != part.spec.relation):
        if relation == "exponential" and part.spec.relation != "exponential":
            continue
        try:
            found = constants(relation, part.x.values, part.y.values)
        except ValueError:
            continue
        if relation == "exponential":
            pairs = sorted(zip(part.x.values, part.y.values, strict=True))
            found = tuple(d / b for (_, b), (_, d) in pairwise(pairs))
        yield from ((i, relation, c) for i, c in enumerate(found))


def _uses(part: ProportionPart, numbers: Sequence[float], reading: int, relation: Relation) -> bool:
    """True when the arithmetic holds the numbers of that reading, in the table's units or converted by a power of ten."""
    if relation == "exponential":
        pairs = sorted(zip(part.x.values, part.y.values, strict=True))
        wanted = (pairs[reading][1], pairs[reading + 1][1])
    else:
        wanted = (part.x.values[reading], part.y.values[reading])
    return all(any(close(n, w, slack=1e-6) for n in numbers) for w in wanted)


def _is_value(given: Shown, target: float) -> bool:
    return any(close(v, target, half, 0.005) for v, half in ((given.raw, given.half_raw), (given.si, given.half_si)))


def _states(part: ProportionPart, value: Shown, target: float) -> bool:
    """True for a bare number that is a constant at three figures or so: 0.4 is not taken for 0.3725."""
    for goal in (target, 1.0 / target if target else math.inf):
        if close(value.raw, goal, min(value.half_raw, 0.02 * abs(goal)), 0.003):
            return True
    return False


def _is_reading(part: ProportionPart, value: Shown) -> bool:
    return any(close(value.raw, v, slack=1e-9) for v in (*part.x.values, *part.y.values))
