"""Values without a subject given to the goals they answer: "0.51 N", a last line "= 34", "or 4.0 Ω", a fraction left as it is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from marker.awarding.form import SIMPLE_RATIO
from marker.awarding.worlds import in_world, right_worlds, taken_as
from marker.expression import Call, Expr, Number, Quotient, Root, Symbol, UnitFactor, symbols, walk
from marker.judging.desk import Implied
from marker.judging.given import STRUCTURAL
from marker.judging.leaves import is_numeric, template
from marker.judging.lifting import near
from marker.judging.model import Evidence, Kind, Slip, TypedValue
from marker.judging.values import check_value, nearly
from marker.physics.evaluate import same_dimensions
from marker.reading import read_lines
from marker.scheme.compiled import CompiledCalculation, Goal

MOST_READINGS = 6
SURELY = 3  # so many data in their places are no accident of tracing


def adopt_lone_values(part: CompiledCalculation, evidence: Sequence[Evidence]) -> tuple[Evidence, ...]:
    """Gives values typed without a subject ("0.51 N", a last line "= 34") to the goals that have none."""
    out = list(evidence)
    lone = [i for i, e in enumerate(out) if e.value is not None and not e.about and e.kind in (Kind.VALUE, Kind.ARITHMETIC) and e.bare]
    last = max((i for i, e in enumerate(out) if e.value is not None), default=-1)
    if last >= 0 and last not in lone and not out[last].about and out[last].kind is Kind.ARITHMETIC:
        lone.append(last)
    for position, goal in enumerate(part.goals):
        _adopt_conversion(part, goal, out)
        if any(e.kind is Kind.VALUE and e.about == goal.find for e in out):
            _adopt_restated(part, goal, out, lone)
            continue
        fits = _with_the_unit(part, goal, out, [i for i in lone if _fits(part, goal, out[i])])
        if not fits and position == len(part.goals) - 1:
            fits = [i for i in lone if out[i].kind is Kind.VALUE or i >= len(out) - 1][-1:]
        if not fits:
            continue
        chosen = _of_several(part, goal, out, fits) if position < len(part.goals) - 1 else fits[-1]
        lone.remove(chosen)
        out[chosen] = _as_value(part, goal, out[chosen], out[:chosen])
        for other in [i for i in fits if i in lone and out[i].alternative]:
            out[other] = _as_value(part, goal, out[other], out[:other])
    for goal in part.goals:
        _answer_before_working(part, goal, out)
    return _with_alternatives(part, out)


def _with_the_unit(part: CompiledCalculation, goal: Goal, evidence: Sequence[Evidence], fits: list[int]) -> list[int]:
    """`75.6 dB, as lg of 3.6e7 is 7.56`: a right value in the unit asked for is the answer, and a bare number beside it working."""
    united = [i for i in fits if (v := evidence[i].value) is not None and v.unit is not None]
    if not united or len(united) == len(fits) or goal.unit is None or not goal.unit.name:
        return fits
    worlds = list(right_worlds(part, goal))
    values = ((i, evidence[i].value) for i in united)
    right = [i for i, v in values if v is not None and any(in_world(part, goal, v, w, v.si) for w in worlds)]
    return right or fits


def _of_several(part: CompiledCalculation, goal: Goal, evidence: Sequence[Evidence], fits: Sequence[int]) -> int:
    """Which of several values without a subject answers a question before the last: the first that is right, else the first."""
    return next((i for i in fits if (v := evidence[i].value) is not None and _is_answer(part, goal, v)), fits[0])


def _adopt_conversion(part: CompiledCalculation, goal: Goal, out: list[Evidence]) -> None:
    """A datum in another unit is the whole question: what the candidate makes of it (`250 cm³ = 2.5 × 10⁻⁴ m³`) is the answer."""
    printed = [s for s, d in part.data.items() if d.si == goal.value and any(r.letters == {s, goal.find} for r in part.system.relations)]
    if any(e.kind is Kind.VALUE and e.about == goal.find for e in out):
        return
    for i in reversed(range(len(out))):
        e = out[i]
        unit = e.value.unit if e.value is not None else None
        if e.kind is Kind.DATUM and e.about in printed and unit is not None and unit != part.data[e.about].unit:
            out[i] = replace(e, kind=Kind.VALUE, about=goal.find)
            return


def _answer_before_working(part: CompiledCalculation, goal: Goal, out: list[Evidence]) -> None:
    """An answer written first, with its unit, and its working after it: the number the working ends in needs no unit of its own."""
    values = [i for i, e in enumerate(out) if e.kind is Kind.VALUE and e.about == goal.find and e.value is not None]
    ends = values[-1] if values else -1
    end = out[ends].value if values else None
    if end is None or end.unit is not None or any(out[i].alternative or out[i].final for i in values):
        return
    for i, e in enumerate(out[:ends]):
        alone = not any(b.line == e.line for b in out[:i])
        stated = e.value if e.kind is Kind.VALUE and alone and e.about in ("", goal.find) else None
        worked = [b.kind in (Kind.SUBSTITUTION, Kind.ARITHMETIC) and b.about in ("", goal.find) for b in out[: ends + 1]]
        if (any(worked[:i]) and not any(worked[i + 1 :])) or stated is None or stated.unit is None or not _fits(part, goal, e):
            continue
        if nearly(stated.raw, end.raw, max(_half_raw(stated), _half_raw(end))):
            first = e if e.about else _as_value(part, goal, e, ())
            out[i] = replace(first, final=True, slips=out[ends].slips, inherited=out[ends].inherited, tainted=out[ends].tainted)
            return


def _half_raw(value: TypedValue) -> float:
    return value.number.half if value.number is not None else 0.0


def _adopt_restated(part: CompiledCalculation, goal: Goal, out: list[Evidence], lone: list[int]) -> None:
    """A goal's value written once more without its subject, as an answer line is: it is the final form of that value."""
    last = max(i for i, e in enumerate(out) if e.kind is Kind.VALUE and e.about == goal.find)
    held = out[last].value
    for i in [i for i in lone if i > last]:
        value = out[i].value
        if held is None or value is None or out[i].alternative:
            continue
        if _same(held, value) or (out[i].final and goal is part.goals[-1] and _fits(part, goal, out[i])):
            lone.remove(i)
            again = _as_value(part, goal, out[i], out[:i])
            out[i] = replace(again, inherited=out[last].inherited, slips=out[last].slips, tainted=out[last].tainted)


