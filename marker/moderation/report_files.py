"""The files of a report: the workbook and the page."""

from __future__ import annotations

from pathlib import Path

from marker.moderation.report_page import page as report_page
from marker.moderation.report_workbook import write_report
from marker.moderation.sections import Report
from marker.reporting.atomic import write_text


def write_files(report: Report, workbook: Path | None, page: Path | None) -> list[Path]:
    """Write those that are wanted; returns them. Raises OutputError."""
    if workbook is not None:
        write_report(workbook, report)
    if page is not None:
        write_text(page, report_page(report))
    return [p for p in (workbook, page) if p is not None]
