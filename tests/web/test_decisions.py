"""Decisions: none lost, none overwritten unseen, all on the record; on SQLite and on PostgreSQL.

Common practice, no source: an optimistic lock on an append-only list.
"""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from threading import Barrier

import pytest

from marker.reporting import read_decisions, write_workbook
from marker.web.storage import Store, open_store
from marker.web.storage.class_tests import find_test, keep_class_test, list_tests, marked_paper
from marker.web.storage.decisions import Overtaken, Recorded, Wish, batches, entries, settle, standing_decisions, undo
from marker.web.storage.model import Member, Person, Role
from marker.web.storage.overview import overview
from marker.web.storage.queue import group_members, next_open, parts_waiting, place_of, queue_page, state_of
from tests.web.scene import CANDIDATES, marked, result, scheme_copy, store_with_class

ALMA = Person(id=1, name="Alma", role=Role.TEACHER)
BERT = Person(id=2, name="Bert", role=Role.MODERATOR)


@pytest.fixture
def kept(where: str) -> Iterator[tuple[Store, int]]:
    store, test = store_with_class(where)
    yield store, test
    store.close()


def members_of(store: Store, test: int, part: str, count: int) -> tuple[Member, ...]:
    group = next(g for g in queue_page(store, test, state="all").groups if g.part == part and g.count == count)
    return group_members(store, test, group.part_id, group.alike)


def wish(found: tuple[Member, ...], mark: float, reason: str = "", choice: str = "") -> Wish:
    return Wish(responses=tuple(m.id for m in found), mark=mark, seen=state_of(found), reason=reason, choice=choice)


def test_alike_referrals_wait_in_groups_in_paper_order(kept: tuple[Store, int]) -> None:
    store, test = kept
    page = queue_page(store, test)
    assert [(g.part, g.count, g.candidate) for g in page.groups] == [("1a", 2, "c06"), ("1a", 1, "c08"), ("2", 5, "c01")]
    assert (page.open, page.groups_in_all, page.pages) == (8, 3, 1)
    assert [(name, n, waiting) for _, name, n, waiting in parts_waiting(store, test)] == [("1a", 3, 3), ("2", 5, 5)]
    second = queue_page(store, test, number=2, size=2)
    assert [(g.part, g.count) for g in second.groups] == [("2", 5)]
    assert queue_page(store, test, number=99, size=2).number == 2


def test_one_decision_settles_all_alike_and_says_who_when_and_why(kept: tuple[Store, int]) -> None:
    store, test = kept
    found = members_of(store, test, "2", 5)
    done = settle(store, wish(found, 3, "kPa is what the scale reads", "32 kPa is meant"), BERT)
    assert isinstance(done, Recorded)
    assert done.count == 5
    again = members_of(store, test, "2", 5)
    assert [(m.candidate, m.stands, m.settled) for m in again] == [(f"c0{n}", 3.0, True) for n in range(1, 6)]
    said = again[0].last
    assert said is not None
    assert (said.who, said.reason, said.choice, said.mark) == ("Bert", "kPa is what the scale reads", "32 kPa is meant", 3.0)
    assert said.at.endswith("Z")
    assert queue_page(store, test).open == 3
    assert [g.part for g in queue_page(store, test, state="settled").groups] == ["2"]


def test_a_second_person_is_told_and_shown_and_nothing_is_overwritten(kept: tuple[Store, int]) -> None:
    store, test = kept
    found = members_of(store, test, "2", 5)
    assert isinstance(settle(store, wish(found, 3, "first"), ALMA), Recorded)
    told = settle(store, wish(found, 2, "second"), BERT)
    assert isinstance(told, Overtaken)
    assert {(e.who, e.mark, e.reason) for e in told.entries} == {("Alma", 3.0, "first")}
    assert {m.stands for m in members_of(store, test, "2", 5)} == {3.0}
    replaced = settle(store, wish(members_of(store, test, "2", 5), 2, "after talking"), BERT)
    assert isinstance(replaced, Recorded)
    assert [(e.who, e.mark) for _, part, e in entries(store, test) if part == "2"] == [("Alma", 3.0)] * 5 + [("Bert", 2.0)] * 5


