"""The sheet Items: how each part went for the class, with live figures, charts, and the commonest faults."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from marker.reporting.faults import fault_words
from marker.reporting.paper import Key, MarkedPaper
from marker.reporting.workbook.layout import Layout
from marker.reporting.workbook.pen import Pen, Value, for_print
from marker.reporting.workbook.styles import ACCENT, INK

HEADINGS = (
    "Part",
    "Out of",
    "Answered",
    "Mean",
    "Facility",
    "Full marks",
    "No marks",
    "Discrimination",
    "Referred",
    "Commonest faults (candidates)",
)
HEADER_ROW = 5
EXPLAINED = (
    "Facility: mean mark as a share of the maximum. Discrimination: correlation of the part with the rest of the paper; "
    "near 0 or below, the part does not tell strong and weak candidates apart. Both follow your marks."
)
_WIDTHS = (10.0, 9.0, 11.0, 9.0, 10.0, 11.0, 10.0, 15.0, 10.0, 62.0)
_NAMED_FAULTS = 3
_LISTED_FAULTS = 40
_BANDS = 10
_BAND_COLUMN = 13


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultCount:
    part: str
    kind: str
    candidates: int
    example: str


def count_faults(marked: MarkedPaper) -> tuple[FaultCount, ...]:
    """Faults shown by working, by the number of candidates who show them; a fault counts once for a candidate and part."""
    counts: Counter[tuple[str, str]] = Counter()
    examples: dict[tuple[str, str], str] = {}
    for _, result in marked.responses():
        for code in dict.fromkeys(f.code for f in result.faults if f.sure):
            counts[result.part, code] += 1
            examples.setdefault((result.part, code), next(f.teacher for f in result.faults if f.code == code))
    order = {part: n for n, (part, _) in enumerate(marked.parts)}
    ranked = sorted(counts.items(), key=lambda item: (-item[1], order[item[0][0]], item[0][1]))
    return tuple(FaultCount(part=p, kind=code, candidates=n, example=examples[p, code]) for (p, code), n in ranked)


def write_items(pen: Pen, marked: MarkedPaper, layout: Layout, marks: Mapping[Key, float]) -> None:
    pen.title("Items", "How each part went.")
    pen.text(3, 1, EXPLAINED, "subtitle")
    for column, heading in enumerate(HEADINGS, start=1):
        pen.text(HEADER_ROW, column, heading, "head" if column in (1, len(HEADINGS)) else "head centred")
    faults = count_faults(marked)
    totals = {c: sum(marks.get((c, p), 0) for p, _ in marked.parts) for c in marked.candidates}
    for n, (part, maximum) in enumerate(marked.parts):
        _part_row(pen, marked, layout, marks, totals, n, part, maximum, faults)
    last = HEADER_ROW + len(marked.parts)
    chart_row = last + 2
    _spread(pen, layout, [t / marked.maximum for t in totals.values()] if marked.maximum else [])
    if marked.candidates and marked.parts:
        _charts(pen.sheet, last, chart_row, len(marked.parts))
    end = _fault_table(pen, faults, chart_row + 18)
    pen.widths(_WIDTHS)
    pen.sheet.row_dimensions[HEADER_ROW].height = 20
    pen.sheet.freeze_panes = f"B{HEADER_ROW + 1}"
    for_print(pen.sheet, marked.title, HEADER_ROW)
    pen.sheet.print_area = f"A1:J{end}"


def _part_row(
    pen: Pen,
    marked: MarkedPaper,
    layout: Layout,
    marks: Mapping[Key, float],
    totals: Mapping[str, float],
    n: int,
    part: str,
    maximum: float,
    faults: tuple[FaultCount, ...],
) -> None:
    row = HEADER_ROW + 1 + n
    results = [r for c in marked.candidates if (r := marked.results.get((c, part))) is not None]
    got = [marks[c, part] for c in marked.candidates if (c, part) in marks]
    cells = _column(layout, layout.first_part + n)
    mean: Value = sum(got) / len(got) if got else ""
    named = [f"{fault_words(f.kind).name} ({f.candidates})" for f in faults if f.part == part][:_NAMED_FAULTS]
    pen.text(row, 1, part, "cell code")
    pen.number(row, 2, maximum)
    pen.number(row, 3, sum(bool(r.lines) for r in results))
    pen.formula(row, 4, f'=IFERROR(AVERAGE({cells}),"")', mean, "cell mean")
    pen.formula(row, 5, f'=IFERROR(D{row}/B{row},"")', mean / maximum if isinstance(mean, float) and maximum else "", "cell percent")
    pen.formula(row, 6, f"=COUNTIF({cells},B{row})", sum(m == maximum for m in got), "cell centred")
    pen.formula(row, 7, f"=COUNTIF({cells},0)", sum(m == 0 for m in got), "cell centred")
    rest = [totals[c] - marks[c, part] for c in marked.candidates if (c, part) in marks]
    total = _column(layout, layout.total)
    pen.array_formula(row, 8, f'=IFERROR(CORREL({cells},{total}-{cells}),"–")', correlation(got, rest), "cell mean")
    pen.number(row, 9, sum(r.referred for r in results) / len(results) if results else None, "cell percent")
    pen.text(row, 10, ", ".join(named), "cell")


def correlation(first: list[float], second: list[float]) -> float | str:
    """Pearson's coefficient, "–" where one side does not vary."""
    n = len(first)
    if n < 2:
        return "–"
    a, b = sum(first) / n, sum(second) / n
    spread = sum((x - a) ** 2 for x in first) * sum((y - b) ** 2 for y in second)
    if spread <= 0:
        return "–"
    return float(sum((x - a) * (y - b) for x, y in zip(first, second, strict=True)) / spread**0.5)


