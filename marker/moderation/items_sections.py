"""The item analysis as titled tables, for the workbook and the page alike."""

from __future__ import annotations

import math
from collections.abc import Sequence

from marker.moderation.items import Boundary, Item, ItemAnalysis
from marker.moderation.model import plain
from marker.moderation.sections import COUNT, GENERAL, PERCENT, TWO, Section, Value, shown


def paper_section(found: ItemAnalysis) -> Section:
    p = found.paper
    name = "KR-20 (Cronbach's alpha of 0/1 marks)" if p.zero_one else "Cronbach's alpha"
    uses = "; ".join(f"{shown(use.least, TWO)} for {use.use}: {'reached' if met else 'not reached'}" for use, met in p.uses)
    rows: tuple[tuple[Value, Value, Value], ...] = (
        ("Candidates", str(p.candidates), f"left out for want of a mark: {', '.join(found.left_out)}" if found.left_out else ""),
        ("Mean total", p.mean, f"of {plain(p.maximum)}"),
        ("Standard deviation of totals", p.deviation, "divisor n − 1"),
        (name, p.alpha.value, f"95 % interval {shown(p.alpha.low, TWO)} to {shown(p.alpha.high, TWO)}; {uses}"),
        ("Standard error of measurement", p.sem, "marks; SD × √(1 − alpha)"),
    )
    return Section(
        title="Paper",
        heads=("Figure", "Value", "Note"),
        rows=rows,
        formats=(GENERAL, TWO, GENERAL),
        note="Variances of parts and totals have the same divisor (matched), so that n and n − 1 give the same alpha.",
    )


HEADS = ("Candidates", "Out of", "Mean", "Facility", "Discrimination", "With the rest", "Alpha without", "No response", "Flags")
FORMATS = (COUNT, GENERAL, TWO, TWO, TWO, TWO, TWO, PERCENT, GENERAL)


def parts_section(found: ItemAnalysis) -> Section:
    return Section(
        title="Parts",
        heads=("Part", *HEADS),
        rows=tuple((i.part, *_figures(i)) for i in found.parts),
        formats=(GENERAL, *FORMATS),
        note=f"Facility: mean over maximum. Discrimination: facility of the upper {100 * found.tail:.0f} % of candidates minus that of the "
        f"lower {100 * found.tail:.0f} %, ties shared. With the rest: correlation with the total of the other parts.",
    )


def points_section(found: ItemAnalysis) -> Section:
    return Section(
        title="Marking points",
        heads=("Part", "Point", *HEADS[:6], "Flags"),
        rows=tuple((i.part, i.point, *_figures(i)[:6], _flags(i)) for i in found.points),
        formats=(GENERAL, GENERAL, *FORMATS[:6], GENERAL),
        note="Of the candidates who were marked by this point.",
    )


def _figures(item: Item) -> tuple[Value, ...]:
    return (
        item.n,
        item.maximum,
        item.mean,
        item.facility,
        item.discrimination,
        item.item_total,
        item.alpha_without,
        item.no_response,
        _flags(item),
    )


def _flags(item: Item) -> str:
    return "\n".join(f"{f.rule}: {f.says} ({shown(f.figure, TWO)}, rule of thumb {shown(f.limit, TWO)})" for f in item.flags)


def faults_section(found: ItemAnalysis) -> Section:
    return Section(
        title="Wrong answers that came up",
        heads=("Part", "Fault", "Candidates", "Share", "Mean mark", "Typed"),
        rows=tuple((f.part, f.code.replace("-", " "), f.count, f.share, f.mean, "\n".join(f.examples)) for f in found.faults),
        formats=(GENERAL, GENERAL, COUNT, PERCENT, TWO, GENERAL),
        note="Faults that a working line shows, commonest first; up to three lines as typed.",
    )


def boundaries_section(rows: Sequence[Boundary]) -> Section:
    return Section(
        title="Grade boundaries, what if",
        heads=("Grade", "Moved by", "Least mark", "At or above", "Share", "Within one SEM"),
        rows=tuple(
            (b.grade, f"{b.moved:+d}".replace("-", "−") if b.moved else "as set", b.mark, b.at_or_above, b.share, b.near) for b in rows
        ),
        formats=(GENERAL, GENERAL, GENERAL, COUNT, PERCENT, COUNT),
        note="Candidates within one standard error of measurement of a boundary could as well stand on its other side.",
    )


def totals_section(found: ItemAnalysis) -> Section:
    """How many candidates reach each whole mark: what any boundary would give."""
    totals = [t for _, t in found.totals]
    top = math.ceil(max(totals)) if totals else 0
    low = math.floor(min(totals)) if totals else 0
    rows = tuple(
        (mark, sum(mark <= t < mark + 1 for t in totals), sum(t >= mark for t in totals), sum(t >= mark for t in totals) / len(totals))
        for mark in range(top, low - 1, -1)
    )
    return Section(
        title="Totals",
        heads=("Total", "Candidates", "At or above", "Share"),
        rows=rows,
        formats=(GENERAL, COUNT, COUNT, PERCENT),
    )


def item_sections(found: ItemAnalysis, what_if: Sequence[Boundary]) -> tuple[Section, ...]:
    """All tables of an item analysis that have rows."""
    sections = [paper_section(found), parts_section(found), points_section(found), faults_section(found)]
    if what_if:
        sections.append(boundaries_section(what_if))
    sections.append(totals_section(found))
    return tuple(s for s in sections if s.rows)
