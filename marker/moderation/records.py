"""Marks from a records file: what marking wrote, one JSON object per candidate and part."""

from __future__ import annotations

import math
from pathlib import Path

from marker.errors import Problem
from marker.moderation.model import Mark, MarkSet, plain, point_marks, refuse
from marker.reporting.records import read_records as read_results
from marker.results import PartResult


def read_records(path: Path, marker: str = "engine") -> MarkSet:
    """All marks of the file under one marker's name.

    Raises RecordsError for a line that is no record, WorkbookError for a mark that is not possible or parts out of two maxima.
    """
    marks = tuple(_mark(candidate, result, path.name, marker) for candidate, result in read_results(path))
    problems = [p for m in marks if (p := _impossible(m)) is not None] + _maxima(marks)
    if not marks:
        problems.append(Problem(where=path.name, seen="no records", expected="one JSON object on each line"))
    refuse(problems)
    return MarkSet(marks=marks, parts={m.part: m.maximum for m in marks}, name=path.name)


def _mark(candidate: str, result: PartResult, file: str, marker: str) -> Mark:
    texts = {line.number: line.text for line in result.lines}
    return Mark(
        candidate=candidate.strip(),
        part=result.part.strip(),
        mark=result.mark,
        maximum=result.maximum,
        marker=marker,
        where=f"{file}, candidate {candidate}, part {result.part}",
        points=point_marks((a.point, a.mark, a.maximum) for a in result.awards),
        faults=tuple((f.code, texts.get(f.line or 0, "")) for f in result.faults if f.sure),
        text="\n".join(texts.values()),
        referred=result.referred,
    )


def _impossible(mark: Mark) -> Problem | None:
    if mark.maximum > 0 and 0 <= mark.mark <= mark.maximum and math.isfinite(mark.maximum):
        return None
    return Problem(where=mark.where, seen=f"a mark of {plain(mark.mark)} out of {plain(mark.maximum)}", mend="Mark the responses again.")


def _maxima(marks: tuple[Mark, ...]) -> list[Problem]:
    parts: dict[str, Mark] = {}
    return [
        Problem(
            where=m.where, seen=f"part {m.part} is out of {m.maximum:g} here and out of {parts[m.part].maximum:g} at {parts[m.part].where}"
        )
        for m in marks
        if parts.setdefault(m.part, m).maximum != m.maximum
    ]
