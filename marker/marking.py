"""Marking as one pure function, and a whole candidate or class with it.

`mark_response` is what the command line, the pages, the process pool and the tests all call.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from marker.awarding.recurring import settle_recurring
from marker.collecting import collected_seldom
from marker.results import LineReport, OwnValue, PartResult, Possibility, Referral
from marker.scheme.paper import CompiledPart, Paper

MOST_CHARACTERS = 20_000
MOST_LINES = 200

Responses = Mapping[tuple[str, str], Sequence[str]]


@dataclass(frozen=True, slots=True)
class Carried:
    """A candidate's own values so far, under "part.symbol"."""

    values: Mapping[str, OwnValue] = field(default_factory=dict)

    def after(self, result: PartResult) -> Carried:
        """With the values found in one more part."""
        if not result.own:
            return self
        more = dict(self.values)
        count: dict[str, int] = {}
        for own in result.own:
            key = f"{result.part}.{own.symbol}"
            number = count.get(key, 0)
            count[key] = number + 1
            more[f"{key}#{number}" if number else key] = own
        return Carried(more)


NOTHING_CARRIED = Carried()


def mark_response(part: CompiledPart, lines: Sequence[str], carried: Carried = NOTHING_CARRIED) -> PartResult:
    """Marks one response to one part. Pure and deterministic: no file, clock or global; any text is accepted.

    lines    the typed lines, in order;  carried  the candidate's own values of earlier parts
    Returns the points, faults, lines and, where a person must decide, a referral with a provisional mark.
    """
    if sum(map(len, lines)) > MOST_CHARACTERS or len(lines) > MOST_LINES:
        return _too_long(part, lines)
    if part.kind.carries:
        return part.kind.mark(part.compiled, tuple(lines), carried.values)
    return _by_itself(part, tuple(lines))


@lru_cache(maxsize=20_000)
def _by_itself(part: CompiledPart, lines: tuple[str, ...]) -> PartResult:
    """The result of a part into which nothing is carried, remembered: its lines alone decide it."""
    return part.kind.mark(part.compiled, lines, NOTHING_CARRIED.values)


def _too_long(part: CompiledPart, lines: Sequence[str]) -> PartResult:
    length = sum(map(len, lines))
    counted = f"{len(lines):,} line{'s' if len(lines) != 1 else ''}"
    return PartResult(
        part=part.name,
        mark=0,
        maximum=part.marks,
        referral=Referral(
            reason=f"the response has {length:,} characters in {counted}, too long to be marked here",
            possibilities=(Possibility(text="no mark", mark=0), Possibility(text="full marks", mark=part.marks)),
        ),
    )


def mark_candidate(paper: Paper, responses: Mapping[str, Sequence[str]]) -> tuple[PartResult, ...]:
    """All parts of one candidate in the paper's order, own values carried on, recurring faults charged as ruled.

    responses  part name -> typed lines; a missing part is a blank.
    """
    carried = NOTHING_CARRIED
    results = []
    for part in paper.parts:
        result = _safely(part, responses.get(part.name, ()), carried)
        carried = carried.after(result)
        results.append(result)
    return settle_recurring(tuple(results), {p.name: p for p in paper.parts})


def _safely(part: CompiledPart, lines: Sequence[str], carried: Carried) -> PartResult:
    """One response that trips the engine is handed to a person, and the rest of the class goes on."""
    try:
        return mark_response(part, lines, carried)
    except Exception as error:
        return PartResult(
            part=part.name,
            mark=0,
            maximum=part.marks,
            lines=tuple(LineReport(number=i, text=t, verdict="unread") for i, t in enumerate(lines, 1)),
            referral=Referral(
                reason=f"this response could not be marked (a fault of the program, {type(error).__name__}); please mark it by hand",
                possibilities=(Possibility(text="no mark", mark=0), Possibility(text="full marks", mark=part.marks)),
            ),
            notes=(f"{type(error).__name__}: {error}",),
        )


def mark_class(paper: Paper, candidates: Iterable[str], responses: Responses) -> dict[tuple[str, str], PartResult]:
    """Every candidate's results under (candidate, part)."""
    names = [p.name for p in paper.parts]
    out: dict[tuple[str, str], PartResult] = {}
    with collected_seldom():
        for candidate in candidates:
            typed = {n: responses.get((candidate, n), ()) for n in names}
            out.update(((candidate, r.part), r) for r in mark_candidate(paper, typed))
    return out