def _same(held: TypedValue, value: TypedValue) -> bool:
    """The same value written once more, to as many places as both show."""
    half = max(held.number.half if held.number else 0.0, value.number.half if value.number else 0.0)
    return nearly(value.raw, held.raw, half) or nearly(value.si, held.si, max(held.half, value.half))


def _with_alternatives(part: CompiledCalculation, evidence: Sequence[Evidence]) -> tuple[Evidence, ...]:
    """Another answer offered without its subject ("5.0 Ω or 4.0 Ω") belongs to the goal of the value before it."""
    out: list[Evidence] = []
    goals = {g.find: g for g in part.goals}
    for e in evidence:
        if e.alternative and e.value is not None and not e.about and e.bare:
            before = next((b for b in reversed(out) if b.kind is Kind.VALUE and b.about in goals), None)
            if before is not None and (e.value.unit is None or _fits(part, goals[before.about], e)):
                same = before.value is not None and _same(before.value, e.value)  # 0.408, or 40.8 %
                e = replace(e, kind=Kind.VALUE, about=before.about, right=same and before.right)
        out.append(e)
    return tuple(out)


def _fits(part: CompiledCalculation, goal: Goal, e: Evidence) -> bool:
    """The unit is one of the goal's, or there is none and the number stands alone as an answer."""
    value = e.value
    if value is None:
        return False
    if value.unit is None:
        return _is_answer(part, goal, value) or (e.kind is Kind.VALUE and len(part.goals) == 1)
    dims = part.dimensions.get(goal.find)
    return dims is not None and same_dimensions(value.unit.dimensions, dims)


def _as_value(part: CompiledCalculation, goal: Goal, e: Evidence, before: Sequence[Evidence]) -> Evidence:
    assert e.value is not None
    last = next((b for b in reversed(before) if b.about == goal.find and b.implied is not None), None)
    implied = None
    if last is not None and last.implied is not None and last.implied_raw is not None:
        implied = Implied(si=last.implied, raw=last.implied_raw, radians=None, evidence=last)
    inherited, slips, right = check_value(part, goal.find, e.value, implied, e.line)
    tainted = bool(last and last.tainted)
    if e.kind is Kind.ARITHMETIC and e.stated is not None:
        tree = e.stated[0]
        if _by_chance(part, goal, e, tree) if right else not part.system.holds((Symbol(name=goal.find, known=True), tree)):
            slips = (*e.slips, Slip(code="wrong-relationship", family="relationship", line=e.line, symbol=goal.find, typed=e.text))
            tainted = True
    return replace(
        e, kind=Kind.VALUE, about=goal.find, right=right, inherited=inherited, slips=slips, tainted=tainted, uses=last.uses if last else ()
    )


