"""The sheet Marks: candidates by parts, live totals, and the teacher's mark wherever one is typed on Refer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from marker.reporting.paper import Key, MarkedPaper
from marker.reporting.workbook.layout import (
    CANDIDATES,
    KEYS_OPEN,
    KEYS_TYPED,
    MARKS_TYPED,
    MAXIMA,
    PART_NAMES,
    Layout,
    key_text,
)
from marker.reporting.workbook.pen import LINE_HEIGHT, Pen, for_print, lines_needed, literal, quoted
from marker.reporting.workbook.styles import INK, OWN_FILL, STRONG_RULE, WAITING_FILL

ROW_HEIGHT = 18.0
TO_SETTLE_WIDTH = 20.0
LEGEND = (
    "2?  provisional: a referral waits for your mark      "
    "2*  your own mark, typed on the sheet Refer      "
    "Any mark may be changed: type it at the foot of Refer."
)


@dataclass(frozen=True, slots=True)
class Standing:
    """Marks now: `marks` as they stand, `own` the teacher's, `open` the referrals without a decision."""

    marks: Mapping[Key, float]
    own: frozenset[Key]
    open: frozenset[Key]


def write_marks(pen: Pen, marked: MarkedPaper, layout: Layout, now: Standing) -> None:
    size = f"{len(marked.candidates)} candidates, {len(marked.parts)} parts, {marked.maximum:g} marks"
    pen.title(marked.title, f"Marks  ·  {size}  ·  marked {marked.when} under “{marked.convention}”")
    waiting = len(now.open)
    pen.formula(3, 1, _status_formula(), _status(waiting), "status")
    pen.text(4, 1, LEGEND, "subtitle")
    _headings(pen, marked, layout)
    for row, candidate in enumerate(marked.candidates, start=layout.first_row):
        _candidate_row(pen, marked, layout, now, row, candidate)
    if marked.candidates:
        _foot(pen, marked, layout, now)
    _names(pen.sheet.parent, layout)
    _signs(pen.sheet, layout)
    _shape(pen, marked, layout)


def _status_formula() -> str:
    count = f'SUMPRODUCT(--({KEYS_OPEN}<>""))'
    return (
        f'=IF({count}=0,"Every referral is settled.",IF({count}=1,"1 referral waits",{count}&" referrals wait")'
        '&" for your mark on the sheet Refer; the marks shown meanwhile are provisional.")'
    )


def _status(waiting: int) -> str:
    if not waiting:
        return "Every referral is settled."
    count = "1 referral waits" if waiting == 1 else f"{waiting} referrals wait"
    return f"{count} for your mark on the sheet Refer; the marks shown meanwhile are provisional."


def _headings(pen: Pen, marked: MarkedPaper, layout: Layout) -> None:
    pen.text(layout.out_of_row, 1, "out of", "out of label")
    pen.text(layout.header_row, 1, "Candidate", "head")
    if layout.groups:
        pen.text(layout.header_row, 2, "Class", "head")
    for column, (part, maximum) in enumerate(marked.parts, start=layout.first_part):
        pen.number(layout.out_of_row, column, maximum, "out of")
        pen.text(layout.header_row, column, part, "head centred")
    maxima = _across(layout, layout.out_of_row)
    pen.formula(layout.out_of_row, layout.total, f"=SUM({maxima})", marked.maximum, "out of")
    pen.text(layout.header_row, layout.total, "Total", "head centred")
    pen.text(layout.header_row, layout.percent, "%", "head centred")
    pen.text(layout.header_row, layout.to_settle, "To settle", "head")


def _candidate_row(pen: Pen, marked: MarkedPaper, layout: Layout, now: Standing, row: int, candidate: str) -> None:
    pen.sheet.row_dimensions[row].height = ROW_HEIGHT
    pen.text(row, 1, candidate, "candidate")
    if layout.groups:
        pen.text(row, 2, marked.groups.get(candidate, ""), "group")
    for column, (part, _) in enumerate(marked.parts, start=layout.first_part):
        result = marked.results.get((candidate, part))
        ours = '""' if result is None else f"{result.mark:g}"
        typed = f"INDEX({MARKS_TYPED},MATCH({literal(key_text(candidate, part))},{KEYS_TYPED},0))"
        pen.formula(row, column, f"=IFERROR({typed},{ours})", now.marks.get((candidate, part), ""), "mark")
    total = sum(now.marks.get((candidate, p), 0) for p, _ in marked.parts)
    cell, whole = f"{_letter(layout.total)}{row}", f"{_letter(layout.total)}${layout.out_of_row}"
    pen.formula(row, layout.total, f"=SUM({_across(layout, row)})", total, "total")
    share = total / marked.maximum if marked.maximum else ""
    pen.formula(row, layout.percent, f'=IF({whole}=0,"",{cell}/{whole})', share, "percent")
    _to_settle(pen, marked, layout, now, row, candidate)


