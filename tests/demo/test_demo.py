"""The demo class test: its files fit together, its answers are right, and marking it agrees with the examiner's marks beside it."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import pytest

from marker.classwork import mark_files
from marker.reporting.paper import MarkedPaper
from marker.scheme.paper import load_scheme

DEMO = Path(__file__).resolve().parents[2] / "rubrics" / "demo"
Row = dict[str, str]

# Answers worked by hand from the stems, with the constants of the paper's data sheet (SI units); common practice, no source.
ANSWERS = {
    "1a": 16.5 * 9.81,
    "1b": (16.5 * 9.81 * 2.6 - 0.5 * 16.5 * 4.9**2) / 4.2,
    "2a": 2 * 3.14159265 * 1.35 * 140 / 60,
    "2b": 6.8 * (26.4 - 6.8 * 0.45),
    "2d": 1.9 * 4180 * 22 / (6.8 * (26.4 - 6.8 * 0.45)),
    "3a": 5400 / 0.018,
    "3c": 9.11e-31 * 6.4e6 / (0.085 * 1.60e-19),
    "4a": 3.00e8 / 2.45e9 / 2,
    "4b": 1.01e5 * 0.085 / (8.31 * 305.15),
    "5": 6.63e-34 * 3.00e8 / 254e-9 - 2.1 * 1.60e-19,
}
# NAEP mathematics 2000, grade 8, double-scored items: the lowest exact agreement of two trained people on any item was 93 %.
PEOPLE_AT_LEAST = 0.93


@cache
def maxima() -> dict[str, float]:
    return {p.name: p.marks for p in load_scheme(DEMO / "scheme.toml").parts}


def rows(name: str) -> list[Row]:
    with (DEMO / name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


@pytest.fixture(scope="module")
def marked() -> MarkedPaper:
    paper, set_aside = mark_files(DEMO / "scheme.toml", DEMO / "responses.csv", when="")
    assert set_aside == ()
    return paper


@pytest.mark.parametrize("part", ANSWERS)
def test_answers_are_those_worked_by_hand(part: str) -> None:
    goals = load_scheme(DEMO / "scheme.toml").part(part).compiled.goals
    assert goals[-1].value == pytest.approx(ANSWERS[part], rel=2e-3)


def test_the_parts_and_their_marks_are_those_of_the_read_me(marked: MarkedPaper) -> None:
    assert len(marked.parts) == 12
    assert sum(marks for _, marks in marked.parts) == 35


def test_every_candidate_has_a_class_and_a_mark_for_every_part(marked: MarkedPaper) -> None:
    assert sorted(marked.candidates) == [str(n) for n in range(1001, 1025)]
    assert set(marked.groups.values()) == {"A", "B"} and set(marked.groups) == set(marked.candidates)
    assert set(marked.results) == {(c, name) for c in marked.candidates for name, _ in marked.parts}


@pytest.mark.parametrize("row", rows("expected.csv"), ids=lambda r: f"{r['candidate']} {r['part']}")
def test_an_examiners_mark_is_the_sum_of_its_points(row: Row) -> None:
    points = [int(p) for p in row["points"].split(";")]
    maximum = maxima()[row["part"]]
    assert sum(points) == int(row["mark"]) <= maximum
    assert len(points) == maximum
    assert bool(row["reason"]) == (int(row["mark"]) < maximum)


def test_marks_agree_with_the_examiner_as_two_people_do(marked: MarkedPaper) -> None:
    """Of the responses not referred; a mark in `accept` counts as agreement."""
    agree = decided = 0
    for row in rows("expected.csv"):
        result = marked.results[row["candidate"], row["part"]]
        if result.referral is None:
            decided += 1
            agree += result.mark in {float(m) for m in (row["mark"], *row["accept"].split())}
    assert decided >= 0.9 * len(marked.results)
    assert agree / decided >= PEOPLE_AT_LEAST
