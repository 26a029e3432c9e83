"""Hints and the next step: each is of use, the step really leads on, and no hint gives away more than its strength.

Common practice, no source: ask first, then point, then begin, then show.
"""

from __future__ import annotations

import pytest

from marker import build_paper, mark_response
from marker.scheme.paper import CompiledPart, Paper
from marker.web.coaching import MOST_LINES, begins, hint, judged, next_step
from tests.web.scene import paper

MORE = build_paper(
    {
        "paper": {"title": "A quarry railway"},
        "part": [
            {
                "name": "strain",
                "marks": 5,
                "given": {"L": "18 m", "d": "4.0 mm", "F": "950 N", "ΔL": "6.5 mm"},
                "find": "E",
                "using": ["E = F*L/(A*ΔL)", "A = π*r^2"],
                "also": ["r = d/2"],
            },
            {
                "name": "field",
                "kind": "direction",
                "marks": 1,
                "ask": [{"of": "force on the wire", "rule": "force on a current", "current": "right", "field": "out of the page"}],
            },
            {
                "name": "sensor",
                "kind": "written",
                "marks": 2,
                "idea": [
                    {"name": "proportion", "says": ["the reading is directly proportional to the mass"]},
                    {"name": "zero", "says": ["the sensor has no zero error"]},
                ],
            },
        ],
    }
)


def parts(*papers: Paper) -> list[CompiledPart]:
    return [p for one in papers for p in one.parts]


@pytest.mark.parametrize("part", parts(paper(), MORE), ids=lambda p: p.name)
def test_next_steps_lead_from_nothing_to_full_marks(part: CompiledPart) -> None:
    lines: list[str] = []
    while (step := next_step(part, mark_response(part, lines))) is not None:
        assert step.line not in lines
        lines.append(step.line)
        assert len(lines) <= MOST_LINES
    assert mark_response(part, lines).mark == part.marks, lines
    assert judged(part, lines).complete
    assert hint(part, lines, 4).line == ""


def test_a_wrong_line_does_not_bar_the_way() -> None:
    part = paper().part("1a")
    step = next_step(part, mark_response(part, ("P = I/V", "I = 5 V")))
    assert step is not None
    assert step.line == "P = IV"


# lines so far, strength, and what the hint must and must not hold
HINTS = (
    ((), 1, ("equation",), ("P", "I", "46")),
    ((), 2, ("I, P and V",), ("P = IV", "46")),
    ((), 3, ("P = …",), ("P = IV",)),
    (("P = IV",), 2, ("P and V",), ("46",)),
    (("P = IV",), 3, ("P = 46 W", "V = 230 V"), ("46/230", "0.2")),
    (("P = IV", "46 = I × 230"), 2, ("I", "A"), ("0.2",)),
    (("P = IV", "46 = I × 230"), 3, ("I = 0.2…",), ("0.20 A",)),
    (("46 )) = ((/ I",), 1, ("read",), ("46",)),
)


@pytest.mark.parametrize("row", HINTS, ids=lambda r: f"{len(r[0])} lines, strength {r[1]}")
def test_hints_grow_in_strength(row: tuple[tuple[str, ...], int, tuple[str, ...], tuple[str, ...]]) -> None:
    lines, strength, says, keeps_back = row
    said = hint(paper().part("1a"), lines, strength)
    assert said.line == ""
    words = said.text.replace(",", " ").replace(".", " ").replace("?", " ").split()
    assert all(s in said.text for s in says), said
    assert not any(k in words or (len(k) > 2 and k in said.text) for k in keeps_back), said


def test_a_fault_is_hinted_at_before_it_is_named() -> None:
    part = paper().part("1a")
    lines = ("P = IV", "I = 230/46")
    first, second = (hint(part, lines, n).text for n in (1, 2))
    fault = next(f for f in mark_response(part, lines).faults if f.line == 2)
    assert (fault.student or fault.teacher).strip(" .")[1:] in second
    assert (fault.student or fault.teacher).strip(" .")[1:] not in first
    assert first != hint(part, ("P = IV",), 1).text


BEGINS = (
    ("V = IR", "V = …"),
    ("R = 431 Ω", "R = 4…"),
    ("F = 0.51 N", "F = 0.5…"),
    ("a = −2.5 m/s^2", "a = −2…"),
    ("F = 0.36 × 7.5 × 0.24", "F = …"),
    ("P = 1.4 × 10^4 W", "P = 1…"),
    ("27.6 = 0.064R", "27.6 = …"),
    ("E = 1/2mv^2", "E = …"),
    ("the reading is proportional to the mass", "the reading is …"),
    ("up", "up …"),
)


@pytest.mark.parametrize(("line", "shown"), BEGINS, ids=[b[0] for b in BEGINS])
def test_how_a_step_begins(line: str, shown: str) -> None:
    assert begins(line) == shown


def test_lines_are_shown_with_what_was_found() -> None:
    working = judged(paper().part("1a"), ("P = IV", "I = 46/230 = 0.20 A", "<b>so</b>"))
    assert [line.verdict for line in working.lines[:2]] == ["right", "right"]
    assert "<math" in working.lines[0].mathml
    assert [earned for _, _, earned in working.points] == [True, True, True]


def test_the_same_slip_is_explained_each_time_it_is_typed() -> None:
    working = judged(paper().part("1a"), ("P = I/V", "P = I/V"))
    assert working.lines[0].advice
    assert working.lines[1].advice == working.lines[0].advice
