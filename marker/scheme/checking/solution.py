"""A worked solution of a calculation part as expression trees: each relationship, its values put in, and the value found.

The text of a solution depends on the notation it is typed in; what it says does not. Every trial of a scheme starts here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from marker.expression import ANGLE, Expr, Number, Product, Symbol, Unit, UnitFactor, put, symbols
from marker.physics.units import parse_unit
from marker.scheme.compiled import CompiledCalculation, Goal
from marker.scheme.model_answer import si_unit

DEGREE = Unit(name="°", scale=0.017453292519943295, dimensions=ANGLE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One line of a solution: sides joined by equals signs.

    role   "relation" (letters), "substitution" (numbers put in) or "value";  about  the quantity it is about
    goal   index of the thing to find it belongs to;  relation  index of its relationship, None for a value
    """

    sides: tuple[Expr, ...]
    role: str
    about: str
    goal: int
    relation: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One step of the working: letters found together, from which relationships, and their closed forms."""

    goal: int
    letters: tuple[str, ...]
    relations: tuple[int, ...]
    trees: tuple[Expr, ...]


def stages(part: CompiledCalculation) -> tuple[Stage, ...]:
    """The steps that lead to the goals, in the order they are worked, each with the first goal that needs it."""
    out: list[Stage] = []
    done: set[int] = set()
    for index, goal in enumerate(part.goals):
        for step in part.system.steps:
            if set(step.relations) & goal.relations and not set(step.relations) <= done:
                done |= set(step.relations)
                out.append(Stage(goal=index, letters=step.letters, relations=step.relations, trees=step.trees))
    return tuple(out)


def solution(part: CompiledCalculation) -> tuple[Said, ...]:
    """The whole solution: relationship, substitution and value of each step, and the value of each goal."""
    out: list[Said] = []
    for stage in stages(part):
        out.extend(relation_lines(part, stage, part.system.base))
        out.extend(value_line(part, letter, part.system.base[letter], stage.goal) for letter in stage.letters)
    found = {s.about for s in out if s.role == "value"}
    out.extend(value_line(part, g.find, g.value, i) for i, g in enumerate(part.goals) if g.find not in found)
    return tuple(out)


def relation_lines(part: CompiledCalculation, stage: Stage, values: Mapping[str, float]) -> list[Said]:
    """Each relationship of a step in letters, and with the values known before it put in."""
    out = []
    for index in stage.relations:
        relation = part.system.relations[index]
        known = {n: number_of(part, n, values[n]) for n in relation.letters if n not in stage.letters}
        sides = (relation.left, relation.right)
        about = stage.letters[0]
        out.append(Said(sides=sides, role="relation", about=about, goal=stage.goal, relation=index))
        numbers = (put(sides[0], known), put(sides[1], known))
        out.append(Said(sides=numbers, role="substitution", about=about, goal=stage.goal, relation=index))
    return out


def number_of(part: CompiledCalculation, name: str, value: float) -> Expr:
    """A value as it stands in a substitution: SI without a unit, an angle in degrees, the figures of the question where they fit."""
    if name in part.angles:
        degrees = value / DEGREE.scale
        return Product(factors=(typed_number(shortest(degrees), degrees), UnitFactor(unit=DEGREE)))
    datum = part.data.get(name)
    if datum is not None and datum.si == value and datum.number.value == value:
        return datum.number
    return typed_number(shortest(value), value)


def typed_number(text: str, value: float) -> Number:
    """A number as typed: its value is what the text says, `value` rounded."""
    digits = text.partition(" × ")[0]
    places = len(digits.partition(".")[2])
    count = max(1, len(digits.lstrip("-0.").replace(".", "")))
    power = int(text.partition(" × 10^")[2] or 0)
    shown = _value_of(text)
    return Number(text=text, value=shown if shown else value, half=0.5 * 10.0 ** (power - places), figures=(count, count))


def value_line(part: CompiledCalculation, name: str, value: float, goal: int) -> Said:
    """The value of a quantity with its unit: a goal's in the figures its answer should have, another's in five."""
    wanted = next((g for g in part.goals if g.find == name), None)
    figures = answer_figures(part, wanted) if wanted is not None else 5
    unit = wanted.unit if wanted is not None else part.units.get(name)
    return Said(sides=(Symbol(name=name, known=True), quantity(part, name, value, unit, figures)), role="value", about=name, goal=goal)


def quantity(part: CompiledCalculation, name: str, value: float, unit: Unit | None, figures: int, *, clear: bool = False) -> Expr:
    """A value in SI as number and unit to so many figures."""
    if unit is None and name in part.angles:
        unit = DEGREE
    shown = value / unit.scale - unit.offset if unit else value
    text = in_figures(shown, figures, clear=clear)
    number = typed_number(text, _value_of(text))
    unit = unit or _unit(si_unit(part, name))
    return number if unit is None else Product(factors=(number, UnitFactor(unit=unit)))


@lru_cache(maxsize=512)
def _unit(text: str) -> Unit | None:
    found = parse_unit(text) if text else ()
    return found[0][0] if found else None


def answer_figures(part: CompiledCalculation, goal: Goal) -> int:
    """Figures of a model answer: those of the least precise datum (one more in a "show that"), or as many more as the range needs."""
    window = part.convention.significant_figures
    least = goal.figures if window.reference == "least datum" else window.fixed
    least = max(least, 2) + (1 if goal.shown is not None else 0)
    most = least + (window.over if window.over is not None else 4)
    return next((k for k in range(least, most + 1) if _accepted(part, goal, k)), least)


def _accepted(part: CompiledCalculation, goal: Goal, figures: int) -> bool:
    unit = goal.unit
    shown = goal.value / unit.scale - unit.offset if unit else goal.value
    rounded = _value_of(in_figures(shown, figures))
    si = (rounded + unit.offset) * unit.scale if unit else rounded
    if goal.accept is not None:
        return min(goal.accept) <= si <= max(goal.accept)
    return abs(si - goal.value) <= part.convention.rounding_tolerance * abs(goal.value)


def shortest(value: float) -> str:
    """A number to six figures, written as short as it goes: 0.064, 8.5, 2.4 × 10^5."""
    text = f"{value:.5e}"
    mantissa, _, exponent = text.partition("e")
    power = int(exponent)
    if -4 <= power < 6:
        return f"{float(text):.{max(0, 5 - power)}f}".rstrip("0").rstrip(".") if power < 5 else f"{float(text):.0f}"
    return f"{mantissa.rstrip('0').rstrip('.')} × 10^{power}"


def in_figures(value: float, figures: int, *, clear: bool = False) -> str:
    """A number to so many significant figures as a person writes it.

    A power of ten stands where plain figures would claim too many; `clear` uses one also for 180 to two figures.
    """
    if value == 0:
        return "0"
    text = f"{value:.{figures - 1}e}"
    mantissa, _, exponent = text.partition("e")
    power = int(exponent)
    if -3 <= power < figures:
        return f"{float(text):.{max(0, figures - 1 - power)}f}"
    if power in (figures, figures + 1) and power < 4 and not clear:
        return f"{float(text):.0f}"
    return f"{mantissa} × 10^{power}"


def _value_of(text: str) -> float:
    digits, _, power = text.partition(" × 10^")
    return float(digits) * 10.0 ** int(power or 0)


def letters_used(part: CompiledCalculation) -> frozenset[str]:
    """Every letter of the relationships that lead to the goals."""
    used = {r for g in part.goals for r in g.relations}
    return frozenset[str]().union(*(symbols(side) for r in used for side in part.system.relations[r].equation)) - {"π"}
