"""The charts as the spreadsheet program's own, drawn from a sheet of chart data, so that they can be changed and copied."""

from __future__ import annotations

from typing import Any

from openpyxl import Workbook
from openpyxl.chart import BarChart, Reference, ScatterChart, Series
from openpyxl.chart.label import DataLabelList
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.text import CharacterProperties, Paragraph, ParagraphProperties
from openpyxl.worksheet.worksheet import Worksheet

from marker.moderation.chartdata import Bars, Chart, difference_chart, mark_chart, part_bars
from marker.moderation.compare import Comparison
from marker.moderation.sheetwork import printable, put, widths
from marker.moderation.svg import ticks
from marker.reporting.workbook.styles import ACCENT, INK, QUIET, RULE

DASHES = {"lower limit": "dash", "upper limit": "dash"}


def chart_sheet(book: Workbook, comparison: Comparison) -> None:
    """A sheet "Charts" with the three charts, and a sheet "Chart data" behind them."""
    sheet, data = book.create_sheet("Charts"), book.create_sheet("Chart data")
    put(sheet, 1, 1, "Charts", style="title")
    sheet.row_dimensions[1].height = 26
    put(data, 1, 1, "What the charts are drawn from", style="title")
    first, second, third = difference_chart(comparison), mark_chart(comparison), part_bars(comparison)
    sheet.add_chart(scatter(data, first, 1), "A3")
    sheet.add_chart(scatter(data, second, 8), "J3")
    sheet.add_chart(bar_chart(data, third.title, third, 15), "A25")
    widths(data, [14.0] * 18)
    printable(sheet, "Charts", None, landscape=True)
    printable(data, "Chart data", None, landscape=True)


def scatter(data: Worksheet, chart: Chart, left: int) -> Any:
    """A native scatter chart of the points, and a line for each line, its numbers written to `data` from column `left`."""
    put(data, 3, left, chart.title, style="section")
    for j, head in enumerate((chart.x, chart.y, "line", "x", "y")):
        put(data, 4, left + j, head, style="head")
    for i, (x, y, _) in enumerate(chart.points, start=5):
        put(data, i, left, x)
        put(data, i, left + 1, y)
    found: Any = ScatterChart(scatterStyle="lineMarker", style=None)
    found.title, found.x_axis.title, found.y_axis.title = chart.title, chart.x, chart.y
    last = 4 + max(1, len(chart.points))
    found.series.append(_dots(data, left, last, chart.of))
    for i, (name, start, end) in enumerate(chart.lines):
        row = 5 + 2 * i
        for k, (x, y) in enumerate((start, end)):
            put(data, row + k, left + 2, name)
            put(data, row + k, left + 3, x)
            put(data, row + k, left + 4, y)
        found.series.append(_line(data, left, row, name))
    _axes(found, chart.x_range, chart.y_range)
    small_title(found)
    found.legend.position = "b"
    found.width, found.height = 16, 10.5
    return found


def _dots(data: Worksheet, left: int, last: int, of: str) -> Any:
    series: Any = Series(
        Reference(data, min_col=left + 1, min_row=5, max_row=last), Reference(data, min_col=left, min_row=5, max_row=last), title=of
    )
    series.marker.symbol, series.marker.size = "circle", 7
    series.marker.graphicalProperties = GraphicalProperties(solidFill=ACCENT)
    series.marker.graphicalProperties.line.solidFill = "FFFFFF"
    series.graphicalProperties = GraphicalProperties()
    series.graphicalProperties.line.noFill = True
    return series


def _line(data: Worksheet, left: int, row: int, name: str) -> Any:
    series: Any = Series(
        Reference(data, min_col=left + 4, min_row=row, max_row=row + 1),
        Reference(data, min_col=left + 3, min_row=row, max_row=row + 1),
        title=name,
    )
    dash: Any = next((d for start, d in DASHES.items() if name.startswith(start)), "solid")
    series.graphicalProperties = GraphicalProperties(ln=LineProperties(solidFill=INK, w=15875, prstDash=dash))
    series.marker.symbol = "none"
    series.smooth = False
    return series


def _axes(chart: Any, x_range: tuple[float, float], y_range: tuple[float, float]) -> None:
    for axis, (low, high) in ((chart.x_axis, x_range), (chart.y_axis, y_range)):
        marks = ticks(low, high)
        step = marks[1] - marks[0] if len(marks) > 1 else 1.0
        axis.delete = False
        axis.majorUnit = step
        axis.scaling.min = marks[0] if marks[0] <= low else marks[0] - step
        axis.scaling.max = marks[-1] if marks[-1] >= high else marks[-1] + step
        axis.number_format, axis.majorTickMark = "General", "out"
        axis.tickLblPos = "low"
        quiet(axis)
    chart.x_axis.majorGridlines = None
    chart.x_axis.crosses = "min"
    chart.y_axis.crosses = "min"


def small_title(chart: Any) -> None:
    """Titles of chart and axes in the size of a heading, not of a poster."""
    for title, size in ((chart.title, 1200), (chart.x_axis.title, 900), (chart.y_axis.title, 900)):
        if title is not None:
            properties = CharacterProperties(sz=size, b=size > 1000, solidFill=INK)
            for paragraph in title.tx.rich.p:
                paragraph.pPr = ParagraphProperties(defRPr=properties)
                for run in paragraph.r or ():
                    run.rPr = properties


def quiet(axis: Any) -> None:
    """Thin grid lines and quiet labels."""
    grid = getattr(axis, "majorGridlines", None)
    if grid is not None:
        grid.spPr = GraphicalProperties(ln=LineProperties(solidFill=RULE, w=6350))
    text = CharacterProperties(sz=900, solidFill=QUIET)
    axis.txPr = RichText(p=[Paragraph(pPr=ParagraphProperties(defRPr=text), endParaRPr=text)])


def bar_chart(data: Worksheet, title: str, bars: Bars, left: int, percent: bool = True) -> Any:
    """Horizontal bars with their values as labels."""
    put(data, 3, left, title, style="section")
    put(data, 4, left, "part", style="head")
    put(data, 4, left + 1, title, style="head")
    for i, (name, value) in enumerate(zip(bars.names, bars.values, strict=True), start=5):
        put(data, i, left, name)
        put(data, i, left + 1, value, number="0%" if percent else "0.00")
    last = 4 + max(1, len(bars.names))
    found: Any = BarChart()
    found.type, found.gapWidth, found.title = "bar", 60, title
    found.add_data(Reference(data, min_col=left + 1, min_row=4, max_row=last), titles_from_data=True)
    found.set_categories(Reference(data, min_col=left, min_row=5, max_row=last))
    found.series[0].graphicalProperties = GraphicalProperties(solidFill=ACCENT)
    found.dataLabels = DataLabelList()
    found.dataLabels.showVal = True
    found.dataLabels.showSerName = found.dataLabels.showCatName = found.dataLabels.showLegendKey = False
    found.legend = None
    found.x_axis.delete = found.y_axis.delete = False
    found.x_axis.scaling.orientation = "maxMin"
    found.y_axis.scaling.min, found.y_axis.scaling.max = 0.0, 1.0
    found.y_axis.number_format = "0%" if percent else "0.0"
    found.y_axis.majorUnit = 0.2
    quiet(found.x_axis)
    quiet(found.y_axis)
    small_title(found)
    found.width, found.height = 16, max(6.0, 2.5 + 0.62 * len(bars.names))
    return found
