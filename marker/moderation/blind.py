"""The workbook for a second marker: responses in random order under blind codes, and nothing that shows a first mark."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from openpyxl import Workbook
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from marker.moderation.codes import code_for, codes, text_digest
from marker.moderation.grid import sheets
from marker.moderation.model import MarkSet, plain, refuse_one
from marker.moderation.sampling import Drawn, Sample, by_chance
from marker.moderation.sheetwork import formula, printable, put, sheet_title, table, widths
from marker.reporting.atomic import replacing

ISSUE, ABOUT, KEY = "Issue", "About", "Key"
ISSUE_HEADS = ("Part", "Sheet", "Code", "Max", "Points", "Text check")
REMARK = "Remark"
BETWEEN = "\n"  # between the headings of the points, on the sheet Issue
TOP = 4  # heading row of a part's sheet
Points = tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSheet:
    """One part as a second marker gets it. rows: (code, response text); points: (name, maximum), () when only a mark is asked for."""

    part: str
    maximum: float
    title: str
    points: Points
    rows: tuple[tuple[str, str], ...]


def write_blind(path: Path, marker: str, drawn: Sequence[Drawn], marks: MarkSet, draw: int, step: float = 1) -> None:
    """Write one second marker's workbook. An existing file is replaced once the new one is complete. Raises OutputError."""
    parts = part_sheets(marker, drawn, marks, draw)
    book = Workbook()
    about = book.active
    assert isinstance(about, Worksheet)
    about.title = ABOUT
    for part in parts:
        _part_sheet(book.create_sheet(part.title), part, step)
    _about(about, marker, parts)
    _issue(book.create_sheet(ISSUE), marker, parts, draw, step)
    book.properties.creator = "marker"
    with replacing(path) as temporary:
        book.save(temporary)


def part_sheets(marker: str, drawn: Sequence[Drawn], marks: MarkSet, draw: int) -> tuple[PartSheet, ...]:
    """What is issued: for each part its scripts' codes and responses, in an order of chance that differs from part to part."""
    codes(draw, marks.candidates)
    known = any(m.text for m in marks.marks)
    found: list[PartSheet] = []
    for part, maximum in marks.parts.items():
        candidates = [d.candidate for d in drawn if part in d.parts and (d.candidate, part) in marks.by_response]
        if candidates:
            title = sheet_title(f"Part {part}", [ABOUT, ISSUE, *(p.title for p in found)])
            rows = tuple(
                (code_for(draw, c), _shown(marks.by_response[c, part][0].text, known))
                for c in by_chance(draw, candidates, f"{marker}|{part}")
            )
            found.append(PartSheet(part=part, maximum=maximum, title=title, points=common_points(marks, part), rows=rows))
    return tuple(found)


def _shown(text: str, known: bool) -> str:
    """A response as the second marker sees it; "" for responses on paper, which are found by their code."""
    return text if text.strip() or not known else "(nothing typed)"


def common_points(marks: MarkSet, part: str) -> Points:
    """The marking points most candidates were marked by; () when none are known or they cannot add up to the maximum.

    They are taken over the whole class, so that they say nothing about one candidate.
    """
    sets = Counter(tuple((p.name, p.maximum) for p in m.points) for m in marks.marks if m.part == part and m.points)
    if not sets:
        return ()
    points = sets.most_common(1)[0][0]
    names = [name for name, _ in points]
    return points if sum(worth for _, worth in points) >= marks.parts[part] and len(set(names)) == len(names) else ()


def _part_sheet(sheet: Worksheet, part: PartSheet, step: float) -> None:
    put(sheet, 1, 1, f"Part {part.part}: {plain(part.maximum)} {'mark' if part.maximum == 1 else 'marks'}", style="title")
    how = "Give each point its mark; the mark of the part adds up by itself." if part.points else "Give the mark of the part."
    put(
        sheet,
        2,
        1,
        f"{how} Every response needs a mark; 0 for nothing gained. The same code is the same script on every sheet.",
        style="note",
    )
    heads = ["Code", "Response", *map(_heading, part.points), f"Mark ({plain(part.maximum)})", REMARK]
    for j, head in enumerate(heads, start=1):
        put(sheet, TOP, j, head, style="head")
    last = TOP + len(part.rows)
    for i, (code, text) in enumerate(part.rows, start=TOP + 1):
        put(sheet, i, 1, code, style="strong")
        put(sheet, i, 2, text, style="wrap")
        _entries(sheet, i, part)
    _validations(sheet, part, last, step)
    widths(sheet, [11, 62, *[13.0] * len(part.points), 10, 34])
    sheet.freeze_panes = f"C{TOP + 1}"
    sheet.protection.sheet = True
    sheet.protection.formatColumns = sheet.protection.formatRows = False
    printable(sheet, f"Second marking, part {part.part}", TOP, landscape=True)


def _heading(point: tuple[str, float]) -> str:
    name, worth = point
    return f"{' '.join(name.split())} ({plain(worth)})"


def heading_worth(heading: str) -> tuple[str, float]:
    """Name and maximum of a point from its heading."""
    name, _, worth = heading.rpartition(" (")
    return name, float(worth.rstrip(")"))


