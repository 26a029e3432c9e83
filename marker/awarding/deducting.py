"""Negative marking: the full mark less so much for each slip, blunder and misread; what is left out earns nothing."""

from __future__ import annotations

from collections.abc import Iterator

from marker.awarding.goal import Awarded
from marker.awarding.wording import clause, say, sentence, slip_clause
from marker.awarding.worlds import family
from marker.judging.model import Slip
from marker.results import Award, Outcome
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.convention import Convention

BLUNDERS = frozenset({"relationship", "rearrangement", "other quantity", "swapped"})
WRITING = frozenset(
    {"unit-missing", "unit-wrong", "wrong-prefix", "fraction-left", "rounded-wrongly", "two-answers", "too-few-figures", "too-many-figures"}
)
NAMES = {"slip": "a slip", "blunder": "a blunder", "misread": "a misread"}


def deducted(part: CompiledCalculation, awarded: Awarded) -> tuple[Award, ...]:
    """One award for the whole of a goal, its faults deducted from the full mark.

    Source: IE11 (a mark for each slip, right work on it credited); IE14 (slip 1, blunder 3).
    """
    convention, goal = part.convention, awarded.case.goal
    left_out = [(p, f) for p, f in zip(goal.points, awarded.findings, strict=True) if not f.met and not f.wrong]
    mark = goal.maximum - sum(p.marks for p, _ in left_out)
    reasons = [clause(f.because) for _, f in left_out]
    lines = [n for f in awarded.findings for n in f.lines]
    for kind, what, line in _faults(part, awarded):
        cost = {"slip": convention.slip_deduction, "blunder": convention.blunder_deduction, "misread": convention.misread_deduction}[kind]
        mark -= cost
        reasons.append(f"{NAMES[kind]}, {cost:g} deducted: {what} ({say((line,))})")
    mark = max(0.0, mark)
    because = sentence("; ".join(reasons) if reasons else "nothing is wrong or left out")
    return (
        Award(
            point="working and answer" if not goal.label else f"working and answer {goal.label}",
            kind="answer",
            mark=mark,
            maximum=goal.maximum,
            outcome=Outcome.EARNED if mark == goal.maximum else Outcome.NOT_EARNED,
            reason=because,
            lines=tuple(sorted(set(lines))),
            followed_through=any(f.followed for f in awarded.findings),
        ),
    )


def _faults(part: CompiledCalculation, awarded: Awarded) -> Iterator[tuple[str, str, int]]:
    """(slip, blunder or misread; clause; line) of each fault, one blunder a quantity; what follows from a fault is not one."""
    blundered: set[str] = set()
    seen: set[tuple[str, str]] = set()
    for e in awarded.case.evidence:
        for slip in e.slips:
            kind = _kind(slip, part.convention)
            if kind == "" or (slip.code, slip.symbol) in seen or (e.about in blundered and (kind != "slip" or e.tainted)):
                continue
            seen.add((slip.code, slip.symbol))
            if kind == "blunder":
                blundered.add(e.about)
            yield kind, slip_clause(slip, part.data), slip.line
    answer = awarded.answer
    if answer.evidence is None or not (answer.number or answer.converted):
        return
    for finding in awarded.findings:
        if finding.fault in WRITING:
            yield "slip", clause(finding.because.rsplit(" (", 1)[0]), answer.evidence.line


def _kind(slip: Slip, convention: Convention) -> str:
    kind = family(slip, convention)
    if kind == "accepted":
        return ""
    if kind in BLUNDERS:
        return "blunder"
    return "misread" if kind == "copying" else "slip"
