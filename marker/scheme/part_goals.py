"""What a part asks: goals with their values, ranges, figures and points."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from marker.expression import Dimensions, Unit, symbols
from marker.physics.system import System
from marker.physics.units import parse_unit
from marker.reading import read_quantity, read_relation
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.calculation import CalculationPart, PointSpec, SpecialSpec, StepSpec
from marker.scheme.compiled import Datum, Goal, Point, Special
from marker.scheme.convention import Convention
from marker.scheme.points import default_points, with_dependence
from marker.scheme.sheets import by_name
from marker.scheme.surroundings import Carryable, problem


def goal_of(
    spec: CalculationPart,
    step: StepSpec,
    system: System,
    data: Mapping[str, Datum],
    carried: Mapping[str, Carryable],
    helpers: frozenset[int],
    convention: Convention,
    dimensions: Mapping[str, Dimensions | None],
    angles: frozenset[str],
    where: str,
    points: Sequence[PointSpec] | None,
) -> Goal:
    known = {s.find for s in spec.steps()} - {step.find}
    used, letters = derivation(system, step.find, known)
    unit = unit_named(step.unit, where) if step.unit else usual_unit(step.show or step.answer, where, step.find in angles)
    accept = accept_range(step.accept, where)
    shown = read_quantity(step.show).si if step.show else None
    value = system.base[step.find]
    check_answer(step, value, accept, shown, where)
    used_data = [data[n] for n in letters if n in data and not data[n].constant]
    figures = step.figures or least_figures(used_data, carried, letters)
    fewest = step.figures or min((figures, *(d.number.figures[0] for d in used_data if d.number.half > 0)))
    given = points or step.points
    relations = used - helpers
    marks = step.marks if step.marks is not None else spec.marks
    chosen: tuple[Point, ...]
    if given:
        chosen = tuple(point_of(p, i, spec, system, relations, convention, where) for i, p in enumerate(given))
    else:
        unitless = not any(dimensions.get(step.find) or (1.0,))
        chosen = default_points(system, step.find, relations, helpers, marks, shown is not None, convention, where, unitless=unitless)
    return Goal(
        find=step.find,
        value=value,
        accept=accept,
        figures=figures,
        shown=shown,
        shown_text=step.show,
        unit=unit,
        points=with_dependence(chosen, convention, where),
        relations=used,
        label=step.label,
        shown_figures=read_quantity(step.show).number.figures[1] if step.show else 1,
        fewest_figures=fewest,
        sensible=accept_range(step.sensible, where, "sensible"),
        special=tuple(special_of(s, where) for s in step.special),
    )


def special_of(spec: SpecialSpec, where: str) -> Special:
    try:
        typed = read_quantity(spec.answer)
    except ValueError as error:
        raise problem(where, "special", str(error), 'the value the wrong route leads to, such as "0.20 Ω"') from error
    half = typed.number.half * (typed.unit.scale if typed.unit else 1.0)
    return Special(value=typed.si, half=half, marks=spec.marks, because=spec.because)


def derivation(system: System, find: str, stop: set[str]) -> tuple[frozenset[int], frozenset[str]]:
    """Relationships and letters that lead to a goal, not going back beyond other goals."""
    used: set[int] = set()
    letters: set[str] = set()
    wanted = [find]
    by_letter = {name: step for step in system.steps for name in step.letters}
    while wanted:
        name = wanted.pop()
        step = by_letter.get(name)
        if step is None or (name in stop and name != find):
            continue
        if used >= set(step.relations):
            continue
        used |= set(step.relations)
        inner = frozenset[str]().union(*(symbols(t) for t in step.trees)) - {"π"}
        letters |= inner
        wanted.extend(inner)
    return frozenset(used), frozenset(letters)


def least_figures(data: Sequence[Datum], carried: Mapping[str, Carryable], letters: frozenset[str]) -> int:
    figures = [d.number.figures[1] for d in data if d.number.half > 0] + [c.figures for s, c in carried.items() if s in letters]
    return min(figures, default=3)


def unit_named(text: str, where: str) -> Unit:
    found = parse_unit(text)
    if not found:
        raise problem(where, "unit", f"{text!r} is not a unit", mend='Write for example "m/s" or "N kg^-1".')
    return found[0][0]


def usual_unit(text: str, where: str, angle: bool) -> Unit | None:
    if text:
        return read_quantity(text).unit
    return unit_named("°", where) if angle else None


def accept_range(texts: Sequence[str], where: str, key: str = "accept") -> tuple[float, float] | None:
    if not texts:
        return None
    if len(texts) != 2:
        raise problem(where, key, f"{len(texts)} values", "the lowest and the highest value")
    try:
        low, high = sorted(read_quantity(t).si for t in texts)
    except ValueError as error:
        raise problem(where, key, str(error), 'two quantities, such as ["430 Ω", "432 Ω"]') from error
    return low, high


def check_answer(step: StepSpec, value: float, accept: tuple[float, float] | None, shown: float | None, where: str) -> None:
    if step.answer:
        typed = read_quantity(step.answer)
        if abs(typed.si - value) > max(0.01 * abs(value), typed.number.half * (typed.unit.scale if typed.unit else 1.0)):
            raise problem(
                where, "answer", f"{step.answer!r} is typed, but the data give {value:.4g} in SI units", mend="Correct one of them."
            )
    if accept is not None and not accept[0] * (1 - 1e-9) <= value <= accept[1] * (1 + 1e-9) and not accept[1] < 0:
        raise problem(
            where, "accept", f"the computed answer {value:.5g} (SI) lies outside the accepted range", mend="Correct the range or the data."
        )
    if shown is not None and abs(shown - value) > 0.06 * abs(value):
        raise problem(
            where, "show", f"{step.show!r} is to be shown, but the data give {value:.4g} in SI units", mend="Correct one of them."
        )


def point_of(
    spec: PointSpec, index: int, part: CalculationPart, system: System, relations: frozenset[int], convention: Convention, where: str
) -> Point:
    of = [spec.of] if isinstance(spec.of, str) and spec.of else list(spec.of) if not isinstance(spec.of, str) else []
    key = f"points {index + 1}"
    name = spec.name or (f"{spec.kind} {of[0]}" if of else spec.kind)
    chosen: frozenset[int] = frozenset()
    if spec.kind in ("relationship", "substitution"):
        chosen = frozenset(relation_index(t, system, f"{where}, {key}") for t in of) or (
            relations if spec.kind == "substitution" else frozenset()
        )
        if not chosen:
            chosen = relations
    quantity = of[0] if spec.kind == "value" and of else ""
    if quantity and quantity not in system.base:
        raise problem(f"{where}, {key}", "of", f"{quantity!r} is not a quantity of this part", f"one of {', '.join(sorted(system.base))}")
    kind = spec.type or convention.mark_types.get(spec.kind, "C")
    return Point(
        name=name,
        kind=spec.kind,
        marks=spec.marks,
        type=kind,
        relations=chosen,
        quantity=quantity,
        needs=tuple(spec.needs),
        accept=accept_range(spec.accept, where),
        follow=spec.follow,
        isw=spec.isw,
        any=spec.any,
    )


def relation_index(text: str, system: System, where: str) -> int:
    row = by_name().get(text.casefold())
    wanted = row.equation if row is not None else text
    for i, relation in enumerate(system.relations):
        if relation.name == wanted:
            return i
    table = SymbolTable(tuple(SymbolEntry(name=n) for n in system.base))
    try:
        reading = read_relation(wanted, table)
        shown = system.support((reading.sides[0], reading.sides[1]))
        if shown is not None and len(shown) == 1:
            return next(iter(shown))
    except (ValueError, IndexError):
        pass
    names = ", ".join(repr(r.name) for r in system.relations)
    raise problem(where, "of", f"{text!r} is not a relationship of this part", f"one of {names}")


def check_marks(spec: CalculationPart, goals: Sequence[Goal], where: str) -> None:
    total = sum(g.maximum for g in goals)
    if total != spec.marks:
        raise problem(where, "marks", f"the points add up to {total:g}, the part is worth {spec.marks}", mend="Make them agree.")
