"""The sheet Working: each typed line, how it was read, what was found, and the mark and reason it carries."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.reporting.paper import MarkedPaper, mark_text
from marker.reporting.workbook.layout import REFER
from marker.reporting.workbook.pen import Pen, Value, for_print
from marker.results import Award, LineReport, Outcome, PartResult

HEADINGS = ("Candidate", "Part", "Part mark", "Line", "As typed", "Read as", "Verdict", "Point", "Mark", "Reason")
HEADER_ROW = 4
_WIDTHS = (11.0, 7.0, 10.0, 6.0, 34.0, 31.0, 17.0, 18.0, 7.0, 46.0)

VERDICTS = {
    "right": "✓ right",
    "follows": "✓ right on own value",
    "wrong": "✗ not right",
    "data": "· restates the data",
    "value": "· a value",
    "remark": "· words",
    "withdrawn": "– crossed out",
    "unread": "? could not be read",
    "unused": "· no bearing on a mark",
}
_SIGNS = {Outcome.EARNED: "✓", Outcome.NOT_EARNED: "✗", Outcome.REFERRED: "?"}

WorkRow = tuple[Value, ...]


def write_working(pen: Pen, marked: MarkedPaper) -> None:
    pen.title("Working", "One row for each line as typed. A heavier rule begins each response; ✓ earned, ✗ not earned, ? referred.")
    for column, heading in enumerate(HEADINGS, start=1):
        pen.text(HEADER_ROW, column, heading, "head")
    pen.widths(_WIDTHS)
    row = HEADER_ROW
    for candidate, result in marked.responses():
        for first, cells in _first_told(_rows(candidate, result)):
            row += 1
            _write(pen, row, cells, first)
    sheet = pen.sheet
    sheet.row_dimensions[HEADER_ROW].height = 20
    sheet.freeze_panes = f"C{HEADER_ROW + 1}"
    sheet.auto_filter.ref = f"A{HEADER_ROW}:J{max(row, HEADER_ROW + 1)}"
    for_print(sheet, marked.title, HEADER_ROW)


def _write(pen: Pen, row: int, cells: WorkRow, first: bool) -> None:
    code, body, middle = ("start code", "start", "start centred") if first else ("cell again", "cell", "cell centred")
    styles = (code, code, "start mark" if first else "cell centred", middle, body, body, body, body, middle, body)
    pen.row(row, list(zip(cells, styles, strict=True)))
    pen.fit(row)


def _rows(candidate: str, result: PartResult) -> Iterator[WorkRow]:
    """The rows of one response: its lines, then the points that no line earned."""
    of = f"{mark_text(result.mark)}{'?' if result.referred else ''} of {mark_text(result.maximum)}"
    numbers = {line.number for line in result.lines}
    placed: dict[int, list[Award]] = {}
    for award in result.awards:
        placed.setdefault(max((n for n in award.lines if n in numbers), default=0), []).append(award)
    for line in result.lines:
        yield (candidate, result.part, of, line.number, line.text, _reading(line), _verdict(line), *_points(result, line, placed))
    rest = placed.get(0, [])
    if not result.lines:
        points = "\n".join(_point(a) for a in result.awards if a.mark or a.outcome is Outcome.REFERRED)
        yield (candidate, result.part, of, "–", "(nothing typed)", "", "", points, result.mark, "\n".join(result.notes) or "no response")
    elif rest:
        points, reasons = "\n".join(_point(a) for a in rest), "\n".join(_reasons(rest))
        yield (candidate, result.part, of, "–", "", "", "", points, sum(a.mark for a in rest), reasons)
    if result.referral is not None:
        yield (candidate, result.part, of, "–", "", "", "? referred", "", None, f"{result.referral.reason} (see the sheet {REFER})")


def _first_told(rows: Iterator[WorkRow]) -> Iterator[tuple[bool, WorkRow]]:
    """The part mark stands in the first row of a response only."""
    for n, cells in enumerate(rows):
        yield n == 0, cells if n == 0 else (*cells[:2], "", *cells[3:])


def _reading(line: LineReport) -> str:
    """How each statement of the line was read, one under the other."""
    return "\n".join(line.readings)


def _verdict(line: LineReport) -> str:
    return VERDICTS.get(line.verdict, line.verdict)


def _points(result: PartResult, line: LineReport, placed: dict[int, list[Award]]) -> tuple[str, float | None, str]:
    """(points, their marks together, reasons) that hang on one line; the reasons end with what was found wrong in it."""
    awards = placed.get(line.number, [])
    reasons = _reasons(awards)
    for words in [*(f"{'' if f.sure else 'May be: '}{f.teacher}" for f in result.faults if f.line == line.number), line.note]:
        if words and not any(words in reason for reason in reasons):
            reasons.append(words)
    return "\n".join(_point(a) for a in awards), sum(a.mark for a in awards) if awards else None, "\n".join(reasons)


def _reasons(awards: Sequence[Award]) -> list[str]:
    """The reasons of points that share a row, each under its point's name where there are several."""
    told = [f"{a.point}: {a.reason}" if len(awards) > 1 else a.reason for a in awards]
    return [reason for reason in dict.fromkeys(told) if reason]


def _point(award: Award) -> str:
    partly = 0 < award.mark < award.maximum or award.maximum != 1
    worth = f" ({mark_text(award.mark)} of {mark_text(award.maximum)})" if partly else ""
    return f"{_SIGNS[award.outcome]} {award.point}{worth}{', own value followed' if award.followed_through else ''}"
