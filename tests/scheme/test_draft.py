"""Drafting: values of a question, numbers laid beside letters, sheet relationships, questions in text and Word, whole drafts.

Questions are invented. Relationships: the sheets themselves. Corpus: OpenStax, College Physics 2e (CC BY 4.0), skipped when absent.
"""

from __future__ import annotations

import tomllib
import zipfile
from pathlib import Path

import pytest

from marker.errors import SchemeError
from marker.marking import mark_candidate
from marker.reading import read_expression, write_plain
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.checking import check_paper
from marker.scheme.draft import Question, draft_file, draft_questions, draft_text, sheets_used
from marker.scheme.draft.align import align
from marker.scheme.draft.document import questions_of, title_of
from marker.scheme.draft.stem import values_given
from marker.scheme.draft.working import working_of
from marker.scheme.paper import build_paper

from . import draft_report

# --- values of a question --------------------------------------------------------------------------

STEMS = (
    ("A 60.0-kg skier on a slope of 25°.", ["60.0 kg", "25°"]),
    ("It moves at 0.75 m/s in the river for 6.5 minutes.", ["0.75 m/s", "6.5 minutes"]),
    ("The force is 2.7 × 10^5 N over 3 in a row.", ["2.7 × 10^5 N", "3"]),
    ("A wire of 24 cm carries 7.5 A; the mass is 1,350 kg.", ["24 cm", "7.5 A", "1350 kg"]),
    ("From -15°C to 40°C at 4180 J/(kg K).", ["-15 °C", "40 °C", "4180 J/(kg K)"]),
    ("3.00e8 m/s, 50 %, 12 V and 64 mA.", ["3.00e8 m/s", "50 %", "12 V", "64 mA"]),
)


@pytest.mark.parametrize(("stem", "values"), STEMS)
def test_values_in_a_question(stem: str, values: list[str]) -> None:
    assert [v.text for v in values_given(stem)] == values


# --- letters and numbers side by side ----------------------------------------------------------------

SIDE_BY_SIDE = (
    ("m*a", "(2.0 kg)(3.0 m/s^2)", {"m": "2.0 kg", "a": "3.0 m s⁻²"}),
    ("(1/2)*m*v^2", "0.5(60.0 kg)(2.00 m/s)^2", {"m": "60.0 kg", "v": "2.00 m s⁻¹"}),
    ("u + a*t", "70.0 m/s + (-1.50 m/s^2)(40.0 s)", {"u": "70.0 m s⁻¹", "a": "−1.50 m s⁻²", "t": "40.0 s"}),
    ("sqrt(2*g*h)", "sqrt(2(9.80 m/s^2)(5.0 m))", {"g": "9.80 m s⁻²", "h": "5.0 m"}),
    ("B*I*L*sin(θ)", "0.36 × 7.5 × 0.24 × sin(52°)", {"B": "0.36", "I": "7.5", "L": "0.24", "θ": "52°"}),
    (
        "k*q_1*q_2/r^2",
        "(9.0 × 10^9)(2.0 × 10^(-6))(3.0 × 10^(-6))/(0.30)^2",
        {"k": "9.0 × 10⁹", "q_1": "2.0 × 10⁻⁶", "q_2": "3.0 × 10⁻⁶", "r": "0.30"},
    ),
    ("V/t", "(5.00 L)/(1 min)", {"V": "5.00 L", "t": "1 min"}),
    ("m*a", "(2.0 kg)/(3.0 s)", {}),
)


@pytest.mark.parametrize(("letters", "numbers", "found"), SIDE_BY_SIDE)
def test_numbers_are_laid_beside_letters(letters: str, numbers: str, found: dict[str, str]) -> None:
    table = SymbolTable(
        tuple(
            SymbolEntry(name=n, angle=n == "θ")
            for n in ("m", "a", "v", "u", "t", "g", "h", "B", "I", "L", "θ", "k", "q_1", "q_2", "r", "V")
        )
    )
    laid = align(read_expression(letters, table), read_expression(numbers))
    assert {n: write_plain(v) for n, v in laid.items()} == found


def test_a_working_taken_apart() -> None:
    found = working_of(("E_p = mgh", "E_p = (645 kg)(9.81 N/kg)(12 m)", "= 7.6 × 10^4 J", "P = E_p/t = 7.6e4/40", "P = 1.9 kW"))
    assert [f"{write_plain(e.left)} = {write_plain(e.right)}" for e in found.equations] == ["Eₚ = mgh", "P = Eₚ/t"]
    stated = {a.letter: a.si for a in found.assigned if not a.put_in}
    assert stated == {"E_p": pytest.approx(7.6e4), "P": pytest.approx(1900.0)}


