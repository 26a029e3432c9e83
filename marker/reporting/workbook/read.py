"""A workbook of ours, as the teacher left it, to the decisions in it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from marker.errors import Problem, WorkbookError
from marker.intake.typed import value_text
from marker.reporting.decisions import Decision, Decisions, EarlierMark, EarlierPoint
from marker.reporting.paper import Key
from marker.reporting.workbook.layout import POINT_BETWEEN, POINTS, POINTS_HEADINGS, REFER, REFER_HEADINGS

Rows = list[list[Any]]
_LOOK_FOR_HEADINGS = 15


def read_decisions(path: Path) -> Decisions:
    """The marks and notes typed on Refer, and the marks they were made on.

    Raises   WorkbookError when there is no such file or workbook, when a sheet or column was taken away, and for each cell
             whose mark is not a possible one
    """
    book = _open(path)
    if REFER not in book.sheet_names:
        expected = f"the sheet {REFER}, as written by an earlier marking"
        raise WorkbookError(_problem(path.name, f"no sheet {REFER}", expected, "Give the workbook of the earlier marking."))
    rows = book.get_sheet_by_name(REFER).to_python(skip_empty_area=False)
    points = book.get_sheet_by_name(POINTS).to_python(skip_empty_area=False) if POINTS in book.sheet_names else []
    return Decisions(made=_made(path.name, rows), earlier=_earlier(points), file=path.name)


def _open(path: Path) -> Any:
    from python_calamine import CalamineError, CalamineWorkbook

    mend = "Give the workbook of the earlier marking."
    try:
        with path.open("rb") as file:
            return CalamineWorkbook.from_filelike(file)
    except FileNotFoundError:
        raise WorkbookError(_problem(str(path), "no such file", "", mend)) from None
    except OSError as error:
        raise WorkbookError(_problem(str(path), f"cannot be read ({(error.strerror or 'no reason').lower()})", "", mend)) from None
    except CalamineError:
        raise WorkbookError(_problem(path.name, "not a workbook that can be read", ".xlsx without a password", mend)) from None


def _made(file: str, rows: Rows) -> dict[Key, Decision]:
    header = _headings(file, rows)
    made: dict[Key, Decision] = {}
    problems: list[Problem] = []
    for number, row in enumerate(rows[header.row :], start=header.row + 1):
        candidate, part = (value_text(_at(row, c)).strip() for c in (header.candidate, header.part))
        typed, note = _at(row, header.mark), value_text(_at(row, header.note)).strip()
        if typed in ("", None) and not note:
            continue
        cell = f"{file}, sheet {REFER}, cell {_letters(header.mark)}{number}"
        fault = _fault(cell, candidate, part, typed, _at(row, header.out_of))
        if fault is not None:
            problems.append(fault)
        elif (candidate, part) not in made or made[candidate, part].mark is None:
            made[candidate, part] = Decision(mark=None if typed in ("", None) else float(typed), note=note)
    if problems:
        raise WorkbookError(problems)
    return made


def _fault(cell: str, candidate: str, part: str, typed: Any, out_of: Any) -> Problem | None:
    if not candidate or not part:
        return _problem(cell, "a mark or note without its candidate or part", "both in the same row", "Fill them in, or empty the row.")
    if typed in ("", None):
        return None
    if isinstance(typed, bool) or not isinstance(typed, int | float):
        return _problem(cell, f'"{value_text(typed)[:40]}" is not a number', "a mark", "Type the mark as a number, or empty the cell.")
    top = float(out_of) if isinstance(out_of, int | float) else None
    if typed < 0 or (top is not None and typed > top) or (2 * typed) % 1 != 0:
        expected = f"from 0 to {top:g}" if top is not None else "0 or more"
        return _problem(cell, f"{typed:g} is not a possible mark", expected, "Correct it, or empty the cell.")
    return None


class _Headings:
    """Row of the headings (from 1) and columns (from 0) on Refer."""

    def __init__(self, row: int, found: Sequence[str]) -> None:
        self.row = row
        self.candidate, self.part, self.out_of, self.mark, self.note = (
            found.index(REFER_HEADINGS[n]) if REFER_HEADINGS[n] in found else -1 for n in (0, 1, 7, 8, 9)
        )


def _headings(file: str, rows: Rows) -> _Headings:
    for number, row in enumerate(rows[:_LOOK_FOR_HEADINGS], start=1):
        named = [value_text(v).strip() for v in row]
        if REFER_HEADINGS[0] in named and REFER_HEADINGS[8] in named:
            found = _Headings(number, named)
            missing = [REFER_HEADINGS[n] for n, c in ((1, found.part), (7, found.out_of), (9, found.note)) if c < 0]
            if missing:
                where = f"{file}, sheet {REFER}, row {number}"
                raise WorkbookError(_problem(where, f"no column {', '.join(missing)}", "the headings as written", "Put the heading back."))
            return found
    where = f"{file}, sheet {REFER}, cells A1 to K{_LOOK_FOR_HEADINGS}"
    seen = f'no row with the headings "{REFER_HEADINGS[0]}" and "{REFER_HEADINGS[8]}"'
    raise WorkbookError(_problem(where, seen, "the headings as written", "Put the heading row back."))


def _earlier(rows: Rows) -> dict[Key, EarlierMark]:
    """Marks and points from the hidden list; {} when it is not as it was written."""
    if not rows or tuple(value_text(v) for v in rows[0][: len(POINTS_HEADINGS)]) != POINTS_HEADINGS:
        return {}
    found: dict[Key, EarlierMark] = {}
    for row in rows[1:]:
        candidate, part, mark, out_of, referred, points = (*row, *[""] * len(POINTS_HEADINGS))[: len(POINTS_HEADINGS)]
        if isinstance(mark, int | float) and isinstance(out_of, int | float):
            told = tuple(p for line in value_text(points).split("\n") if (p := _point(line)) is not None)
            key = (value_text(candidate), value_text(part))
            found[key] = EarlierMark(mark=float(mark), maximum=float(out_of), referred=referred == "yes", points=told)
    return found


def _point(line: str) -> EarlierPoint | None:
    """A marking point from a line of the list, None for a line that is none (or was cut)."""
    pieces = line.split(POINT_BETWEEN, 3)
    try:
        return EarlierPoint(point=pieces[0], mark=float(pieces[1]), maximum=float(pieces[2]), reason=pieces[3])
    except (IndexError, ValueError):
        return None


def _at(row: list[Any], column: int) -> Any:
    return row[column] if 0 <= column < len(row) else ""


def _letters(column: int) -> str:
    from openpyxl.utils import get_column_letter

    return str(get_column_letter(column + 1))


def _problem(where: str, seen: str, expected: str, mend: str) -> Problem:
    return Problem(where=where, seen=seen, expected=expected, mend=mend)
