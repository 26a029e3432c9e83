"""Small pieces for the sheets this room writes, in the look of the marks workbook: no meaning by colour alone."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from typing import Any

from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from marker.reporting.workbook.pen import cell_text, for_print
from marker.reporting.workbook.styles import ACCENT, FONT, HEAD_FILL, INK, INPUT_FILL, QUIET, RULE, STRONG_RULE

EDGE, FIRM = Side(style="thin", color=RULE), Side(style="medium", color=STRONG_RULE)
FORMULA_SIGNS = ("=", "+", "-", "@")


def put(sheet: Worksheet, row: int, column: int, value: object, *, style: str = "", number: str = "") -> Any:
    """Write one cell. Text is never a formula; nan is an empty cell.

    Styles: title, section, note, note wrapped, head, strong, wrap, entry, entry text, plain (no rule).
    """
    cell = sheet.cell(row=row, column=column)
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
        vertical="center" if style in ("title", "head") else "top", wrap_text=style in ("wrap", "head", "entry text")
    )
    if isinstance(cell.value, str) and cell.data_type == "s" and cell.value.startswith(FORMULA_SIGNS):
        cell.quotePrefix = True
    if style == "head":
        cell.fill = PatternFill("solid", fgColor=HEAD_FILL)
        cell.border = Border(bottom=FIRM)
    elif style in ("entry", "entry text"):
        cell.fill = PatternFill("solid", fgColor=INPUT_FILL)
        cell.border = Border(bottom=EDGE, left=EDGE, right=EDGE, top=EDGE)
        cell.protection = Protection(locked=False)
    elif style in ("", "wrap", "strong"):
        cell.border = Border(bottom=EDGE)


_FONTS = {
    "": Font(name=FONT, size=10, color=INK),
    "title": Font(name=FONT, size=16, bold=True, color=ACCENT),
    "section": Font(name=FONT, size=12, bold=True, color=ACCENT),
    "note": Font(name=FONT, size=10, color=QUIET),
    "note wrapped": Font(name=FONT, size=10, color=QUIET),
    "strong": Font(name=FONT, size=10, bold=True, color=INK),
    "head": Font(name=FONT, size=10, bold=True, color=INK),
}


def widths(sheet: Worksheet, columns: Sequence[float]) -> None:
    for i, width in enumerate(columns, start=1):
        sheet.column_dimensions[get_column_letter(i)].width = width


def table(
    sheet: Worksheet, row: int, heads: Sequence[str], rows: Iterable[Sequence[object]], formats: Sequence[str] = (), left: int = 1
) -> int:
    """A table with its headings at `row`; returns the first free row after it. `formats` are number formats by column ("" general)."""
    for j, head in enumerate(heads):
        put(sheet, row, left + j, head, style="head")
    for values in rows:
        row += 1
        for j, value in enumerate(values):
            style = "wrap" if isinstance(value, str) and len(value) > 12 else ""
            put(sheet, row, left + j, value, style=style, number=formats[j] if j < len(formats) and not isinstance(value, str) else "")
    return row + 1


def printable(sheet: Worksheet, title: str, heading_row: int | None = None, landscape: bool = False) -> None:
    """Prints on A4, one page wide, the heading row repeated; no grid on the screen."""
    for_print(sheet, title, heading_row, landscape)


def sheet_title(wanted: str, taken: Iterable[str]) -> str:
    """A sheet name that spreadsheet programs accept and that is not taken: at most 31 signs, none of []:*?/\\, no quote at an end."""
    name = re.sub(r"[\[\]:*?/\\\x00-\x1f]", "-", wanted).strip(" '")[:28] or "Part"
    used = {t.casefold() for t in taken}
    number, found = 2, name
    while found.casefold() in used:
        found, number = f"{name} {number}", number + 1
    return found
