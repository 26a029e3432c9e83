"""A part of a scheme that is loaded again is compiled again only when something it hangs on has changed. Common practice, no source."""

from __future__ import annotations

import json
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from marker import build_paper, mark_class

PAPER: dict[str, Any] = {
    "paper": {"title": "A sledge on the ice", "data": {"g": "9.81 N/kg"}},
    "part": [
        {"name": "a", "marks": 1, "given": {"m": "24 kg"}, "find": "W", "unit": "N", "using": ["W = m*g"]},
        {"name": "b", "marks": 2, "given": {"μ": "0.05"}, "carry": {"W": "a"}, "find": "F", "unit": "N", "using": ["F = μ*W"]},
        {"name": "c", "marks": 2, "given": {"s": "6.0 m", "t": "4.0 s"}, "find": "v", "unit": "m/s", "using": ["v = s/t"]},
        {"name": "d", "kind": "written", "marks": 1, "idea": [{"name": "less", "says": ["friction is smaller on ice"]}]},
    ],
}


def changed(part: int | None, **keys: Any) -> dict[str, Any]:
    table = deepcopy(PAPER)
    (table["paper"] if part is None else table["part"][part]).update(keys)
    return table


ROWS = {
    "nothing changed": (PAPER, ""),
    "the title, of which no mark depends": (changed(None, title="A sledge"), ""),
    "a datum of a part alone": (changed(2, given={"s": "6.5 m", "t": "4.0 s"}), "c"),
    "a part from which another carries": (changed(0, given={"m": "25 kg"}), "ab"),
    "a ruling of one part": (changed(2, rulings={"unit_fault": "none"}), "c"),
    "the data sheet": (changed(None, data={"g": "9.8 N/kg"}), "abc"),
    "the convention": (changed(None, convention="answer first"), "abcd"),
    "an idea's words": (changed(3, idea=[{"name": "less", "says": ["there is less friction"]}]), "d"),
}


@pytest.mark.parametrize(("table", "anew"), ROWS.values(), ids=ROWS)
def test_only_what_changed_is_compiled_anew(table: dict[str, Any], anew: str) -> None:
    before, after = build_paper(PAPER), build_paper(table)
    assert "".join(p.name for p, q in zip(after.parts, before.parts, strict=True) if p is not q) == anew


def test_a_settled_response_added_beside_the_scheme_counts(tmp_path: Path) -> None:
    """The file of settlements is no part of the scheme's text, and what it settles must still be seen."""
    file = tmp_path / "settled.jsonl"
    file.write_text("", encoding="utf-8")
    table, typed = changed(3, settled=str(file)), {("x", "d"): ("the runners glide",)}
    before = mark_class(build_paper(table), ["x"], typed)["x", "d"]
    file.write_text(json.dumps({"text": "the runners glide", "mark": 1}) + "\n", encoding="utf-8")
    after = mark_class(build_paper(table), ["x"], typed)["x", "d"]
    assert (before.mark, after.mark) == (0, 1)


def test_results_are_those_of_the_changed_scheme() -> None:
    typed = {("x", "c"): ("v = 6.0/4.0 = 1.5 m/s",)}
    marks = [
        mark_class(build_paper(t), ["x"], typed)["x", "c"].mark for t in (PAPER, changed(2, given={"s": "6.5 m", "t": "4.0 s"}), PAPER)
    ]
    assert marks[0] == marks[2] == 2
    assert marks[1] < 2
