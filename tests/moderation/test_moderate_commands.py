"""The commands from end to end: sample, second marks, compare, decide, verify; refusals with exit status 2."""

import subprocess
import sys
from pathlib import Path

import openpyxl
import pytest
from typer.testing import CliRunner, Result

pytest.importorskip("scipy", reason="the moderation extra is not installed")

from marker.moderation.blind import TOP
from marker.moderation.codes import codes
from marker.moderation.commands import app
from marker.moderation.model import MarkSet


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(w) for w in words])


def _fill(path: Path, first: MarkSet, draw: int, less: float) -> Path:
    who = codes(draw, first.candidates)
    book = openpyxl.load_workbook(path)
    for sheet in book.worksheets:
        if sheet.title.startswith("Part "):
            part = sheet.title.removeprefix("Part ")
            for row in range(TOP + 1, sheet.max_row + 1):
                points = first.by_response[who[sheet.cell(row, 1).value], part][0].points
                for j, point in enumerate(points):
                    sheet.cell(row, 3 + j).value = max(0, point.mark - less)
    done = path.with_name(f"{path.stem}-done.xlsx")
    book.save(done)
    return done


def test_from_sample_to_verified_record(files: tuple[Path, Path], first: MarkSet, tmp_path: Path) -> None:
    log, out = tmp_path / "record.jsonl", tmp_path / "sample.xlsx"
    logged = ("--log", log, "--who", "H. Dale")
    drawn = run("sample", files[0], "-o", out, "--draw", 12, "--to", "Adair=13A", "--to", "Brook", "--with", "c05", *logged)
    assert drawn.exit_code == 0, drawn.output
    assert "18 of 46 candidates, 144 responses. Draw 12." in drawn.output
    books = [tmp_path / "sample-adair.xlsx", tmp_path / "sample-brook.xlsx"]
    key = [r[1:] for r in openpyxl.load_workbook(tmp_path / "sample-key.xlsx")["Key"].iter_rows(min_row=5, values_only=True)]
    assert not [r for r in key if r[1] == "13A" and "Adair" in r[5]] and "c05" in [r[0] for r in key]

    done = [_fill(b, first, 12, 0) for b in books]
    report, html = tmp_path / "report.xlsx", tmp_path / "report.html"
    compared = run("compare", files[0], *done, "-o", report, "--page", html, *logged)
    assert compared.exit_code == 0, compared.output
    assert "All first marks: stands. 100 % of totals are within 1.1 marks" in compared.output
    assert report.exists() and html.read_text(encoding="utf-8").startswith("<!doctype html>")

    decided = run("decide", log, "--who", "H. Dale", "--decision", "The marks stand.", "--file", report)
    verified = run("verify", log)
    assert decided.exit_code == verified.exit_code == 0
    assert "record.jsonl is whole: 3 entries, the last by H. Dale" in verified.output
    log.write_text(log.read_text(encoding="utf-8").replace("stand", "fall"), encoding="utf-8")
    assert run("verify", log).exit_code == 2


def test_the_same_draw_gives_the_same_workbook(files: tuple[Path, Path], tmp_path: Path) -> None:
    found = []
    for name in ("a.xlsx", "b.xlsx"):
        assert run("sample", files[0], "-o", tmp_path / name, "--draw", 3).exit_code == 0
        book = openpyxl.load_workbook(tmp_path / name)
        found.append([[c.value for row in sheet.iter_rows() for c in row] for sheet in book])
    assert found[0] == found[1]


def test_severe_marks_are_adjusted_and_wait_for_a_person(files: tuple[Path, Path], first: MarkSet, tmp_path: Path) -> None:
    path = tmp_path / "dale.csv"
    rows = [f"{m.candidate},{m.part},Dale,{m.mark - (m.part in ('2b', '5') and m.mark > 0):g}" for m in first.marks]
    path.write_text("candidate,part,marker,mark\n" + "\n".join(rows), encoding="utf-8")
    found = run("compare", files[0], path, "--strict")
    assert found.exit_code == 1 and "adjustment" in found.output


def test_items(files: tuple[Path, Path], tmp_path: Path) -> None:
    found = run("items", files[0], "-o", tmp_path / "items.xlsx", "--boundary", "A=17")
    assert found.exit_code == 0 and "46 candidates" in found.output and (tmp_path / "items.xlsx").exists()


