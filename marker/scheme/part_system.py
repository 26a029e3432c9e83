"""A part solved: every quantity its data fix, letters that cancel, dimensions of what is found."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from marker.expression import NO_DIMENSIONS, Dimensions
from marker.physics.evaluate import Unknown, Value, evaluate
from marker.physics.system import Relation, System, Unsolvable, solved_system
from marker.reading import read_quantity
from marker.scheme.calculation import CalculationPart, StepSpec
from marker.scheme.compiled import Datum
from marker.scheme.surroundings import Carryable, problem


def system_of(
    spec: CalculationPart,
    steps: Sequence[StepSpec],
    relations: Sequence[Relation],
    data: Mapping[str, Datum],
    carried: Mapping[str, Carryable],
    angles: frozenset[str],
    where: str,
) -> tuple[System, frozenset[str]]:
    values = {s: d.si for s, d in data.items()} | {s: c.value for s, c in carried.items()}
    hints = {s.find: read_quantity(t).si for s in steps for t in (s.answer or s.show,) if t}
    wanted = [s.find for s in steps]

    ones = frozenset(s for s, d in data.items() if d.si == 1.0 and (d.number.text == "1" or _in_seconds(d)))

    def solve(extra: Mapping[str, float]) -> System:
        made = solved_system(relations, {**values, **extra}, angles=angles, signed=frozenset(spec.signed), hints=hints, wanted=wanted)
        return replace(made, ones=ones) if ones else made

    try:
        return solve({}), frozenset()
    except Unsolvable as error:
        free = cancelling(relations, values, wanted, solve)
        if free is None:
            missing = ", ".join(error.missing)
            letters = sorted(frozenset[str]().union(*(r.letters for r in relations)) - values.keys() - set(wanted))
            mend = f"Give a value of {' or '.join(letters)}, or add a relationship." if letters else "Check the symbols in using."
            raise problem(where, "find", f"{missing} cannot be found from what is given", mend=mend) from error
        return solve(dict.fromkeys(free, 1.0)), free


def cancelling(relations: Sequence[Relation], values: Mapping[str, float], wanted: Sequence[str], solve: object) -> frozenset[str] | None:
    """A letter without a value that does not matter (a mass that cancels): the answer is the same whatever it is."""
    letters = frozenset[str]().union(*(r.letters for r in relations)) - values.keys() - set(wanted)
    for name in sorted(letters):
        try:
            one, two = solve({name: 1.0}), solve({name: 1.7})  # type: ignore[operator]
        except Unsolvable:
            continue
        if all(abs(one.base[w] - two.base[w]) <= 1e-9 * abs(one.base[w]) for w in wanted):
            return frozenset({name})
    return None


def dimensions_of(
    system: System, data: Mapping[str, Datum], carried: Mapping[str, Carryable], angles: frozenset[str]
) -> dict[str, Dimensions | None]:
    known: dict[str, Dimensions | None] = {s: d.unit.dimensions if d.unit else NO_DIMENSIONS for s, d in data.items()}
    known.update({s: c.dimensions for s, c in carried.items()})
    for step in system.steps:
        env = {n: Value(system.base[n], system.base[n], d) for n, d in known.items()}
        for letter, tree in zip(step.letters, step.trees, strict=True):
            try:
                known[letter] = evaluate(tree, env).dimensions
            except Unknown:
                known[letter] = None
    for name in system.base:
        if name in angles:
            known[name] = (0.0,) * 7 + (1.0,)
        known.setdefault(name, None)
    return known


def _in_seconds(datum: Datum) -> bool:
    return datum.unit is not None and datum.unit.name == "s"
