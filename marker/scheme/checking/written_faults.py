"""Faults of the writing: the unit left off or wrong, too few or too many figures, two answers, no answer, a fraction."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from marker.expression import Expr, Number, Product, Quotient, Unit, UnitFactor
from marker.judging.known_faults import KnownFault
from marker.physics.units import parse_unit
from marker.scheme.checking.cost import Happened
from marker.scheme.checking.responses import Response
from marker.scheme.checking.solution import Said, quantity, solution, stages
from marker.scheme.compiled import CompiledCalculation, Goal
from marker.scheme.convention import Convention


def written_responses(part: CompiledCalculation, faults: tuple[KnownFault, ...]) -> Iterator[tuple[Response, bool]]:
    """A response for each writing fault that can happen at each goal, and whether the convention makes it cost anything."""
    right = solution(part)
    for fault in faults:
        for index, goal in enumerate(part.goals):
            stage = next((s for s in reversed(stages(part)) if goal.find in s.letters), None)
            if stage is None:
                continue
            stage = replace(stage, goal=index)
            for lines, costs in _written(part, fault, goal, right):
                happened = Happened(family=fault.family, code=fault.code, stage=stage)
                what = f"{fault.name} ({goal.find})"
                yield Response(fault=fault, lines=lines, happened=happened, what=what, value=float("nan")), costs


def _written(part: CompiledCalculation, fault: KnownFault, goal: Goal, right: tuple[Said, ...]) -> Iterator[tuple[tuple[Said, ...], bool]]:
    place = max((i for i, s in enumerate(right) if s.role == "value" and s.about == goal.find), default=None)
    if place is None:
        return
    said, convention = right[place], part.convention
    number, unit = _parts(said.sides[1])
    unit = unit if unit is not None and any(unit.dimensions) else None

    def with_answer(*sides: Expr) -> tuple[Said, ...]:
        return (*right[:place], *(replace(said, sides=(said.sides[0], s)) for s in sides), *right[place + 1 :])

    match fault.kind:
        case "unit-missing" if unit is not None:
            yield with_answer(number), goal.shown is None or convention.show_unit
        case "unit-wrong" if unit is not None:
            wrong = Product(factors=(number, UnitFactor(unit=_other_unit(unit))))
            yield with_answer(wrong), goal.shown is None or convention.show_unit
        case "figures-under" | "figures-over" if goal.shown is None:
            figures = _outside(convention, goal, over=fault.kind == "figures-over")
            if figures and not (fault.kind == "figures-over" and _is_round(goal, figures)):
                yield with_answer(quantity(part, goal.find, goal.value, goal.unit, figures, clear=True)), True
        case "fraction" if number.value and goal.shown is None and goal.unit is not None:
            yield with_answer(_fraction(number, unit)), not convention.fraction_answer
        case "stopped-early" | "final-line-missing":
            if (fault.kind == "final-line-missing") == (goal.shown is not None) and _is_last(part, goal):
                yield right[:place], goal.shown is None or convention.show_final_line
        case "two-answers" if goal.shown is None:
            pass


def _parts(node: Expr) -> tuple[Number, Unit | None]:
    match node:
        case Product(factors=(Number() as number, UnitFactor(unit=unit))):
            return number, unit
        case Number():
            return node, None
    raise TypeError(type(node).__name__)


def _other_unit(unit: Unit) -> Unit:
    """A unit of another quantity: kilograms, or metres in their place."""
    name = "m" if unit.dimensions[1] == 1 and sum(map(abs, unit.dimensions)) == 1 else "kg"
    return parse_unit(name)[0][0]


def _outside(convention: Convention, goal: Goal, *, over: bool) -> int:
    """A number of figures the ruling does not allow; 0 when it allows any."""
    fewest, most = goal.figures_allowed(convention.significant_figures)
    if over:
        return 0 if most is None or most > 9 else most + 1
    return max(0, fewest - 1)


def _is_round(goal: Goal, figures: int) -> bool:
    """A value such as 1.40 × 10⁵ J exactly: more figures of it would only be noughts."""
    shown = goal.value / goal.unit.scale - goal.unit.offset if goal.unit else goal.value
    return float(f"{shown:.{figures - 1}e}") == float(f"{shown:.{max(0, figures - 2)}e}")


def _fraction(number: Number, unit: Unit | None) -> Expr:
    """Three times the value over three."""
    over = Number(text=f"{3 * number.value:g}", value=3 * number.value)
    tree = Quotient(over=over, under=Number(text="3", value=3.0))
    return tree if unit is None else Product(factors=(tree, UnitFactor(unit=unit)))


def _is_last(part: CompiledCalculation, goal: Goal) -> bool:
    return part.goals[-1].find == goal.find
