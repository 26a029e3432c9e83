"""One cell to one mark, or a problem that names the cell; names that are nearly right."""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable

from marker.errors import Problem
from marker.moderation.grid import Cell
from marker.moderation.model import plain

LOOKALIKES = {"o": "0", "O": "0", "l": "1", "I": "1", "|": "1"}


def read_mark(cell: Cell, maximum: float, step: float) -> float | Problem:
    """The mark in a cell: a number from 0 to the maximum in whole steps. An empty cell is a problem too."""
    expected = f"a mark from 0 to {plain(maximum)}" + ("" if step == 1 else f" in steps of {plain(step)}")
    if cell.unsaved:
        return Problem(
            where=cell.where,
            seen="a formula whose value was not saved",
            expected=expected,
            mend="Open the workbook in a spreadsheet program and save it, or give the records file as well.",
        )
    if cell.empty:
        return Problem(where=cell.where, seen="no mark", expected=expected, mend="Type the mark; 0 for nothing gained.")
    value = _number(cell)
    if value is None:
        near = LOOKALIKES.get(cell.text)
        mend = f'Type the figure {near}, not the letter "{cell.text}".' if near else "Type the mark as a number."
        return Problem(where=cell.where, seen=f'"{cell.text[:40]}" is not a mark', expected=expected, mend=mend)
    if not 0 <= value <= maximum + 1e-9:
        return Problem(where=cell.where, seen=f"{plain(value)} is not possible here", expected=expected, mend="Correct the mark.")
    if abs(value / step - round(value / step)) > 1e-6:
        return Problem(
            where=cell.where, seen=f"{plain(value)} is not in steps of {plain(step)}", expected=expected, mend="Correct the mark."
        )
    return value


def _number(cell: Cell) -> float | None:
    if isinstance(cell.value, bool):
        return None
    if isinstance(cell.value, int | float):
        return float(cell.value) if math.isfinite(cell.value) else None
    text = cell.text
    if len(text) > 12 or not text.isascii() or not all(c.isdigit() or c in ".,+-" for c in text):
        return None
    try:
        return float(text.replace(",", "."))
    except ValueError:
        return None


def unknown(cell: Cell, what: str, known: Iterable[str]) -> Problem:
    """A candidate, part or code that the first marks do not have, with the nearest one that they do."""
    choices = list(known)
    near = difflib.get_close_matches(cell.text, choices, 1, 0.5)
    listed = f"one of: {', '.join(choices)}" if len(choices) < 10 else ""
    mend = f'Is "{near[0]}" meant?' if near else "Correct it, or take the row out."
    return Problem(where=cell.where, seen=f'{what} "{cell.text[:40]}" is not among the marks compared with', expected=listed, mend=mend)
