"""Responses as text files: what is read, and what is said when a file or a row cannot be.

Quoting and line ends follow RFC 4180; byte-order marks follow the Unicode Standard, section 23.8.
What a class's file may hold besides is common practice, no source.
"""

from __future__ import annotations

import csv
import hashlib
from dataclasses import dataclass
from pathlib import Path

import pytest

from marker.errors import ResponsesError
from marker.intake import read_responses
from marker.intake.model import LONGEST_RESPONSE

PARTS = ("1a", "1b", "2")
TEXT = 'candidate,1a,1b,2\ns01,"V = IR\nR = 5.0 Ω",0.75 A,up\ns02,,"3,5 m",\n'


def write(folder: Path, content: str | bytes, name: str = "answers.csv") -> Path:
    path = folder / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
def test_encodings_of_unicode_text(tmp_path: Path, encoding: str) -> None:
    found = read_responses(write(tmp_path, TEXT.encode(encoding)), PARTS)
    assert found.candidates == ("s01", "s02")
    assert found.of("s01", "1a") == ("V = IR", "R = 5.0 Ω")
    assert found.of("s02", "1b") == ("3,5 m",)
    assert found.of("s02", "2") == ()
    assert found.notes == () and found.problems == ()


def test_windows_1252_is_read_and_noted(tmp_path: Path) -> None:
    found = read_responses(write(tmp_path, "candidate;1a;1b;2\ns01;28,8°;4.2 µV;½\n".encode("cp1252")), PARTS)
    assert [found.of("s01", p) for p in PARTS] == [("28,8°",), ("4.2 µV",), ("½",)]
    assert len(found.notes) == 1 and "Windows-1252" in found.notes[0] and "line 2" in found.notes[0]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_delimiters_and_line_ends(tmp_path: Path, delimiter: str, line_end: str) -> None:
    path = tmp_path / "answers.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, delimiter=delimiter, lineterminator=line_end)
        writer.writerow(["Candidate number", *PARTS])
        writer.writerow(["14", "a, b; c\td", 'say "no"', "x\r\ny\rz\n"])
    found = read_responses(path, PARTS)
    assert [found.of("14", p) for p in PARTS] == [("a, b; c\td",), ('say "no"',), ("x", "y", "z")]


def test_a_first_line_that_names_the_delimiter(tmp_path: Path) -> None:
    found = read_responses(write(tmp_path, "sep=;\ncandidate;1a;1b;2\ns01;a,b,c,d,e,f;;\n"), PARTS)
    assert found.of("s01", "1a") == ("a,b,c,d,e,f",)


HEADINGS = (
    ("candidate,1a,1b,2", "s01"),
    ("Candidate No.,1A,1 b,2", "s01"),
    ("Student ID,1(a),1(b),2", "s01"),
    ("Pupil,Q1a,Q1b,Q2", "s01"),
    ("ID,Question 1a,Question 1 (b),Question 2", "s01"),
    ('learner,1a. Find the current,"1b) Find the force, in N",2: Which way?', "s01"),
)


@pytest.mark.parametrize(("heading", "candidate"), HEADINGS, ids=[h for h, _ in HEADINGS])
def test_headings_that_are_recognised(tmp_path: Path, heading: str, candidate: str) -> None:
    found = read_responses(write(tmp_path, f"{heading}\ns01,A,B,C\n"), PARTS)
    assert found.candidates == (candidate,)
    assert [found.of("s01", p) for p in PARTS] == [("A",), ("B",), ("C",)]


def test_order_of_columns_does_not_matter_and_other_columns_are_named(tmp_path: Path) -> None:
    text = "Timestamp,2,E-mail,Candidate,Class,1b,1a\n09:00,C,x@example.org,s01,7P,B,A\n"
    found = read_responses(write(tmp_path, text), PARTS)
    assert [found.of("s01", p) for p in PARTS] == [("A",), ("B",), ("C",)]
    assert found.groups == {"s01": "7P"}
    assert len(found.notes) == 1 and '"Timestamp", "E-mail"' in found.notes[0]


def test_names_like_1_1_and_11_stay_apart(tmp_path: Path) -> None:
    found = read_responses(write(tmp_path, "candidate,1.1,11\ns01,A,B\n"), ("1.1", "11"))
    assert (found.of("s01", "1.1"), found.of("s01", "11")) == (("A",), ("B",))


def test_file_name_and_hash(tmp_path: Path) -> None:
    found = read_responses(write(tmp_path, TEXT), PARTS)
    assert (found.file, found.sha256) == ("answers.csv", hashlib.sha256(TEXT.encode()).hexdigest())


def test_rows_set_aside_leave_the_class_marked(tmp_path: Path) -> None:
    text = f"candidate,1a,1b,2\ns01,A,B,C\n,A,,\n\n,,,\ns02,3,5 m,unquoted,x\n{'n' * 200},A,B,C\ns03,A\n"
    found = read_responses(write(tmp_path, text), PARTS)
    assert found.candidates == ("s01", "s03")
    assert [p.where for p in found.problems] == [
        'answers.csv, row 3, column "candidate"',
        "answers.csv, row 6",
        'answers.csv, row 7, column "candidate"',
    ]
    assert all(p.mend for p in found.problems)


def test_a_response_of_100_000_characters_is_kept_and_referred(tmp_path: Path) -> None:
    found = read_responses(write(tmp_path, f"candidate,1a,1b,2\ns01,{'x' * 100_000},B,C\ns02,A,B,C\n"), PARTS)
    assert sum(map(len, found.of("s01", "1a"))) == 100_000
    assert list(found.doubts) == [("s01", "1a")]
    assert found.of("s02", "1a") == ("A",)
    assert "100,000 characters" in found.problems[0].sentence() and f"{LONGEST_RESPONSE:,}" in found.problems[0].sentence()


