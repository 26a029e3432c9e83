"""Marks taken back from a second marker's workbook, each held against what was issued."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from marker.errors import Problem
from marker.moderation.blind import BETWEEN, ISSUE, ISSUE_HEADS, REMARK, TOP, heading_worth
from marker.moderation.codes import codes, text_digest
from marker.moderation.grid import Cell, Grid
from marker.moderation.model import Mark, MarkSet, PointMark, plain, refuse, refuse_one
from marker.moderation.reading import read_mark, unknown

AS_ISSUED = "Use the workbook as it was issued."


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedPart:
    """One sheet as it was issued. heads: the headings of the points; responses: code -> digest of the response."""

    part: str
    title: str
    maximum: float
    heads: tuple[str, ...]
    responses: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Issued:
    """What one workbook was issued with."""

    marker: str
    draw: int
    step: float
    parts: tuple[IssuedPart, ...]


def is_blind(found: Mapping[str, Grid]) -> bool:
    """True for the sheets of a workbook that was written for a second marker."""
    grid = found.get(ISSUE)
    return grid is not None and bool(grid.rows) and grid.rows[0][0].text == "Issued responses"


def read_blind(path: Path, found: Mapping[str, Grid], first: MarkSet, missing: bool = False) -> MarkSet:
    """The second marker's marks, paired by code. Raises WorkbookError with every problem, each named by its cell.

    missing   True passes over responses without a mark; otherwise each is a problem
    """
    issued = _issued(path, found[ISSUE])
    who = codes(issued.draw, first.candidates)
    refuse(_strangers(path, issued, who, first))
    marks: list[Mark] = []
    problems: list[Problem] = []
    for part in issued.parts:
        if part.title not in found:
            problems.append(Problem(where=f"{path.name}, sheet {part.title}", seen="the sheet is gone", mend=AS_ISSUED))
            continue
        for given in _read_part(found[part.title], part, issued, who, missing):
            if isinstance(given, Problem):
                problems.append(given)
            else:
                marks.append(given)
    refuse(problems)
    if not marks:
        refuse_one(path.name, "no marks in it", mend="Give the workbook that the second marker has filled in.")
    parts = {p: m for p, m in first.parts.items() if any(x.part == p for x in marks)}
    return MarkSet(marks=tuple(marks), parts=parts, classes=first.classes, name=path.name)


def _issued(path: Path, grid: Grid) -> Issued:
    try:
        settings = {row[0].text: row[1].text for row in grid.rows[:4]}
        header = grid.header([h.casefold() for h in ISSUE_HEADS])
        if header is None:
            raise KeyError(ISSUE_HEADS)
        rows = [tuple(cell.text for cell in row[: len(ISSUE_HEADS)]) for row in grid.rows[header[0] + 1 :] if not row[0].empty]
        parts = {(part, title, maximum, heads): None for part, title, _, maximum, heads, _ in rows}
        return Issued(
            marker=settings["Marker"],
            draw=int(settings["Draw"]),
            step=float(settings["Step"]),
            parts=tuple(
                IssuedPart(
                    part=part,
                    title=title,
                    maximum=float(maximum),
                    heads=tuple(heads.split(BETWEEN)) if heads else (),
                    responses={row[2]: row[5] for row in rows if row[1] == title},
                )
                for part, title, maximum, heads in parts
            ),
        )
    except (KeyError, ValueError, IndexError):
        refuse_one(f"{path.name}, sheet {ISSUE}", "changed since it was issued", mend=AS_ISSUED)


def _strangers(path: Path, issued: Issued, who: Mapping[str, str], first: MarkSet) -> list[Problem]:
    """Parts or codes issued that the first marks do not have: these are other marks."""
    mend = "Compare with the marks the sample was drawn from."
    problems = [
        Problem(where=path.name, seen=f"part {p.part}, out of {plain(p.maximum)}, is not so in {first.name}", mend=mend)
        for p in issued.parts
        if first.parts.get(p.part) != p.maximum
    ]
    lost = sorted({code for p in issued.parts for code in p.responses if code not in who})
    if lost:
        seen = f"{len(lost)} of its codes ({', '.join(lost[:5])}) belong to no candidate in {first.name}"
        problems.append(Problem(where=path.name, seen=seen, mend=mend))
    return problems


def _read_part(grid: Grid, part: IssuedPart, issued: Issued, who: Mapping[str, str], missing: bool) -> Iterator[Mark | Problem]:
    """Every mark of one sheet, or what is wrong with it."""
    heads = tuple(cell.text for cell in grid.rows[TOP - 1]) if len(grid.rows) >= TOP else ()
    column = 2 + len(part.heads)
    if heads[:column] != ("Code", "Response", *part.heads) or heads[column + 1 : column + 2] != (REMARK,):
        yield Problem(where=f"{grid.name}, row {TOP}", seen="the headings were changed", mend=AS_ISSUED)
        return
    seen: dict[str, Cell] = {}
    for i in range(TOP, len(grid.rows)):
        code, entries, mark = grid.cell(i, 0), [grid.cell(i, j) for j in range(2, column)], grid.cell(i, column)
        problem = _row_problem(code, grid.cell(i, 1), [*entries, mark], part.responses, seen)
        if problem is not None:
            yield problem
        elif not code.empty and not (missing and all(c.empty or c.formula for c in [*entries, mark])):
            given = _row_mark(entries, mark, part, issued.step)
            yield given if isinstance(given, Problem) else _mark(given, who[code.text], part, issued.marker, mark.where)
    for lost in part.responses:
        if lost not in seen:
            yield Problem(where=grid.name, seen=f"the row of code {lost} is gone", mend=AS_ISSUED)


def _mark(given: tuple[tuple[PointMark, ...], float], candidate: str, part: IssuedPart, marker: str, where: str) -> Mark:
    points, value = given
    return Mark(candidate=candidate, part=part.part, mark=value, maximum=part.maximum, marker=marker, where=where, points=points)


def _row_problem(code: Cell, text: Cell, entries: list[Cell], expected: Mapping[str, str], seen: dict[str, Cell]) -> Problem | None:
    """What is wrong with a row as a row; None for a good row, and for an empty one."""
    if code.empty:
        if any(not c.empty and not c.formula for c in [text, *entries]):
            return Problem(where=code.where, seen="a row without a code", mend="Put back its code, or clear the row.")
        return None
    if code.text not in expected:
        return unknown(code, "code", expected)
    before = seen.setdefault(code.text, code)
    if before is not code:
        return Problem(
            where=code.where, seen=f"code {code.text} again (first at {before.where})", mend="Every code stands once on a sheet."
        )
    if text_digest(text.text) != expected[code.text]:
        return Problem(
            where=text.where,
            seen=f"this is not the response issued under code {code.text}",
            mend="The rows were mixed up or the response was changed. Use the workbook as it was issued.",
        )
    return None


def _row_mark(entries: list[Cell], mark: Cell, part: IssuedPart, step: float) -> tuple[tuple[PointMark, ...], float] | Problem:
    """The points and the mark of a row: from the points when they are filled in, else from a mark typed alone."""
    typed = None if mark.formula or mark.empty else read_mark(mark, part.maximum, step)
    if isinstance(typed, Problem):
        return typed
    if all(c.empty for c in entries):
        if typed is None:
            cell = entries[0] if entries else mark
            return Problem(
                where=cell.where,
                seen="no mark",
                expected=f"a mark from 0 to {plain(part.maximum)}",
                mend="Type the mark; 0 for nothing gained.",
            )
        return (), typed
    points = []
    for cell, head in zip(entries, part.heads, strict=True):
        name, most = heading_worth(head)
        value = read_mark(cell, most, step)
        if isinstance(value, Problem):
            return value
        points.append(PointMark(name=name, mark=value, maximum=most))
    total = min(part.maximum, sum(p.mark for p in points))
    if typed is not None and abs(typed - total) > 1e-9:
        seen = f"the mark is {plain(typed)}, but its points add up to {plain(total)}"
        return Problem(where=mark.where, seen=seen, mend="Correct the mark or the points.")
    return tuple(points), total
