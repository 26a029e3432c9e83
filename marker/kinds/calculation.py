"""The kind "calculation": the standard worked calculation, of one step or several."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from marker.awarding.calculation import mark_calculation
from marker.kinds.base import Carried, Kind
from marker.results import OwnValue, PartResult
from marker.scheme.calculation import CalculationPart
from marker.scheme.compile_calculation import compile_calculation
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.convention import Convention
from marker.scheme.model_answer import model_lines
from marker.scheme.paper import Around
from marker.scheme.surroundings import Carryable, Surroundings
from marker.scheme.worked_anew import with_ways_to_carried


def _compile_alone(spec: CalculationPart, convention: Convention) -> CompiledCalculation:
    return compile_calculation(spec, convention, Surroundings(data={}, carried={}))


def _compile(spec: CalculationPart, convention: Convention, around: Around) -> CompiledCalculation:
    carried: dict[str, Carryable] = {}
    earlier: dict[str, tuple[CalculationPart, CompiledCalculation]] = {}
    for part in around.earlier:
        if isinstance(part.compiled, CompiledCalculation):
            carried.update(_carryable(part.compiled))
            if isinstance(part.spec, CalculationPart):
                earlier[part.name] = (part.spec, part.compiled)
    surroundings = Surroundings(data=around.sheet, carried=carried)
    made = compile_calculation(spec, convention, surroundings)
    anew = with_ways_to_carried(spec, made, earlier, lambda other: compile_calculation(other, convention, surroundings))
    return made if anew is None else replace(made, anew=anew)


def _carryable(part: CompiledCalculation) -> dict[str, Carryable]:
    figures = {g.find: g.figures for g in part.goals}
    least = min(figures.values(), default=3)
    sensible = {g.find: g.sensible for g in part.goals}
    shown = {g.find: g.shown for g in part.goals}
    accept = {g.find: g.accept for g in part.goals}
    return {
        f"{part.name}.{name}": Carryable(
            value=value,
            unit=part.units.get(name),
            dimensions=part.dimensions.get(name),
            figures=figures.get(name, least),
            sensible=sensible.get(name),
            shown=shown.get(name),
            accept=accept.get(name),
        )
        for name, value in part.system.base.items()
    }


def _mark(part: CompiledCalculation, lines: Sequence[str], carried: Carried) -> PartResult:
    """The result, remembered: thirty candidates type the same three lines."""
    if not part.carry:
        return _remembered(part, tuple(lines), ())
    ways = (part, part.anew) if part.anew is not None else (part,)
    sources = {source for way in ways for source, _ in way.carry.values()}
    relevant = tuple((key, own) for key, own in carried.items() if key.split("#")[0].rpartition(".")[0] in sources)
    return _remembered(part, tuple(lines), relevant)


@lru_cache(maxsize=20_000)
def _remembered(part: CompiledCalculation, lines: tuple[str, ...], carried: tuple[tuple[str, OwnValue], ...]) -> PartResult:
    return mark_calculation(part, lines, dict(carried))


KIND = Kind(
    name="calculation",
    spec=CalculationPart,
    compile=_compile_alone,
    mark=_mark,
    model=model_lines,
    compile_in_paper=_compile,
    carries=True,
)
