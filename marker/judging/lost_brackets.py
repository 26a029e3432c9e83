"""Brackets of a sum that the candidate had in mind and did not type: told by the kinds of the letters, or by what the numbers come to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from marker.expression import Expr, Negative, Number, Product, Quotient, Sum, symbols, walk
from marker.judging.dimensions import dimensions_of
from marker.judging.leaves import is_numeric, value_parts
from marker.physics.evaluate import Unknown, evaluate, same_dimensions
from marker.reading.model import Assumption, Reading
from marker.reading.structure import SUMS_IN_BRACKETS
from marker.scheme.compiled import CompiledCalculation

MOST_HEARD = 6
SLACK = 2e-3
TAKEN = 1.0  # what a reading costs that is not taken as it stands


def brackets_put_back(part: CompiledCalculation, reading: Reading, others: Sequence[Reading]) -> Iterator[Reading]:
    """`m₁u = m₁ + m₂v` for m₁u = (m₁ + m₂)v: what stands beside the last term of a sum belongs to all of it, the kinds say so.

    So do the numbers of `1800 × 3650 × 26 − 19 = 45990000`: with the brackets the line is true.
    """
    sides = tuple(_bracketed(part, side) for side in reading.sides)
    if sides != reading.sides:
        yield taken(reading, sides, "sum-brackets", SUMS_IN_BRACKETS)
    if not any(isinstance(s, Sum) and is_numeric(s) for s in reading.sides) or _comes_out(reading):
        return
    for other in others[1:MOST_HEARD]:
        if [a.code for a in other.assumptions] == ["sum-brackets"] and _comes_out(other):
            yield replace(other, cost=reading.cost + TAKEN)
            return


def _comes_out(reading: Reading) -> bool:
    """Whether some sum of numbers is followed by a value, and what every such sum comes to is the value after it."""
    found = [(a, value_parts(b)[0]) for a, b in pairwise(reading.sides) if is_numeric(a) and any(isinstance(n, Sum) for n in walk(a))]
    pairs = [(a, number) for a, number in found if number is not None]
    return bool(pairs) and all(_is(a, number) for a, number in pairs)


def _is(side: Expr, number: Number) -> bool:
    try:
        comes_to = evaluate(side)
    except Unknown:
        return False
    return any(abs(x - number.value) <= max(number.half, SLACK * abs(x)) for x in (comes_to.raw, comes_to.si))


def _bracketed(part: CompiledCalculation, side: Expr) -> Expr:
    """The side with the last factors, or the divisor, of a sum taken out of it, where the sum without them is of one kind."""
    if not isinstance(side, Sum):
        return side
    *before, last = side.terms
    match last:
        case Product(factors=(first, *rest)) if rest and _of_one_kind(part, (*before, first)):
            return Product(factors=(Sum(terms=(*before, first)), *rest), at=side.at)
        case Quotient(over=over, under=under) if _of_one_kind(part, (*before, over)):
            return Quotient(over=Sum(terms=(*before, over)), under=under, at=side.at)
        case _:
            return side


def _of_one_kind(part: CompiledCalculation, terms: Sequence[Expr]) -> bool:
    """Letters and products of letters of the part, all of the same dimensions."""
    inner = [t.inner if isinstance(t, Negative) else t for t in terms]
    found = [dimensions_of(t, part.dimensions) for t in inner if symbols(t) and symbols(t) <= part.dimensions.keys()]
    return len(found) == len(terms) and all(d is not None and same_dimensions(d, found[0]) for d in found)


def taken(reading: Reading, sides: tuple[Expr, ...], code: str, text: str) -> Reading:
    """A reading with these sides, not as it stands."""
    note = Assumption(code=code, text=text)
    return replace(reading, sides=sides, cost=reading.cost + TAKEN, assumptions=(*reading.assumptions, note))
