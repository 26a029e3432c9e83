"""The values a final answer may have: the right one, and those that follow from faults already paid for elsewhere."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from marker.awarding.limits import easier, outside, replaces_shown, to_be_shown
from marker.expression import Unit
from marker.judging.model import Evidence, Kind, Slip, TypedValue
from marker.physics.evaluate import DEGREE, same_dimensions
from marker.physics.system import Point, near_root
from marker.physics.unit_table import kept_apart
from marker.scheme.compiled import CompiledCalculation, Goal
from marker.scheme.convention import Convention
from marker.scheme.definitions import changes, other_of

MOST_WORLDS = 200
LAST_FEW = 3
ELECTRONVOLT = 1.602176634e-19
OwnValues = dict[str, list[float]]
# families of fault in which a number of the paper stands in the wrong place: digits exchanged, another datum, two in each other's place
MISREAD = frozenset({"copying", "swapped", "other quantity"})
Overrides = Sequence[tuple[str, tuple[float, ...]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Own:
    """Own values from elsewhere: carried from other parts, and the wrong attempts of this one that were mended later."""

    carried: OwnValues
    mended: tuple[Evidence, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class World:
    """One allowed value of a goal in SI.

    followed  names what was replaced by the candidate's own, "" for the right answer
    limit     why the convention does not follow it: "absurd", "easier", "shown"; "" where it does
    """

    value: float
    followed: str = ""
    limit: str = ""


def family(slip: Slip, convention: Convention) -> str:
    """What kind of fault it is for the purpose of marks, under the convention."""
    kind = convention.digit_place if slip.family == "digit place" else slip.family
    if kind == "conversion" and slip.code != "other-g" and convention.conversion_fault == "substitution":
        return "copying"
    return kind


def right_worlds(part: CompiledCalculation, goal: Goal) -> Iterator[World]:
    """The right answer, with each accepted value of a constant and each value the question itself shows; either sign where that is free."""
    for world in _right_worlds(part, goal):
        yield world
        if part.either_sign and world.value < 0:
            yield replace(world, value=-world.value)


def _right_worlds(part: CompiledCalculation, goal: Goal) -> Iterator[World]:
    yield World(value=goal.value)
    for symbol, datum in part.data.items():
        for other in datum.others:
            env = part.system.solve({symbol: other})
            if env is not None:
                yield World(value=env[goal.find])
    for symbol, value in to_be_shown(part).items():
        if symbol != goal.find:
            env = part.system.solve({symbol: value})
            if env is not None:
                yield World(value=env[goal.find])
    yield from _with_sheet_electronvolt(part, goal)


def _with_sheet_electronvolt(part: CompiledCalculation, goal: Goal) -> Iterator[World]:
    """The answer with an electronvolt worth the paper's e (1.60 × 10⁻¹⁹ C unless it gives another), as candidates convert."""
    given = {s: d for s, d in part.data.items() if d.unit is not None and "eV" in d.unit.name}
    charge = part.data.get("e")
    known = charge is not None and abs(charge.si / ELECTRONVOLT - 1) < 0.01
    ratio = (charge.si if charge is not None and known else 1.60e-19) / ELECTRONVOLT
    env = part.system.solve({s: d.si * ratio for s, d in given.items()}) if given and goal.find not in given else None
    if env is not None:
        yield World(value=env[goal.find])
        yield World(value=env[goal.find] / ratio)  # written in electronvolts again


