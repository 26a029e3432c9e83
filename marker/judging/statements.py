"""The statements of a response judged in order, each in the reading the candidate meant."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise

from marker.expression import Expr, Symbol, has_unit, symbols
from marker.frozen import frozen
from marker.judging.chain import Chain
from marker.judging.desk import Desk, unknown_letters
from marker.judging.leaves import is_numeric, is_value, value_parts
from marker.judging.letters import Pair
from marker.judging.model import Evidence
from marker.judging.variants import numbered_letters, ways_to_take
from marker.physics.evaluate import same_dimensions
from marker.reading.model import Reading, Statement
from marker.reading.writing import write_plain
from marker.scheme.compiled import CompiledCalculation

CHEAP = 1e-9
HIDDEN = 3.0  # what a reading costs that loses a relationship the plainest one shows
MOST_HEARD = 6

Start = Callable[[frozenset[int]], Desk]


@dataclass(slots=True)
class InOrder:
    """Statements judged: the desk afterwards, the reading chosen for each, and the evidence of those that are crossed out."""

    desk: Desk
    chosen: list[Reading] = field(default_factory=list)
    crossed: list[Evidence] = field(default_factory=list)


def judge_in_order(statements: Sequence[Statement], start: Start) -> InOrder:
    """Judges every statement. Where the plainest reading of one is wrong, its other readings are heard, and with them those of
    the statements that hold letters of the candidate's own: a letter may be read in two ways.

    start  a desk to begin at, its letters settled from the plainest reading of every statement and the others of those named.
    When what is heard tells of a letter that it means something else, judging begins again.
    """
    heard: frozenset[int] = frozenset()
    begun = start(heard)
    so_far = InOrder(begun)
    numbered = numbered_letters(begun.part, statements)
    while len(so_far.chosen) < len(statements):
        index = len(so_far.chosen)
        desk, statement, same = so_far.desk, statements[index], _Same(statements[index])
        ahead = _numbers_alone(statements[index + 1]) if index + 1 < len(statements) else None
        best = _judged(desk, same, ahead, numbered)
        if not best.right:
            if index not in heard:
                heard |= {index} | _with_own_letters(statements, begun.part)
                again = start(heard)
                if again.letters != begun.letters:
                    begun, so_far = again, InOrder(again)
                    continue
            best = _judged(desk, same, ahead, numbered, thoroughly=True)
        _take(so_far, statement, best)
    return so_far


def _with_own_letters(statements: Sequence[Statement], part: CompiledCalculation) -> frozenset[int]:
    """Statements whose plainest reading has letters the part does not know."""
    letters = (frozenset[str]().union(*map(symbols, s.readings[0].sides)) for s in statements)
    return frozenset(k for k, names in enumerate(letters) if unknown_letters(part, names))


def _take(so_far: InOrder, statement: Statement, trial: _Trial) -> None:
    if statement.withdrawn:
        so_far.crossed.extend(trial.evidence)
    else:
        so_far.desk = trial.desk
    so_far.chosen.append(trial.reading)


@frozen
class _Trial:
    """One reading judged: the desk after it, what is wrong in it, and the relationships rightly shown in symbols."""

    reading: Reading
    desk: Desk
    evidence: Sequence[Evidence]
    wrongs: float
    shown: frozenset[int]

    @property
    def right(self) -> bool:
        return self.wrongs <= CHEAP


def _numbers_alone(statement: Statement) -> Expr | None:
    """The value a statement is, or the numbers it begins with, when it has no letters."""
    sides = statement.readings[0].sides
    alone = not (statement.label or statement.alternative or statement.withdrawn) and all(map(is_numeric, sides))
    return sides[0] if alone and (len(sides) == 1 or not is_value(sides[0])) else None


class _Same:
    """A statement as a key, equal to itself alone: to compare two would make all their readings."""

    __slots__ = ("statement",)

    def __init__(self, statement: Statement) -> None:
        self.statement = statement

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.statement is other.statement

    def __hash__(self) -> int:
        return id(self.statement)


@lru_cache(maxsize=10_000)
def _judged(desk: Desk, same: _Same, ahead: Expr | None, numbered: frozenset[str], thoroughly: bool = False) -> _Trial:
    """A statement judged from a desk in its plainest reading, or in the one with the fewest wrongs.

    Remembered: lines read alike are the same statements, and many of a class begin with the same lines, so what their responses
    have in common is judged once. The rest of the response counts only as the numbers ahead and the letters with several indices.
    """
    statement = same.statement
    readings = ways_to_take(desk.part, statement, numbered)
    plain = next(readings)
    if not thoroughly:
        return _tried(desk, statement, plain, ahead)
    return _fewest_wrongs(_judged(desk, same, ahead, numbered), desk, statement, readings, ahead)


def _tried(desk: Desk, statement: Statement, reading: Reading, ahead: Expr | None, most: float = math.inf) -> _Trial:
    """One reading judged on a fork of the desk; given up half-way when it has `most` wrongs."""
    text = _texts(reading, statement.text, statement.at[0])
    after = Chain(desk=desk.fork(), statement=statement, reading=reading, text=text, most=desk.wrongs + most, ahead=ahead).judge()
    evidence = after.evidence[len(desk.evidence) :]
    shown = frozenset[int]().union(*(e.relations for e in evidence if e.symbolic and e.right and not e.bare))
    return _Trial(reading=reading, desk=after, evidence=evidence, wrongs=after.wrongs - desk.wrongs, shown=shown)


def _unit_for_quantities(part: CompiledCalculation, plainest: Reading, other: Reading) -> bool:
    """The other reading makes a unit of quantities of the part that the plainest one has, and no value of what is sought: ½mv as ½ mV."""
    if other is plainest or len(plainest.sides) != len(other.sides):
        return False
    heads = [part.dimensions.get(s.name) for s in other.sides if isinstance(s, Symbol)]
    for before, side in zip(plainest.sides, other.sides, strict=True):
        lost = symbols(before) - symbols(side)
        if len(lost) < 2 or not lost <= part.system.base.keys() or not has_unit(side) or has_unit(before):
            continue
        unit = value_parts(side)[1]
        if unit is None or not any(d is not None and same_dimensions(unit.dimensions, d) for d in heads):
            return True
    return False


def _fewest_wrongs(plain: _Trial, desk: Desk, statement: Statement, others: Iterator[Reading], ahead: Expr | None) -> _Trial:
    """The reading with the fewest wrongs; the plainest of those with as few.

    A reading that loses a relationship which the plainest one shows in symbols hides a wrong and does not mend it.
    """
    best, least = plain, plain.wrongs + 0.3 * plain.reading.cost
    for reading in others:
        if 0.3 * reading.cost >= least:
            break
        if _unit_for_quantities(desk.part, plain.reading, reading):
            continue
        trial = _tried(desk, statement, reading, ahead, least - 0.3 * reading.cost)
        hides = bool(plain.shown - trial.shown)
        wrongs = trial.wrongs + 0.3 * reading.cost + (HIDDEN if hides else 0.0)
        if wrongs < least - CHEAP:
            best, least = trial, wrongs
        if trial.right and not hides:
            break
    return best


@lru_cache(maxsize=5_000)
def _texts(reading: Reading, typed: str, at: int) -> tuple[str, ...]:
    """The typed text of each side, as far as its place is known; else the side written out. `at` is the column `typed` begins at."""
    out = []
    for side in reading.sides:
        here = "" if side.at is None else _whole(typed, max(0, side.at[0] - at), max(0, side.at[1] - at))
        out.append(here or write_plain(side))
    return tuple(out)


def _whole(text: str, start: int, end: int) -> str:
    """What is typed there, closed brackets taken along; "" where only a piece of a typeset formula would be left."""
    piece = text[start:end].strip()
    while piece.count("(") > piece.count(")") and text[end : end + 1] == ")":
        end += 1
        piece = text[start:end].strip()
    depth = 0
    for c in piece:
        depth += (c == "{") - (c == "}")
        if depth < 0:
            return ""
    return piece if depth == 0 else ""


def pairs_of(part: CompiledCalculation, statements: Sequence[Statement], heard: frozenset[int]) -> list[Pair]:
    """Sides set equal, in the plainest reading of each statement and in the likeliest others of those `heard`; nothing withdrawn."""
    out: list[Pair] = []
    for index, statement in enumerate(statements):
        if statement.withdrawn:
            continue
        plain = statement.readings[0]
        for reading in statement.readings[:MOST_HEARD] if index in heard else (plain,):
            sides = reading.sides
            if "∝" in reading.relations or _unit_as_letters(plain, reading) or _broken_up(part, plain, reading):
                continue
            out.extend(pairwise(sides))
            if len(sides) > 2 and symbols(sides[0]):
                out.extend((sides[0], b) for b in sides[2:])
    return out


def _broken_up(part: CompiledCalculation, plain: Reading, other: Reading) -> bool:
    """A statement about a quantity of the part, its name alone on the first side, read as one about unknown letters (KE as K times E)."""
    first = plain.sides[0]
    if other is plain or not isinstance(first, Symbol) or first.name not in part.system.base:
        return False
    return bool(unknown_letters(part, symbols(other.sides[0])))


def _unit_as_letters(plain: Reading, other: Reading) -> bool:
    """The other reading makes letters of the unit of a value that a lone letter, or numbers, are set equal to (`v = 1.0 m/s`)."""
    if other is plain or len(plain.sides) != len(other.sides):
        return False
    for (before, value), read in zip(pairwise(plain.sides), other.sides[1:], strict=True):
        stands = isinstance(before, Symbol) or is_numeric(before)
        if stands and is_value(value) and has_unit(value) and symbols(read):
            return True
    return False
