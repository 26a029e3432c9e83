"""The record: whole while untouched; any change, loss, addition or move of an entry is found and named by its line."""

import hashlib
import json
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from marker.errors import MarkerError
from marker.moderation.record import START, append, verify

Lines = list[str]


def _three(tmp_path: Path) -> Path:
    path = tmp_path / "record.jsonl"
    for i, what in enumerate(("sample", "comparison", "decision")):
        append(path, when=f"2031-03-0{i + 1}T10:00:00+00:00", who="H. Dale", what=what, data={"n": i, "why": "é ≤ ½"})
    return path


def test_a_record_that_was_only_added_to_is_whole(tmp_path: Path) -> None:
    found = verify(_three(tmp_path))
    assert found.whole and [e.what for e in found.entries] == ["sample", "comparison", "decision"]


def test_each_entry_is_hashed_with_the_one_before(tmp_path: Path) -> None:
    """Digest recomputed here by hand: SHA-256 of the entry as JSON, keys sorted, no spaces, without its own digest."""
    before = START
    for line in _three(tmp_path).read_text(encoding="utf-8").splitlines():
        body = json.loads(line)
        assert body["before"] == before
        before = body.pop("digest")
        text = json.dumps(body, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
        assert hashlib.sha256(text.encode()).hexdigest() == before


def _rewritten(lines: Lines) -> Lines:
    """An entry changed and its own digest made anew, as a forger would."""
    body = json.loads(lines[1])
    body["data"]["n"] = 99
    del body["digest"]
    text = json.dumps(body, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return [lines[0], json.dumps({**body, "digest": hashlib.sha256(text.encode()).hexdigest()}), lines[2]]


TAMPERED: tuple[tuple[str, Callable[[Lines], Lines], str], ...] = (
    ("a word changed", lambda x: [x[0], x[1].replace("H. Dale", "A. Cole"), x[2]], "line 2: the entry was changed"),
    ("changed and hashed anew", _rewritten, "line 3: the entry before it was changed"),
    ("one taken out", lambda x: [x[0], x[2]], "line 2: the entry before it was changed, taken out"),
    ("the first taken out", lambda x: x[1:], "line 1: the entry before it was changed, taken out"),
    ("two exchanged", lambda x: [x[1], x[0], x[2]], "line 1: the entry before it"),
    ("one put in twice", lambda x: [x[0], x[1], x[1], x[2]], "line 3: entry 2 stands at place 3"),
    ("half a line", lambda x: [*x[:2], x[2][:40]], "line 3: not an entry"),
    ("an empty line", lambda x: [x[0], "", *x[1:]], "line 2: not an entry"),
    ("a key added", lambda x: [x[0], x[1].replace('"n": 2', '"n": 2, "note": 1', 1), x[2]], "line 2: not an entry"),
    ("not JSON", lambda x: [x[0], "[" * 100_000, x[2]], "line 2: not an entry"),
)


@pytest.mark.parametrize(("name", "change", "says"), TAMPERED, ids=[t[0] for t in TAMPERED])
def test_tampering_is_found_and_nothing_more_is_added(name: str, change: Callable[[Lines], Lines], says: str, tmp_path: Path) -> None:
    path = _three(tmp_path)
    path.write_text("\n".join(change(path.read_text(encoding="utf-8").splitlines())) + "\n", encoding="utf-8")
    found = verify(path)
    assert not found.whole and says in "\n".join(p.sentence() for p in found.problems)
    size = path.stat().st_size
    with pytest.raises(MarkerError):
        append(path, when="later", who="H. Dale", what="decision")
    assert path.stat().st_size == size


def test_a_lost_end_is_found_by_the_digest_noted_elsewhere(tmp_path: Path) -> None:
    path = _three(tmp_path)
    head = verify(path).head
    lines = path.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join(lines[:2]) + "\n", encoding="utf-8")
    assert verify(path).whole  # the chain alone cannot know
    assert "no entry has the digest given" in verify(path, head).problems[0].seen
    assert verify(path, json.loads(lines[1])["digest"][:16]).whole
    assert "too short" in verify(path, head[:4]).problems[0].seen


def test_a_noted_digest_still_holds_when_entries_follow(tmp_path: Path) -> None:
    path = _three(tmp_path)
    head = verify(path).head
    append(path, when="later", who="H. Dale", what="decision")
    assert verify(path, head).whole


def test_files_are_recorded_and_a_later_change_is_told(tmp_path: Path) -> None:
    marks = tmp_path / "marks.csv"
    marks.write_text("1", encoding="utf-8")
    path = tmp_path / "record.jsonl"
    entry = append(path, when="now", who="H. Dale", what="comparison", files=[marks])
    assert entry.files == {"marks.csv": hashlib.sha256(b"1").hexdigest()}
    assert verify(path).changed == ()
    marks.write_text("2", encoding="utf-8")
    assert verify(path).changed == ((1, "marks.csv"),)


def test_several_writers_at_once_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "record.jsonl"

    def write(who: str) -> None:
        for _ in range(10):
            append(path, when="now", who=who, what="decision")

    threads = [threading.Thread(target=write, args=(f"person {i}",)) for i in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    found = verify(path)
    assert found.whole and len(found.entries) == 40


@pytest.mark.parametrize(("data", "says"), ((None, "cannot be read"), (b"", "no entries"), (b"\xff\xfe\x00", "not UTF-8")))
def test_what_is_no_record(tmp_path: Path, data: bytes | None, says: str) -> None:
    path = tmp_path / "record.jsonl"
    if data is not None:
        path.write_bytes(data)
    try:
        told = "\n".join(p.sentence() for p in verify(path).problems)
    except MarkerError as error:
        told = str(error)
    assert says in told
