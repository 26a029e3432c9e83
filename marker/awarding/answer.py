"""The final answer of a goal: which value it is, whether it is right or followed, its unit and its figures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from marker.awarding.worlds import OwnValues, World, family, followed_worlds, in_world, own_values, right_worlds, taken_as
from marker.expression import Symbol, symbols
from marker.judging.desk import Implied
from marker.judging.model import Evidence, Kind, Slip
from marker.judging.values import check_value, nearly, power_between
from marker.physics.evaluate import same_dimensions
from marker.scheme.compiled import CompiledCalculation, Goal

STOPPING = frozenset({"copying", "swapped", "other quantity", "relationship", "rearrangement"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What was found of a goal's final answer.

    number   the number is right, or right on own values, whatever its unit and figures
    unit     "ok", "missing" or "wrong";  figures  "ok", "few" or "many"
    slip     the fault that made the number wrong, when one is known
    others   further, different final answers offered
    """

    evidence: Evidence | None
    number: bool = False
    followed: str = ""
    unit: str = "ok"
    figures: str = "ok"
    slip: Slip | None = None
    blocked: Slip | None = None
    others: tuple[Evidence, ...] = ()

    @property
    def complete(self) -> bool:
        return self.number and self.unit == "ok" and self.figures == "ok" and self.blocked is None


def adopt_lone_values(part: CompiledCalculation, evidence: Sequence[Evidence]) -> tuple[Evidence, ...]:
    """Gives values typed without a subject ("0.51 N", a last line "= 34") to the goals that have none."""
    out = list(evidence)
    lone = [i for i, e in enumerate(out) if e.value is not None and not e.about and e.kind in (Kind.VALUE, Kind.ARITHMETIC) and e.bare]
    last = max((i for i, e in enumerate(out) if e.value is not None), default=-1)
    if last >= 0 and last not in lone and not out[last].about and out[last].kind is Kind.ARITHMETIC:
        lone.append(last)
    for position, goal in enumerate(part.goals):
        if any(e.kind is Kind.VALUE and e.about == goal.find for e in out):
            _adopt_restated(part, goal, out, lone)
            continue
        fits = [i for i in lone if _fits(part, goal, out[i])]
        if not fits and position == len(part.goals) - 1:
            fits = [i for i in lone if out[i].kind is Kind.VALUE or i >= len(out) - 1][-1:]
            fits = [i for i in fits if _may_be_unit_fault(part, goal, out[i])]
        if not fits:
            continue
        chosen = fits[0] if position < len(part.goals) - 1 and len(fits) > 1 else fits[-1]
        lone.remove(chosen)
        out[chosen] = _as_value(part, goal, out[chosen], out[:chosen])
        for other in [i for i in fits if i in lone and out[i].alternative]:
            out[other] = _as_value(part, goal, out[other], out[:other])
    return tuple(out)


def _adopt_restated(part: CompiledCalculation, goal: Goal, out: list[Evidence], lone: list[int]) -> None:
    """A goal's value written once more without its subject, as an answer line is: it is the final form of that value."""
    last = max(i for i, e in enumerate(out) if e.kind is Kind.VALUE and e.about == goal.find)
    held = out[last].value
    for i in [i for i in lone if i > last]:
        value = out[i].value
        if held is None or value is None or out[i].alternative:
            continue
        half = max(held.number.half if held.number else 0.0, value.number.half if value.number else 0.0)
        if nearly(value.raw, held.raw, half) or nearly(value.si, held.si, max(held.half, value.half)):
            lone.remove(i)
            out[i] = replace(_as_value(part, goal, out[i], out[:i]), inherited=out[last].inherited, slips=out[last].slips, tainted=out[last].tainted)


def _fits(part: CompiledCalculation, goal: Goal, e: Evidence) -> bool:
    """The unit is one of the goal's, or there is none and the number stands alone as an answer."""
    value = e.value
    if value is None:
        return False
    if value.unit is None:
        close = any(in_world(part, goal, value, w, v) for w in right_worlds(part, goal) for _, v in taken_as(part, goal, value))
        return close or (e.kind is Kind.VALUE and len(part.goals) == 1)
    dims = part.dimensions.get(goal.find)
    return dims is not None and same_dimensions(value.unit.dimensions, dims)


def _may_be_unit_fault(part: CompiledCalculation, goal: Goal, e: Evidence) -> bool:
    return e.value is not None


def _as_value(part: CompiledCalculation, goal: Goal, e: Evidence, before: Sequence[Evidence]) -> Evidence:
    assert e.value is not None
    last = next((b for b in reversed(before) if b.about == goal.find and b.implied is not None), None)
    implied = None
    if last is not None and last.implied is not None and last.implied_raw is not None:
        implied = Implied(si=last.implied, raw=last.implied_raw, radians=None, evidence=last)
    inherited, slips, right = check_value(part, goal.find, e.value, implied, e.line)
    tainted = bool(last and last.tainted)
    if e.kind is Kind.ARITHMETIC and e.stated is not None and not right:
        tree = e.stated[0]
        if not part.system.holds((Symbol(name=goal.find, known=True), tree)):
            slips = (*e.slips, Slip(code="wrong-relationship", family="relationship", line=e.line, symbol=goal.find, typed=e.text))
            tainted = True
    return replace(
        e, kind=Kind.VALUE, about=goal.find, right=right, inherited=inherited, slips=slips, tainted=tainted, uses=last.uses if last else ()
    )


