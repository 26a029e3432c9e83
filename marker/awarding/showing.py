""" "Show that": is the stated result reached, missing or contradicted, and is it worked backwards."""

from __future__ import annotations

from marker.awarding.evidence import Case, of_goal
from marker.judging.model import Kind


def state_of_result(case: Case) -> str:
    """ "reached" when the candidate's own working gives the stated result, "missing" when none is stated, else "contradicted"."""
    answer = case.answer
    if answer.evidence is None:
        return "missing"
    stray = any(e.slips and e.about == case.goal.find and e.kind is Kind.VALUE for e in case.evidence)
    elsewhere = any(p.kind == "answer" for p in case.goal.points)  # a point of its own for the result and its figures
    enough = answer.figures == "ok" or elsewhere or not case.convention.show_extra_figure
    reached = answer.number and answer.blocked is None and not stray and enough
    return "reached" if reached else "contradicted"


def shown_backwards(case: Case) -> bool:
    """The value to be shown, put in, gives a datum of the question, and the convention allows that way round.

    Source: OCRB (2006): working from the value to the data allowed.
    """
    if not case.convention.show_reverse:
        return False
    for e in case.evidence:
        used = any(symbol == case.goal.find for symbol, _ in e.uses)
        right = e.kind is Kind.SUBSTITUTION and not e.slips and not e.tainted and of_goal(case) <= e.relations
        if used and right and any(d.kind is Kind.DATUM and d.right and d.about == e.about for d in case.evidence):
            return True
    return False
