"""The numbers a candidate gives as the gradient, the intercept and the quantity wanted."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from marker.expression import Dimensions, Number, Symbol, walk
from marker.kinds.gradient.compiled import GradientPart
from marker.kinds.gradient.slopes import Slope, slopes
from marker.kinds.gradient.wanted import GRADIENT, INTERCEPT
from marker.kinds.run_on import begun_anew
from marker.kinds.sides import Shown, Side, shown, sides
from marker.kinds.typed_numbers import close, halves, holds_number, letters, power_of_ten_between
from marker.physics.evaluate import same_dimensions
from marker.reading.model import Line

UNCERTAINTY = "uncertainty"
_GRADIENT_WORDS = re.compile(r"\b(?:gradient|slope|grad)\b")
_UNCERTAINTY_OF = re.compile(r"\b(?:uncertainty|error) (?:in|of|on)(?: the| this| my)?\s*$")
_UNCERTAINTY_WORDS = re.compile(r"\b(?:uncertainty|error)\b")
_INTERCEPT_WORDS = re.compile(r"\b(?:y.?)?intercept\b")


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """One number given for something. `of` is GRADIENT, INTERCEPT, UNCERTAINTY (of the gradient) or the wanted letter."""

    of: str
    shown: Shown
    order: int
    named: bool

    @property
    def line(self) -> int:
        return self.shown.line


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """What a response shows: quotients, numbers given, and every value on the paper in order."""

    slopes: tuple[Slope, ...]
    claims: tuple[Claim, ...]
    values: tuple[Shown, ...]

    def of(self, name: str) -> tuple[Claim, ...]:
        return tuple(c for c in self.claims if c.of == name)


def working(part: GradientPart, lines: Sequence[Line]) -> Working:
    """The candidate's quotients and numbers, each number with what it is given for."""
    run = sides(lines, part.units)
    values = shown(run)
    quotients = slopes(part, values, part.headed)
    claims = tuple(_claims(part, run, values, quotients))
    return Working(slopes=quotients, claims=claims, values=values)


def _claims(part: GradientPart, run: Sequence[Side], values: Sequence[Shown], quotients: Sequence[Slope]) -> Iterator[Claim]:
    """Side by side: a letter sets what the numbers after it are given for, a quotient of readings says gradient."""
    role, named, chain = "", False, -1
    own: list[float] = [s.value for s in quotients if not s.inverted]
    anew = _begun_anew(run)
    by_side: dict[tuple[int, int], list[tuple[int, Shown]]] = {}
    for order, value in enumerate(values):
        by_side.setdefault((value.side.chain, value.side.place), []).append((order, value))
    for side in run:
        if side.chain != chain:
            chain, (role, named) = side.chain, _start(part, side)
        if side.value is None:
            role, named = _letter(part, side, role, named)
            continue
        if (side.chain, side.place) in anew:
            role, named = "", False
        here = by_side.get((side.chain, side.place), [])
        slope = next((s for s in quotients if s.side == side), None)
        if slope is not None and not named:
            role = (_wanted_symbol(part) or GRADIENT) if slope.inverted else GRADIENT
        for order, value in here:
            if not _is_whole(value, side):
                if slope is None and value.typed and _is_own(part, value, own):
                    yield Claim(of=GRADIENT, shown=value, order=order, named=False)
            elif not value.typed:
                on = slope is None and (not named or role == GRADIENT)
                role = _of_arithmetic(part, value, own, role) if on else role
            elif of := _other_unit(part, value, role, named) or role or _by_worth(part, value, own):
                if of == GRADIENT:
                    own.append(in_table_units(part, value))
                yield Claim(of=of, shown=value, order=order, named=named)


def _begun_anew(run: Sequence[Side]) -> frozenset[tuple[int, int]]:
    """(chain, place) of sides that take up the result before them and go on to something else: `= 13.7/0.8 = 17.1 × 2`."""
    chains: dict[int, list[Side]] = {}
    for side in run:
        chains.setdefault(side.chain, []).append(side)
    return frozenset((c, place) for c, held in chains.items() for place in begun_anew([s.expr for s in held]))


def _other_unit(part: GradientPart, value: Shown, role: str, named: bool) -> str:
    """The wanted quantity, for a number that nothing names and that has its unit and not the gradient's."""
    if named or role != GRADIENT or part.wanted is None or value.dimensions is None or value.percent:
        return ""
    unlike = not same_dimensions(value.dimensions, part.dimensions)
    return part.wanted.symbol if unlike and same_dimensions(value.dimensions, part.wanted.unit.dimensions) else ""


def _is_own(part: GradientPart, value: Shown, own: Sequence[float]) -> bool:
    """True for a number inside arithmetic that is the gradient found just before, or a right one."""
    if value.dimensions is not None and not same_dimensions(value.dimensions, part.dimensions):
        return False
    if value.dimensions is None and value.raw in _numbers_of_relationship(part):
        return False
    number, (low, high) = in_table_units(part, value), part.gradient_range
    return low <= number <= high or any(close(number, g, min(value.half_raw, 0.05 * abs(g)), 0.001) for g in own)


