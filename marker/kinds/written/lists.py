"""The list rule: a question that wants n points, answered with more.

"wrong cancels right": each point that is wrong beyond doubt takes one right point away. "first": only the first n points count.
"best": extra ones are passed over.
Points the scheme lists as neutral are never counted as wrong.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.kinds.written.judge import judge
from marker.kinds.written.match import listed
from marker.kinds.written.part import WrittenPart
from marker.kinds.written.prose import read
from marker.kinds.written.text import Sort, words
from marker.results import Outcome


@dataclass(frozen=True, slots=True, kw_only=True)
class ListFinding:
    """`lines` to be marked; `cancelled` right points that surely go; `unsure` further ones that may; and why."""

    lines: tuple[str, ...]
    cancelled: int = 0
    unsure: int = 0
    wrong: tuple[str, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Point:
    """One point of a list; line from 1, columns from 0."""

    line: int
    at: tuple[int, int]
    text: str


def points(lines: Sequence[str]) -> tuple[Point, ...]:
    """The points of a list: cut at line ends, stops, commas and "and"; numbering is left out."""
    found: list[Point] = []
    for number, line in enumerate(lines, 1):
        start = 0
        for word in words([line]):
            cut = word.sort in (Sort.STOP, Sort.COMMA) or word.text == "and"
            if cut and word.typed:
                found.append(Point(number, (start, word.at[0]), line[start : word.at[0]]))
                start = word.at[1]
        found.append(Point(number, (start, len(line)), line[start:]))
    return tuple(p for p in found if any(len(w.text) > 1 for w in words([p.text])))


def apply(part: WrittenPart, lines: Sequence[str]) -> ListFinding:
    """The list rule on a response; nothing happens when no more points are offered than were asked for."""
    offered = points(lines)
    if part.wants is None or len(offered) <= part.wants:
        return ListFinding(lines=tuple(lines))
    if part.list_rule == "first":
        reason = f"More than {part.wants} points are offered: the first {part.wants} count."
        return ListFinding(lines=_only(lines, offered[: part.wants]), reason=reason)
    if part.list_rule == "best":
        return ListFinding(lines=tuple(lines))
    wrong: list[str] = []
    unsure: list[str] = []
    for point in offered:
        kind = _kind(part, point.text)
        if kind in ("wrong", "unsure"):
            (wrong if kind == "wrong" else unsure).append(point.text.strip(" \t-*•·"))
    reason = _reason(part, wrong, unsure)
    return ListFinding(lines=tuple(lines), cancelled=len(wrong), unsure=len(unsure), wrong=tuple(wrong), reason=reason)


def _only(lines: Sequence[str], kept: Sequence[Point]) -> tuple[str, ...]:
    """The lines up to the last point kept, places unchanged."""
    last = kept[-1]
    return tuple(line if n < last.line else line[: last.at[1]] if n == last.line else "" for n, line in enumerate(lines, 1))


def _kind(part: WrittenPart, point: str) -> str:
    """ "right", "wrong", "neutral", or "unsure" for a point no wording of the scheme covers."""
    prose = read((point,), part.known)
    if prose.blank or not any(True for _ in prose.mentions()):
        return "neutral"
    if listed(part.ignore, prose, part):
        return "neutral"
    if listed(part.wrong, prose, part):
        return "wrong"
    findings = [judge(i, prose, part) for i in part.ideas]
    if any(f.outcome is Outcome.EARNED for f in findings):
        return "right"
    return "wrong" if any(f.code == "contradicted" for f in findings) else "unsure"


def _reason(part: WrittenPart, wrong: Sequence[str], unsure: Sequence[str]) -> str:
    parts = [f"{part.wants} wanted, more offered."]
    if wrong:
        parts.append(f"Wrong, and each cancels a right point: {'; '.join(f'“{w}”' for w in wrong)}.")
    if unsure:
        parts.append(f"May be wrong: {'; '.join(f'“{u}”' for u in unsure)}.")
    return " ".join(parts) if wrong or unsure else ""