def _by_chance(part: CompiledCalculation, goal: Goal, e: Evidence, tree: Expr) -> bool:
    """A right number from data put together in a way that gives the goal only with these data: f(v + u)/v for f v/(v − u)."""
    worked = e.value is not None and e.implied_raw is not None and nearly(e.value.raw, e.implied_raw, _half_raw(e.value))
    if not worked or len(symbols(tree)) < SURELY or not symbols(tree) <= part.data.keys() | {"π"}:
        return False
    if any(isinstance(n, Number) and n.value not in STRUCTURAL for n in walk(tree)):
        return False
    found, wanted = part.system.vector(tree), part.system.vector(Symbol(name=goal.find, known=True))
    ratio = found[0] / wanted[0] if found and wanted and wanted[0] else math.nan
    return math.isfinite(ratio) and ratio > 0 and not near(found, wanted, ratio)


# --- fractions and surds ----------------------------------------------------------------------------


def with_fractions(part: CompiledCalculation, evidence: Sequence[Evidence]) -> tuple[Evidence, ...]:
    """Adds the value that a fraction or surd of whole numbers stands for, where a goal has no other value."""
    out = list(evidence)
    for goal in part.goals:
        about = [i for i, e in enumerate(out) if e.about == goal.find and (e.value is not None or e.implied is not None)]
        if not about or any(out[i].value is not None for i in about):
            continue
        left = [(i, value) for i in about if (value := _fraction(part, out[i])) is not None and _is_answer(part, goal, value)]
        if not left:
            continue
        at, value = min(left, key=lambda found: (not _is_ratio(found[1]), -found[0]))  # 49/4 before (56/16)², else the last
        e = out[at]
        copied = [b for b in out[:at] if b.about == goal.find and b.implied is not None and not b.slips]
        if e.slips:
            out[at] = replace(e, kind=Kind.UNKNOWN, slips=(), tainted=False, uses=())
        tainted = bool(copied and copied[-1].tainted)
        out.append(replace(e, kind=Kind.VALUE, value=value, slips=(), tainted=tainted, right=True, relations=frozenset(), implied=None))
    return tuple(out)


def _is_ratio(value: TypedValue) -> bool:
    """Two whole numbers and a stroke: worked out as far as a factor is."""
    return SIMPLE_RATIO.fullmatch(value.text.strip()) is not None


def _is_answer(part: CompiledCalculation, goal: Goal, value: TypedValue) -> bool:
    return any(in_world(part, goal, value, w, v) for w in right_worlds(part, goal) for _, v in taken_as(part, goal, value))


def _fraction(part: CompiledCalculation, e: Evidence) -> TypedValue | None:
    """A side of whole numbers with a fraction, a root or π in it, as a value; None when it is something else."""
    if e.implied is None or e.implied_raw is None:
        return None
    sides = [s for s in _reread(part, e.text) if is_numeric(s)]
    side = next((s for s in sides if template(s).unit is not None), sides[0] if sides else None)
    if side is None:
        return None
    nodes = list(walk(side))
    whole = all(n.value == int(n.value) and "." not in n.text for n in nodes if isinstance(n, Number))
    exact = any(isinstance(n, Quotient | Root) or (isinstance(n, Symbol) and n.name == "π") for n in nodes)
    if not whole or not exact or any(isinstance(n, Call) for n in nodes):
        return None
    unit, si = template(side).unit, e.implied
    inside = [n.unit for n in nodes if isinstance(n, UnitFactor)]
    if unit is None and len(inside) == 1:  # √8 m is read with its unit under the root
        unit, si = inside[0], e.implied_raw * inside[0].scale
    return TypedValue(si=si, raw=e.implied_raw, half=0.0, number=None, unit=unit, text=e.text, form="fraction")


def _reread(part: CompiledCalculation, text: str) -> list[Expr]:
    """The last side of a piece of a line, in each way to read it by itself."""
    statements = [s for line in read_lines((text,), part.table) for s in line.statements]
    return [reading.sides[-1] for reading in statements[-1].readings[:MOST_READINGS]] if statements else []
