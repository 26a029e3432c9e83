"""What moderation works on: one mark by one marker, and a set of them with the parts and classes they belong to."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import NoReturn

from marker.errors import Problem, WorkbookError

Response = tuple[str, str]
"""(candidate, part): what a marker gives one mark to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PointMark:
    """The mark given to one marking point, and what the point is worth."""

    name: str
    mark: float
    maximum: float


def point_marks(points: Iterable[tuple[str, float, float]]) -> tuple[PointMark, ...]:
    """Points from (name, mark, maximum), in order; a name that comes again is numbered, "answer", "answer 2"."""
    seen: dict[str, int] = {}
    found = []
    for typed, mark, maximum in points:
        name = " ".join(typed.split())
        seen[name] = seen.get(name, 0) + 1
        found.append(PointMark(name=name if seen[name] == 1 else f"{name} {seen[name]}", mark=mark, maximum=maximum))
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One mark by one marker. `where` is the file, sheet and cell (or line) it was read from.

    text      the response as typed, "" when not known;  faults  (code, the line that shows it) of the faults named
    order     the marker's own order of marking, None when not known;  referred  True when the mark is provisional
    """

    candidate: str
    part: str
    mark: float
    maximum: float
    marker: str
    where: str = ""
    points: tuple[PointMark, ...] = ()
    faults: tuple[tuple[str, str], ...] = ()
    text: str = ""
    order: float | None = None
    referred: bool = False

    @property
    def response(self) -> Response:
        return (self.candidate, self.part)


@dataclass(frozen=True)
class MarkSet:
    """Marks of one or several markers. At most one mark for each candidate, part and marker.

    marks    in the order of the file;  parts  name -> maximum, in paper order;  classes  candidate -> class, where known
    name     the file, for messages;  facts  what the marks workbook says of how they came about: scheme, convention and so on
    """

    marks: tuple[Mark, ...]
    parts: Mapping[str, float]
    classes: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    name: str = "marks"
    facts: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    @cached_property
    def candidates(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(m.candidate for m in self.marks))

    @cached_property
    def markers(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(m.marker for m in self.marks))

    @cached_property
    def by_response(self) -> Mapping[Response, tuple[Mark, ...]]:
        found: dict[Response, list[Mark]] = {}
        for mark in self.marks:
            found.setdefault(mark.response, []).append(mark)
        return MappingProxyType({k: tuple(v) for k, v in found.items()})

    @cached_property
    def maximum(self) -> float:
        return sum(self.parts.values())

    @cached_property
    def totals(self) -> Mapping[str, float]:
        """Total of each candidate over all parts; where several markers marked a response, their mean counts."""
        totals = dict.fromkeys(self.candidates, 0.0)
        for (candidate, _), given in self.by_response.items():
            totals[candidate] += sum(m.mark for m in given) / len(given)
        return MappingProxyType(totals)

    def of_marker(self, marker: str) -> Mapping[Response, Mark]:
        return {m.response: m for m in self.marks if m.marker == marker}

    def first_marker(self, candidate: str) -> str:
        """The marker who gave most of the candidate's marks (the first of them in the file when even)."""
        given = [m.marker for m in self.marks_of(candidate)]
        return max(dict.fromkeys(given), key=given.count) if given else ""

    def marks_of(self, candidate: str) -> tuple[Mark, ...]:
        return self._by_candidate.get(candidate, ())

    @cached_property
    def _by_candidate(self) -> Mapping[str, tuple[Mark, ...]]:
        found: dict[str, list[Mark]] = {}
        for mark in self.marks:
            found.setdefault(mark.candidate, []).append(mark)
        return {k: tuple(v) for k, v in found.items()}


def refuse(problems: Iterable[Problem]) -> None:
    """Raise WorkbookError with all the problems, if there is any."""
    found = tuple(problems)
    if found:
        raise WorkbookError(found)


def refuse_one(where: str, seen: str, expected: str = "", mend: str = "") -> NoReturn:
    raise WorkbookError(Problem(where=where, seen=seen, expected=expected, mend=mend))


def plain(number: float, places: int = 3) -> str:
    """A number for a sentence: 2.0 as 2, 0.3333 as 0.333."""
    text = f"{number:.{places}f}".rstrip("0").rstrip(".") if places else f"{number:.0f}"
    return "0" if text in ("-0", "") else text


def signed(number: float, places: int = 2) -> str:
    """A difference for a sentence: +0.25, −1.40, 0.00."""
    text = f"{number:+.{places}f}"
    return text[1:] if float(text) == 0 else text.replace("-", "−")
