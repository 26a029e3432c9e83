"""Putting text, numbers and formulas into cells: text is never a formula, a formula carries the value it has now."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

LONGEST_TEXT = 32_767
"""Characters (UTF-16 units) a cell may hold: ECMA-376 part 1, 18.3.1.4, and every spreadsheet program."""

LINE_HEIGHT = 12.75
TALLEST_ROW = 300.0
"""Points."""

_SHORT = 6
_ALLOWED_CONTROLS = (0x09, 0x0A)
_REMOVED = {c: None for c in range(0x20) if c not in _ALLOWED_CONTROLS}
_REMOVED |= {c: None for c in (*range(0x7F, 0xA0), *range(0xD800, 0xE000), 0xFFFE, 0xFFFF)}
_FORMULA_SIGNS = ("=", "+", "-", "@")

Value = str | float | bool | None
Cached = dict[tuple[str, str], Value]
"""(sheet title, cell) -> value the formula there has now"""


def plain_text(text: str) -> str:
    """Text without control characters and lone surrogates, line ends as line feeds: fit for XML, HTML and a cell."""
    if text.isascii() and text.isprintable():
        return text
    return text.replace("\r\n", "\n").replace("\r", "\n").translate(_REMOVED)


def cell_text(text: str) -> str:
    """Text a cell can hold: no control characters, line ends as line feeds, cut to the limit with a word on how much is missing."""
    text = plain_text(text)
    if len(text) * 2 <= LONGEST_TEXT or _units(text) <= LONGEST_TEXT:
        return text
    ending = f" … (cut here; {len(text):,} characters in all)"
    kept = text[: LONGEST_TEXT - len(ending)]
    while _units(kept) > LONGEST_TEXT - len(ending):
        kept = kept[: len(kept) - max(1, (_units(kept) - LONGEST_TEXT + len(ending)) // 2)]
    return kept + ending


def _units(text: str) -> int:
    return len(text) + sum(c > "\uffff" for c in text)


def quoted(text: str) -> str:
    """A text as it stands in a formula."""
    return '"' + cell_text(text).replace('"', '""') + '"'


def literal(text: str) -> str:
    """A text to be looked up by a formula, its wildcards taken as they are."""
    return quoted(text.replace("~", "~~").replace("*", "~*").replace("?", "~?"))


def lines_needed(text: str, width: float) -> int:
    """Lines a text takes in a column of this width (in characters of the body font, which letters mostly do not fill)."""
    room = max(width * 1.18 - 1, 4)
    return sum(max(1, -int(-len(piece) // room)) for piece in text.split("\n"))


class Pen:
    """Writes the cells of one sheet in the shared styles."""

    def __init__(self, sheet: Any, styles: Mapping[str, Any], cached: Cached) -> None:
        self.sheet = sheet
        self._styles = styles
        self._cached = cached
        self._wide: dict[int, float] = {}
        self._texts: dict[int, dict[int, str]] = {}

    def text(self, row: int, column: int, text: str, style: str = "plain") -> None:
        """A text cell, whatever the text begins with."""
        plain = cell_text(text)
        cell = self.sheet.cell(row, column)
        if plain:
            cell.value = plain
            cell.data_type = "s"
            if len(plain) > _SHORT or "\n" in plain:
                self._texts.setdefault(row, {})[column] = plain
        cell._style = self._styles[style + " quoted" if plain.startswith(_FORMULA_SIGNS) else style]

    def number(self, row: int, column: int, number: float | None, style: str = "cell centred") -> None:
        """A numeric cell; empty for None."""
        cell = self.sheet.cell(row, column)
        if number is not None:
            cell.value = int(number) if float(number).is_integer() else number
        cell._style = self._styles[style]

    def formula(self, row: int, column: int, formula: str, value: Value, style: str) -> None:
        """A formula of ours and its value now. Texts of candidates reach a formula only through `literal`."""
        cell = self.sheet.cell(row, column)
        cell.value = formula
        cell._style = self._styles[style]
        self._cached[self.sheet.title, cell.coordinate] = value

    def array_formula(self, row: int, column: int, formula: str, value: Value, style: str) -> None:
        """A formula computed over whole ranges."""
        from openpyxl.worksheet.formula import ArrayFormula

        cell = self.sheet.cell(row, column)
        cell.value = ArrayFormula(cell.coordinate, formula)
        cell._style = self._styles[style]
        self._cached[self.sheet.title, cell.coordinate] = value

    def row(self, row: int, values: Sequence[tuple[Value, str]], start: int = 1) -> None:
        """Cells side by side, each (value, style): text as text, numbers as numbers."""
        for column, (value, style) in enumerate(values, start=start):
            if isinstance(value, str):
                self.text(row, column, value, style)
            else:
                self.number(row, column, value, style)

    def widths(self, widths: Sequence[float]) -> None:
        from openpyxl.utils import get_column_letter

        self._wide = dict(enumerate(widths, start=1))
        for column, width in self._wide.items():
            self.sheet.column_dimensions[get_column_letter(column)].width = width

    def fit(self, row: int, least: float = LINE_HEIGHT + 4) -> None:
        """Make a row high enough for its wrapped texts, given the column widths set before. Programs differ in doing this by themselves."""
        height = least
        for column, cell in self._texts.pop(row, {}).items():
            height = max(height, LINE_HEIGHT * lines_needed(cell, self._wide.get(column, 8.0)) + 4)
        self.sheet.row_dimensions[row].height = min(height, TALLEST_ROW)

    def title(self, text: str, under: str = "") -> None:
        """Sheet title in the first row, a quiet line in the second."""
        self.text(1, 1, text, "title")
        self.text(2, 1, under, "subtitle")
        self.sheet.row_dimensions[1].height = 26
        self.sheet.row_dimensions[2].height = 16


def for_print(sheet: Any, title: str, header_row: int | None, landscape: bool = True) -> None:
    """A4, one page wide, heading row repeated, title and page number at the foot."""
    sheet.page_setup.orientation = "landscape" if landscape else "portrait"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_options.horizontalCentered = False
    for side, inches in (("left", 0.5), ("right", 0.5), ("top", 0.5), ("bottom", 0.65), ("footer", 0.3)):
        setattr(sheet.page_margins, side, inches)
    plain = cell_text(title).replace("\n", " ").replace("&", "&&")[:100]
    sheet.oddFooter.left.text = plain
    sheet.oddFooter.center.text = "&A"
    sheet.oddFooter.right.text = "Page &P of &N"
    for part in (sheet.oddFooter.left, sheet.oddFooter.center, sheet.oddFooter.right):
        part.size = 8
    if header_row is not None:
        sheet.print_title_rows = f"1:{header_row}" if header_row <= 2 else f"{header_row}:{header_row}"
    sheet.sheet_view.showGridLines = False
