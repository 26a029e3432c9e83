"""Bad input: one sentence that names the place and the mend, status 2 where nothing can be marked, and no output half written.

What a teacher's files may hold wrongly is common practice, no source; bytes that are no UTF-8 are those of RFC 3629, section 3.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

import pytest
from openpyxl import Workbook

from tests.cli.conftest import Marker
from tests.cli.running import RESPONSES, SCHEME


@dataclass(frozen=True, slots=True, kw_only=True)
class Bad:
    name: str
    place: str
    mend: str
    scheme: str = SCHEME
    content: bytes | None = RESPONSES.encode()
    file: str = "responses.csv"


UNSOLVABLE = SCHEME.replace(', I = "0.75 A" }\nfind = "R"', ' }\nfind = "R"')
BAD = (
    Bad(name="missing responses", content=None, file="away.csv", place="away.csv", mend="Check the name"),
    Bad(name="missing scheme", scheme="", place="scheme.toml", mend="Check the name"),
    Bad(name="unknown part", content=b"candidate,1,7\nc1,16,x\n", place='row 1, column "7"', mend="Rename it"),
    Bad(name="unsolvable part", scheme=UNSOLVABLE, place="part 1", mend="Give a value of I"),
    Bad(name="duplicate candidate", content=b"candidate,1,2\nc1,16,9\nc1,15,9\n", place="row 3", mend="take the other out"),
    Bad(name="empty file", content=b"", place="responses.csv", mend="Check that the right file"),
    Bad(name="headings only", content=b"candidate,1\n", place="responses.csv", mend="Check that the right file"),
    Bad(name="wrong encoding", content=b"candidate,1,2\nc1,\x81\xff\x8d,9\n", place="line 2", mend="as CSV UTF-8"),
    Bad(name="no workbook", content=b"hello", file="responses.xlsx", place="responses.xlsx", mend="save it as .xlsx"),
)


@pytest.mark.parametrize("bad", BAD, ids=lambda b: b.name)
def test_refused_with_one_message_and_the_old_output_kept(desk: Path, marker: Marker, bad: Bad) -> None:
    (desk / "scheme.toml").write_text(bad.scheme, encoding="utf-8") if bad.scheme else (desk / "scheme.toml").unlink()
    if bad.content is not None:
        (desk / bad.file).write_bytes(bad.content)
    (desk / "marks.xlsx").write_bytes(b"the old marks")
    before = sorted(p.name for p in desk.iterdir())
    ran = marker("mark", "scheme.toml", bad.file, "-o", "marks.xlsx", "--records", "marks.jsonl")
    assert ran.status == 2 and ran.out == ""
    assert len(ran.err.strip().splitlines()) == 1
    assert bad.place in ran.err and bad.mend in ran.err and "Traceback" not in ran.err
    assert (desk / "marks.xlsx").read_bytes() == b"the old marks"
    assert sorted(p.name for p in desk.iterdir()) == before


def test_an_empty_sheet(desk: Path, marker: Marker) -> None:
    Workbook().save(desk / "empty.xlsx")
    ran = marker("mark", "scheme.toml", "empty.xlsx")
    assert ran.status == 2 and ran.err.startswith('empty.xlsx, sheet "Sheet": nothing in it')
    assert len(ran.err.splitlines()) == 1


def test_a_response_of_100_000_characters_is_referred_and_the_class_goes_on(desk: Path, marker: Marker) -> None:
    (desk / "responses.csv").write_text(RESPONSES + f"c3,{'(1+' * 33_334},P = IV = 0.75 × 12 = 9.0 W\n", encoding="utf-8")
    ran = marker("mark", "scheme.toml", "responses.csv", "--records", "marks.jsonl")
    assert ran.status == 0
    assert 'row 4, column "1"' in ran.err and "The response of c3 to 1 is referred to you." in ran.err
    records = {(r["candidate"], r["part"]): r for r in map(json.loads, (desk / "marks.jsonl").read_text(encoding="utf-8").splitlines())}
    assert len(records) == 6
    assert records["c3", "1"]["referred"] is not None and records["c3", "1"]["mark"] == 0
    assert [records[c, "2"]["mark"] for c in ("c1", "c3")] == [3, 3]


def test_an_output_that_cannot_be_written(desk: Path, marker: Marker) -> None:
    ran = marker("mark", "scheme.toml", "responses.csv", "-o", "away/marks.xlsx")
    assert ran.status == 2 and "away" in ran.err and "Make the folder first" in ran.err


def test_parts_nobody_answered_are_named_together(desk: Path, marker: Marker) -> None:
    further = SCHEME[SCHEME.index("[[part]]") :].replace('"1"', '"3"').replace('"2"', '"4"')
    (desk / "scheme.toml").write_text(SCHEME + further, encoding="utf-8")
    ran = marker("mark", "scheme.toml", "responses.csv")
    assert ran.status == 0 and ran.err.count("\n") == 1
    assert 'nothing for parts "3", "4"' in ran.err


@pytest.mark.parametrize(
    ("words", "place", "mend"),
    [
        (("mark", "scheme.toml", "responses.csv", "--convention", "nonesuch"), "'nonesuch'", "positive three-mark"),
        (("mark", "scheme.toml", "responses.csv", "--keep", "responses.csv"), "responses.csv", "Give the workbook of the earlier marking"),
        (("feedback", "scheme.toml", "away.jsonl"), "away.jsonl", "Check the name"),
        (("feedback", "scheme.toml", "responses.csv"), "responses.csv, line 1", "Write the records again"),
        (("read", "V = IR", "--with", "rubbish"), "rubbish", "I = 3.2 A"),
        (("scheme", "check", "away.toml"), "away.toml", "Check the name"),
        (("moderate", "compare", "away.xlsx", "away2.xlsx"), "away.xlsx", "Check the name"),
    ],
)
def test_other_commands_refuse_in_the_same_way(desk: Path, marker: Marker, words: tuple[str, ...], place: str, mend: str) -> None:
    ran = marker(*words)
    assert ran.status == 2 and ran.out == ""
    assert place in ran.err and mend in ran.err
