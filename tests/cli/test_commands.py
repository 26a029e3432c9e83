"""The commands end to end on small class tests: what they write, print and return."""

from __future__ import annotations

import csv
import json
import textwrap
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

import marker as package
from marker.reporting.records import read_records, write_records
from tests.cli.conftest import Marker
from tests.cli.running import DEMO, RESPONSES, values

# Design of the records file, section 9: the keys other programs read.
RECORD = {"candidate", "part", "mark", "max", "referred", "points", "faults", "lines"}
POINT = {"point", "mark", "max", "reason", "lines", "followed_through"}
FAULT = {"kind", "line"}
LINE = {"text", "readings", "verdict"}


def marks(path: Path) -> dict[tuple[str, str], float]:
    return {(r["candidate"], r["part"]): r["mark"] for r in map(json.loads, path.read_text(encoding="utf-8").splitlines())}


def test_a_class_test_is_marked(desk: Path, marker: Marker) -> None:
    ran = marker("mark", "scheme.toml", "responses.csv", "-o", "marks.xlsx", "--records", "marks.jsonl")
    assert ran.status == 0 and ran.err == ""
    assert ran.out.startswith("Pier lights: 4 responses of 2 candidates marked, 0 referred to you.\n")
    # Ohm's law and P = IV by hand: 12/0.75 = 16 Ω, 0.75 × 12 = 9.0 W; 16 without its unit loses the answer mark (positive three-mark).
    assert marks(desk / "marks.jsonl") == {("c1", "1"): 3, ("c1", "2"): 3, ("c2", "1"): 2, ("c2", "2"): 0}
    shown = [sheet.title for sheet in load_workbook(desk / "marks.xlsx") if sheet.sheet_state == "visible"]
    assert shown == ["Marks", "Working", "Refer", "Items", "Record"]


def test_one_response_is_one_response(desk: Path, marker: Marker) -> None:
    (desk / "one.csv").write_text("candidate,1,2\nc1,R = 12/0.75 = 16 Ω,\n", encoding="utf-8")
    assert "2 responses of 1 candidate marked" in marker("mark", "scheme.toml", "one.csv").out


def test_records_have_the_stable_shape_and_read_back(desk: Path, marker: Marker) -> None:
    marker("mark", DEMO / "scheme.toml", DEMO / "responses.csv", "--records", "marks.jsonl")
    records = [json.loads(line) for line in (desk / "marks.jsonl").read_text(encoding="utf-8").splitlines()]
    assert len(records) == 24 * 12
    for record in records:
        assert record.keys() >= RECORD
        assert all(p.keys() >= POINT for p in record["points"])
        assert all(f.keys() >= FAULT for f in record["faults"])
        assert all(x.keys() >= LINE for x in record["lines"])
    assert any(p["fault"] for r in records for p in r["points"]) and any(r["faults"] for r in records)
    write_records(desk / "again.jsonl", read_records(desk / "marks.jsonl"))
    assert (desk / "again.jsonl").read_bytes() == (desk / "marks.jsonl").read_bytes()


