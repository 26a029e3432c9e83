"""A wide table of marks: one row per candidate, one column per part, and a row of maxima above or below the headings.

The sheet Marks of our own workbook is one; so is a colleague's mark list.
"""

from __future__ import annotations

from collections.abc import Mapping

from marker.errors import Problem
from marker.moderation.gathering import Expectation, Gathered, read_maximum
from marker.moderation.grid import Grid
from marker.moderation.model import MarkSet, refuse, refuse_one

MAXIMUM_LABELS = frozenset({"maximum", "max", "out of", "maximum mark", "maximum marks"})
FOOT_LABELS = frozenset({"mean", "average", "facility", "median", "total", "sd", "standard deviation"})
NOT_PARTS = frozenset(
    {"candidate", "class", "marker", "total", "percent", "percentage", "%", "grade", "to settle"}
    | {"referred", "remark", "remarks", "note", "notes"}
)  # fmt: skip


def read_wide(grid: Grid, top: int, columns: Mapping[str, int], expect: Expectation) -> MarkSet:
    """The marks under the headings in row `top` (from 0). Raises WorkbookError with every problem, each named by its cell."""
    got = Gathered(expect)
    heads = {j: cell for j, cell in enumerate(grid.rows[top]) if cell.text and cell.text.casefold() not in NOT_PARTS}
    used = {j: cell.text for j, cell in heads.items() if got.known(cell, "part")}
    if len(set(used.values())) < len(used):
        twice = next(p for p in used.values() if list(used.values()).count(p) > 1)
        refuse_one(grid.name, f"two columns for part {twice}", mend="Keep one of them.")
    maxima = _maxima(grid, top, columns["candidate"], used, expect)
    for i in range(top + 1, len(grid.rows)):
        _candidate_row(grid, i, columns, used, maxima, got)
    return got.finish({part: maxima[part] for part in used.values()}, grid.name)


def _candidate_row(
    grid: Grid, i: int, columns: Mapping[str, int], used: Mapping[int, str], maxima: Mapping[str, float], got: Gathered
) -> None:
    candidate = grid.cell(i, columns["candidate"])
    if candidate.empty:
        if any(not grid.cell(i, j).empty and not grid.cell(i, j).formula for j in used):
            got.problems.append(
                Problem(where=candidate.where, seen="marks without a candidate number", mend="Fill it in, or clear the row.")
            )
        return
    if candidate.text.casefold() in MAXIMUM_LABELS | FOOT_LABELS or not got.known(candidate, "candidate"):
        return
    if "class" in columns and grid.cell(i, columns["class"]).text:
        got.classes[candidate.text] = grid.cell(i, columns["class"]).text
    marker = grid.cell(i, columns["marker"]).text if "marker" in columns else ""
    for j, part in used.items():
        got.add(candidate.text, part, marker or got.expect.marker, grid.cell(i, j), maxima[part])


def _maxima(grid: Grid, top: int, label: int, used: Mapping[int, str], expect: Expectation) -> dict[str, float]:
    """Maximum of each part: of the marks compared with, or from the row of maxima, up to three rows from the headings."""
    if expect.like is not None:
        return dict(expect.like.parts)
    near = range(max(0, top - 3), min(top + 4, len(grid.rows)))
    row = next((i for i in near if grid.cell(i, label).text.casefold() in MAXIMUM_LABELS), None)
    if row is None:
        expected = 'a row with "Maximum" in the column Candidate'
        refuse_one(grid.name, "no row of maxima by the headings", expected=expected, mend="Add it under the headings.")
    found = {part: read_maximum(grid.cell(row, j)) for j, part in used.items()}
    refuse(value for value in found.values() if isinstance(value, Problem))
    return {part: value for part, value in found.items() if not isinstance(value, Problem)}