# An equation in a book's own letters, and the sheet relationship it is.
SHEETS = (
    (("F_net = ma", "F_net = (24 kg)(2.1 m/s^2)", "F_net = 51 N"), "Newton's second law"),
    (("KE = (1/2)mv^2", "KE = 0.5(24 kg)(2.0 m/s)^2 = 48 J"), "kinetic energy"),
    (("T = 2π√(L/g)", "T = 2π√((1.0 m)/(9.81 m/s^2))", "T = 2.0 s"), "period of a simple pendulum"),
)


@pytest.mark.parametrize(("lines", "name"), SHEETS)
def test_relationships_are_found_on_the_sheets(lines: tuple[str, ...], name: str) -> None:
    found = sheets_used(Question(name="1", stem="", lines=lines))
    assert any(name.casefold().split()[0] in f.casefold() for f in found), found


# --- questions in pasted text -------------------------------------------------------------------------

PASTED = """Harbour crane class test

1. A crane lifts a container of mass 2400 kg through 12 m in 40 s.
(a) Calculate the work done against gravity. [3]
E = mgh
E = 2400 × 9.81 × 12
E = 2.83 × 10^5 J
(b) Find the power of the crane. [3]
P = E/t
P = 282528/40
P = 7.06 kW

2. A cable of diameter 24 mm carries a load of 35 kN.
Find the stress in the cable. (4 marks)

Model answer:
A = πd^2/4
A = π × 0.024^2/4 = 4.52e-4 m^2
σ = F/A = 35000/4.52e-4
σ = 7.74 × 10^7 Pa
"""


def test_questions_in_pasted_text() -> None:
    lines = PASTED.splitlines()
    found = questions_of(lines)
    assert title_of(lines) == "Harbour crane class test"
    assert [(q.name, q.marks, len(q.lines)) for q in found] == [("1a", 3, 3), ("1b", 3, 3), ("2", 4, 4)]
    assert found[1].stem.startswith("A crane lifts") and found[1].stem.endswith("Find the power of the crane.")


def test_answers_after_all_the_questions() -> None:
    questions = "1 (a) Find the current in 12 V across 4.0 Ω.\n(b) Find the power.\n"
    text = questions + "Solutions\n1(a) I = V/R\nI = 12/4.0 = 3.0 A\n(b) P = VI\nP = 36 W"
    found = questions_of(text.splitlines())
    assert [(q.name, q.lines) for q in found] == [("1a", ("I = V/R", "I = 12/4.0 = 3.0 A")), ("1b", ("P = VI", "P = 36 W"))]


def test_a_pasted_test_becomes_a_scheme_that_passes(tmp_path: Path) -> None:
    source = tmp_path / "crane.txt"
    source.write_text(PASTED, encoding="utf-8")
    draft = draft_file(source)
    text = draft_text(draft)
    table = tomllib.loads(text)
    assert table == draft.table and table["paper"]["title"] == "Harbour crane class test"
    first, second, third = table["part"]
    assert first["given"] == {"h": "12 m", "m": "2400 kg"} and table["paper"]["data"] == {"g": "9.81 N/kg"}
    assert second["carry"] == {"E": "1a"} and second["given"] == {"t": "40 s"}
    assert third["given"] == {"F": "35 kN", "d": "24 mm"} and third["marks"] == 4
    assert "# E = m*g*h: gravitational potential energy" in text
    paper = build_paper(table)
    assert check_paper(paper).passes
    results = mark_candidate(paper, {q.name: q.lines for q in questions_of(PASTED.splitlines())})
    assert [r.mark for r in results] == [3, 3, 4]


def test_what_is_unsure_is_remarked_on() -> None:
    lines = ("F = μR", "F = 0.40 × 18.2 N", "F = 7.46 N")
    text = draft_text(draft_questions([Question(name="4", stem="A sledge is pulled over snow.", lines=lines)], "Sledge"))
    assert "stands in the model answer, not in the question" in text
    assert "they differ by more than rounding" in text
    text = draft_text(
        draft_questions([Question(name="4", stem="A sledge is pulled over snow.", lines=(*lines[:2], "F = 9.3 N"))], "Sledge")
    )
    assert "# Not used of the model answer: F = 9.3 N" in text


def test_marks_that_are_stated_get_points_of_their_own() -> None:
    stem = "A 12 V lamp takes 3.0 A for 40 s. Find the energy."
    lines = ("P = V*I", "P = 12 × 3.0 = 36 W", "E = P*t", "E = 36 × 40 = 1440 J")
    draft = draft_questions([Question(name="5", stem=stem, lines=lines, marks=6)], "Lamp")
    part = draft.parts[0].spec
    assert part["marks"] == 6 and sum(p.get("marks", 1) for p in part["points"]) == 6
    assert "look whether these are the points meant" in draft_text(draft)


