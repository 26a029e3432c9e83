"""Blind workbooks out and back: nothing leaks, pairs are right whatever the order of rows, and every fault is named by its cell."""

import io
import random
import shutil
import subprocess
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from marker.errors import WorkbookError
from marker.moderation.blind import TOP, write_blind, write_key
from marker.moderation.codes import FIGURES, LETTERS, code_for, codes
from marker.moderation.model import MarkSet, PointMark
from marker.moderation.rules import SamplingFile, load, named
from marker.moderation.sampling import Sample, draw_sample
from marker.moderation.source import load_marks

DRAW = 31
Edit = Callable[[openpyxl.Workbook], None]


@pytest.fixture
def sample(first: MarkSet) -> Sample:
    return draw_sample(first, named(load("sampling", SamplingFile).rule, "size bands of ten", ""), DRAW)


@pytest.fixture
def blind(tmp_path: Path, first: MarkSet, sample: Sample) -> Path:
    path = tmp_path / "sample.xlsx"
    write_blind(path, "Brook", sample.drawn, first, DRAW)
    return path


def filled(path: Path, first: MarkSet, edit: Edit | None = None, change: float = 0.0) -> Path:
    """The workbook with every point marked as at first (each whole mark lowered with probability `change`), then edited."""
    who, rng = codes(DRAW, first.candidates), random.Random(2)
    book = openpyxl.load_workbook(path)
    for sheet in book.worksheets:
        if sheet.title.startswith("Part "):
            for row in range(TOP + 1, sheet.max_row + 1):
                points = first.by_response[who[sheet.cell(row, 1).value], sheet.title.removeprefix("Part ")][0].points
                for j, point in enumerate(points):
                    sheet.cell(row, 3 + j).value = 0 if rng.random() < change else point.mark
    if edit is not None:
        edit(book)
    done = path.with_name("done.xlsx")
    book.save(done)
    return done


def test_marks_come_back_to_the_right_candidates(blind: Path, first: MarkSet, sample: Sample) -> None:
    second = load_marks(filled(blind, first), like=first)
    assert second.markers == ("Brook",)
    assert {m.response: m.mark for m in second.marks} == {r: first.by_response[r][0].mark for r in sample.responses}
    assert all(m.points == first.by_response[m.response][0].points for m in second.marks)


def test_rows_may_be_sorted_anew(blind: Path, first: MarkSet) -> None:
    def turn_round(book: openpyxl.Workbook) -> None:
        for sheet in book.worksheets:
            if sheet.title.startswith("Part "):
                rows = [[c.value for c in row] for row in sheet.iter_rows(min_row=TOP + 1)]
                for i, values in enumerate(reversed(rows), start=TOP + 1):
                    for j, value in enumerate(values, start=1):
                        sheet.cell(i, j).value = value
                        if isinstance(value, str) and j == 2:
                            sheet.cell(i, j).data_type = "s"

    plain, turned = load_marks(filled(blind, first), like=first), load_marks(filled(blind, first, turn_round), like=first)
    assert {m.response: m.mark for m in plain.marks} == {m.response: m.mark for m in turned.marks}


def test_the_workbook_shows_no_first_mark(tmp_path: Path, first: MarkSet, sample: Sample) -> None:
    """The same responses with all other first marks, points, faults and doubts give the same workbook, byte for byte in every sheet."""
    from dataclasses import replace

    other = replace(
        first,
        marks=tuple(
            replace(
                m, mark=m.maximum - m.mark, referred=not m.referred, faults=(), points=tuple(replace(p, mark=1 - p.mark) for p in m.points)
            )
            for m in first.marks
        ),
    )
    found = []
    for i, marks in enumerate((first, other)):
        path = tmp_path / f"{i}.xlsx"
        write_blind(path, "Brook", sample.drawn, marks, DRAW)
        with zipfile.ZipFile(io.BytesIO(path.read_bytes())) as package:
            found.append({n: package.read(n) for n in package.namelist() if n.startswith("xl/")})
    assert found[0] == found[1] and len(found[0]) > 10


def test_the_workbook_names_no_candidate_and_no_reason_for_the_choice(blind: Path, first: MarkSet) -> None:
    texts = [str(c.value) for sheet in openpyxl.load_workbook(blind) for row in sheet.iter_rows() for c in row if c.value is not None]
    assert not [t for t in texts if t in first.candidates or "rank" in t or "highest" in t]


