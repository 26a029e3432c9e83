"""Made-up responses with one fault each: the solution of a part, with a known fault put into one of its steps."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from marker.expression import Expr, Number, Product, Symbol, UnitFactor, put, rebuild, symbols
from marker.expression import children as inner_of
from marker.judging.known_faults import KnownFault, contexts, kinds_of_transform
from marker.judging.transforms import Givens, apply, givens_of
from marker.physics.evaluate import Unknown, compiled
from marker.physics.system import Equation, near_root
from marker.scheme.checking.cost import Happened
from marker.scheme.checking.solution import (
    Said,
    Stage,
    number_of,
    quantity,
    relation_lines,
    shortest,
    stages,
    typed_number,
    value_line,
)
from marker.scheme.compiled import CompiledCalculation, is_angle

MOST_A_STEP = 1
_NUMBERS_WRONG = frozenset({"arithmetic", "rounding"})
_DATA_SEEN_WRONG = frozenset({"substitution", "transcription", "conversion"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Response:
    """A response with a fault: its lines, where the fault is, what it is in words, and the final value it leads to for that goal."""

    fault: KnownFault
    lines: tuple[Said, ...]
    happened: Happened
    what: str
    value: float


def faulty_responses(part: CompiledCalculation, faults: tuple[KnownFault, ...]) -> Iterator[Response]:
    """Every known fault that can happen in a part, at each step where it can; a result already tried for its class is left out."""
    givens = givens_of(part)
    tried: set[tuple[str, tuple[int, ...], str]] = set()
    every = stages(part)
    here = frozenset[str]().union(*givens.kinds.values()) if givens.kinds else frozenset()
    for fault in faults:
        if fault.code in contexts() and not contexts()[fault.code] & here:
            continue
        for stage in every:
            if len(stage.letters) != 1:
                continue
            count = 0
            for response in _at(part, fault, stage, givens):
                key = (fault.family, stage.relations, f"{response.value:.4e}")
                if key in tried or count == MOST_A_STEP:
                    continue
                tried.add(key)
                count += 1
                yield response


def _at(part: CompiledCalculation, fault: KnownFault, stage: Stage, givens: Givens) -> Iterator[Response]:
    on = kinds_of_transform()[fault.kind]
    helper = set(stage.relations) <= part.helpers
    if on == "writing" or fault.kind in ("other-value", "other-relationship"):
        return
    if on == "value" and fault.kind not in ("ignore-power",):
        yield from _wrong_values(part, fault, stage, givens)
        return
    if on == "expression" and helper and fault.kind != "put-for":
        return
    if fault.kind == "other-quantity" or (fault.kind == "rearrange-numbers"):
        equations = _turned(part, fault, stage, givens)
    else:
        equations = (*_changed(part, fault, stage, givens), *_turned(part, fault, stage, givens))
    if fault.family == "rearrangement":
        equations = _turned(part, fault, stage, givens)
    for equation in equations:
        value = _root(part, equation, stage)
        if fault.kind == "flip-sign" and value == -part.system.base[stage.letters[0]]:
            continue  # nobody turns the sign of a whole product
        if value is not None and not math.isclose(value, part.system.base[stage.letters[0]], rel_tol=1e-6):
            yield from _response(part, _as_it_looks(part, fault, stage, equation), stage, equation, value)


def _as_it_looks(part: CompiledCalculation, fault: KnownFault, stage: Stage, equation: Equation) -> KnownFault:
    """A decimal point moved in a datum that is converted, or printed with a power of ten, is a wrong power of ten to whoever reads it."""
    if fault.code != "decimal-point-lost":
        return fault
    before = {n for r in stage.relations for side in part.system.relations[r].equation for n in symbols(side)}
    gone = before - symbols(equation[0]) - symbols(equation[1])
    free = any(part.data[n].needs_conversion or part.data[n].has_power_of_ten for n in gone if n in part.data)
    return replace(fault, code="power-of-ten", family="conversion") if free else fault


def _changed(part: CompiledCalculation, fault: KnownFault, stage: Stage, givens: Givens) -> tuple[Equation, ...]:
    """The step's relationship with one of its sides changed."""
    out: list[Equation] = []
    for index in stage.relations:
        left, right = part.system.relations[index].equation
        out.extend((left, r) for r in apply(fault.transform, right, givens))
        if not isinstance(left, Symbol):
            out.extend((a, right) for a in apply(fault.transform, left, givens))
    return tuple(out)


def _turned(part: CompiledCalculation, fault: KnownFault, stage: Stage, givens: Givens) -> tuple[Equation, ...]:
    """The step solved for its quantity, and that expression changed."""
    letter = Symbol(name=stage.letters[0], known=True)
    return tuple((letter, t) for t in apply(fault.transform, stage.trees[0], givens))


def _root(part: CompiledCalculation, equation: Equation, stage: Stage) -> float | None:
    """The value a wrong equation gives for the quantity of its step; None when it gives none, or none that is real."""
    name = stage.letters[0]
    if name not in symbols(equation[0]) | symbols(equation[1]):
        return None
    env = dict(part.system.base)
    if equation[0] == Symbol(name=name, known=True) and name not in symbols(equation[1]):
        try:
            value = compiled(equation[1])(env)
        except (ValueError, ZeroDivisionError, OverflowError, KeyError, Unknown):
            return None
        return value if isinstance(value, float) and 1e-60 < abs(value) < 1e60 else None
    found = near_root(equation, name, env, part.system.base[name])
    return found if found and 1e-60 < abs(found) < 1e60 else None


