"""The points of one goal: what each finding earns, what depends on what, and which of several answers counts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from marker.awarding.answer import Answer, final_answer, offered
from marker.awarding.earlier import last_line_before
from marker.awarding.evidence import Case
from marker.awarding.findings import Finding
from marker.awarding.onward import shown_by_value
from marker.awarding.points import RULES
from marker.awarding.special import with_special_case
from marker.awarding.worlds import Own
from marker.judging.model import Evidence, Kind
from marker.results import Award, Outcome
from marker.scheme.compiled import CompiledCalculation, Goal, Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Awarded:
    """A goal with its points awarded, in the scheme's order; `findings` stand beside `awards`."""

    case: Case
    findings: tuple[Finding, ...]
    awards: tuple[Award, ...]

    @property
    def answer(self) -> Answer:
        return self.case.answer

    @property
    def mark(self) -> float:
        return sum(a.mark for a in self.awards)


def award_goal(part: CompiledCalculation, goal: Goal, evidence: Sequence[Evidence], own: Own) -> Awarded:
    """The goal's points under the convention's ruling on two answers."""
    given = offered(goal, evidence)
    ruling = part.convention.two_answers
    if len(given) < 2 or ruling == "zero":
        return _award(part, goal, evidence, own, None)
    if ruling in ("first", "last"):
        return _with_only(part, goal, evidence, own, given, given[0 if ruling == "first" else -1])
    tried = [_with_only(part, goal, evidence, own, given, one) for one in given]
    return (min if ruling == "lowest" else max)(tried, key=lambda t: t.mark)


def _with_only(
    part: CompiledCalculation, goal: Goal, evidence: Sequence[Evidence], own: Own, given: Sequence[Evidence], chosen: Evidence
) -> Awarded:
    """The goal as if only one of the answers offered had been given."""
    others = [o for o in given if o is not chosen]
    kept = [e for e in evidence if not any(e is o for o in others) and (chosen.alternative or not e.alternative)]
    return _award(part, goal, kept, own, chosen)


def _award(part: CompiledCalculation, goal: Goal, evidence: Sequence[Evidence], own: Own, chosen: Evidence | None) -> Awarded:
    answer = final_answer(part, goal, evidence, own, chosen)
    more = shown_by_value(part, goal, evidence, answer)
    settled = last_line_before(part, goal, evidence)
    case = Case(part=part, goal=goal, evidence=_of_goal(part, goal, (*evidence, *more)), answer=answer, settled=settled)
    findings: dict[str, Finding] = {}
    found = []
    for point in goal.points:
        findings[point.name] = _depending(point, RULES[point.kind](point, case), findings, case)
        found.append(findings[point.name])
    found = _without_the_answer(goal, found)
    awards = tuple(_as_award(p, f) for p, f in zip(goal.points, found, strict=True))
    return Awarded(case=case, findings=tuple(found), awards=with_special_case(case, awards))


def _of_goal(part: CompiledCalculation, goal: Goal, evidence: Sequence[Evidence]) -> tuple[Evidence, ...]:
    """Evidence that belongs to a goal: all of it but what is about another goal and shows nothing of this one."""
    order = [g.find for g in part.goals]
    later = set(order[order.index(goal.find) + 1 :])
    others = set(order) - {goal.find}
    return tuple(e for e in evidence if e.about not in others or (e.about in later and _shows(goal, e)))


def _shows(goal: Goal, e: Evidence) -> bool:
    """A right statement about a later goal that shows a relationship of this one as well (`P = mgh/t` shows E = mgh)."""
    clean = e.right and not e.tainted and not e.slips and not e.inherited
    return clean and e.kind in (Kind.RELATIONSHIP, Kind.SUBSTITUTION) and bool(e.relations & goal.relations)


def _depending(point: Point, finding: Finding, before: dict[str, Finding], case: Case) -> Finding:
    """A point counts only if those it needs did; a method left out may leave its accuracy open.

    Source: CIE01, OCR18 (M lost, its A lost); IBM, CSM (open when the method is missing rather than wrong).
    """
    if not finding.met:
        return finding
    methods = {p.name for p in case.goal.points if p.type == "M"} if case.convention.method_missing == "accuracy open" else set[str]()
    for name in point.needs:
        need = before.get(name)
        if need is None or need.met or (point.type == "A" and name in methods and not need.wrong):
            continue
        because = f"Not earned without {name}: {need.because}"
        return Finding(met=False, because=because, lines=finding.lines, wrong=need.wrong, dependent=True)
    return finding


def _without_the_answer(goal: Goal, found: list[Finding]) -> list[Finding]:
    """What only the answer implies goes with an answer lost for want of its method (an A given gives its C: CIE01, OCR18)."""
    if not any(p.kind == "answer" and f.dependent for p, f in zip(goal.points, found, strict=True)):
        return found
    return [replace(f, met=False, implied=False, because="Not shown, and the answer is not credited.") if f.implied else f for f in found]


def _as_award(point: Point, finding: Finding) -> Award:
    return Award(
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


