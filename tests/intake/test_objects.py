"""Responses as JSON Lines. JSON is judged by RFC 8259; the shape is this project's own."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from marker.errors import ResponsesError
from marker.intake import read_responses

PARTS = ("1a", "1b")


def write(folder: Path, *lines: object) -> Path:
    path = folder / "answers.jsonl"
    path.write_text("\n".join(x if isinstance(x, str) else json.dumps(x) for x in lines), encoding="utf-8")
    return path


def test_objects_in_any_order(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        {"candidate": "s02", "part": "1b", "lines": ["F = BIl", "", "F = 2\nN"], "class": "7P"},
        "",
        {"lines": "one\ntwo", "part": "1a", "candidate": 14, "minutes": 3},
        {"candidate": "s02", "part": "1a", "lines": []},
    )
    found = read_responses(path, PARTS)
    assert found.candidates == ("s02", "14")
    assert found.of("s02", "1b") == ("F = BIl", "F = 2", "N")
    assert found.of("14", "1a") == ("one", "two")
    assert found.of("14", "1b") == () == found.of("s02", "1a")
    assert found.groups == {"s02": "7P"}
    assert found.notes == ('answers.jsonl: keys not read: "minutes".',)


def test_line_separators_inside_text_and_lone_surrogates(tmp_path: Path) -> None:
    path = write(tmp_path, '{"candidate": "s01", "part": "1a", "lines": ["a\u2028b", "\\ud835\\udc39 \\ud800"]}')
    found = read_responses(path, PARTS)
    assert found.of("s01", "1a") == ("a", "b", "\U0001d439 \ufffd")
    assert [p.seen for p in found.problems] == ['nothing for part "1b"']


GOOD = {"candidate": "s01", "part": "1a", "lines": []}
REFUSALS = (
    ("broken JSON", '{"candidate": "s01", "part": "1a", "lines": [}', "line 2, column 46: not JSON", "Mend the line"),
    ("not an object", '["s01", "1a"]', "line 2: JSON that is not an object", '{"candidate"'),
    ("too deep", "[" * 100_000, "line 2: JSON nested too deeply", "Mend the line"),
    ("no candidate", {"part": "1a", "lines": []}, 'line 2: no key "candidate"', 'Add "candidate"'),
    ("key misspelt", {"candidate": "s02", "prat": "1a", "lines": []}, 'line 2: no key "part"', 'Write "part" for "prat"'),
    ("no lines", {"candidate": "s02", "part": "1a"}, 'line 2: no key "lines"', 'Add "lines"'),
    ("empty candidate", {"candidate": " ", "part": "1a", "lines": []}, 'line 2, key "candidate"', "Fill in the candidate"),
    ("candidate a list", {"candidate": ["s02"], "part": "1a", "lines": []}, 'line 2, key "candidate"', "Fill in"),
    ("lines of numbers", {"candidate": "s02", "part": "1a", "lines": [5]}, 'line 2, key "lines"', "double quotes"),
    ("unknown part", {"candidate": "s02", "part": "1d", "lines": []}, 'line 2, key "part": "1d" is not a part', "one of 1a, 1b"),
    ("given twice", GOOD, 'line 2: the response of candidate "s01" to part "1a" is already in line 1', "Keep the one"),
    ("given twice in another case", {**GOOD, "candidate": "S01"}, "already in line 1", "Keep the one"),
)


@pytest.mark.parametrize(("name", "line", "says", "mend"), REFUSALS, ids=[r[0] for r in REFUSALS])
def test_refusals(tmp_path: Path, name: str, line: object, says: str, mend: str) -> None:
    with pytest.raises(ResponsesError) as caught:
        read_responses(write(tmp_path, GOOD, line), PARTS)
    assert says in str(caught.value) and mend in str(caught.value)


def test_all_faults_are_told_at_once_up_to_twenty(tmp_path: Path) -> None:
    with pytest.raises(ResponsesError) as caught:
        read_responses(write(tmp_path, *["{"] * 50), PARTS)
    assert len(caught.value.problems) == 20


def test_empty_file(tmp_path: Path) -> None:
    with pytest.raises(ResponsesError, match="nothing in it"):
        read_responses(write(tmp_path, "", ""), PARTS)