def worlds_with(part: CompiledCalculation, goal: Goal, overrides: Overrides) -> Iterator[World]:
    """Answers with some quantities at the candidate's own values: every combination, at most MOST_WORLDS."""
    choices = [[None, *dict.fromkeys(values)] for _, values in overrides]
    names = [name for name, _ in overrides]
    shown = ({s: v} for s, v in to_be_shown(part).items() if s != goal.find)
    constants: list[dict[str, float]] = [{}, *({s: v} for s, d in part.data.items() for v in d.others), *shown]
    count = 0
    for picks in product(*choices):
        chosen: Point = {n: v for n, v in zip(names, picks, strict=True) if v is not None and n != goal.find}
        if not chosen:
            continue
        for constant in constants:
            count += 1
            if count > MOST_WORLDS:
                return
            env = part.system.solve({**constant, **chosen})
            for one in _found_together(part, goal, chosen, env) if env is not None else ():
                yield World(value=one[goal.find], followed=", ".join(sorted(chosen)), limit=_limit(part, goal, chosen, one))


def _found_together(part: CompiledCalculation, goal: Goal, chosen: Point, env: Point) -> Iterator[Point]:
    """The goal on own values; from each relationship that holds it, where an own value is of an unknown found together with it."""
    step = next((s for s in part.system.steps if goal.find in s.letters), None)
    roots: list[Point] = []
    if step is not None and set(step.letters) & chosen.keys():
        for r in sorted(step.relations):
            relation = part.system.relations[r]
            if goal.find in relation.letters and relation.letters & chosen.keys() and relation.letters <= env.keys():
                root = near_root(relation.equation, goal.find, env, env[goal.find])
                roots.extend([] if root is None else [{**env, goal.find: root}])
    yield from roots or [env]


def _limit(part: CompiledCalculation, goal: Goal, chosen: Point, env: Point) -> str:
    """Why an answer that rests on these own values is not followed, "" when it is."""
    convention = part.convention
    if not convention.follow_shown and replaces_shown(part, chosen):
        return "shown"
    if convention.follow_unless_absurd and outside(part, goal, chosen, env[goal.find]):
        return "absurd"
    if convention.follow_unless_easier and easier(part, goal, env):
        return "easier"
    return ""


def own_values(part: CompiledCalculation, goal: Goal, evidence: Sequence[Evidence], own: Own) -> Overrides:
    """Quantities whose own values may be followed here: carried from other parts, found on the way, or miscopied."""
    convention = part.convention
    found: dict[str, list[float]] = {}
    if convention.follow_across_parts:
        for symbol, values in own.carried.items():
            found.setdefault(symbol, []).extend(values)
    if convention.follow_assumed:
        for symbol in part.carry.keys() - own.carried.keys():
            found.setdefault(symbol, []).extend(e.value.si for e in evidence if e.value is not None and e.about == symbol)
    # a value that has its mark and is then carried on wrongly is paid for by nothing
    substituted = any(p.kind == "substitution" for p in goal.points)
    unpaid = frozenset() if substituted else frozenset(p.quantity for p in goal.points if p.kind == "value")
    if convention.follow_within_part:
        for name in _charged_before(part, goal):
            typed = [e for e in (*own.mended, *evidence) if e.value is not None and e.about == name and _is_followed(e, convention)]
            right = [e for e in typed if e.right and not e.slips] if name in unpaid else []
            values = [e.value.si for e in right or typed if e.value is not None]
            found.setdefault(name, []).extend(values[-LAST_FEW:])
    for symbol, value in _put_in(part, evidence, _paid_for(convention, goal)):
        if symbol not in unpaid and _may_be_misread(part, symbol, evidence):
            found.setdefault(symbol, []).append(value)
            for datum, meant in _by_definition(part, symbol, value):
                found.setdefault(datum, []).append(meant)
    return _known(part, found)


def _by_definition(part: CompiledCalculation, symbol: str, value: float) -> Iterator[tuple[str, float]]:
    """The datum that a definition makes of a value put in for its double or its reciprocal: d = 2r where the diameter went in for r."""
    for r, name in other_of(part, symbol) if symbol not in part.data else ():
        if name in part.data:
            root = near_root(part.system.relations[r].equation, name, {**part.system.base, symbol: value}, part.data[name].si)
            if root is not None:
                yield name, root


