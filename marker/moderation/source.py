"""Marks from whatever file they are in. The one place of this room that knows how the marks workbook is laid out.

The sheet "Marks" is a wide table: headings with Candidate and the parts, a row of maxima, one row per candidate; columns after the
parts (Total, Percent) are not read. Its cells may be formulas whose values were never saved by a spreadsheet program; then the
records file beside it stands in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from marker.moderation.blind_marks import is_blind, read_blind
from marker.moderation.grid import Grid, read_csv, sheets
from marker.moderation.model import Mark, MarkSet, Response, refuse_one
from marker.moderation.records import read_records
from marker.moderation.tables import Expectation, read_table

RECORDS = (".jsonl", ".ndjson")
DELIMITED = (".csv", ".tsv", ".txt")
MARKS_SHEET = "Marks"
FIRST = "first mark"
ENGINE = "engine"


def load_marks(
    path: Path,
    *,
    marker: str = "",
    like: MarkSet | None = None,
    records: Path | None = None,
    step: float = 0.5,
    missing: bool = False,
) -> MarkSet:
    """The marks in a marks workbook, a table of marks (.xlsx, .csv) or a records file (.jsonl).

    marker    name for marks that do not carry one; default "engine" for records, "first mark" for first marks, the file's name else
    like      marks these will be compared with: a candidate, part or mark that does not belong there is refused
    records   records of the same marking: they give typed lines, points and faults, and marks for formulas without a saved value;
              a file of the same name ending in .jsonl beside a workbook is used by itself
    Raises    WorkbookError with every problem, each named by its cell or line.
    """
    if not path.is_file():
        refuse_one(str(path), "no such file", mend="Check the name and the folder.")
    if path.suffix.lower() in RECORDS:
        found = read_records(path, marker or ENGINE)
        return found if like is None else _among(found, like)
    name = marker or (FIRST if like is None else path.stem)
    if path.suffix.lower() in DELIMITED:
        return read_table(read_csv(path), Expectation(marker=name, like=like, step=step, missing=missing))
    found_sheets = sheets(path)
    if is_blind(found_sheets):
        if like is None:
            refuse_one(
                path.name, "a second marker's workbook", expected="the first marks", mend="Give the marks it is compared with first."
            )
        return read_blind(path, found_sheets, like, missing)
    details = _records_beside(path, records)
    instead = {} if details is None else {m.response: m for m in details.marks}
    grid = _marks_grid(path, found_sheets)
    marks = read_table(grid, Expectation(marker=name, like=like, step=step, missing=missing, instead=instead))
    return marks if details is None else with_details(marks, details)


def _marks_grid(path: Path, found: Mapping[str, Grid]) -> Grid:
    if MARKS_SHEET in found:
        return found[MARKS_SHEET]
    with_header = [g for g in found.values() if g.header(("candidate",))]
    if not with_header:
        refuse_one(path.name, "no sheet of marks in it", expected=f'a sheet "{MARKS_SHEET}", or one with the heading Candidate')
    return with_header[0]


def _records_beside(path: Path, records: Path | None) -> MarkSet | None:
    if records is not None:
        return read_records(records)
    beside = path.with_suffix(".jsonl")
    return read_records(beside) if beside.is_file() else None


def with_details(marks: MarkSet, details: MarkSet) -> MarkSet:
    """The same marks, with typed lines and faults from records; the points too where the mark is the one the points add up to."""
    known: Mapping[Response, Mark] = {m.response: m for m in details.marks}

    def add(mark: Mark) -> Mark:
        found = known.get(mark.response)
        if found is None:
            return mark
        points = found.points if found.mark == mark.mark else ()
        return replace(mark, text=found.text, faults=found.faults, points=points, referred=found.referred and found.mark == mark.mark)

    return replace(marks, marks=tuple(add(m) for m in marks.marks))


def _among(found: MarkSet, like: MarkSet) -> MarkSet:
    """Records held against other marks: every response must be known there, with the same maximum."""
    for mark in found.marks:
        if mark.candidate not in like.candidates:
            refuse_one(
                mark.where, f"candidate {mark.candidate} is not among the marks in {like.name}", mend="Compare marks of one class test."
            )
        if mark.part not in like.parts:
            refuse_one(mark.where, f"part {mark.part} is not among the marks in {like.name}", mend="Compare marks of one class test.")
        if like.parts[mark.part] != mark.maximum:
            refuse_one(mark.where, f"part {mark.part} is out of {mark.maximum:g} here and out of {like.parts[mark.part]:g} in {like.name}")
    return found


def read_classes(path: Path, marks: MarkSet) -> MarkSet:
    """The same marks with the class (and, where there is a column for it, the marker) of each candidate from a table.

    Raises WorkbookError when the table has no column Candidate and Class, or names a candidate who has no marks.
    """
    grid = read_csv(path) if path.suffix.lower() in DELIMITED else next(iter(sheets(path).values()))
    header = grid.header(("candidate", "class"))
    if header is None:
        refuse_one(grid.name, "no headings Candidate and Class", mend="Add them.")
    top, columns = header
    classes, markers = dict(marks.classes), {}
    for i in range(top + 1, len(grid.rows)):
        candidate = grid.cell(i, columns["candidate"])
        if candidate.empty:
            continue
        if candidate.text not in marks.candidates:
            refuse_one(candidate.where, f"candidate {candidate.text} has no marks in {marks.name}", mend="Correct it, or take the row out.")
        classes[candidate.text] = grid.cell(i, columns["class"]).text
        if "marker" in columns and grid.cell(i, columns["marker"]).text:
            markers[candidate.text] = grid.cell(i, columns["marker"]).text
    renamed = tuple(replace(m, marker=markers.get(m.candidate, m.marker)) for m in marks.marks)
    return replace(marks, classes=classes, marks=renamed)
