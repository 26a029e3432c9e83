"""From sets of marks to a complete report: comparison, decision for each first marker, adjusted marks, and what to look at again."""

from __future__ import annotations

from collections.abc import Sequence

from marker.errors import MarkerError
from marker.moderation.again import look_again
from marker.moderation.compare import Comparison, compare, split_markers
from marker.moderation.decision import Decision, Verdict, adjusted_marks, decide
from marker.moderation.extra import need_statistics
from marker.moderation.model import Mark, MarkSet, Response
from marker.moderation.rules import Anchor, DecisionRule, Tolerance
from marker.moderation.sections import Report
from marker.moderation.several import several_markers
from marker.moderation.severity import Severity, severity


def make_report(
    first: MarkSet,
    seconds: Sequence[MarkSet],
    *,
    rule: DecisionRule,
    tolerance: Tolerance,
    anchor: Anchor,
    title: str = "",
    first_marker: str = "",
    checked_first: Sequence[str] = (),
    made_by: Sequence[tuple[str, str]] = (),
) -> Report:
    """The report on second marks of some of the responses.

    first_marker    whose marks count as first, where one table holds several markers' marks
    checked_first   candidates checked first, under a staged rule
    Raises          WorkbookError for a wrong pairing or when nothing was marked twice; nothing is computed then
    """
    need_statistics()
    lead, others = split_markers(first, first_marker)
    rest = (*others, *seconds)
    comparison = compare(lead, rest, tolerance)
    decisions = _decisions(comparison, lead, rule, tolerance, checked_first)
    spread, notes = _severity([*lead.marks, *(m for s in rest for m in s.marks)])
    return Report(
        title=title or lead.name,
        comparison=comparison,
        decisions=decisions,
        rule=rule,
        anchor=anchor,
        adjusted=adjusted_marks(lead, comparison.parts, decisions),
        again=look_again(comparison),
        several=several_markers([lead, *rest], tuple(comparison.parts)),
        severity=spread,
        made_by=tuple(made_by),
        notes=(*notes, *_part_notes(comparison, lead)),
    )


def _decisions(
    comparison: Comparison, lead: MarkSet, rule: DecisionRule, tolerance: Tolerance, checked_first: Sequence[str]
) -> tuple[Decision, ...]:
    """One decision for each first marker with a response marked twice; one for all when there is only one first marker."""
    maximum = sum(comparison.parts.values())
    markers = list(dict.fromkeys(lead.first_marker(p.candidate) for p in comparison.pairs))
    alone = len({lead.first_marker(c) for c in lead.candidates}) == 1
    return tuple(
        decide(
            [t for t in comparison.totals if t.marker == marker],
            maximum,
            rule,
            tolerance,
            marker="" if alone else marker,
            first=checked_first,
        )
        for marker in markers
    )


def _severity(marks: Sequence[Mark]) -> tuple[Severity | None, tuple[str, ...]]:
    """Severity where at least three markers share responses; a note where they cannot be compared."""
    found: dict[Response, set[str]] = {}
    for mark in marks:
        found.setdefault(mark.response, set()).add(mark.marker)
    names = {name for who in found.values() if len(who) > 1 for name in who}
    if len(names) < 3:
        return None, ()
    try:
        return severity(marks), ()
    except MarkerError as error:
        return None, tuple(p.sentence() for p in error.problems)


def _part_notes(comparison: Comparison, lead: MarkSet) -> tuple[str, ...]:
    left = [p for p in lead.parts if p not in comparison.parts]
    notes = []
    if left:
        notes.append(f"Not marked twice: part {', '.join(left)}. Totals and adjustments are of the other parts.")
    unsure = sum(p.first.referred for p in comparison.pairs)
    if unsure:
        notes.append(f"{unsure} of the first marks compared are provisional: they wait for a person's decision.")
    return tuple(notes)


def needs_person(report: Report) -> bool:
    """True when something in the report waits for a person: any decision but "stands", or a response to look at again."""
    return bool(report.again) or any(d.verdict is not Verdict.STANDS for d in report.decisions)
