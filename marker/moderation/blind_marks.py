"""Marks taken back from a second marker's workbook, each held against what was issued."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from marker.errors import Problem
from marker.moderation.blind import ISSUE, ISSUE_HEADS, TOP
from marker.moderation.codes import codes, text_digest
from marker.moderation.grid import Cell, Grid
from marker.moderation.model import Mark, MarkSet, PointMark, plain, refuse, refuse_one
from marker.moderation.reading import read_mark, unknown


@dataclass(frozen=True, slots=True, kw_only=True)
class Issued:
    """What one workbook was issued with. rows: (part, sheet, code) -> digest of the response."""

    marker: str
    draw: int
    step: float
    rows: Mapping[tuple[str, str, str], str]
    maxima: Mapping[str, float]


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
    marks: list[Mark] = []
    problems: list[Problem] = _strangers(path, issued, who, first)
    refuse(problems)
    for part, title in dict.fromkeys((p, s) for p, s, _ in issued.rows):
        if title not in found:
            problems.append(
                Problem(where=f"{path.name}, sheet {title}", seen="the sheet is gone", mend="Use the workbook as it was issued.")
            )
            continue
        _read_part(found[title], part, title, issued, who, first, missing, marks, problems)
    refuse(problems)
    if not marks:
        refuse_one(path.name, "no marks in it", mend="Give the workbook that the second marker has filled in.")
    parts = {p: m for p, m in first.parts.items() if any(x.part == p for x in marks)}
    return MarkSet(marks=tuple(marks), parts=parts, classes=first.classes, name=path.name)


def _issued(path: Path, grid: Grid) -> Issued:
    try:
        settings = {row[0].text: row[1] for row in grid.rows[:4]}
        header = grid.header([h.casefold() for h in ISSUE_HEADS])
        assert header is not None
        rows = [tuple(cell.text for cell in row[:5]) for row in grid.rows[header[0] + 1 :] if not row[0].empty]
        return Issued(
            marker=settings["Marker"].text,
            draw=int(settings["Draw"].text),
            step=float(settings["Step"].text),
            rows={(part, sheet, code): digest for part, sheet, code, _, digest in rows},
            maxima={part: float(maximum) for part, _, _, maximum, _ in rows},
        )
    except (KeyError, ValueError, IndexError, AssertionError):
        refuse_one(f"{path.name}, sheet {ISSUE}", "changed since it was issued", mend="Use the workbook as it was issued.")


def _strangers(path: Path, issued: Issued, who: Mapping[str, str], first: MarkSet) -> list[Problem]:
    """Parts or codes issued that the first marks do not have: these are other marks."""
    mend = "Compare with the marks the sample was drawn from."
    problems = [
        Problem(where=path.name, seen=f"part {part}, out of {plain(maximum)}, is not so in {first.name}", mend=mend)
        for part, maximum in issued.maxima.items()
        if first.parts.get(part) != maximum
    ]
    lost = sorted({code for _, _, code in issued.rows if code not in who})
    if lost:
        seen = f"{len(lost)} of its codes ({', '.join(lost[:5])}) belong to no candidate in {first.name}"
        problems.append(Problem(where=path.name, seen=seen, mend=mend))
    return problems


def _read_part(
    grid: Grid,
    part: str,
    title: str,
    issued: Issued,
    who: Mapping[str, str],
    first: MarkSet,
    missing: bool,
    marks: list[Mark],
    problems: list[Problem],
) -> None:
    header = grid.rows[TOP - 1] if len(grid.rows) >= TOP else ()
    names = [cell.text for cell in header]
    if len(names) < 4 or names[:2] != ["Code", "Response"] or "Remark" not in names:
        problems.append(
            Problem(where=f"{grid.name}, row {TOP}", seen="the headings were changed", mend="Use the workbook as it was issued.")
        )
        return
    mark_column = names.index("Remark") - 1
    heads = names[2:mark_column]
    expected = {code: digest for (p, s, code), digest in issued.rows.items() if (p, s) == (part, title)}
    seen: dict[str, Cell] = {}
    for i in range(TOP, len(grid.rows)):
        code = grid.cell(i, 0)
        entries = [grid.cell(i, j) for j in range(2, mark_column)]
        mark = grid.cell(i, mark_column)
        problem = _row_problem(code, grid.cell(i, 1), [*entries, mark], expected, seen)
        if problem is not None:
            problems.append(problem)
        if code.text not in expected or problem is not None:
            continue
        given = _row_mark(entries, heads, mark, first.parts[part], issued.step)
        if isinstance(given, Problem):
            if not (missing and all(c.empty or c.formula for c in [*entries, mark])):
                problems.append(given)
            continue
        points, value = given
        candidate = who[code.text]
        marks.append(
            Mark(
                candidate=candidate, part=part, mark=value, maximum=first.parts[part], marker=issued.marker, where=mark.where, points=points
            )
        )
    for code_text in expected:
        if code_text not in seen:
            problems.append(
                Problem(where=grid.name, seen=f"the row of code {code_text} is gone", mend="Use the workbook as it was issued.")
            )


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


def _row_mark(
    entries: list[Cell], heads: list[str], mark: Cell, maximum: float, step: float
) -> tuple[tuple[PointMark, ...], float] | Problem:
    """The points and the mark of a row: from the points when they are filled in, else from a mark typed alone."""
    typed = None if mark.formula or mark.empty else read_mark(mark, maximum, step)
    if isinstance(typed, Problem):
        return typed
    if all(c.empty for c in entries):
        if typed is None:
            cell = entries[0] if entries else mark
            return Problem(
                where=cell.where, seen="no mark", expected=f"a mark from 0 to {plain(maximum)}", mend="Type the mark; 0 for nothing gained."
            )
        return (), typed
    points = []
    for cell, head in zip(entries, heads, strict=True):
        name, _, worth = head.rpartition(" (")
        most = float(worth.rstrip(")"))
        value = read_mark(cell, most, step)
        if isinstance(value, Problem):
            return value
        points.append(PointMark(name=name, mark=value, maximum=most))
    total = min(maximum, sum(p.mark for p in points))
    if typed is not None and abs(typed - total) > 1e-9:
        seen = f"the mark is {plain(typed)}, but its points add up to {plain(total)}"
        return Problem(where=mark.where, seen=seen, mend="Correct the mark or the points.")
    return tuple(points), total
