"""A calculation part of a scheme file made ready for marking."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from marker.expression import Negative, Symbol, put
from marker.physics.system import Relation
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.calculation import CalculationPart, PointSpec, StepSpec
from marker.scheme.compiled import CompiledCalculation, is_angle
from marker.scheme.convention import Convention
from marker.scheme.free_sign import sign_is_free
from marker.scheme.part_data import carried_of, data_of, source_of
from marker.scheme.part_goals import (
    check_marks,
    goal_of,
)
from marker.scheme.part_relations import angles_inside, is_angle_text, letters_of, relation_of
from marker.scheme.part_system import dimensions_of, system_of
from marker.scheme.part_table import table_of
from marker.scheme.surroundings import Surroundings, problem


def compile_calculation(spec: CalculationPart, convention: Convention, around: Surroundings) -> CompiledCalculation:
    """Solves, checks and completes a calculation part. Raises SchemeError with every problem's key and mend."""
    where = f"part {spec.name}"
    main = _compile_route(spec, convention, around, where, spec.using, spec.also, None)
    routes = []
    for number, route in enumerate(spec.route, 1):
        label = route.name or f"route {number}"
        own = spec.model_copy(update={"given": {**spec.given, **route.given}, "names": {**spec.names, **route.names}})
        also, place = [*spec.also, *route.also], f"{where}, {label}"
        compiled = _compile_route(own, convention, around, place, route.using, also, route.points or None)
        routes.append(replace(compiled, route_name=label))
    free = sign_is_free(spec, main) if spec.either_sign is None else spec.either_sign
    main = replace(main, either_sign=free)
    negative = [n for n, d in main.data.items() if d.si < 0 and not (d.unit is not None and d.unit.offset)]
    if negative and not free:
        routes.extend(replace(turned, route_name="magnitudes") for turned in _other_sign(spec, convention, around, where, negative))
    if free:
        routes.extend(replace(turned, route_name="the other sign") for turned in _other_sign(spec, convention, around, where))
        routes = [replace(r, either_sign=True) for r in routes]
    return replace(main, routes=tuple(routes))


def _other_sign(
    spec: CalculationPart, convention: Convention, around: Surroundings, where: str, turned_round: Sequence[str] = ()
) -> list[CompiledCalculation]:
    """The part with some quantities counted the other way: a deceleration for an acceleration, a speed for a velocity."""
    signed = turned_round or spec.signed or [s.find for s in spec.steps()]
    turn = {n: Negative(inner=Symbol(name=n, known=True)) for n in signed}

    def turned(relation: Relation) -> Relation:
        return replace(relation, left=put(relation.left, turn), right=put(relation.right, turn))

    def answers(step: StepSpec) -> StepSpec:
        if step.find not in signed:
            return step
        return step.model_copy(
            update={"accept": [_negated(t) for t in step.accept], "answer": _negated(step.answer), "show": _negated(step.show)}
        )

    steps = [answers(s) for s in spec.steps()]
    changes: dict[str, object] = {"given": {n: _negated(t) if n in signed else t for n, t in spec.given.items()}}
    if spec.step:
        changes["step"] = steps
    else:
        changes.update({"accept": steps[0].accept, "answer": steps[0].answer, "show": steps[0].show})
    other = spec.model_copy(update=changes)
    carried = {k: replace(c, value=-c.value) if _is_signed(k, spec, signed) else c for k, c in around.carried.items()}
    return [_compile_route(other, convention, replace(around, carried=carried), where, spec.using, spec.also, None, turned)]


def _is_signed(key: str, spec: CalculationPart, signed: Sequence[str]) -> bool:
    return any(f"{source_of(source, s)[0]}.{source_of(source, s)[1]}" == key and s in signed for s, source in spec.carry.items())


def _negated(text: str) -> str:
    if not text:
        return text
    return text[1:].strip() if text.startswith(("-", "−")) else f"-{text}"


def _compile_route(
    spec: CalculationPart,
    convention: Convention,
    around: Surroundings,
    where: str,
    using: Sequence[str],
    also: Sequence[str],
    points: Sequence[PointSpec] | None,
    change: Callable[[Relation], Relation] = lambda r: r,
) -> CompiledCalculation:
    steps = spec.steps()
    texts = [*using, *(u for s in steps for u in s.using)]
    if not texts:
        raise problem(where, "using", "no relationship is named", "at least one equation", 'Write for example using = ["V = I*R"].')
    letters = letters_of(spec, texts, also)
    table = SymbolTable(tuple(SymbolEntry(name=n, angle=is_angle_text(spec.given.get(n, ""))) for n in letters))
    relations = [relation_of(t, table, where, "using") for t in texts] + [relation_of(t, table, where, "also", True) for t in also]
    relations = [change(r) for r in relations]
    data = data_of(spec, relations, around, texts + list(also), convention, where)
    carried = carried_of(spec, around, where)
    angles = frozenset(s for s, d in data.items() if d.unit is not None and is_angle(d.unit)) | angles_inside(relations)
    system, free = system_of(spec, steps, relations, data, carried, angles, where)
    dimensions = dimensions_of(system, data, carried, angles)
    helpers = frozenset(range(len(texts), len(relations)))
    units = {n: data[n].unit if n in data else None for n in system.base}
    goals = tuple(goal_of(spec, s, system, data, carried, helpers, convention, dimensions, angles, where, points) for s in steps)
    units.update({g.find: g.unit for g in goals})
    check_marks(spec, goals, where)
    return CompiledCalculation(
        name=spec.name,
        question=spec.question or _question(spec.name),
        marks=float(spec.marks),
        convention=convention,
        table=table_of(spec, system, data, dimensions, angles, units),
        system=system,
        data=data,
        goals=goals,
        carry={s: source_of(v, s) for s, v in spec.carry.items()},
        dimensions=dimensions,
        units=units,
        angles=angles,
        helpers=helpers,
        free=free,
        signed=frozenset(spec.signed),
        stem=spec.stem,
        sensible={s: c.sensible for s, c in carried.items() if c.sensible is not None},
        shown={s: c.shown for s, c in carried.items() if c.shown is not None},
        carried_within={s: c.accept for s, c in carried.items() if c.accept is not None},
    )


def _question(name: str) -> str:
    """The question a part belongs to: the leading digits of its name ("2b" is of question 2), else the name itself."""
    digits = re.match(r"\d+", name)
    return digits.group() if digits else name
