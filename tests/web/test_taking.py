"""Class tests taken in by the command: marked once, kept, marked again only when something changed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from marker.classwork import mark_files
from marker.errors import ResponsesError, SchemeError
from marker.reporting import Decision, Decisions, write_workbook
from marker.web.commands import _allowed, _hosts, _listen
from marker.web.errors import ServeError
from marker.web.papers import Papers, compile_copy, copy_scheme
from marker.web.question import question_of
from marker.web.storage import Store, open_store
from marker.web.storage.class_tests import list_tests, marked_paper, practice_test
from marker.web.storage.decisions import entries
from marker.web.taking import take_in, take_practice
from tests.web.scene import SCHEME

RESPONSES = 'candidate,1a,1b,2\nq1,"P = IV\n46 = I × 230\nI = 0.20 A",E = mgh,\nq2,I = 0.2 A,,p = ρgh\n'


@pytest.fixture
def files(tmp_path: Path) -> tuple[Path, Path]:
    scheme, responses = tmp_path / "mill.toml", tmp_path / "mill.csv"
    scheme.write_text(SCHEME, encoding="utf-8")
    responses.write_text(RESPONSES, encoding="utf-8")
    return scheme, responses


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = open_store(tmp_path / "store.db")
    yield opened
    opened.close()


def test_files_are_marked_once_and_again_when_they_change(store: Store, files: tuple[Path, Path]) -> None:
    scheme, responses = files
    first = take_in(store, scheme, responses, who="Alma")
    assert "6 responses of 2 candidates marked" in first.told
    assert "as it was kept" in take_in(store, scheme, responses, who="Alma").told
    responses.write_text(RESPONSES.replace("q2,I = 0.2 A", "q2,I = 0.3 A"), encoding="utf-8")
    again = take_in(store, scheme, responses, who="Alma")
    assert again.id == first.id
    assert "Decisions made before are kept" in again.told
    assert [t.title for t in list_tests(store)] == ["Class test: the tide mill"]


def test_marking_by_the_pages_and_by_the_library_is_one(store: Store, files: tuple[Path, Path]) -> None:
    taken = take_in(store, *files, who="Alma")
    direct, _ = mark_files(*files)
    kept = marked_paper(store, taken.id)
    assert {k: (r.mark, r.lines) for k, r in kept.results.items()} == {k: (r.mark, r.lines) for k, r in direct.results.items()}


def test_marks_of_an_earlier_workbook_are_taken_over_once(store: Store, files: tuple[Path, Path], tmp_path: Path) -> None:
    marked, _ = mark_files(*files)
    book = tmp_path / "marks.xlsx"
    made = {
        ("q2", "1a"): Decision(mark=1, note="spoke with q2"),
        ("q9", "1a"): Decision(mark=1),
        ("q1", "2"): Decision(mark=None, note="only a note"),
    }
    write_workbook(book, marked, Decisions(made={k: v for k, v in made.items() if k[0] != "q9"}))
    taken = take_in(store, *files, keep=book, who="Alma")
    assert "1 marks taken over" in taken.told
    assert "taken over" not in take_in(store, *files, keep=book, who="Alma").told
    assert [(c, p, e.action, e.mark, e.reason, e.who) for c, p, e in entries(store, taken.id)] == [
        ("q2", "1a", "kept", 1.0, "spoke with q2", "Alma")
    ]


def test_a_scheme_alone_is_open_for_practice(store: Store, files: tuple[Path, Path]) -> None:
    taken = take_practice(store, files[0], None, "Alma")
    assert [t.practice for t in list_tests(store)] == [True]
    papers, test = Papers(store), practice_test(store, taken.id)
    assert test is not None
    assert [p.name for p in papers.paper(test).parts] == ["1a", "1b", "2"]
    drawn = papers.drawn(test, "1a", 5)
    assert drawn is papers.drawn(test, "1a", 5)
    question = question_of(drawn)
    assert question.fresh
    assert [s for s, _ in question.given] == ["P", "V"]
    assert all(v in question.stem for _, v in question.given)


REFUSED = (
    ("no scheme", "missing.toml", "mill.csv", SchemeError),
    ("no responses", "mill.toml", "missing.csv", ResponsesError),
    ("a scheme that is none", "mill.csv", "mill.csv", SchemeError),
)


@pytest.mark.parametrize("row", REFUSED, ids=[r[0] for r in REFUSED])
def test_what_cannot_be_marked_is_refused_and_nothing_kept(
    row: tuple[str, str, str, type[Exception]], store: Store, files: tuple[Path, Path]
) -> None:
    _, scheme, responses, error = row
    folder = files[0].parent
    with pytest.raises(error):
        take_in(store, folder / scheme, folder / responses, who="Alma")
    assert list_tests(store) == ()


def test_a_scheme_compiles_again_from_its_copy_with_what_it_reads(tmp_path: Path) -> None:
    (tmp_path / "ours.toml").write_text('name = "ours"\n[rulings]\nunit_fault = "none"\n', encoding="utf-8")
    scheme = tmp_path / "mill.toml"
    scheme.write_text(SCHEME.replace('mill"\n', 'mill"\nconvention = "ours.toml"\n', 1), encoding="utf-8")
    copy = copy_scheme(scheme)
    assert list(copy.beside) == ["ours.toml"]
    assert compile_copy(copy).convention.unit_fault == "none"
    (tmp_path / "other.toml").write_text('name = "other"\n[rulings]\nhalf_marks = true\n', encoding="utf-8")
    asked = copy_scheme(scheme, str(tmp_path / "other.toml"))
    (tmp_path / "other.toml").unlink()
    assert compile_copy(asked).convention.half_marks


def test_the_pages_are_not_opened_to_others_by_mistake() -> None:
    with pytest.raises(ServeError, match="--department"):
        _allowed("0.0.0.0", False)
    _allowed("0.0.0.0", True)
    _allowed("127.0.0.1", False)
    assert _hosts("0.0.0.0", ["physics.example"]) == ("127.0.0.1", "localhost", "physics.example")


def test_a_taken_port_is_refused_with_its_mend() -> None:
    first = _listen("127.0.0.1", 0)
    with pytest.raises(ServeError, match="cannot be listened on") as refusal:
        _listen("127.0.0.1", first.getsockname()[1])
    assert "--port" in refusal.value.problems[0].mend
    first.close()
