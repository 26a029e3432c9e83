"""Marking instructions as a workbook: the sheets Instructions and Rulings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from marker.reporting.atomic import replacing
from marker.scheme.show.model import PartView, SchemeView

HEADS = ("Part", "Expected working", "Point", "For", "Marks", "Answer", "Accepted", "Guidance")
_WIDTHS = (8, 52, 7, 44, 7, 24, 28, 60)
_INK, _ACCENT, _FILL, _LINE = "1F2A2E", "275D55", "EEF3F1", "D5DCDA"


def write_instructions(view: SchemeView, path: Path) -> None:
    """Writes the workbook. Raises OutputError when it cannot be written."""
    from openpyxl import Workbook

    book = Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Instructions"
    _put(sheet, 1, 1, f"{view.title}: marking instructions", bold=True, colour=_ACCENT, size=14)
    _put(sheet, 2, 1, f"{view.maximum} marks; convention: {view.convention}", colour=_INK)
    _table(sheet, 4, HEADS, [row for part in view.parts for row in part_rows(part)], _WIDTHS)
    sheet.freeze_panes = "B5"
    rulings = book.create_sheet("Rulings")
    _table(rulings, 1, ("Ruling", "Here", "Replaced", "What it decides"), list(_rulings(view)), (26, 40, 10, 90))
    rulings.freeze_panes = "A2"
    with replacing(path) as temporary, temporary.open("wb") as file:
        book.save(file)


def part_rows(part: PartView) -> Iterator[tuple[Any, ...]]:
    """One row a line of working, with the points it earns; the first row has the answers and the guidance."""
    what = {p.label: p for p in part.points}
    answers = "\n".join(f"{a.symbol} = {a.value}" for a in part.answers)
    accepted = "\n".join("; ".join(x for x in (a.accepted, a.figures) if x) for a in part.answers)
    guidance = [*([part.stem] if part.stem else []), *part.guidance, *(f"{r.name}: {r.value}" for r in part.rulings)]
    guidance += [f"Another method, {r.name}: " + "; ".join(x.text for x in r.lines) for r in part.routes]
    shown = False
    for line in part.lines:
        points = [what[n] for n, _ in line.points if n in what]
        first = (part.name, line.text, ", ".join(p.label for p in points), "\n".join(p.what for p in points), _sum(points))
        yield (*first, *(("", "", "") if shown else (answers, accepted, "\n".join(guidance))))
        shown = True
    if not shown:
        yield (part.name, "", "", "", "", answers, accepted, "\n".join(guidance))


def _sum(points: Sequence[Any]) -> float | str:
    worth = sum((float(p.marks) for p in points), 0.0)
    return (int(worth) if worth.is_integer() else worth) if points else ""


def _rulings(view: SchemeView) -> Iterator[tuple[str, ...]]:
    for ruling in view.rulings:
        yield (ruling.name, ruling.value, "yes" if ruling.replaced else "", ruling.meaning)


def _table(sheet: Any, top: int, heads: Sequence[str], rows: Sequence[Sequence[Any]], widths: Sequence[int]) -> None:
    from openpyxl.styles import Border, PatternFill, Side
    from openpyxl.utils import get_column_letter

    for place, head in enumerate(heads, 1):
        cell = _put(sheet, top, place, head, bold=True, colour=_ACCENT)
        cell.fill = PatternFill("solid", fgColor=_FILL)
        cell.border = Border(bottom=Side(style="medium", color=_ACCENT))
        sheet.column_dimensions[get_column_letter(place)].width = widths[place - 1]
    part = None
    for number, row in enumerate(rows, top + 1):
        for place, value in enumerate(row, 1):
            cell = _put(sheet, number, place, value)
            if row[0] != part:
                cell.border = Border(top=Side(style="thin", color=_LINE))
        part = row[0]


def _put(sheet: Any, row: int, column: int, value: Any, *, bold: bool = False, colour: str = _INK, size: int = 10) -> Any:
    """A cell; text is never a formula, whatever it begins with."""
    from openpyxl.styles import Alignment, Font

    cell = sheet.cell(row, column)
    if isinstance(value, str):
        cell.value = "".join(c for c in value if c in "\n\t" or c >= " ")
        cell.data_type = "s"
        cell.quotePrefix = value[:1] in "=+-@"
    else:
        cell.value = value
    cell.font = Font(name="Arial", size=size, bold=bold, color=colour)
    cell.alignment = Alignment(vertical="top", wrap_text=size <= 10)
    return cell