def test_orders_differ_from_part_to_part(blind: Path) -> None:
    book = openpyxl.load_workbook(blind)
    orders = {tuple(c.value for c in sheet["A"][TOP:]) for sheet in book.worksheets if sheet.title.startswith("Part ")}
    assert len(orders) == 8 and len({frozenset(o) for o in orders}) == 1


def test_cells_are_validated_and_typed_text_is_no_formula(blind: Path) -> None:
    sheet = openpyxl.load_workbook(blind)["Part 1b"]
    rules = {str(v.sqref): v.formula1 for v in sheet.data_validations.dataValidation}
    assert rules["C5:C14"] == '"0,1"' and rules["F5:F14"] == '"0,1,2,3"'
    assert sheet.protection.sheet and not sheet["C5"].protection.locked and sheet["A5"].protection.locked
    assert all(c.data_type == "s" for c in sheet["B"][TOP:])
    assert openpyxl.load_workbook(blind)["Issue"].sheet_state == "hidden"


def test_codes_cannot_be_taken_for_numbers_and_hardly_collide() -> None:
    found = {code_for(1, f"candidate {i}") for i in range(3000)}
    assert len(found) >= 2999
    assert all(len(c) == 7 and set(c[:4]) <= set(LETTERS) and set(c[4:]) <= set(FIGURES) for c in found)


def test_the_key_holds_codes_and_no_marks(tmp_path: Path, first: MarkSet, sample: Sample) -> None:
    path = tmp_path / "key.xlsx"
    write_key(path, sample, {"Brook": sample.drawn}, first)
    rows = list(openpyxl.load_workbook(path)["Key"].iter_rows(min_row=5, values_only=True))
    assert {r[0]: r[1] for r in rows} == {code_for(DRAW, d.candidate): d.candidate for d in sample.drawn}


def _set(sheet: str, cell: str, value: object) -> Edit:
    def edit(book: openpyxl.Workbook) -> None:
        book[sheet][cell].value = value

    return edit


def _all(*edits: Edit) -> Edit:
    def edit(book: openpyxl.Workbook) -> None:
        for one in edits:
            one(book)

    return edit


def _swap_codes(book: openpyxl.Workbook) -> None:
    sheet = book["Part 2b"]
    sheet["A5"].value, sheet["A6"].value = sheet["A6"].value, sheet["A5"].value


def _repeat_row(book: openpyxl.Workbook) -> None:
    sheet = book["Part 2b"]
    for j in range(1, 8):
        sheet.cell(15, j).value = sheet.cell(5, j).value


def _points_and_another_mark(book: openpyxl.Workbook) -> None:
    for cell, value in (("C5", 1), ("D5", 1), ("E5", 0), ("F5", 3)):
        book["Part 2b"][cell].value = value


def _mark_alone(value: object) -> Edit:
    return _all(*(_set("Part 2b", c, None) for c in ("C5", "D5", "E5")), _set("Part 2b", "F5", value))


