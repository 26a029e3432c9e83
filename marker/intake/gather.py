"""Rows of a table to responses: one row per candidate, one column per part. A bad row or cell is set aside, not the class."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from marker.errors import Problem, ResponsesError
from marker.intake.headers import Columns, columns
from marker.intake.model import LONGEST_CANDIDATE, LONGEST_RESPONSE, Cell, Key, Responses, Row, Table
from marker.intake.typed import one_line, typed_lines

_EMPTY = Cell()
_NUMBERS_NOTE = (
    "{place}: {n} cells hold numbers, not text; a final zero as typed (5.00) may not be there. Format the columns as text to keep it."
)
_RETYPE = "Format the column as text and type the response again, or mark it yourself."


@dataclass(slots=True)
class Gathering:
    """What has been gathered so far; becomes Responses at the end."""

    candidates: dict[str, str] = field(default_factory=dict)
    lines: dict[Key, tuple[str, ...]] = field(default_factory=dict)
    groups: dict[str, str] = field(default_factory=dict)
    doubts: dict[Key, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    numbers: int = 0

    def add(self, candidate: str, part: str, lines: tuple[str, ...], where: str) -> None:
        """Keep one response; one that is too long is kept and handed to a person."""
        self.lines[candidate, part] = lines
        size = sum(map(len, lines))
        if size > LONGEST_RESPONSE:
            self.doubt(candidate, part, where, f"a response of {size:,} characters", f"at most {LONGEST_RESPONSE:,}")

    def doubt(self, candidate: str, part: str, where: str, seen: str, expected: str = "", mend: str = "") -> None:
        self.doubts[candidate, part] = seen
        mended = f"{mend} " if mend else ""
        self.problems.append(
            Problem(where=where, seen=seen, expected=expected, mend=f"{mended}The response of {candidate} to {part} is referred to you.")
        )

    def finish(self, parts: Sequence[str]) -> Responses:
        names = tuple(self.candidates.values())
        full = {(c, p): self.lines.get((c, p), ()) for c in names for p in parts}
        return Responses(
            candidates=names,
            lines=full,
            groups=dict(self.groups),
            doubts=dict(self.doubts),
            problems=tuple(self.problems),
            notes=tuple(self.notes),
        )


def gather(table: Table, parts: Sequence[str]) -> Responses:
    """The responses of a table. Raises ResponsesError for a fault of the headings, no candidates, or one candidate in two rows."""
    places = columns(table, parts)
    kept = Gathering(notes=[*table.notes, *places.notes])
    twice: list[Problem] = []
    first_row: dict[str, int] = {}
    for row in table.rows:
        candidate = _candidate(table, row, places, kept)
        if candidate is None:
            continue
        before = first_row.setdefault(candidate.casefold(), row.number)
        if before != row.number:
            twice.append(_twice(table.at(row.number, places.candidate), candidate, before))
            continue
        kept.candidates[candidate.casefold()] = candidate
        _keep_row(table, row, candidate, places, kept)
    if twice:
        raise ResponsesError(twice)
    if not kept.candidates:
        raise ResponsesError(_nobody(table, kept))
    kept.problems[:0] = missing_parts(table.place, places.missing)
    if kept.numbers:
        kept.notes.append(_NUMBERS_NOTE.format(place=table.place, n=kept.numbers))
    return kept.finish(parts)


def missing_parts(place: str, parts: Sequence[str]) -> list[Problem]:
    """One problem that names every part nobody could answer; none when there is no such part."""
    if not parts:
        return []
    names = ", ".join(f'"{part}"' for part in parts)
    add = f"a column headed {names}" if len(parts) == 1 else "columns with these headings"
    return [
        Problem(
            where=place,
            seen=f"nothing for part{'s' if len(parts) > 1 else ''} {names}",
            mend=f"Every candidate counts as having no response there; add {add} if they answered.",
        )
    ]


def _candidate(table: Table, row: Row, places: Columns, kept: Gathering) -> str | None:
    """The candidate of a row, None for an empty row or one that is set aside."""
    filled = [i for i, cell in enumerate(row.cells) if cell.text.strip() or cell.doubt]
    if not filled:
        return None
    if filled[-1] >= len(table.header):
        kept.problems.append(_too_wide(table, row, filled[-1] + 1))
        return None
    name = one_line(_cell(row, places.candidate).text)
    where = table.at(row.number, places.candidate)
    if not name:
        if any(_cell(row, column).text.strip() for _, column in places.parts):
            kept.problems.append(
                Problem(where=where, seen="responses without a candidate", mend="Fill in the candidate; this row was not marked.")
            )
        return None
    if len(name) > LONGEST_CANDIDATE:
        seen = f"a candidate of {len(name):,} characters"
        kept.problems.append(
            Problem(
                where=where,
                seen=seen,
                expected=f"at most {LONGEST_CANDIDATE}",
                mend="Put the candidate's number there; this row was not marked.",
            )
        )
        return None
    return name


def _keep_row(table: Table, row: Row, candidate: str, places: Columns, kept: Gathering) -> None:
    for part, column in places.parts:
        cell = _cell(row, column)
        where = table.at(row.number, column)
        kept.add(candidate, part, typed_lines(cell.text), where)
        kept.numbers += cell.number
        if cell.doubt:
            kept.doubt(candidate, part, where, cell.doubt, mend=_RETYPE)
    if places.group is not None and (group := one_line(_cell(row, places.group).text)):
        kept.groups[candidate] = group


def _cell(row: Row, column: int) -> Cell:
    return row.cells[column] if column < len(row.cells) else _EMPTY


def _too_wide(table: Table, row: Row, width: int) -> Problem:
    return Problem(
        where=f"{table.place}, row {row.number}",
        seen=f"{width} cells",
        expected=f"{len(table.header)}, as in the headings",
        mend="A cell that holds the separator or a line end needs double quotes round it; this row was not marked.",
    )


def _twice(where: str, candidate: str, before: int) -> Problem:
    return Problem(
        where=where,
        seen=f'candidate "{candidate}" is already in row {before}',
        expected="one row for each candidate",
        mend="Keep the row that counts and take the other out, or correct the candidate.",
    )


def _nobody(table: Table, kept: Gathering) -> list[Problem]:
    nobody = Problem(
        where=table.place,
        seen="headings and no candidate under them",
        expected="one row for each candidate",
        mend="Check that the right file or sheet was exported.",
    )
    return [nobody, *kept.problems]
