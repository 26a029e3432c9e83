"""What stands in the workbook's cells: types, texts that could be taken for formulas, and the look that carries meaning.

Cell limits and forbidden characters: ECMA-376 part 1 (18.3.1.4 and 22.9.2.19) and XML 1.0 section 2.2.
"""

from __future__ import annotations

import re
import statistics
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree
from zipfile import ZipFile

import pytest
from openpyxl import Workbook, load_workbook

from marker.reporting import MarkedPaper, write_workbook
from marker.reporting.workbook.items import correlation
from marker.reporting.workbook.layout import SPARE_ROWS, plan
from marker.reporting.workbook.pen import LONGEST_TEXT, cell_text, lines_needed, literal, quoted
from marker.results import Award, FaultFound, LineReport, Outcome, PartResult, Possibility, Referral

from .invented import marked_paper

HOSTILE = (
    "=1+1",
    "+cmd|' /C calc'!A0",
    "-2+3",
    "@SUM(1,1)",
    "=HYPERLINK(\"http://example.org\",\"x\")",
    "#N/A",
    "TRUE",
    "1e5",
    "007",
    "nul\x00 bell\x07 escape\x1b delete\x7f",
    "lone \ud800 half",
    "not a character \ufffe",
    "<b>&amp;</b>]]>",
    "tab\tstays",
    "\U0001d439 = ma",
)  # fmt: skip
EXPECTED = {
    "nul\x00 bell\x07 escape\x1b delete\x7f": "nul bell escape delete",
    "lone \ud800 half": "lone  half",
    "not a character \ufffe": "not a character ",
}


def paper_of(text: str) -> MarkedPaper:
    """A paper in which a hostile text stands wherever a candidate's or a scheme's text can."""
    result = PartResult(
        part=text[:20],
        mark=1,
        maximum=2,
        awards=(Award(point=text, kind="answer", mark=1, maximum=2, outcome=Outcome.REFERRED, reason=text, lines=(1,)),),
        faults=(FaultFound(code=text, line=1, teacher=text, student=text),),
        lines=(LineReport(number=1, text=text, readings=(text, text), verdict=text, note=text),),
        referral=Referral(reason=text, possibilities=(Possibility(text=text, mark=2), Possibility(text=text, mark=1))),
        notes=(text,),
    )
    return replace(
        marked_paper(1),
        title=text,
        scheme_file=text,
        convention=text,
        when=text,
        rulings=((text, text, text),),
        notes=(text,),
        parts=((text[:20], 2.0),),
        candidates=(text[:30],),
        groups={text[:30]: text},
        results={(text[:30], text[:20]): result},
    )


@pytest.mark.parametrize("text", HOSTILE, ids=ascii)
def test_a_hostile_text_is_text_everywhere(tmp_path: Path, text: str) -> None:
    path = tmp_path / "marks.xlsx"
    write_workbook(path, paper_of(text))
    book = load_workbook(path)
    plain = EXPECTED.get(text, text)
    found = 0
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    formula = getattr(cell.value, "text", cell.value)
                    outside = re.sub(r'"(?:[^"]|"")*"', '""', formula)
                    assert not {"SUM(1,1)", "HYPERLINK", "cmd", "1+1"} & set(re.findall(r"SUM\(1,1\)|HYPERLINK|cmd|1\+1", outside))
                elif cell.value == plain:
                    assert cell.data_type == "s"
                    found += 1
    assert found >= 10
    refer = book["Refer"]
    assert refer["C6"].value == plain
    if text[0] in "=+-@":
        assert refer["C6"].quotePrefix


def test_a_very_long_response_is_cut_with_a_word(tmp_path: Path) -> None:
    path = tmp_path / "marks.xlsx"
    write_workbook(path, paper_of("x" * 40_000))
    text = load_workbook(path)["Working"]["E5"].value
    assert len(text) <= LONGEST_TEXT and text.endswith("40,000 characters in all)")


