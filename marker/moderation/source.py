"""Marks from whatever file they are in: our marks workbook, a colleague's table, a second marker's workbook, or records.

The cells of our sheet Marks are formulas; where no program has saved their values, the workbook's own list of points and decisions, or
records, stand in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from marker.moderation.blind_marks import is_blind, read_blind
from marker.moderation.gathering import Expectation
from marker.moderation.grid import Grid, read_csv, sheets
from marker.moderation.model import Mark, MarkSet, Response, refuse_one
from marker.moderation.own_workbook import details, facts
from marker.moderation.records import read_records
from marker.moderation.tables import read_table
from marker.reporting.workbook.layout import MARKS

RECORDS = (".jsonl", ".ndjson")
DELIMITED = (".csv", ".tsv", ".txt")
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
    """The marks in a marks workbook, a table of marks (.xlsx, .csv), a second marker's workbook, or a records file (.jsonl).

    marker    name for marks that do not carry one; default "engine" for records, "first mark" for first marks, the file's name else
    like      marks these will be compared with: a candidate, part or mark that does not belong there is refused
    records   records of the same marking, for the typed lines and faults; a file of the workbook's name ending in .jsonl is used by itself
    step      smallest step of a mark;  missing  True passes over cells without a mark
    Raises    WorkbookError (or RecordsError) with every problem, each named by its cell or line.
    """
    if not path.is_file():
        refuse_one(str(path), "no such file", mend="Check the name and the folder.")
    suffix = path.suffix.lower()
    if suffix in RECORDS:
        found = read_records(path, marker or ENGINE)
        return found if like is None else _among(found, like)
    expect = Expectation(marker=marker or (FIRST if like is None else path.stem), like=like, step=step, missing=missing)
    if suffix in DELIMITED:
        marks = read_table(read_csv(path), expect)
        return marks if records is None else with_details(marks, _by_response(read_records(records)))
    return _from_workbook(path, expect, records)


def _from_workbook(path: Path, expect: Expectation, records: Path | None) -> MarkSet:
    book = sheets(path)
    if is_blind(book):
        if expect.like is None:
            refuse_one(path.name, "a second marker's workbook", expected="the first marks", mend="Name the first marks first, then this.")
        return read_blind(path, book, expect.like, expect.missing)
    known = details(path, book)
    told = _records_beside(path, records)
    instead = known or told
    marks = read_table(_marks_grid(path, book), replace(expect, instead=instead))
    if known:
        marks = with_details(replace(marks, facts=facts(book)), known)
    return with_details(marks, told, doubts=not known) if told else marks


def _marks_grid(path: Path, book: Mapping[str, Grid]) -> Grid:
    if MARKS in book:
        return book[MARKS]
    with_heading = [grid for grid in book.values() if grid.header(("candidate",))]
    if not with_heading:
        refuse_one(path.name, "no sheet of marks in it", expected=f'a sheet "{MARKS}", or one with the heading Candidate')
    return with_heading[0]


def _records_beside(path: Path, records: Path | None) -> dict[Response, Mark]:
    beside = path.with_suffix(RECORDS[0])
    if records is None and not beside.is_file():
        return {}
    return _by_response(read_records(records or beside))


def _by_response(marks: MarkSet) -> dict[Response, Mark]:
    return {m.response: m for m in marks.marks}


def with_details(marks: MarkSet, known: Mapping[Response, Mark], doubts: bool = True) -> MarkSet:
    """The same marks with typed lines and faults from elsewhere; points, and with `doubts` what is referred, where the mark is the same."""

    def add(mark: Mark) -> Mark:
        found = known.get(mark.response)
        if found is None:
            return mark
        same = found.mark == mark.mark
        return replace(
            mark,
            text=found.text or mark.text,
            faults=found.faults or mark.faults,
            points=found.points if same and found.points else mark.points,
            referred=mark.referred or (doubts and found.referred and same),
        )

    return replace(marks, marks=tuple(add(m) for m in marks.marks))


def _among(found: MarkSet, like: MarkSet) -> MarkSet:
    """Records held against other marks: every response must be known there, with the same maximum."""
    mend = "Compare marks of one class test."
    known = set(like.candidates)
    for mark in found.marks:
        if mark.candidate not in known:
            refuse_one(mark.where, f"this candidate is not among the marks in {like.name}", mend=mend)
        if mark.part not in like.parts:
            refuse_one(mark.where, f"this part is not among the marks in {like.name}", mend=mend)
        if like.parts[mark.part] != mark.maximum:
            refuse_one(mark.where, f"out of {mark.maximum:g} here and out of {like.parts[mark.part]:g} in {like.name}", mend=mend)
    return found


def read_classes(path: Path, marks: MarkSet) -> MarkSet:
    """The same marks with the class (and, where there is a column for it, the marker) of each candidate from a table.

    Raises WorkbookError when the table has no headings Candidate and Class, or names a candidate who has no marks.
    """
    if not path.is_file():
        refuse_one(str(path), "no such file", mend="Check the name and the folder.")
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