def test_a_field_of_a_million_characters_is_no_error(tmp_path: Path) -> None:
    before = csv.field_size_limit()
    found = read_responses(write(tmp_path, f"candidate,1a,1b,2\ns01,{'x' * 1_000_000},B,C\n"), PARTS)
    assert ("s01", "1a") in found.doubts
    assert csv.field_size_limit() == before


def test_control_characters_and_blank_lines_go(tmp_path: Path) -> None:
    found = read_responses(write(tmp_path, 'candidate,1a,1b,2\ns01,"V\x00 = \x1bIR\n\n \nR = 5\u2028so","\t",\n'), PARTS)
    assert found.of("s01", "1a") == ("V = IR", "R = 5", "so")
    assert found.of("s01", "1b") == ()


def test_a_part_without_a_column_is_a_problem_and_not_a_refusal(tmp_path: Path) -> None:
    found = read_responses(write(tmp_path, "candidate,1a,2\ns01,A,C\n"), PARTS)
    assert found.of("s01", "1b") == ()
    assert [p.seen for p in found.problems] == ['nothing for part "1b"']


@dataclass(frozen=True)
class Refusal:
    name: str
    content: bytes
    says: tuple[str, ...]
    file: str = "answers.csv"

    def __str__(self) -> str:
        return self.name


def refusal(name: str, content: str | bytes, *says: str, file: str = "answers.csv") -> Refusal:
    return Refusal(name, content if isinstance(content, bytes) else content.encode(), says, file)


REFUSALS = (
    refusal("empty file", "", "answers.csv: nothing in it", "candidate"),
    refusal("blank file", " \n\n", "answers.csv: nothing in it"),
    refusal("only commas", ",,,\n,,,\n", "answers.csv: nothing in it"),
    refusal("an empty cell", '""\n', "answers.csv: nothing in it"),
    refusal("headings only", "candidate,1a,1b,2\n", "headings and no candidate", "one row for each candidate"),
    refusal(
        "no candidate column", "when,1a,1b,2\n9,A,B,C\n", "row 1", "no column is the candidate", '"when"', "Head the column of candidate"
    ),
    refusal("unknown part", "candidate,1a,1b,3\ns01,A,B,C\n", 'row 1, column "3"', '"3" is not a part', "one of 1a, 1b, 2"),
    refusal("unknown part of a part", "candidate,1a,1b,2,7(a)(ii)\ns01,A,B,C,D\n", '"7(a)(ii)" is not a part', "one of 1a, 1b, 2"),
    refusal("unknown part with its stem", "candidate,1a,1b,2,7q: the current\ns01,A,B,C,D\n", '"7q: the current" is not a part'),
    refusal("part nearly spelt", "candidate,1a,1bb,2\ns01,A,B,C\n", '"1bb" is not a part', 'Write "1b"'),
    refusal("no part at all", "candidate,weight,height\ns01,A,B\n", "no column is a part", "1a, 1b, 2"),
    refusal("two columns for a part", "candidate,1a,1b,1a\ns01,A,B,C\n", 'column "1a"', 'a second column for part "1a"', "rename"),
    refusal(
        "duplicate candidate", "candidate,1a,1b,2\ns01,A,B,C\ns02,A,B,C\nS01,A,B,C\n", "row 4", '"S01" is already in row 2', "Keep the row"
    ),
    refusal("open quote", 'candidate,1a,1b,2\ns01,A,B,C\ns02,"A,B,C\n', "row 3 (line 3 of the file)", "double quotes that do not pair"),
    refusal("bytes of no encoding", b"candidate,1a,1b,2\ns01,A,\x81\x8d,C\n", "line 2", "0x81 is not UTF-8", "CSV UTF-8"),
    refusal("half of UTF-16", "candidate,1a,1b,2\ns01,A,B,C\n".encode("utf-16")[:-1], "not UTF-16", "CSV UTF-8"),
    refusal("picture", b"\x89PNG\r\n\x1a\n\x00\x00\x00", "is not UTF-8 text"),
    refusal("other ending", "x", '".pdf"', ".csv", ".xlsx", ".jsonl", file="answers.pdf"),
    refusal("no ending", "x", "without an ending", file="answers"),
)


@pytest.mark.parametrize("row", REFUSALS, ids=str)
def test_refusals_name_the_place_and_the_mend(tmp_path: Path, row: Refusal) -> None:
    path = write(tmp_path, row.content, row.file)
    with pytest.raises(ResponsesError) as caught:
        read_responses(path, PARTS)
    text = str(caught.value)
    assert [s for s in (*row.says, row.file) if s not in text] == []
    assert all(p.mend for p in caught.value.problems)


def test_missing_file_offers_the_nearest(tmp_path: Path) -> None:
    write(tmp_path, TEXT, "answers.csv")
    with pytest.raises(ResponsesError, match=r'no such file\. Did you mean "answers\.csv"\?'):
        read_responses(tmp_path / "answer.csv", PARTS)
    with pytest.raises(ResponsesError, match="no such file"):
        read_responses(tmp_path / "no folder" / "answers.csv", PARTS)
    with pytest.raises(ResponsesError, match="a folder"):
        read_responses(tmp_path, PARTS)


def test_every_fault_of_the_headings_is_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(ResponsesError) as caught:
        read_responses(write(tmp_path, "when,1a,1a,4\n1,2,3,4\n"), PARTS)
    assert len(caught.value.problems) == 3
