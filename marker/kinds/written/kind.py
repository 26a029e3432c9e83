"""The written kind: compile, mark and model answer, as every kind of part offers them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.kinds.base import Carried, Kind
from marker.kinds.written.award import awards, referral
from marker.kinds.written.decisions import Decision, decisions_of, response_key, settled_as, text_of_settled
from marker.kinds.written.faults import faults
from marker.kinds.written.finding import Finding
from marker.kinds.written.judge import judge_all, settled_finding, teach
from marker.kinds.written.lists import apply
from marker.kinds.written.model import Prose
from marker.kinds.written.part import WrittenPart, compile_part
from marker.kinds.written.prose import read
from marker.kinds.written.spec import WrittenSpec
from marker.results import Award, LineReport, Outcome, PartResult
from marker.scheme.convention import Convention


def compile_written(spec: WrittenSpec, convention: Convention) -> WrittenPart:
    """A part ready for marking, with what its settled responses teach. Raises SchemeError when those cannot be read."""
    settled = decisions_of(spec)
    return teach(compile_part(spec, convention, settled), settled)


def mark_written(part: WrittenPart, lines: Sequence[str], carried: Carried) -> PartResult:
    """One response marked. Nothing is carried between written parts."""
    decision = settled_as(part.decisions, response_key(lines, part.known), lines) if part.decisions else None
    if decision is not None and decision.ideas is None:
        return _as_settled(part, decision, lines)
    offered = apply(part, lines)
    prose = read(tuple(offered.lines), part.known)
    findings = tuple(settled_finding(i, decision) for i in part.ideas) if decision else judge_all(prose, part)
    lost = 0 if decision else offered.cancelled
    ways = tuple(range(lost, lost + (0 if decision else offered.unsure) + 1))
    given = awards(part, findings, lost)
    asked = referral(part, findings, ways, offered.reason if len(ways) > 1 else "")
    return PartResult(
        part=part.name,
        mark=sum(a.mark for a in given),
        maximum=float(part.marks),
        awards=given if asked else _settle(given),
        faults=faults(part, findings, offered.wrong if lost else ()),
        lines=_reports(lines, findings, prose),
        referral=asked,
        notes=(offered.reason,) if offered.reason else (),
    )


def _settle(given: Sequence[Award]) -> tuple[Award, ...]:
    """Where no open point changes the mark, each stands as proposed."""
    return tuple(
        replace(a, outcome=Outcome.EARNED if a.mark > 0 else Outcome.NOT_EARNED) if a.outcome is Outcome.REFERRED else a for a in given
    )


def _as_settled(part: WrittenPart, decision: Decision, lines: Sequence[str]) -> PartResult:
    """A response whose mark a teacher settled without naming ideas."""
    mark = decision.mark or 0.0
    award = Award(
        point="answer", kind="statement", mark=mark, maximum=float(part.marks),
        outcome=Outcome.EARNED if mark else Outcome.NOT_EARNED, reason=f"As a teacher settled for these words: {mark:g}.",
    )  # fmt: skip
    return PartResult(part=part.name, mark=mark, maximum=float(part.marks), awards=(award,), lines=_reports(lines, (), None))


def _reports(lines: Sequence[str], findings: Sequence[Finding], prose: Prose | None) -> tuple[LineReport, ...]:
    standing = None if prose is None or not prose.withdrawn else {i.line for c in prose.clauses for i in c.items}
    return tuple(_report(number, text, findings, standing) for number, text in enumerate(lines, 1))


def _report(number: int, text: str, findings: Sequence[Finding], standing: set[int] | None) -> LineReport:
    """What a line was good for: right, wrong, taken back, or a remark. `standing`: lines with words left where some were taken back."""
    here = [f for f in findings if number in f.lines]
    if standing is not None and number not in standing and text.strip():
        return LineReport(number=number, text=text, verdict="withdrawn", note="Taken back by the candidate.")
    if any(f.code == "contradicted" for f in here):
        verdict = "wrong"
    elif any(f.outcome is Outcome.EARNED for f in here):
        verdict = "right"
    else:
        verdict = "remark"
    return LineReport(number=number, text=text, verdict=verdict, note=" ".join(f.reason for f in here))


def model_answer(part: WrittenPart) -> tuple[str, ...]:
    """One line per idea, in the scheme's own words; the first accepted answer in the light form."""
    return tuple(idea.samples[0].text if idea.samples else idea.states for idea in part.ideas)


KIND = Kind(
    name="written", spec=WrittenSpec, compile=compile_written, mark=mark_written, model=model_answer, beside=text_of_settled
)
