"""What marking one response gives: points, faults, lines and, where a person must decide, a referral.

These frozen types are the wall between awarding and everything that shows or stores marks
(workbook, records, feedback, pages). They hold plain values only, so they can be pickled,
written as JSON and compared.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any


class Outcome(StrEnum):
    """What became of one marking point."""

    EARNED = "earned"
    NOT_EARNED = "not earned"
    REFERRED = "referred"


@dataclass(frozen=True, slots=True, kw_only=True)
class Award:
    """One marking point: mark given (provisional when referred), its worth, and the reason as a teacher would write it.

    lines    numbers, from 1, of the candidate's lines that are the evidence; empty when there is none.
    fault    code of the one fault that cost the point, when a single fault did ("unit-missing"); "" otherwise.
    """

    point: str
    kind: str
    mark: float
    maximum: float
    outcome: Outcome
    reason: str
    lines: tuple[int, ...] = ()
    followed_through: bool = False
    fault: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultFound:
    """A fault that a working line shows. `code` is stable (rubrics/faults.toml); `sure` is False for "may be"."""

    code: str
    line: int | None
    teacher: str
    student: str
    sure: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Possibility:
    """One way to understand the response, and the mark of the part if that is right."""

    text: str
    mark: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Referral:
    """A decision handed to a person: why, and what each possibility is worth."""

    reason: str
    possibilities: tuple[Possibility, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineReport:
    """One typed line: how it was read, and what was found.

    verdict    "right", "follows" (right on the candidate's own value), "wrong", "data", "value", "remark",
               "withdrawn", "unread" or "unused"
    columns    (start, end) from 1, end excluded, of the characters the verdict is about; None for the whole line
    """

    number: int
    text: str
    readings: tuple[str, ...] = ()
    verdict: str = "remark"
    note: str = ""
    columns: tuple[int, int] | None = None
    mathml: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnValue:
    """A value the candidate found, for use in later parts. `value` is in SI units; `typed` is as the candidate wrote it."""

    symbol: str
    value: float
    typed: str
    unit: str = ""
    right: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class PartResult:
    """One candidate's response to one part, marked. `mark` is provisional when `referral` is set."""

    part: str
    mark: float
    maximum: float
    awards: tuple[Award, ...] = ()
    faults: tuple[FaultFound, ...] = ()
    lines: tuple[LineReport, ...] = ()
    referral: Referral | None = None
    own: tuple[OwnValue, ...] = ()
    notes: tuple[str, ...] = field(default=())

    @property
    def referred(self) -> bool:
        return self.referral is not None


def as_record(candidate: str, result: PartResult) -> Mapping[str, Any]:
    """The stable JSON shape of one marked response (one line of the records file)."""
    return {
        "candidate": candidate,
        "part": result.part,
        "mark": _plain(result.mark),
        "max": _plain(result.maximum),
        "referred": None
        if result.referral is None
        else {
            "reason": result.referral.reason,
            "possibilities": [{"text": p.text, "mark": _plain(p.mark)} for p in result.referral.possibilities],
        },
        "points": [
            {
                "point": a.point,
                "kind": a.kind,
                "mark": _plain(a.mark),
                "max": _plain(a.maximum),
                "outcome": a.outcome.value,
                "reason": a.reason,
                "lines": list(a.lines),
                "followed_through": a.followed_through,
                "fault": a.fault,
            }
            for a in result.awards
        ],
        "faults": [
            {"kind": f.code, "line": f.line, "teacher": f.teacher, "student": f.student, "sure": f.sure} for f in result.faults
        ],
        "lines": [
            {
                "line": x.number,
                "text": x.text,
                "readings": list(x.readings),
                "verdict": x.verdict,
                "note": x.note,
                "columns": None if x.columns is None else list(x.columns),
                "mathml": x.mathml,
            }
            for x in result.lines
        ],
        "own": [
            {"symbol": o.symbol, "value": o.value, "typed": o.typed, "unit": o.unit, "right": o.right} for o in result.own
        ],
        "notes": list(result.notes),
    }


def _plain(mark: float) -> int | float:
    """Whole marks as whole numbers."""
    return int(mark) if float(mark).is_integer() else mark
