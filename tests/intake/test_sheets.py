"""Responses as a worksheet: cells to text as typed. Number formats and error values follow ECMA-376 part 1, 18.8.30 and 18.11."""

from __future__ import annotations

from datetime import datetime, time
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook

from marker.errors import ResponsesError
from marker.intake import read_responses
from marker.intake.typed import number_text

PARTS = ("1a", "1b")


def book(folder: Path, sheets: dict[str, list[list[Any]]], formats: dict[str, str] | None = None) -> Path:
    made = Workbook()
    made.remove(made.active)
    for name, rows in sheets.items():
        sheet = made.create_sheet(name)
        for row in rows:
            sheet.append(row)
        for place, code in (formats or {}).items():
            sheet[place].number_format = code
    path = folder / "answers.xlsx"
    made.save(path)
    return path


NUMBERS = (
    (431.0, "431"),
    (0.064, "0.064"),
    (-9.81, "-9.81"),
    (0.0, "0"),
    (0.1 + 0.2, "0.30000000000000004"),
    (5e-05, "0.00005"),
    (1e-7, "0.0000001"),
    (6.63e-34, "6.63E-34"),
    (3e8, "300000000"),
    (1.6e-19, "1.6E-19"),
    (2e30, "2E30"),
    (123456789012345.0, "123456789012345"),
)


@pytest.mark.parametrize(("value", "text"), NUMBERS)
def test_a_number_as_a_person_would_type_it(value: float, text: str) -> None:
    assert number_text(value) == text
    assert float(text) == value


FORMATS = (
    (5, "0.00", "5.00"),
    (5.123, "0.0", "5.123"),
    (0.12, "0%", "12%"),
    (0.125, "0.0%", "12.5%"),
    (0.07, "0%", "7%"),
    (431, "General", "431"),
    (6.63e-34, "0.00E+00", "6.63E-34"),
    (1200, "#,##0", "1200"),
)


@pytest.mark.parametrize(("value", "code", "text"), FORMATS)
def test_numbers_under_a_format(tmp_path: Path, value: float, code: str, text: str) -> None:
    path = book(tmp_path, {"S": [["candidate", "1a", "1b"], [14, value, "x"]]}, {"B2": code})
    found = read_responses(path, PARTS)
    assert found.candidates == ("14",)
    assert found.of("14", "1a") == (text,)
    assert any("hold numbers" in n for n in found.notes)


def test_lines_in_a_cell_and_rows_above_the_headings(tmp_path: Path) -> None:
    rows = [["Class test on motors"], [], ["class", "candidate", "1a", "1b"], ["7P", "s01", "V = IR\nR = 5 Ω", None], [None] * 4]
    found = read_responses(book(tmp_path, {"Notes": [["read me"]], "Answers": rows}), PARTS)
    assert found.of("s01", "1a") == ("V = IR", "R = 5 Ω")
    assert found.of("s01", "1b") == ()
    assert found.groups == {"s01": "7P"}
    assert found.notes == ('answers.xlsx: only the sheet "Answers" was read, not Notes.',)


@pytest.mark.parametrize(
    ("value", "seen"),
    [(datetime(2024, 2, 1), "2024-02-01"), (time(1, 30), "01:30:00"), ("=1/0", "=1/0"), ("#N/A", "#N/A")],
    ids=str,
)
def test_cells_a_spreadsheet_has_changed_are_referred(tmp_path: Path, value: Any, seen: str) -> None:
    rows = [["candidate", "1a", "1b"], ["s01", value, "ok"], ["s02", "fine", "ok"]]
    found = read_responses(book(tmp_path, {"Class 7": rows}), PARTS)
    assert set(found.doubts) == {("s01", "1a")}
    assert seen in found.doubts["s01", "1a"]
    assert found.problems[0].where == 'answers.xlsx, sheet "Class 7", cell B2'
    assert found.of("s02", "1a") == ("fine",)


def test_text_that_begins_with_an_equals_sign_stays_as_typed(tmp_path: Path) -> None:
    made = Workbook()
    sheet = made.active
    sheet.append(["candidate", "1a", "1b"])
    sheet.append(["s01", None, "ok"])
    sheet["B2"].value = "=0.15*3.2"
    sheet["B2"].data_type = "s"
    made.save(tmp_path / "answers.xlsx")
    found = read_responses(tmp_path / "answers.xlsx", PARTS)
    assert found.of("s01", "1a") == ("=0.15*3.2",)
    assert not found.doubts


REFUSALS = (
    ("empty sheet", {"Empty": []}, 'sheet "Empty": nothing in it'),
    ("headings only", {"S": [["candidate", "1a", "1b"]]}, 'sheet "S": headings and no candidate'),
    ("no candidate column", {"S": [["when", "1a", "1b"], [1, 2, 3]]}, "no column is the candidate"),
    ("unknown part", {"S": [["candidate", "1a", "1c"], [1, 2, 3]]}, 'cell C1: "1c" is not a part'),
    ("duplicate candidate", {"S": [["candidate", "1a", "1b"], [7, 2, 3], ["7", 2, 3]]}, 'cell A3: candidate "7" is already in row 2'),
    ("second column", {"S": [["candidate", "1a", "1a", "1b"], [7, 2, 3, 4]]}, 'cell C1: a second column for part "1a"'),
)


@pytest.mark.parametrize(("name", "sheets", "says"), REFUSALS, ids=[r[0] for r in REFUSALS])
def test_refusals_name_the_cell(tmp_path: Path, name: str, sheets: dict[str, list[list[Any]]], says: str) -> None:
    with pytest.raises(ResponsesError) as caught:
        read_responses(book(tmp_path, sheets), PARTS)
    assert says in str(caught.value)
    assert all(p.mend for p in caught.value.problems)


def test_a_damaged_workbook_is_refused(tmp_path: Path) -> None:
    path = book(tmp_path, {"S": [["candidate", "1a", "1b"], ["s01", "A", "B"]]})
    path.write_bytes(path.read_bytes()[:600])
    with pytest.raises(ResponsesError, match=r"not a workbook that can be read .* save it as \.xlsx"):
        read_responses(path, PARTS)


def test_a_workbook_with_another_ending_is_still_read(tmp_path: Path) -> None:
    path = book(tmp_path, {"S": [["candidate", "1a", "1b"], ["s01", "A", "B"]]}).rename(tmp_path / "answers.csv")
    assert read_responses(path, PARTS).of("s01", "1a") == ("A",)