def _may_be_misread(part: CompiledCalculation, symbol: str, evidence: Sequence[Evidence]) -> bool:
    """Only what stands on the paper, or was found before, can be misread: a value from nowhere for what is to be found is wrong physics.

    What a definition without a mark gives (a radius, of the diameter printed) counts as printed.
    """
    defined = any(symbol in step.letters and set(step.relations) <= part.helpers for step in part.system.steps)
    found = any(e.kind is Kind.VALUE and e.about == symbol for e in evidence)
    return symbol in part.data or symbol in part.carry or defined or found


def _charged_before(part: CompiledCalculation, goal: Goal) -> list[str]:
    """Quantities a fault in which has a mark of its own to cost: goals before this one, and values with a point."""
    order = [g.find for g in part.goals]
    points = [p.quantity for p in goal.points if p.kind == "value" and p.quantity != goal.find]
    return list(dict.fromkeys((*order[: order.index(goal.find)], *points)))


def _is_followed(e: Evidence, convention: Convention) -> bool:
    """An own value may be followed on: not where an arithmetic slip stops the part's accuracy."""
    if convention.arithmetic_slip == "answer mark, followed":
        return True
    return not any(s.family in ("arithmetic", "rounding") for s in (*e.slips, *e.inherited))


def _paid_for(convention: Convention, goal: Goal) -> frozenset[str]:
    """Families of faults after which the value put in is followed to the answer: those that another mark of the goal pays for."""
    pays = any(p.kind in ("substitution", "value") for p in goal.points)
    misread = MISREAD if pays and convention.transcription_slip == "substitution mark, followed" else frozenset[str]()
    return frozenset({"accepted"}) | misread


def _put_in(
    part: CompiledCalculation, evidence: Sequence[Evidence], families: frozenset[str]
) -> Iterator[tuple[str, float]]:
    """(symbol, value) of each value put in with a fault of these families; a quantity of another kind only where the paper gives it."""
    for e in evidence:
        if not (e.slips or e.inherited):
            continue
        slips = [s for s in (*e.slips, *e.inherited) if family(s, part.convention) in families]
        symbols = {s.symbol for s in slips} | {s.expected for s in slips if s.family == "swapped"}
        other = {s.symbol for s in slips if s.family == "other quantity"}
        printed = {v for d in part.data.values() for v in (d.si, d.raw)} if other else set[float]()
        yield from ((symbol, value) for symbol, value in e.uses if symbol in symbols and (symbol not in other or value in printed))


def unconverted(part: CompiledCalculation, evidence: Sequence[Evidence]) -> Overrides:
    """Values put in without their conversion, or with a wrong power of ten."""
    found: dict[str, list[float]] = {}
    for symbol, value in _put_in(part, evidence, frozenset({"conversion"})):
        found.setdefault(symbol, []).append(value)
    return _known(part, found)


def _known(part: CompiledCalculation, found: OwnValues) -> Overrides:
    return [(n, tuple(v)) for n, v in found.items() if v and n in part.system.base]


def in_world(part: CompiledCalculation, goal: Goal, typed: TypedValue, world: World, si: float) -> bool:
    """The typed value, taken as `si`, is the world's value: in the accepted range, or rounded from it, or near enough."""
    number = typed.number
    half = half_place(typed, si)
    if abs(si - world.value) <= half * _whole_number_slack(typed) * 1.0001:
        return True
    accept = goal.accept
    if accept is not None and goal.value:
        ratio = world.value / goal.value
        low, high = sorted((accept[0] * ratio, accept[1] * ratio))
        slack = 1e-6 * abs(world.value)
        return low - slack <= si <= high + slack
    tolerance = part.convention.rounding_tolerance
    if part.convention.wrong_rounding == "accepted" and number is not None and number.figures[1] >= 2:
        return abs(si - world.value) <= max(2.0 * half, tolerance * abs(world.value))
    if number is not None and number.figures[1] <= 2:
        tolerance = min(tolerance, 0.002)
    return abs(si - world.value) <= tolerance * abs(world.value)


