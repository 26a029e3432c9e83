"""`marker scheme …` through its edge: what is printed, where, and the exit status. Common practice, no source."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from marker.scheme.commands import scheme_app

RUN = CliRunner()
SCHEME = """
[paper]
title = "Winch"
[[part]]
name = "1"
marks = 3
given = { P = "1.8 kW", V = "230 V" }
find = "I"
unit = "A"
using = ["P = I*V"]
"""
FAILING = SCHEME.replace('unit = "A"', 'unit = "W"')


@pytest.fixture
def scheme(tmp_path: Path) -> Path:
    path = tmp_path / "winch.toml"
    path.write_text(SCHEME, encoding="utf-8")
    return path


def test_a_scheme_that_passes(scheme: Path) -> None:
    done = RUN.invoke(scheme_app, ["check", str(scheme)])
    assert done.exit_code == 0, done.output
    assert "Winch: 1 parts, 3 marks" in done.output and "I = 7.8 A" in done.output
    assert "quotient upside down" not in done.output and "The scheme passes." in done.output
    assert 'two_answers = "zero"; or "lowest", "first", "best", "last"' in done.output


def test_every_response_is_listed_when_asked(scheme: Path) -> None:
    short, long = (RUN.invoke(scheme_app, ["check", str(scheme), *more]).output for more in ([], ["--all"]))
    assert "quotient upside down" in long and "Every response tried:" in long and "  answer alone" in long and "  answer alone" not in short
    rows = [x for x in long.splitlines() if x.startswith("1  ")]
    assert len(rows) > 20


def test_a_scheme_that_fails(tmp_path: Path) -> None:
    path = tmp_path / "winch.toml"
    path.write_text(FAILING, encoding="utf-8")
    done = RUN.invoke(scheme_app, ["check", str(path)])
    assert done.exit_code == 2
    assert "To mend:" in done.output and "'W' is not a unit of I" in done.output and "does not pass" in done.output


def test_a_scheme_that_cannot_be_read(tmp_path: Path) -> None:
    for arguments in (["check", "none.toml"], ["show", "none.toml"], ["worksheet", "none.toml", "a.xlsx"], ["draft", "none.txt"]):
        done = RUN.invoke(scheme_app, [arguments[0], *(str(tmp_path / a) for a in arguments[1:])])
        assert done.exit_code == 2 and "there is no such file" in done.stderr


def test_another_convention(scheme: Path, tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text('name = "own"\n[rulings]\nunit_fault = "none"\n', encoding="utf-8")
    done = RUN.invoke(scheme_app, ["check", str(scheme), "--convention", str(own)])
    assert done.exit_code == 0 and "convention: own" in done.output


def test_marking_instructions_are_printed_and_no_file_is_written(scheme: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    done = RUN.invoke(scheme_app, ["show", str(scheme)])
    assert done.exit_code == 0 and [p.name for p in tmp_path.iterdir()] == [scheme.name]
    assert "Winch: marking instructions, 3 marks" in done.output and "I = 7.8 A" in done.output
    assert [x for x in done.output.splitlines() if x.endswith("[3]")], done.output


@pytest.mark.parametrize("name", ["instructions.html", "instructions.xlsx"])
def test_marking_instructions(scheme: Path, tmp_path: Path, name: str) -> None:
    done = RUN.invoke(scheme_app, ["show", str(scheme), "-o", str(tmp_path / name)])
    assert done.exit_code == 0 and (tmp_path / name).stat().st_size > 2000
    refused = RUN.invoke(scheme_app, ["show", str(scheme), "-o", str(tmp_path / "instructions.pdf")])
    assert refused.exit_code == 2 and ".html" in refused.stderr


def test_worksheet_and_back(scheme: Path, tmp_path: Path) -> None:
    sheet, again = tmp_path / "winch.xlsx", tmp_path / "again.toml"
    assert RUN.invoke(scheme_app, ["worksheet", str(scheme), str(sheet)]).exit_code == 0
    assert RUN.invoke(scheme_app, ["worksheet", str(sheet), str(again)]).exit_code == 0
    assert RUN.invoke(scheme_app, ["check", str(sheet)]).exit_code == RUN.invoke(scheme_app, ["check", str(again)]).exit_code == 0


def test_draft_prints_a_scheme_and_says_what_to_look_at(tmp_path: Path) -> None:
    source = tmp_path / "winch.txt"
    source.write_text("1. A winch takes 1.8 kW from 230 V. Find the current. [3]\nP = IV\n1800 = I × 230\nI = 7.83 A\n", encoding="utf-8")
    done = RUN.invoke(scheme_app, ["draft", str(source)])
    assert done.exit_code == 0 and 'given = { P = "1.8 kW", V = "230 V" }' in done.stdout
    assert "1 part drafted" in done.stderr and "drafted" not in done.stdout.replace("# Drafted", "")
    out = tmp_path / "winch.toml"
    assert RUN.invoke(scheme_app, ["draft", str(source), "-o", str(out)]).exit_code == 0
    assert RUN.invoke(scheme_app, ["check", str(out)]).exit_code == 0
    sheet = tmp_path / "winch.xlsx"
    assert RUN.invoke(scheme_app, ["draft", str(source), "-o", str(sheet)]).exit_code == 0 and sheet.exists()


def test_the_schema_is_printed_or_written(tmp_path: Path) -> None:
    printed = RUN.invoke(scheme_app, ["schema"])
    assert printed.exit_code == 0 and json.loads(printed.stdout)["title"]
    done = RUN.invoke(scheme_app, ["schema", "-o", str(tmp_path / "scheme.json")])
    assert done.exit_code == 0
    assert json.loads((tmp_path / "scheme.json").read_text(encoding="utf-8")) == json.loads(printed.stdout)
