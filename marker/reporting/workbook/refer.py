"""The sheet Refer: what a person must decide, a place for the mark, and spare rows to change any other mark."""

from __future__ import annotations

from typing import Any

from marker.reporting.decisions import Decision, Decisions, usable
from marker.reporting.paper import MarkedPaper, mark_text
from marker.reporting.workbook.layout import (
    CANDIDATES,
    CHANGED,
    KEYS_OPEN,
    KEYS_TYPED,
    MARKS_TYPED,
    MAXIMA,
    OPEN,
    PART_NAMES,
    R_CANDIDATE,
    R_MARK,
    R_NOTE,
    R_OPEN_KEY,
    R_OURS,
    R_OUT_OF,
    R_PART,
    R_STATE,
    R_TYPED_KEY,
    REFER_HEADINGS,
    SETTLED,
    Layout,
    key_text,
)
from marker.reporting.workbook.pen import Pen, Value, for_print
from marker.reporting.workbook.styles import QUIET, WAITING_FILL
from marker.results import PartResult, Possibility

HOW = (
    "Type your mark in the column Your mark: the sheet Marks takes it at once, and totals follow. "
    "An empty cell leaves the provisional mark. Notes are yours; they are kept when the test is marked again."
)
SPARE = "To change a mark that was not referred, choose candidate and part here and type the mark."
_WIDTHS = (11.0, 7.0, 40.0, 34.0, 30.0, 30.0, 11.0, 7.0, 9.0, 26.0, 15.0, 4.0, 4.0)


def write_refer(pen: Pen, marked: MarkedPaper, layout: Layout, keep: Decisions | None) -> None:
    pen.title("Refer", "Responses this package would not decide alone, by part.")
    pen.text(3, 1, HOW, "plain")
    for column, heading in enumerate((*REFER_HEADINGS, "", ""), start=1):
        if heading:
            pen.text(layout.refer_header, column, heading, "head")
    made = keep.made if keep is not None else {}
    pen.widths(_WIDTHS)
    part = ""
    for row, (candidate, result) in enumerate(marked.referrals(), start=layout.refer_first):
        look = "start" if result.part != part else "cell"
        _referral_row(pen, marked, row, candidate, result, made.get((candidate, result.part)), look)
        part = result.part
    _spare_rows(pen, marked, layout, keep)
    _names(pen.sheet.parent, layout)
    _inputs(pen.sheet, marked, layout)
    _shape(pen, marked, layout)


def _referral_row(
    pen: Pen, marked: MarkedPaper, row: int, candidate: str, result: PartResult, decision: Decision | None, look: str
) -> None:
    if result.referral is None:
        return
    first, second = _sides(result.referral.possibilities)
    typed = "\n".join(line.text for line in result.lines) or "(nothing typed)"
    cells: list[tuple[Value, str]] = [
        (candidate, f"{look} code"),
        (result.part, f"{look} code"),
        (typed, look),
        (result.referral.reason, look),
        (first, look),
        (second, look),
        (result.mark, f"{look} mark"),
        (result.maximum, f"{look} centred"),
    ]
    pen.row(row, cells)
    mark = decision.mark if decision is not None and usable(decision, result.maximum, marked.half_marks) else None
    pen.number(row, R_MARK, mark, "input mark")
    pen.text(row, R_NOTE, decision.note if decision is not None else "", "input text")
    state = OPEN if mark is None else SETTLED
    pen.formula(row, R_STATE, f'=IF(I{row}="","{OPEN}",{_mark_state(row, SETTLED, marked.half_marks)})', state, "state")
    _keys(pen, row, SETTLED, candidate, result.part, state)
    pen.fit(row)


def _sides(possibilities: tuple[Possibility, ...]) -> tuple[str, str]:
    """The first possibility, and the rest, each with what it is worth."""
    texts = [f"{p.text}\n→ {mark_text(p.mark)} mark{'' if p.mark == 1 else 's'}" for p in possibilities]
    return (texts[0] if texts else ""), "\n".join(texts[1:])


def _mark_state(row: int, done: str, half_marks: bool) -> str:
    whole = f"MOD(2*I{row},1)=0" if half_marks else f"MOD(I{row},1)=0"
    return f'IF(ISNUMBER(I{row}),IF(AND(I{row}>=0,I{row}<=H{row},{whole}),"{done}","not a possible mark"),"not a number")'


def _keys(pen: Pen, row: int, done: str, candidate: str, part: str, state: str) -> None:
    """Hidden cells: the key of this row where its mark counts, and the key where it still waits."""
    key = key_text(candidate, part)
    pen.formula(row, R_TYPED_KEY, f'=IF(K{row}="{done}",A{row}&"|"&B{row},"")', key if state == done else "", "plain")
    if done == SETTLED:
        pen.formula(row, R_OPEN_KEY, f'=IF(K{row}="{done}","",A{row}&"|"&B{row})', "" if state == done else key, "plain")


