"""What a line is cut into: stretches that are read as one statement each, and the words around them."""

from __future__ import annotations

from dataclasses import dataclass, field

from marker.reading.tokens import Edge


@dataclass(slots=True)
class Segment:
    """Characters start to end of the cleaned text that make one statement.

    relations   (start, end, sign) of each relation inside it
    overrides   where a word or phrase stands: the edges that stand for it
    broken      words cut it off inside a bracket
    leads       where the sign stands with which it goes on from the value before, -1 when it does not
    """

    start: int
    end: int
    relations: tuple[tuple[int, int, str], ...] = ()
    overrides: dict[int, tuple[Edge, ...]] = field(default_factory=dict)
    before: str = ""
    label: str = ""
    alternative: bool = False
    final: bool = False
    tentative: bool = False
    unfinished: bool = False
    withdrawn: bool = False
    broken: bool = False
    leads: int = -1


@dataclass(slots=True)
class Prose:
    """What was found in a line. withdraws  which earlier lines go: "", "last" or "all";  points  spans of pairs such as (20, 7.4)."""

    segments: list[Segment]
    words: str
    withdraws: str = ""
    points: tuple[tuple[int, int], ...] = ()


def words_before(segments: list[Segment], said: list[tuple[int, int, str]]) -> None:
    """Gives each segment the words that stand between it and the one before."""
    previous = 0
    for segment in segments:
        between = [t for start, end, t in said if start >= previous and end <= segment.start and any(c.isalpha() for c in t)]
        segment.before = " ".join(between).lower()
        previous = segment.end
