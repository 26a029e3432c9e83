"""The list rule: a question that wants n points, answered with more.

"wrong cancels right": each wrong point beyond doubt takes one right point away. "first": only the first n points count. "best": extra ones are passed over.
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
    reason: str = ""


def points(lines: Sequence[str]) -> tuple[str, ...]:
    """The points of a list: cut at line ends, stops, commas and "and"; numbering is left out."""
    found: list[str] = []
    for line in lines:
        start = 0
        for word in words([line]):
            cut = word.sort in (Sort.STOP, Sort.COMMA) or word.text == "and"
            if cut and word.typed:
                found.append(line[start : word.at[0]])
                start = word.at[1]
        found.append(line[start:])
    return tuple(p.strip(" \t-*•·") for p in found if any(c.isalpha() for c in p))


def apply(part: WrittenPart, lines: Sequence[str]) -> ListFinding:
    """The list rule on a response; nothing happens when no more points are offered than were asked for."""
    offered = points(lines)
    if part.wants is None or len(offered) <= part.wants:
        return ListFinding(lines=tuple(lines))
    if part.list_rule == "first":
        return ListFinding(lines=offered[: part.wants], reason=f"More than {part.wants} points are offered: the first {part.wants} count.")
    if part.list_rule == "best":
        return ListFinding(lines=tuple(lines))
    wrong: list[str] = []
    unsure: list[str] = []
    for point in offered:
        kind = _kind(part, point)
        if kind in ("wrong", "unsure"):
            (wrong if kind == "wrong" else unsure).append(point)
    return ListFinding(lines=tuple(lines), cancelled=len(wrong), unsure=len(unsure), reason=_reason(part, wrong, unsure))


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