def _to_settle(pen: Pen, marked: MarkedPaper, layout: Layout, now: Standing, row: int, candidate: str) -> None:
    """The candidate's parts that wait for a decision, by name; each name goes when its mark is typed."""
    referred = [p for p, _ in marked.parts if (r := marked.results.get((candidate, p))) is not None and r.referred]
    if not referred:
        pen.text(row, layout.to_settle, "", "to settle")
        return
    pieces = [f'IF(ISNUMBER(MATCH({literal(key_text(candidate, p))},{KEYS_OPEN},0)),{quoted(", " + p)},"")' for p in referred]
    value = ", ".join(p for p in referred if (candidate, p) in now.open)
    pen.formula(row, layout.to_settle, f"=MID({'&'.join(pieces)},3,999)", value, "to settle")
    pen.sheet.row_dimensions[row].height = max(ROW_HEIGHT, LINE_HEIGHT * lines_needed(value, TO_SETTLE_WIDTH) + 4)


def _foot(pen: Pen, marked: MarkedPaper, layout: Layout, now: Standing) -> None:
    mean_row, share_row = layout.last_row + 2, layout.last_row + 3
    for row, label in ((mean_row, "Mean"), (share_row, "Facility")):
        pen.text(row, 1, label, "foot label")
        if layout.groups:
            pen.text(row, 2, "", "foot label")
    n = len(marked.candidates)
    columns = [(layout.first_part + i, maximum, [p]) for i, (p, maximum) in enumerate(marked.parts)]
    columns.append((layout.total, marked.maximum, [p for p, _ in marked.parts]))
    for column, maximum, parts in columns:
        letter = _letter(column)
        marks = [now.marks[c, p] for c in marked.candidates for p in parts if (c, p) in now.marks]
        count = n if len(parts) > 1 else len(marks)
        mean = sum(marks) / count if count else ""
        cells = f"{letter}{layout.first_row}:{letter}{layout.last_row}"
        pen.formula(mean_row, column, f'=IFERROR(AVERAGE({cells}),"")', mean, "foot mean")
        share = mean / maximum if isinstance(mean, float) and maximum else ""
        pen.formula(share_row, column, f'=IFERROR({letter}{mean_row}/{letter}{layout.out_of_row},"")', share, "foot percent")


def _names(book: Any, layout: Layout) -> None:
    """Names of the ranges that the sheet Refer looks things up in."""
    from openpyxl.workbook.defined_name import DefinedName

    first, last = _letter(layout.first_part), _letter(layout.last_part)
    ranges = {
        CANDIDATES: f"Marks!$A${layout.first_row}:$A${layout.last_row}",
        PART_NAMES: f"Marks!${first}${layout.header_row}:${last}${layout.header_row}",
        MAXIMA: f"Marks!${first}${layout.out_of_row}:${last}${layout.out_of_row}",
    }
    for name, cells in ranges.items():
        book.defined_names[name] = DefinedName(name, attr_text=cells)


def _signs(sheet: Any, layout: Layout) -> None:
    """2? for a provisional mark and 2* for the teacher's own, by number format and fill."""
    from openpyxl.formatting.rule import Rule
    from openpyxl.styles import Border, Font, PatternFill, Side
    from openpyxl.styles.differential import DifferentialStyle
    from openpyxl.styles.numbers import NumberFormat

    area = f"{_letter(layout.first_part)}{layout.first_row}:{_letter(layout.last_part)}{layout.last_row}"
    key = f'$A{layout.first_row}&"|"&{_letter(layout.first_part)}${layout.header_row}'
    dashed = Side(style="dashed", color=STRONG_RULE)
    waiting = DifferentialStyle(
        font=Font(italic=True, bold=True, color=INK),
        fill=PatternFill(bgColor=WAITING_FILL, fill_type="solid"),
        border=Border(left=dashed, right=dashed, top=dashed, bottom=dashed),
        numFmt=NumberFormat(numFmtId=170, formatCode='General"?"'),
    )
    own = DifferentialStyle(
        font=Font(bold=True, color=INK),
        fill=PatternFill(bgColor=OWN_FILL, fill_type="solid"),
        numFmt=NumberFormat(numFmtId=171, formatCode='General"*"'),
    )
    for names, style in ((KEYS_TYPED, own), (KEYS_OPEN, waiting)):
        formula = f"ISNUMBER(MATCH({key},{names},0))"
        sheet.conditional_formatting.add(area, Rule(type="expression", dxf=style, formula=[formula], stopIfTrue=True))


def _shape(pen: Pen, marked: MarkedPaper, layout: Layout) -> None:
    longest = max((len(c) for c in marked.candidates), default=0)
    part_widths = [min(14.0, max(6.5, len(p) * 1.1 + 2)) for p, _ in marked.parts]
    pen.widths([min(30.0, max(13.0, longest + 2)), *([9.0] if layout.groups else []), *part_widths, 8.0, 8.0, TO_SETTLE_WIDTH])
    sheet = pen.sheet
    sheet.row_dimensions[layout.header_row].height = 24
    sheet.row_dimensions[3].height = 18
    sheet.freeze_panes = sheet.cell(layout.first_row, layout.first_part)
    last = layout.last_row + 3
    sheet.print_area = f"A1:{_letter(layout.to_settle)}{last}"
    for_print(sheet, marked.title, None)
    sheet.print_title_rows = f"{layout.out_of_row}:{layout.header_row}"


def _across(layout: Layout, row: int) -> str:
    return f"{_letter(layout.first_part)}{row}:{_letter(layout.last_part)}{row}"


def _letter(column: int) -> str:
    from openpyxl.utils import get_column_letter

    return str(get_column_letter(column))
