"""Marks from a table, long or wide."""

from __future__ import annotations

from marker.moderation.gathering import Expectation
from marker.moderation.grid import Grid
from marker.moderation.long_table import HEADINGS, read_long
from marker.moderation.model import MarkSet, refuse_one
from marker.moderation.wide_table import read_wide


def read_table(grid: Grid, expect: Expectation) -> MarkSet:
    """The marks of a long table (candidate, part, mark) or a wide one (candidate and the parts).

    Raises WorkbookError with every problem, each named by its cell.
    """
    long = grid.header(HEADINGS)
    if long is not None:
        return read_long(grid, *long, expect)
    wide = grid.header(("candidate",))
    if wide is not None:
        return read_wide(grid, *wide, expect)
    refuse_one(
        grid.name,
        "no row of headings found",
        expected="headings Candidate, Part, Mark (one row per mark), or Candidate and the names of the parts",
        mend="Add the headings.",
    )
