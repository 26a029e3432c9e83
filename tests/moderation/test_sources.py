"""Marks from every kind of file: our workbook with and without saved values, records, and long and wide tables with their faults."""

from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

from marker.errors import MarkerError
from marker.moderation.model import MarkSet
from marker.moderation.source import load_marks, read_classes
from marker.reporting import MarkedPaper, write_workbook


def _as_dict(marks: MarkSet) -> dict[tuple[str, str], float]:
    return {m.response: m.mark for m in marks.marks}


def _wanted(paper: MarkedPaper) -> dict[tuple[str, str], float]:
    return {key: result.mark for key, result in paper.results.items()}


def test_our_workbook(files: tuple[Path, Path], paper: MarkedPaper) -> None:
    found = load_marks(files[0])
    assert _as_dict(found) == _wanted(paper)
    assert dict(found.parts) == dict(paper.parts) and found.maximum == 22
    assert dict(found.classes) == dict(paper.groups)
    assert found.markers == ("first mark",)
    assert found.facts["Convention"] == "positive three-mark" and found.facts["Class test"] == "Lighthouse generator"
    one = found.by_response["c01", "1b"][0]
    assert one.where == "marks.xlsx, sheet Marks, cell D8" and one.text.startswith("V = IR") and len(one.points) == 3 and one.faults


def test_our_workbook_alone_gives_points_and_typed_lines(files: tuple[Path, Path], paper: MarkedPaper) -> None:
    files[1].unlink()
    found = load_marks(files[0])
    assert _as_dict(found) == _wanted(paper)
    one = found.by_response["c01", "1b"][0]
    assert len(one.points) == 3 and one.text == "\n".join(x.text for x in paper.results["c01", "1b"].lines)
    assert {m.response for m in found.marks if m.referred} == {k for k, r in paper.results.items() if r.referred}


def test_formulas_without_saved_values_come_from_the_workbooks_own_list(
    files: tuple[Path, Path], paper: MarkedPaper, tmp_path: Path
) -> None:
    """openpyxl drops the saved values of formulas; a teacher's decision on Refer still counts."""
    files[1].unlink()
    book = openpyxl.load_workbook(files[0])
    refer = book["Refer"]
    heads = {c.value: c.column for c in refer[5]}
    key = (str(refer.cell(6, heads["Candidate"]).value), str(refer.cell(6, heads["Part"]).value))
    refer.cell(6, heads["Your mark"]).value = 0
    bare = tmp_path / "bare.xlsx"
    book.save(bare)
    found = load_marks(bare)
    assert _as_dict(found) == {**_wanted(paper), key: 0.0}
    assert not found.by_response[key][0].referred


def test_formulas_without_saved_values_and_without_list_name_the_cell(files: tuple[Path, Path], tmp_path: Path) -> None:
    book = openpyxl.load_workbook(files[0])
    for name in book.sheetnames:
        if name != "Marks":
            del book[name]
    bare = tmp_path / "bare.xlsx"
    book.save(bare)
    with pytest.raises(MarkerError) as caught:
        load_marks(bare)
    assert "bare.xlsx, sheet Marks, cell C8: a formula whose value was not saved" in str(caught.value)
    assert _as_dict(load_marks(bare, records=files[1]))["c01", "1a"] in (0.0, 1.0)


def test_records(files: tuple[Path, Path], paper: MarkedPaper) -> None:
    found = load_marks(files[1])
    assert _as_dict(found) == _wanted(paper) and found.markers == ("engine",)


def test_a_teachers_own_mark_keeps_the_faults_but_not_the_points(tmp_path: Path, paper: MarkedPaper, files: tuple[Path, Path]) -> None:
    key = next(k for k, r in paper.results.items() if r.mark < r.maximum and k[1] == "1b")
    changed = dict(paper.results)
    changed[key] = replace(changed[key], mark=changed[key].maximum)
    write_workbook(files[0], replace(paper, results=changed))
    found = load_marks(files[0]).by_response[key][0]
    assert found.mark == 3.0 and found.faults


LONG = "Candidate,Part,Marker,Mark,Max\n7,1,Adair,1,2\n7,2,Adair,3,3\n8,1,Adair,2,2\n8,2,Adair,0,3\n"
WIDE = "Candidate,Class,1,2,Total\nMaximum,,2,3,5\n7,13A,1,3,4\n8,13B,2,0,2\nMean,,1.5,1.5,3\n"


@pytest.fixture
def seven(tmp_path: Path) -> MarkSet:
    path = tmp_path / "first.csv"
    path.write_text(LONG, encoding="utf-8")
    return load_marks(path)


@pytest.mark.parametrize(
    "text", (LONG, WIDE, LONG.replace(",", ";"), WIDE.replace(",", "\t"), "\ufeff" + LONG), ids=("long", "wide", "semicolon", "tab", "mark")
)
def test_tables(tmp_path: Path, text: str) -> None:
    path = tmp_path / "marks.csv"
    path.write_text(text, encoding="utf-8")
    found = load_marks(path)
    assert _as_dict(found) == {("7", "1"): 1, ("7", "2"): 3, ("8", "1"): 2, ("8", "2"): 0}
    assert dict(found.parts) == {"1": 2, "2": 3}


