"""How lines are read, for a person to look at: readings, assumptions, and which equalities hold and why not."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from itertools import pairwise

from marker.errors import MarkerError, Problem
from marker.expression import Expr, symbols
from marker.physics.equality import Equality, Grade, equal
from marker.physics.evaluate import Unknown, Value, evaluate
from marker.reading.lines import read_lines
from marker.reading.model import Line, Reading, Statement, SymbolEntry, SymbolTable
from marker.reading.plain import read_quantity
from marker.reading.writing import write_plain, write_reading
from marker.resources import grammar

MOST_READINGS = 6


class GivenError(MarkerError):
    """A value given with --with that is not one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EqualityReport:
    """One equality of a reading: its two sides, whether it holds, and a sentence on why not (or how)."""

    left: str
    right: str
    holds: bool
    grade: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingReport:
    text: str
    assumptions: tuple[str, ...]
    equalities: tuple[EqualityReport, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StatementReport:
    """A statement: the characters it was read from (columns from 1, end excluded), and its readings, the chosen one first."""

    typed: str
    columns: tuple[int, int]
    withdrawn: bool
    readings: tuple[ReadingReport, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineReading:
    number: int
    typed: str
    statements: tuple[StatementReport, ...]
    unread: tuple[tuple[str, str], ...]


def report(lines: Sequence[str], given: Sequence[str] = ()) -> tuple[LineReading, ...]:
    """Reads lines with the values given ("I = 3.2 A"). Raises GivenError when one is not a value."""
    values = dict(_given(g) for g in given)
    table = SymbolTable(tuple(SymbolEntry(name=n) for n in values))
    out, before = [], None
    for line in read_lines(lines, table):
        reports = []
        for statement in line.statements:
            chosen = _chosen(statement, values, before)
            order = [chosen, *(r for r in statement.readings if r is not chosen)][:MOST_READINGS]
            reports.append(_statement(line, statement, [_reading(r, values, before) for r in order]))
            before = chosen.sides[-1] if chosen.sides else before
        unread = tuple((f.text, f.why) for f in line.unread)
        out.append(LineReading(number=line.number, typed=line.text, statements=tuple(reports), unread=unread))
    return tuple(out)


def _given(text: str) -> tuple[str, Value]:
    name, _, quantity = text.partition("=")
    try:
        found = read_quantity(quantity.strip())
    except ValueError as error:
        raise GivenError(Problem(where=f"--with {text!r}", seen=str(error), mend='Write for example --with "I = 3.2 A".')) from error
    if not name.strip():
        raise GivenError(Problem(where=f"--with {text!r}", seen="no symbol", mend='Write for example --with "I = 3.2 A".'))
    dimensions = found.unit.dimensions if found.unit else (0.0,) * 8
    return name.strip(), Value(found.si, found.number.value, dimensions)


def _chosen(statement: Statement, values: dict[str, Value], before: Expr | None) -> Reading:
    """The plainest reading whose equalities all hold; the plainest of all when none does."""
    for reading in statement.readings:
        pairs = _pairs(reading, before)
        if pairs and all(equal(a, b, values, roughly=sign == "≈").holds for a, sign, b in pairs):
            return reading
    return statement.readings[0]


def _pairs(reading: Reading, before: Expr | None) -> list[tuple[Expr, str, Expr]]:
    sides, relations = list(reading.sides), list(reading.relations)
    if reading.opens and before is not None:
        sides.insert(0, before)
        relations.insert(0, reading.opening or "=")
    return [(a, sign, b) for (a, b), sign in zip(pairwise(sides), relations, strict=True)]


def _reading(reading: Reading, values: dict[str, Value], before: Expr | None) -> ReadingReport:
    return ReadingReport(
        text=write_reading(reading),
        assumptions=tuple(dict.fromkeys(a.text for a in reading.assumptions)),
        equalities=tuple(_equality(a, sign, b, values) for a, sign, b in _pairs(reading, before)),
    )


def _statement(line: Line, statement: Statement, readings: Sequence[ReadingReport]) -> StatementReport:
    start, end = statement.at
    distinct = tuple({r.text: r for r in reversed(readings)}.values())[::-1]
    return StatementReport(
        typed=line.text[start:end], columns=(start + 1, end + 1), withdrawn=statement.withdrawn or line.withdrawn, readings=distinct
    )


_WHY = {
    Grade.EXACT: "agrees to the figures shown",
    Grade.CLOSE: "agrees to about 1 %, as after rounding on the way",
    Grade.NUMBERS: "the numbers agree, the units do not",
    Grade.SCALES: "the same temperature on two scales",
    Grade.FALSE: "the two sides differ",
    Grade.UNDECIDED: "a letter has no value here",
}


def _equality(left: Expr, sign: str, right: Expr, values: dict[str, Value]) -> EqualityReport:
    found = equal(left, right, values, roughly=sign == "≈")
    return EqualityReport(
        left=write_plain(left), right=write_plain(right), holds=found.holds, grade=found.grade.value, why=_why(found, left, right, values)
    )


def _why(found: Equality, left: Expr, right: Expr, values: dict[str, Value]) -> str:
    if found.grade is Grade.UNDECIDED:
        missing = sorted((symbols(left) | symbols(right)) - values.keys() - {"π"})
        return f"no value is given for {', '.join(missing)}" if missing else "it has no value in the real numbers"
    if found.same_dimensions is False and found.grade in (Grade.EXACT, Grade.CLOSE):
        return "the values agree, the units are of different quantities"
    if found.grade is not Grade.FALSE:
        return _WHY[found.grade]
    try:
        a, b = evaluate(left, values), evaluate(right, values)
    except Unknown:
        return _WHY[found.grade]
    return f"the left side is {a.si:.4g} and the right side {b.si:.4g} in SI units (as typed: {a.raw:.4g} and {b.raw:.4g})"


# --- shown ------------------------------------------------------------------------------------------


def show(lines: Sequence[LineReading], *, as_json: bool = False, colour: bool = False) -> str:
    """The report as text: plain, in colour for a terminal, or as JSON with the same fields."""
    if as_json:
        return json.dumps([asdict(line) for line in lines], ensure_ascii=False, indent=2)
    text = "\n".join(part for line in lines for part in _shown(line))
    return _coloured(text) if colour else text


def _shown(line: LineReading) -> list[str]:
    out = [f"{line.number}  {line.typed}"]
    for statement in line.statements:
        first, *others = statement.readings
        state = " (withdrawn)" if statement.withdrawn else ""
        out.append(f"   read as  {first.text}{state}")
        out.extend(f"      · {a}" for a in first.assumptions)
        out.extend(f"      {_sign(e)} {e.left} = {e.right}: {e.why}" for e in first.equalities)
        out.extend(f"   or as    {o.text}" + (f"  ({'; '.join(o.assumptions)})" if o.assumptions else "") for o in others)
    out.extend(f"   not read {text!r}: {why}" for text, why in line.unread)
    if not line.statements and not line.unread:
        out.append("   a remark: no mathematics found")
    return out


def _sign(e: EqualityReport) -> str:
    return "✓" if e.holds else "?" if e.grade == Grade.UNDECIDED.value else "✗"


def _coloured(text: str) -> str:
    from rich.console import Console
    from rich.text import Text

    console = Console(force_terminal=True, highlight=False)
    styled = Text(text)
    styled.highlight_regex(r"(?m)^\d+  .*$", "bold")
    styled.highlight_regex(r"✓", "green")
    styled.highlight_regex(r"✗", "red")
    styled.highlight_regex(r"(?m)^   or as .*$", "dim")
    with console.capture() as captured:
        console.print(styled, end="", soft_wrap=True)
    return captured.get()


def notation_page() -> str:
    """Every notation that is read, with an example and how it is read."""
    out = []
    for group in tomllib.loads(grammar("notation.toml")).get("group", ()):
        out.append(f"\n{group['name']}")
        out.extend(f"  {row['typed']:<36} {row['read']}" for row in group.get("example", ()))
    return "\n".join(out).strip()
