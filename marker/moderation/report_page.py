"""The report as one self-contained HTML page: no script, nothing fetched, everything escaped."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from marker.moderation.chartdata import difference_chart, mark_chart, part_bars
from marker.moderation.page_style import STYLE
from marker.moderation.sections import (
    GENERAL,
    Report,
    Section,
    adjusted_section,
    again_section,
    decision_section,
    figures_sections,
    shown,
    summary,
)
from marker.moderation.svg import bars, scatter


def page(report: Report) -> str:
    """The whole report as HTML."""
    parts = [
        f"<h1>Moderation: {escape(report.title)}</h1>",
        f'<p class="note">{escape(summary(report))}</p>',
        _verdicts(report),
        *(f'<p class="note">{escape(note)}</p>' for note in report.notes),
        _charts(report),
        section_html(again_section(report.again)),
        section_html(adjusted_section(report.adjusted)) if any(d.adjustment for d in report.decisions) else "",
        *(section_html(s) for s in figures_sections(report)),
        _made_by(report.made_by),
    ]
    return document(f"Moderation: {report.title}", parts)


def document(title: str, parts: Sequence[str]) -> str:
    """A complete page round the parts."""
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">'
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">"
        f"<title>{escape(title)}</title><style>{STYLE}</style></head><body><main>\n"
        + "\n".join(p for p in parts if p)
        + "\n</main></body></html>\n"
    )


def _verdicts(report: Report) -> str:
    section = decision_section(report)
    found = [
        f'<div class="verdict"><strong>{escape(d.marker or "All first marks")}: {escape(d.verdict.value)}</strong>{escape(d.reason)}</div>'
        for d in report.decisions
    ]
    return f'<h2>{escape(section.title)}</h2><p class="note">{escape(section.note)}</p>' + "".join(found)


def _charts(report: Report) -> str:
    c = report.comparison
    found = [(difference_chart(c).title, scatter(difference_chart(c))), (mark_chart(c).title, scatter(mark_chart(c)))]
    found.append((part_bars(c).title, bars(part_bars(c))))
    return charts_html(found)


def charts_html(found: Sequence[tuple[str, str]]) -> str:
    figures = "".join(f"<figure><figcaption>{escape(title)}</figcaption>{drawn}</figure>" for title, drawn in found)
    return f'<h2>Charts</h2><div class="charts">{figures}</div>'


def section_html(section: Section) -> str:
    """One table with its heading and note."""
    numeric = [
        bool(section.rows) and all(not isinstance(r[j], str) or r[j] == "–" for r in section.rows) for j in range(len(section.heads))
    ]
    heads = "".join(f'<th scope="col"{_class(numeric[j])}>{escape(h)}</th>' for j, h in enumerate(section.heads))
    rows = "".join("<tr>" + "".join(_cell(v, _form(section, j), numeric[j]) for j, v in enumerate(row)) + "</tr>" for row in section.rows)
    note = f'<p class="note">{escape(section.note)}</p>' if section.note else ""
    table = (
        f'<div class="scroll" tabindex="0"><table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div>'
        if section.rows
        else ""
    )
    return f"<h2>{escape(section.title)}</h2>{note}{table}"


def _form(section: Section, column: int) -> str:
    return section.formats[column] if column < len(section.formats) else GENERAL


def _class(numeric: bool) -> str:
    return ' class="number"' if numeric else ""


def _cell(value: str | float | int | None, form: str, numeric: bool) -> str:
    if isinstance(value, str) and not numeric:
        return f'<td class="text">{escape(value)}</td>' if len(value) > 30 or "\n" in value else f'<td class="short">{escape(value)}</td>'
    return f"<td{_class(numeric)}>{escape(shown(value, form))}</td>"


def _made_by(lines: Sequence[tuple[str, str]]) -> str:
    if not lines:
        return ""
    return "<h2>Made from</h2><dl>" + "".join(f"<dt>{escape(k)}</dt><dd>{escape(v)}</dd>" for k, v in lines) + "</dl>"
