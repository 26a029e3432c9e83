"""Issue → rule → marks for the standard three-mark calculation: every row of the conventions file, section 1.3."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from marker import build_paper
from marker.marking import mark_candidate
from tests.awarding.issue_rows import ALL, ISSUES, NOT_FOR_AN_ENGINE, OTHER_KINDS, OTHER_PARTS, PAPERS, ROWS, Row
from tests.awarding.parts import mark, one_part

FILE = Path(__file__).resolve().parents[3] / "shared" / "trade" / "marking-conventions.md"


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_issue(row: Row) -> None:
    result = mark(one_part(rulings=dict(row.rulings), **ALL[row.setting]), row.typed)
    assert result.mark == row.marks, [f"{a.point}: {a.reason}" for a in result.awards]


@pytest.mark.parametrize("row", PAPERS, ids=str)
def test_issue_over_a_paper(row: Row) -> None:
    paper = build_paper({"paper": {"title": "two parts", "rulings": dict(row.rulings)}, "part": ALL[row.setting]["parts"]})
    typed = dict(zip([p.name for p in paper.parts], row.typed.split(" / "), strict=True))
    results = mark_candidate(paper, {name: text.split("; ") for name, text in typed.items()})
    assert sum(r.mark for r in results) == row.marks, [a.reason for r in results for a in r.awards]


@pytest.mark.parametrize("row", OTHER_KINDS, ids=str)
def test_issue_of_other_kinds(row: Row) -> None:
    paper = build_paper({"paper": {"title": "one part", "rulings": dict(row.rulings)}, "part": [OTHER_PARTS[row.setting]]})
    result = mark(paper.parts[0], row.typed)
    assert (result.mark, result.referred) == (row.marks, row.referred), [a.reason for a in result.awards]


@pytest.mark.parametrize("issue", ISSUES)
def test_every_issue_has_a_row_or_a_reason_for_none(issue: str) -> None:
    rows = [r for r in (*ROWS, *PAPERS, *OTHER_KINDS) if r.issue == issue]
    assert bool(rows) != (issue in NOT_FOR_AN_ENGINE)


@pytest.mark.skipif(not FILE.exists(), reason="the conventions file is not beside this checkout")
def test_the_issues_are_those_of_the_table() -> None:
    section = FILE.read_text(encoding="utf-8").partition("### 1.3")[2].partition("### 1.4")[0]
    found = [line.split("|")[1].strip() for line in section.splitlines() if re.match(r"\| (?!issue)", line)]
    assert len(found) == len(ISSUES)
    for label, issue in zip(found, ISSUES, strict=True):
        assert label.startswith(issue), (label, issue)