def test_a_worksheet_with_numbers_for_names(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    for row in (("Candidate", "Part", "Mark", "Max"), (7, 1, 1, 2), (8.0, 1, 1.5, 2)):
        book.active.append(row)
    book.save(tmp_path / "marks.xlsx")
    assert _as_dict(load_marks(tmp_path / "marks.xlsx")) == {("7", "1"): 1.0, ("8", "1"): 1.5}


BAD_SECOND = (
    ("changed candidate", "Candidate,Part,Mark\n7,1,1\n88,1,2\n", ('second.csv, row 3, column 1: candidate "88"', 'Is "8" meant?')),
    ("misspelt part", "Candidate,Part,Mark\n7,1.,1\n", ('row 2, column 2: part "1."', "one of: 1, 2")),
    ("too high", "Candidate,Part,Mark\n7,1,3\n", ("row 2, column 3: 3 is not possible here", "from 0 to 2")),
    ("misspelt mark", "Candidate,Part,Mark\n7,1,l\n", ('row 2, column 3: "l" is not a mark', "the figure 1")),
    ("not finite", "Candidate,Part,Mark\n7,1,nan\n", ('row 2, column 3: "nan" is not a mark',)),
    ("an exponent", "Candidate,Part,Mark\n7,1,1e0\n", ('row 2, column 3: "1e0" is not a mark',)),
    ("a quarter", "Candidate,Part,Mark\n7,1,1.25\n", ("row 2, column 3: 1.25 is not in steps of 0.5",)),
    ("missing", "Candidate,Part,Mark\n7,1,\n", ("row 2, column 3: no mark",)),
    ("no candidate", "Candidate,Part,Mark\n,1,1\n", ("row 2, column 1: no candidate number",)),
    ("twice", "Candidate,Part,Mark\n7,1,1\n8,1,1\n7,1,2\n", ("row 4, column 3", "marked again", "first at second.csv, row 2, column 3")),
    ("no headings", "a,b\n1,2\n", ("no row of headings found",)),
    ("no marks", "Candidate,Part,Mark\n", ("no marks in the table",)),
    ("wide, unknown part", "Candidate,1,9\n7,1,1\n", ('row 1, column 3: part "9"',)),
    ("wide, no candidate", "Candidate,1,2\n,1,1\n", ("row 2, column 1: marks without a candidate number",)),
    ("wide, two columns", "Candidate,1,1\n7,1,1\n", ("two columns for part 1",)),
    ("wide, blank", "Candidate,1,2\n7,1,\n", ("row 2, column 3: no mark",)),
)


@pytest.mark.parametrize(("name", "text", "says"), BAD_SECOND, ids=[b[0] for b in BAD_SECOND])
def test_faults_of_a_second_table(name: str, text: str, says: tuple[str, ...], tmp_path: Path, seven: MarkSet) -> None:
    path = tmp_path / "second.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(MarkerError) as caught:
        load_marks(path, like=seven)
    assert [s for s in says if s not in str(caught.value)] == []


BAD_FIRST = (
    ("no maximum", "Candidate,Part,Mark\n7,1,1\n", "no column with the maximum"),
    ("two maxima", "Candidate,Part,Mark,Max\n7,1,1,2\n8,1,1,3\n", "row 3, column 4: part 1 is out of 3 here and out of 2 above"),
    ("maximum of nothing", "Candidate,Part,Mark,Max\n7,1,1,0\n", 'row 2, column 4: "0" is not the maximum of a part'),
    ("no row of maxima", "Candidate,1\n7,1\n", "no row of maxima"),
)


@pytest.mark.parametrize(("name", "text", "says"), BAD_FIRST, ids=[b[0] for b in BAD_FIRST])
def test_faults_of_first_marks(name: str, text: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "first.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(MarkerError) as caught:
        load_marks(path)
    assert says in str(caught.value)


@pytest.mark.parametrize(
    ("name", "data", "says"),
    (
        ("no.xlsx", None, "no such file"),
        ("text.xlsx", b"not a workbook", "not a workbook"),
        ("empty.jsonl", b"", "no records"),
        ("broken.jsonl", b"{]", "line 1"),
    ),
)
def test_files_that_cannot_be_read(tmp_path: Path, name: str, data: bytes | None, says: str) -> None:
    if data is not None:
        (tmp_path / name).write_bytes(data)
    with pytest.raises(MarkerError) as caught:
        load_marks(tmp_path / name)
    assert says in str(caught.value)


def test_classes_and_markers_from_a_table(tmp_path: Path, seven: MarkSet) -> None:
    path = tmp_path / "classes.csv"
    path.write_text("Candidate,Class,Marker\n7,13A,Adair\n8,13B,Brook\n", encoding="utf-8")
    found = read_classes(path, seven)
    assert dict(found.classes) == {"7": "13A", "8": "13B"} and found.first_marker("8") == "Brook"
    path.write_text("Candidate,Class\n9,13A\n", encoding="utf-8")
    with pytest.raises(MarkerError) as caught:
        read_classes(path, seven)
    assert "classes.csv, row 2, column 1: candidate 9 has no marks" in str(caught.value)
