"""Marking instructions: what the page and the workbook hold for invented schemes. Common practice, no source."""

from __future__ import annotations

import re
import tomllib
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import openpyxl
import pytest

from marker.scheme.files import load_any
from marker.scheme.paper import Paper, build_paper
from marker.scheme.show import scheme_page, scheme_view, write_instructions

from .schemes import FILES, name_of

SCHEME = """
[paper]
title = "Quay <cranes> & \\"winches\\""
data = { g = ["9.81 N/kg", "9.8 N/kg"] }
[paper.rulings]
transcription_slip = "answer mark"
[[part]]
name = "1a"
marks = 4
stem = "A 1350 kg load rises 420 m in 6.5 min. <b>Find</b> the power."
given = { m = "1350 kg", h = "420 m", t = "6.5 min" }
find = "P"
unit = "W"
using = ["E_p = m*g*h", "P = E_p/t"]
accept = ["1.42e4 W", "1.44e4 W"]
names = { P = ["useful power"] }
[[part.route]]
name = "force times speed"
using = ["W = m*g", "P = W*v"]
also = ["v = h/t"]
[[part]]
name = "1b"
marks = 3
given = { V = "415 V" }
carry = { P = "1a" }
find = "I"
unit = "A"
using = ["P = I*V"]
rulings = { unit_fault = "none" }
[[part]]
name = "2"
marks = 2
given = { d = "3.8 m", T = "2.6 s" }
find = "v"
show = "4.6 m/s"
using = ["v = pi*d/T"]
[[part]]
name = "3"
kind = "written"
marks = 1
[[part.idea]]
name = "reaction"
says = ["the water pushes back on the propeller"]
not_enough = ["the water moves"]
"""


@pytest.fixture(scope="module")
def paper() -> Paper:
    return build_paper(tomllib.loads(SCHEME))


@pytest.fixture(scope="module")
def page(paper: Paper) -> str:
    return scheme_page(scheme_view(paper))


def text_of(page: str) -> str:
    """What a reader sees, without styles; MathML as its bare characters."""
    body = re.sub(r"<style>.*?</style>", "", page, flags=re.DOTALL)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", "\x00", body).replace("\x00", ""))


# What must be on the page, and why.
SHOWN = (
    ("10 marks", "the total"),
    ("accepted: 1.42 × 10⁴ to 1.44 × 10⁴ W", "the accepted range"),
    ("1 to 4 significant figures", "420 m and 6.5 min: two figures, one fewer, two more (LITH)"),
    ("4.6 m/s is to be shown", "the stated value"),
    ("relationship: Eₚ = mgh", "what a point is for"),
    ("values substituted in", "the same"),
    ("final answer with its unit", "value and unit share a mark (BA7377)"),
    ("Another method: force times speed", "the route"),
    ("P is carried from part 1a: the candidate&#x27;s own value is followed.", "follow-through"),
    ("P may be called useful power.", "names candidates may use"),
    ("g: 9.81, 9.8 N kg⁻¹ accepted.", "accepted values of g"),
    ("unit fault: none", "a ruling of one part"),
    ("transcription slip", "rulings in force"),
    ("the water pushes back on the propeller", "wordings of an idea"),
    ("not enough by itself “the water moves”", "what does not earn it"),
)


@pytest.mark.parametrize(("shown", "why"), SHOWN, ids=[w for _, w in SHOWN])
def test_the_page_shows(page: str, shown: str, why: str) -> None:
    assert shown in text_of(page), why


def test_a_replaced_ruling_stands_out(page: str) -> None:
    rows = re.findall(r"<tr class=replaced><td>([^<]*)</td>", page)
    assert rows == ["transcription slip"]


def test_marks_stand_against_the_lines_that_earn_them(paper: Paper) -> None:
    part = scheme_view(paper).parts[0]
    earned = {line.text: [n for n, _ in line.points] for line in part.lines}
    assert earned["Eₚ = mgh"] == ["1"] and earned["P = Eₚ/t"] == ["2"]
    assert [n for line in part.lines for n, _ in line.points] == ["1", "2", "3", "4"] or sum(map(len, earned.values())) == 4
    assert earned[part.lines[-1].text] == ["4"]


def test_what_a_teacher_typed_is_never_markup(page: str) -> None:
    assert "<b>Find" not in page and "&lt;b&gt;Find" in page
    assert "<cranes>" not in page and "&lt;cranes&gt;" in page


def test_the_page_needs_nothing_else(page: str) -> None:
    """No script, no picture, no font, no address besides the name of MathML."""
    addresses = set(re.findall(r"https?://[^\s\"'<>)]+", page))
    assert addresses == {"http://www.w3.org/1998/Math/MathML"}
    assert not re.search(r"<(script|img|link|iframe|object)\b|@import|url\(", page)


class Balance(HTMLParser):
    """Counts opening and closing tags; HTML 5 leaves `meta` open."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        if tag != "meta":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open and self.open[-1] == tag, (self.open[-3:], tag)
        self.open.pop()


@pytest.mark.parametrize("file", FILES, ids=name_of)
def test_pages_are_well_formed(file: Path) -> None:
    page = scheme_page(scheme_view(load_any(file)))
    balance = Balance()
    balance.feed(page)
    assert balance.open == []
    for formula in re.findall(r"<math.*?</math>", page, flags=re.DOTALL):
        ElementTree.fromstring(formula)
    anchors = re.findall(r'href="#([^"]+)"', page)
    assert len(anchors) == len(set(anchors)) and all(f'id="{a}"' in page for a in anchors)


def test_the_same_as_a_workbook(paper: Paper, tmp_path: Path) -> None:
    write_instructions(scheme_view(paper), tmp_path / "instructions.xlsx")
    book = openpyxl.load_workbook(tmp_path / "instructions.xlsx")
    rows = list(book["Instructions"].iter_rows(min_row=5, values_only=True))
    assert {r[0] for r in rows} == {"1a", "1b", "2", "3"}
    assert sum(r[4] for r in rows if isinstance(r[4], int | float)) == 10
    assert any("1.42 × 10⁴ to 1.44 × 10⁴ W" in (r[6] or "") for r in rows)
    assert "transcription slip" in {r[0] for r in book["Rulings"].iter_rows(values_only=True)}
    assert not any(c.data_type == "f" for sheet in book for row in sheet.iter_rows() for c in row)
