"""A part that carries a value, compiled with the way to that value: for a candidate who left the part before blank and finds it here."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from marker.errors import SchemeError
from marker.scheme.calculation import CalculationPart
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.part_data import source_of

Earlier = Mapping[str, tuple[CalculationPart, CompiledCalculation]]
Compile = Callable[[CalculationPart], CompiledCalculation]


def with_ways_to_carried(
    spec: CalculationPart, main: CompiledCalculation, earlier: Earlier, compiled: Compile
) -> CompiledCalculation | None:
    """The part with data and relationships of the parts it carries from, which carry no marks here; None where letters would clash.

    compiled  makes a part of the changed table
    """
    made = spec
    for symbol, source in spec.carry.items():
        part, name = source_of(source, symbol)
        found = earlier.get(part)
        if found is None or name != symbol or spec.route or not _alone(name, *found) or _clash(symbol, spec, main, *found):
            return None
        before = found[0]
        made = made.model_copy(
            update={
                "given": {**before.given, **made.given},
                "carry": {**before.carry, **{s: v for s, v in made.carry.items() if s != symbol}},
                "also": [*made.also, *before.using, *(u for s in before.steps() for u in s.using), *before.also],
                "names": {**before.names, **made.names},
            }
        )
    try:
        return compiled(made) if made is not spec else None
    except SchemeError:
        return None


def _alone(name: str, before: CalculationPart, compiled: CompiledCalculation) -> bool:
    """The one thing that the part before asks for, and not given there to be shown."""
    return [s.find for s in before.steps()] == [name] and compiled.goals[0].shown is None and not before.route


def _clash(symbol: str, spec: CalculationPart, main: CompiledCalculation, before: CalculationPart, compiled: CompiledCalculation) -> bool:
    """One letter means two things in the two parts."""
    shared = (main.system.base.keys() & compiled.system.base.keys()) - {symbol}
    constants = {n for n in shared if n in main.data and n in compiled.data and main.data[n].si == compiled.data[n].si}
    carried = {n for n in shared if spec.carry.get(n) == before.carry.get(n) is not None}
    return bool(shared - constants - carried)
