"""How a final answer is written: its significant figures, its rounding, fractions, endless decimals, letters of its unit."""

from __future__ import annotations

import re
from collections.abc import Sequence

from marker.awarding.worlds import World, half_place, taken_as
from marker.judging.digits import power_of_ten
from marker.judging.model import Evidence, TypedValue
from marker.physics.units import parse_unit
from marker.scheme.compiled import CompiledCalculation, Goal

MOST_JUDGED = 3  # figures beyond which a last place one too low is not called wrong rounding
_ENDLESS = re.compile(r"\d\s?(?:\.\.+|…)|[\u0304\u0305\u0307]")
_FRACTION = re.compile(r"[/½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]")
SIMPLE_RATIO = re.compile(r"\d{1,2}\s?/\s?\d{1,2}|[½⅓⅔¼¾⅕⅖⅗⅘]")  # "becomes 3/4 of it": a factor, and no value of a measured quantity
_LETTERS = re.compile(r"[A-Za-zΩµμ°%Å]")


def figures_of(part: CompiledCalculation, goal: Goal, value: TypedValue) -> str:
    """ "ok", "few" or "many" against the window the convention gives."""
    window, number = part.convention.significant_figures, value.number
    if number is None:
        return "ok"
    fewest, greatest = goal.figures_allowed(window)
    least, most = number.figures
    if goal.shown is not None:
        more = 1 if part.convention.show_extra_figure else 0
        return "few" if most < goal.shown_figures + more else "ok"
    if most < max(1, fewest):
        return "few"
    if greatest is not None and least > greatest:
        return "many"
    return "ok"


def form_of(part: CompiledCalculation, goal: Goal, e: Evidence, world: World, evidence: Sequence[Evidence]) -> str:
    """ "fraction", "recurring" or "rounding" where the convention does not accept it; "ok" otherwise."""
    value, convention = e.value, part.convention
    assert value is not None
    if value.form == "fraction" or (value.number is not None and _FRACTION.search(value.number.text)):
        ratio = goal.unit is None and SIMPLE_RATIO.fullmatch(value.text.strip()) is not None
        return "ok" if convention.fraction_answer or ratio else "fraction"
    if _ENDLESS.search(value.text):
        return "ok" if convention.recurring_answer else "recurring"
    if cut_off(part, goal, e, world, evidence):
        return "rounding"
    return "ok"


def cut_off(part: CompiledCalculation, goal: Goal, e: Evidence, world: World, evidence: Sequence[Evidence]) -> bool:
    """The last place is one too low: figures cut off where they should be rounded up (5.67 to 5.6)."""
    value = e.value
    if part.convention.wrong_rounding != "answer mark" or value is None:
        return False
    if value.number is None or not 2 <= value.number.figures[1] <= MOST_JUDGED or goal.accept is not None:
        return False
    aims = {world.value, *(b.implied for b in evidence if b.about == goal.find and b.implied is not None and b.line <= e.line)}
    for _, si in taken_as(part, goal, value):
        half = half_place(value, si)
        if any(abs(si - aim) <= half * 1.0001 for aim in aims):
            return False
        if half * 1.0001 < abs(world.value) - abs(si) < 2.0 * half:
            return True
    return False


def unit_asked_for(goal: Goal, value: TypedValue) -> bool:
    """The unit is the one asked for, or that with a prefix (kW for W, but not J/s); any unit where none is asked for."""
    if value.unit is None or goal.unit is None or value.unit.name == goal.unit.name:
        return True
    return value.unit.name.endswith(goal.unit.name) and power_of_ten(value.unit.scale / goal.unit.scale) is not None


def unit_case(value: TypedValue) -> bool:
    """The unit's symbol has capital and small letters exchanged."""
    if value.unit is None:
        return False
    for found in _LETTERS.finditer(value.text):
        typed = value.text[found.start() :].strip()
        for unit, notes in parse_unit(typed):
            if unit.scale == value.unit.scale and unit.dimensions == value.unit.dimensions:
                codes = {n.code for n in notes}
                letters = unit.name.casefold() == typed.casefold() and unit.name != typed
                return "unit-case" in codes or ("unit-spelling" in codes and letters)
    return False
