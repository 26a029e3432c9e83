"""A calculation part proved: five notations, a blank, an answer alone, and every known fault."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from marker.judging.known_faults import known_faults
from marker.marking import NOTHING_CARRIED, mark_response
from marker.results import PartResult
from marker.scheme.checking.cost import NOTHING, mark_left, reach
from marker.scheme.checking.model import Came, Trial
from marker.scheme.checking.notations import NOTATIONS, UNICODE, in_notation
from marker.scheme.checking.responses import Response, faulty_responses, slipped
from marker.scheme.checking.solution import Said, quantity, solution
from marker.scheme.checking.written_faults import written_responses
from marker.scheme.compiled import CompiledCalculation, Goal
from marker.scheme.paper import CompiledPart


def calculation_trials(part: CompiledPart) -> tuple[Trial, ...]:
    """All trials of one calculation part, the model answers first."""
    made = part.compiled
    assert isinstance(made, CompiledCalculation)
    return (*_models(part, made), _blank(part), *_answer_alone(part, made), *_fewest_figures(part, made), *_faults(part, made))


def _models(part: CompiledPart, made: CompiledCalculation) -> Iterator[Trial]:
    yield _trial(part, "model answer", part.kind.model(made), part.marks)
    said = solution(made)
    for notation in NOTATIONS:
        lines = tuple(in_notation(s, notation, made.table) for s in said)
        yield _trial(part, f"model answer, {NAMES[notation.name]}", lines, part.marks)


NEAR = 0.02  # as far as a value may lie from the range and round into it
NAMES = {
    "unicode": "as printed",
    "keyboard": "typed with * and ^",
    "x": "typed with x and no superscripts",
    "typesetting": "in typesetting commands",
    "words": "in words and as a spreadsheet",
}


def _blank(part: CompiledPart) -> Trial:
    return _trial(part, "blank", (), 0.0)


def _fewest_figures(part: CompiledPart, made: CompiledCalculation) -> Iterator[Trial]:
    """The solution with each answer in as few figures as the data have."""
    for place, goal in enumerate(made.goals):
        said = solution(made)
        at = max((i for i, s in enumerate(said) if s.role == "value" and s.about == goal.find), default=None)
        if at is None or goal.shown is not None:
            continue
        window = made.convention.significant_figures
        least = goal.figures if window.reference == "least datum" else window.fixed
        answer = quantity(made, goal.find, goal.value, goal.unit, least)
        short = Said(sides=(said[at].sides[0], answer), role="value", about=goal.find, goal=place)
        lines = _typed((*said[:at], short, *said[at + 1 :]), made)
        found = _trial(part, f"{lines[at]}, in as few figures as the data", lines, part.marks)
        yield replace(found, proves=False)


def _answer_alone(part: CompiledPart, made: CompiledCalculation) -> Iterator[Trial]:
    """Only the answers, each on its line."""
    last = {s.about: s for s in solution(made) if s.role == "value"}
    lines = tuple(_typed((last[g.find],), made)[0] for g in made.goals if g.find in last)
    yield _trial(part, "answer alone", lines, sum(_implied(g, made) for g in made.goals))


def _implied(goal: Goal, made: CompiledCalculation) -> float:
    """What a right answer by itself is worth under the convention: marks of type M must be seen, and an A depends on them."""
    ruling = made.convention.answer_only
    if goal.shown is not None and ruling != "full":
        return 0.0
    unseen = [p for p in goal.points if p.type == "M" or (ruling == "none" and p.kind != "answer")]
    must = any(p.type == "M" for p in goal.points) or ruling == "none"
    return sum(p.marks for p in goal.points if p not in unseen and not (p.type == "A" and must))


def _faults(part: CompiledPart, made: CompiledCalculation) -> Iterator[Trial]:
    faults = known_faults()
    for response in faulty_responses(made, faults):
        yield _of_fault(part, made, response)
    for fault in faults:
        if fault.kind == "other-value":
            yield from (_of_fault(part, made, r) for r in slipped(made, fault))
    for response, costs in written_responses(made, faults):
        yield _of_fault(part, made, response, costs=costs, number_right=True)


def _of_fault(
    part: CompiledPart, made: CompiledCalculation, response: Response, *, costs: bool = True, number_right: bool = False
) -> Trial:
    lines = _typed(response.lines, made)
    expected = mark_left(made, response.happened, part.marks) if costs else part.marks
    result = mark_response(part, lines, NOTHING_CARRIED)
    hidden = not number_right and _looks_right(made, response)
    if hidden and reach(made.convention, response.happened) != NOTHING and result.mark != expected:
        came = Came.HIDDEN
    elif result.mark == expected:
        came = Came.AS_RULED
    else:
        came = Came.REFERRED if result.referral is not None and _offers(result, expected) else Came.DIFFERS
    return Trial(
        part=part.name,
        what=response.what,
        code=response.fault.code,
        lines=lines,
        expected=expected,
        mark=result.mark,
        maximum=part.marks,
        came=came,
        lost=_lost(result),
        proves=False,
    )


def _looks_right(made: CompiledCalculation, response: Response) -> bool:
    """The value it leads to would be accepted as the answer."""
    index = response.happened.stage.goal
    for route in (made, *made.routes):
        goal = route.goals[index]
        low, high = sorted(goal.accept) if goal.accept else sorted(f * goal.value for f in (0.99, 1.01))
        if low - NEAR * abs(low) <= response.value <= high + NEAR * abs(high):
            return True
    return False


def _offers(result: PartResult, mark: float) -> bool:
    return result.referral is not None and any(p.mark == mark for p in result.referral.possibilities)


def _typed(said: Sequence[Said], made: CompiledCalculation) -> tuple[str, ...]:
    return tuple(in_notation(s, UNICODE, made.table) for s in said)


def _trial(part: CompiledPart, what: str, lines: Sequence[str], expected: float) -> Trial:
    result = mark_response(part, lines, NOTHING_CARRIED)
    came = Came.AS_RULED if result.mark == expected else Came.DIFFERS
    if result.referral is not None and lines:
        came = Came.REFERRED
    return Trial(
        part=part.name,
        what=what,
        lines=tuple(lines),
        expected=expected,
        mark=result.mark,
        maximum=part.marks,
        came=came,
        lost=_lost(result),
    )


def _lost(result: PartResult) -> tuple[str, ...]:
    return tuple(a.point for a in result.awards if a.mark < a.maximum)