def test_other_forms_of_responses_and_more_processes_give_the_same_marks(desk: Path, marker: Marker) -> None:
    rows = list(csv.reader(RESPONSES.splitlines(keepends=True)))
    rows += [[f"c{n}", *rows[1 + n % 2][1:]] for n in range(3, 7)]
    with (desk / "responses.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)
    book = Workbook()
    for row in rows:
        book.active.append(row)
    book.save(desk / "responses.xlsx")
    objects = [{"candidate": r[0], "part": rows[0][i], "lines": r[i].split("\n")} for r in rows[1:] for i in (1, 2)]
    (desk / "responses.jsonl").write_text("\n".join(json.dumps(o) for o in objects), encoding="utf-8")
    found = {}
    for name in ("responses.csv", "responses.xlsx", "responses.jsonl"):
        assert marker("mark", "scheme.toml", name, "-o", f"{name}.marks.xlsx", "--records", "marks.jsonl").status == 0
        found[name] = marks(desk / "marks.jsonl")
    assert len(found["responses.csv"]) == 12
    assert found["responses.xlsx"] == found["responses.jsonl"] == found["responses.csv"]
    assert marker("mark", "scheme.toml", "responses.csv", "-o", "two.xlsx", "--jobs", "2").status == 0
    assert values(desk / "two.xlsx") == values(desk / "responses.csv.marks.xlsx")


def test_exit_status_one_asks_for_a_person_only_when_strict(desk: Path, marker: Marker) -> None:
    assert marker("mark", "scheme.toml", "responses.csv", "--strict").status == 0
    (desk / "responses.csv").write_text(RESPONSES + f"c3,{'y' * 100_000},9 W\n", encoding="utf-8")
    assert marker("mark", "scheme.toml", "responses.csv").status == 0
    assert marker("mark", "scheme.toml", "responses.csv", "--strict").status == 1


def test_keep_carries_the_teachers_marks(desk: Path, marker: Marker) -> None:
    (desk / "responses.csv").write_text(RESPONSES + f"c3,{'y' * 100_000},9 W\n", encoding="utf-8")
    marker("mark", "scheme.toml", "responses.csv", "-o", "marks.xlsx")
    book = load_workbook(desk / "marks.xlsx")
    refer = book["Refer"]
    heads = {str(c.value): c for row in refer.iter_rows() for c in row if c.value in ("Candidate", "Your mark")}
    names = range(heads["Candidate"].row + 1, refer.max_row + 1)
    row = next(r for r in names if refer.cell(r, heads["Candidate"].column).value == "c3")
    cell = refer.cell(row, heads["Your mark"].column)
    cell.value = 2
    book.save(desk / "marks.xlsx")
    assert marker("mark", "scheme.toml", "responses.csv", "-o", "again.xlsx", "--keep", "marks.xlsx").status == 0
    assert load_workbook(desk / "again.xlsx")["Refer"][cell.coordinate].value == 2


def test_read_shows_readings_and_equalities(desk: Path, marker: Marker) -> None:
    ran = marker("read", "V = IR = 3.2*4 = 13 V", "--with", "I=3.2 A", "--json")
    (line,) = json.loads(ran.out)
    holds = {(e["left"], e["right"]): e["holds"] for e in line["statements"][0]["readings"][0]["equalities"]}
    assert ran.status == 0 and holds["3.2 × 4", "13 V"] is True
    assert "read as" in marker("read", "F=BILsinθ").out
    assert "v²" in marker("read", "--notation").out


def test_feedback_pages(desk: Path, marker: Marker) -> None:
    marker("mark", "scheme.toml", "responses.csv", "--records", "marks.jsonl")
    ran = marker("feedback", "scheme.toml", "marks.jsonl", "-o", "pages")
    assert ran.status == 0 and ran.out.startswith("2 feedback pages")
    assert len(list((desk / "pages").glob("*.html"))) == 3


def test_scheme_commands(desk: Path, marker: Marker) -> None:
    checked = marker("scheme", "check", "scheme.toml")
    assert checked.status == 0 and "The scheme passes." in checked.out
    assert marker("scheme", "show", "scheme.toml", "-o", "instructions.html").status == 0
    assert "Pier lights" in (desk / "instructions.html").read_text(encoding="utf-8")
    assert json.loads(marker("scheme", "schema").out)["type"] == "object"
    listed = marker("scheme", "rulings", "compensatory")
    assert listed.status == 0 and "unit_fault" in listed.out and "source" in listed.out


def test_a_sample_for_second_marking(desk: Path, marker: Marker) -> None:
    pytest.importorskip("pandas", reason="needs the extra moderation")
    marker("mark", DEMO / "scheme.toml", DEMO / "responses.csv", "-o", "marks.xlsx")
    drawn = marker("moderate", "sample", "marks.xlsx", "-o", "sample.xlsx")
    assert drawn.status == 0 and (desk / "sample.xlsx").is_file()
    unmarked = marker("moderate", "compare", "marks.xlsx", "sample.xlsx", "-o", "report.xlsx")
    assert unmarked.status == 2 and "no mark" in unmarked.err and not (desk / "report.xlsx").exists()


def test_the_example_of_the_package_runs(desk: Path) -> None:
    """The docstring's own lines, on a scheme whose part 2b is the one they speak of: 1800 W / 230 V = 7.83 A."""
    (desk / "scheme.toml").write_text(
        '[paper]\ntitle = "Winch"\n[[part]]\nname = "2b"\nmarks = 3\nstem = "Find the current."\n'
        'given = { P = "1.8 kW", V = "230 V" }\nfind = "I"\nunit = "A"\nusing = ["P = I*V"]\n',
        encoding="utf-8",
    )
    lines = (package.__doc__ or "").split("\n\n", 1)[1]
    *statements, last = textwrap.dedent(lines).strip().splitlines()
    names: dict[str, object] = {}
    exec("\n".join(statements), names)
    mark, reasons = eval(last, names)
    assert mark == 3 and len(reasons) == 3 and all(r.endswith(".") for r in reasons)


def test_every_public_name_is_there() -> None:
    assert all(hasattr(package, name) for name in package.__all__)
    assert {"load_scheme", "mark_response", "mark_class", "as_record"} <= set(package.__all__)