def final_answer(part: CompiledCalculation, goal: Goal, evidence: Sequence[Evidence], carried: OwnValues) -> Answer:
    """The last value given for the goal, judged in every world the convention allows."""
    values = [e for e in evidence if e.kind is Kind.VALUE and e.about == goal.find and e.value is not None]
    if not values:
        return Answer(evidence=None)
    final = _the_final(values if goal.shown is None else _own_results(goal, values))
    worlds = list(right_worlds(part, goal))
    worlds += followed_worlds(part, goal, own_values(part, goal, evidence, carried))
    answer = _judged(part, goal, final, worlds, evidence)
    others = tuple(v for v in values if v is not final and _offered_beside(v, final, values))
    return replace(answer, others=others)


def _own_results(goal: Goal, values: Sequence[Evidence]) -> Sequence[Evidence]:
    """In a "show that", the candidate's own result: not the given value written again after it."""
    own = [v for v in values if v.value is not None and v.value.text.strip() and abs(v.value.si - (goal.shown or 0.0)) > 1e-9 * abs(v.value.si)]
    worked = [v for v in own if not v.bare]
    return worked or own or values


def _the_final(values: Sequence[Evidence]) -> Evidence:
    labelled = [v for v in values if v.final]
    if labelled:
        return labelled[-1]
    main = [v for v in values if not v.alternative]
    return (main or list(values))[-1]


def _offered_beside(value: Evidence, final: Evidence, values: Sequence[Evidence]) -> bool:
    """A different answer offered as an alternative."""
    if value.value is None or final.value is None:
        return False
    half = max(value.value.half, final.value.half)
    same = nearly(value.value.si, final.value.si, half) or nearly(value.value.raw, final.value.raw, half)
    return not same and (value.alternative or final.alternative)


def _judged(part: CompiledCalculation, goal: Goal, e: Evidence, worlds: Sequence[World], evidence: Sequence[Evidence]) -> Answer:
    assert e.value is not None
    found: tuple[World, str] | None = None
    for world in worlds:
        for unit, si in taken_as(part, goal, e.value):
            if in_world(part, goal, e.value, world, si):
                found = (world, unit)
                break
        if found:
            break
    if found is None:
        return Answer(evidence=e, slip=_reason(part, goal, e), unit=_unit_state(part, goal, e))
    world, unit = found
    return Answer(
        evidence=e,
        number=True,
        followed=world.followed,
        unit=unit,
        figures=_figures(part, goal, e),
        blocked=_blocked(part, e, world, evidence),
    )


def _unit_state(part: CompiledCalculation, goal: Goal, e: Evidence) -> str:
    assert e.value is not None
    return next((unit for unit, _ in taken_as(part, goal, e.value)), "ok")


def _blocked(part: CompiledCalculation, e: Evidence, world: World, evidence: Sequence[Evidence]) -> Slip | None:
    """A right-looking number that rests on a wrong line: the fault it rests on."""
    for slip in (*e.inherited, *e.slips):
        kind = family(slip, part.convention)
        if kind in STOPPING and not (world.followed and kind == "copying"):
            return slip
    if e.tainted:
        return Slip(code="wrong-relationship", family="relationship", line=e.line, symbol=e.about, typed=e.text)
    return None


def _figures(part: CompiledCalculation, goal: Goal, e: Evidence) -> str:
    window = part.convention.significant_figures
    number = e.value.number if e.value else None
    if number is None:
        return "ok"
    reference = goal.figures if window.reference == "least datum" else window.fixed
    least, most = number.figures
    if goal.shown is not None:
        more = 1 if part.convention.show_extra_figure else 0
        return "few" if most < goal.shown_figures + more else "ok"
    if most < max(1, reference - window.under):
        return "few"
    if window.over is not None and least > reference + window.over:
        return "many"
    return "ok"


def _reason(part: CompiledCalculation, goal: Goal, e: Evidence) -> Slip | None:
    """The fault to name for a wrong number: the first seen on the way, else what the number itself suggests."""
    seen = (*e.inherited, *e.slips)
    if seen:
        return seen[0]
    assert e.value is not None
    if power_between(e.value.si, goal.value) or power_between(e.value.raw, goal.value):
        return Slip(code="power-of-ten", family="conversion", line=e.line, symbol=goal.find, typed=e.text)
    return None


def shown_by_value(part: CompiledCalculation, goal: Goal, evidence: Sequence[Evidence], answer: Answer) -> tuple[Evidence, ...]:
    """A wrong answer that is right on the candidate's own wrong value on the way shows the step from that value to the answer.

    `λ = 122 m` (a power of ten lost) and then `d = 61 m`: d = λ/2 is shown, though the answer is wrong.
    """
    e = answer.evidence
    if e is None or e.value is None or answer.number or e.slips or e.tainted or not e.bare:
        return ()
    for before in evidence:
        if before.kind is not Kind.VALUE or before.value is None or before.right or before.about in ("", goal.find):
            continue
        env = part.system.solve({before.about: before.value.si})
        if env is None or not nearly(e.value.si, env[goal.find], e.value.half):
            continue
        shown = _relations_from(part, goal.find, before.about)
        return (replace(e, kind=Kind.SUBSTITUTION, relations=shown, right=True, value=None, inherited=before.slips + before.inherited),)
    return ()


def _relations_from(part: CompiledCalculation, find: str, start: str) -> frozenset[int]:
    """Relationships that lead from one quantity to another."""
    by_letter = {letter: step for step in part.system.steps for letter in step.letters}
    used: set[int] = set()
    wanted = [find]
    while wanted:
        step = by_letter.get(wanted.pop())
        if step is None or used >= set(step.relations):
            continue
        used |= set(step.relations)
        wanted.extend(n for tree in step.trees for n in symbols(tree) if n != start)
    return frozenset(used)
