"""Everything this package raises on purpose.

MarkerError
├── SchemeError       the teacher's scheme or convention file: a list of problems, each with its place and mend
├── ResponsesError    the responses file as a whole: nothing can be marked
├── WorkbookError     a workbook or worksheet handed back to us: named by its cell
├── RecordsError      a records file handed back to us: named by its line
└── OutputError       the result cannot be written

A candidate's writing is never an error: it becomes an unread line, a fault or a referral.
"""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing to mend: where it is, what was seen, what was expected, and the mend."""

    where: str
    seen: str
    expected: str = ""
    mend: str = ""

    def sentence(self) -> str:
        middle = self.seen if not self.expected else f"{self.seen}; expected {self.expected}"
        return f"{self.where}: {middle}." + (f" {self.mend}" if self.mend else "")


MOST_TOLD = 12


class MarkerError(Exception):
    """A refusal a teacher can act on. `problems` is never empty."""

    def __init__(self, problems: Iterable[Problem] | Problem) -> None:
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__(self.problems)

    def __str__(self) -> str:
        """The first problems a sentence each, and how many more there are."""
        told = [p.sentence() for p in self.problems[:MOST_TOLD]]
        more = len(self.problems) - len(told)
        return "\n".join([*told, *([f"And {more} more."] if more else [])])


class SchemeError(MarkerError):
    pass


class ResponsesError(MarkerError):
    pass


class WorkbookError(MarkerError):
    pass


class RecordsError(MarkerError):
    pass


class OutputError(MarkerError):
    pass
