"""Records: the stable shape (design, section 9), a round trip, and files written whole or not at all."""

from __future__ import annotations

import json
import math
import os
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from marker.errors import OutputError, RecordsError
from marker.reporting import from_record, read_records, write_records, write_workbook
from marker.reporting.atomic import replacing
from marker.results import LineReport, OwnValue, PartResult, as_record

from .invented import marked_paper

MARKED = marked_paper(6)
RESULT = MARKED.results["c04", "2b"]


def test_round_trip(tmp_path: Path) -> None:
    path = tmp_path / "marks.jsonl"
    write_records(path, MARKED.responses())
    assert read_records(path) == tuple(MARKED.responses())
    first = json.loads(path.read_text(encoding="utf-8").splitlines()[0])
    assert {"candidate", "part", "mark", "max", "referred", "points", "faults", "lines"} <= set(first)
    assert {"point", "mark", "max", "reason", "lines", "followed_through"} <= set(first["points"][0])
    assert {"text", "readings", "verdict"} <= set(first["lines"][0])


def test_whole_marks_are_whole_numbers_and_halves_stay(tmp_path: Path) -> None:
    half = replace(RESULT, mark=1.5)
    write_records(tmp_path / "marks.jsonl", [("c04", half)])
    assert '"mark": 1.5, "max": 3,' in (tmp_path / "marks.jsonl").read_text(encoding="utf-8")
    assert read_records(tmp_path / "marks.jsonl") == (("c04", half),)


def test_columns_surrogates_and_numbers_json_has_not(tmp_path: Path) -> None:
    line = LineReport(number=3, text="a\u2028b \ud800", readings=("x",), verdict="unread", columns=(2, 5), mathml="<math/>")
    own = OwnValue(symbol="v", value=math.inf, typed="1e999")
    result = PartResult(part="1", mark=0, maximum=1, lines=(line,), own=(own,))
    write_records(tmp_path / "marks.jsonl", [("c1", result)])
    text = (tmp_path / "marks.jsonl").read_bytes()
    json.loads(text, parse_constant=lambda name: pytest.fail(f"{name} is not JSON"))
    assert read_records(tmp_path / "marks.jsonl") == (("c1", result),)


def test_a_record_of_the_documented_keys_alone_is_read() -> None:
    """The shape of design section 9, without what later versions added."""
    record: dict[str, Any] = {
        "candidate": "c1", "part": "2b", "mark": 1, "max": 3, "referred": None,
        "points": [{"point": "answer", "mark": 1, "max": 1, "reason": "right", "lines": [1], "followed_through": False}],
        "faults": [{"kind": "unit-missing", "line": 1}],
        "lines": [{"text": "I = 3", "readings": ["I = 3"], "verdict": "right"}],
    }  # fmt: skip
    candidate, result = from_record(record)
    assert (candidate, result.mark, result.awards[0].outcome.value, result.lines[0].number) == ("c1", 1.0, "earned", 1)
    assert from_record({**record, "added later": 1})[1] == result


GOOD = json.dumps(as_record("c1", RESULT))
BROKEN = (
    ("not JSON", "{", "line 2: not a record"),
    ("another object", '{"candidate": "c1"}', "line 2: no key 'part'"),
    ("a list", "[1]", "line 2: not a record"),
    ("points that are none", '{"candidate":"c","part":"1","mark":1,"max":1,"points":[3]}', "line 2: not a record"),
    ("a mark that is no number", GOOD.replace('"mark": 3', '"mark": "x"', 1), "line 2: not a record"),
    ("an outcome nobody knows", GOOD.replace('"earned"', '"won"', 1), "line 2: not a record"),
    ("the same response twice", GOOD, 'line 2: candidate "c1", part "2b" is already in line 1'),
)


@pytest.mark.parametrize(("name", "line", "says"), BROKEN, ids=[b[0] for b in BROKEN])
def test_a_broken_records_file_is_refused_by_its_line(tmp_path: Path, name: str, line: str, says: str) -> None:
    path = tmp_path / "marks.jsonl"
    path.write_text(f"{GOOD}\n{line}\n", encoding="utf-8")
    with pytest.raises(RecordsError) as caught:
        read_records(path)
    assert says in str(caught.value) and "--records" in str(caught.value)


def test_other_records_files(tmp_path: Path) -> None:
    with pytest.raises(RecordsError, match="no such file"):
        read_records(tmp_path / "none.jsonl")
    (tmp_path / "marks.jsonl").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(RecordsError, match="not UTF-8"):
        read_records(tmp_path / "marks.jsonl")


def test_an_existing_file_stays_until_the_new_one_is_complete(tmp_path: Path) -> None:
    path = tmp_path / "marks.jsonl"
    path.write_text("old", encoding="utf-8")

    def fails() -> Any:
        yield "c1", RESULT
        raise RuntimeError("halfway")

    with pytest.raises(RuntimeError, match="halfway"):
        write_records(path, fails())
    assert path.read_text(encoding="utf-8") == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["marks.jsonl"]
    write_records(path, [("c1", RESULT)])
    assert read_records(path) == (("c1", RESULT),)
    assert [p.name for p in tmp_path.iterdir()] == ["marks.jsonl"]


def test_a_workbook_that_cannot_be_finished_leaves_the_old_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "marks.xlsx"
    path.write_bytes(b"old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OutputError, match="no space left"):
        write_workbook(path, MARKED)
    assert path.read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["marks.xlsx"]


def test_places_that_cannot_be_written(tmp_path: Path) -> None:
    for path, says in ((tmp_path / "none" / "marks.xlsx", "folder does not exist"), (tmp_path, "a folder")):
        with pytest.raises(OutputError, match=says) as caught, replacing(path):
            pytest.fail("the block must not run")
        assert all(p.mend for p in caught.value.problems)


def test_a_link_keeps_pointing(tmp_path: Path) -> None:
    (tmp_path / "real.jsonl").write_text("old", encoding="utf-8")
    (tmp_path / "link.jsonl").symlink_to(tmp_path / "real.jsonl")
    write_records(tmp_path / "link.jsonl", [("c1", RESULT)])
    assert (tmp_path / "link.jsonl").is_symlink()
    assert read_records(tmp_path / "real.jsonl") == (("c1", RESULT),)
