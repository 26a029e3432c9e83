"""The item analysis as a workbook with native charts, and as a page."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from pathlib import Path

from openpyxl import Workbook

from marker.moderation.chartdata import Bars, Chart
from marker.moderation.items import Boundary, ItemAnalysis
from marker.moderation.items_sections import item_sections
from marker.moderation.native_charts import bar_chart, scatter
from marker.moderation.report_page import charts_html, document, section_html
from marker.moderation.report_workbook import single_sheet
from marker.moderation.sheetwork import printable, put, widths
from marker.moderation.svg import bars as svg_bars
from marker.moderation.svg import scatter as svg_scatter
from marker.reporting.atomic import replacing, write_text
from marker.reporting.workbook.pen import cell_text

WIDTHS = {
    "Paper": [32, 12, 90],
    "Parts": [10, 11, 9, 9, 10, 15, 14, 14, 13, 70],
    "Marking points": [10, 24, 11, 9, 9, 9, 14, 13, 70],
    "Wrong answers that came up": [10, 30, 11, 9, 11, 60],
    "Grade boundaries, what if": [10, 12, 12, 13, 10, 16],
    "Totals": [9, 12, 12, 9],
}


def facility_bars(found: ItemAnalysis) -> Bars:
    return Bars(
        title="Facility by part",
        names=tuple(i.part for i in found.parts),
        values=tuple(i.facility for i in found.parts),
        intervals=(),
    )


def worth_chart(found: ItemAnalysis) -> Chart:
    """Discrimination against facility, one dot for each part."""
    points = tuple((i.facility, i.discrimination, 1) for i in found.parts if i.discrimination == i.discrimination)
    low = min([0.0, *(y for _, y, _ in points)])
    return Chart(
        title="Discrimination against facility",
        x="facility",
        y="discrimination",
        points=points,
        lines=(("good from 0.3", (0.0, 0.3), (1.0, 0.3)),),
        x_range=(0.0, 1.0),
        y_range=(low, 1.0),
        of="parts",
    )


def write_items(path: Path, title: str, found: ItemAnalysis, what_if: Sequence[Boundary] = ()) -> None:
    """Write the workbook, one sheet for each table. An existing file is replaced once the new one is complete. Raises OutputError."""
    book = Workbook()
    book.properties.title = f"Items: {cell_text(title)}"[:200]
    book.remove(book.worksheets[0])
    for section in item_sections(found, what_if):
        single_sheet(book.create_sheet(section.title), section, WIDTHS[section.title])
    if found.parts:
        _charts(book, found)
    book.properties.creator = "marker"
    with replacing(path) as temporary:
        book.save(temporary)


def _charts(book: Workbook, found: ItemAnalysis) -> None:
    sheet, data = book.create_sheet("Charts"), book.create_sheet("Chart data")
    put(sheet, 1, 1, "Charts", style="title")
    put(data, 1, 1, "What the charts are drawn from", style="title")
    sheet.add_chart(bar_chart(data, "Facility by part", facility_bars(found), 1, percent=False), "A3")
    sheet.add_chart(scatter(data, worth_chart(found), 5), "J3")
    widths(data, [14.0] * 10)
    printable(sheet, "Charts", None, landscape=True)
    printable(data, "Chart data", None, landscape=True)


def items_page(title: str, found: ItemAnalysis, what_if: Sequence[Boundary] = ()) -> str:
    """The item analysis as one self-contained page."""
    drawn = [("Facility by part", svg_bars(facility_bars(found))), ("Discrimination against facility", svg_scatter(worth_chart(found)))]
    parts = [f"<h1>Items: {escape(title)}</h1>", *(section_html(s) for s in item_sections(found, what_if))]
    if found.parts:
        parts.insert(1, charts_html(drawn))
    return document(f"Items: {title}", parts)


def write_items_page(path: Path, title: str, found: ItemAnalysis, what_if: Sequence[Boundary] = ()) -> None:
    write_text(path, items_page(title, found, what_if))
