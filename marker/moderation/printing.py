"""The short printed result of a comparison and of an item analysis."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from rich.table import Table

from marker.moderation.console import out
from marker.moderation.items import ItemAnalysis
from marker.moderation.sections import Report, shown


def print_report(report: Report, files: Sequence[Path]) -> None:
    for decision in report.decisions:
        out.print(f"{decision.marker or 'All first marks'}: {decision.verdict.value}. {decision.reason}", soft_wrap=True)
    for note in report.notes:
        out.print(note, soft_wrap=True)
    table = Table("Part", "Responses", "Exact", "Within tolerance", "Bias", "Weighted kappa", "ICC(2,1)", box=None, pad_edge=False)
    for group in (*report.comparison.of("part"), report.comparison.overall):
        f = group.figures
        kappa, icc = (shown(e.value if e else None, "two") for e in (f.weighted, f.icc21))
        shares = (shown(f.exact.value, "percent"), shown(f.within.value, "percent"))
        table.add_row(group.name, str(f.n), *shares, shown(f.bias.value, "signed"), kappa, icc)
    out.print(table)
    out.print(f"{len(report.again)} responses to look at again.")
    if files:
        out.print(f"Written: {', '.join(str(f) for f in files)}.", soft_wrap=True)


def print_items(found: ItemAnalysis, files: Sequence[Path]) -> None:
    table = Table("Part", "Facility", "Discrimination", "With the rest", "Flags", box=None, pad_edge=False)
    for item in found.parts:
        figures = (shown(x, "two") for x in (item.facility, item.discrimination, item.item_total))
        table.add_row(item.part, *figures, "; ".join(f.rule for f in item.flags))
    out.print(table)
    p = found.paper
    out.print(
        f"{p.candidates} candidates, mean {shown(p.mean, 'two')} of {p.maximum:g}; alpha {shown(p.alpha.value, 'two')}, "
        f"standard error of measurement {shown(p.sem, 'two')} marks.",
        soft_wrap=True,
    )
    if files:
        out.print(f"Written: {', '.join(str(f) for f in files)}.", soft_wrap=True)
