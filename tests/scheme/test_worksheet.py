"""Schemes as worksheets and back: nothing is lost, and every refusal names its cell. Common practice, no source.

The workbooks are read back with openpyxl and, for the round trip, once more after LibreOffice has saved them (where it is installed).
"""

import shutil
import subprocess
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from marker.errors import SchemeError
from marker.scheme.files import change_form, load_any, scheme_table
from marker.scheme.paper import load_scheme
from marker.scheme.toml_writer import write_scheme
from marker.scheme.worksheet import write_worksheet
from marker.scheme.worksheet.columns import COLUMNS, FURTHER, HEADS

from .schemes import FILES, everything, name_of


def test_all_the_schemes_are_found() -> None:
    assert len(FILES) >= 3


@pytest.mark.parametrize("file", FILES, ids=name_of)
def test_there_and_back(file: Path, tmp_path: Path) -> None:
    """TOML to worksheet to TOML gives the same values, and the compiled papers mark out of the same points."""
    before = scheme_table(file)
    sheet, again = tmp_path / "scheme.xlsx", tmp_path / "scheme.toml"
    change_form(file, sheet)
    change_form(sheet, again)
    assert scheme_table(sheet) == before
    assert tomllib.loads(again.read_text(encoding="utf-8")) == before
    shutil.copytree(file.parent, tmp_path / "beside", ignore=lambda *_: [])
    other = tmp_path / "beside" / "scheme_again.xlsx"
    change_form(file, other)
    one, two = load_scheme(file), load_any(other)
    assert [(p.name, p.marks, p.spec) for p in one.parts] == [(p.name, p.marks, p.spec) for p in two.parts]
    assert one.convention == two.convention


def test_everything_a_scheme_may_hold_survives(tmp_path: Path) -> None:
    """Texts that begin with = + - @, line breaks, quotation marks, numbers of both kinds, empty lists, inline tables."""
    table = everything()
    write_worksheet(table, tmp_path / "all.xlsx")
    assert scheme_table(tmp_path / "all.xlsx") == table
    assert tomllib.loads(write_scheme(table)) == table


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
def test_a_worksheet_saved_by_another_program(tmp_path: Path) -> None:
    table = everything()
    write_worksheet(table, tmp_path / "all.xlsx")
    out = tmp_path / "saved"
    command = ["soffice", f"-env:UserInstallation=file://{tmp_path}/profile", "--headless", "--convert-to", "xlsx", "--outdir", str(out)]
    subprocess.run([*command, str(tmp_path / "all.xlsx")], check=True, capture_output=True, timeout=240)
    assert scheme_table(out / "all.xlsx") == table


def test_text_is_never_a_formula(tmp_path: Path) -> None:
    write_worksheet(everything(), tmp_path / "all.xlsx")
    book = openpyxl.load_workbook(tmp_path / "all.xlsx")
    cells = [c for sheet in book for row in sheet.iter_rows() for c in row if isinstance(c.value, str)]
    assert not any(c.data_type == "f" for c in cells)
    dangerous = [c for c in cells if c.value[:1] in "=+-@"]
    assert len(dangerous) >= 2 and all(c.quotePrefix for c in dangerous)


def test_columns_are_documented_and_have_lists(tmp_path: Path) -> None:
    write_worksheet(everything(), tmp_path / "all.xlsx")
    book = openpyxl.load_workbook(tmp_path / "all.xlsx")
    assert [c.value for c in book["Parts"][1]] == list(HEADS)
    documented = {row[0].value for row in book["Columns"].iter_rows(min_row=2)}
    assert set(HEADS) <= documented and all(c.meaning and c.example for c in COLUMNS)
    lists = {v.formula1 for v in book["Parts"].data_validations.dataValidation}
    assert any("relationship" in x and "calculation" in x for x in lists) and any("part,step" in x for x in lists)


# What is typed into which cell of the worksheet of everything (by column title and row number), and what the refusal says.
Change = Callable[[Any], None]
CELLS = (
    ("Marks", 2, "three", ("Parts", "'three'", "a number, such as 3")),
    ("Given", 2, "m 45 kg", ("'m 45 kg'", "lines such as V = 27.6 V")),
    ("Given", 2, "m = 45 kg\nm = 46 kg", ("m stands twice",)),
    ("Row", 3, "rute", ("'rute'", "Did you mean 'route'?")),
    ("Either sign", 2, "perhaps", ("'perhaps'", "yes or no")),
    ("Stem", 3, "a text", ("Stem has no meaning in a row 'route'", "part")),
    ("Find", 2, "=1+1", ("a formula, =1+1", "Write the value itself")),
    (FURTHER, 2, "unit_fault none", ("one key = value on each line",)),
    ("Find", 2, "x", ("Parts, cell H2", "part 1, find", "x cannot be found")),
    ("Using", 2, "W = m*g\nP = W*", ("cell", "part 1, using", "'P = W*'")),
    ("Given", 2, "m = heavy\nv = 0.80 m/s\neta = 80 %", ("cell", "part 1, given.m", "'heavy'")),
)  # fmt: skip


@pytest.mark.parametrize(("title", "row", "typed", "says"), CELLS, ids=lambda v: str(v)[:30])
def test_a_refusal_names_the_cell(title: str, row: int, typed: str, says: tuple[str, ...], tmp_path: Path) -> None:
    path = tmp_path / "scheme.xlsx"
    write_worksheet(everything(), path)
    book = openpyxl.load_workbook(path)
    column = HEADS.index(title) + 1
    book["Parts"].cell(row, column).value = typed
    book.save(path)
    with pytest.raises(SchemeError) as refused:
        load_any(path)
    message = str(refused.value)
    coordinate = book["Parts"].cell(row, column).coordinate
    assert f"cell {coordinate}" in message and message.startswith(str(path))
    for text in says:
        assert text in message, message


def test_a_point_of_a_step_is_found_by_its_own_cell(tmp_path: Path) -> None:
    path = tmp_path / "scheme.xlsx"
    text = """
[paper]
title = "Winch"
[[part]]
name = "7"
marks = 3
given = { P = "1.8 kW", V = "230 V" }
find = "I"
using = ["P = I*V"]
points = [{ kind = "relationship" }, { kind = "value", of = "x" }, { kind = "answer" }]
"""
    write_worksheet(tomllib.loads(text), path)
    with pytest.raises(SchemeError) as refused:
        load_any(path)
    assert f"cell {openpyxl.utils.get_column_letter(HEADS.index('Of') + 1)}4" in str(refused.value)


def test_wrong_columns_sheets_and_files(tmp_path: Path) -> None:
    path = tmp_path / "scheme.xlsx"
    write_worksheet(everything(), path)
    book = openpyxl.load_workbook(path)
    book["Parts"].cell(1, 5).value = "Mark"
    book.save(path)
    with pytest.raises(SchemeError, match="Did you mean 'Marks'"):
        load_any(path)
    del book["Parts"]
    book.save(path)
    with pytest.raises(SchemeError, match="there is no sheet 'Parts'"):
        load_any(path)
    path.write_bytes(b"not a workbook")
    with pytest.raises(SchemeError, match="cannot be opened as a workbook"):
        load_any(path)
    with pytest.raises(SchemeError, match="its name ends in neither"):
        change_form(FILES[0], tmp_path / "scheme.ods")
