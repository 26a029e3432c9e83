"""A whole response judged: lines read, own letters settled, each statement in the reading the candidate meant."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from html import escape

from marker.expression import Dimensions, has_unit
from marker.judging.desk import Desk, first_desk
from marker.judging.letters import Letters, Pair
from marker.judging.matching import match_letters
from marker.judging.model import JudgedLine, JudgedScript
from marker.judging.origins import OwnNumber, letter
from marker.judging.physics_of import physics_of
from marker.judging.sources import sources_of
from marker.judging.statements import CHEAP, InOrder, judge_in_order, pairs_of
from marker.physics.units import parse_unit
from marker.reading import read_lines
from marker.reading.aliases import indices_exchanged, told_apart
from marker.reading.model import Line, Reading, Statement, SymbolTable
from marker.reading.writing import write_mathml, write_reading
from marker.results import OwnValue
from marker.scheme.compiled import CompiledCalculation

MOST_REMEMBERED = 5_000

Change = Callable[[tuple[Line, ...]], tuple[Line, ...]]


def as_read(lines: tuple[Line, ...]) -> tuple[Line, ...]:
    """The lines as they were read."""
    return lines


def judge_script(
    part: CompiledCalculation, typed: Sequence[str], carried: Mapping[str, OwnValue], change: Change = as_read
) -> JudgedScript:
    """All evidence of a response, in order. Pure: equal lines give equal evidence, for all parts of the same physics.

    carried  the candidate's own answers of earlier parts, under "part.symbol".
    change   what a kind does to the lines read, where it judges some of their working itself
    """
    if change is as_read:
        return _remembered(physics_of(part), tuple(typed), tuple(carried.items()))
    return _script(physics_of(part), typed, carried, change)


@lru_cache(maxsize=MOST_REMEMBERED)
def _remembered(part: CompiledCalculation, typed: tuple[str, ...], carried: tuple[tuple[str, OwnValue], ...]) -> JudgedScript:
    """Judged as read. A class is marked again and again while the rulings, points and tolerances of its scheme are put right."""
    return _script(part, typed, dict(carried), as_read)


def _script(part: CompiledCalculation, typed: Sequence[str], carried: Mapping[str, OwnValue], change: Change) -> JudgedScript:
    """The response with the scheme's spellings; where that leaves something wrong, also with 1 and 2 exchanged in them."""
    table = told_apart(part.table, typed)
    lines, found = _judged(part, table, typed, carried, change)
    other = indices_exchanged(table, typed) if found.desk.wrongs > CHEAP else None
    if other is not None:
        counted = _judged(part, other, typed, carried, change)
        lines, found = counted if counted[1].desk.wrongs < found.desk.wrongs - CHEAP else (lines, found)
    readings = iter(found.chosen)
    judged = tuple(_judged_line(line, [next(readings) for _ in line.statements]) for line in lines)
    doubts = tuple(f"line {x.number}: {f.text!r} could not be read ({f.why})" for x in lines for f in x.unread if not x.withdrawn)
    words = " ".join(line.words for line in lines if not line.withdrawn)
    evidence = tuple(found.desk.evidence)
    return JudgedScript(evidence=evidence, lines=judged, crossed=tuple(found.crossed), words=words, doubts=doubts)


def _judged(
    part: CompiledCalculation, table: SymbolTable, typed: Sequence[str], carried: Mapping[str, OwnValue], change: Change
) -> tuple[tuple[Line, ...], InOrder]:
    """The lines as they are read with these spellings, and their statements judged."""
    lines = change(read_lines(typed, table))
    own, foreign = _carried(part, carried), _foreign(part, carried)
    statements = [_of_use(part, line, s) for line in lines for s in line.statements]

    settled: dict[tuple[Pair, ...], Letters] = {}

    def start(heard: frozenset[int]) -> Desk:
        pairs = tuple(pairs_of(part, statements, heard))
        if pairs not in settled:
            settled[pairs] = match_letters(part, pairs, sources_of(part, tuple(own), (), ()))
        return first_desk(part, settled[pairs], tuple(own), foreign)

    return lines, judge_in_order(statements, start)


def _of_use(part: CompiledCalculation, line: Line, statement: Statement) -> Statement:
    """The statement, withdrawn where its line is; in a part without values without the readings that hold a unit (2s is twice s)."""
    statement = replace(statement, withdrawn=True) if line.withdrawn else statement
    if part.data or part.carry:
        return statement
    unitless = tuple(r for r in statement.readings if not any(has_unit(s) for s in r.sides))
    return replace(statement, readings=unitless) if unitless else statement


def _carried(part: CompiledCalculation, carried: Mapping[str, OwnValue]) -> list[OwnNumber]:
    """Own values of the quantities this part carries; of a quantity whose sign is a matter of choice, with both signs."""
    found = []
    for symbol, (source, name) in part.carry.items():
        for key, own in carried.items():
            if key.split("#")[0] != f"{source}.{name}":
                continue
            for sign in (1.0, -1.0) if symbol in part.signed else (1.0,):
                raw = sign * _raw(own, own.value)
                value = sign * own.value
                meant = letter(symbol)
                found.append(OwnNumber(stands_for=meant, si=value, raw=raw, half=0.0, line=0, symbol=symbol, right=own.right, carried=True))
    return found


def _foreign(part: CompiledCalculation, carried: Mapping[str, OwnValue]) -> tuple[tuple[float, Dimensions | None], ...]:
    """Own values of earlier parts that this part does not carry."""
    wanted = {f"{source}.{name}" for source, name in part.carry.values()}
    return tuple((own.value, _unit_dimensions(own.unit)) for key, own in carried.items() if key.split("#")[0] not in wanted)


def _unit_dimensions(unit: str) -> Dimensions | None:
    found = parse_unit(unit) if unit else ()
    return found[0][0].dimensions if found else None


def _raw(own: OwnValue, fallback: float) -> float:
    try:
        return float(own.typed)
    except ValueError:
        return fallback


def _judged_line(line: Line, chosen: Sequence[Reading]) -> JudgedLine:
    return JudgedLine(
        number=line.number,
        text=line.text,
        readings=tuple(write_reading(r) for r in chosen),
        mathml="".join(_mathml(r) for r in chosen),
        assumptions=tuple(dict.fromkeys(a.text for r in chosen for a in r.assumptions)),
        withdrawn=line.withdrawn or (bool(line.statements) and all(s.withdrawn for s in line.statements)),
        unread=tuple(f.text for f in line.unread),
        remark=not line.statements and not line.unread,
    )


@lru_cache(maxsize=5_000)
def _mathml(reading: Reading) -> str:
    parts = [_inside(write_mathml(s)) for s in reading.sides]
    inner = parts[0] if parts else ""
    for relation, part in zip(reading.relations, parts[1:], strict=False):
        inner += f"<mo>{escape(relation)}</mo>{part}"
    return f'<math xmlns="http://www.w3.org/1998/Math/MathML" display="block"><mrow>{inner}</mrow></math>'


def _inside(mathml: str) -> str:
    """The content of a <math> element."""
    start, end = mathml.find(">"), mathml.rfind("</math>")
    return mathml[start + 1 : end] if mathml.startswith("<math") and end > start else mathml
