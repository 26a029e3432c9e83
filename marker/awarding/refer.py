"""When a response goes to a person: something the engine could not settle, and the mark hangs on it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from marker.awarding.answer import Answer
from marker.awarding.wording import quoted, say
from marker.judging.leaves import is_numeric
from marker.judging.model import Evidence, JudgedScript, Kind
from marker.judging.values import nearly
from marker.results import Award, Possibility, Referral
from marker.scheme.compiled import CompiledCalculation


def referral_of(
    part: CompiledCalculation,
    script: JudgedScript,
    evidence: Sequence[Evidence],
    answers: Mapping[str, Answer],
    awards: Sequence[Award],
    otherwise: Sequence[tuple[str, float]] = (),
) -> Referral | None:
    """A referral when a doubt may change the mark: none where every point is earned, or where nothing is in doubt.

    otherwise  doubts the convention leaves to a person, with the mark if they are settled for the candidate
    """
    mark, maximum = sum(a.mark for a in awards), part.marks
    if mark >= maximum:
        return None
    unsettled = _right_all_the_same(part, evidence, answers, awards) if part.convention.right_from_wrong != "full" else []
    doubts = [*script.doubts, *_misread(evidence), *unsettled, *_not_understood(evidence, awards), *_sign_in_words(part, script, answers)]
    if not doubts and not otherwise:
        return None
    possible = [Possibility(text="as read: what is in doubt earns nothing more", mark=mark)]
    possible.extend(Possibility(text=f"settled for the candidate: {doubt}", mark=other) for doubt, other in otherwise)
    if doubts:
        possible.append(Possibility(text="what is in doubt is right and holds the missing evidence", mark=maximum))
    return Referral(reason="; ".join(dict.fromkeys((*doubts, *(d for d, _ in otherwise)))), possibilities=tuple(possible))


def _misread(evidence: Sequence[Evidence]) -> list[str]:
    """A line wrong twice over – the expression, and then its value – may be one we have not read as it was meant."""
    found = []
    for number in dict.fromkeys(e.line for e in evidence):
        here = [e for e in evidence if e.line == number]
        expression = next((e for e in here if e.kind is Kind.SUBSTITUTION and not e.right and e.tainted), None)
        if expression is None:
            continue
        value = next((e for e in here if e.slips and e.kind in (Kind.VALUE, Kind.ARITHMETIC) and e.slips[0].family == "arithmetic"), None)
        if value is not None:
            texts = f"{quoted(expression.text)}, then {quoted(value.text)}"
            found.append(f"{say((number,))} looks wrong twice ({texts}) and may be meant in another way")
    return found


def _right_all_the_same(
    part: CompiledCalculation, evidence: Sequence[Evidence], answers: Mapping[str, Answer], awards: Sequence[Award]
) -> list[str]:
    """The right number at the end, and a line before it that does not follow although no wrong relationship is stated in symbols."""
    found = []
    for goal in part.goals:
        answer = answers[goal.find]
        if answer.evidence is None or answer.followed or not (answer.number and (answer.blocked is not None or _lost_in_numbers(awards))):
            continue
        if goal.shown is not None or any(e.symbolic and not e.right for e in evidence):
            continue
        wrong = [e.line for e in evidence if e.slips and e.kind is Kind.SUBSTITUTION and e.tainted]
        if wrong:
            found.append(f"{quoted(answer.evidence.text)} is the right value, but {say(tuple(wrong))} does not seem to lead to it")
    return found


def _lost_in_numbers(awards: Sequence[Award]) -> bool:
    return any(a.mark < a.maximum and a.kind in ("substitution", "relationship") for a in awards)


def _not_understood(evidence: Sequence[Evidence], awards: Sequence[Award]) -> list[str]:
    """Letters no quantity could be found for, in a response that shows no fault to lose its marks by."""
    lost = [a for a in awards if a.mark < a.maximum and a.kind != "answer"]
    if not lost or any(e.slips for e in evidence):
        return []
    unknown = [e for e in evidence if e.kind is Kind.UNKNOWN and not _beside_the_point(e, evidence)]
    return [f"{say((e.line,))}: it is not clear what {quoted(e.text)} stands for" for e in unknown[:2]]


_DIRECTIONS = re.compile(
    r"\b(?:down|up|back|for|left|right|out|in)wards?\b|\b(?:down|up|left|right|back|opposite|reverse|north|south|east|west)\b",
    re.IGNORECASE,
)


def _sign_in_words(part: CompiledCalculation, script: JudgedScript, answers: Mapping[str, Answer]) -> list[str]:
    """An answer of the right size without its sign, and a direction in words beside it."""
    found = []
    for goal in part.goals:
        e = answers[goal.find].evidence
        if goal.find not in part.signed or answers[goal.find].number or e is None or e.value is None:
            continue
        text = next((line.text for line in script.lines if line.number == e.line), "")
        if nearly(-e.value.si, goal.value, e.value.half) and _DIRECTIONS.search(text):
            found.append(f"{quoted(e.text)} has the right size, and words for its direction stand in {say((e.line,))}")
    return found


def _beside_the_point(e: Evidence, evidence: Sequence[Evidence]) -> bool:
    """An equation in letters alone, where nothing is worked out in numbers and the relationship is stated elsewhere: it adds nothing."""
    numbers = any(x.kind in (Kind.SUBSTITUTION, Kind.VALUE, Kind.ARITHMETIC) for x in evidence)
    letters = e.stated is not None and not any(is_numeric(side) for side in e.stated)
    return letters and not numbers and any(x.symbolic and x.right and x.relations for x in evidence)
