"""The report as titled tables of plain values: what the workbook and the page both show."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from marker.moderation.again import Again
from marker.moderation.agreement import Estimate, Share
from marker.moderation.compare import Comparison, Group, TotalFigures
from marker.moderation.decision import Adjusted, Decision
from marker.moderation.model import plain, signed
from marker.moderation.rules import Anchor, DecisionRule
from marker.moderation.several import SeveralMarkers
from marker.moderation.severity import Severity

Value = str | float | int | None
GENERAL, PERCENT, TWO, SIGNED, COUNT = "general", "percent", "two", "signed", "count"


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One table. formats: by column, "general", "percent", "two" (decimals), "signed" (two decimals with sign) or "count"."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]
    formats: tuple[str, ...]
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """Everything a comparison came to. title: of the test; made_by: (what, value) lines on files, rules and versions."""

    title: str
    comparison: Comparison
    decisions: tuple[Decision, ...]
    rule: DecisionRule
    anchor: Anchor
    adjusted: tuple[Adjusted, ...]
    again: tuple[Again, ...]
    several: tuple[SeveralMarkers, ...] = ()
    severity: Severity | None = None
    made_by: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = field(default=())


def shown(value: Value, form: str = GENERAL) -> str:
    """A value as text: percentages whole, "–" for what cannot be had."""
    if value is None or (isinstance(value, float) and math.isnan(value)):
        return "–"
    if isinstance(value, str):
        return value
    if form == PERCENT:
        return f"{100 * value:.0f} %"
    if form == TWO:
        return f"{value:.2f}"
    if form == SIGNED:
        return signed(value)
    return plain(float(value), 2).replace("-", "−")


def _interval(low: float, high: float, form: str = TWO) -> str:
    if math.isnan(low) or math.isnan(high):
        return "–"
    return f"{shown(low, form)} to {shown(high, form)}"


def _share_interval(share: Share) -> str:
    return _interval(share.low, share.high, PERCENT)


def summary(report: Report) -> str:
    """The comparison in one sentence."""
    overall = report.comparison.overall.figures
    return (
        f"{overall.n} pairs of marks for the responses of {overall.candidates} candidates: {shown(overall.exact.value, PERCENT)} equal, "
        f"{shown(overall.within.value, PERCENT)} within tolerance, mean difference {shown(overall.bias.value, SIGNED)} marks."
    )


def decision_section(report: Report) -> Section:
    rows = tuple((d.marker or "all first marks", d.verdict.value, d.reason, d.n, d.within_now, d.within_after) for d in report.decisions)
    tolerance = report.comparison.tolerance
    maximum = sum(report.comparison.parts.values())
    note = (
        f'Proposed by the rule "{report.rule.name}" ({report.rule.source}). Tolerance "{tolerance.name}": totals within '
        f"{plain(tolerance.for_total(maximum))} of {plain(maximum)} marks. A person decides; the record says who."
    )
    return Section(
        title="Decision",
        heads=("First marker", "Proposed", "Reason", "Scripts", "Within now", "Within if adjusted"),
        rows=rows,
        formats=(GENERAL, GENERAL, GENERAL, COUNT, PERCENT, PERCENT),
        note=note,
    )


def totals_section(report: Report) -> Section:
    """Agreement of candidates' totals, for the groups that have any."""
    rows = tuple(_total_row(g, g.totals) for g in report.comparison.groups if g.totals is not None)
    return Section(
        title="Totals of whole scripts",
        heads=("Scripts of", "Scripts", "Within", "Bias", "95 % interval", "Limits of agreement", "Mean size", "Rank order",
               "ICC(2,1)", "95 % interval", "ICC(3,1)", "95 % interval"),
        rows=rows,
        formats=(GENERAL, COUNT, PERCENT, SIGNED, GENERAL, GENERAL, TWO, TWO, TWO, GENERAL, TWO, GENERAL),
        note="Bias is second minus first, in marks: above 0 the second marker gave more. ICC(2,1): absolute agreement of one marker; "
        "ICC(3,1): consistency (Shrout and Fleiss 1979). Limits of agreement hold 95 % of differences (Bland and Altman 1986). "
        "Rank order is Spearman's correlation.",
    )  # fmt: skip


