"""Special cases: what the scheme gives a common wrong route, where its points give less."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.awarding.answer import Answer
from marker.awarding.wording import quoted, say
from marker.judging.model import TypedValue
from marker.results import Award, Outcome
from marker.scheme.compiled import Goal, Special


def with_special_case(goal: Goal, answer: Answer, awards: Sequence[Award]) -> tuple[Award, ...]:
    """The awards, raised point by point to what the special case is worth that the answer is; unchanged where it is none.

    Source: AQA-GM, AQA-AM ("SC", a scripted alternative award for a common wrong route).
    """
    e = answer.evidence
    if e is None or e.value is None or answer.complete:
        return tuple(awards)
    case = next((s for s in goal.special if _is(s, e.value)), None)
    if case is None:
        return tuple(awards)
    missing = min(case.marks, goal.maximum) - sum(a.mark for a in awards)
    out = []
    for award in awards:
        more = min(max(0.0, missing), award.maximum - award.mark)
        if more > 0:
            why = case.because or "a common wrong route"
            reason = f"Special case, {quoted(e.text)}: {why} ({say((e.line,))})."
            award = replace(award, mark=award.mark + more, outcome=Outcome.EARNED, reason=reason, lines=(e.line,), fault="")
            missing -= more
        out.append(award)
    return tuple(out)


def _is(case: Special, typed: TypedValue) -> bool:
    half = max(case.half, typed.half) * 1.0001
    return abs(typed.si - case.value) <= half or (typed.unit is None and abs(typed.raw - case.value) <= half)
