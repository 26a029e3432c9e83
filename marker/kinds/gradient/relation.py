"""What a candidate states about the wanted quantity and the gradient, and whether it is so.

A statement in letters is tested at random points where the part's relationship holds: it is stated when it holds there
and fails once the wanted quantity is moved.
"""

from __future__ import annotations

import math
import random
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from marker.expression import Expr, Symbol, children, rebuild
from marker.kinds.gradient.compiled import GradientPart
from marker.kinds.gradient.wanted import GRADIENT, INTERCEPT, Wanted
from marker.kinds.meant import best_reading, statements
from marker.kinds.typed_numbers import close, letters, value_of
from marker.physics.evaluate import Unknown, compiled
from marker.reading.model import Line, Reading

_RECIPROCAL = re.compile(
    r"\b(?:gradient|slope)\b[^.;]{0,60}?\b(?:reciprocal|inverse of|(?:one|1) (?:over|divided by))"
    r"|\b(?:reciprocal|inverse|(?:one|1) (?:over|divided by))\b[^.;]{0,40}?\b(?:gradient|slope)\b"
)
_EQUAL = re.compile(r"\b(?:gradient|slope)\b (?:of the (?:line|graph) )?(?:is|equals|gives|represents|is equal to)(?: the)? ")


class Standing(StrEnum):
    TRUE = "true"
    FALSE = "false"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """One statement that ties the wanted quantity to the gradient, in letters or in words."""

    standing: Standing
    line: int


def stated(part: GradientPart, lines: Sequence[Line], own: Sequence[float] = ()) -> tuple[Stated, ...]:
    """Statements about the wanted quantity and the gradient (in letters, or an own value put for it), in order."""
    if part.wanted is None:
        return ()
    found: list[Stated] = []
    renames = _renames(part, lines)
    for statement in statements(lines):
        for left, right in pairwise(best_reading(statement, part.units).sides):
            standing = _standing(part, part.wanted, _renamed(left, renames), _renamed(right, renames))
            if standing is not None:
                found.append(Stated(standing=standing, line=statement.line))
        if any(_put_equal(part, part.wanted, reading, own) for reading in statement.readings[:6]):
            found.append(Stated(standing=Standing.TRUE, line=statement.line))
    found.extend(_in_words(part, part.wanted, lines))
    return tuple(sorted(found, key=lambda s: s.line))


def _put_equal(part: GradientPart, wanted: Wanted, reading: Reading, own: Sequence[float]) -> bool:
    """True for the relationship with an own gradient put in: "1/k = 0.37"."""
    for pair in pairwise(reading.sides):
        for letter, number in (pair, pair[::-1]):
            value = None if letters(number) else value_of(number)
            if value is None or wanted.symbol not in letters(letter) or isinstance(letter, Symbol):
                continue
            gradients = (value.raw, value.si / part.scale)
            is_own = any(close(g, o, 0.02 * abs(o), 0.0) for g in gradients for o in own)
            if is_own and _standing(part, wanted, letter, Symbol(name=GRADIENT, known=True)) is Standing.TRUE:
                return True
    return False


def _in_words(part: GradientPart, wanted: Wanted, lines: Sequence[Line]) -> list[Stated]:
    """ "the gradient is one over the spring constant"."""
    found = []
    for line in lines:
        if line.withdrawn or not line.words:
            continue
        words = line.words.lower()
        if _RECIPROCAL.search(words):
            found.append(Stated(standing=Standing.TRUE if is_reciprocal(part, wanted) else Standing.FALSE, line=line.number))
        elif is_identity(part, wanted) and _says_equal(words, wanted):
            found.append(Stated(standing=Standing.TRUE, line=line.number))
    return found


def _says_equal(words: str, wanted: Wanted) -> bool:
    """ "the gradient is the resistance" """
    match = _EQUAL.search(words)
    return match is not None and any(words.startswith(name.lower(), match.end()) for name in wanted.names)


def is_reciprocal(part: GradientPart, wanted: Wanted) -> bool:
    return _behaves(part, wanted, lambda g: 1.0 / g)


def is_identity(part: GradientPart, wanted: Wanted) -> bool:
    return _behaves(part, wanted, lambda g: g)


