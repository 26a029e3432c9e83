"""Special cases: what the scheme gives a common wrong route, where its points give less."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.awarding.evidence import Case
from marker.awarding.wording import quoted, say
from marker.judging.model import Kind, TypedValue
from marker.results import Award, Outcome
from marker.scheme.compiled import Special


def with_special_case(case: Case, awards: Sequence[Award]) -> tuple[Award, ...]:
    """The awards, raised point by point to what the special case is worth that the answer is; unchanged where it is none.

    A special case of the right answer itself is for that answer without working, where the method must be seen.
    Source: AQA-GM, AQA-AM ("SC", a scripted alternative award for a common wrong route); IBM2 ("N", marks for an answer alone).
    """
    goal, answer = case.goal, case.answer
    e = answer.evidence
    if e is None or e.value is None or (answer.complete and not _stands_alone(case)):
        return tuple(awards)
    special = next((s for s in goal.special if _is(s, e.value) and (_stands_alone(case) or abs(s.value - goal.value) > s.half)), None)
    if special is None:
        return tuple(awards)
    missing = min(special.marks, goal.maximum) - sum(a.mark for a in awards)
    out = []
    for award in awards:
        more = min(max(0.0, missing), award.maximum - award.mark)
        if more > 0:
            why = special.because or "a common wrong route"
            reason = f"Special case, {quoted(e.text)}: {why} ({say((e.line,))})."
            award = replace(award, mark=award.mark + more, outcome=Outcome.EARNED, reason=reason, lines=(e.line,), fault="")
            missing -= more
        out.append(award)
    return tuple(out)


def _stands_alone(case: Case) -> bool:
    """Nothing but the value is written of this goal."""
    return all(e.kind is Kind.VALUE and e.bare for e in case.evidence)


def _is(special: Special, typed: TypedValue) -> bool:
    half = max(special.half, typed.half) * 1.0001
    return abs(typed.si - special.value) <= half or (typed.unit is None and abs(typed.raw - special.value) <= half)
