"""Where everything stands in the workbook, so that one sheet can point into another."""

from __future__ import annotations

from dataclasses import dataclass

from marker.reporting.decisions import Decisions
from marker.reporting.paper import Key, MarkedPaper

MARKS, WORKING, REFER, ITEMS, RECORD, CHANGES, POINTS = "Marks", "Working", "Refer", "Items", "Record", "Changes", "Points"

# Columns of the sheet Refer, from 1.
R_CANDIDATE, R_PART, R_TYPED, R_WHY, R_FIRST, R_SECOND, R_OURS, R_OUT_OF, R_MARK, R_NOTE, R_STATE, R_TYPED_KEY, R_OPEN_KEY = range(1, 14)
REFER_HEADINGS = (
    "Candidate",
    "Part",
    "Response as typed",
    "Why it is referred",
    "One possibility",
    "The other",
    "Provisional mark",
    "Out of",
    "Your mark",
    "Your note",
    "State",
)
POINTS_HEADINGS = ("candidate", "part", "mark", "out of", "referred", "points")
POINT_BETWEEN = " | "
"""Between point, mark, maximum and reason, on a line of the column "points"."""

# Defined names used in formulas.
KEYS_TYPED, KEYS_OPEN, MARKS_TYPED, STATES = "keys_typed", "keys_open", "marks_typed", "states"
CANDIDATES, PART_NAMES, MAXIMA = "candidate_list", "part_list", "maximum_list"

SPARE_ROWS = 24
"""Rows at the foot of Refer for marks the teacher wishes to change though nothing was referred."""

SETTLED, CHANGED, OPEN = "settled", "changed", "to settle"


def key_text(candidate: str, part: str) -> str:
    """What ties a row of Refer to a cell of Marks."""
    return f"{candidate}|{part}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Rows and columns, from 1. `extra` are the responses whose kept decision has no referral any more: first of the spare rows."""

    groups: bool
    parts: int
    candidates: int
    referrals: int
    extra: tuple[Key, ...] = ()
    out_of_row: int = 6
    header_row: int = 7
    refer_header: int = 5

    @property
    def first_row(self) -> int:
        return self.header_row + 1

    @property
    def last_row(self) -> int:
        return self.header_row + max(self.candidates, 1)

    @property
    def first_part(self) -> int:
        return 3 if self.groups else 2

    @property
    def last_part(self) -> int:
        return self.first_part + self.parts - 1

    @property
    def total(self) -> int:
        return self.last_part + 1

    @property
    def percent(self) -> int:
        return self.last_part + 2

    @property
    def to_settle(self) -> int:
        return self.last_part + 3

    @property
    def refer_first(self) -> int:
        return self.refer_header + 1

    @property
    def refer_last(self) -> int:
        """Last row of referrals; the heading row itself when there are none."""
        return self.refer_header + self.referrals

    @property
    def spare_heading(self) -> int:
        return self.refer_last + 2

    @property
    def spare_first(self) -> int:
        return self.spare_heading + 1

    @property
    def spare_last(self) -> int:
        return self.spare_heading + SPARE_ROWS + len(self.extra)


def plan(marked: MarkedPaper, keep: Decisions | None) -> Layout:
    """The layout of a workbook for one marked paper."""
    referred = {(c, r.part) for c, r in marked.referrals()}
    known, parts = set(marked.candidates), {p for p, _ in marked.parts}
    made = keep.made if keep is not None else {}
    extra = tuple(k for k in made if k not in referred and k[0] in known and k[1] in parts)
    return Layout(
        groups=any(marked.groups.get(c) for c in marked.candidates),
        parts=len(marked.parts),
        candidates=len(marked.candidates),
        referrals=len(referred),
        extra=extra,
    )
