"""The short printed result of a comparison and of an item analysis."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from marker.moderation.console import say, show_table
from marker.moderation.items import ItemAnalysis
from marker.moderation.sections import PERCENT, SIGNED, TWO, Report, shown
from marker.moderation.standard import Drift, Qualification


def print_report(report: Report, files: Sequence[Path]) -> None:
    for decision in report.decisions:
        say(f"{decision.marker or 'All first marks'}: {decision.verdict.value}. {decision.reason}")
    for note in report.notes:
        say(note)
    rows = []
    for group in (*report.comparison.of("part"), report.comparison.overall):
        f = group.figures
        kappa, icc = (shown(e.value if e else None, TWO) for e in (f.weighted, f.icc21))
        shares = (shown(f.exact.value, PERCENT), shown(f.within.value, PERCENT))
        rows.append((group.name, str(f.n), *shares, shown(f.bias.value, SIGNED), kappa, icc))
    show_table(("Part", "Responses", "Exact", "Within tolerance", "Bias", "Weighted kappa", "ICC(2,1)"), rows)
    say(f"{len(report.again)} responses to look at again.")
    _written(files)


def print_items(found: ItemAnalysis, files: Sequence[Path]) -> None:
    rows = []
    for item in found.parts:
        figures = (shown(x, TWO) for x in (item.facility, item.discrimination, item.item_total))
        rows.append((item.part, *figures, "; ".join(f.rule for f in item.flags)))
    show_table(("Part", "Facility", "Discrimination", "With the rest", "Flags"), rows)
    p = found.paper
    say(
        f"{p.candidates} candidates, mean {shown(p.mean, TWO)} of {p.maximum:g}; alpha {shown(p.alpha.value, TWO)}, "
        f"standard error of measurement {shown(p.sem, TWO)} marks."
    )
    _written(files)


def _written(files: Sequence[Path]) -> None:
    if files:
        say(f"Written: {', '.join(str(f) for f in files)}.")


def print_qualification(found: Qualification) -> None:
    say(f"{found.marker}: {'qualified' if found.qualified else 'not qualified'} ({found.rule})")
    for test in found.tests:
        say(f"  {'met' if test.met else 'not met'}: {test.asked}; found {test.found}")


def print_drift(found: Drift) -> None:
    where = "" if found.at is None else f" at control response {found.at}"
    say(f"{found.marker}: {'no drift' if found.at is None else 'drift'}{where}: {found.reason}")