def test_standardise_and_drift(tmp_path: Path) -> None:
    agreed, given = tmp_path / "agreed.csv", tmp_path / "cole.csv"
    agreed.write_text("candidate,part,mark,max\n" + "\n".join(f"p{i},1,2,3" for i in range(12)), encoding="utf-8")
    given.write_text(
        "candidate,part,marker,mark,order\n" + "\n".join(f"p{i},1,Cole,{2 + (i > 8)},{i}" for i in range(12)), encoding="utf-8"
    )
    qualified = run("standardise", agreed, given, "--strict")
    assert qualified.exit_code == 1 and "Cole: not qualified" in qualified.output and "found 75 %" in qualified.output
    drifted = run("standardise", agreed, given, "--drift")
    assert drifted.exit_code == 0 and "Cole: drift at control response 12" in drifted.output


def test_rules_are_listed_with_their_sources() -> None:
    found = run("rules")
    assert found.exit_code == 0 and "size bands with extremes" in found.output and "NAEP" in found.output


REFUSED = (
    ("no file", ("compare", "nowhere.xlsx", "second.xlsx"), "nowhere.xlsx: no such file"),
    ("unknown rule", ("compare", "{marks}", "--rule", "departmint"), 'Use "department"?'),
    ("nothing second", ("compare", "{marks}"), "no response was marked twice"),
    ("log without a person", ("sample", "{marks}", "-o", "{out}", "--log", "{out}"), "Add --who."),
    ("a step of thirds", ("sample", "{marks}", "-o", "{out}", "--step", "0.3"), "0.3 is not a step of marks"),
    ("a marker twice", ("sample", "{marks}", "-o", "{out}", "--to", "A=1", "--to", "a=2"), '"A" is named twice'),
    ("no folder", ("sample", "{marks}", "-o", "{out}/none/x.xlsx"), "its folder does not exist"),
    ("a boundary of nothing", ("items", "{marks}", "--boundary", "A"), '"A" is not a grade and its least mark'),
    ("a boundary too high", ("items", "{marks}", "--boundary", "A=99"), "from 0 to 22"),
)


@pytest.mark.parametrize(("name", "words", "says"), REFUSED, ids=[r[0] for r in REFUSED])
def test_refusals(name: str, words: tuple[str, ...], says: str, files: tuple[Path, Path], tmp_path: Path) -> None:
    found = run(*(w.format(marks=files[0], out=tmp_path / "out") for w in words))
    assert found.exit_code == 2, found.output
    assert says in " ".join(found.output.split())


def test_an_older_report_stays_when_the_marks_are_refused(files: tuple[Path, Path], tmp_path: Path) -> None:
    report, bad = tmp_path / "report.xlsx", tmp_path / "bad.csv"
    report.write_text("older", encoding="utf-8")
    bad.write_text("candidate,part,mark\nc01,1a,9\n", encoding="utf-8")
    found = run("compare", files[0], bad, "-o", report)
    assert found.exit_code == 2 and "bad.csv, row 2, column 3: 9 is not possible here" in found.output
    assert report.read_text(encoding="utf-8") == "older"


WITHOUT = "import sys; sys.modules.update(numpy=None, pandas=None, scipy=None); from marker.moderation.commands import app; app()"


def test_samples_and_records_do_without_the_statistics_libraries(files: tuple[Path, Path], tmp_path: Path) -> None:
    """In a process where numpy, pandas and scipy cannot be imported."""

    def bare(*words: object) -> subprocess.CompletedProcess[str]:
        command = [sys.executable, "-c", WITHOUT, *(str(w) for w in words)]
        return subprocess.run(command, capture_output=True, text=True, check=False, cwd=Path(__file__).parents[2])

    drawn = bare("sample", files[0], "-o", tmp_path / "sample.xlsx", "--draw", 3, "--log", tmp_path / "log.jsonl", "--who", "H. Dale")
    assert drawn.returncode == 0, drawn.stderr
    assert "17 of 46 candidates" in drawn.stdout
    assert "log.jsonl is whole" in bare("verify", tmp_path / "log.jsonl").stdout


def test_without_the_extra_the_message_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch, files: tuple[Path, Path]) -> None:
    from marker.moderation import extra

    monkeypatch.setattr(extra, "find_spec", lambda name: None if name == "pandas" else object())
    found = run("items", files[0])
    assert found.exit_code == 2 and "pip install 'marker[moderation]'" in found.output and "need pandas" in found.output


def test_workbooks_of_several_markers_have_different_names() -> None:
    from marker.moderation.names import files_for

    found = files_for(Path("sample.xlsx"), ["A. Dale", "a dale", "Ö"])
    assert [p.name for p in found.values()] == ["sample-a-dale.xlsx", "sample-a-dale-2.xlsx", "sample-ö.xlsx"]
    assert files_for(Path("sample.xlsx"), ["A. Dale"]) == {"A. Dale": Path("sample.xlsx")}


def test_public_names_are_there() -> None:
    import marker.moderation

    assert [n for n in marker.moderation.__all__ if not callable(getattr(marker.moderation, n))] == []
    assert not hasattr(marker.moderation, "draw")
