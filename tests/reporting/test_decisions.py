"""The teacher's decisions: written, read back, kept on the next marking, and what changed named. Common practice, no source."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from marker.errors import WorkbookError
from marker.reporting import Decision, Decisions, changes, read_decisions, standing, write_workbook
from marker.reporting.workbook.layout import plan
from marker.results import Outcome

from .invented import marked_paper

MARKED = marked_paper()
REFERRED = MARKED.referrals()
FIRST = (REFERRED[0][0], REFERRED[0][1].part)
FREE = next((c, r.part) for c, r in MARKED.responses() if not r.referred and r.mark == r.maximum)


def test_an_untouched_workbook_holds_our_marks_and_no_decision(tmp_path: Path) -> None:
    write_workbook(tmp_path / "marks.xlsx", MARKED)
    found = read_decisions(tmp_path / "marks.xlsx")
    assert found.made == {} and found.file == "marks.xlsx"
    assert {k: (e.mark, e.maximum, e.referred) for k, e in found.earlier.items()} == {
        (c, r.part): (r.mark, r.maximum, r.referred) for c, r in MARKED.responses()
    }
    key = ("c24", "1a")
    assert [(p.point, p.mark, p.maximum, p.reason) for p in found.earlier[key].points] == [
        (a.point, a.mark, a.maximum, a.reason) for a in MARKED.results[key].awards
    ]
    assert changes(found, MARKED) == ()


def test_decisions_survive_two_markings(tmp_path: Path) -> None:
    made = {
        FIRST: Decision(mark=0, note="the unit is not there"),
        FREE: Decision(mark=1),
        ("c05", "3b"): Decision(mark=None, note="ask him"),
    }
    write_workbook(tmp_path / "one.xlsx", MARKED, Decisions(made=made))
    once = read_decisions(tmp_path / "one.xlsx")
    assert once.made == made
    write_workbook(tmp_path / "two.xlsx", MARKED, once)
    assert read_decisions(tmp_path / "two.xlsx").made == made
    assert standing(MARKED, once)[FIRST] == 0 and standing(MARKED, once)[FREE] == 1


def test_a_decision_whose_referral_is_gone_moves_to_the_spare_rows(tmp_path: Path) -> None:
    kept = Decisions(made={FIRST: Decision(mark=0)})
    calm = replace(MARKED, results={**MARKED.results, FIRST: replace(MARKED.results[FIRST], referral=None)})
    write_workbook(tmp_path / "marks.xlsx", calm, kept)
    layout = plan(calm, kept)
    sheet = load_workbook(tmp_path / "marks.xlsx")["Refer"]
    assert [sheet.cell(layout.spare_first, c).value for c in (1, 2, 9)] == [*FIRST, 0]
    assert read_decisions(tmp_path / "marks.xlsx").made == kept.made


def remarked(key: tuple[str, str]) -> Any:
    """The same paper with one mark fewer in one response: its last point is lost."""
    result = MARKED.results[key]
    last = replace(result.awards[-1], mark=0.0, outcome=Outcome.NOT_EARNED, reason="The unit is missing.")
    new = replace(result, mark=result.mark - 1, awards=(*result.awards[:-1], last))
    return replace(MARKED, results={**MARKED.results, key: new})


def test_a_changed_mark_is_listed_with_its_reason(tmp_path: Path) -> None:
    write_workbook(tmp_path / "marks.xlsx", MARKED, Decisions(made={FREE: Decision(mark=2)}))
    before = read_decisions(tmp_path / "marks.xlsx")
    again = remarked(FREE)
    (change,) = changes(before, again)
    full = MARKED.results[FREE].mark
    assert (change.candidate, change.part, change.was, change.now) == (*FREE, full, full - 1)
    assert change.why == f"{again.results[FREE].awards[-1].point}: 1 before, 0 now: The unit is missing."
    assert change.teacher == "your mark 2: kept"
    write_workbook(tmp_path / "again.xlsx", again, before)
    sheet = load_workbook(tmp_path / "again.xlsx")["Changes"]
    assert [c.value for c in sheet[5]] == [*FREE, f"{full:g}", f"{full - 1:g}", change.why, change.teacher]


def test_what_else_can_change(tmp_path: Path) -> None:
    write_workbook(tmp_path / "marks.xlsx", MARKED, Decisions(made={("c02", "1b"): Decision(mark=3), ("c24", "5"): Decision(mark=1)}))
    before = read_decisions(tmp_path / "marks.xlsx")
    smaller = replace(
        MARKED,
        candidates=tuple(c for c in MARKED.candidates if c != "c24"),
        parts=tuple((p, 2.0 if p == "1b" else m) for p, m in MARKED.parts),
        results={k: replace(r, maximum=2.0, mark=min(r.mark, 2.0)) if k[1] == "1b" else r for k, r in MARKED.results.items()},
    )
    found = {(c.candidate, c.part): c for c in changes(before, smaller)}
    assert found["c02", "1b"].teacher == "your mark 3: not possible now (0 to 2); please decide again"
    assert found["c01", "1b"].why.startswith("out of 2, before out of 3")
    assert found["c24", "5"].why == "candidate c24 is not in the responses now"
    assert found["c24", "5"].teacher == "your mark 1: no longer used"
    assert ("c02", "1a") not in found


Spoil = Callable[[Workbook], object]


def put(sheet: str, place: str, value: object) -> Spoil:
    def spoil(book: Workbook) -> None:
        book[sheet][place].value = value

    return spoil


SPOILT: tuple[tuple[str, Spoil, str, str], ...] = (
    ("no sheet Refer", lambda b: b.remove(b["Refer"]), "marks.xlsx: no sheet Refer", "earlier marking"),
    ("heading row gone", lambda b: b["Refer"].delete_rows(5), "cells A1 to K15: no row with the headings", "Put the heading row back"),
    ("a heading renamed", put("Refer", "J5", "Remarks"), "row 5: no column Your note", "Put the heading back"),
    ("a mark above the maximum", put("Refer", "I6", 7), "cell I6: 7 is not a possible mark; expected from 0 to 3", "Correct it"),
    ("a mark below nought", put("Refer", "I7", -1), "cell I7: -1 is not a possible mark", "Correct it"),
    ("a third of a mark", put("Refer", "I7", 0.3), "cell I7: 0.3 is not a possible mark", "Correct it"),
    ("words for a mark", put("Refer", "I8", "two"), 'cell I8: "two" is not a number', "Type the mark as a number"),
    ("a date for a mark", put("Refer", "I8", __import__("datetime").date(2024, 2, 1)), "cell I8:", "is not a number"),
    ("a mark without a candidate", put("Refer", f"I{plan(MARKED, None).spare_first}", 1), "without its candidate or part", "Fill them in"),
)


@pytest.mark.parametrize(("name", "spoil", "says", "mend"), SPOILT, ids=[s[0] for s in SPOILT])
def test_a_spoilt_workbook_is_refused_by_its_cell(tmp_path: Path, name: str, spoil: Spoil, says: str, mend: str) -> None:
    path = tmp_path / "marks.xlsx"
    write_workbook(path, MARKED)
    book = load_workbook(path)
    spoil(book)
    book.save(path)
    with pytest.raises(WorkbookError) as caught:
        read_decisions(path)
    assert says in str(caught.value) and mend in str(caught.value)


def test_other_files_are_refused(tmp_path: Path) -> None:
    with pytest.raises(WorkbookError, match="no such file"):
        read_decisions(tmp_path / "none.xlsx")
    (tmp_path / "text.xlsx").write_text("candidate,1a")
    with pytest.raises(WorkbookError, match="not a workbook"):
        read_decisions(tmp_path / "text.xlsx")


def test_without_its_list_of_points_a_workbook_still_gives_decisions(tmp_path: Path) -> None:
    path = tmp_path / "marks.xlsx"
    write_workbook(path, MARKED, Decisions(made={FREE: Decision(mark=2)}))
    book = load_workbook(path)
    book.remove(book["Points"])
    book.save(path)
    found = read_decisions(path)
    assert found.made == {FREE: Decision(mark=2)} and found.earlier == {}
    assert changes(found, remarked(FREE)) == ()
