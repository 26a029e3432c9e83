"""What the store hands on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from marker.results import PartResult


class Role(StrEnum):
    TEACHER = "teacher"
    MODERATOR = "moderator"
    STUDENT = "student"


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    id: int
    name: str
    role: Role
    active: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class SchemeCopy:
    """A scheme as it was read, so that it can be compiled again without its file.

    convention   the convention asked for beside the scheme's own, "" for none;  beside  name -> text of files the scheme reads
    """

    name: str
    text: str
    sha256: str
    convention: str
    beside: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class TestHead:
    """One class test as lists show it. `candidates`, `referred` and `open` are counts of candidates and responses."""

    id: int
    title: str
    scheme_name: str
    responses_name: str
    marked_at: str
    convention: str
    practice: bool
    half_marks: bool
    maximum: float
    candidates: int
    referred: int
    open: int

    __test__ = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Alike referred responses to one part. `first` is the id of the first of them; `open` how many wait."""

    part_id: int
    part: str
    alike: str
    count: int
    open: int
    first: int
    candidate: str
    result: PartResult

    @property
    def settled(self) -> bool:
        return self.open == 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A decision as recorded. `action`: settle, undo, kept or lapsed; `mark` None where the provisional mark stands again."""

    id: int
    response_id: int
    action: str
    mark: float | None
    choice: str
    reason: str
    batch: str
    who: str
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One response of a group, or by itself. `stands` is the mark that counts; `last` the last decision about it."""

    id: int
    candidate: str
    part: str
    part_id: int
    alike: str
    referred: bool
    mark: float
    maximum: float
    stands: float
    settled: bool
    last: Entry | None
