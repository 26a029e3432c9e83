"""Issue → rule → marks for the standard three-mark calculation: every row of the conventions file, section 1.3."""

from __future__ import annotations

import pytest

from marker import build_paper
from marker.marking import mark_candidate
from tests.awarding.issue_rows import ALL, ISSUES, NOT_FOR_AN_ENGINE, PAPERS, ROWS, Row
from tests.awarding.issue_rows_of_kinds import OTHER_KINDS, OTHER_PARTS
from tests.awarding.parts import mark, one_part


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