@pytest.mark.parametrize(
    ("text", "cut"), [("x" * 32_767, False), ("x" * 32_768, True), ("\U0001d439" * 20_000, True), ("é" * 30_000, False)]
)
def test_the_limit_counts_utf16_units(text: str, cut: bool) -> None:
    kept = cell_text(text)
    assert len(kept.encode("utf-16-le")) // 2 <= 32_767
    assert (kept != text) == cut


def test_every_part_of_the_package_is_xml(tmp_path: Path) -> None:
    path = tmp_path / "marks.xlsx"
    write_workbook(path, paper_of("a\x0b\x1fb\ufffe<&>"))
    with ZipFile(path) as package:
        names = [n for n in package.namelist() if n.endswith((".xml", ".rels"))]
        assert len(names) > 10
        for name in names:
            ElementTree.fromstring(package.read(name))


def test_texts_inside_formulas() -> None:
    assert quoted('say "x"') == '"say ""x"""'
    assert literal("a*b?c~d") == '"a~*b~?c~~d"'


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Workbook:
    path = tmp_path_factory.mktemp("book") / "marks.xlsx"
    write_workbook(path, marked_paper())
    return load_workbook(path)


def test_sheets_and_their_order(book: Workbook) -> None:
    assert book.sheetnames == ["Marks", "Working", "Refer", "Items", "Record", "Points"]
    assert [s.title for s in book if s.sheet_state != "visible"] == ["Points"]
    assert book.active.title == "Marks"


def test_marks_are_formulas_with_our_mark_in_them(book: Workbook) -> None:
    marked = marked_paper()
    layout = plan(marked, None)
    sheet = book["Marks"]
    assert [sheet.cell(layout.header_row, c).value for c in range(layout.first_part, layout.last_part + 1)] == [p for p, _ in marked.parts]
    for row, candidate in enumerate(marked.candidates, start=layout.first_row):
        for n, (part, _) in enumerate(marked.parts):
            formula = sheet.cell(row, layout.first_part + n).value
            mark = marked.results[candidate, part].mark
            assert formula == f'=IFERROR(INDEX(marks_typed,MATCH("{candidate}|{part}",keys_typed,0)),{mark:g})'


