"""A model answer taken apart: its equations in letters, the values put in for them, and the values found."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from marker.expression import Expr, Number, Symbol, Unit, UnitFactor, children, put, symbols, walk
from marker.judging.leaves import is_numeric, value_parts
from marker.physics.evaluate import Unknown, evaluate
from marker.reading import read_lines
from marker.reading.model import Line, SymbolEntry, SymbolTable
from marker.scheme.draft.align import align, laid_beside
from marker.scheme.draft.letters import letters_of

_COUNTED = frozenset({"molecule", "atom", "particle", "electron", "ion", "photon", "proton", "nucleus", "decay", "turn"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """An equation in letters as the model answer has it; `line` from 0. `numbers` is what stands in its place with values put in."""

    left: Expr
    right: Expr
    line: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Assigned:
    """A value that a letter is given. `worked` when working leads to it; `put_in` when it was seen only in a substitution."""

    letter: str
    number: Number
    unit: Unit | None
    si: float
    line: int
    worked: bool = False
    put_in: bool = False
    text: str = ""


@dataclass(slots=True)
class Taken:
    """What has been taken from the lines so far. `stands_for` lists (head, expression in letters) of every chain, in order."""

    equations: list[Written] = field(default_factory=list)
    assigned: list[Assigned] = field(default_factory=list)
    stands_for: list[tuple[Expr, Expr]] = field(default_factory=list)
    loose: list[tuple[int, Expr]] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """All of a model answer: equations, assignments in order, letters of angles, and lines that could not be read.

    loose  (line, number or quantity) put in where no letter could be told
    """

    equations: tuple[Written, ...]
    assigned: tuple[Assigned, ...]
    angles: frozenset[str]
    unread: tuple[int, ...] = ()
    loose: tuple[tuple[int, Expr], ...] = ()


def working_of(lines: Sequence[str]) -> Working:
    """Reads a model answer twice: once for its letters, then with those letters known, so that 2g is no longer two grams."""
    first = read_lines(lines, SymbolTable())
    names, angles = letters_of(lines, first)
    table = SymbolTable(tuple(SymbolEntry(name=n, angle=n in angles) for n in names))
    return _taken_apart(read_lines(lines, table), angles)


def _taken_apart(read: Sequence[Line], angles: frozenset[str]) -> Working:
    taken = Taken()
    unread: list[int] = []
    chain: list[Expr] = []
    for number, line in enumerate(read):
        if line.unread and not line.statements:
            unread.append(number)
        for statement in line.statements:
            reading = statement.readings[0]
            if statement.withdrawn or any(r in "<>≤≥∝" for r in reading.relations):
                continue
            chain = [*chain, *reading.sides] if reading.opens and chain else list(reading.sides)
            _judge(chain, len(reading.sides), number, taken)
    return Working(
        equations=tuple(taken.equations), assigned=tuple(taken.assigned), angles=angles, unread=tuple(unread), loose=tuple(taken.loose)
    )


def _judge(chain: list[Expr], new: int, line: int, taken: Taken) -> None:
    """Works through the sides that are new in a chain: letters, numbers put in, or a value."""
    for place in range(max(len(chain) - new, 1), len(chain)):
        before, side = chain[place - 1], chain[place]
        if _both_sides(before, side, line, taken):
            continue
        if is_numeric(side):
            _numeric(chain[0], side, chain[1:place], line, taken)
            continue
        if not (_letters_only(before) and _letters_only(side)):
            pass
        elif _has_letters(before) or (place == 1 and not isinstance(side, Symbol)):
            _equation(before, side, line, taken)
        else:
            _numeric(side, before, chain[: place - 1], line, taken)
        if not isinstance(side, Symbol):
            taken.stands_for.append((chain[0], side))
        if not _letters_only(side) and _has_letters(chain[0]):
            _mixed(chain[: place + 1], line, taken)


def _both_sides(left: Expr, right: Expr, line: int, taken: Taken) -> bool:
    """27.6 = 0.064 R beside V = IR: an equation with all its values put in but one, the letter still sought."""
    if isinstance(left, Symbol) or isinstance(right, Symbol) or not (_has_letters(left) or _has_letters(right)):
        return False
    for equation in reversed(taken.equations):
        for a, b in ((equation.left, equation.right), (equation.right, equation.left)):
            found = laid_beside((a, b), (left, right))
            sought = (symbols(a) | symbols(b)) - {"π"} - found.keys()
            if found and len(sought) == 1 and sought == (symbols(left) | symbols(right)) - {"π"}:
                for letter, value in found.items():
                    _assign(letter, value, line, taken, put_in=True)
                number = Number(text="", value=math.nan)
                name = next(iter(sought))
                taken.assigned.append(Assigned(letter=name, number=number, unit=None, si=math.nan, line=line, worked=True, put_in=True))
                return True
    return False


def _has_letters(node: Expr) -> bool:
    return bool(symbols(node) - {"π"})


def _letters_only(node: Expr) -> bool:
    """No measured numbers among the letters."""
    return not any(isinstance(n, UnitFactor) and not n.unit.dimensions[7] for n in walk(node))


def _equation(left: Expr, right: Expr, line: int, taken: Taken) -> None:
    if left == right or any(" " in n for n in symbols(left) | symbols(right)):
        return
    if not any(e.left == left and e.right == right for e in taken.equations):
        taken.equations.append(Written(left=left, right=right, line=line))


def _mixed(chain: Sequence[Expr], line: int, taken: Taken) -> None:
    """Values put in for some letters only: the expression before tells which."""
    shape = next(_shapes(chain[0], chain[1:-1], taken), None)
    if shape is not None:
        for letter, value in align(shape, chain[-1]).items():
            _assign(letter, value, line, taken, put_in=True)


def _numeric(head: Expr, side: Expr, between: Sequence[Expr], line: int, taken: Taken) -> None:
    """Numbers under a head: a value of its letter, or values put in for the letters of an equation."""
    number, _ = value_parts(side)
    if isinstance(head, Symbol):
        worked = number is None or any(not isinstance(b, Symbol) and value_parts(b)[0] is None for b in between)
        _assign(head.name, side, line, taken, worked=worked)
    else:
        _towards(head, side, line, taken)
    if number is None:
        _put_in(head, side, between, line, taken)


def _put_in(head: Expr, side: Expr, between: Sequence[Expr], line: int, taken: Taken) -> None:
    """Which number stands for which letter, by the nearest expression in letters that the numbers agree with."""
    for shape in _shapes(head, between, taken):
        found = align(shape, side)
        if found and _agrees(shape, found, side):
            for letter, value in found.items():
                _assign(letter, value, line, taken, put_in=True)
            return
    if not (isinstance(head, Symbol) and _one_case(head, side, line, taken)):
        taken.loose.extend((line, value) for value in _values_in(side))


def _values_in(side: Expr) -> Iterator[Expr]:
    """The measured numbers of an expression, each with its unit."""
    if value_parts(side)[0] is not None:
        yield side
        return
    for inner in children(side):
        yield from _values_in(inner)


def _one_case(head: Symbol, side: Expr, line: int, taken: Taken) -> bool:
    """y_1 worked out as the equation for y says: the equation holds for y_1 too."""
    stem = head.name.rstrip("'0123456789").partition("_")[0]
    for other, shape in reversed(taken.stands_for):
        if isinstance(other, Symbol) and other != head and other.name.partition("_")[0] == stem:
            found = align(shape, side)
            if found and _agrees(shape, found, side):
                _equation(head, shape, line, taken)
                for letter, value in found.items():
                    _assign(letter, value, line, taken, put_in=True)
                return True
    return False


def _towards(head: Expr, side: Expr, line: int, taken: Taken) -> None:
    """v² = 269 m²/s²: the letter under the square is being worked out, though its value comes later."""
    names = symbols(head) - {"π"} - {a.letter for a in taken.assigned}
    if len(names) == 1:
        number = Number(text="", value=math.nan)
        letter = next(iter(names))
        taken.assigned.append(Assigned(letter=letter, number=number, unit=None, si=math.nan, line=line, worked=True, put_in=True))


def _shapes(head: Expr, between: Sequence[Expr], taken: Taken) -> Iterator[Expr]:
    """Expressions in letters that numbers in this place may stand for: of the same chain first, then of earlier lines."""
    yield from (b for b in reversed(between) if _has_letters(b) and not isinstance(b, Symbol))
    if not isinstance(head, Symbol):
        yield head
    for other, shape in reversed(taken.stands_for):
        if other == head:
            yield shape
    for equation in reversed(taken.equations):
        if equation.right == head and not isinstance(equation.left, Symbol):
            yield equation.left
    yield from _written_out(head, between, taken)


def _written_out(head: Expr, between: Sequence[Expr], taken: Taken) -> Iterator[Expr]:
    """The same with one letter replaced by what an earlier line says it is: PA with A as πr²."""
    shapes = [b for b in reversed(between) if _has_letters(b)] + [s for h, s in reversed(taken.stands_for) if h == head]
    meant = {h.name: s for h, s in taken.stands_for if isinstance(h, Symbol)}
    for shape in shapes:
        for name in sorted(symbols(shape) & meant.keys()):
            if not (isinstance(head, Symbol) and head.name in symbols(meant[name])) and name not in symbols(meant[name]):
                yield put(shape, {name: meant[name]})


def _agrees(shape: Expr, found: dict[str, Expr], side: Expr) -> bool:
    """With the values that were found put in, the shape comes to the numbers typed (letters left over are not judged)."""
    tree = put(shape, found)
    if _has_letters(tree):
        return True
    try:
        a, b = evaluate(tree), evaluate(side)
    except Unknown:
        return False
    return abs(a.si - b.si) <= 0.02 * max(abs(a.si), abs(b.si)) or abs(a.raw - b.raw) <= 0.02 * max(abs(a.raw), abs(b.raw))


def _assign(letter: str, value: Expr, line: int, taken: Taken, *, worked: bool = False, put_in: bool = False) -> None:
    """Notes a value; one worked out of several numbers, such as (65.0 + 12.0) kg, is kept as what it comes to."""
    number, unit = value_parts(value)
    if number is None:
        try:
            found = evaluate(value)
        except Unknown:
            return
        from marker.scheme.checking.solution import shortest, typed_number

        number, unit = typed_number(shortest(found.si), found.si), None
        if found.dimensions is not None and any(found.dimensions):
            from marker.physics.units import parse_unit
            from marker.scheme.checking.units_text import in_units

            units = parse_unit(in_units(found.dimensions))
            unit = units[0][0] if units else None
        if put_in is False:
            put_in = True
    if unit is not None and unit.name in _COUNTED:
        unit = None
    if unit is not None and unit.offset and letter.startswith("Δ"):
        unit = Unit(name="K", scale=unit.scale, dimensions=unit.dimensions)
    si = (number.value + (unit.offset if unit else 0.0)) * (unit.scale if unit else 1.0)
    taken.assigned.append(Assigned(letter=letter, number=number, unit=unit, si=si, line=line, worked=worked, put_in=put_in))
