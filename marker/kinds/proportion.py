"""Parts in which a proportion is shown or tested with numbers: y ∝ x, 1/x, x², 1/x², √x, or a constant factor for equal steps.

What stays the same if the proportion holds (y/x, xy, y/x² …) must be worked out rightly for enough readings, and the
conclusion must agree with the numbers.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType
from typing import Literal

from pydantic import Field

from marker.expression import Expr, Number, walk
from marker.kinds.base import Carried, Kind, PartSpec
from marker.kinds.fault_texts import fault
from marker.kinds.gradient.axes import Axis, axis_of
from marker.kinds.gradient.spec import Table
from marker.kinds.marking import Finding, judge, line_reports, lost, part_result, question_of, verdicts_of
from marker.kinds.scheme_quantities import refuse
from marker.kinds.sides import Shown, best_reading, close, letters, shown, sides, statements
from marker.physics.evaluate import Unknown, compiled
from marker.physics.graphs import RELATIONS, Constancy, Relation, constants, power_of, spread_of
from marker.physics.rounding import plain, round_to_figures
from marker.reading import read_lines
from marker.reading.model import Line, SymbolEntry, SymbolTable
from marker.results import PartResult
from marker.scheme.convention import Convention

PointKind = Literal["ratios", "conclusion"]
_WRITTEN: Mapping[str, str] = MappingProxyType(
    {
        "direct": "{y}/{x}",
        "inverse": "{x}×{y}",
        "square": "{y}/{x}²",
        "inverse square": "{y}×{x}²",
        "root": "{y}/√{x}",
        "exponential": "the ratio of neighbouring {y}",
    }
)
_SAID: Mapping[str, re.Pattern[str]] = MappingProxyType(
    {
        "inverse square": re.compile(r"inverse.square|inversely proportional to (?:the )?(?:square|\w+ squared)"),
        "inverse": re.compile(r"\binverse(?:ly)?\b|\breciprocal\b"),
        "square": re.compile(r"\bsquared?\b"),
        "root": re.compile(r"\b(?:square )?root\b"),
        "exponential": re.compile(r"\bexponential(?:ly)?\b|\bconstant (?:ratio|factor)\b"),
        "direct": re.compile(r"\bproportional\b|\bproportion(?:ality)?\b"),
    }
)
_SAME = re.compile(
    r"\b(?:constant|same|equal|agree|identical|roughly|approximately|supports?|confirms?|verif\w+|valid|true|holds?|obey(?:s|ed)?|yes|proved)\b"
)
_NOT = re.compile(
    r"\b(?:not|isn.?t|aren.?t|doesn.?t|don.?t|no|never|neither|cannot|can.?t|varies|vary|different|changes|changing|fails?|false)\b"
)


class ProportionSpec(PartSpec):
    """Keys of kind = "proportion".

    table      x and y columns;  relation  what y is proportional to: direct, inverse, square, inverse square, root, exponential
    ask        "show" that it holds (the table must bear it out), or "test" whether it does
    needs      how many readings must be tested;  tolerance  how far a constant may stray, as a fraction, and still be constant
    """

    kind: str = "proportion"
    table: Table
    relation: Relation = "direct"
    ask: Literal["show", "test"] = "show"
    needs: int = Field(default=2, ge=2)
    tolerance: float = Field(default=0.05, gt=0, lt=0.5)
    points: list[PointKind] | None = None
    worth: list[int] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ProportionPart:
    """What marking needs. `constant` holds each reading's would-be constant; `holds` whether they are constant."""

    spec: ProportionSpec
    convention: Convention
    x: Axis
    y: Axis
    constant: Constancy
    holds: bool
    table: SymbolTable
    points: tuple[tuple[PointKind, int], ...]

    @property
    def question(self) -> str:
        return question_of(self.spec)

    @property
    def test(self) -> str:
        return _WRITTEN[self.spec.relation].format(x=self.x.symbol, y=self.y.symbol)


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One reading tested. `relation` the proportion the test is for; `right` False when the number given is not the value of the test."""

    relation: Relation
    reading: int
    value: float
    right: bool
    line: int
    typed: str


def compile_proportion(spec: ProportionSpec, convention: Convention) -> ProportionPart:
    """The part made ready. Raises SchemeError naming the key and the mend."""
    where = f"part {spec.name}"
    x, y = axis_of(spec.table.x, f"{where}, table.x"), axis_of(spec.table.y, f"{where}, table.y")
    if len(x.values) != len(y.values) or len(x.values) < spec.needs:
        seen = f"{len(x.values)} values of x and {len(y.values)} of y"
        refuse(f"{where}, table", seen, f"{spec.needs} or more of each", "Complete the table.")
    try:
        constant = spread_of(constants(spec.relation, x.values, y.values))
    except ValueError as error:
        refuse(f"{where}, table", str(error), "readings that can be tested", "Leave readings of nought out of the table.")
    if spec.ask == "show" and not constant.within(spec.tolerance):
        seen = f"{spec.relation} proportion strays by {100 * constant.spread:.0f} %"
        refuse(f"{where}, relation", seen, "a table that bears it out", 'Correct the table, raise tolerance, or set ask = "test".')
    entries = tuple(SymbolEntry(name=a.symbol, names=(a.name,) if a.name else (), unit=a.unit.text) for a in (x, y))
    return ProportionPart(
        spec=spec,
        convention=convention.with_rulings(spec.rulings),
        x=x,
        y=y,
        constant=constant,
        holds=constant.within(spec.tolerance),
        table=SymbolTable(entries),
        points=_points(spec, where),
    )


def _points(spec: ProportionSpec, where: str) -> tuple[tuple[PointKind, int], ...]:
    kinds: tuple[PointKind, ...] = tuple(spec.points) if spec.points else ("ratios", "conclusion")[: spec.marks]  # type: ignore[assignment]
    worth = tuple(spec.worth) if spec.worth else (spec.marks - len(kinds) + 1,) + (1,) * (len(kinds) - 1)
    if len(kinds) != len(worth) or sum(worth) != spec.marks:
        seen = f"{len(kinds)} points worth {sum(worth)} for {spec.marks} marks"
        refuse(f"{where}, points", seen, "points that add up to the marks", "List points, and worth where not one each.")
    return tuple(zip(kinds, worth, strict=True))


def mark_proportion(part: ProportionPart, lines: Sequence[str], carried: Carried) -> PartResult:
    """Points, faults and line reports of one response. Pure; any text may come in."""
    read = read_lines(tuple(lines), part.table)
    values = shown(sides(read))
    trials = tuple(_trials(part, values))
    findings = tuple(
        (kind, worth, _ratios(part, trials) if kind == "ratios" else _conclusion(part, trials, read)) for kind, worth in part.points
    )
    return part_result(
        name=part.spec.name,
        maximum=part.spec.marks,
        judgements=tuple(judge(*f) for f in findings),
        lines=line_reports(read, verdicts_of([f for _, _, f in findings], [v.line for v in values])),
        read=read,
    )


# --- readings tested ---------------------------------------------------------------------------------------------------------------------


def _trials(part: ProportionPart, values: Sequence[Shown]) -> Iterator[Trial]:
    """Each test of a reading: arithmetic on its numbers first, then bare numbers that are its constant."""
    found: list[Trial] = []
    for index, value in enumerate(values):
        if not value.typed:
            trial = _worked(part, value, values[index + 1 :])
            if trial is not None:
                found.append(trial)
    yield from found
    tested = {t.reading for t in found if t.relation == part.spec.relation}
    worked_lines = {t.line for t in found}
    free = [i for i in range(len(part.constant.values)) if i not in tested]
    for value in values:
        if value.typed and value.line not in worked_lines and not _is_reading(part, value):
            reading = next((i for i in free if _states(part, value, part.constant.values[i])), None)
            if reading is not None:
                free.remove(reading)
                yield Trial(
                    relation=part.spec.relation, reading=reading, value=value.raw, right=True, line=value.line, typed=f"{value.raw:g}"
                )


def _worked(part: ProportionPart, value: Shown, later: Sequence[Shown]) -> Trial | None:
    """Arithmetic on one reading's numbers: which test it is, and whether the number written after it is its value."""
    numbers = [n.value for n in walk(value.expr) if isinstance(n, Number)]
    for reading, relation, target in _targets(part):
        if not _uses(part, numbers, reading, relation):
            continue
        for goal in (target, 1.0 / target if target else math.inf):
            if close(value.raw, goal, slack=1e-6):
                given = next((v for v in later if v.typed and v.side.chain == value.side.chain and v.side.place > value.side.place), None)
                right = given is None or _is_value(given, goal)
                typed = f"{given.raw:g}" if given is not None else ""
                stated = given.raw if given is not None else value.raw
                own = stated if goal == target else (1.0 / stated if stated else math.inf)
                return Trial(relation=relation, reading=reading, value=own, right=right, line=value.line, typed=typed)
    return None


