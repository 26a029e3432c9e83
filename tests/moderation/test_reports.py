"""Report workbook and page: native charts, all sections, old marks beside adjusted ones, and hostile text that stays text."""

import re
import xml.etree.ElementTree as ET
import zipfile
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import openpyxl
import pytest

pytest.importorskip("scipy", reason="the moderation extra is not installed")

from marker.moderation import defaults, items, options
from marker.moderation.items_report import items_page, write_items
from marker.moderation.model import MarkSet
from marker.moderation.report import make_report
from marker.moderation.report_page import page
from marker.moderation.report_workbook import write_report
from marker.moderation.sections import Report
from marker.moderation.svg import ticks

HOSTILE = '=HYPERLINK("x")<script>alert(1)</script>&<b>\x07'


@pytest.fixture(scope="module")
def report(first: MarkSet) -> Report:
    """The invented paper against a second marker who gives one mark less wherever three or more were given."""
    second = replace(
        first,
        marks=tuple(replace(m, marker=f"{HOSTILE}", mark=m.mark - 1 if m.mark >= 3 else m.mark, faults=(), points=()) for m in first.marks),
    )
    hostile = replace(first, marks=tuple(replace(m, text=HOSTILE, faults=((HOSTILE, "x"),)) for m in first.marks))
    chosen = options.decision_rules(defaults.DECISION, defaults.ANCHOR, None)
    return make_report(hostile, [second], rule=chosen.rule, tolerance=chosen.tolerance, anchor=chosen.anchor, title=HOSTILE)


