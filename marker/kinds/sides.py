"""A response as a run of sides and of the numbers shown in them, for kinds that look for values rather than for one relationship.

A line `gradient = 29.6/80 = 0.37 mm/N` has three sides; the last two are said to be the gradient. Each number,
and each piece of arithmetic inside a side, is something the candidate has shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from marker.expression import Dimensions, Expr, Power, Symbol, UnitFactor, children, has_unit
from marker.kinds.meant import ANY_UNIT, Units, best_reading, statements
from marker.kinds.typed_numbers import carries_percent, halves, is_typed_number, letters, value_of
from marker.physics.evaluate import Value, last_place
from marker.reading.model import Line

MOST_SHOWN = 600


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side of a chain of equalities, or a bare expression.

    subject     letter or name it is said to be equal to, "" when nothing says so;  words  prose just before the statement
    chain       number of the statement in the response;  place  number of the side in its statement
    """

    line: int
    chain: int
    place: int
    expr: Expr
    value: Value | None
    subject: str = ""
    words: str = ""
    alternative: bool = False
    final: bool = False
    tentative: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A value on the paper: a typed number with its unit, or a piece of arithmetic.

    si, raw     value with units counted, and as typed with none;  half_si, half_raw  half the last place, nought for arithmetic
    dimensions  None when no unit is written;  percent  written with a % sign;  typed  one number, not arithmetic
    """

    expr: Expr
    si: float
    raw: float
    half_si: float
    half_raw: float
    dimensions: Dimensions | None
    percent: bool
    typed: bool
    side: Side

    @property
    def line(self) -> int:
        return self.side.line


def sides(lines: Sequence[Line], units: Units = ANY_UNIT) -> tuple[Side, ...]:
    """Every side of every statement that counts, in order, each with what it is said to be."""
    found: list[Side] = []
    previous = ""
    for chain, statement in enumerate(statements(lines)):
        reading = best_reading(statement, units)
        subject = previous if reading.opens else ""
        ahead = _first_letter(reading.sides)
        for place, expr in enumerate(reading.sides):
            name = _named(expr)
            value = None if letters(expr) else value_of(expr)
            said = subject or (ahead if value is not None else "")
            found.append(
                Side(
                    line=statement.line,
                    chain=chain,
                    place=place,
                    expr=expr,
                    value=value,
                    subject=said,
                    words=statement.before.lower(),
                    alternative=statement.alternative,
                    final=statement.final,
                    tentative=statement.tentative,
                )
            )
            subject = name or subject
        previous = subject
    return tuple(found)


def _first_letter(parts: Sequence[Expr]) -> str:
    return next((n for n in map(_named, parts) if n), "")


def _named(expr: Expr) -> str:
    """The name of a side that is one letter or name alone."""
    return expr.name if isinstance(expr, Symbol) and expr.name != "π" else ""


def shown(found: Iterable[Side]) -> tuple[Shown, ...]:
    """Every value on the paper in order, a piece of arithmetic before the numbers in it."""
    result: list[Shown] = []
    for side in found:
        for expr in _pieces(side.expr):
            piece = _shown(expr, side)
            if piece is not None:
                result.append(piece)
        if len(result) > MOST_SHOWN:
            break
    return tuple(result)


def _shown(expr: Expr, side: Side) -> Shown | None:
    if letters(expr) or isinstance(expr, UnitFactor):
        return None
    value = value_of(expr)
    if value is None:
        return None
    if value.raw == 0.0:
        return None
    half_si, half_raw = last_place(expr)
    return Shown(
        expr=expr,
        si=value.si,
        raw=value.raw,
        half_si=half_si,
        half_raw=half_raw,
        dimensions=value.dimensions if has_unit(expr) else None,
        percent=carries_percent(expr),
        typed=is_typed_number(expr),
        side=side,
    )


def _pieces(expr: Expr) -> Iterable[Expr]:
    """The tree and its pieces, value and uncertainty of a ± each with the unit written once for both."""
    both = halves(expr)
    if both is not None:
        for half in both:
            yield from _pieces(half)
        return
    yield expr
    if is_typed_number(expr):
        return
    parts = children(expr)
    for part in parts[:1] if isinstance(expr, Power) else parts:
        yield from _pieces(part)