def _total_row(group: Group, t: TotalFigures) -> tuple[Value, ...]:
    limits = _interval(t.limits.low, t.limits.high, SIGNED)
    bias = _interval(t.bias.low, t.bias.high, SIGNED)
    return (
        _name(group),
        t.n,
        t.within.value,
        t.bias.value,
        bias,
        limits,
        t.mean_absolute,
        t.order,
        *_estimate(t.icc21),
        *_estimate(t.icc31),
    )


def _name(group: Group) -> str:
    return group.name if group.kind in ("overall", "part") else f"{group.kind} {group.name}"


def _estimate(found: Estimate | None) -> tuple[Value, Value]:
    return (None, "–") if found is None else (found.value, _interval(found.low, found.high))


_KINDS = (
    ("overall", "Agreement over all responses", "Of"),
    ("part", "Agreement by part", "Part"),
    ("first marker", "Agreement by first marker", "First marker"),
    ("second marker", "Agreement by second marker", "Second marker"),
    ("class", "Agreement by class", "Class"),
    ("fault", "Agreement where a fault was named", "Fault"),
    ("point", "Agreement by marking point", "Point"),
)


def agreement_sections(report: Report) -> Iterable[Section]:
    """One table for each way of grouping that has groups."""
    for kind, title, head in _KINDS:
        groups = report.comparison.of(kind)
        if groups:
            yield Section(
                title=title,
                heads=(head, "Responses", "First mean", "Second mean", "Exact", "95 % interval", "Within 1 mark", "Within tolerance",
                       "Bias", "95 % interval", "Limits of agreement", "Mean size"),
                rows=tuple(_agreement_row(g) for g in groups),
                formats=(GENERAL, COUNT, TWO, TWO, PERCENT, GENERAL, PERCENT, PERCENT, SIGNED, GENERAL, GENERAL, TWO),
                note="Intervals of bias allow for several responses coming from one candidate." if kind == "overall" else "",
            )  # fmt: skip


def _agreement_row(group: Group) -> tuple[Value, ...]:
    f = group.figures
    return (
        group.name,
        f.n,
        f.first_mean,
        f.second_mean,
        f.exact.value,
        _share_interval(f.exact),
        f.adjacent.value,
        f.within.value,
        f.bias.value,
        _interval(f.bias.low, f.bias.high, SIGNED),
        _interval(f.limits.low, f.limits.high, SIGNED),
        f.mean_absolute,
    )


def reliability_section(report: Report) -> Section:
    """Kappa and intraclass correlations of each part, held against the anchor."""
    rows = tuple(_reliability_row(g, report) for g in (*report.comparison.of("part"), *report.comparison.of("point")))
    return Section(
        title="Agreement beyond chance, by part and point",
        heads=("Part or point", "Responses", "Kappa", "95 % interval", "Weighted kappa", "95 % interval", "ICC(2,1)", "95 % interval",
               "ICC(3,1)", "95 % interval", "Against the anchor"),
        rows=rows,
        formats=(GENERAL, COUNT, TWO, GENERAL, TWO, GENERAL, TWO, GENERAL, TWO, GENERAL, GENERAL),
        note='Kappa: Cohen 1960; weights are squared distances. "–" where all marks are alike. '
        f'Anchor "{report.anchor.name}": {report.anchor.source}.',
    )  # fmt: skip


def _reliability_row(group: Group, report: Report) -> tuple[Value, ...]:
    f = group.figures
    return (
        group.name,
        f.n,
        *_estimate(f.kappa),
        *_estimate(f.weighted),
        *_estimate(f.icc21),
        *_estimate(f.icc31),
        _against(group, report) if group.kind == "part" else "",
    )


def _against(group: Group, report: Report) -> str:
    """How a part stands against what trained markers reach."""
    exact = group.figures.exact
    wanted = report.anchor.for_part(report.comparison.parts[group.name]).exact
    if exact.value < report.anchor.floor:
        return f"below {100 * report.anchor.floor:.0f} % exact: revise the scheme of this part"
    if exact.value < wanted:
        sure = "" if exact.high < wanted else ", not certain from so few"
        return f"below {100 * wanted:.0f} % exact{sure}"
    return f"at or above {100 * wanted:.0f} % exact"


