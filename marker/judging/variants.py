"""Ways to take one reading that are a matter of the physics, not of the notation: a sign that is free, a power of ten written once."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from marker.expression import Expr, Negative, Number, Power, Product, Quotient, Sum, Symbol, children, rebuild, symbols
from marker.judging.families import stem
from marker.judging.leaves import is_numeric, template, value_parts
from marker.judging.lost_brackets import brackets_put_back, taken
from marker.judging.lost_squares import squares_a_datum, squares_lost_together
from marker.judging.percentages import as_percentage
from marker.judging.two_values import with_either_sign
from marker.physics.evaluate import Unknown, evaluate
from marker.reading.model import Reading, Statement
from marker.scheme.compiled import CompiledCalculation

LEAST_POWER = 2
MOST_HALVINGS = 40.0
_FIRST = re.compile(r"([^\W\d_])_?[1₁](?![\d.,/])")


def ways_to_take(part: CompiledCalculation, statement: Statement, numbered: frozenset[str]) -> Iterator[Reading]:
    """The statement's readings, each with either sign of ±; after the plainest, the ways to take that one.

    numbered  letters that the response has with several indices (v₁ beside v₂)
    """
    for index, reading in enumerate(_without_indices_for_powers(part, statement, numbered)):
        if index and squares_a_datum(part, reading):
            continue
        yield from with_either_sign(reading)
        if index == 0:
            yield from _counted_the_other_way(part, reading)
            yield from brackets_put_back(part, reading, statement.readings)
            yield from _power_written_once(reading)
            yield from _halved_so_often(reading)
            yield from squares_lost_together(part, reading)
            yield from as_percentage(part, reading)


def numbered_letters(part: CompiledCalculation, statements: Sequence[Statement]) -> frozenset[str]:
    """Letters that have an index other than 2 somewhere, in a plainest reading or as typed: where there is v₁, v2 is v₂."""
    typed = frozenset(found for s in statements for found in _FIRST.findall(s.text))
    names = {n for s in statements for side in s.readings[0].sides for n in symbols(side)} | part.system.base.keys()
    return typed | frozenset(stem(n) for n in names if stem(n) != n and not n.endswith("_2"))


def _without_indices_for_powers(part: CompiledCalculation, statement: Statement, numbered: frozenset[str]) -> Iterator[Reading]:
    """The readings but those in which `d2` of a quantity d is a letter d₂ that nothing else speaks of: its superscript is lost."""
    kept = (r for r in statement.readings if not _has_index_for_power(part, r, numbered))
    first = next(kept, None)
    if first is None:
        yield from statement.readings
        return
    yield first
    yield from kept


def _has_index_for_power(part: CompiledCalculation, reading: Reading, numbered: frozenset[str]) -> bool:
    names = (n for side in reading.sides for n in symbols(side) if n.endswith("_2") and n not in part.system.base)
    return any(stem(n) in part.system.base and stem(n) not in numbered for n in names)


def _counted_the_other_way(part: CompiledCalculation, reading: Reading) -> Iterator[Reading]:
    """`a = −ω²x` where only the size is asked for and the numbers go in without the sign."""
    if not part.either_sign or len(reading.sides) != 2 or reading.opens or any(template(s).leaves for s in reading.sides):
        return
    left, right = reading.sides
    turned = right.inner if isinstance(right, Negative) else Negative(inner=right, at=right.at)
    yield taken(reading, (left, turned), "sign-free", "the sign is a matter of which way is counted as positive")


def _power_written_once(reading: Reading) -> Iterator[Reading]:
    """`5.45 − 3.42 = 2.03 × 10⁻¹⁹`: the power of ten of a sum is written at its result alone."""
    for i, (side, value) in enumerate(pairwise(reading.sides)):
        power = _power_of(side, value)
        if power is not None:
            sides = (*reading.sides[:i], _scaled(side, power), *reading.sides[i + 1 :])
            yield taken(reading, sides, "power-once", "the power of ten of the result belongs to every term before it")


def _halved_so_often(reading: Reading) -> Iterator[Reading]:
    """`37 × (1/2)2.28` for 37 × (1/2)^2.28: the superscript of a half that is taken several times."""
    sides = tuple(_half_raised(side) for side in reading.sides)
    if sides != reading.sides:
        yield taken(reading, sides, "lost-power", "what stands after (1/2) is its superscript")


def _half_raised(side: Expr) -> Expr:
    if not isinstance(side, Product):
        return side
    for i, (base, exponent) in enumerate(pairwise(side.factors)):
        match base, exponent:
            case Quotient(over=Number(value=1.0), under=Number(value=2.0)), Number(value=often) if often > MOST_HALVINGS:
                continue
            case Quotient(over=Number(value=1.0), under=Number(value=2.0)), Number() | Symbol() | Quotient():
                factors = (*side.factors[:i], Power(base=base, exponent=exponent), *side.factors[i + 2 :])
                return Product(factors=factors, at=side.at) if len(factors) > 1 else factors[0]
    return side


def _power_of(side: Expr, value: Expr) -> float | None:
    """10^k when the value is the sum × 10^k and no term of the sum has a power of ten of its own."""
    number = value_parts(value)[0]
    if not isinstance(side, Sum) or number is None or not number.value or not is_numeric(side):
        return None
    if not all(isinstance(_inner(t), Number) and 0.01 <= abs(_number(t)) < 1000 for t in side.terms):
        return None
    try:
        total = evaluate(side).raw
    except Unknown:
        return None
    if not total or number.value / total <= 0:
        return None
    k = round(math.log10(number.value / total))
    scaled = total * 10.0**k
    return 10.0**k if abs(k) >= LEAST_POWER and abs(scaled - number.value) <= max(number.half, 1e-3 * abs(scaled)) else None


def _inner(term: Expr) -> Expr:
    return term.inner if isinstance(term, Negative) else term


def _number(term: Expr) -> float:
    inner = _inner(term)
    return inner.value if isinstance(inner, Number) else math.nan


def _scaled(node: Expr, power: float) -> Expr:
    if isinstance(node, Number):
        return replace(node, value=node.value * power, half=node.half * power)
    parts = children(node)
    return rebuild(node, tuple(_scaled(p, power) for p in parts))