def _targets(part: ProportionPart) -> Iterator[tuple[int, Relation, float]]:
    """(reading, relation, its constant), the relation asked for first."""
    for relation in sorted(RELATIONS, key=lambda r: r != part.spec.relation):
        if relation == "exponential" and part.spec.relation != "exponential":
            continue
        try:
            found = constants(relation, part.x.values, part.y.values)
        except ValueError:
            continue
        if relation == "exponential":
            pairs = sorted(zip(part.x.values, part.y.values, strict=True))
            found = tuple(d / b for (_, b), (_, d) in pairwise(pairs))
        yield from ((i, relation, c) for i, c in enumerate(found))


def _uses(part: ProportionPart, numbers: Sequence[float], reading: int, relation: Relation) -> bool:
    """True when the arithmetic holds the numbers of that reading, in the table's units or converted by a power of ten."""
    if relation == "exponential":
        pairs = sorted(zip(part.x.values, part.y.values, strict=True))
        wanted = (pairs[reading][1], pairs[reading + 1][1])
    else:
        wanted = (part.x.values[reading], part.y.values[reading])
    return all(any(close(n, w, slack=1e-6) for n in numbers) for w in wanted)


def _is_value(given: Shown, target: float) -> bool:
    return any(close(v, target, half, 0.005) for v, half in ((given.raw, given.half_raw), (given.si, given.half_si)))


