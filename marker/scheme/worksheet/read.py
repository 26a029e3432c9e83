"""A scheme read from its worksheet form. Every refusal names the cell."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from marker.errors import Problem, SchemeError
from marker.scheme.worksheet.columns import BY_TITLE, FURTHER, HEADS, LIST_OF, PART, POINT, ROUTE, ROWS, STEP, NotInThisCell
from marker.scheme.worksheet.write import PARTS, SCHEME

MOST_ROWS, MOST_CELL = 5000, 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheets:
    """What was read: the scheme as a table like a parsed TOML file's, and where each key of each part stands.

    places  (part, key) -> cell; a key of a point is "points 2.of", of a step "step 1.find", of the paper ("", key)
    """

    scheme: dict[str, Any]
    places: Mapping[tuple[str, str], str]


def read_worksheet(path: Path) -> Sheets:
    """Reads a scheme workbook. Raises SchemeError listing every cell that could not be taken, and what to write there."""
    book = _open(path)
    problems: list[Problem] = []
    places: dict[tuple[str, str], str] = {}
    for name in (SCHEME, PARTS):
        if name not in book.sheetnames:
            raise SchemeError(Problem(where=str(path), seen=f"there is no sheet {name!r}", expected=f"the sheets {SCHEME!r} and {PARTS!r}"))
    paper = _paper(book[SCHEME], path, problems, places)
    parts = _parts(book[PARTS], path, problems, places)
    if problems:
        raise SchemeError(problems)
    return Sheets(scheme={"paper": paper, "part": parts}, places=places)


def _open(path: Path) -> Any:
    from zipfile import BadZipFile

    from openpyxl import load_workbook
    from openpyxl.utils.exceptions import InvalidFileException

    if not path.is_file():
        raise SchemeError(Problem(where=str(path), seen="there is no such file", mend="Check the name of the scheme."))
    try:
        return load_workbook(path, data_only=False)
    except (BadZipFile, InvalidFileException, KeyError, ValueError, OSError) as error:
        raise SchemeError(Problem(where=str(path), seen="it cannot be opened as a workbook", mend="Save it again as .xlsx.")) from error


# --- cells ------------------------------------------------------------------------------------------


def _cells(sheet: Any, path: Path, problems: list[Problem]) -> Iterator[tuple[int, dict[int, str]]]:
    """(row number, column number -> text) of every row that is not empty."""
    if sheet.max_row > MOST_ROWS:
        problems.append(Problem(where=f"{path}, sheet {sheet.title}", seen=f"{sheet.max_row} rows", expected=f"at most {MOST_ROWS}"))
        return
    for row in sheet.iter_rows():
        found: dict[int, str] = {}
        for cell in row:
            if cell.value is None or str(cell.value).strip() == "":
                continue
            where = f"{path}, sheet {sheet.title}, cell {cell.coordinate}"
            if cell.data_type == "f":
                problems.append(Problem(where=where, seen=f"a formula, {cell.value}", mend="Write the value itself."))
            elif cell.data_type == "e" or len(str(cell.value)) > MOST_CELL:
                problems.append(Problem(where=where, seen=str(cell.value)[:40], expected="a text or a number"))
            else:
                found[cell.column] = _text(cell.value)
        if found:
            yield row[0].row, found


def _text(v: Any) -> str:
    if isinstance(v, bool):
        return "yes" if v else "no"
    if isinstance(v, float) and v.is_integer():
        return str(int(v))
    return str(v).strip()


def _at(sheet: str, row: int, column: int) -> str:
    from openpyxl.utils import get_column_letter

    return f"sheet {sheet}, cell {get_column_letter(column)}{row}"


# --- the sheet Scheme ------------------------------------------------------------------------------


def _paper(sheet: Any, path: Path, problems: list[Problem], places: dict[tuple[str, str], str]) -> dict[str, Any]:
    out: dict[str, Any] = {}
    for row, cells in _cells(sheet, path, problems):
        key, v = cells.get(1, ""), cells.get(2)
        if (key.casefold() == "key" and row == 1) or not key:
            continue
        where = _at(SCHEME, row, 2)
        kind, _, name = key.partition(" ")
        if v is None:
            problems.append(Problem(where=f"{path}, {where}", seen=f"{key} has no value", mend="Write its value, or remove the row."))
        elif kind == "ruling" and name:
            out.setdefault("rulings", {})[name.strip()] = _toml(v, f"{path}, {where}", problems)
        elif kind == "datum" and name:
            out.setdefault("data", {})[name.strip()] = _toml(v, f"{path}, {where}", problems) if v.startswith("[") else v
        else:
            out[key] = v if key in ("title", "convention") else _toml(v, f"{path}, {where}", problems)
        places["", f"{'rulings.' if kind == 'ruling' else 'data.' if kind == 'datum' else ''}{name.strip() or key}"] = where
    return out


def _toml(text: str, where: str, problems: list[Problem]) -> Any:
    try:
        return tomllib.loads(f"v = {text}")["v"]
    except tomllib.TOMLDecodeError:
        problems.append(
            Problem(where=where, seen=f"{text!r} is not a value as in a scheme file", mend='Texts stand in quotation marks, as in "stop".')
        )
        return None


# --- the sheet Parts ---------------------------------------------------------------------------------


def _parts(sheet: Any, path: Path, problems: list[Problem], places: dict[tuple[str, str], str]) -> list[dict[str, Any]]:
    rows = _cells(sheet, path, problems)
    try:
        number, header = next(rows)
    except StopIteration:
        problems.append(
            Problem(where=f"{path}, sheet {PARTS}", seen="the sheet is empty", expected="a row of column titles and rows below it")
        )
        return []
    titles = _titles(header, number, path, problems)
    parts: list[dict[str, Any]] = []
    holders: dict[str, tuple[dict[str, Any], str]] = {}
    for row, cells in rows:
        _row(row, cells, titles, path, problems, places, parts, holders)
    return parts


def _titles(header: Mapping[int, str], row: int, path: Path, problems: list[Problem]) -> dict[int, str]:
    known = {t.casefold(): t for t in HEADS}
    out: dict[int, str] = {}
    for column, text in header.items():
        title = known.get(text.casefold())
        if title is None:
            near = get_close_matches(text.casefold(), known, n=1)
            mend = f"Did you mean {known[near[0]]!r}?" if near else f"The columns are {', '.join(HEADS)}."
            problems.append(Problem(where=f"{path}, {_at(PARTS, row, column)}", seen=f"{text!r} is not a column of a scheme", mend=mend))
        elif title in out.values():
            problems.append(
                Problem(where=f"{path}, {_at(PARTS, row, column)}", seen=f"the column {title!r} stands twice", mend="Remove one.")
            )
        else:
            out[column] = title
    for needed in ("Row", "Name"):
        if needed not in out.values():
            problems.append(
                Problem(where=f"{path}, sheet {PARTS}", seen=f"the column {needed!r} is missing", mend="Add it to the first row.")
            )
    return out


def _row(
    row: int,
    cells: Mapping[int, str],
    titles: Mapping[int, str],
    path: Path,
    problems: list[Problem],
    places: dict[tuple[str, str], str],
    parts: list[dict[str, Any]],
    holders: dict[str, tuple[dict[str, Any], str]],
) -> None:
    """Adds one row to the part, step or route it belongs to. `holders` keeps the last of each, with its place in words."""
    by_title = {titles[c]: (c, text) for c, text in cells.items() if c in titles}
    column, kind = by_title.get("Row", (1, PART))
    kind = kind.casefold()
    if kind not in ROWS:
        near = get_close_matches(kind, ROWS, n=1)
        mend = f"Did you mean {near[0]!r}?" if near else f"Choose one of {', '.join(ROWS)}."
        problems.append(Problem(where=f"{path}, {_at(PARTS, row, column)}", seen=f"{kind!r} is not a kind of row", mend=mend))
        return
    table, where = _table(row, kind, by_title, path, problems)
    if kind == PART:
        table.setdefault("name", by_title.get("Part", (1, ""))[1])
        parts.append(table)
        holders.clear()
        holders[PART] = (table, "")
        prefix = ""
    else:
        prefix = _attach(row, kind, table, path, problems, holders)
    if parts:
        name = str(parts[-1].get("name", ""))
        places.update({(name, prefix + key): cell for key, cell in where.items()})


def _attach(
    row: int, kind: str, table: dict[str, Any], path: Path, problems: list[Problem], holders: dict[str, tuple[dict[str, Any], str]]
) -> str:
    """Puts a row under the part, or a point under the step or route above it; gives its place in words, such as "points 2."."""
    if PART not in holders:
        problems.append(
            Problem(where=f"{path}, sheet {PARTS}, row {row}", seen=f"a {kind} with no part above it", mend="Put its part first.")
        )
        return ""
    under = next((holders[k] for k in (ROUTE, STEP) if k in holders), holders[PART]) if kind == POINT else holders[PART]
    key = LIST_OF[kind]
    items = under[0].setdefault(key, [])
    if not isinstance(items, list):
        problems.append(
            Problem(where=f"{path}, sheet {PARTS}, row {row}", seen=f"{key} stands under {FURTHER} too", mend="Leave one of them.")
        )
        return ""
    items.append(table)
    place = f"{under[1]}{key} {len(items)}."
    if kind in (STEP, ROUTE):
        holders.pop(ROUTE, None)
        holders.pop(STEP, None)
        holders[kind] = (table, place)
    return place


def _table(
    row: int, kind: str, by_title: Mapping[str, tuple[int, str]], path: Path, problems: list[Problem]
) -> tuple[dict[str, Any], dict[str, str]]:
    """The keys of a row, and the cell of each."""
    out: dict[str, Any] = {}
    where: dict[str, str] = {}
    for title, (column_number, text) in by_title.items():
        at = _at(PARTS, row, column_number)
        if title in ("Part", "Row"):
            continue
        if title == FURTHER:
            found = _further(text, f"{path}, {at}", problems)
            out.update(found)
            where.update(dict.fromkeys(found, at))
            continue
        column = BY_TITLE[title.casefold()]
        if kind not in column.rows:
            seen = f"{title} has no meaning in a row {kind!r}"
            problems.append(Problem(where=f"{path}, {at}", seen=seen, mend=f"It belongs to: {', '.join(column.rows)}."))
            continue
        try:
            out[column.key] = column.read(text)
        except NotInThisCell as error:
            problems.append(Problem(where=f"{path}, {at} ({title})", seen=f"{text!r}", expected=str(error)))
        where[column.key] = at
    return out, where


def _further(text: str, where: str, problems: list[Problem]) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        from marker.scheme.toml_text import toml_problem

        found = toml_problem(text, error, where)
        problems.append(Problem(where=where, seen=found.seen, expected="one key = value on each line", mend=found.mend))
        return {}
