"""A wrong answer that is right on an own value on the way: the step between them is shown all the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.awarding.answer import Answer
from marker.expression import symbols
from marker.judging.model import Evidence, Kind
from marker.judging.values import nearly
from marker.scheme.compiled import CompiledCalculation, Goal


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