def _states(part: ProportionPart, value: Shown, target: float) -> bool:
    """True for a bare number that is a constant at three figures or so: 0.4 is not taken for 0.3725."""
    for goal in (target, 1.0 / target if target else math.inf):
        if close(value.raw, goal, min(value.half_raw, 0.02 * abs(goal)), 0.003):
            return True
    return False


def _is_reading(part: ProportionPart, value: Shown) -> bool:
    return any(close(value.raw, v, slack=1e-9) for v in (*part.x.values, *part.y.values))


# --- points ------------------------------------------------------------------------------------------------------------------------------


def _ratios(part: ProportionPart, trials: Sequence[Trial]) -> Finding:
    """Looks for enough readings tested, each rightly worked out."""
    asked = [t for t in trials if t.relation == part.spec.relation]
    right = {t.reading: t for t in asked if t.right}
    lines = tuple(sorted({t.line for t in right.values()}))
    if len(right) >= part.spec.needs:
        return Finding(earned=True, reason=f"{part.test} worked out for {len(right)} readings.", lines=lines)
    worth = next(w for k, w in part.points if k == "ratios")
    if worth > 1 and len(right) == part.spec.needs - 1 and len(right) > 1:
        few = fault("too-few-ratios", lines[0], count=len(right), needed=part.spec.needs)
        reason = f"{part.test} worked out rightly for {len(right)} readings of the {part.spec.needs} needed."
        return Finding(earned=True, reason=reason, lines=lines, faults=(few,), share=(worth - 1) / worth)
    slips = [t for t in asked if not t.right]
    if slips:
        return lost(fault("ratio-arithmetic", slips[0].line, typed=slips[0].typed, expression=part.test))
    others = [t for t in trials if t.relation != part.spec.relation]
    if others and not right:
        other = _WRITTEN[others[0].relation].format(x=part.x.symbol, y=part.y.symbol)
        return lost(fault("wrong-test", others[0].line, seen=other, wanted=part.spec.relation, right=part.test))
    few = fault("too-few-ratios", lines[0] if lines else None, count=len(right), needed=part.spec.needs)
    return lost(few)


