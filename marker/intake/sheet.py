"""A worksheet of responses (.xlsx), one row per candidate.

Values come from calamine, which is fast and computes nothing. Where a cell may not hold what was typed (a number with a
format, a formula, an error), the cell's own text is fetched once with openpyxl.
"""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta
from typing import Any
from zipfile import BadZipFile, ZipFile

from marker.errors import Problem, ResponsesError
from marker.intake.delimited import empty
from marker.intake.headers import score
from marker.intake.model import Cell, Row, Table
from marker.intake.typed import clean, one_line, value_text

_HEADING_ROWS = 10
_ERRORS = frozenset({"#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A"})
_MOST_DECIMALS = 15

Place = tuple[int, int]
"""(row, column), both from 0"""


def read_sheet(data: bytes, file: str, parts: Sequence[str]) -> Table:
    """The sheet and heading row in which most headings are recognised, as a table of text.

    Raises ResponsesError when the file is no workbook, is locked by a password, or has nothing in any sheet.
    """
    from python_calamine import CalamineError, CalamineWorkbook, PasswordError

    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        sheets = [(name, book.get_sheet_by_name(name).to_python(skip_empty_area=False)) for name in book.sheet_names]
    except PasswordError:
        raise ResponsesError(_locked(file)) from None
    except CalamineError as error:
        raise ResponsesError(_no_workbook(file, str(error))) from None
    filled = [(name, rows) for name, rows in sheets if any(_filled(r) for r in rows)]
    if not filled:
        raise ResponsesError(empty(f'{file}, sheet "{sheets[0][0]}"' if len(sheets) == 1 else file))
    name, rows = max(filled, key=lambda s: max(_scores(s[1], parts)))
    scores = _scores(rows, parts)
    top = scores.index(max(scores))
    others = [n for n, _ in filled if n != name]
    notes = (f'{file}: only the sheet "{name}" was read, not {", ".join(others)}.',) if others else ()
    header = _header(rows[top])
    own = _typed_cells(data, name) if _worth_a_look(data, rows) else {}
    body = tuple(Row(i + 1, _cells(rows[i], i, own)) for i in range(top + 1, len(rows)))
    return Table(file=file, sheet=name, header=header, header_row=top + 1, rows=body, notes=notes)


def _scores(rows: Sequence[Sequence[Any]], parts: Sequence[str]) -> list[tuple[int, int]]:
    """For each of the first rows: (headings recognised, 1 if anything is in it)."""
    return [(score(_header(row), parts), int(_filled(row))) for row in rows[:_HEADING_ROWS]]


def _header(row: Sequence[Any]) -> tuple[str, ...]:
    header = tuple(one_line(value_text(v)) for v in row)
    while header and not header[-1]:
        header = header[:-1]
    return header


def _filled(row: Sequence[Any]) -> bool:
    return any(v not in ("", None) for v in row)


def _cells(row: Sequence[Any], number: int, own: Mapping[Place, tuple[Any, str]]) -> tuple[Cell, ...]:
    return tuple(_cell(value, own.get((number, column))) for column, value in enumerate(row))


def _cell(value: Any, own: tuple[Any, str] | None) -> Cell:
    """One cell as typed. `own` is (formula or raw value, number format) where the file was looked into."""
    if own is not None and isinstance(own[0], str):
        if own[0].startswith("="):
            return _formula(own[0], value)
        if own[0] in _ERRORS:
            return Cell(own[0], f"a spreadsheet error ({own[0]}) in the cell")
    if isinstance(value, datetime | date | time | timedelta):
        return Cell(value_text(value), f"a date or time ({value_text(value)}), which a spreadsheet makes of typing such as 1/2")
    if isinstance(value, int | float) and not isinstance(value, bool):
        return Cell(_as_shown(value, own[1] if own else "General"), number=True)
    return Cell(clean(value_text(value)))


def _formula(formula: str, value: Any) -> Cell:
    """A formula made by typing "=" first: the text typed, and the value the cell showed. One that fetches text gives the text."""
    shown = value_text(value)
    if isinstance(value, str) and value and value not in _ERRORS:
        return Cell(clean(value))
    if shown in ("", *_ERRORS):
        return Cell(clean(formula), f"a formula without a value ({formula[:60]})")
    return Cell(clean(f"{formula}\n{shown}"))


def _as_shown(value: float, code: str) -> str:
    """A number with the decimals or the percentage sign its format shows: 0.12 under 0% is 12%, 5.0 under 0.00 is 5.00."""
    main = code.split(";")[0]
    if main.strip() in ("", "General", "@") or any(c in main for c in '"[]#?,/'):
        percent = main.strip().endswith("%")
        return value_text(value * 100) + "%" if percent else value_text(value)
    body = main.strip()
    percent = body.endswith("%")
    body = body.rstrip("%")
    number = value * 100 if percent else value
    zeros = body.partition(".")[2]
    text = value_text(round(number, 10) if percent else number)
    if not body.replace(".", "").strip("0") and len(zeros) <= _MOST_DECIMALS and "E" not in text:
        typed = len(text.partition(".")[2])
        text = f"{number:.{max(len(zeros), typed)}f}"
    return text + "%" if percent else text


def _worth_a_look(data: bytes, rows: Sequence[Sequence[Any]]) -> bool:
    """True when a cell is a number, or when the package holds a formula or an error; False for other workbook formats."""
    try:
        with ZipFile(io.BytesIO(data)) as package:
            names = [n for n in package.namelist() if n.startswith("xl/worksheets/") and n.endswith(".xml")]
            parts = (package.read(n) for n in names)
            marked = any(b"<f" in part or b't="e"' in part for part in parts)
    except BadZipFile:
        return False
    return bool(names) and (marked or any(isinstance(v, int | float) for row in rows for v in row))


def _typed_cells(data: bytes, sheet: str) -> dict[Place, tuple[Any, str]]:
    """(row, column) -> (formula or value, number format) of every cell that is not plain text."""
    from openpyxl import load_workbook

    try:
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=False)
        cells: dict[Place, tuple[Any, str]] = {}
        for row in book[sheet].iter_rows():
            for cell in row:
                if cell.value is not None and cell.data_type != "s":
                    cells[cell.row - 1, cell.column - 1] = (cell.value, cell.number_format)
    except (KeyError, ValueError, TypeError, AttributeError):
        return {}
    return cells


def _locked(file: str) -> Problem:
    return Problem(where=file, seen="a workbook locked by a password", mend="Save a copy without the password.")


def _no_workbook(file: str, why: str) -> Problem:
    return Problem(
        where=file,
        seen=f"not a workbook that can be read ({one_line(why)[:120]})",
        expected=".xlsx",
        mend="Open it in a spreadsheet program and save it as .xlsx or as CSV UTF-8.",
    )
