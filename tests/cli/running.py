"""The command line run in this process as its console script runs it: refusals become a message and status 2."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from marker import cli

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "rubrics" / "demo"
SCHEME = """
[paper]
title = "Pier lights"

[[part]]
name = "1"
marks = 3
stem = "A lamp on the pier takes 0.75 A from a 12 V supply. Find its resistance."
given = { V = "12 V", I = "0.75 A" }
find = "R"
unit = "Ω"
using = ["V = I*R"]

[[part]]
name = "2"
marks = 3
stem = "Find the power of the lamp."
given = { V = "12 V", I = "0.75 A" }
find = "P"
unit = "W"
using = ["P = I*V"]
"""
RESPONSES = 'candidate,1,2\nc1,"V = IR\nR = 12/0.75 = 16 Ω","P = IV = 0.75 × 12 = 9.0 W"\nc2,16,"P = 0.75 + 12 = 12.75 W"\n'


@dataclass(frozen=True, slots=True)
class Ran:
    status: int
    out: str
    err: str


def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, *words: object) -> Ran:
    """Status and output of `marker WORDS…`."""
    monkeypatch.setattr("sys.argv", ["marker", *map(str, words)])
    status = 0
    try:
        cli.main()
    except SystemExit as ended:
        status = int(ended.code or 0)
    said = capsys.readouterr()
    return Ran(status, said.out, said.err)


def values(workbook: Path, left_out: tuple[str, ...] = ("Record",)) -> dict[str, list[tuple[Any, ...]]]:
    """Every cell of a workbook by sheet; the line that says when it was marked is passed over."""
    book = load_workbook(workbook)
    return {
        sheet.title: [
            tuple(getattr(cell, "text", cell) for cell in row)  # an array formula is an object with its text
            for row in sheet.iter_rows(values_only=True)
            if not any("marked 20" in str(cell) for cell in row)
        ]
        for sheet in book
        if sheet.title not in left_out
    }