def test_what_cannot_be_drafted_is_said() -> None:
    draft = draft_questions([Question(name="6", stem="Why does ice float?", lines=("it is less dense than water",))], "Ice")
    assert not draft.parts and draft.not_drafted[0][0] == "6"
    assert "# Not drafted: 6" in draft_text(draft)


def test_a_file_without_questions(tmp_path: Path) -> None:
    empty = tmp_path / "notes.txt"
    empty.write_text("Nothing here but prose.\n", encoding="utf-8")
    with pytest.raises(SchemeError, match="no question with a model answer"):
        draft_file(empty)
    with pytest.raises(SchemeError, match="there is no such file"):
        draft_file(tmp_path / "none.docx")
    (tmp_path / "broken.docx").write_bytes(b"PK\x03\x04 not a document")
    with pytest.raises(SchemeError, match="cannot be opened as a Word file"):
        draft_file(tmp_path / "broken.docx")


# --- Word --------------------------------------------------------------------------------------------

_NS = 'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" xmlns:m="http://schemas.openxmlformats.org/officeDocument/2006/math"'


def _text(words: str) -> str:
    return f"<w:p><w:r><w:t>{words}</w:t></w:r></w:p>"


def _math(inner: str) -> str:
    return f"<w:p><m:oMath>{inner}</m:oMath></w:p>"


def _run(text: str) -> str:
    return f"<m:r><m:t>{text}</m:t></m:r>"


def _fraction(over: str, under: str) -> str:
    return f"<m:f><m:num>{over}</m:num><m:den>{under}</m:den></m:f>"


def _raised(base: str, power: str) -> str:
    return f"<m:sSup><m:e>{_run(base)}</m:e><m:sup>{_run(power)}</m:sup></m:sSup>"


def write_word(path: Path, paragraphs: str) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("word/document.xml", f'<?xml version="1.0"?><w:document {_NS}><w:body>{paragraphs}</w:body></w:document>')


def test_a_word_file_with_equations(tmp_path: Path) -> None:
    """Fractions, powers and roots of the document's own equations (Office Open XML, ECMA-376, part 1, section 22.1)."""
    from marker.scheme.draft.word import word_lines

    root = f"<m:rad><m:radPr/><m:deg/><m:e>{_fraction(_run('2E'), _run('m'))}</m:e></m:rad>"
    body = (
        _text("1. A truck of mass 645 kg has a kinetic energy of 18.5 kJ. Find its speed. [3]")
        + _math(_run("E=") + _fraction(_run("1"), _run("2")) + _run("m") + _raised("v", "2"))
        + _math(_run("v=") + root)
        + _math(_run("v=") + f"<m:rad><m:deg/><m:e>{_fraction(_run('2×18500'), _run('645'))}</m:e></m:rad>")
        + _text("v = 7.57 m/s")
        + '<w:p><w:r><w:t>a 4.0 m</w:t></w:r><w:r><w:rPr><w:vertAlign w:val="superscript"/></w:rPr><w:t>2</w:t></w:r></w:p>'
    )
    path = tmp_path / "truck.docx"
    write_word(path, body)
    assert word_lines(path)[1:] == ["E=1/2mv^2", "v=sqrt(2E/m)", "v=sqrt((2×18500)/645)", "v = 7.57 m/s", "a 4.0 m^2"]
    draft = draft_file(path)
    assert draft.parts[0].spec["given"] == {"E": "18.5 kJ", "m": "645 kg"} and draft.parts[0].spec["find"] == "v"


def test_a_document_with_entities_of_its_own_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "bomb.docx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("word/document.xml", f'<!DOCTYPE x [<!ENTITY a "aaaa">]><w:document {_NS}><w:body/></w:document>')
    with pytest.raises(SchemeError, match="entities"):
        draft_file(path)


# --- the corpus ----------------------------------------------------------------------------------------


@pytest.mark.skipif(not draft_report.CORPUS.exists(), reason="the worked examples are not in this checkout")
def test_three_in_five_worked_examples_become_good_schemes() -> None:
    """Every seventh example; the whole set is reported by python -m tests.scheme.draft_report."""
    found = draft_report.outcomes(every=7)
    assert len(found) >= 25
    good = sum(o.cause == draft_report.GOOD for o in found)
    assert good / len(found) >= 0.6, [(o.example, o.cause) for o in found if o.cause != draft_report.GOOD]