def _numbers_of_relationship(part: GradientPart) -> frozenset[float]:
    """The 4 of g = 4π²/gradient and the 9.81 of ρ = gradient/g, which are no gradients wherever they stand in arithmetic."""
    if part.wanted is None:
        return frozenset()
    written = {node.value for side in part.wanted.equation for node in walk(side) if isinstance(node, Number)}
    return frozenset(written | {v.raw for v in part.wanted.given.values()})


def _is_whole(value: Shown, side: Side) -> bool:
    """True for a side itself, or for the value (not the uncertainty) of a side that is value ± uncertainty."""
    both = halves(side.expr)
    return value.expr == (side.expr if both is None else both[0])


def _start(part: GradientPart, side: Side) -> tuple[str, bool]:
    """What a statement's numbers are given for, from what stands before it."""
    known = (GRADIENT, INTERCEPT, _wanted_symbol(part))
    if _UNCERTAINTY_OF.search(side.words):
        return UNCERTAINTY, True
    if side.subject and side.subject in known:
        return side.subject, True
    words = side.words
    places = {
        GRADIENT: _last(_GRADIENT_WORDS, words),
        INTERCEPT: _last(_INTERCEPT_WORDS, words),
        UNCERTAINTY: _last(_UNCERTAINTY_WORDS, words),
    }
    if part.wanted is not None:
        names = [n.lower() for n in (*part.wanted.names, part.wanted.symbol) if n]
        places[part.wanted.symbol] = max((m.start() for n in names for m in re.finditer(rf"\b{re.escape(n)}\b", words)), default=-1)
    latest = max(places, key=lambda k: places[k])
    return (latest, True) if places[latest] >= 0 else ("", False)


def _last(pattern: re.Pattern[str], words: str) -> int:
    return max((m.start() for m in pattern.finditer(words)), default=-1)


def _wanted_symbol(part: GradientPart) -> str:
    return part.wanted.symbol if part.wanted is not None else ""


def _letter(part: GradientPart, side: Side, role: str, named: bool) -> tuple[str, bool]:
    """What the numbers after a side in letters are given for."""
    known = (GRADIENT, INTERCEPT, _wanted_symbol(part))
    if isinstance(side.expr, Symbol):
        name = side.expr.name
        if _UNCERTAINTY_WORDS.search(name.lower()):
            return UNCERTAINTY, True
        if name in known:
            stays = name == GRADIENT and named and role in (_wanted_symbol(part), UNCERTAINTY)
            return (role, named) if stays else (name, True)
        return ("", False) if any(e.name == name for e in part.table.entries) else (role, named)
    changes = {part.x.symbol, part.y.symbol, f"Δ{part.x.symbol}", f"Δ{part.y.symbol}"}
    if not role and letters(side.expr) and letters(side.expr) <= changes:
        return GRADIENT, False
    return role, named


def in_table_units(part: GradientPart, value: Shown) -> float:
    """A number given as the gradient, in the table's units: by its unit, or as it stands, or converted before."""
    if value.dimensions is not None:
        return value.si / part.scale if same_dimensions(value.dimensions, part.dimensions) else value.raw
    low, high = part.gradient_range
    converted = value.raw / part.scale
    return converted if not low <= value.raw <= high and low <= converted <= high else value.raw


def wanted_value(part: GradientPart, own: float) -> tuple[float, float] | None:
    """(si, raw) of the wanted quantity from an own gradient in the table's units, the intercept being the line's."""
    if part.wanted is None:
        return None
    value = part.wanted.from_line(part.gradient_value(own), part.intercept_value(part.line.intercept))
    return None if value is None else (value.si, value.raw)


def _of_arithmetic(part: GradientPart, value: Shown, own: Sequence[float], role: str) -> str:
    """A piece of arithmetic that works the wanted quantity out of an own gradient makes what follows the wanted quantity."""
    for gradient in (g for each in reversed(own) for g in (each, -each)):
        expected = wanted_value(part, gradient)
        if expected is None or not (value.typed or holds_number(value.expr, abs(gradient))):
            continue
        if power_of_ten_between(value.raw, expected[1], slack=0.01) is not None:
            return _wanted_symbol(part)
    return role


def _by_worth(part: GradientPart, value: Shown, own: Sequence[float]) -> str:
    """What a number that nothing names is given for: by its unit, or by its worth."""
    low, high = part.gradient_range
    if value.dimensions is not None and not value.percent:
        if part.wanted is not None and same_dimensions(value.dimensions, part.wanted.unit.dimensions):
            return part.wanted.symbol
        return GRADIENT if same_dimensions(value.dimensions, part.dimensions) else ""
    if low <= in_table_units(part, value) <= high:
        return GRADIENT
    return _of_arithmetic(part, value, [*own, part.line.gradient], "")


def unit_is(value: Shown, dimensions: Dimensions) -> bool | None:
    """Whether a number's unit is of the right kind; None when it has none."""
    return None if value.dimensions is None else same_dimensions(value.dimensions, dimensions) and not value.percent