def _spread(pen: Pen, layout: Layout, totals: list[float]) -> None:
    """How many candidates are in each tenth of the marks: the figures behind the second chart, beside the printed page."""
    pen.text(HEADER_ROW, _BAND_COLUMN, "Total, %", "head centred")
    pen.text(HEADER_ROW, _BAND_COLUMN + 1, "Candidates", "head centred")
    shares = _column(layout, layout.percent)
    for band in range(_BANDS):
        row = HEADER_ROW + 1 + band
        low, high = band / _BANDS, (band + 1) / _BANDS
        top = band == _BANDS - 1
        pen.text(row, _BAND_COLUMN, f"{band * 10}–{100 if top else band * 10 + 9}", "cell centred")
        upper = "" if top else f',{shares},"<{high:.1f}"'
        count = sum(low - 1e-12 <= t and (top or t < high - 1e-12) for t in totals)
        pen.formula(row, _BAND_COLUMN + 1, f'=COUNTIFS({shares},">={low:.1f}"{upper})', count, "cell centred")
    for letter, width in (("L", 3.0), ("M", 12.0), ("N", 12.0)):
        pen.sheet.column_dimensions[letter].width = width


def _charts(sheet: Any, last: int, at_row: int, parts: int) -> None:
    from openpyxl.chart import Reference

    names = Reference(sheet, min_col=1, min_row=HEADER_ROW + 1, max_row=last)
    shares = Reference(sheet, min_col=5, min_row=HEADER_ROW + 1, max_row=last)
    facility = _bars("Facility of each part", names, shares, "0%")
    facility.y_axis.scaling.min, facility.y_axis.scaling.max = 0, 1
    facility.width = 17.5
    sheet.add_chart(facility, f"A{at_row}")
    bands = Reference(sheet, min_col=_BAND_COLUMN, min_row=HEADER_ROW + 1, max_row=HEADER_ROW + _BANDS)
    counts = Reference(sheet, min_col=_BAND_COLUMN + 1, min_row=HEADER_ROW + 1, max_row=HEADER_ROW + _BANDS)
    spread = _bars("Candidates by total, % of the marks", bands, counts, "0")
    spread.y_axis.scaling.min = 0
    spread.y_axis.majorUnit = None
    spread.width = 15
    sheet.add_chart(spread, f"I{at_row}")


def _bars(title: str, names: Any, values: Any, form: str) -> Any:
    """A quiet bar chart: one colour, values written on the bars, no legend and no grid."""
    from openpyxl.chart import BarChart, Series
    from openpyxl.chart.label import DataLabelList
    from openpyxl.chart.shapes import GraphicalProperties

    chart = BarChart()
    chart.type, chart.style, chart.gapWidth, chart.height = "col", 10, 45, 8.2
    chart.title = _chart_title(title)
    series = Series(values, title=None)
    series.graphicalProperties = GraphicalProperties(solidFill=ACCENT)
    series.dLbls = DataLabelList()
    series.dLbls.showVal, series.dLbls.numFmt = True, form
    for flag in ("showSerName", "showCatName", "showLegendKey", "showPercent"):
        setattr(series.dLbls, flag, False)
    chart.append(series)
    chart.set_categories(names)
    chart.legend = None
    chart.x_axis.delete = chart.y_axis.delete = False
    chart.y_axis.majorGridlines = None
    chart.y_axis.number_format = form
    chart.x_axis.tickLblPos = "low"
    return chart


def _chart_title(text: str) -> Any:
    from openpyxl.chart.text import RichText, Text
    from openpyxl.chart.title import Title
    from openpyxl.drawing.text import CharacterProperties, Paragraph, ParagraphProperties, RegularTextRun

    look = CharacterProperties(sz=1100, b=True, solidFill=INK)
    paragraph = Paragraph(pPr=ParagraphProperties(defRPr=look), r=[RegularTextRun(rPr=look, t=text)])
    return Title(tx=Text(rich=RichText(p=[paragraph])), overlay=False)


def _fault_table(pen: Pen, faults: tuple[FaultCount, ...], row: int) -> int:
    """The faults the class showed, commonest first; returns the last row written."""
    pen.text(row, 1, "Faults shown in working", "heading")
    if not faults:
        pen.text(row + 1, 1, "None was named.", "plain")
        return row + 1
    for column, (heading, style) in enumerate(
        (("Part", "head"), ("Candidates", "head centred"), ("Fault", "head"), ("", "head"), ("", "head"), ("One example", "head")), start=1
    ):
        pen.text(row + 1, column, heading, style)
    for column in range(7, 11):
        pen.text(row + 1, column, "", "head")
    for n, fault in enumerate(faults[:_LISTED_FAULTS], start=row + 2):
        pen.text(n, 1, fault.part, "cell code")
        pen.number(n, 2, fault.candidates)
        for start, end, text in ((3, 5, fault_words(fault.kind).name), (6, 10, fault.example)):
            pen.text(n, start, text, "cell")
            for column in range(start + 1, end + 1):
                pen.text(n, column, "", "cell")
            pen.sheet.merge_cells(start_row=n, end_row=n, start_column=start, end_column=end)
        pen.sheet.row_dimensions[n].height = 14 * max(1, -(-len(fault.example) // 105))
    return row + 1 + min(len(faults), _LISTED_FAULTS)


def _column(layout: Layout, column: int) -> str:
    """The candidates' cells of one column of Marks."""
    from openpyxl.utils import get_column_letter

    letter = get_column_letter(column)
    return f"Marks!${letter}${layout.first_row}:${letter}${layout.last_row}"
