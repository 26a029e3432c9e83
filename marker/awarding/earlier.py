"""Faults of what was found earlier in a part: whether they are done with there, or still spoil what is found later."""

from __future__ import annotations

from collections.abc import Sequence

from marker.judging.model import Evidence, Kind, Slip
from marker.scheme.compiled import CompiledCalculation, Goal


def done_with(slip: Slip, part: CompiledCalculation, goal: Goal, settled: int) -> bool:
    """Wrong physics made on the way to something found before is followed from there on, where the convention says so.

    settled   the line that ends the labelled steps before this one, as `last_line_before` gives it
    Source: OCR19 (within a part); AH2022 (from part to part).
    """
    return slip.symbol != goal.find and (part.convention.follow_wrong_physics or slip.line <= settled)


def last_line_before(part: CompiledCalculation, goal: Goal, evidence: Sequence[Evidence]) -> int:
    """The last line with a value for an earlier step that has a label of its own, (i) before (ii); 0 where there is none.

    Such steps count as parts, if the convention says so: what made the value of (i) wrong was paid for in (i).
    Source: common practice, no source.
    """
    if not (part.convention.follow_labelled and goal.label):
        return 0
    found = [g.find for g in part.goals]
    before = {g.find for g in part.goals[: found.index(goal.find)] if g.label}
    return max((e.line for e in evidence if e.kind is Kind.VALUE and e.about in before), default=0)