def test_headers_stay_in_sight_and_repeat_in_print(book: Workbook) -> None:
    for name, frozen in (("Marks", "C8"), ("Working", "C5"), ("Refer", "C6"), ("Items", "B6")):
        sheet = book[name]
        assert sheet.freeze_panes == frozen
        assert sheet.print_title_rows
        assert (sheet.page_setup.orientation, sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == ("landscape", 1, 0)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert "&P" in sheet.oddFooter.right.text


def test_a_state_is_never_shown_by_fill_alone(book: Workbook) -> None:
    """A provisional mark has a question mark, the teacher's own an asterisk, in the number format beside the fill."""
    signs = {}
    for area in book["Marks"].conditional_formatting:
        for rule in area.rules:
            signs[rule.formula[0][-12:]] = rule.dxf.numFmt.formatCode
    assert sorted(signs.values()) == ['General"*"', 'General"?"']
    assert "2?" in book["Marks"]["A4"].value and "2*" in book["Marks"]["A4"].value
    verdicts = {book["Working"].cell(r, 7).value for r in range(5, book["Working"].max_row + 1)} - {None, ""}
    assert verdicts == {"✓ right", "✗ not right", "· words", "? referred"}


def test_what_may_be_typed(book: Workbook) -> None:
    layout = plan(marked_paper(), None)
    rules = {str(v.sqref): v for v in book["Refer"].data_validations.dataValidation}
    first, last = layout.refer_first, layout.refer_last
    marks = rules[f"I{first}:I{last}"]
    assert marks.formula1 == f"AND(ISNUMBER(I{first}),I{first}>=0,I{first}<=H{first},MOD(I{first},1)=0)"
    assert marks.showErrorMessage and marks.error
    assert rules[f"A{layout.spare_first}:A{layout.spare_last}"].formula1 == "=candidate_list"
    assert layout.spare_last - layout.spare_first + 1 == SPARE_ROWS


def test_working_has_one_row_for_each_line(book: Workbook) -> None:
    marked = marked_paper()
    sheet = book["Working"]
    rows = [[c.value for c in row] for row in sheet.iter_rows(min_row=5)]
    typed = [(r[0], r[1], r[3], r[4]) for r in rows if isinstance(r[3], int)]
    assert typed == [(c, r.part, x.number, x.text) for c, r in marked.responses() for x in r.lines]
    by_response: dict[tuple[str, str], float] = {}
    for row in rows:
        by_response[row[0], row[1]] = by_response.get((row[0], row[1]), 0) + (row[8] or 0)
    assert by_response == {(c, r.part): sum(a.mark for a in r.awards) for c, r in marked.responses()}


def test_referrals_stand_by_part(book: Workbook) -> None:
    marked = marked_paper()
    sheet = book["Refer"]
    layout = plan(marked, None)
    shown = [(sheet.cell(r, 1).value, sheet.cell(r, 2).value) for r in range(layout.refer_first, layout.refer_last + 1)]
    assert shown == [(c, r.part) for c, r in marked.referrals()]
    order = [p for p, _ in marked.parts]
    assert [order.index(p) for _, p in shown] == sorted(order.index(p) for _, p in shown)
    assert "→ 2 marks" in sheet.cell(layout.refer_first, 5).value and "→ 1 mark" in sheet.cell(layout.refer_first, 6).value


def test_items_count_each_fault_once_for_a_candidate(book: Workbook) -> None:
    marked = marked_paper()
    shown = sum(any(f.code == "inverted-quotient" for f in marked.results[c, "1a"].faults) for c in marked.candidates)
    assert book["Items"]["J6"].value == f"quotient upside down ({shown})"
    assert len(book["Items"]._charts) == 2


def test_record_names_what_was_used(book: Workbook) -> None:
    texts = {str(c.value) for row in book["Record"].iter_rows() for c in row if c.value}
    marked = marked_paper()
    for needed in (marked.scheme_sha256, marked.responses_sha256, "marker 0.1.0", marked.when, "unless show", "this paper"):
        assert any(needed in t for t in texts), needed
    assert any("teacher is the marker" in t for t in texts)
    assert any("awarding body" in t and "prevail" in t for t in texts)
    assert any("candidate numbers rather than names" in t for t in texts)


def test_no_candidates_and_no_referrals(tmp_path: Path) -> None:
    paper = marked_paper(2)
    calm = {k: replace(r, referral=None) for k, r in paper.results.items()}
    write_workbook(tmp_path / "calm.xlsx", replace(paper, results=calm))
    assert load_workbook(tmp_path / "calm.xlsx")["Refer"].auto_filter.ref is None
    write_workbook(tmp_path / "none.xlsx", replace(paper, candidates=(), results={}))
    assert load_workbook(tmp_path / "none.xlsx")["Marks"]["A8"].value is None


def test_correlation_is_pearsons() -> None:
    """Against Python's statistics module."""
    first, second = [1.0, 2, 3, 3, 0, 2], [10.0, 14, 19, 17, 3, 9]
    assert correlation(first, second) == pytest.approx(statistics.correlation(first, second), abs=1e-12)
    assert correlation([1.0, 1, 1], [1.0, 2, 3]) == "–"
    assert correlation([1.0], [1.0]) == "–"


def test_row_heights_follow_the_text() -> None:
    assert lines_needed("short", 30) == 1
    assert lines_needed("a\nb\n\nc", 30) == 4
    assert lines_needed("x" * 200, 30) >= 6


def test_equal_input_gives_equal_sheets(tmp_path: Path) -> None:
    for name in ("a.xlsx", "b.xlsx"):
        write_workbook(tmp_path / name, marked_paper(3))
    with ZipFile(tmp_path / "a.xlsx") as a, ZipFile(tmp_path / "b.xlsx") as b:
        assert a.namelist() == b.namelist()
        different = [n for n in a.namelist() if a.read(n) != b.read(n)]
    assert set(different) <= {"docProps/core.xml"}