def test_a_decision_on_one_of_a_group_stops_a_decision_on_all_of_it(kept: tuple[Store, int]) -> None:
    store, test = kept
    found = members_of(store, test, "2", 5)
    one = (found[2],)
    assert isinstance(settle(store, wish(one, 2), ALMA), Recorded)
    assert isinstance(settle(store, wish(found, 3), BERT), Overtaken)
    assert [m.stands for m in members_of(store, test, "2", 5) if m.settled] == [2.0]


def test_of_many_at_once_exactly_one_is_recorded(kept: tuple[Store, int]) -> None:
    store, test = kept
    found = members_of(store, test, "2", 5)
    people = [Person(id=n, name=f"P{n}", role=Role.TEACHER) for n in range(8)]
    start = Barrier(len(people))

    def act(person: Person) -> Recorded | Overtaken:
        start.wait()
        return settle(store, wish(found, person.id % 4, person.name), person)

    with ThreadPoolExecutor(len(people)) as pool:
        done = list(pool.map(act, people))
    won = [p for p, d in zip(people, done, strict=True) if isinstance(d, Recorded)]
    assert len(won) == 1
    assert {e.who for d in done if isinstance(d, Overtaken) for e in d.entries} == {won[0].name}
    assert {(m.stands, m.last.who if m.last else "") for m in members_of(store, test, "2", 5)} == {(won[0].id % 4, won[0].name)}
    assert len(entries(store, test)) == 5


def test_undo_gives_back_what_stood_before(kept: tuple[Store, int]) -> None:
    store, test = kept
    found = members_of(store, test, "2", 5)
    first = settle(store, wish(found, 3), ALMA)
    second = settle(store, wish(members_of(store, test, "2", 5), 1), BERT)
    assert isinstance(first, Recorded)
    assert isinstance(second, Recorded)
    assert isinstance(undo(store, second.batch, ALMA, test), Recorded)
    assert {(m.stands, m.settled) for m in members_of(store, test, "2", 5)} == {(3.0, True)}
    assert isinstance(undo(store, first.batch, ALMA, test), Overtaken)
    acts = [(b.action, b.mark, b.who, b.count, b.last) for b in batches(store, test)[0]]
    assert acts == [("undo", 3.0, "Alma", 5, False), ("settle", 1.0, "Bert", 5, False), ("settle", 3.0, "Alma", 5, False)]


def test_undo_of_a_first_decision_makes_it_wait_again(kept: tuple[Store, int]) -> None:
    store, test = kept
    found = members_of(store, test, "1a", 2)
    done = settle(store, wish(found, 2), ALMA)
    assert isinstance(done, Recorded)
    assert isinstance(undo(store, done.batch, BERT, test), Recorded)
    assert {(m.stands, m.settled) for m in members_of(store, test, "1a", 2)} == {(1.0, False)}
    assert queue_page(store, test).open == 8
    assert undo(store, "no such batch", ALMA, test) is None
    assert undo(store, done.batch, ALMA, test + 1) is None


def test_next_goes_round_and_ends(kept: tuple[Store, int]) -> None:
    store, test = kept
    seen = []
    here = next_open(store, test)
    while here is not None:
        found = group_members(store, test, *here)
        seen.append((found[0].part, len(found)))
        assert place_of(store, test, *here).number == len(seen)
        settle(store, wish(found, found[0].maximum), ALMA)
        here = next_open(store, test, *here)
    assert seen == [("1a", 2), ("1a", 1), ("2", 5)]
    assert find_test(store, test).open == 0  # type: ignore[union-attr]


def test_the_workbook_holds_every_decision_with_who_and_when(kept: tuple[Store, int], tmp_path: Path) -> None:
    store, test = kept
    settle(store, wish(members_of(store, test, "2", 5), 3, "=1+1 is what they meant", "32 kPa is meant"), BERT)
    file = tmp_path / "marks.xlsx"
    write_workbook(file, marked_paper(store, test), standing_decisions(store, test))
    read = read_decisions(file)
    assert {k: d.mark for k, d in read.made.items()} == {(f"c0{n}", "2"): 3.0 for n in range(1, 6)}
    note = read.made["c01", "2"].note
    assert "=1+1 is what they meant" in note
    assert "Bert" in note


def test_what_is_kept_is_the_marked_paper_itself(kept: tuple[Store, int]) -> None:
    store, test = kept
    back = marked_paper(store, test)
    first = marked()
    for key, was in first.results.items():
        now = back.results[key]
        assert (now.mark, now.maximum, now.lines, now.referral, now.own) == (was.mark, was.maximum, was.lines, was.referral, was.own), key
    assert replace(back, results={}) == replace(first, results={})


