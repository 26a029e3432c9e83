"""Reports on the lines of a response in letters, and the names of the faults its equations show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from marker.judging.naming import named_in_letters
from marker.kinds.algebra.statements import Said, Working
from marker.results import FaultFound, LineReport
from marker.scheme.compiled import CompiledCalculation

_RANK = ("wrong", "unread", "follows", "unused", "value", "right")


def letter_reports(lines: Sequence[str], working: Working, verdicts: Mapping[int, tuple[str, str]]) -> tuple[LineReport, ...]:
    """One report a typed line. `verdicts` gives line number -> (verdict, note)."""
    judged = {x.number: x for x in working.script.lines}
    out = []
    for number, text in enumerate(lines, 1):
        line = judged.get(number)
        verdict, note = verdicts.get(number, ("remark", ""))
        if line is not None and line.withdrawn:
            verdict, note = "withdrawn", ""
        elif line is not None and line.unread and number not in verdicts:
            verdict = "unread"
        readings, mathml = (line.readings, line.mathml) if line is not None else ((), "")
        out.append(LineReport(number=number, text=text, readings=readings, verdict=verdict, note=note, mathml=mathml))
    return tuple(out)


def worst(verdicts: Sequence[tuple[str, str]]) -> tuple[str, str]:
    """Of several equations in one line, what the line is called by."""
    return min(verdicts, key=lambda v: _RANK.index(v[0]))


def letter_faults(part: CompiledCalculation, wrong: Sequence[Said], right: str = "") -> tuple[FaultFound, ...]:
    """The fault of each wrong equation, named where a known one makes it. `right` is what should stand there at the end."""
    found: dict[tuple[str, int | None], FaultFound] = {}
    for one in wrong:
        for slip in one.evidence.slips:
            for fault in named_in_letters(part, slip, one.evidence, right):
                found.setdefault((fault.code, fault.line), fault)
    return tuple(found.values())
