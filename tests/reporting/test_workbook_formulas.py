"""The workbook's formulas, computed by LibreOffice: totals, and the teacher's mark in place of ours."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from marker.reporting import Decision, Decisions, MarkedPaper, write_workbook
from marker.reporting.workbook.layout import Layout, plan
from marker.results import LineReport, PartResult, Possibility, Referral

from .invented import marked_paper
from .office import Values, computed, needs_office, values

pytestmark = needs_office


def emptied(path: Path) -> Path:
    """The workbook saved by openpyxl, which drops the values beside formulas."""
    target = path.with_name(f"typed-{path.name}")
    load_workbook(path).save(target)
    return target


def cell(rows: list[list[Any]], row: int, column: int) -> Any:
    """A value by row and column from 1; "" outside."""
    return rows[row - 1][column - 1] if row <= len(rows) and column <= len(rows[row - 1]) else ""


def formulas(path: Path) -> Iterator[tuple[str, int, int]]:
    for sheet in load_workbook(path):
        for row in sheet.iter_rows():
            for c in row:
                if c.data_type == "f":
                    yield sheet.title, c.row, c.column


@pytest.fixture(scope="module")
def class_test(tmp_path_factory: pytest.TempPathFactory) -> tuple[MarkedPaper, Layout, Path, Values]:
    """A class test as written, and as LibreOffice computes it."""
    folder = tmp_path_factory.mktemp("plain")
    marked = marked_paper()
    kept = Decisions(made={("c03", "1b"): Decision(mark=2, note="second look"), ("c02", "5"): Decision(mark=3)}, file="earlier.xlsx")
    path = folder / "marks.xlsx"
    write_workbook(path, marked, kept)
    return marked, plan(marked, kept), path, computed(emptied(path), folder)


def test_values_written_beside_formulas_are_those_a_spreadsheet_computes(class_test: tuple[MarkedPaper, Layout, Path, Values]) -> None:
    _, _, path, seen = class_test
    written = values(path)
    checked = 0
    for sheet, row, column in formulas(path):
        ours, theirs = cell(written[sheet], row, column), cell(seen[sheet], row, column)
        if isinstance(ours, float) and isinstance(theirs, float):
            assert math.isclose(ours, theirs, rel_tol=1e-9, abs_tol=1e-12), (sheet, row, column, ours, theirs)
        else:
            assert ours == theirs, (sheet, row, column, ours, theirs)
        checked += 1
    assert checked > 24 * 14


def test_totals_and_kept_decisions(class_test: tuple[MarkedPaper, Layout, Path, Values]) -> None:
    marked, layout, _, seen = class_test
    marks = seen["Marks"]
    assert cell(marks, layout.out_of_row, layout.total) == sum(m for _, m in marked.parts)
    for row, candidate in enumerate(marked.candidates, start=layout.first_row):
        expected = {p: marked.results[candidate, p].mark for p, _ in marked.parts}
        expected |= {p: m for c, p, m in (("c03", "1b", 2), ("c02", "5", 3)) if c == candidate}
        assert [cell(marks, row, layout.first_part + n) for n in range(layout.parts)] == list(expected.values())
        assert cell(marks, row, layout.total) == sum(expected.values())
        assert cell(marks, row, layout.percent) == pytest.approx(sum(expected.values()) / marked.maximum)
        waiting = [p for p, _ in marked.parts if marked.results[candidate, p].referred and (candidate, p) != ("c02", "5")]
        assert cell(marks, row, layout.to_settle) == ", ".join(waiting)
    open_now = len(marked.referrals()) - 1
    assert str(cell(marks, 3, 1)).startswith(f"{open_now} referrals wait")


TYPED = (
    ("a referral", "referral", 0, "settled", 0),
    ("full marks", "referral", "max", "settled", "max"),
    ("above the maximum", "referral", 9, "not a possible mark", None),
    ("below nought", "referral", -1, "not a possible mark", None),
    ("a half where marks are whole", "referral", 0.5, "not a possible mark", None),
    ("a number as text", "referral", "2", "not a number", None),
    ("a mark that was not referred", "spare", 0, "changed", 0),
    ("not referred, above the maximum", "spare", 9, "not a possible mark", None),
)


def test_what_is_typed_on_refer(tmp_path: Path) -> None:
    """One workbook, one referral or spare row for each case; rows of Refer are then swapped as sorting would."""
    marked = marked_paper()
    layout = plan(marked, None)
    path = tmp_path / "marks.xlsx"
    write_workbook(path, marked)
    book = load_workbook(path)
    refer = book["Refer"]
    referrals = marked.referrals()
    free = [(c, r) for c, r in marked.responses() if not r.referred and r.mark > 0]
    expected: list[tuple[str, str, float, str, int]] = []
    for n, (_, place, typed, state, stands) in enumerate(TYPED):
        row = layout.refer_first + n if place == "referral" else layout.spare_first + n
        candidate, result = referrals[n] if place == "referral" else free[n]
        if place == "spare":
            refer.cell(row, 1).value, refer.cell(row, 2).value = candidate, result.part
        refer.cell(row, 9).value = result.maximum if typed == "max" else typed
        mark = result.mark if stands is None else result.maximum if stands == "max" else stands
        expected.append((candidate, result.part, mark, state, row))
    last = layout.refer_first + len(referrals) - 1
    for column in (1, 2, 3, 7, 8, 9):
        first_cell, last_cell = refer.cell(layout.refer_first, column), refer.cell(last, column)
        first_cell.value, last_cell.value = last_cell.value, first_cell.value
    book.save(path)
    seen = computed(path, tmp_path)
    for candidate, part, mark, state, row in expected:
        at_row = layout.first_row + marked.candidates.index(candidate)
        at_column = layout.first_part + [p for p, _ in marked.parts].index(part)
        where = last if row == layout.refer_first else row
        assert (cell(seen["Marks"], at_row, at_column), cell(seen["Refer"], where, 11)) == (mark, state), (candidate, part)


def test_spare_rows_say_what_is_wrong_with_them(tmp_path: Path) -> None:
    marked = marked_paper()
    layout = plan(marked, None)
    path = tmp_path / "marks.xlsx"
    write_workbook(path, marked)
    book = load_workbook(path)
    rows = (("c99", "1a", 1, "no such candidate"), ("c01", "9z", 1, "no such part"), ("c01", "1a", None, "no mark yet"),
            ("c05", "1a", 0, "changed"), ("c05", "1a", 3, "has a mark above"), (None, None, None, ""))  # fmt: skip
    for row, (candidate, part, mark, _) in enumerate(rows, start=layout.spare_first):
        for column, value in ((1, candidate), (2, part), (9, mark)):
            book["Refer"].cell(row, column).value = value
    book.save(path)
    seen = computed(path, tmp_path)
    assert [cell(seen["Refer"], layout.spare_first + n, 11) for n in range(len(rows))] == [r[3] for r in rows]
    assert cell(seen["Marks"], layout.first_row + 4, layout.first_part) == 0


def test_half_marks_where_they_are_given(tmp_path: Path) -> None:
    marked = marked_paper(half_marks=True)
    layout = plan(marked, None)
    path = tmp_path / "marks.xlsx"
    write_workbook(path, marked)
    book = load_workbook(path)
    book["Refer"].cell(layout.refer_first, 9).value = 1.5
    book["Refer"].cell(layout.refer_first + 1, 9).value = 1.25
    book.save(path)
    seen = computed(path, tmp_path)
    assert [cell(seen["Refer"], layout.refer_first + n, 11) for n in (0, 1)] == ["settled", "not a possible mark"]


AWKWARD = ("7", "007", "1e2", "a*b", "aXb", "a?b", "a~b", 'say "x"', "=1+1", "+cmd", "a|b", "TRUE", "ΔΩ")


def test_candidates_a_formula_could_mistake(tmp_path: Path) -> None:
    """Lookups must tell 7 from 007 and take * ? ~ literally (wildcards: OpenDocument 1.3 part 4, 3.4)."""
    referral = Referral(reason="r", possibilities=(Possibility(text="p", mark=1),))
    lines = (LineReport(number=1, text="x"),)
    results = {(c, "1"): PartResult(part="1", mark=0, maximum=20, referral=referral, lines=lines) for c in AWKWARD}
    marked = replace(marked_paper(1), candidates=AWKWARD, groups={}, parts=(("1", 20.0),), results=results)
    layout = plan(marked, None)
    path = tmp_path / "marks.xlsx"
    write_workbook(path, marked)
    book = load_workbook(path)
    for n in range(len(AWKWARD)):
        book["Refer"].cell(layout.refer_first + n, 9).value = n + 1
    book.save(path)
    marks = computed(path, tmp_path)["Marks"]
    assert [cell(marks, layout.first_row + n, layout.first_part) for n in range(len(AWKWARD))] == list(range(1, len(AWKWARD) + 1))
    assert cell(marks, 3, 1) == "Every referral is settled."