def is_opposite(part: GradientPart, wanted: Wanted) -> bool:
    return _behaves(part, wanted, lambda g: -g)


def _behaves(part: GradientPart, wanted: Wanted, like: Callable[[float], float]) -> bool:
    for trial in (0.7, 2.3):
        value = wanted.from_line(part.gradient_value(trial), part.intercept_value(1.1))
        if value is None or not math.isclose(value.raw, like(trial), rel_tol=1e-9):
            return False
    return True


def _renames(part: GradientPart, lines: Sequence[Line]) -> Mapping[str, str]:
    """Other letters that must stand for the gradient or the wanted quantity: "slope = 1/D" with no k anywhere.

    Such a letter stands alone on a side somewhere ("D = 2700", "m = 1/k"); letters of the axes' own expressions stand for themselves.
    """
    assert part.wanted is not None
    known = {e.name for e in part.table.entries} | part.axis_letters
    sides = [side for statement in statements(lines) for side in best_reading(statement, part.units).sides]
    used = list(dict.fromkeys(n for side in sides for n in sorted(letters(side))))
    alone = {side.name for side in sides if isinstance(side, Symbol)}
    renames: dict[str, str] = {}
    for name in used:
        change = "Δ" + re.sub(r"^(?:δ|delta|change in|d)\s*", "", name)
        if name in known:
            continue
        if change in known:
            renames[name] = change
        elif name not in alone:
            continue
        elif part.wanted.symbol not in used and part.wanted.symbol not in renames.values():
            renames[name] = part.wanted.symbol
        elif GRADIENT not in used and GRADIENT not in renames.values():
            renames[name] = GRADIENT
    return renames


def _renamed(expr: Expr, renames: Mapping[str, str]) -> Expr:
    if isinstance(expr, Symbol):
        return Symbol(name=renames.get(expr.name, expr.name), known=True, at=expr.at)
    parts = children(expr)
    return rebuild(expr, tuple(_renamed(p, renames) for p in parts)) if parts else expr


def _standing(part: GradientPart, wanted: Wanted, left: Expr, right: Expr) -> Standing | None:
    """Whether an equation ties the wanted quantity to the gradient truly or falsely; None when it is about something else.

    x = F/k says nothing of the gradient and k = 2700 nothing in letters. The change of y over the change of x is the gradient.
    """
    used = letters(left) | letters(right)
    changes = {f"Δ{part.x.symbol}", f"Δ{part.y.symbol}"}
    axes = {part.x.symbol, part.y.symbol, *changes}
    if wanted.symbol not in used or not (GRADIENT in used or INTERCEPT in used or changes <= used):
        return None
    if used - axes - {GRADIENT, INTERCEPT, wanted.symbol, *wanted.given}:
        return None
    if not letters(left) or not letters(right):
        return None
    draw = random.Random(11)
    points = [p for p in (_probe(part, wanted, draw) for _ in range(4)) if p is not None]
    if not points:
        return None
    return Standing.TRUE if all(_holds(left, right, p) for p in points) else Standing.FALSE


def _probe(part: GradientPart, wanted: Wanted, draw: random.Random) -> Mapping[str, float] | None:
    """A random point where the relationship holds, gradient = y/x and data free."""
    gradient, x = draw.uniform(0.5, 3.0), draw.uniform(0.5, 3.0)
    y = gradient * x
    point = {GRADIENT: gradient, INTERCEPT: draw.uniform(0.5, 3.0)}
    point.update({part.x.symbol: x, part.y.symbol: y, f"Δ{part.x.symbol}": x, f"Δ{part.y.symbol}": y})
    point.update({n: draw.uniform(0.5, 3.0) for n in wanted.given})
    try:
        point[wanted.symbol] = compiled(wanted.tree)(point)
    except (KeyError, ValueError, ZeroDivisionError, OverflowError, Unknown):
        return None
    return point


def _holds(left: Expr, right: Expr, point: Mapping[str, float]) -> bool:
    try:
        return math.isclose(compiled(left)(point), compiled(right)(point), rel_tol=1e-6)
    except (KeyError, ValueError, ZeroDivisionError, OverflowError, Unknown):
        return False
