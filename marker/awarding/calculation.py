"""A calculation part marked: judged evidence in, points, faults and doubts out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from marker.awarding.answer import Answer
from marker.awarding.deducting import deducted
from marker.awarding.goal import award_goal
from marker.awarding.recurring import settle_in_part
from marker.awarding.refer import referral_of
from marker.awarding.report import faults_of, line_reports, own_values_of
from marker.awarding.standing import standing_evidence
from marker.awarding.worlds import Own, OwnValues
from marker.judging.model import Evidence, Kind
from marker.judging.script import Change, as_read, judge_script
from marker.results import Award, OwnValue, PartResult
from marker.scheme.compiled import CompiledCalculation

OwnByPart = Mapping[str, OwnValue]
Result = tuple[PartResult, tuple[Evidence, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Marked:
    """One way to mark a response by one route: the evidence that stands, and what it earns."""

    evidence: tuple[Evidence, ...]
    own: Own
    awards: tuple[Award, ...]
    answers: Mapping[str, Answer]

    @property
    def mark(self) -> float:
        return sum(a.mark for a in self.awards)


def mark_calculation(part: CompiledCalculation, lines: Sequence[str], carried: OwnByPart, change: Change = as_read) -> PartResult:
    """Marks one response to a calculation part. Pure and deterministic; never raises on any text.

    carried  own values of earlier parts under "part.symbol";  change  see `judge_script`
    Returns the best of the part's routes, awarded whole.
    """
    first, shown = _mark_route(part, lines, carried, change)
    taken = []
    for route in part.routes if first.mark < part.marks else ():
        result, evidence = _mark_route(route, lines, carried, change)
        if _is_taken(route, part, evidence):
            taken.append(_beside(route, lines, carried, change, (result, evidence), (first, shown)))
    best = max([first, *taken], key=lambda r: (r.mark, not r.referred))
    if best is not first:
        best = replace(best, notes=(*best.notes, "another method than the first of the scheme was followed"))
    if part.anew is not None and best.mark < part.marks:
        found, _ = _mark_route(part.anew, lines, carried, change)
        if found.mark > best.mark:
            return replace(found, notes=(*found.notes, "a value that an earlier part asks for is found here"))
    return best


def _beside(
    route: CompiledCalculation, lines: Sequence[str], carried: OwnByPart, change: Change, found: Result, main: Result
) -> PartResult:
    """The route's result, lines of the first method that stand beside it left to that method: right there, they spoil nothing here."""
    result, evidence = found
    foreign = _rightly_shown(main[1]) & {e.line for e in evidence if not e.right or e.slips or e.kind is Kind.UNKNOWN}
    if not foreign:
        return result
    alone, _ = _mark_route(route, ["" if n in foreign else text for n, text in enumerate(lines, 1)], carried, change)
    if alone.mark < result.mark:
        return result
    said = {line.number: line for line in main[0].lines}
    return replace(alone, lines=tuple(said[x.number] if x.number in foreign else x for x in alone.lines))


def _rightly_shown(evidence: Sequence[Evidence]) -> frozenset[int]:
    """Lines that show a relationship and hold nothing that is wrong."""
    shown = {e.line for e in evidence if e.relations and e.right}
    return frozenset(shown - {e.line for e in evidence if not e.right or e.slips or e.inherited or e.tainted or e.kind is Kind.UNKNOWN})


def _is_taken(route: CompiledCalculation, main: CompiledCalculation, evidence: Sequence[Evidence]) -> bool:
    """A route is the candidate's when a relationship that only this route has is shown by itself (or it differs in signs only)."""
    names = {r.name for r in main.system.relations}
    special = {i for i, r in enumerate(route.system.relations) if r.name not in names and i not in route.helpers}
    if not special:
        return True
    return any(e.right and not e.tainted and len(e.relations - route.helpers) == 1 and e.relations & special for e in evidence)


def _mark_route(part: CompiledCalculation, lines: Sequence[str], carried: OwnByPart, change: Change) -> Result:
    script = judge_script(part, lines, carried, change)
    values = _carried_values(part, carried)
    marked = max((_marked(part, one, Own(carried=values, mended=mended)) for one, mended in standing_evidence(part, script)), key=_by_mark)
    result = PartResult(
        part=part.name,
        mark=marked.mark,
        maximum=part.marks,
        awards=marked.awards,
        faults=faults_of(part, marked.evidence, marked.answers, marked.mark < part.marks),
        lines=line_reports(part, script, marked.evidence, marked.answers),
        referral=referral_of(part, script, marked.evidence, marked.answers, marked.awards, _otherwise(part, marked)),
        own=own_values_of(part, marked.evidence),
        notes=tuple(dict.fromkeys(a for line in script.lines for a in line.assumptions)),
    )
    return result, marked.evidence


def _by_mark(marked: Marked) -> float:
    return marked.mark


def _marked(part: CompiledCalculation, evidence: tuple[Evidence, ...], own: Own) -> Marked:
    goals = [award_goal(part, goal, evidence, own) for goal in part.goals]
    negative = part.convention.direction == "negative"
    awards = [a for goal in goals for a in (deducted(part, goal) if negative else goal.awards)]
    answers = {g.case.goal.find: g.answer for g in goals}
    return Marked(evidence=evidence, own=own, awards=settle_in_part(awards, part.convention), answers=answers)


def _otherwise(part: CompiledCalculation, marked: Marked) -> tuple[tuple[str, float], ...]:
    """(doubt, mark if it is settled for the candidate) for rulings that leave the decision to a person."""
    found = []
    convention = part.convention
    blocked = [a for a in marked.answers.values() if a.blocked is not None and a.evidence is not None]
    if convention.right_from_wrong == "refer" and blocked:
        other = _under(part, marked, right_from_wrong="full")
        text = blocked[0].evidence.text if blocked[0].evidence else ""
        found.append((f"“{text}” is the right number, from wrong working", other))
    if any(a.limit == "easier" for a in marked.answers.values()):
        other = _under(part, marked, follow_unless_easier=False)
        found.append(("the candidate's own value makes the question easier", other))
    return tuple((doubt, mark) for doubt, mark in found if mark != marked.mark)


def _under(part: CompiledCalculation, marked: Marked, **rulings: object) -> float:
    """The mark of the same evidence under other rulings."""
    other = replace(part, convention=part.convention.with_rulings(dict(rulings)))
    return _marked(other, marked.evidence, marked.own).mark


def _carried_values(part: CompiledCalculation, carried: OwnByPart) -> OwnValues:
    out: OwnValues = {}
    for symbol, (source, name) in part.carry.items():
        for key, own in carried.items():
            if key.split("#")[0] == f"{source}.{name}":
                out.setdefault(symbol, []).extend((own.value, -own.value) if symbol in part.signed else (own.value,))
    return out
