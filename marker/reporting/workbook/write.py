"""A marked paper to a workbook."""

from __future__ import annotations

from pathlib import Path

from marker.reporting.atomic import replacing
from marker.reporting.decisions import Decisions, changes, standing, usable
from marker.reporting.paper import Key, MarkedPaper
from marker.reporting.workbook.items import write_items
from marker.reporting.workbook.layout import CHANGES, ITEMS, MARKS, POINTS, RECORD, REFER, WORKING, plan
from marker.reporting.workbook.marks import Standing, write_marks
from marker.reporting.workbook.package import save
from marker.reporting.workbook.pen import Cached, Pen, cell_text
from marker.reporting.workbook.record import write_changes, write_points, write_record
from marker.reporting.workbook.refer import write_refer
from marker.reporting.workbook.styles import shared_styles
from marker.reporting.workbook.working import write_working


def write_workbook(path: Path, marked: MarkedPaper, keep: Decisions | None = None) -> None:
    """Write the workbook of a marked class test, replacing an existing file once the new one is complete.

    keep     decisions read from an earlier workbook: they are entered on Refer, and a sheet Changes lists what differs
    Raises   OutputError when the file cannot be written
    """
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.worksheets[0])
    styles = shared_styles(book)
    cached: Cached = {}
    pens = {name: Pen(book.create_sheet(name), styles, cached) for name in (MARKS, WORKING, REFER, ITEMS, RECORD)}
    layout = plan(marked, keep)
    marks = standing(marked, keep)
    write_marks(pens[MARKS], marked, layout, _now(marked, keep))
    write_working(pens[WORKING], marked)
    write_refer(pens[REFER], marked, layout, keep)
    write_items(pens[ITEMS], marked, layout, marks)
    write_record(pens[RECORD], marked, keep.file if keep is not None else "")
    if keep is not None:
        write_changes(Pen(book.create_sheet(CHANGES), styles, cached), marked, changes(keep, marked), keep.file)
    write_points(Pen(book.create_sheet(POINTS), styles, cached), marked)
    book.properties.title = cell_text(marked.title)[:200]
    book.properties.creator = "marker"
    with replacing(path) as temporary:
        save(book, cached, temporary)


def _now(marked: MarkedPaper, keep: Decisions | None) -> Standing:
    maxima = dict(marked.parts)
    made = keep.made if keep is not None else {}
    own = frozenset(k for k, d in made.items() if k[1] in maxima and usable(d, maxima[k[1]], marked.half_marks))
    waiting: frozenset[Key] = frozenset((c, r.part) for c, r in marked.referrals()) - own
    return Standing(marks=standing(marked, keep), own=own, open=waiting)