@pytest.fixture(scope="module")
def book(report: Report, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("report") / "report.xlsx"
    write_report(path, report)
    return path


def test_sheets(book: Path) -> None:
    assert openpyxl.load_workbook(book).sheetnames == ["Decision", "Agreement", "Charts", "Chart data", "Look again", "Adjusted", "Pairs"]


def test_charts_are_native_and_drawn_from_cells(book: Path) -> None:
    with zipfile.ZipFile(book) as package:
        charts = [package.read(n).decode() for n in package.namelist() if n.startswith("xl/charts/chart")]
    assert len(charts) == 3
    assert sum("scatterChart" in c for c in charts) == 2 and sum("barChart" in c for c in charts) == 1
    references = [r for c in charts for r in re.findall(r"<(?:\w+:)?f>([^<]+)</", c)]
    assert references and all("Chart data" in r for r in references)


def test_adjusted_totals_stand_beside_the_old_ones(book: Path, report: Report, first: MarkSet) -> None:
    rows = list(openpyxl.load_workbook(book)["Adjusted"].iter_rows(min_row=5, values_only=True))
    assert {r[0]: r[3] for r in rows if r[0]} == dict(first.totals)
    assert [r[5] for r in rows] == [a.adjusted for a in report.adjusted]
    assert any(r[6] for r in rows)


def test_no_cell_is_a_formula(book: Path) -> None:
    kinds = {(c.data_type) for sheet in openpyxl.load_workbook(book) for row in sheet.iter_rows() for c in row if c.value is not None}
    assert kinds == {"s", "n"}
    sheet = openpyxl.load_workbook(book)["Look again"]
    assert sheet["F5"].value == HOSTILE.replace("\x07", "")


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def _read(html: str) -> _Page:
    found = _Page()
    found.feed(html)
    return found


def test_the_page_is_self_contained_and_escaped(report: Report) -> None:
    found = _read(page(report))
    names = {tag for tag, _ in found.tags}
    assert not names & {"script", "link", "img", "iframe", "b", "object"}
    assert not [a for _, attrs in found.tags for a in attrs if a in ("src", "href") or a.startswith("on")]
    assert any("<script>alert(1)</script>" in t for t in found.text)  # shown as typed
    policy = next(attrs["content"] for tag, attrs in found.tags if tag == "meta" and "http-equiv" in attrs)
    assert policy is not None and policy.startswith("default-src 'none'")


def test_the_pages_drawings_are_well_formed_and_described(report: Report) -> None:
    drawn = re.findall(r"<svg.*?</svg>", page(report), re.S)
    assert len(drawn) == 3
    for svg in drawn:
        root = ET.fromstring(svg)
        assert root.get("role") == "img" and root.find("desc") is not None
    points = len(re.findall("<circle", drawn[1]))
    assert points == len({(t.first, t.second) for t in report.comparison.totals})


def test_headings_of_the_page(report: Report) -> None:
    headings = re.findall(r"<h2>(.*?)</h2>", page(report))
    wanted = [
        "Decision",
        "Charts",
        "Look again",
        "Adjusted marks",
        "Totals of whole scripts",
        "Agreement over all responses",
        "Agreement by part",
    ]
    assert headings[: len(wanted)] == wanted


@pytest.mark.parametrize(
    ("low", "high", "want"), ((0, 1, [0, 0.2, 0.4, 0.6, 0.8, 1]), (0, 22, [0, 5, 10, 15, 20]), (-4, 4, [-4, -2, 0, 2, 4]), (3, 3, [3]))
)
def test_ticks_are_round(low: float, high: float, want: list[float]) -> None:
    assert ticks(low, high) == want


def test_items_workbook_and_page(first: MarkSet, tmp_path: Path) -> None:
    found = items.analyse(first, options.item_rules(None))
    what_if = items.boundaries([t for _, t in found.totals], {"A": 17, "B": 12}, found.paper.sem)
    path = tmp_path / "items.xlsx"
    write_items(path, "Lighthouse generator", found, what_if)
    book = openpyxl.load_workbook(path)
    sheets = [
        "Paper",
        "Parts",
        "Marking points",
        "Wrong answers that came up",
        "Grade boundaries, what if",
        "Totals",
        "Charts",
        "Chart data",
    ]
    assert book.sheetnames == sheets
    html = items_page(HOSTILE, found, what_if)
    assert "<script>" not in html and "Grade boundaries, what if" in html and html.count("<svg") == 2


def test_boundaries_count_candidates(first: MarkSet) -> None:
    totals = [10.0, 12.0, 12.5, 15.0, 17.0]
    rows = items.boundaries(totals, {"A": 15, "B": 12}, sem=1.0, moves=(-1, 0, 1))
    assert [(r.grade, r.mark, r.at_or_above, r.near) for r in rows] == [
        ("A", 14, 2, 1), ("A", 15, 2, 1), ("A", 16, 1, 2), ("B", 11, 4, 2), ("B", 12, 4, 2), ("B", 13, 2, 2)
    ]  # fmt: skip


def test_flags_name_the_rule_of_thumb(first: MarkSet) -> None:
    """Facility outside 0.25 to 0.75 and D below 0.3: common practice, no source."""
    turned = replace(first, marks=tuple(replace(m, mark=m.maximum - m.mark, points=()) if m.part == "1a" else m for m in first.marks))
    easy = replace(turned, marks=tuple(replace(m, mark=m.maximum, points=()) if m.part == "3" else m for m in turned.marks))
    found = {i.part: {f.rule for f in i.flags} for i in items.analyse(easy, options.item_rules(None)).parts}
    assert found["1a"] >= {"negative discrimination", "weak discrimination", "out of step with the paper", "alpha rises without it"}
    assert found["3"] >= {"easy", "weak discrimination"}
    assert found["2b"] == set()


def test_faults_are_counted_by_candidate_with_lines_as_typed(first: MarkSet) -> None:
    found = items.analyse(first, options.item_rules(None)).faults
    by_hand: dict[tuple[str, str], set[str]] = {}
    for m in first.marks:
        for code, _ in m.faults:
            by_hand.setdefault((m.part, code), set()).add(m.candidate)
    assert {(f.part, f.code): f.count for f in found} == {k: len(v) for k, v in by_hand.items()}
    assert all(1 <= len(f.examples) <= 3 and all(e.startswith("=12/") for e in f.examples) for f in found)


def test_a_candidate_without_a_mark_is_left_out_and_named(first: MarkSet) -> None:
    short = replace(first, marks=tuple(m for m in first.marks if m.response != ("c07", "2b")))
    found = items.analyse(short, options.item_rules(None))
    assert found.left_out == ("c07",) and found.paper.candidates == 45