def test_marking_again_keeps_decisions_that_fit_and_lets_the_others_lapse_on_the_record(kept: tuple[Store, int]) -> None:
    store, test = kept
    settle(store, wish(members_of(store, test, "2", 5), 3, "stays"), ALMA)
    settle(store, wish(members_of(store, test, "1a", 2), 2, "goes for one"), ALMA)
    results = dict(marked().results)
    results["c06", "1a"] = result("c11", "1a")  # c06 typed something else in the file marked now
    done = keep_class_test(store, scheme_copy(), replace(marked(), results=results, responses_sha256="d5" * 32), "Alma")
    assert (done.id, done.new, done.lapsed) == (test, False, 1)
    assert {m.stands for m in members_of(store, test, "2", 5)} == {3.0}
    lapsed = [(c, e.mark) for c, _, e in entries(store, test) if e.action == "lapsed"]
    assert lapsed == [("c06", None)]
    seen = {c.name: c.cells[0] for c in overview(store, test).candidates}
    assert seen["c06"] is not None and not seen["c06"].decided
    assert seen["c07"] is not None and seen["c07"].decided
    assert len(list_tests(store)) == 1


def test_a_candidate_who_is_gone_leaves_the_pages_but_not_the_record(kept: tuple[Store, int]) -> None:
    store, test = kept
    settle(store, wish(members_of(store, test, "2", 5), 3), ALMA)
    rest = CANDIDATES[1:]
    fewer = {k: v for k, v in marked().results.items() if k[0] in rest}
    keep_class_test(store, scheme_copy(), replace(marked(), candidates=rest, results=fewer), "Alma")
    assert [c.name for c in overview(store, test).candidates] == list(rest)
    assert len(members_of(store, test, "2", 4)) == 4
    assert ("c01", "2") in [(c, p) for c, p, _ in entries(store, test)]
    assert marked_paper(store, test).candidates == rest


def test_hostile_names_and_texts_are_kept_as_they_are(where: str) -> None:
    name = "c01\x00'; DROP TABLE decision; --\ud800<b>"
    results = {(name if c == "c01" else c, p): r for (c, p), r in marked().results.items()}
    store = open_store(where)
    candidates = (name, *CANDIDATES[1:])
    test = keep_class_test(store, scheme_copy(), replace(marked(), candidates=candidates, results=results, groups={}), "A\x00").id
    found = members_of(store, test, "2", 5)
    assert found[0].candidate == "c01'; DROP TABLE decision; --?<b>"
    done = settle(store, wish(found, 3, "a\x00b\ud801", "x" * 5000), Person(id=3, name="N\x00", role=Role.TEACHER))
    assert isinstance(done, Recorded)
    assert entries(store, test)[0][2].reason == "ab?"
    store.close()


def test_overview_counts_what_stands(kept: tuple[Store, int]) -> None:
    """Facility: mean mark over maximum (Classical item analysis); the figures are worked out by hand from the scene."""
    store, test = kept
    before = {p.name: p for p in overview(store, test).parts}
    # part 2: five candidates with 2 of 3 provisionally, seven with 3
    assert before["2"].facility == pytest.approx((5 * 2 + 7 * 3) / 36)
    assert (before["2"].full, before["2"].none, before["2"].open) == (7, 0, 5)
    # part 1a: 5 + 2 with 3 of 3, c06 and c07 with 1, c08 with 0, c09 and c10 as the package marks them
    swapped = result("c09", "1a").mark
    assert before["1a"].facility == pytest.approx((7 * 3 + 2 * 1 + 0 + 2 * swapped) / 36)
    settle(store, wish(members_of(store, test, "2", 5), 3), ALMA)
    after = overview(store, test)
    assert next(p for p in after.parts if p.name == "2").facility == 1
    fault = next(f for f in after.faults if f.candidates == 2 and "230/46" in f.example)
    assert (fault.parts, fault.example_of) == (("1a",), ("c09", "1a"))
    group = overview(store, test, group="6A")
    assert group.count == 6
    assert group.groups == ("6A", "6B")
    assert [c.name for c in overview(store, test, number=2, size=5).candidates] == list(CANDIDATES[5:10])
