"""A worked example read as a response is, line by line, with the values it gives its letters: does a step look wrong?

Every equality of numbers must hold within the rounding shown, units counted where both sides have one; a relation in letters must hold for
the values the example has given its letters so far, or be open. A value is given where a chain that begins with one letter comes to a
number. What is checked is reading and arithmetic only; whether a step is the one asked for is judged with a scheme.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from marker.expression import Expr, Symbol, symbols
from marker.physics.equality import Grade, equal
from marker.physics.evaluate import Unknown, Value, evaluate
from marker.reading import read_lines, write_plain
from marker.reading.model import Reading, Statement, SymbolTable

EMPTY = SymbolTable()
_HOLDS = (Grade.EXACT, Grade.CLOSE, Grade.NUMBERS, Grade.SCALES, Grade.UNDECIDED)


@dataclass(frozen=True, slots=True)
class WrongStep:
    """Two sides of a line that do not agree, as they were read."""

    text: str
    left: str
    right: str


@dataclass(slots=True)
class _Known:
    """Values of letters so far, and what the last side of the statement before can mean."""

    values: dict[str, Value] = field(default_factory=dict)
    before: tuple[Expr, ...] = ()


def wrong_steps(lines: list[str]) -> Iterator[WrongStep]:
    """The steps of a response that do not hold, in order."""
    known = _Known()
    for line in read_lines(lines, EMPTY):
        for statement in line.statements:
            yield from _settled(statement, known)


def _settled(statement: Statement, known: _Known) -> list[WrongStep]:
    """The wrong steps of the reading with the fewest that leaves no more open than the plainest; the letters it gives a value keep it."""
    best: tuple[int, Reading, list[WrongStep]] | None = None
    decided = -1
    for reading in statement.readings:
        for before in known.before if reading.opens and known.before else (None,):
            count, found = _steps(statement.text, reading, before, known.values)
            decided = count if decided < 0 else decided
            if count >= decided and (best is None or len(found) < best[0]):
                best = (len(found), reading, found)
        if best is not None and not best[2]:
            break
    assert best is not None
    _keep(best[1], known)
    known.before = tuple(dict.fromkeys((best[1].sides[-1], *(r.sides[-1] for r in statement.readings))))
    return best[2]


def _steps(text: str, reading: Reading, before: Expr | None, values: Mapping[str, Value]) -> tuple[int, list[WrongStep]]:
    """How many of its equalities can be decided, and those that do not hold."""
    sides, relations = list(reading.sides), list(reading.relations)
    if before is not None:
        sides, relations = [before, *sides], [reading.opening or "=", *relations]
    given = _given(reading)
    values = {name: v for name, v in values.items() if name not in given}
    found, decided = [], 0
    for (left, right), sign in zip(pairwise(sides), relations, strict=True):
        if sign not in "=≈":
            continue
        result = equal(left, right, values, roughly=sign == "≈")
        decided += result.grade is not Grade.UNDECIDED
        letters = symbols(left) | symbols(right)
        if result.grade not in _HOLDS or (result.same_dimensions is False and not letters):
            found.append(WrongStep(text, write_plain(left), write_plain(right)))
    return decided, found


def _given(reading: Reading) -> frozenset[str]:
    """Letters the statement may give a new value: v of "v = … = 3 m/s", φ of "cos φ = 1"."""
    if reading.opens:
        return frozenset()
    first = reading.sides[0]
    alone = len(reading.sides) == 2 and len(symbols(first)) == 1 and not symbols(reading.sides[1])
    return symbols(first) if alone or isinstance(first, Symbol) else frozenset()


def _keep(reading: Reading, known: _Known) -> None:
    given = _given(reading)
    value = None
    if isinstance(reading.sides[0], Symbol) and len(reading.sides) > 1:
        try:
            value = evaluate(reading.sides[-1], known.values)
        except Unknown:
            value = None
    for name in given:
        known.values.pop(name, None)
        if value is not None:
            known.values[name] = value