def _conclusion(part: ProportionPart, trials: Sequence[Trial], lines: Sequence[Line]) -> Finding:
    """Looks for a conclusion that agrees with the candidate's own numbers, of which there must be two."""
    said = list(_said(part, lines))
    if not said:
        return Finding(earned=False, reason="No conclusion is drawn.")
    verdict, line = said[-1]
    own = {t.reading: t.value for t in trials if t.relation == part.spec.relation}
    if len(own) < 2:
        return Finding(earned=False, reason="The conclusion has no numbers to rest on.", lines=(line,))
    wrong = [t for t in trials if t.relation == part.spec.relation and not t.right]
    truth = spread_of(tuple(own.values())).within(part.spec.tolerance)
    doubt = "the conclusion is put in two ways that do not agree" if len({v for v, _ in said}) > 1 else ""
    if verdict != truth:
        return lost(fault("conclusion-against-numbers", line), doubt=doubt)
    followed = bool(wrong) and truth != part.holds
    return Finding(earned=True, reason="The conclusion agrees with the numbers.", lines=(line,), followed=followed, doubt=doubt)


def _said(part: ProportionPart, lines: Sequence[Line]) -> Iterator[tuple[bool, int]]:
    """(holds or not, line) for each conclusion in words or with ∝."""
    for statement in statements(lines):
        reading = best_reading(statement)
        if "∝" in reading.relations and len(reading.sides) == 2:
            holds = _proportional(part, reading.sides)
            if holds is not None:
                yield holds, statement.line
    for line in lines:
        words = line.words.lower()
        if line.withdrawn or not words:
            continue
        named = next((r for r, pattern in _SAID.items() if pattern.search(words)), None)
        denied = bool(_NOT.search(words))
        if (named is not None and _means(part, named, words)) or (named is None and _SAME.search(words)):
            yield not denied, line.number


def _means(part: ProportionPart, named: str, words: str) -> bool:
    """True when the proportion named is the one asked for; "proportional to the square" names both."""
    if named == part.spec.relation:
        return True
    return part.spec.relation == "direct" and named == "exponential" and "constant ratio" in words


def _proportional(part: ProportionPart, pair: Sequence[Expr]) -> bool | None:
    """Whether y ∝ … or x ∝ … states the proportion asked for; None when it is about something else."""
    left, right = pair[0], pair[1]
    power = power_of(part.spec.relation)
    if power is None or letters(left) | letters(right) != {part.x.symbol, part.y.symbol}:
        return None
    try:
        ratios = []
        for x in (0.7, 1.9, 3.1):
            point = {part.x.symbol: x, part.y.symbol: x**power}
            ratios.append(compiled(left)(point) / compiled(right)(point))
    except (KeyError, ValueError, ZeroDivisionError, OverflowError, Unknown):
        return None
    return True if spread_of(tuple(ratios)).within(1e-6) else None


def model_proportion(part: ProportionPart) -> tuple[str, ...]:
    """Lines of an answer that earns every mark."""
    lines = []
    pairs = list(zip(part.x.values, part.y.values, strict=True))
    if part.spec.relation == "exponential":
        ordered = sorted(pairs)
        tests = [(f"{d:g}/{b:g}", d / b) for (_, b), (_, d) in pairwise(ordered)]
    else:
        forms = {"direct": "{y:g}/{x:g}", "inverse": "{y:g} × {x:g}", "square": "{y:g}/{x:g}^2", "inverse square": "{y:g} × {x:g}^2"}
        form = forms.get(part.spec.relation, "{y:g}/√({x:g})")
        tests = [(form.format(x=x, y=y), c) for (x, y), c in zip(pairs, part.constant.values, strict=True)]
    lines = [f"{text} = {plain(round_to_figures(value, 4))}" for text, value in tests]
    word = {"direct": "directly proportional", "inverse": "inversely proportional", "exponential": "a constant ratio, exponential"}
    named = word.get(part.spec.relation, f"{part.spec.relation} proportion".replace("root", "square root"))
    lines.append(f"The values are the same within uncertainty: {named}." if part.holds else f"The values are not constant: not {named}.")
    return tuple(lines)


KIND = Kind(name="proportion", spec=ProportionSpec, compile=compile_proportion, mark=mark_proportion, model=model_proportion)
