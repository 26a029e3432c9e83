"""The report as a workbook: decision, figures, charts, responses to look at again, adjusted marks beside the old ones, and all pairs."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from openpyxl import Workbook
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from marker.moderation.native_charts import chart_sheet
from marker.moderation.sections import (
    COUNT,
    GENERAL,
    PERCENT,
    SIGNED,
    TWO,
    Report,
    Section,
    adjusted_section,
    again_section,
    decision_section,
    figures_sections,
    pairs_section,
    summary,
)
from marker.moderation.sheetwork import printable, put, table, widths
from marker.reporting.atomic import replacing

NUMBER = {GENERAL: "General", PERCENT: "0%", TWO: "0.00", SIGNED: "+0.00;−0.00;0.00", COUNT: "0"}


def write_report(path: Path, report: Report) -> None:
    """Write the workbook. An existing file is replaced once the new one is complete. Raises OutputError."""
    book = Workbook()
    first = book.active
    assert isinstance(first, Worksheet)
    first.title = "Decision"
    _decision(first, report)
    sections = figures_sections(report)
    sections_sheet(book.create_sheet("Agreement"), f"Agreement: {report.title}", sections, [24, 13, 12, 13, 14, 15, 14, 15, 15, 16, 24, 15])
    chart_sheet(book, report.comparison)
    single_sheet(book.create_sheet("Look again"), again_section(report.again), [14, 10, 8, 28, 44, 60])
    single_sheet(book.create_sheet("Adjusted"), adjusted_section(report.adjusted), [14, 10, 22, 10, 12, 14, 10])
    single_sheet(book.create_sheet("Pairs"), pairs_section(report), [14, 10, 10, 8, 20, 11, 20, 12, 11])
    book.properties.creator = "marker"
    with replacing(path) as temporary:
        book.save(temporary)


def _decision(sheet: Worksheet, report: Report) -> None:
    section = decision_section(report)
    put(sheet, 1, 1, f"Moderation: {report.title}", style="title")
    sheet.row_dimensions[1].height = 26
    put(sheet, 2, 1, summary(report), style="note")
    end = section_at(sheet, 4, section, columns=6)
    for note in report.notes:
        note_at(sheet, end, note, columns=6)
        end += 1
    put(sheet, end + 1, 1, "Made from", style="section")
    for i, (what, value) in enumerate(report.made_by, start=end + 2):
        put(sheet, i, 1, what, style="note")
        note_at(sheet, i, value, columns=6, left=2)
    widths(sheet, [24, 24, 62, 10, 12, 14])
    printable(sheet, f"Moderation: {report.title}", None, landscape=True)


def sections_sheet(sheet: Worksheet, title: str, sections: Sequence[Section], columns: Sequence[float]) -> None:
    """Several tables one under the other."""
    put(sheet, 1, 1, title, style="title")
    sheet.row_dimensions[1].height = 26
    row = 3
    for section in sections:
        row = section_at(sheet, row, section, columns=min(12, len(columns))) + 1
    widths(sheet, columns)
    printable(sheet, title, None, landscape=True)


def single_sheet(sheet: Worksheet, section: Section, columns: Sequence[float]) -> None:
    """One table that scrolls under its headings, and can be filtered."""
    put(sheet, 1, 1, section.title, style="title")
    sheet.row_dimensions[1].height = 26
    put(sheet, 2, 1, section.note, style="note")
    end = table(sheet, 4, section.heads, section.rows, [NUMBER[f] for f in section.formats])
    sheet.freeze_panes = "B5"
    if section.rows:
        sheet.auto_filter.ref = f"A4:{get_column_letter(len(section.heads))}{end - 1}"
    widths(sheet, columns)
    printable(sheet, section.title, 4, landscape=True)


def section_at(sheet: Worksheet, row: int, section: Section, columns: int) -> int:
    """One table with heading and note at `row`; returns the first free row after it."""
    put(sheet, row, 1, section.title, style="section")
    row += 1
    if section.note:
        note_at(sheet, row, section.note, columns)
        row += 1
    return table(sheet, row, section.heads, section.rows, [NUMBER[f] for f in section.formats])


def note_at(sheet: Worksheet, row: int, text: str, columns: int, left: int = 1) -> None:
    """A note over several columns, up to column `columns`."""
    put(sheet, row, left, text, style="note wrapped")
    sheet.merge_cells(start_row=row, start_column=left, end_row=row, end_column=columns)