SHEET = "done.xlsx, sheet Part 2b"
BAD: tuple[tuple[str, Edit, tuple[str, ...]], ...] = (
    ("a missing mark", _set("Part 2b", "D7", None), (f"{SHEET}, cell D7: no mark", "0 for nothing gained")),
    ("a row without any", _all(*(_set("Part 2b", f"{c}9", None) for c in "CDE")), (f"{SHEET}, cell C9: no mark",)),
    ("an impossible mark", _set("Part 2b", "C6", 2), (f"{SHEET}, cell C6: 2 is not possible here", "from 0 to 1")),
    ("a negative mark", _set("Part 2b", "C6", -1), (f"{SHEET}, cell C6: -1 is not possible here",)),
    ("a half mark", _set("Part 2b", "E8", 0.5), (f"{SHEET}, cell E8: 0.5 is not in steps of 1",)),
    ("a letter for a figure", _set("Part 2b", "C5", "O"), (f'{SHEET}, cell C5: "O" is not a mark', "the figure 0")),
    ("a word", _set("Part 2b", "C5", "one"), (f'{SHEET}, cell C5: "one" is not a mark',)),
    ("a truth value", _set("Part 2b", "C5", True), (f'{SHEET}, cell C5: "True" is not a mark',)),
    ("a mark alone, impossible", _mark_alone(4), (f"{SHEET}, cell F5: 4 is not possible here", "from 0 to 3")),
    ("points against mark", _points_and_another_mark, (f"{SHEET}, cell F5: the mark is 3, but its points add up to 2",)),
    ("an unknown code", _set("Part 2b", "A5", "QQQQ333"), (f'{SHEET}, cell A5: code "QQQQ333"', "is gone")),
    ("codes exchanged", _swap_codes, (f"{SHEET}, cell B5: this is not the response issued", f"{SHEET}, cell B6: this is not")),
    ("a response changed", _set("Part 2b", "B5", "V = IR"), (f"{SHEET}, cell B5: this is not the response issued",)),
    ("an extra row", _set("Part 2b", "C15", 1), (f"{SHEET}, cell A15: a row without a code",)),
    ("a row twice", _repeat_row, (f"{SHEET}, cell A15: code", f"again (first at {SHEET}, cell A5)")),
    ("a row gone", _all(*(_set("Part 2b", f"{c}5", None) for c in "ABCDEFG")), (f"{SHEET}: the row of code", "is gone")),
    ("a heading changed", _set("Part 2b", "A4", "Number"), (f"{SHEET}, row 4: the headings were changed",)),
    ("a point worth more", _set("Part 2b", "C4", "relationship (2)"), (f"{SHEET}, row 4: the headings were changed",)),
    ("a sheet gone", lambda book: book.remove(book["Part 3"]), ("done.xlsx, sheet Part 3: the sheet is gone",)),
    ("the issue changed", _set("Issue", "B3", "x"), ("done.xlsx, sheet Issue: changed since it was issued",)),
    ("another draw", _set("Issue", "B3", "32"), ("belong to no candidate in",)),
)


@pytest.mark.parametrize(("name", "edit", "says"), BAD, ids=[b[0] for b in BAD])
def test_every_fault_of_a_sheet_is_named_by_its_cell(name: str, edit: Edit, says: tuple[str, ...], blind: Path, first: MarkSet) -> None:
    with pytest.raises(WorkbookError) as caught:
        load_marks(filled(blind, first, edit), like=first)
    assert [s for s in says if s not in str(caught.value)] == []


def test_all_faults_are_told_at_once(blind: Path, first: MarkSet) -> None:
    edit = _all(_set("Part 2b", "C5", 7), _set("Part 3", "C6", "x"), _set("Part 5", "C7", None))
    with pytest.raises(WorkbookError) as caught:
        load_marks(filled(blind, first, edit), like=first)
    assert len(caught.value.problems) == 3


def test_a_mark_alone_is_enough(blind: Path, first: MarkSet) -> None:
    second = load_marks(filled(blind, first, _mark_alone(2)), like=first)
    code = openpyxl.load_workbook(blind)["Part 2b"]["A5"].value
    found = next(m for m in second.marks if m.candidate == codes(DRAW, first.candidates)[code] and m.part == "2b")
    assert (found.mark, found.points) == (2.0, ())


def test_missing_marks_may_be_passed_over_when_asked(blind: Path, first: MarkSet) -> None:
    edit = _all(*(_set("Part 2b", f"{c}9", None) for c in "CDE"))
    second = load_marks(filled(blind, first, edit), like=first, missing=True)
    assert len(second.marks) == 79


def test_a_half_filled_row_is_never_passed_over(blind: Path, first: MarkSet) -> None:
    with pytest.raises(WorkbookError) as caught:
        load_marks(filled(blind, first, _set("Part 2b", "D7", None)), like=first, missing=True)
    assert "cell D7" in str(caught.value)


def test_it_is_not_taken_for_first_marks(blind: Path, first: MarkSet) -> None:
    with pytest.raises(WorkbookError) as caught:
        load_marks(filled(blind, first))
    assert "a second marker's workbook" in str(caught.value)


def test_marks_of_another_class_test_are_refused(blind: Path, first: MarkSet) -> None:
    from dataclasses import replace

    other = replace(first, parts={**first.parts, "5": 6.0})
    with pytest.raises(WorkbookError) as caught:
        load_marks(filled(blind, first), like=other)
    assert "part 5, out of 5, is not so" in str(caught.value)


HOSTILE = (
    "=1+1",
    "+A1",
    "@x",
    "-2",
    "_x0041_ and _x000D_",
    "a\r\nb\x00\x1fc",
    "x" * 40_000,
    "<b>&amp;</b>",
    "🙂" * 20_000,
    "\ud800",
    " \n ",
    "2",
)


