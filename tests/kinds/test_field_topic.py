"""A whole topic set and marked: forces on currents and charges in fields, as taught in school, across the kinds of part.

The scheme is field_topic.toml, the typed answers field_topic_rows.py: both invented, the marks common practice, no source.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from marker import load_scheme
from marker.marking import mark_candidate, mark_response
from marker.scheme.checking.check import check_paper
from marker.scheme.files import load_any
from marker.scheme.show import scheme_page, scheme_view
from marker.scheme.worksheet import write_worksheet
from tests.kinds.field_topic_rows import CARRIED, ROWS

SCHEME = Path(__file__).with_name("field_topic.toml")
PAPER = load_scheme(SCHEME)
NAMES = [p.name for p in PAPER.parts]


def lines(typed: str) -> list[str]:
    return typed.split(" // ") if typed else []


@pytest.mark.parametrize(("name", "typed", "mark"), [(n, t, m) for n, rows in ROWS.items() for t, m in rows])
def test_marks(name: str, typed: str, mark: str) -> None:
    result = mark_response(PAPER.part(name), lines(typed))
    got = f"{result.mark:g}{'R' if result.referred else ''}"
    assert got == mark, [f"{a.point}: {a.reason}" for a in result.awards]
    if result.referral is not None:
        assert len({p.mark for p in result.referral.possibilities}) > 1


@pytest.mark.parametrize(("first", "second", "one", "two"), CARRIED)
def test_own_values_go_from_part_to_part(first: str, second: str, one: str, two: str) -> None:
    results = {r.part: r for r in mark_candidate(PAPER, {"1c": lines(first), "1d": lines(second)})}
    assert (f"{results['1c'].mark:g}", f"{results['1d'].mark:g}") == (one, two)


def test_the_scheme_proves_itself() -> None:
    proof = check_paper(PAPER)
    assert [(p.part, r.problem.seen) for p in proof.parts for r in p.remarks] == []
    assert len({p.kind for p in proof.parts}) == 13


@pytest.mark.parametrize("name", NAMES)
def test_a_model_answer_earns_all_and_a_blank_nothing(name: str) -> None:
    part = PAPER.part(name)
    full = mark_response(part, part.kind.model(part.compiled))
    assert (full.mark, full.referred) == (part.marks, False), [a.reason for a in full.awards]
    blank = mark_response(part, [])
    assert (blank.mark, blank.referred, blank.faults) == (0, False, ())


def test_the_scheme_is_shown_with_every_part() -> None:
    page = scheme_page(scheme_view(PAPER))
    assert all(p.spec.stem.split(".")[0].split("=")[0] in page for p in PAPER.parts if "“" not in p.spec.stem)
    assert "To be shown: r = m*v/(q*B)" in page and "Subject: B" in page


def test_the_scheme_goes_through_a_worksheet(tmp_path: Path) -> None:
    write_worksheet(tomllib.loads(SCHEME.read_text(encoding="utf-8")), tmp_path / "topic.xlsx")
    assert [p.spec for p in load_any(tmp_path / "topic.xlsx").parts] == [p.spec for p in PAPER.parts]
