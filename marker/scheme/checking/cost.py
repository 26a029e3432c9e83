"""What a fault should cost under a convention: the points it loses, from its class, the rulings, and where it happened.

This is written from the rulings alone and knows nothing of how responses are marked, so that one can be held to the other.
"""

from __future__ import annotations

from dataclasses import dataclass

from marker.scheme.checking.solution import Stage
from marker.scheme.compiled import CompiledCalculation, Goal, Point
from marker.scheme.convention import Convention

_MISREAD = frozenset({"other-quantity", "values-exchanged"})  # a number of the paper in the wrong place, as a datum copied wrongly is
STOP, SUBSTITUTION_ONLY, RESULT, NOTHING, OWN_POINT = "stop", "substitution", "result", "nothing", "own point"


@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """Where a fault is: the class it has, the step it is in, and the fault's own code for the few with a ruling of their own."""

    family: str
    code: str
    stage: Stage


def reach(convention: Convention, happened: Happened) -> str:
    """How far a fault reaches: "stop" loses all after the relationship, "substitution" that mark, "result" the answer mark,
    "own point" the point kept for such faults (the answer mark where there is none)."""
    family = happened.family
    if happened.code == "decimal-point-lost":
        family = "conversion" if convention.digit_place == "conversion" else "transcription"
    if happened.code == "other-g":
        return {"substitution": STOP, "answer mark": RESULT, "accepted": NOTHING}[convention.other_g]
    if family == "conversion":
        return {"answer mark": RESULT, "substitution": _copied(convention), "power of ten": OWN_POINT}[convention.conversion_fault]
    if family == "transcription":
        return _copied(convention)
    if family == "rearrangement":
        return STOP if convention.rearranged_symbols == "stop" else RESULT
    if happened.code in _MISREAD:
        return _copied(convention)
    if family in ("relationship", "substitution"):
        return STOP
    if family == "unit":
        return {"answer mark": RESULT, "separate mark": OWN_POINT, "none": NOTHING}[convention.unit_fault]
    return RESULT


def _copied(convention: Convention) -> str:
    return {"stop": STOP, "substitution mark, followed": SUBSTITUTION_ONLY, "answer mark": RESULT}[convention.transcription_slip]


def mark_left(part: CompiledCalculation, happened: Happened, marks: float) -> float:
    """The mark a response with one fault should get. Where slips are deducted from the full mark, the points do not matter."""
    convention = part.convention
    if convention.direction == "negative":
        how = reach(convention, happened)
        off = {NOTHING: 0.0, STOP: convention.blunder_deduction}.get(how, convention.slip_deduction)
        return max(0.0, marks - off)
    points = [p for g in part.goals for p in g.points]
    return marks - sum(points[i].marks for i in points_lost(part, happened))


def points_lost(part: CompiledCalculation, happened: Happened) -> frozenset[int]:
    """Places, in the part's whole list of points, of those the fault loses. Later goals follow the candidate's own value."""
    how = reach(part.convention, happened)
    goal = part.goals[happened.stage.goal]
    offset = sum(len(g.points) for g in part.goals[: happened.stage.goal])
    lost = {offset + i for i in _lost_in(part, goal, happened, how)}
    if not part.convention.follow_within_part and how != NOTHING and lost:
        lost |= set(range(offset + len(goal.points), sum(len(g.points) for g in part.goals)))
    return frozenset(lost)


def _lost_in(part: CompiledCalculation, goal: Goal, happened: Happened, how: str) -> set[int]:
    points = list(enumerate(goal.points))
    last = len(points) - 1
    if how == NOTHING:
        return set()
    if how == OWN_POINT:
        own = {i for i, p in points if p.kind == ("unit" if happened.family == "unit" else "power of ten")}
        return own or _results(part, goal, happened.stage)
    if how == RESULT:
        unit = {i for i, p in points if p.kind == "unit"} if happened.code == "stopped-early" else set()
        return unit | _results(part, goal, happened.stage)
    lost = {i for i, p in points if p.kind == "substitution" and _covers(part, p, happened.stage)}
    if how == SUBSTITUTION_ONLY:
        return _with_answers(goal, lost or {last})
    stages = set(happened.stage.letters)
    lost |= {i for i, p in points if p.kind in ("answer", "unit") or (p.kind == "value" and _from_here(part, p, stages))}
    if happened.family == "relationship":
        lost |= {i for i, p in points if p.kind == "relationship" and p.relations & set(happened.stage.relations)}
    return _with_answers(goal, lost | _dependent(goal, lost))


def _results(part: CompiledCalculation, goal: Goal, stage: Stage) -> set[int]:
    """The mark for the first result it spoils: a value with a point of its own, there or later, else the answer (or, in a "show
    that", the points that ask for the stated result). A slip is charged once; what follows from it follows."""
    value = [i for i, p in enumerate(goal.points) if p.kind == "value" and _from_here(part, p, set(stage.letters))]
    answer = [i for i, p in enumerate(goal.points) if p.kind == "answer"]
    if value:
        return {value[0]}
    if goal.shown is not None:
        return {i for i, p in enumerate(goal.points) if p.kind == "substitution"} | set(answer)
    return {answer[-1]} if answer else {len(goal.points) - 1}


def _covers(part: CompiledCalculation, point: Point, stage: Stage) -> bool:
    """A substitution point takes in a step that is one of its relationships, or a definition on the way to one."""
    own = set(stage.relations)
    return bool(point.relations & own) or own <= part.helpers or not point.relations


def _from_here(part: CompiledCalculation, point: Point, letters: set[str]) -> bool:
    """A value found at the faulty step or from it."""
    if point.quantity in letters:
        return True
    needs = dict[str, frozenset[str]]()
    for step in part.system.steps:
        used = frozenset[str]().union(*(part.system.relations[r].letters for r in step.relations)) - set(step.letters)
        for letter in step.letters:
            needs[letter] = used | frozenset[str]().union(*(needs.get(u, frozenset()) for u in used))
    return bool(needs.get(point.quantity, frozenset()) & letters)


def _with_answers(goal: Goal, lost: set[int]) -> set[int]:
    """A method mark lost takes the answer marks that depend on it (CIE01, OCR18: A depends on M)."""
    if not any(goal.points[i].type in ("M", "dM") for i in lost):
        return lost
    return lost | {i for i, p in enumerate(goal.points) if p.type == "A"}


def _dependent(goal: Goal, lost: set[int]) -> set[int]:
    """Points that name a lost one among their needs."""
    names = {goal.points[i].name for i in lost}
    return {i for i, p in enumerate(goal.points) if set(p.needs) & names}
