"""A scheme written as a workbook: the sheets Scheme, Parts and Columns."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from marker.kinds import KINDS
from marker.reporting.atomic import replacing
from marker.scheme.calculation import PointSpec
from marker.scheme.toml_writer import value
from marker.scheme.worksheet.columns import COLUMNS, FURTHER, FURTHER_MEANING, HEADS, ROWS
from marker.scheme.worksheet.rows import rows_of

SCHEME, PARTS, ABOUT = "Scheme", "Parts", "Columns"
SPARE_ROWS = 200
_RULING, _DATUM = "ruling ", "datum "
_INK, _QUIET, _ACCENT, _FILL, _LINE = "22303A", "5E6B74", "1D5C63", "E4ECEC", "C9D1D4"


def write_worksheet(scheme: Mapping[str, Any], path: Path) -> None:
    """Writes a scheme (as a parsed TOML table) as a workbook. Raises OutputError when it cannot be written."""
    from openpyxl import Workbook

    book = Workbook()
    _scheme_sheet(book.active, scheme.get("paper", {}))
    _parts_sheet(book.create_sheet(PARTS), scheme)
    _about_sheet(book.create_sheet(ABOUT))
    with replacing(path) as temporary, temporary.open("wb") as file:
        book.save(file)


def paper_rows(paper: Mapping[str, Any]) -> list[tuple[str, str]]:
    """The [paper] table as rows of name and value: a ruling or a datum has a row of its own."""
    out: list[tuple[str, str]] = []
    for key, v in paper.items():
        if key == "rulings" and isinstance(v, Mapping) and v:
            out += [(_RULING + k, value(x)) for k, x in v.items()]
        elif key == "data" and isinstance(v, Mapping) and v:
            out += [(_DATUM + k, x if isinstance(x, str) else value(x)) for k, x in v.items()]
        else:
            out.append((key, v if isinstance(v, str) else value(v)))
    return out


def _scheme_sheet(sheet: Any, paper: Mapping[str, Any]) -> None:
    sheet.title = SCHEME
    _head(sheet, 1, ("Key", "Value", "Meaning"))
    rows = paper_rows(paper)
    for number, (key, v) in enumerate(rows, 2):
        _put(sheet, number, 1, key)
        _put(sheet, number, 2, v)
        _put(sheet, number, 3, _meaning(key), quiet=True)
    for column, width in zip("ABC", (30, 60, 70), strict=True):
        sheet.column_dimensions[column].width = width
    place = next((n for n, (key, _) in enumerate(rows, 2) if key == "convention"), None)
    if place is not None:
        _choices(sheet, f"B{place}", ready_conventions(), strict=False)
    sheet.freeze_panes = "A2"


def _meaning(key: str) -> str:
    if key.startswith(_RULING):
        return "A ruling of the convention replaced for this paper, written as in a scheme file."
    if key.startswith(_DATUM):
        return "A constant of the data sheet; a list when several values are accepted, the first of which answers are worked out with."
    return {"title": "What the class test is called.", "convention": "A ready convention, or a file beside the scheme."}.get(key, "")


def ready_conventions() -> list[str]:
    """Names of the conventions that come with the package."""
    import tomllib

    from marker.resources import rubrics

    folder = rubrics() / "conventions"
    files = sorted((f for f in folder.iterdir() if f.name.endswith(".toml")), key=lambda f: f.name) if folder.is_dir() else []
    return [str(tomllib.loads(f.read_text(encoding="utf-8")).get("name", f.name)) for f in files]


def _parts_sheet(sheet: Any, scheme: Mapping[str, Any]) -> None:
    _head(sheet, 1, HEADS)
    number = 1
    for number, row in enumerate(rows_of(scheme), 2):
        _put(sheet, number, 1, row.part)
        _put(sheet, number, 2, row.row)
        for place, column in enumerate(COLUMNS, 3):
            if column.title in row.cells:
                _put(sheet, number, place, row.cells[column.title])
        if row.further:
            _put(sheet, number, len(HEADS), row.further)
        if row.row == "part":
            _rule_above(sheet, number)
    widths = (8, 14, *(c.width for c in COLUMNS), 40)
    for place, width in enumerate(widths, 1):
        sheet.column_dimensions[_letter(place)].width = width
    _drop_downs(sheet, number + SPARE_ROWS)
    sheet.freeze_panes = "C2"


def _drop_downs(sheet: Any, last: int) -> None:
    point_kinds = list(PointSpec.model_fields["kind"].annotation.__args__)  # type: ignore[union-attr]
    lists = {"Row": list(ROWS), "Kind": [*KINDS, *point_kinds], "Type": ["M", "A", "B", "C"], "Either sign": ["yes", "no"]}
    for title, choices in lists.items():
        letter = _letter(HEADS.index(title) + 1)
        _choices(sheet, f"{letter}2:{letter}{last}", choices, strict=title != "Kind")


def _choices(sheet: Any, cells: str, choices: Sequence[str], *, strict: bool) -> None:
    """A drop-down list. Excel takes at most 255 characters of it."""
    from openpyxl.worksheet.datavalidation import DataValidation

    text = ",".join(choices)
    if not choices or len(text) > 250:
        return
    found = DataValidation(type="list", formula1=f'"{text}"', allow_blank=True, showErrorMessage=strict)
    found.errorTitle, found.error = "Not in the list", "Choose one of the list."
    sheet.add_data_validation(found)
    found.add(cells)


def _about_sheet(sheet: Any) -> None:
    sheet.title = ABOUT
    _head(sheet, 1, ("Column", "Rows", "Meaning", "Example"))
    rows = [
        ("Part", "all", "Name of the part the row belongs to. Rows follow their part.", "2b"),
        ("Row", "all", "What the row is. A point below a step or a route belongs to that step or route.", "part"),
        *((c.title, ", ".join(c.rows), c.meaning, c.example) for c in COLUMNS),
        (FURTHER, "all", FURTHER_MEANING, "needs = 1"),
    ]
    for number, row in enumerate(rows, 2):
        for place, text in enumerate(row, 1):
            _put(sheet, number, place, text)
    for column, width in zip("ABCD", (14, 26, 80, 34), strict=True):
        sheet.column_dimensions[column].width = width
    sheet.freeze_panes = "A2"


# --- cells ------------------------------------------------------------------------------------------


def _head(sheet: Any, row: int, titles: Sequence[str]) -> None:
    from openpyxl.styles import Alignment, Border, Font, PatternFill, Side

    for place, title in enumerate(titles, 1):
        cell = sheet.cell(row, place, title)
        cell.font = Font(name="Arial", size=10, bold=True, color=_ACCENT)
        cell.fill = PatternFill("solid", fgColor=_FILL)
        cell.border = Border(bottom=Side(style="medium", color=_ACCENT))
        cell.alignment = Alignment(vertical="center", wrap_text=True)
    sheet.row_dimensions[row].height = 24


def _put(sheet: Any, row: int, column: int, v: str | int | float, *, quiet: bool = False) -> None:
    """A cell; text is never a formula, whatever it begins with."""
    from openpyxl.styles import Alignment, Font

    cell = sheet.cell(row, column)
    if isinstance(v, str):
        cell.value = _printable(v)
        cell.data_type = "s"
        cell.number_format = "@"
        cell.quotePrefix = v[:1] in "=+-@"
    else:
        cell.value = v
    cell.font = Font(name="Arial", size=10, color=_QUIET if quiet else _INK)
    cell.alignment = Alignment(vertical="top", wrap_text=True)


def _printable(text: str) -> str:
    """Characters a workbook cannot hold are left out."""
    return "".join(c for c in text if c in "\n\t" or c >= " ")


def _rule_above(sheet: Any, row: int) -> None:
    from openpyxl.styles import Border, Side

    for place in range(1, len(HEADS) + 1):
        sheet.cell(row, place).border = Border(top=Side(style="thin", color=_LINE))


def _letter(place: int) -> str:
    from openpyxl.utils import get_column_letter

    return str(get_column_letter(place))
