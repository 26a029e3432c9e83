"""Small pieces for the sheets this room writes, in the look of the marks workbook: no meaning by colour alone."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from marker.reporting.workbook.pen import LINE_HEIGHT, TALLEST_ROW, cell_text, for_print, lines_needed
from marker.reporting.workbook.styles import ACCENT, FONT, HEAD_FILL, INK, INPUT_FILL, QUIET, RULE, STRONG_RULE

EDGE, FIRM = Side(style="thin", color=RULE), Side(style="medium", color=STRONG_RULE)
FORMULA_SIGNS = ("=", "+", "-", "@")


def put(sheet: Worksheet, row: int, column: int, value: object, *, style: str = "", number: str = "") -> Any:
    """Write one cell. Text is never a formula; nan is an empty cell.

    Styles: title, section, note, note wrapped, head, head centred, strong, wrap, centred, entry, entry text, plain (no rule).
    """
    cell: Any = sheet.cell(row=row, column=column)
    if isinstance(value, str):
        cell.value = cell_text(value)
        cell.data_type = "s"
    elif isinstance(value, float) and not math.isfinite(value):
        cell.value = None
    else:
        cell.value = value
    _style(cell, style)
    if number:
        cell.number_format = number
    return cell


def formula(sheet: Worksheet, row: int, column: int, text: str, *, style: str = "", number: str = "") -> Any:
    """Write a formula of our own; never anybody's typed text."""
    cell = sheet.cell(row=row, column=column, value=text)
    _style(cell, style)
    if number:
        cell.number_format = number
    return cell


def _style(cell: Any, style: str) -> None:
    cell.font = _FONTS.get(style, _FONTS[""])
    cell.alignment = Alignment(
        horizontal="center" if "centred" in style or style == "entry" else None,
        vertical="center" if style.startswith(("title", "head")) else "top",
        wrap_text=style.startswith(("wrap", "head", "entry text", "note wrapped")),
    )
    if isinstance(cell.value, str) and cell.data_type == "s" and cell.value.startswith(FORMULA_SIGNS):
        cell.quotePrefix = True
    if style.startswith("head"):
        cell.fill = PatternFill("solid", fgColor=HEAD_FILL)
        cell.border = Border(bottom=FIRM)
    elif style.startswith("entry"):
        cell.fill = PatternFill("solid", fgColor=INPUT_FILL)
        cell.border = Border(bottom=EDGE, left=EDGE, right=EDGE, top=EDGE)
        cell.protection = Protection(locked=False)
    elif style in ("", "wrap", "strong", "centred"):
        cell.border = Border(bottom=EDGE)


_FONTS = {
    "": Font(name=FONT, size=10, color=INK),
    "title": Font(name=FONT, size=16, bold=True, color=ACCENT),
    "section": Font(name=FONT, size=12, bold=True, color=ACCENT),
    "note": Font(name=FONT, size=10, color=QUIET),
    "note wrapped": Font(name=FONT, size=10, color=QUIET),
    "strong": Font(name=FONT, size=10, bold=True, color=INK),
    "head": Font(name=FONT, size=10, bold=True, color=INK),
    "head centred": Font(name=FONT, size=10, bold=True, color=INK),
}


def widths(sheet: Worksheet, columns: Sequence[float]) -> None:
    for i, width in enumerate(columns, start=1):
        sheet.column_dimensions[get_column_letter(i)].width = width


def table(
    sheet: Worksheet, row: int, heads: Sequence[str], rows: Iterable[Sequence[object]], formats: Sequence[str] = (), left: int = 1
) -> int:
    """A table with its headings at `row`; returns the first free row after it. `formats` are number formats by column ("" general)."""
    body = [tuple(values) for values in rows]
    middle = [all(_short(values[j]) and (j > 0 or not isinstance(values[j], str)) for values in body) for j in range(len(heads))]
    for j, head in enumerate(heads):
        put(sheet, row, left + j, head, style="head centred" if middle[j] else "head")
    for values in body:
        row += 1
        for j, value in enumerate(values):
            number = formats[j] if j < len(formats) and not isinstance(value, str) else ""
            put(sheet, row, left + j, value, style="centred" if middle[j] else "wrap", number=number)
    return row + 1


def _short(value: object) -> bool:
    """A figure, an interval or a dash: what stands in the middle of its column."""
    return not isinstance(value, str) or len(value) < 3 or (len(value) < 20 and value[0] in "0123456789+−–")


def printable(sheet: Worksheet, title: str, heading_row: int | None = None, landscape: bool = False) -> None:
    """Last thing on a sheet: rows high enough for their texts; prints on A4, one page wide, the heading row repeated; no grid."""
    merged = {(r.min_row, r.min_col): r for r in sheet.merged_cells.ranges}
    for number, row in enumerate(sheet.iter_rows(), start=1):
        lines = max((_lines(sheet, cell, merged) for cell in row), default=1)
        if lines > 1:
            sheet.row_dimensions[number].height = min(TALLEST_ROW, LINE_HEIGHT * lines + 4)
    for_print(sheet, title, heading_row, landscape)


def _lines(sheet: Worksheet, cell: Any, merged: Mapping[tuple[int, int], Any]) -> int:
    """Lines a wrapped text takes in its column, or in the columns it is merged over."""
    if not isinstance(cell.value, str) or not cell.alignment.wrap_text or cell.data_type == "f":
        return 1
    area = merged.get((cell.row, cell.column))
    columns = range(cell.column, (area.max_col if area is not None else cell.column) + 1)
    return lines_needed(cell.value, sum(sheet.column_dimensions[get_column_letter(c)].width for c in columns))


def sheet_title(wanted: str, taken: Iterable[str]) -> str:
    """A sheet name that spreadsheet programs accept and that is not taken: at most 31 signs, none of []:*?/\\, no quote at an end."""
    name = re.sub(r"[\[\]:*?/\\\x00-\x1f]", "-", wanted).strip(" '")[:28] or "Part"
    used = {t.casefold() for t in taken}
    number, found = 2, name
    while found.casefold() in used:
        found, number = f"{name} {number}", number + 1
    return found
