"""A calculation part marked: judged evidence in, points, faults and doubts out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from marker.awarding.answer import Answer, adopt_lone_values, final_answer, shown_by_value
from marker.awarding.points import RULES, Case, Finding
from marker.awarding.refer import referral_of
from marker.awarding.report import faults_of, line_reports, own_values_of
from marker.judging.model import Evidence, JudgedScript, Kind
from marker.judging.script import judge_script
from marker.results import Award, Outcome, OwnValue, PartResult
from marker.scheme.compiled import CompiledCalculation, Point

OwnByPart = Mapping[str, OwnValue]


def mark_calculation(part: CompiledCalculation, lines: Sequence[str], carried: OwnByPart) -> PartResult:
    """Marks one response to a calculation part. Pure and deterministic; never raises on any text.

    carried  own values of earlier parts under "part.symbol"
    Returns the best of the part's routes, awarded whole.
    """
    first, _ = _mark_route(part, lines, carried)
    others = [(route, *_mark_route(route, lines, carried)) for route in part.routes] if first.mark < part.marks else []
    taken = [result for route, result, evidence in others if _is_taken(route, part, evidence)]
    best = max([first, *taken], key=lambda r: (r.mark, not r.referred))
    if best is not first:
        best = replace(best, notes=(*best.notes, "another method than the first of the scheme was followed"))
    return best


def _is_taken(route: CompiledCalculation, main: CompiledCalculation, evidence: Sequence[Evidence]) -> bool:
    """A route is the candidate's when a relationship that only this route has is shown by itself (or it differs in signs only)."""
    names = {r.name for r in main.system.relations}
    special = {i for i, r in enumerate(route.system.relations) if r.name not in names and i not in route.helpers}
    if not special:
        return True
    return any(e.right and not e.tainted and len(e.relations - route.helpers) == 1 and e.relations & special for e in evidence)


def _mark_route(part: CompiledCalculation, lines: Sequence[str], carried: OwnByPart) -> tuple[PartResult, tuple[Evidence, ...]]:
    script = judge_script(part, lines, carried)
    evidence = script.evidence
    if script.crossed and not _replaced(script):
        if part.convention.crossed_out == "if not replaced":
            evidence = script.crossed + evidence
    evidence = without_superseded(adopt_lone_values(part, evidence))
    awards: list[Award] = []
    answers: dict[str, Answer] = {}
    for goal in part.goals:
        answer = final_answer(part, goal, evidence, _carried_values(part, carried))
        answers[goal.find] = answer
        more = shown_by_value(part, goal, evidence, answer)
        case = Case(part=part, goal=goal, evidence=_of_goal(part, goal.find, (*evidence, *more)), answer=answer)
        awards.extend(_award_goal(goal.points, case))
    mark = sum(a.mark for a in awards)
    result = PartResult(
        part=part.name,
        mark=mark,
        maximum=part.marks,
        awards=tuple(awards),
        faults=faults_of(part, evidence, answers, mark < part.marks),
        lines=line_reports(script, evidence),
        referral=referral_of(part, script, evidence, answers, awards),
        own=own_values_of(part, evidence),
        notes=tuple(dict.fromkeys(a for line in script.lines for a in line.assumptions)),
    )
    return result, evidence


def without_superseded(evidence: Sequence[Evidence]) -> tuple[Evidence, ...]:
    """Leaves out wrong attempts in numbers at a quantity that is found rightly, without a fault, in a later line."""
    mended = {
        e.about: i for i, e in enumerate(evidence) if e.kind is Kind.VALUE and e.about and e.right and not (e.slips or e.inherited or e.tainted)
    }

    def stands(i: int, e: Evidence) -> bool:
        wrong = bool(e.slips or e.tainted) and not e.symbolic and not e.alternative
        return not (wrong and i < mended.get(e.about, -1))

    return tuple(e for i, e in enumerate(evidence) if stands(i, e))


def _replaced(script: JudgedScript) -> bool:
    return bool(script.evidence)


def _carried_values(part: CompiledCalculation, carried: OwnByPart) -> dict[str, list[float]]:
    out: dict[str, list[float]] = {}
    for symbol, (source, name) in part.carry.items():
        for key, own in carried.items():
            if key.split("#")[0] == f"{source}.{name}":
                out.setdefault(symbol, []).extend((own.value, -own.value) if symbol in part.signed else (own.value,))
    return out


def _of_goal(part: CompiledCalculation, find: str, evidence: Sequence[Evidence]) -> tuple[Evidence, ...]:
    """Evidence that belongs to a goal: all of it but what is about another goal."""
    others = {g.find for g in part.goals} - {find}
    return tuple(e for e in evidence if e.about not in others)


def _award_goal(points: Sequence[Point], case: Case) -> list[Award]:
    """One award per point; a point counts only if those it needs did."""
    findings: dict[str, Finding] = {}
    awards: list[Award] = []
    for point in points:
        finding = RULES[point.kind](point, case)
        missing = [n for n in point.needs if n in findings and not findings[n].met]
        if finding.met and missing:
            finding = Finding(met=False, because=f"depends on {missing[0]}, which is not earned", lines=finding.lines)
        findings[point.name] = finding
        awards.append(
            Award(
                point=point.name,
                kind=point.kind,
                mark=point.marks if finding.met else 0,
                maximum=point.marks,
                outcome=Outcome.EARNED if finding.met else Outcome.NOT_EARNED,
                reason=finding.because,
                lines=finding.lines,
                followed_through=finding.followed,
                fault="" if finding.met else finding.fault,
            )
        )
    return awards