def _entries(sheet: Worksheet, row: int, part: PartSheet) -> None:
    first, mark = 3, 3 + len(part.points)
    for j in range(first, mark + 2):
        put(sheet, row, j, None, style="entry" if j <= mark else "entry text")
    if part.points:
        span = f"{get_column_letter(first)}{row}:{get_column_letter(mark - 1)}{row}"
        formula(sheet, row, mark, f'=IF(COUNT({span})<{len(part.points)},"",MIN({plain(part.maximum)},SUM({span})))', style="entry")


def _validations(sheet: Worksheet, part: PartSheet, last: int, step: float) -> None:
    limits = [*(worth for _, worth in part.points), part.maximum]
    for j, worth in enumerate(limits, start=3):
        choices = [plain(k * step) for k in range(round(worth / step) + 1)]
        rule = DataValidation(type="list", formula1=f'"{",".join(choices)}"', allow_blank=True, showErrorMessage=True)
        if len(",".join(choices)) > 200:
            kind: Literal["whole", "decimal"] = "whole" if step == 1 else "decimal"
            rule = DataValidation(
                type=kind, operator="between", formula1="0", formula2=plain(worth), allow_blank=True, showErrorMessage=True
            )
        rule.errorTitle = "Not a mark here"
        rule.error = f"A mark from 0 to {plain(worth)}" + ("" if step == 1 else f" in steps of {plain(step)}")
        rule.add(f"{get_column_letter(j)}{TOP + 1}:{get_column_letter(j)}{last}")
        sheet.add_data_validation(rule)


def _about(sheet: Worksheet, marker: str, parts: Sequence[PartSheet]) -> None:
    put(sheet, 1, 1, "Second marking", style="title")
    put(sheet, 2, 1, f"For {marker}. Mark by the scheme, without sight of any other mark.", style="note")
    rows = [(p.part, p.maximum, len(p.rows), None) for p in parts]
    end = table(sheet, 4, ["Part", "Maximum", "Responses", "Marked"], rows)
    for i, part in enumerate(parts, start=5):
        column = get_column_letter(3 + len(part.points))
        title = part.title.replace("'", "''")
        formula(sheet, i, 4, f"=COUNT('{title}'!{column}{TOP + 1}:{column}{TOP + len(part.rows)})", style="centred")
    notes = (
        "Each sheet is one part. Rows are in random order; codes stand for scripts.",
        "Type marks in the framed cells only. Rows may not be added; a code or response may not be changed.",
        "A doubt belongs in Remark; the mark is still needed.",
    )
    for i, note in enumerate(notes, start=end + 1):
        put(sheet, i, 1, note, style="note")
        sheet.merge_cells(start_row=i, start_column=1, end_row=i, end_column=6)
    widths(sheet, [16, 12, 12, 12, 20, 20])
    printable(sheet, "Second marking")


def _issue(sheet: Worksheet, marker: str, parts: Sequence[PartSheet], draw: int, step: float) -> None:
    """What was issued, hidden: by it the marks are taken back, and a changed, lost or added row is found out. It holds no mark."""
    for row, (name, value) in enumerate((("Issued responses", 1), ("Marker", marker), ("Draw", str(draw)), ("Step", step)), start=1):
        put(sheet, row, 1, name)
        put(sheet, row, 2, value)
    rows = [
        (p.part, p.title, code, p.maximum, BETWEEN.join(map(_heading, p.points)), text_digest(text)) for p in parts for code, text in p.rows
    ]
    table(sheet, 6, ISSUE_HEADS, rows)
    sheet.sheet_state = "hidden"
    sheet.protection.sheet = True


def read_checked_first(path: Path) -> tuple[str, ...]:
    """Candidates whom the key says are checked first. Raises WorkbookError when it is not a key."""
    grid = sheets(path).get(KEY)
    header = grid.header(("candidate", "stage")) if grid is not None else None
    if grid is None or header is None:
        refuse_one(
            path.name, "not the key to a sample", expected=f"a sheet {KEY} with Candidate and Stage", mend="Give the key as it was written."
        )
    top, columns = header
    return tuple(
        grid.cell(i, columns["candidate"]).text for i in range(top + 1, len(grid.rows)) if grid.cell(i, columns["stage"]).text == "1"
    )


def write_key(path: Path, sample: Sample, given: Mapping[str, Sequence[Drawn]], marks: MarkSet) -> None:
    """The list of who is behind each code, for the person who keeps the sample; it holds no mark either."""
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = KEY
    put(sheet, 1, 1, "Key to the sample", style="title")
    put(sheet, 2, 1, f"Rule: {sample.rule.name}. Draw {sample.draw}. Not for the second markers.", style="note")
    rows = [
        (
            code_for(sample.draw, d.candidate),
            d.candidate,
            marks.classes.get(d.candidate, ""),
            ", ".join(d.parts),
            d.why,
            d.stage,
            ", ".join(name for name, theirs in given.items() if d in theirs),
        )
        for d in sample.drawn
    ]
    table(sheet, 4, ["Code", "Candidate", "Class", "Parts", "Why", "Stage", "Second marker"], rows)
    widths(sheet, [12, 14, 10, 40, 26, 8, 26])
    sheet.freeze_panes = "A5"
    printable(sheet, "Key to the sample", 4, landscape=True)
    with replacing(path) as temporary:
        book.save(temporary)