def test_whatever_was_typed_comes_back_as_the_same_response(tmp_path: Path, table: Callable[..., MarkSet]) -> None:
    """Texts that a cell cannot hold as they are: formula signs, escapes, control characters, too long, half a character."""
    from dataclasses import replace

    marks = table([(f"c{i}", "1", "Adair", 1.0) for i in range(len(HOSTILE))], {"1": 2.0})
    first = replace(marks, marks=tuple(replace(m, text=text) for m, text in zip(marks.marks, HOSTILE, strict=True)))
    path = tmp_path / "sample.xlsx"
    sample = draw_sample(first, named(load("sampling", SamplingFile).rule, "size bands with extremes", ""), DRAW)
    write_blind(path, "Brook", sample.drawn, first, DRAW)
    book = openpyxl.load_workbook(path)
    sheet = book["Part 1"]
    assert not [c.value for c in sheet["B"][TOP:] if c.data_type == "f"]
    for row in range(TOP + 1, sheet.max_row + 1):
        sheet.cell(row, 3).value = 2
    book.save(path)
    assert len(load_marks(path, like=first).marks) == len(HOSTILE)


def test_responses_on_paper_have_an_empty_cell_and_typed_ones_without_text_say_so(tmp_path: Path, table: Callable[..., MarkSet]) -> None:
    from dataclasses import replace

    paper = table([("a", "1", "Adair", 1.0), ("b", "1", "Adair", 0.0)], {"1": 2.0})
    typed = replace(paper, marks=(replace(paper.marks[0], text="I = 2 A"), paper.marks[1]))
    for marks, texts in ((paper, {None}), (typed, {"I = 2 A", "(nothing typed)"})):
        sample = draw_sample(marks, named(load("sampling", SamplingFile).rule, "size bands with extremes", ""), DRAW)
        write_blind(tmp_path / "x.xlsx", "Brook", sample.drawn, marks, DRAW)
        assert {c.value for c in openpyxl.load_workbook(tmp_path / "x.xlsx")["Part 1"]["B"][TOP:]} - {""} == texts - {""}


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
def test_a_workbook_saved_by_a_spreadsheet_program_reads_the_same(tmp_path: Path, table: Callable[..., MarkSet]) -> None:
    """LibreOffice Calc computes the formulas, rewrites every part of the file, and saves it again."""
    from dataclasses import replace

    texts = ("=1+1", "_x0041_ and b", "a\r\n  b\x00c", "<b>&amp;</b>", "R = V/I\n= 5.0 Ω", "2", "", " x ")
    marks = table([(f"c{i}", "1", "Adair", 1.0) for i in range(len(texts))], {"1": 2.0})
    points = (PointMark(name="relationship", mark=1, maximum=1), PointMark(name="answer", mark=0, maximum=1))
    first = replace(marks, marks=tuple(replace(m, text=text, points=points) for m, text in zip(marks.marks, texts, strict=True)))
    sample = draw_sample(first, named(load("sampling", SamplingFile).rule, "size bands with extremes", ""), DRAW)
    path = tmp_path / "sample.xlsx"
    write_blind(path, "Brook", sample.drawn, first, DRAW)
    book = openpyxl.load_workbook(path)
    for row in range(TOP + 1, TOP + 1 + len(texts)):
        book["Part 1"].cell(row, 3).value, book["Part 1"].cell(row, 4).value = 1, row % 2
    book.save(path)
    out = tmp_path / "saved"
    profile = f"-env:UserInstallation=file://{tmp_path / 'profile'}"
    subprocess.run(["soffice", profile, "--headless", "--convert-to", "xlsx", "--outdir", out, path], check=True, capture_output=True)
    before, after = load_marks(path, like=first), load_marks(out / "sample.xlsx", like=first)
    assert {m.response: (m.mark, m.points) for m in after.marks} == {m.response: (m.mark, m.points) for m in before.marks}
    saved = openpyxl.load_workbook(out / "sample.xlsx", data_only=True)["Part 1"]
    assert [saved.cell(row, 5).value for row in range(TOP + 1, TOP + 1 + len(texts))] == [
        1 + row % 2 for row in range(TOP + 1, TOP + 1 + len(texts))
    ]
