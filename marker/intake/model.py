"""What intake hands on: who answered, what they typed, and what needs a teacher's eye."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from marker.errors import Problem

Key = tuple[str, str]
"""(candidate, part)"""

LONGEST_RESPONSE = 10_000
"""Characters one response may have before it is handed to a person unread."""

LONGEST_CANDIDATE = 100
"""Characters a candidate's number or name may have."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Responses:
    """The responses of a class to one paper, as typed.

    candidates  in the order of the file, each once
    lines       every (candidate, part) -> typed lines without blank ones; () where nothing was typed
    groups      candidate -> class or teaching group, where the file says
    doubts      (candidate, part) -> why the text may not be what was typed, or is too long to read; such a response is referred
    problems    rows, cells and parts set aside or in doubt, each with its place and mend; the rest of the class is unaffected
    notes       things a teacher should know and need not mend: columns not read, an encoding guessed
    file        name of the file without its folder; `sha256` of its bytes, in hexadecimal
    """

    candidates: tuple[str, ...]
    lines: Mapping[Key, tuple[str, ...]]
    groups: Mapping[str, str] = field(default_factory=dict)
    doubts: Mapping[Key, str] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    notes: tuple[str, ...] = ()
    file: str = ""
    sha256: str = ""

    def of(self, candidate: str, part: str) -> tuple[str, ...]:
        """The lines of one response; () when there is none."""
        return self.lines.get((candidate, part), ())


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell as text. `doubt` says why the text may not be what was typed; `number` is True for a numeric cell."""

    text: str = ""
    doubt: str = ""
    number: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table: its number as a spreadsheet shows it, from 1, and its cells."""

    number: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A heading row and the rows under it. `file` and `sheet` name the place ("" for a file without sheets)."""

    file: str
    sheet: str = ""
    header: tuple[str, ...]
    header_row: int = 1
    rows: tuple[Row, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def place(self) -> str:
        return f'{self.file}, sheet "{self.sheet}"' if self.sheet else self.file

    def at(self, row: int, column: int) -> str:
        """Where one cell is: `sheet "Class 7", cell D12` or `row 12, column "2b"`. `column` counts from 0."""
        if self.sheet:
            return f"{self.place}, cell {letters(column)}{row}"
        return f'{self.place}, row {row}, column "{self.header[column]}"'


def letters(column: int) -> str:
    """A column's letters in a spreadsheet: 0 -> A, 26 -> AA."""
    name = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(65 + rest) + name
    return name
