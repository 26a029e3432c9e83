"""A sheet or CSV file as rows of cells, each of which knows its own name for a message."""

from __future__ import annotations

import csv
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from openpyxl.utils import get_column_letter
from openpyxl.utils.exceptions import InvalidFileException

from marker.intake.encoding import decode
from marker.moderation.model import refuse_one

MOST_ROWS = 200_000
Value = str | float | int | bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """value  None when empty;  where  "marks.xlsx, sheet Marks, cell C5";  formula  True for a formula (`value` is then as last saved)."""

    value: Value
    where: str
    formula: bool = False

    @property
    def unsaved(self) -> bool:
        """A formula whose value was not saved."""
        return self.formula and self.value is None

    @property
    def text(self) -> str:
        """The cell as a name: 14.0 as "14", spaces at the ends dropped."""
        if self.value is None:
            return ""
        if isinstance(self.value, float) and self.value.is_integer():
            return str(int(self.value))
        return str(self.value).strip()

    @property
    def empty(self) -> bool:
        return self.text == "" and not self.unsaved


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Rows of one sheet or file, ragged rows allowed. `name` is the file (and sheet) for messages."""

    name: str
    rows: tuple[tuple[Cell, ...], ...]

    def header(self, wanted: Sequence[str]) -> tuple[int, dict[str, int]] | None:
        """(row index, heading in lower case -> column index) of the first row that has all wanted headings, among the first sixty."""
        for i, row in enumerate(self.rows[:60]):
            found: dict[str, int] = {}
            for j, cell in enumerate(row):
                if cell.text:
                    found.setdefault(cell.text.casefold(), j)
            if all(w in found for w in wanted):
                return i, found
        return None

    def cell(self, row: int, column: int) -> Cell:
        cells = self.rows[row]
        return cells[column] if column < len(cells) else Cell(value=None, where=f"{self.name}, row {row + 1}, column {column + 1}")


def read_csv(path: Path) -> Grid:
    try:
        text, _ = decode(path.read_bytes(), path.name)
    except OSError as error:
        refuse_one(path.name, "the file cannot be read", mend=f"Check the name ({error.strerror}).")
    delimiter = max(",;\t", key=text[:4096].split("\n", 1)[0].count)
    rows = []
    for i, row in enumerate(csv.reader(text.splitlines(keepends=True), delimiter=delimiter), start=1):
        if i > MOST_ROWS:
            refuse_one(path.name, f"more than {MOST_ROWS} rows")
        rows.append(
            tuple(Cell(value=v if v.strip() else None, where=f"{path.name}, row {i}, column {j}") for j, v in enumerate(row, start=1))
        )
    return Grid(name=path.name, rows=tuple(rows))


def sheets(path: Path) -> dict[str, Grid]:
    """Every sheet of a workbook, hidden ones too, with the saved values of formulas. Raises WorkbookError when it is not a workbook."""
    try:
        values = load_workbook(path, data_only=True)
        formulas = load_workbook(path, data_only=False)
    except OSError as error:
        refuse_one(path.name, "the file cannot be read", mend=f"Check the name ({error.strerror or error}).")
    except (InvalidFileException, zipfile.BadZipFile, KeyError, ValueError):
        refuse_one(path.name, "not a workbook that can be read", expected="an .xlsx file", mend="Save it as .xlsx.")
    found = {}
    for sheet in values.worksheets:
        name = f"{path.name}, sheet {sheet.title}"
        found[sheet.title] = Grid(name=name, rows=tuple(_rows(name, sheet, formulas[sheet.title])))
    return found


def _rows(name: str, values: Any, formulas: Any) -> Iterator[tuple[Cell, ...]]:
    for i, (row, typed) in enumerate(zip(values.iter_rows(), formulas.iter_rows(), strict=False), start=1):
        if i > MOST_ROWS:
            refuse_one(name, f"more than {MOST_ROWS} rows")
        yield tuple(
            Cell(
                value=_value(cell.value),
                where=f"{name}, cell {get_column_letter(j)}{i}",
                formula=typed[j - 1].data_type == "f",
            )
            for j, cell in enumerate(row, start=1)
        )


def _value(value: object) -> Value:
    return value if value is None or isinstance(value, str | float | int | bool) else str(value)
