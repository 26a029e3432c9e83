"""What a table of marks is held against, and its marks and problems as it is read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from marker.errors import Problem
from marker.moderation.grid import Cell
from marker.moderation.model import Mark, MarkSet, Response, plain, refuse
from marker.moderation.reading import read_mark, unknown


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """What a table is held against.

    like     the marks it will be compared with: candidates, parts and maxima must be among theirs; None for first marks
    marker   the marker's name when the table has no column for it;  step  the smallest step of a mark
    missing  True when an empty cell means "not marked" and is passed over
    instead  marks that stand in for formulas whose values were not saved
    """

    marker: str
    like: MarkSet | None = None
    step: float = 0.5
    missing: bool = False
    instead: Mapping[Response, Mark] = field(default_factory=dict)


class Gathered:
    """Marks and problems as a table is read; a response may be marked once by each marker."""

    def __init__(self, expect: Expectation) -> None:
        self.expect = expect
        self.marks: list[Mark] = []
        self.problems: list[Problem] = []
        self.seen: dict[tuple[str, str, str], str] = {}
        self.classes: dict[str, str] = {}

    def known(self, cell: Cell, what: str) -> bool:
        """True when the candidate or part is among the marks compared with; else a problem is noted."""
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
        instead = self.expect.instead.get((candidate, part)) if cell.unsaved else None
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

    def finish(self, parts: Mapping[str, float], name: str) -> MarkSet:
        """The marks. Raises WorkbookError with every problem met, or when there is no mark at all."""
        if not self.marks and not self.problems:
            self.problems.append(Problem(where=name, seen="no marks in the table"))
        refuse(self.problems)
        return MarkSet(marks=tuple(self.marks), parts=parts, classes=self.classes, name=name)


def read_maximum(cell: Cell) -> float | Problem:
    """The maximum of a part."""
    value = read_mark(cell, 10_000, 0.5)
    if isinstance(value, Problem) or value <= 0:
        return Problem(where=cell.where, seen=f'"{plain_text(cell)}" is not the maximum of a part', expected="a number above 0")
    return value


def plain_text(cell: Cell) -> str:
    return plain(cell.value) if isinstance(cell.value, float) else cell.text[:40]
