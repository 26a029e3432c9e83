"""What the record says of a sample and of a comparison."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from marker.moderation.model import MarkSet
from marker.moderation.sampling import Drawn, Sample

if TYPE_CHECKING:
    from marker.moderation.sections import Report


def sample_entry(first: MarkSet, sample: Sample, given: Mapping[str, Sequence[Drawn]]) -> dict[str, Any]:
    """Scheme and convention the marks were made under, the rule and draw, and who marks what again."""
    return {
        "marked under": dict(first.facts),
        "rule": sample.rule.name,
        "source": sample.rule.source,
        "draw": sample.draw,
        "candidates": [d.candidate for d in sample.drawn],
        "second markers": {name: [d.candidate for d in drawn] for name, drawn in given.items()},
    }


def comparison_entry(first: MarkSet, report: Report) -> dict[str, Any]:
    """The first totals, the agreement, what the rule proposes and why, and the adjusted totals that differ."""
    overall = report.comparison.overall.figures
    return {
        "marked under": dict(first.facts),
        "totals": dict(first.totals),
        "rule": report.rule.name,
        "tolerance": report.comparison.tolerance.name,
        "pairs": overall.n,
        "exact": round(overall.exact.value, 4),
        "bias": round(overall.bias.value, 4),
        "proposed": [{"marker": d.marker, "verdict": d.verdict.value, "reason": d.reason} for d in report.decisions],
        "adjusted": {a.candidate: a.adjusted for a in report.adjusted if a.change},
    }
