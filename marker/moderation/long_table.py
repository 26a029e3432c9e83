"""A long table of marks: one row per mark, with candidate, part, mark and, where they are given, marker, class, max and order."""

from __future__ import annotations

from collections.abc import Mapping

from marker.errors import Problem
from marker.moderation.gathering import Expectation, Gathered, read_maximum
from marker.moderation.grid import Cell, Grid
from marker.moderation.model import MarkSet, plain, refuse, refuse_one

HEADINGS = ("candidate", "part", "mark")


def read_long(grid: Grid, top: int, columns: Mapping[str, int], expect: Expectation) -> MarkSet:
    """The marks under the headings in row `top` (from 0). Raises WorkbookError with every problem, each named by its cell."""
    got = Gathered(expect)
    maxima = dict(expect.like.parts) if expect.like else _maxima(grid, top, columns)
    for i in range(top + 1, len(grid.rows)):
        candidate, part, mark = (grid.cell(i, columns[k]) for k in HEADINGS)
        if candidate.empty and part.empty and mark.empty:
            continue
        if not _named(candidate, part, got):
            continue
        if "class" in columns and grid.cell(i, columns["class"]).text:
            got.classes[candidate.text] = grid.cell(i, columns["class"]).text
        marker = grid.cell(i, columns["marker"]).text if "marker" in columns else ""
        order = _order(grid.cell(i, columns["order"]), got) if "order" in columns else None
        got.add(candidate.text, part.text, marker or expect.marker, mark, maxima[part.text], order)
    given = {m.part for m in got.marks}
    return got.finish({p: m for p, m in maxima.items() if expect.like is None or p in given}, grid.name)


def _named(candidate: Cell, part: Cell, got: Gathered) -> bool:
    """True when both names are there and known; every fault is noted."""
    for cell, what in ((candidate, "candidate number"), (part, "part")):
        if cell.empty:
            got.problems.append(Problem(where=cell.where, seen=f"no {what}", mend="Fill it in, or take the row out."))
    known = [got.known(candidate, "candidate"), got.known(part, "part")]
    return all(known) and not candidate.empty and not part.empty


def _order(cell: Cell, got: Gathered) -> float | None:
    if cell.empty:
        return None
    try:
        return float(cell.text)
    except ValueError:
        got.problems.append(Problem(where=cell.where, seen=f'"{cell.text[:40]}" is not a place in the order', expected="a number"))
        return None


def _maxima(grid: Grid, top: int, columns: Mapping[str, int]) -> dict[str, float]:
    """Maximum of each part from the column "max" (or "maximum"); it must be there and the same on every row of a part."""
    column = next((columns[k] for k in ("max", "maximum", "out of") if k in columns), None)
    if column is None:
        mend = "Add it, or compare with marks that have it."
        refuse_one(grid.name, "no column with the maximum of the part", expected="a heading Max", mend=mend)
    maxima: dict[str, float] = {}
    problems = []
    for i in range(top + 1, len(grid.rows)):
        part, cell = grid.cell(i, columns["part"]).text, grid.cell(i, column)
        if not part:
            continue
        value = read_maximum(cell)
        if isinstance(value, Problem):
            problems.append(value)
        elif maxima.setdefault(part, value) != value:
            seen = f"part {part} is out of {plain(value)} here and out of {plain(maxima[part])} above"
            problems.append(Problem(where=cell.where, seen=seen, mend="Give the part one maximum."))
    refuse(problems)
    return maxima
