"""What may be wrong with how a calculation part is set: units, figures, ranges and letters. Each remark says what to mend."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.errors import Problem
from marker.expression import NO_DIMENSIONS, Dimensions, Power, Symbol, walk
from marker.physics.evaluate import Unknown, Value, evaluate, same_dimensions
from marker.physics.units import parse_unit
from marker.reading import read_quantity
from marker.scheme.calculation import CalculationPart
from marker.scheme.checking.model import Remark, Weight
from marker.scheme.checking.units_text import in_units
from marker.scheme.compiled import CompiledCalculation, Goal

_SHORT = 3


def remarks_on(spec: CalculationPart, made: CompiledCalculation, where: str) -> tuple[Remark, ...]:
    """All remarks on one calculation part, those that must be mended first."""
    found = [
        *_relationships(made, where),
        *_answers(spec, made, where),
        *_data(made, where),
        *_letters(made, where),
        *_names(spec, made, where),
    ]
    return tuple(sorted(found, key=lambda r: not r.fails))


def _remark(weight: Weight, where: str, seen: str, expected: str = "", mend: str = "") -> Remark:
    return Remark(weight=weight, problem=Problem(where=where, seen=seen, expected=expected, mend=mend))


# --- units ----------------------------------------------------------------------------------------


def _relationships(made: CompiledCalculation, where: str) -> Iterator[Remark]:
    """Both sides of a relationship are of one kind, with the data as given."""
    values = {n: Value(v, v, _without_angle(made.dimensions.get(n) or NO_DIMENSIONS)) for n, v in made.system.base.items()}
    for relation in made.system.relations:
        if any(made.dimensions.get(n) is None for n in relation.letters):
            continue
        try:
            left, right = (evaluate(side, values, radians=True).dimensions for side in relation.equation)
        except Unknown:
            continue
        if left is None or right is None or not (same_dimensions(left, right) or _is_zero(relation.equation, values)):
            key = "also" if relation.helper else "using"
            yield _remark(
                Weight.FAILS,
                f"{where}, {key}",
                f"{relation.name!r} does not balance with the data as given: left in {in_units(left)}, right in {in_units(right)}",
                mend="Correct the relationship, or the unit of a datum in it.",
            )


def _without_angle(dimensions: Dimensions) -> Dimensions:
    """Radians count as numbers: θ = ωt balances whether ω is in rad/s or in s⁻¹."""
    return (*dimensions[:7], 0.0)


def _is_zero(sides: Sequence[object], values: dict[str, Value]) -> bool:
    return any(evaluate(s, values, radians=True).si == 0 for s in sides)  # type: ignore[arg-type]


def _answers(spec: CalculationPart, made: CompiledCalculation, where: str) -> Iterator[Remark]:
    for goal, step in zip(made.goals, spec.steps(), strict=True):
        dimensions = made.dimensions.get(goal.find)
        typed = [("unit", f"1 {step.unit}")] if step.unit else []
        typed += [("accept", t) for t in step.accept] + [(k, t) for k, t in (("answer", step.answer), ("show", step.show)) if t]
        for key, text in typed:
            unit = read_quantity(text).unit
            kind = unit.dimensions if unit is not None else NO_DIMENSIONS
            if dimensions is not None and not _fits(kind, dimensions):
                shown = step.unit if key == "unit" else text
                yield _remark(
                    Weight.FAILS,
                    f"{where}, {key}",
                    f"{shown!r} is not a unit of {goal.find}, which the data and relationships give in {in_units(dimensions)}",
                    mend=f"Write the {key} in {in_units(dimensions)}, or correct the relationships.",
                )
                break
        yield from _range(made, goal, where)


def _fits(kind: Dimensions, dimensions: Dimensions) -> bool:
    return same_dimensions(kind, dimensions)


def _range(made: CompiledCalculation, goal: Goal, where: str) -> Iterator[Remark]:
    """An accepted range a fifth of the answer wide or more."""
    if goal.accept is None:
        return
    scale, offset = (goal.unit.scale, goal.unit.offset) if goal.unit else (1.0, 0.0)
    low, high = sorted((goal.accept[0] / scale - offset, goal.accept[1] / scale - offset))
    if low and goal.value and (high - low) / abs(goal.value / scale) > 0.2:
        yield _remark(
            Weight.ADVICE,
            f"{where}, accept",
            f"the accepted range is {100 * (high - low) / abs(goal.value / scale - offset):.0f} % wide",
            mend="A range that wide takes in answers from wrong working.",
        )


# --- figures of the data ----------------------------------------------------------------------------


def _data(made: CompiledCalculation, where: str) -> Iterator[Remark]:
    """A measured datum with one figure only limits every answer to one or two."""
    measured = [d for d in made.data.values() if not d.constant and d.unit is not None and d.number.half > 0 and d.number.value]
    most = max((d.number.figures[1] for d in measured), default=0)
    for datum in measured:
        if datum.number.figures[1] == 1 and most > 1:
            unit = datum.unit.name if datum.unit else ""
            yield _remark(
                Weight.ADVICE,
                f"{where}, given.{datum.symbol}",
                f"{datum.text!r} has one significant figure, so an answer may be given to one",
                mend=f'Write "{datum.number.text}.0 {unit}" if it is known better, or set figures.'
                if "." not in datum.number.text
                else "Set figures.",
            )
    for symbol in sorted(made.data.keys() - {n for r in made.system.relations for n in r.letters}):
        if not made.data[symbol].constant:
            yield _remark(
                Weight.ADVICE,
                f"{where}, given.{symbol}",
                f"{symbol} is in no relationship of the part",
                mend="Leave it if it is meant to distract; else name the relationship it belongs to.",
            )


# --- letters --------------------------------------------------------------------------------------


def _letters(made: CompiledCalculation, where: str) -> Iterator[Remark]:
    names = sorted(n for n in made.system.base if n not in made.data or not made.data[n].constant)
    yield from _lost_powers(made, names, where)


def _lost_powers(made: CompiledCalculation, names: Sequence[str], where: str) -> Iterator[Remark]:
    """v2 may be v² with its superscript lost, or v₂."""
    squared = {
        (n.base.name, n.exponent.text)
        for r in made.system.relations
        for side in r.equation
        for n in walk(side)
        if isinstance(n, Power) and isinstance(n.base, Symbol) and hasattr(n.exponent, "text")
    }
    for name, power in sorted(squared):
        index = f"{name}_{power}"
        if index in names:
            yield _remark(
                Weight.ADVICE,
                f"{where}, symbols",
                f"{name}{power} may be {name}^{power} with its superscript lost, or {index}",
                mend=f"Call {index} something else, such as {name}_b.",
            )


def _names(spec: CalculationPart, made: CompiledCalculation, where: str) -> Iterator[Remark]:
    """Other letters and words for the quantities: none that belongs to two, or that is a unit of the part."""
    owners: dict[str, list[str]] = {}
    everywhere = set(made.system.base).union(*(r.system.base for r in made.routes))
    for symbol, given in spec.names.items():
        if symbol not in everywhere:
            yield _remark(
                Weight.FAILS,
                f"{where}, names.{symbol}",
                f"{symbol} is not a quantity of this part",
                expected=f"one of {', '.join(sorted(made.system.base))}",
            )
        for text in given:
            owners.setdefault(text.casefold(), []).append(symbol)
            yield from _alias(made, symbol, text, where)
    for text, symbols in owners.items():
        if len(set(symbols)) > 1:
            yield _remark(
                Weight.FAILS,
                f"{where}, names",
                f"{text!r} is a name of {' and of '.join(sorted(set(symbols)))}",
                mend="Leave it with one of them.",
            )


def _alias(made: CompiledCalculation, symbol: str, text: str, where: str) -> Iterator[Remark]:
    if text in made.system.base and text != symbol:
        yield _remark(
            Weight.FAILS,
            f"{where}, names.{symbol}",
            f"{text!r} is the letter of another quantity of this part",
            mend="Leave it out here.",
        )
    elif len(text) <= _SHORT and parse_unit(text) and _is_unit_here(made, text):
        yield _remark(
            Weight.ADVICE,
            f"{where}, names.{symbol}",
            f"{text!r} as a letter for {symbol} is also a unit in this part",
            mend=f"“{text} = 5.0” is read as {symbol}, and “5.0 {text}” as a value in {text}. Nothing need be done if candidates write "
            f"{symbol} so; if not, leave {text!r} out of names.",
        )


def _is_unit_here(made: CompiledCalculation, text: str) -> bool:
    units = [u.name for u in made.units.values() if u is not None]
    return any(text in u.replace("/", " ").replace("^", " ").split() for u in units) or any(
        same_dimensions(parse_unit(text)[0][0].dimensions, d) for d in made.dimensions.values() if d is not None and any(d[:7])
    )