def _whole_number_slack(typed: TypedValue) -> float:
    """Trailing noughts of a whole number may be no figures: 180 may be 182.3 in two. The reading that favours the candidate."""
    number = typed.number
    if number is None:
        return 1.0
    least, most = number.figures
    return float(10 ** (most - max(least, 2))) if least < most else 1.0


def half_place(typed: TypedValue, si: float) -> float:
    """Half a unit of the last place, scaled to the way the number was taken."""
    if typed.number is None or typed.raw == 0:
        return typed.half
    return abs(typed.number.half * (si / typed.raw))


def taken_as(part: CompiledCalculation, goal: Goal, typed: TypedValue) -> Iterator[tuple[str, float]]:
    """Ways to take a typed answer: (unit "ok", "missing", "wrong" or right but for its "prefix"; value in SI)."""
    dims = part.dimensions.get(goal.find)
    angle = goal.find in part.angles
    if typed.unit is not None:
        fits = dims is not None and same_dimensions(typed.unit.dimensions, dims) and not _kept_for_another_kind(goal, typed.unit)
        if fits and not (angle and typed.unit.dimensions[7] == 0):
            if typed.unit.offset:  # a difference of 23 °C is 23 K; a temperature of 279 K is no 279 °C
                change = goal.unit is None or bool(goal.unit.offset) or goal.find[0] in "Δδ" or _difference(part, goal.find)
                yield "ok", typed.raw * typed.unit.scale + typed.unit.offset
                yield ("ok" if change else "wrong"), typed.raw * typed.unit.scale
            else:
                yield "ok", typed.si
            if typed.unit.scale != 1.0 or (goal.unit is not None and goal.unit.scale != typed.unit.scale):
                yield from (("prefix", v) for v in _bare(goal, typed.raw, angle))
            return
        counted = dims is not None and not any(dims) and _in_one_unit(part, typed.unit)
        yield from (("ok" if counted else "wrong", v) for v in _bare(goal, typed.raw, angle))
        return
    without = dims is not None and not any(dims)
    if without and goal.unit is not None and goal.unit.name == "%":
        yield "ok", typed.raw
        yield "missing", typed.raw * goal.unit.scale
        return
    nameless = without and (goal.unit is None or not goal.unit.name)  # a level in dB has a unit to be written
    yield from (("ok" if nameless else "missing", v) for v in _bare(goal, typed.raw, angle))


def _in_one_unit(part: CompiledCalculation, typed: Unit) -> bool:
    """5.7 × 10¹⁶ s⁻¹ for the number of photons in 1.0 s: a number in one unit of a datum is as good as the number for each unit of it."""
    ones = [d.unit.dimensions for d in part.data.values() if d.raw == 1.0 and d.unit is not None and d.unit.scale == 1.0]
    turned = tuple(-x for x in typed.dimensions)
    return typed.scale == 1.0 and any(same_dimensions(d, typed.dimensions) or same_dimensions(d, turned) for d in ones)  # type: ignore[arg-type]


def _difference(part: CompiledCalculation, name: str) -> bool:
    """The quantity is the difference of two others of its kind: adding the same to both does not change it."""
    return any(name in letters for _, letters in changes(part))


def _kept_for_another_kind(goal: Goal, typed: Unit) -> bool:
    """The joule for a moment, the hertz for an activity, the sievert for an absorbed dose: units of one size for unlike quantities.

    Source: The International System of Units (SI Brochure, 9th edition), 2.3.4: names kept for certain kinds of quantity.
    """
    return goal.unit is not None and kept_apart(typed.name, goal.unit.name)


def _bare(goal: Goal, raw: float, angle: bool) -> Iterator[float]:
    if angle:
        yield raw * DEGREE
        return
    yield raw
    if goal.unit is not None and goal.unit.scale != 1.0:
        yield raw * goal.unit.scale
