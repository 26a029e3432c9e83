"""Run-on chains: `E = 640×9.81×9 = 56506 − 37200 = 19306 = 1/2×640×v² = 7.8`, where "=" comes to mean "and then".

A chain is cut into breaths. Within a breath each side may be another way to write the side before; the next breath begins where a side
cannot equal the one before it but goes on from it: it holds that value as one of its numbers, or writes a letter that the value is for.
Source: common practice, no source (examiners follow each step of such a line as if it were a line of its own).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from marker.expression import Expr, Number, Symbol, put, symbols
from marker.frozen import frozen
from marker.judging.given import STRUCTURAL
from marker.judging.leaves import is_numeric, is_value, template, value_parts
from marker.judging.values import implied_by, nearly
from marker.scheme.compiled import CompiledCalculation

Value = tuple[float, float]


@frozen
class Breath:
    """Sides start to end (excluded) of a chain.

    closes   the value of the last side, where only the next breath writes it (`3.0 × 4.0 = 12.0 + 5.0`)
    subject  the letter a breath that begins with a value is about, as the equation before it had it open
    """

    start: int
    end: int
    closes: Number | None = None
    subject: Expr | None = None


def breaths(
    part: CompiledCalculation, sides: Sequence[Expr], is_step: Callable[[Expr], bool]
) -> tuple[tuple[Expr, ...], tuple[Breath, ...]]:
    """The sides, letters that stand for the value before them replaced by it, and the breaths they fall into.

    is_step   whether numbers by themselves stand for some quantity, for sides that do not take up the value before them
    """
    out = list(sides)
    found: list[Breath] = []
    start, subject = 0, None
    for i in range(len(sides) - 1):
        before, after = out[i], out[i + 1]
        closes: Number | None = None
        following: Expr | None = None
        if is_numeric(before) and is_numeric(after):
            going, closes = _goes_on(part, before, after, is_step)
        elif is_numeric(before):
            taken = _takes_up(part, before, after, out[i + 2 :])
            going = taken is not None and i + 2 < len(sides)
            out[i + 1] = taken if going and taken is not None else after
        elif isinstance(before, Symbol) and i > start and is_numeric(out[i - 1]) and is_numeric(after):
            going, _ = _goes_on(part, out[i - 1], after, is_step)
        else:
            following = _opened(part, out[start : i + 1], after)
            going = following is not None
        if going:
            found.append(Breath(start=start, end=i + 1, closes=closes, subject=subject))
            start, subject = i + 1, following
    return tuple(out), (*found, Breath(start=start, end=len(sides), subject=subject))


def _goes_on(
    part: CompiledCalculation, before: Expr, after: Expr, is_step: Callable[[Expr], bool]
) -> tuple[bool, Number | None]:
    """Numbers after numbers: a new step when the two differ and the second takes up the value of the first (or is a step by itself)."""
    if is_value(after):
        return False, None
    first, second = _value(part, before), _value(part, after)
    if first is None or second is None or nearly(second[1], first[1]):
        return False, None
    turned = nearly(second[0], first[0])  # the same quantity, divided by the size of a unit written with its units
    if turned and not any(leaf.unit is not None for leaf in template(after).leaves):
        return False, None
    for leaf in template(after).leaves:
        telling = leaf.number.figures[1] >= 2 or leaf.raw not in STRUCTURAL or (leaf.raw == first[1] and leaf.raw > 2)
        if telling and (nearly(leaf.raw, first[1], leaf.number.half) or nearly(leaf.si, first[0], leaf.number.half)):
            return True, None if is_value(before) else leaf.number
    return not turned and is_value(before) and is_step(after), None


def _takes_up(part: CompiledCalculation, before: Expr, after: Expr, rest: Sequence[Expr]) -> Expr | None:
    """`7.54e7 = stress/3.61e-4`: the letter first written after a value is that value, and the side goes on from it.

    Not so in `9000 = n × 8.31 × 291 = n = 3.72`, where the letter is what the equation is solved for.
    """
    names = symbols(after) - {"π"}
    if len(names) != 1 or not is_value(before) or isinstance(after, Symbol) or names & part.data.keys():
        return None
    number, unit = value_parts(before)
    if number is None or unit is not None:
        return None
    name = next(iter(names))
    solved = implied_by(part, (before, after), name) if rest and is_value(rest[0]) and name in part.system.base else None
    value = _value(part, rest[0]) if solved is not None else None
    comes_out = value is not None and solved is not None and nearly(value[1], solved[1], 0.005 * abs(value[1]))
    if comes_out or any(isinstance(side, Symbol) and side.name == name for side in rest):
        return None
    first = _first_factor(after)
    return put(after, {name: number}) if isinstance(first, Symbol) and first.name == name else None


def _first_factor(tree: Expr) -> Expr:
    from marker.expression import Power, Product, Quotient, Sum

    match tree:
        case Quotient(over=a):
            return _first_factor(a)
        case Product(factors=fs):
            return _first_factor(fs[0])
        case Sum(terms=ts):
            return _first_factor(ts[0])
        case Power():
            return tree
    return tree


def _opened(part: CompiledCalculation, before: Sequence[Expr], after: Expr) -> Expr | None:
    """`19306 = 1/2×640×v² = 7.8`: the one open letter of an equation in numbers, for the value after it that is not the side's."""
    side = before[-1]
    held = next((_value(part, s) for s in reversed(before[:-1]) if is_numeric(s)), None)
    if not is_value(after) or held is None or isinstance(side, Symbol) or not template(side).leaves:
        return None
    value = _value(part, after)
    names = sorted(symbols(side) - part.data.keys() - {"π"})
    if value is None or len(names) != 1 or nearly(value[1], held[1]) or nearly(value[0], held[0]):
        return None
    return Symbol(name=names[0], known=True)


def _value(part: CompiledCalculation, side: Expr) -> Value | None:
    implied = implied_by(part, (Symbol(name="#", known=True), side), "#")
    return None if implied is None else (implied[0], implied[1])