def _spare_rows(pen: Pen, marked: MarkedPaper, layout: Layout, keep: Decisions | None) -> None:
    pen.text(layout.spare_heading, 1, SPARE, "heading")
    maxima = dict(marked.parts)
    kept = dict(enumerate(layout.extra, start=layout.spare_first))
    for row in range(layout.spare_first, layout.spare_last + 1):
        candidate, part = kept.get(row, ("", ""))
        decision = keep.made[candidate, part] if keep is not None and row in kept else None
        good = usable(decision, maxima.get(part, 0), marked.half_marks)
        mark = decision.mark if decision is not None and good else None
        pen.text(row, R_CANDIDATE, candidate, "input code")
        pen.text(row, R_PART, part, "input code")
        ours = marked.results.get((candidate, part))
        for column in range(R_PART + 1, R_OURS):
            pen.text(row, column, "", "cell")
        pen.number(row, R_OURS, ours.mark if ours is not None else None, "cell centred")
        pen.formula(row, R_OUT_OF, f'=IFERROR(INDEX({MAXIMA},MATCH(B{row}&"",{PART_NAMES},0)),"")', maxima.get(part, ""), "cell centred")
        pen.number(row, R_MARK, mark, "input mark")
        pen.text(row, R_NOTE, decision.note if decision is not None else "", "input text")
        state = "" if row not in kept else CHANGED if good else "no mark yet"
        pen.formula(row, R_STATE, _spare_state(row, layout, marked.half_marks), state, "state")
        _keys(pen, row, CHANGED, candidate, part, state)


def _spare_state(row: int, layout: Layout, half_marks: bool) -> str:
    above = f"L${layout.refer_header}:L{row - 1}"
    return (
        f'=IF(AND(A{row}="",B{row}="",I{row}=""),"",'
        f'IF(ISNA(MATCH(A{row}&"",{CANDIDATES},0)),"no such candidate",'
        f'IF(ISNA(MATCH(B{row}&"",{PART_NAMES},0)),"no such part",'
        f'IF(I{row}="","no mark yet",'
        f'IF(ISNUMBER(MATCH(A{row}&"|"&B{row},{above},0)),"has a mark above",'
        f"{_mark_state(row, CHANGED, half_marks)})))))"
    )


def _names(book: Any, layout: Layout) -> None:
    from openpyxl.workbook.defined_name import DefinedName

    for name, column in ((KEYS_TYPED, "L"), (KEYS_OPEN, "M"), (MARKS_TYPED, "I")):
        cells = f"Refer!${column}${layout.refer_header}:${column}${layout.spare_last + 1}"
        book.defined_names[name] = DefinedName(name, attr_text=cells)


def _inputs(sheet: Any, marked: MarkedPaper, layout: Layout) -> None:
    """What may be typed: a possible mark; a candidate and a part of this class test."""
    from openpyxl.worksheet.datavalidation import DataValidation

    first = layout.refer_first
    step = "MOD(2*I{0},1)=0" if marked.half_marks else "MOD(I{0},1)=0"
    for start, end in ((first, layout.refer_last), (layout.spare_first, layout.spare_last)):
        if end < start:
            continue
        rule = f"AND(ISNUMBER(I{start}),I{start}>=0,I{start}<=H{start},{step.format(start)})"
        marks = DataValidation(type="custom", formula1=rule, allow_blank=True, showErrorMessage=True, showInputMessage=True)
        marks.errorTitle = "Not a possible mark"
        marks.error = (
            f"Type a {'whole or half' if marked.half_marks else 'whole'} mark from 0 to the number under “Out of”, or leave it empty."
        )
        marks.add(f"I{start}:I{end}")
        sheet.add_data_validation(marks)
    for column, name, what in (("A", CANDIDATES, "a candidate"), ("B", PART_NAMES, "a part")):
        choice = DataValidation(type="list", formula1=f"={name}", allow_blank=True, showErrorMessage=True)
        choice.errorTitle = "Not in this class test"
        choice.error = f"Choose {what} from the list."
        choice.add(f"{column}{layout.spare_first}:{column}{layout.spare_last}")
        sheet.add_data_validation(choice)
    _signs(sheet, layout)


def _signs(sheet: Any, layout: Layout) -> None:
    """The state, which is in words, is also shaded: waiting, and anything else that is not in order."""
    from openpyxl.formatting.rule import Rule
    from openpyxl.styles import Font, PatternFill
    from openpyxl.styles.differential import DifferentialStyle

    area = f"K{layout.refer_first}:K{layout.spare_last}"
    done = DifferentialStyle(font=Font(bold=False, color=QUIET))
    waiting = DifferentialStyle(fill=PatternFill(bgColor=WAITING_FILL, fill_type="solid"))
    first = f"K{layout.refer_first}"
    rules = ((f'OR({first}="{SETTLED}",{first}="{CHANGED}",{first}="")', done), (f'{first}<>""', waiting))
    for formula, style in rules:
        sheet.conditional_formatting.add(area, Rule(type="expression", dxf=style, formula=[formula], stopIfTrue=True))


def _shape(pen: Pen, marked: MarkedPaper, layout: Layout) -> None:
    sheet = pen.sheet
    for letter in ("L", "M"):
        sheet.column_dimensions[letter].hidden = True
    sheet.row_dimensions[layout.refer_header].height = 30
    sheet.row_dimensions[layout.spare_heading].height = 26
    for row in range(layout.spare_first, layout.spare_last + 1):
        sheet.row_dimensions[row].height = 16
    sheet.freeze_panes = sheet.cell(layout.refer_first, R_PART + 1)
    if layout.referrals:
        sheet.auto_filter.ref = f"A{layout.refer_header}:K{layout.refer_last}"
    for_print(sheet, marked.title, layout.refer_header)
    sheet.print_area = f"A1:K{layout.spare_last}"
