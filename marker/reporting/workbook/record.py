"""The sheets Record (how these marks came about), Changes (against an earlier marking) and the hidden list of points."""

from __future__ import annotations

from collections.abc import Sequence

from marker.reporting.decisions import Change
from marker.reporting.paper import MarkedPaper, mark_text
from marker.reporting.workbook.layout import POINT_BETWEEN, POINTS_HEADINGS
from marker.reporting.workbook.pen import Pen, Value, for_print
from marker.results import Award

STATEMENTS = (
    "The teacher is the marker. These marks are a first marking; a mark typed on the sheet Refer replaces the one given here.",
    "Where the awarding body's own instructions for this paper say otherwise, they prevail.",
    "Marks are about people. Keep this file only where candidates' data may be kept, and use candidate numbers rather than names.",
)


def write_record(pen: Pen, marked: MarkedPaper, kept_file: str) -> None:
    pen.title("Record", "How these marks came about.")
    facts = [
        ("Class test", marked.title),
        ("Marked", marked.when),
        ("Scheme", f"{marked.scheme_file}\nSHA-256 {marked.scheme_sha256}"),
        ("Responses", f"{marked.responses_file}\nSHA-256 {marked.responses_sha256}"),
        ("Convention", marked.convention),
        ("Marked with", f"marker {marked.version}"),
    ]
    if kept_file:
        facts.append(("Decisions kept from", kept_file))
    row = 3
    for label, text in facts:
        row += 1
        pen.row(row, [(label, "cell code"), (text, "cell"), ("", "cell")])
    for number, statement in enumerate(STATEMENTS):
        row += 1
        pen.row(row, [("Please note" if number == 0 else "", "cell code"), (statement, "cell"), ("", "cell")])
    for number, note in enumerate(marked.notes):
        row += 1
        pen.row(row, [("From the responses" if number == 0 else "", "cell code"), (note, "cell"), ("", "cell")])
    for merged in range(4, row + 1):
        pen.sheet.merge_cells(start_row=merged, end_row=merged, start_column=2, end_column=3)
    _heights(pen, row)
    row += 2
    pen.text(row, 1, "Rulings in force", "heading")
    pen.row(row + 1, [("Ruling", "head"), ("Value", "head"), ("Source", "head")])
    for number, (name, value, source) in enumerate(marked.rulings, start=row + 2):
        pen.row(number, [(name.replace("_", " "), "cell"), (value, "cell"), (source, "cell")])
    pen.widths((30.0, 44.0, 52.0))
    for_print(pen.sheet, marked.title, None, landscape=False)


def _heights(pen: Pen, last: int) -> None:
    """Merged cells do not grow by themselves."""
    for row in range(4, last + 1):
        text = str(pen.sheet.cell(row, 2).value or "")
        lines = sum(max(1, -(-len(piece) // 100)) for piece in text.split("\n"))
        pen.sheet.row_dimensions[row].height = 4 + 13.5 * lines


def write_changes(pen: Pen, marked: MarkedPaper, found: Sequence[Change], kept_file: str) -> None:
    """Marks that are not what they were in the earlier workbook, and what became of the teacher's decisions there."""
    pen.title(
        "Changes", f"Marks before any decision of yours, against {kept_file}." if kept_file else "Marks before any decision of yours."
    )
    headings = ("Candidate", "Part", "Before", "Now", "Why", "Your decision")
    for column, heading in enumerate(headings, start=1):
        pen.text(4, column, heading, "head centred" if column in (3, 4) else "head")
    pen.widths((12.0, 8.0, 9.0, 9.0, 80.0, 40.0))
    for row, change in enumerate(found, start=5):
        pen.row(row, [(change.candidate, "cell code"), (change.part, "cell code"), (_mark(change.was), "cell centred")])
        pen.row(row, [(_mark(change.now), "cell centred"), (change.why, "cell"), (change.teacher, "cell")], start=4)
        pen.fit(row)
    if not found:
        pen.text(5, 1, "No mark changed.", "plain")
    pen.sheet.freeze_panes = "C5"
    for_print(pen.sheet, marked.title, 4)


def _mark(mark: float | None) -> str:
    return "–" if mark is None else mark_text(mark)


def write_points(pen: Pen, marked: MarkedPaper) -> None:
    """One row per response with its points, one on each line; read again when the class test is marked again."""
    for column, heading in enumerate(POINTS_HEADINGS, start=1):
        pen.text(1, column, heading, "head")
    for row, (candidate, result) in enumerate(marked.responses(), start=2):
        points = "\n".join(POINT_BETWEEN.join((*_worth(a), " ".join(a.reason.split()))) for a in result.awards)
        referred = "yes" if result.referred else "no"
        cells: tuple[Value, ...] = (candidate, result.part, result.mark, result.maximum, referred, points)
        pen.row(row, [(c, "plain") for c in cells])
    pen.sheet.sheet_state = "hidden"


def _worth(award: Award) -> tuple[str, str, str]:
    return " ".join(award.point.split()), mark_text(award.mark), mark_text(award.maximum)