def several_section(found: Sequence[SeveralMarkers]) -> Section:
    rows = tuple(
        (
            s.part or "totals",
            s.n,
            s.markers,
            s.exact,
            s.fleiss.value if s.fleiss else None,
            *_estimate(s.icc.icc21 if s.icc else None),
            *_estimate(s.icc.icc31 if s.icc else None),
            s.icc.icc2k.value if s.icc else None,
            ", ".join(s.names) if s.icc else "–",
        )
        for s in found
    )
    return Section(
        title="Several markers at once",
        heads=(
            "Part",
            "Responses",
            "Markers",
            "All equal",
            "Fleiss kappa",
            "ICC(2,1)",
            "95 % interval",
            "ICC(3,1)",
            "95 % interval",
            "ICC(2,k)",
            "ICC of",
        ),
        rows=rows,
        formats=(GENERAL, COUNT, COUNT, PERCENT, TWO, TWO, GENERAL, TWO, GENERAL, TWO, GENERAL),
        note="Fleiss 1971; Shrout and Fleiss 1979. ICC needs the same markers throughout: it is of the responses that those named marked.",
    )


def severity_section(found: Severity) -> Section:
    rows = tuple((m.marker, m.n, m.effect.value, m.effect.error, _interval(m.effect.low, m.effect.high, SIGNED)) for m in found.markers)
    test = f"All markers alike: F = {found.f:.2f}, p = {found.p:.3f}. " if not math.isnan(found.f) else ""
    return Section(
        title="Severity of markers",
        heads=("Marker", "Shared responses", "Marks per response", "Standard error", "95 % interval"),
        rows=rows,
        formats=(GENERAL, COUNT, SIGNED, TWO, GENERAL),
        note="Linear model mark = response + marker; effects add up to 0, above 0 is lenient. "
        f"{found.responses} shared responses, residual SD {found.residual:.2f} marks on {found.freedom} degrees of freedom. {test}",
    )


def again_section(found: Sequence[Again]) -> Section:
    rows = tuple(
        (a.candidate, a.part, plain(a.maximum), "; ".join(f"{who} {plain(mark)}" for who, mark in a.marks), "; ".join(a.reasons), a.text)
        for a in found
    )
    return Section(
        title="Look again",
        heads=("Candidate", "Part", "Out of", "Marks", "Why", "Response"),
        rows=rows,
        formats=(GENERAL,) * 6,
        note="Furthest apart first." if rows else "No response needs another look.",
    )


def adjusted_section(found: Sequence[Adjusted]) -> Section:
    rows = tuple((a.candidate, a.group, a.marker, a.total, a.compared, a.adjusted, a.change) for a in found)
    return Section(
        title="Adjusted marks",
        heads=("Candidate", "Class", "First marker", "Total", "of it compared", "Adjusted total", "Change"),
        rows=rows,
        formats=(GENERAL,) * 6 + (SIGNED,),
        note="The first marks stay as they are; the adjusted total stands beside them.",
    )


def pairs_section(report: Report) -> Section:
    rows = tuple(
        (p.candidate, p.group, p.part, p.first.maximum, p.first.marker, p.first.mark, p.second.marker, p.second.mark, p.difference)
        for p in report.comparison.pairs
    )
    return Section(
        title="Pairs",
        heads=("Candidate", "Class", "Part", "Out of", "First marker", "First mark", "Second marker", "Second mark", "Difference"),
        rows=rows,
        formats=(GENERAL,) * 9,
        note="Every response that was marked twice.",
    )


def figures_sections(report: Report) -> tuple[Section, ...]:
    """All tables of figures, in the order of the report."""
    found = [totals_section(report), *agreement_sections(report), reliability_section(report)]
    if report.several:
        found.append(several_section(report.several))
    if report.severity is not None:
        found.append(severity_section(report.severity))
    return tuple(s for s in found if s.rows)
