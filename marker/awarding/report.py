"""What a marked calculation says of its lines, its faults and its own values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from marker.awarding.answer import Answer
from marker.awarding.wording import slip_words
from marker.judging.model import Evidence, JudgedLine, JudgedScript, Kind, Slip
from marker.judging.naming import named
from marker.physics.evaluate import same_dimensions
from marker.results import FaultFound, LineReport, OwnValue
from marker.scheme.compiled import CompiledCalculation

MOST_OWN = 4
UNITS = {"missing": "unit-missing", "wrong": "unit-wrong", "case": "unit-symbol-case", "prefix": "wrong-prefix"}
FORMS = {"fraction": "fraction-left", "rounding": "rounded-wrongly"}


def faults_of(part: CompiledCalculation, evidence: Sequence[Evidence], answers: Mapping[str, Answer], lost: bool) -> tuple[FaultFound, ...]:
    """Each fault once, in the order of the lines; none when nothing was lost."""
    slips: list[Slip] = []
    for e in evidence:
        slips.extend(e.slips)
    for answer in answers.values():
        if answer.evidence is None:
            continue
        line, text = answer.evidence.line, answer.evidence.text
        if answer.number and answer.unit != "ok":
            slips.append(Slip(code=UNITS[answer.unit], family="unit", line=line, typed=text))
        if answer.number and answer.figures != "ok":
            slips.append(Slip(code=f"too-{answer.figures}-figures", family="figures", line=line, typed=text))
        if answer.number and answer.form in FORMS:
            slips.append(Slip(code=FORMS[answer.form], family="rounding" if answer.form == "rounding" else "answer", line=line, typed=text))
        if answer.others and part.convention.two_answers == "zero":
            slips.append(Slip(code="two-answers", family="answer", line=line, typed=text))
        if answer.slip is not None and answer.slip not in slips:
            slips.append(answer.slip)
    if not lost:
        return ()
    out: dict[tuple[str, int | None], FaultFound] = {}
    for slip in dict.fromkeys(slips):
        for fault in named(part, slip, evidence):
            out.setdefault((fault.code, fault.line), fault)
    return tuple(out.values())


def line_reports(
    part: CompiledCalculation, script: JudgedScript, evidence: Sequence[Evidence], answers: Mapping[str, Answer]
) -> tuple[LineReport, ...]:
    """One report a typed line: verdict from the evidence it gave, and from the answers that were followed."""
    followed = {(a.evidence.line, a.evidence.about) for a in answers.values() if a.evidence is not None and a.number and a.followed}
    return tuple(_report(part, line, [e for e in evidence if e.line == line.number], followed) for line in script.lines)


def _report(part: CompiledCalculation, line: JudgedLine, evidence: Sequence[Evidence], followed: set[tuple[int, str]]) -> LineReport:
    slips = [s for e in evidence for s in e.slips if s.line == line.number]
    columns = next((e.columns for e in evidence if e.slips and e.columns), None)
    note = "; ".join(dict.fromkeys(slip_words(s, {}) for s in slips)) or "; ".join(line.assumptions)
    return LineReport(
        number=line.number,
        text=line.text,
        readings=line.readings,
        verdict=_verdict(part, line, evidence, bool(slips), followed),
        note=note,
        columns=None if columns is None else (columns[0] + 1, columns[1] + 1),
        mathml=line.mathml,
    )


def _verdict(
    part: CompiledCalculation, line: JudgedLine, evidence: Sequence[Evidence], slips: bool, followed: set[tuple[int, str]]
) -> str:
    if line.withdrawn:
        return "withdrawn"
    if line.unread and not evidence:
        return "unread"
    if line.remark or not evidence:
        return "remark" if line.remark else "unused"
    if slips or any(not e.right and not _stands(part, e, followed) for e in evidence):
        return "wrong"
    if any(e.inherited or (e.kind is Kind.VALUE and not e.right) for e in evidence):
        return "follows"
    kinds = {e.kind for e in evidence}
    if kinds == {Kind.DATUM}:
        return "data"
    if kinds == {Kind.UNKNOWN}:
        return "unused"
    return "value" if kinds == {Kind.VALUE} else "right"


def _stands(part: CompiledCalculation, e: Evidence, followed: set[tuple[int, str]]) -> bool:
    """What is not the right thing and is no fault of this line: it follows from an own value, or brings one from another part."""
    brought = e.kind is Kind.VALUE and e.about in part.carry
    return e.kind is Kind.UNKNOWN or bool(e.inherited) or brought or (e.line, e.about) in followed


def own_values_of(part: CompiledCalculation, evidence: Sequence[Evidence]) -> tuple[OwnValue, ...]:
    """Values the candidate found, the last few typings of each, for later parts."""
    found: dict[str, list[OwnValue]] = {}
    for e in evidence:
        if e.kind is Kind.VALUE and e.about and e.value is not None:
            unit = e.value.unit.name if e.value.unit else ""
            number = e.value.number.text if e.value.number else ""
            own = OwnValue(symbol=e.about, value=e.value.si, typed=number, unit=unit, right=e.right)
            found.setdefault(e.about, []).append(own)
    for goal in part.goals:
        if goal.find not in found:
            found[goal.find] = _last_of_kind(part, goal.find, evidence)
    return tuple(own for values in found.values() for own in values[-MOST_OWN:])


def _last_of_kind(part: CompiledCalculation, symbol: str, evidence: Sequence[Evidence]) -> list[OwnValue]:
    """Where a part's answer is never named: the last value of its kind, which a candidate carries on all the same."""
    dims = part.dimensions.get(symbol)
    for e in reversed(evidence):
        value = e.value
        if value is None or e.kind is Kind.DATUM or dims is None:
            continue
        alike = value.unit is not None and same_dimensions(value.unit.dimensions, dims)
        if alike or (e.about in part.dimensions and part.dimensions[e.about] == dims):
            unit = value.unit.name if value.unit else ""
            return [OwnValue(symbol=symbol, value=value.si, typed=value.number.text if value.number else "", unit=unit, right=False)]
    return []
