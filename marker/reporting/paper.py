"""A marked class test: everything a workbook, the records and the feedback sheets are written from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from marker.results import PartResult

Key = tuple[str, str]
"""(candidate, part)"""


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkedPaper:
    """One class test, marked.

    scheme_file, responses_file    names without folders; the sha256 fields are of the files' bytes, in hexadecimal
    convention, rulings            its name, and (ruling, value, source) of every ruling in force
    when                           date and time of marking, as text; this package reads no clock
    parts                          (name, maximum) in paper order
    candidates                     in class order; `groups` gives a candidate's class where it is known
    results                        (candidate, part) -> result; a response without a result has no mark
    half_marks                     True when a mark may be a half
    notes                          what else the record should say: rows set aside, an encoding guessed
    """

    title: str
    scheme_file: str
    scheme_sha256: str
    responses_file: str
    responses_sha256: str
    convention: str
    rulings: tuple[tuple[str, str, str], ...]
    version: str
    when: str
    parts: tuple[tuple[str, float], ...]
    candidates: tuple[str, ...]
    results: Mapping[Key, PartResult]
    groups: Mapping[str, str] = field(default_factory=dict)
    half_marks: bool = False
    notes: tuple[str, ...] = ()

    @property
    def maximum(self) -> float:
        """Marks of the whole paper."""
        return sum(maximum for _, maximum in self.parts)

    def responses(self) -> Iterator[tuple[str, PartResult]]:
        """(candidate, result) in class order, and for each candidate in paper order."""
        for candidate in self.candidates:
            for part, _ in self.parts:
                result = self.results.get((candidate, part))
                if result is not None:
                    yield candidate, result

    def referrals(self) -> tuple[tuple[str, PartResult], ...]:
        """(candidate, result) of each referred response, by part and then by candidate, so that like decisions stand together."""
        found = []
        for part, _ in self.parts:
            for candidate in self.candidates:
                result = self.results.get((candidate, part))
                if result is not None and result.referral is not None:
                    found.append((candidate, result))
        return tuple(found)


def possible_mark(mark: float, maximum: float, half_marks: bool) -> bool:
    """True for a mark from 0 to the maximum, whole or, where half marks are given, a half."""
    return 0 <= mark <= maximum and (mark * (2 if half_marks else 1)) % 1 == 0


def mark_text(mark: float) -> str:
    """A mark without a needless decimal: 2, 1.5."""
    return f"{mark:g}"


def paper_of_results(title: str, parts: Sequence[tuple[str, float]], results: Iterable[tuple[str, PartResult]]) -> MarkedPaper:
    """A marked paper put together from stored results, as for feedback from a records file; what a record does not hold is empty.

    parts    (name, maximum) in paper order
    results  (candidate, result); candidates stand in the order in which they first come
    """
    found = {(candidate, result.part): result for candidate, result in results}
    return MarkedPaper(
        title=title,
        scheme_file="",
        scheme_sha256="",
        responses_file="",
        responses_sha256="",
        convention="",
        rulings=(),
        version="",
        when="",
        parts=tuple(parts),
        candidates=tuple(dict.fromkeys(candidate for candidate, _ in found)),
        results=found,
        half_marks=any(r.mark % 1 for r in found.values()),
    )
