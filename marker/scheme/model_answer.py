"""A model answer written from a compiled calculation: relationship, substitution and answer for every goal."""

from __future__ import annotations

from math import isclose

from marker.expression import Expr, Number, Product, Symbol, Unit, UnitFactor, put
from marker.reading.writing import write_plain
from marker.scheme.compiled import CompiledCalculation, Goal


def model_lines(part: CompiledCalculation) -> tuple[str, ...]:
    """Lines that earn full marks: each relationship in symbols, its values put in, and the value found."""
    lines: list[str] = []
    done: set[int] = set()
    for goal in part.goals:
        for step in part.system.steps:
            if not (set(step.relations) & goal.relations) or set(step.relations) <= done:
                continue
            done |= set(step.relations)
            lines.extend(_relation_lines(part, step.relations, step.letters))
            for letter in step.letters:
                if letter != goal.find:
                    lines.append(_value_line(part, letter, part.units.get(letter), 5))
        lines.append(_value_line(part, goal.find, goal.unit, _figures(goal)))
    return tuple(lines)


def _figures(goal: Goal) -> int:
    """Figures of the answer: as many as the least precise datum (one more in a "show that"), or up to two more if the range needs them."""
    least = max(goal.figures, 2) + (1 if goal.shown is not None else 0)
    unit, accept = goal.unit, goal.accept
    if accept is None:
        return least
    scale, offset = (unit.scale, unit.offset) if unit else (1.0, 0.0)
    for figures in (least, least + 1, least + 2):
        shown = float(f"{goal.value / scale - offset:.{figures - 1}e}")
        if min(accept) <= (shown + offset) * scale <= max(accept):
            return figures
    return least


def _relation_lines(part: CompiledCalculation, relations: tuple[int, ...], letters: tuple[str, ...]) -> list[str]:
    out = []
    for index in relations:
        relation = part.system.relations[index]
        mapping = {n: _number(part, n) for n in relation.letters if n not in letters}
        out.append(f"{write_plain(relation.left)} = {write_plain(relation.right)}")
        out.append(f"{write_plain(put(relation.left, mapping))} = {write_plain(put(relation.right, mapping))}")
    return out


def _number(part: CompiledCalculation, name: str) -> Expr:
    """The value of a letter as it stands in a substitution: SI, angles in degrees."""
    if name == "π":
        return Symbol(name="π", known=True)
    value = part.system.base[name]
    if name in part.angles:
        unit = Unit(name="°", scale=0.017453292519943295, dimensions=(0.0,) * 7 + (1.0,))
        degrees = value / unit.scale
        return Product(factors=(Number(text=f"{degrees:.6g}", value=degrees), UnitFactor(unit=unit)))
    return Number(text=_as_given(part, name, value), value=value)


def _as_given(part: CompiledCalculation, name: str, value: float) -> str:
    """A datum in the figures it is given with; any other value to six figures at most, without noughts at the end."""
    datum = part.data.get(name)
    if datum is not None:
        text = in_figures(value, max(1, datum.number.figures[1]))
        digits, _, power = text.partition(" × 10^")
        if isclose(float(f"{digits}e{power or 0}"), value, rel_tol=1e-9):
            return text
    digits, times, power = in_figures(value, 6).partition(" × 10^")
    return (digits.rstrip("0").rstrip(".") if "." in digits else digits) + times + power


def _value_line(part: CompiledCalculation, name: str, unit: Unit | None, figures: int) -> str:
    value = part.system.base[name]
    if unit is None and name in part.angles:
        unit = Unit(name="°", scale=0.017453292519943295, dimensions=(0.0,) * 7 + (1.0,))
    shown = value / unit.scale - unit.offset if unit else value
    name_of_unit = unit.name if unit else si_unit(part, name)
    digits, times, power = in_figures(shown, figures).partition("^")
    number = digits + (power.translate(_RAISED) if times else "")
    return f"{write_plain(Symbol(name=name, known=True))} = {number} {name_of_unit}".rstrip()


def si_unit(part: CompiledCalculation, name: str) -> str:
    """The SI unit of a quantity as text, built from its dimensions; "" for a number."""
    dimensions = part.dimensions.get(name)
    if dimensions is None:
        return ""
    if name in part.angles:
        return "rad"
    for usual, pattern in _NAMED.items():
        if all(abs(a - b) < 1e-9 for a, b in zip(dimensions[:7], pattern, strict=True)):
            return usual
    parts = [
        b if e == 1 else f"{b}^{e:g}" for b, e in zip(("m", "kg", "s", "A", "K", "mol", "cd"), dimensions, strict=False) if abs(e) > 1e-9
    ]
    return " ".join(parts)


_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_NAMED = {
    "N": (1, 1, -2, 0, 0, 0, 0),
    "J": (2, 1, -2, 0, 0, 0, 0),
    "W": (2, 1, -3, 0, 0, 0, 0),
    "Pa": (-1, 1, -2, 0, 0, 0, 0),
    "C": (0, 0, 1, 1, 0, 0, 0),
    "V": (2, 1, -3, -1, 0, 0, 0),
    "Ω": (2, 1, -3, -2, 0, 0, 0),
    "F": (-2, -1, 4, 2, 0, 0, 0),
    "T": (0, 1, -2, -1, 0, 0, 0),
    "Wb": (2, 1, -2, -1, 0, 0, 0),
    "H": (2, 1, -2, -2, 0, 0, 0),
    "Hz": (0, 0, -1, 0, 0, 0, 0),
    "N/C": (1, 1, -3, -1, 0, 0, 0),
    "N/m": (0, 1, -2, 0, 0, 0, 0),
    "J/kg": (2, 0, -2, 0, 0, 0, 0),
    "m/s": (1, 0, -1, 0, 0, 0, 0),
    "m/s^2": (1, 0, -2, 0, 0, 0, 0),
}


def in_figures(value: float, figures: int) -> str:
    """A number to so many significant figures, as a person types it: 431, 0.51, 2.62 × 10^5."""
    if value == 0:
        return "0"
    text = f"{value:.{figures - 1}e}"
    mantissa, exponent = text.split("e")
    power = int(exponent)
    if -3 <= power < max(4, figures):
        decimals = max(0, figures - 1 - power)
        return f"{value:.{decimals}f}" if power < figures else f"{float(text):.0f}"
    return f"{mantissa} × 10^{power}"