def _response(part: CompiledCalculation, fault: KnownFault, stage: Stage, equation: Equation, value: float) -> Iterator[Response]:
    """The lines of a response in which a step goes wrong as the fault's class says, and the rest follows the own value."""
    letter = stage.letters[0]
    stated = relation_lines(part, stage, part.system.base)
    wrong = Said(sides=equation, role="relation", about=letter, goal=stage.goal)
    numbers = Said(sides=tuple(with_numbers(part, s, letter) for s in equation), role="substitution", about=letter, goal=stage.goal)
    match fault.family:
        case "relationship":
            middle = [wrong, numbers]
        case "rearrangement":
            middle = [stated[0], wrong, numbers]
        case family if family in _DATA_SEEN_WRONG:
            middle = [stated[0], numbers]
        case _:
            middle = stated
    yield from _finished(part, fault, stage, middle, value)


def _wrong_values(part: CompiledCalculation, fault: KnownFault, stage: Stage, givens: Givens) -> Iterator[Response]:
    """A value that comes out wrong, or is carried on wrongly, after right working."""
    letter = stage.letters[0]
    right = part.system.base[letter]
    if fault.kind in ("round-early", "own-value-changed"):
        if letter in {g.find for g in part.goals}:
            return
        for tree in apply(fault.transform, Symbol(name=letter, known=True), givens):
            value, lines = compiled(tree)({}), relation_lines(part, stage, part.system.base)
            if fault.kind == "own-value-changed":
                lines.append(_value(part, letter, right, stage.goal))
            yield from _finished(part, fault, stage, lines, value, used_in=_user(part, stage))
        return
    for tree in apply(fault.transform, Number(text=shortest(right), value=right), givens):
        try:
            value = compiled(tree)({})
        except (ValueError, Unknown, OverflowError):
            continue
        yield from _finished(part, fault, stage, relation_lines(part, stage, part.system.base), value)


def _user(part: CompiledCalculation, stage: Stage) -> Stage:
    """The step that uses what a step found."""
    every = stages(part)
    after = every[every.index(stage) + 1 :]
    return next((s for s in after if any(set(stage.letters) & part.system.relations[r].letters for r in s.relations)), stage)


def slipped(part: CompiledCalculation, fault: KnownFault) -> Iterator[Response]:
    """An arithmetic slip at each step: right working, and eight tenths of its value (conventions file 1.2, row 6: 4.0 for 5.0)."""
    for stage in stages(part):
        if len(stage.letters) == 1 and part.system.base[stage.letters[0]]:
            lines = relation_lines(part, stage, part.system.base)
            yield from _finished(part, fault, stage, lines, 0.8 * part.system.base[stage.letters[0]])


def _finished(
    part: CompiledCalculation, fault: KnownFault, stage: Stage, middle: list[Said], value: float, used_in: Stage | None = None
) -> Iterator[Response]:
    """Right lines before the faulty step; after it, right lines on the own value, or on the value a "show that" gives.

    used_in  the step in which the fault lies when it lies in carrying the value on (its line then shows the right one)
    """
    letter = stage.letters[0]
    here = part.goals[stage.goal]
    after = part.system.solve({letter: value})
    later = part.system.solve({here.find: here.shown}) if here.shown is not None else after
    if after is None or later is None:
        return
    lines: list[Said] = []
    reached, reached_value = False, after[here.find]
    for other in stages(part):
        if other.goal > stage.goal:
            after = later
        if other == stage:
            reached = True
            lines.extend(middle)
        else:
            lines.extend(relation_lines(part, other, after if reached else part.system.base))
        values: Mapping[str, float] = after if reached else part.system.base
        carried_on = other == stage and fault.kind == "own-value-changed"
        lines.extend(_value(part, n, values[n], other.goal) for n in other.letters if not carried_on)
    found = {s.about for s in lines if s.role == "value"}
    lines.extend(value_line(part, g.find, after[g.find], i) for i, g in enumerate(part.goals) if g.find not in found)
    where = used_in if used_in is not None and fault.kind == "own-value-changed" else stage
    happened = Happened(family=fault.family, code=fault.code, stage=where)
    yield Response(fault=fault, lines=tuple(lines), happened=happened, what=f"{fault.name} ({letter})", value=reached_value)


def _value(part: CompiledCalculation, name: str, value: float, goal: int) -> Said:
    """A value line; a value changed beyond its figures is shown in three at least."""
    said = value_line(part, name, value, goal)
    wanted = next((g for g in part.goals if g.find == name), None)
    if wanted is None or value == wanted.value:
        return said
    figures = max(wanted.figures, 3) if part.convention.significant_figures.over != 0 else wanted.figures
    return replace(said, sides=(said.sides[0], quantity(part, name, value, wanted.unit, figures)))


def with_numbers(part: CompiledCalculation, node: Expr, but: str) -> Expr:
    """An expression with all its letters but one replaced by values in SI, and quantities in it by their SI numbers."""
    known = {n: number_of(part, n, part.system.base[n]) for n in symbols(node) & part.system.base.keys() if n != but}
    return _bare(put(node, known))


def _bare(node: Expr) -> Expr:
    match node:
        case Product(factors=(Number() as number, UnitFactor(unit=unit))) if not is_angle(unit):
            si = (number.value + unit.offset) * unit.scale
            return typed_number(shortest(si), si)
    inner = inner_of(node)
    return rebuild(node, tuple(_bare(i) for i in inner)) if inner else node
