"""Marks from a table: long (candidate, part, marker, mark, one row per mark) or wide (one row per candidate, one column per part)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from marker.errors import Problem
from marker.moderation.grid import Cell, Grid
from marker.moderation.model import Mark, MarkSet, Response, plain, refuse, refuse_one
from marker.moderation.reading import read_mark, unknown

MAXIMUM_LABELS = frozenset({"maximum", "max", "out of", "maximum mark", "maximum marks"})
NOT_PARTS = frozenset(
    {"candidate", "class", "marker", "total", "percent", "percentage", "%", "grade", "referred", "remark", "remarks", "note", "notes"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """What a table is held against.

    like     the marks it will be compared with: candidates, parts and maxima must be among theirs; None for first marks
    marker   the marker's name when the table has no column for it;  step  the smallest step of a mark
    missing  True when an empty cell means "not marked" and is passed over
    """

    marker: str
    like: MarkSet | None = None
    step: float = 0.5
    missing: bool = False
    instead: Mapping[Response, Mark] | None = None


def read_table(grid: Grid, expect: Expectation) -> MarkSet:
    """The marks of a long or wide table. Raises WorkbookError with every problem, each named by its cell."""
    if grid.header(("candidate", "part", "mark")):
        return _read_long(grid, expect)
    if grid.header(("candidate",)):
        return _read_wide(grid, expect)
    refuse_one(
        grid.name,
        "no row of headings found",
        expected="headings Candidate, Part, Mark (one row per mark), or Candidate and the names of the parts",
        mend="Add the headings.",
    )


class _Gathered:
    """Marks and problems as a table is read; a response may be marked once by each marker."""

    def __init__(self, expect: Expectation) -> None:
        self.expect = expect
        self.marks: list[Mark] = []
        self.problems: list[Problem] = []
        self.seen: dict[tuple[str, str, str], str] = {}
        self.classes: dict[str, str] = {}

    def known(self, cell: Cell, what: str) -> bool:
        like = self.expect.like
        if like is None or not cell.text:
            return True
        choices = like.candidates if what == "candidate" else tuple(like.parts)
        if cell.text in choices:
            return True
        self.problems.append(unknown(cell, what, choices))
        return False

    def add(self, candidate: str, part: str, marker: str, cell: Cell, maximum: float, order: float | None = None) -> None:
        if cell.empty and self.expect.missing:
            return
        instead = (self.expect.instead or {}).get((candidate, part)) if cell.unsaved else None
        mark = instead.mark if instead else read_mark(cell, maximum, self.expect.step)
        if isinstance(mark, Problem):
            self.problems.append(mark)
            return
        before = self.seen.setdefault((candidate, part, marker), cell.where)
        if before != cell.where:
            seen = f"candidate {candidate}, part {part} marked again by {marker} (first at {before})"
            self.problems.append(Problem(where=cell.where, seen=seen, mend="Keep one of the two rows."))
            return
        self.marks.append(Mark(candidate=candidate, part=part, mark=mark, maximum=maximum, marker=marker, where=cell.where, order=order))

    def finish(self, parts: dict[str, float], name: str) -> MarkSet:
        if not self.marks and not self.problems:
            self.problems.append(Problem(where=name, seen="no marks in the table"))
        refuse(self.problems)
        return MarkSet(marks=tuple(self.marks), parts=parts, classes=self.classes, name=name)


def _read_long(grid: Grid, expect: Expectation) -> MarkSet:
    header = grid.header(("candidate", "part", "mark"))
    assert header is not None
    top, columns = header
    got = _Gathered(expect)
    maxima = dict(expect.like.parts) if expect.like else _long_maxima(grid, top, columns)
    for i in range(top + 1, len(grid.rows)):
        candidate, part, mark = (grid.cell(i, columns[k]) for k in ("candidate", "part", "mark"))
        if candidate.empty and part.empty and mark.empty:
            continue
        for cell, what in ((candidate, "candidate number"), (part, "part")):
            if cell.empty:
                got.problems.append(Problem(where=cell.where, seen=f"no {what}", mend="Fill it in, or take the row out."))
        known = [got.known(candidate, "candidate"), got.known(part, "part")]
        if candidate.empty or part.empty or not all(known):
            continue
        marker = grid.cell(i, columns["marker"]).text if "marker" in columns else ""
        if "class" in columns and grid.cell(i, columns["class"]).text:
            got.classes[candidate.text] = grid.cell(i, columns["class"]).text
        order = _order(grid.cell(i, columns["order"])) if "order" in columns else None
        got.add(candidate.text, part.text, marker or expect.marker, mark, maxima[part.text], order)
    return got.finish({p: m for p, m in maxima.items() if expect.like is None or any(x.part == p for x in got.marks)}, grid.name)


def _order(cell: Cell) -> float | None:
    try:
        return float(cell.text)
    except ValueError:
        return None


def _long_maxima(grid: Grid, top: int, columns: dict[str, int]) -> dict[str, float]:
    """Maximum of each part from the column "max" (or "maximum"); it must be there and the same on every row of a part."""
    column = next((columns[k] for k in ("max", "maximum", "out of") if k in columns), None)
    if column is None:
        refuse_one(
            grid.name,
            "no column with the maximum of the part",
            expected="a heading Max",
            mend="Add it, or compare with marks that have it.",
        )
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
            problems.append(Problem(where=cell.where, seen=f"part {part} is out of {plain(value)} here and {plain(maxima[part])} above"))
    refuse(problems)
    return maxima


def read_maximum(cell: Cell) -> float | Problem:
    value = read_mark(cell, 10_000, 0.5)
    if isinstance(value, Problem) or value <= 0:
        return Problem(where=cell.where, seen=f'"{cell.text}" is not the maximum of a part', expected="a number above 0")
    return value


def _read_wide(grid: Grid, expect: Expectation) -> MarkSet:
    header = grid.header(("candidate",))
    assert header is not None
    top, columns = header
    got = _Gathered(expect)
    names = {
        j: grid.cell(top, j)
        for j in range(len(grid.rows[top]))
        if grid.cell(top, j).text and grid.cell(top, j).text.casefold() not in NOT_PARTS
    }
    used = {j: cell.text for j, cell in names.items() if got.known(cell, "part")}
    maxima, first = _wide_maxima(grid, top, columns["candidate"], used, expect)
    for i in range(first, len(grid.rows)):
        candidate = grid.cell(i, columns["candidate"])
        if candidate.empty or candidate.text.casefold() in MAXIMUM_LABELS:
            filled = [grid.cell(i, j) for j in used if not grid.cell(i, j).empty]
            if candidate.empty and filled and not any(c.unsaved for c in filled):
                got.problems.append(
                    Problem(where=candidate.where, seen="marks without a candidate number", mend="Fill it in, or clear the row.")
                )
            continue
        if not got.known(candidate, "candidate"):
            continue
        if "class" in columns and grid.cell(i, columns["class"]).text:
            got.classes[candidate.text] = grid.cell(i, columns["class"]).text
        marker = grid.cell(i, columns["marker"]).text if "marker" in columns else ""
        for j, part in used.items():
            got.add(candidate.text, part, marker or expect.marker, grid.cell(i, j), maxima[part])
    return got.finish({part: maxima[part] for part in used.values()}, grid.name)


def _wide_maxima(grid: Grid, top: int, label: int, used: dict[int, str], expect: Expectation) -> tuple[dict[str, float], int]:
    """Maxima by part, and the first row of marks. First marks need a row of maxima; later ones take those of the marks compared with."""
    row = next((i for i in range(top + 1, min(top + 4, len(grid.rows))) if grid.cell(i, label).text.casefold() in MAXIMUM_LABELS), None)
    if expect.like is not None:
        return dict(expect.like.parts), top + 1
    if row is None:
        refuse_one(
            grid.name, "no row of maxima under the headings", expected='a row with "Maximum" in the column Candidate', mend="Add it."
        )
    maxima: dict[str, float] = {}
    problems = []
    for j, part in used.items():
        value = read_maximum(grid.cell(row, j))
        if isinstance(value, Problem):
            problems.append(value)
        else:
            maxima[part] = value
    refuse(problems)
    return maxima, row + 1
