"""What one line does to another, labels, places in the typed text, bounds."""

import pytest

from marker.expression import Symbol, symbols, walk
from marker.reading import read_lines
from marker.reading.model import Line, SymbolTable
from tests.reading.tables import TABLES, entry, shown

EMPTY = SymbolTable()


def summary(lines: list[str], table: str = "") -> list[list[str]]:
    """Statements of each line; withdrawn ones in brackets."""
    found = []
    for line in read_lines(lines, TABLES[table]):
        found.append([f"[{shown(s.readings[0])}]" if s.withdrawn else shown(s.readings[0]) for s in line.statements])
    return found


# typed lines, statements of each line with withdrawn ones in square brackets
CROSSED_OUT = (
    (["R = 4.0 Ω", "scrap that", "R = 5.0 Ω"], [["[R = 4.0 Ω]"], [], ["R = 5.0 Ω"]]),
    (["R = 4.0 Ω", "ignore above", "R = 5.0 Ω"], [["[R = 4.0 Ω]"], [], ["R = 5.0 Ω"]]),
    (["R = I/V no wait that's upside down, scrap that", "R = V/I"], [["[R = I/V]"], ["R = V/I"]]),
    (["v = 28.7 m/s - no, square root not half, cancel that line", "v = 7.57 m/s"], [["[v = 28.7 m s⁻¹]"], ["v = 7.57 m s⁻¹"]]),
    (["P = 5562270/6.5 - forgot seconds, cross that out", "P = 14260 W"], [["[P = 5562270/6.5]"], ["P = 14260 W"]]),
    (["~~R = 4.0 Ω~~", "R = 5.0 Ω"], [["[R = 4.0 Ω]"], ["R = 5.0 Ω"]]),
    (["~~R = 4.0 Ω~~ R = 5.0 Ω"], [["[R = 4.0 Ω]", "R = 5.0 Ω"]]),
    (["a = 1", "b = 2", "ignore everything above", "c = 3"], [["[a = 1]"], ["[b = 2]"], [], ["c = 3"]]),
    (["F = 12 N, no wait, F = 15 N"], [["[F = 12 N]", "F = 15 N"]]),
    (["oops", "F = 15 N"], [[], ["F = 15 N"]]),
    (["no unit needed", "n = 1.5"], [[], ["n = 1.5"]]),
    (["there is no friction so F = 12 N"], [["F = 12 N"]]),
)


@pytest.mark.parametrize(("lines", "expected"), CROSSED_OUT, ids=[c[0][0] for c in CROSSED_OUT])
def test_crossings_out(lines: list[str], expected: list[list[str]]) -> None:
    assert summary(lines) == expected


def test_a_line_is_withdrawn_when_all_it_says_is() -> None:
    first, second, third = read_lines(["R = 4.0 Ω", "scrap that", "R = 5.0 Ω"], EMPTY)
    assert (first.withdrawn, second.withdrawn, third.withdrawn) == (True, False, False)


LABELS = (
    ("(i) v = 3 m/s", ["i"]),
    ("ii) F = 5 N", ["ii"]),
    ("b) 4.6 m/s", ["b"]),
    ("(a) F = 3 N (b) a = 2", ["a", "b"]),
    ("(i) v = 3 m/s; (ii) F = 5 N", ["i", "ii"]),
    ("first part: v = 3", ["i"]),
    ("part b: v = 3", ["b"]),
    ("Q2. v = 3", ["2"]),
    ("1. F = ma", ["1"]),
    ("v = 3", [""]),
    ("(v - u)/t = a", [""]),
    ("(a + b) c = 3", [""]),
)


@pytest.mark.parametrize(("typed", "labels"), LABELS, ids=[x[0] for x in LABELS])
def test_labels(typed: str, labels: list[str]) -> None:
    line = read_lines([typed], EMPTY)[0]
    assert [s.label for s in line.statements] == labels


def test_bare_roman_numerals_are_labels_only_beside_others() -> None:
    both = read_lines(["i v = 2πr/T", "ii F = 5 N"], EMPTY)
    assert [line.statements[0].label for line in both] == ["i", "ii"]
    alone = read_lines(["i v = 3"], EMPTY)[0]
    assert alone.statements[0].label == ""


MARKED = (
    ("Ans: 5.0 N", "final", [True]),
    ("final answer = 5.0 N", "final", [True]),
    ("F = 5.0 N final answer", "final", [True]),
    ("F = 5.0 N", "final", [False]),
    ("F = 5.0 N or 6.0 N", "alternative", [False, True]),
    ("or F = 0.40 N", "alternative", [True]),
    ("so the speed must be 3 m/s", "tentative", [True]),
    ("v = 3 m/s", "tentative", [False]),
)


@pytest.mark.parametrize(("typed", "mark", "expected"), MARKED, ids=[m[0] for m in MARKED])
def test_marks_of_a_statement(typed: str, mark: str, expected: list[bool]) -> None:
    line = read_lines([typed], EMPTY)[0]
    assert [getattr(s, mark) for s in line.statements] == expected


def test_a_line_that_begins_with_a_relation_opens() -> None:
    first, second, third = (line.statements[0].readings[0] for line in read_lines(["F = ma", "= 2 × 3", "≈ 6 N"], EMPTY))
    assert (first.opens, second.opens, third.opens) == (False, True, True)
    assert (second.opening, third.opening) == ("=", "≈")
    assert len(second.sides) == 1 and second.relations == ()


@pytest.mark.parametrize("typed", ["v = ?", "R =", "R = V/I =", "v=?"])
def test_unfinished(typed: str) -> None:
    reading = read_lines([typed], EMPTY)[0].statements[0].readings[0]
    assert reading.unfinished
    assert len(reading.relations) == len(reading.sides) - 1


def test_points_of_a_graph_are_kept_and_no_statement() -> None:
    line = read_lines(["Two points on the line: (20, 7.4) and (100, 37.0)"], EMPTY)[0]
    assert line.points == ((20.0, 7.4), (100.0, 37.0))
    assert line.statements == () and line.unread == ()


REMARKS = (
    "The reading is directly proportional to the mass on the floor.",
    "It shows a linear relation between mass and reading and there is no zero error",
    "math error??",
    "dont know",
    "positive ion to the left, electron to the right",
    "Both forces are at right angles to the motion and to the field, and they are in opposite directions.",
    "",
    "   ",
    "???",
    "come back to this one",
)


@pytest.mark.parametrize("typed", REMARKS)
def test_remarks_have_no_statement_and_nothing_unread(typed: str) -> None:
    line = read_lines([typed], EMPTY)[0]
    assert line.statements == () and line.unread == ()


def test_words_are_kept_in_order() -> None:
    line = read_lines(["so the resistance must be 4 Ω because the lamp is hot"], EMPTY)[0]
    assert line.words == "so the resistance must be because the lamp is hot"
    assert line.statements[0].before.startswith("so the")


UNREAD = (
    ("F = 3 ×× 4", "F = 3 ×× 4"),
    ("3 + = 4 ^", "^"),
    ("^5 + 2 = 7", "^5 + 2 = 7"),
    # ranges are neither differences nor single values
    ("F = 3 to 5 N", "3 to 5 N"),
    ("F is between 3 and 5 N", "between 3 and 5 N"),
    ("t = 2.0–2.5 s", "2.0–2.5 s"),
    ("R = 40 Ω to 45 Ω", "40 Ω to 45 Ω"),
)


@pytest.mark.parametrize(("typed", "piece"), UNREAD, ids=[u[0] for u in UNREAD])
def test_what_cannot_be_read_is_said(typed: str, piece: str) -> None:
    line = read_lines([typed], EMPTY)[0]
    assert line.unread
    assert any(piece in f.text or f.text in piece for f in line.unread)
    assert all(f.why for f in line.unread)


PLACES = (
    ("F = BILsinθ", "θ", (10, 11)),
    ("  R = V/I", "V", (6, 7)),
    ("½mv² = Ek", "v", (2, 3)),
    (r"$R = \frac{V}{I}$", "V", (11, 12)),
    ("so the speed v = 3 m/s", "v", (13, 14)),
    ("v₀ = 3", "v_0", (0, 2)),
    ("BIL", "L", (2, 3)),
)


@pytest.mark.parametrize(("typed", "name", "place"), PLACES, ids=[p[0] for p in PLACES])
def test_every_letter_keeps_its_typed_columns(typed: str, name: str, place: tuple[int, int]) -> None:
    line = read_lines([typed], EMPTY)[0]
    found = [
        node.at
        for statement in line.statements
        for side in statement.readings[0].sides
        for node in walk(side)
        if isinstance(node, Symbol) and node.name == name
    ]
    assert place in found


def test_a_statement_keeps_its_place_in_the_line() -> None:
    line = read_lines(["V = IR, so R = V/I = 5 Ω"], EMPTY)[0]
    assert [line.text[slice(*s.at)] for s in line.statements] == ["V = IR", "R = V/I = 5 Ω"]
    assert [s.text for s in line.statements] == ["V = IR", "R = V/I = 5 Ω"]


def test_line_numbers_count_from_one_whatever_the_memory_holds() -> None:
    read_lines(["F = ma"], EMPTY)
    lines = read_lines(["a = 2", "F = ma", "F = ma"], EMPTY)
    assert [line.number for line in lines] == [1, 2, 3]
    assert [s.line for line in lines for s in line.statements] == [1, 2, 3]


def test_bounds() -> None:
    long = read_lines(["1+" * 1500 + "1"], EMPTY)[0]
    assert long.statements == () and "more than 2000 characters" in long.unread[0].why
    many = read_lines(["F = ma"] * 230, EMPTY)
    assert len(many) == 230
    assert many[199].statements and not many[200].statements
    assert "first 200 lines" in many[200].unread[0].why
    deep = read_lines(["(" * 300 + "1" + ")" * 300], EMPTY)[0]
    assert isinstance(deep, Line)
    crowded = read_lines(["a=1;" * 300], EMPTY)[0]
    assert len(crowded.statements) <= 40 and crowded.unread


def test_case_gives_way_to_the_parts_symbol_in_names_of_several_letters() -> None:
    first = read_lines(["EK = 3 J"], TABLES["energy"])[0].statements[0].readings[0]
    assert first.sides[0] == Symbol(name="E_k", known=True)
    assert {a.code for a in first.assumptions} == {"case"}


def test_a_letter_the_response_uses_as_a_symbol_is_less_readily_a_unit() -> None:
    # README of the corpus: Q_h = 5.30 W means 5.30 × W where W is the work
    lines = read_lines(["W = Q_h - Q_c", "Q_h = 5.30 W"], EMPTY)
    readings = [shown(r) for r in lines[1].statements[0].readings]
    assert readings[0] == "Qₕ = 5.30W" and "Qₕ = 5.30 W" in readings
    alone = read_lines(["P = 5.30 W"], EMPTY)[0]
    assert shown(alone.statements[0].readings[0]) == "P = 5.30 W"


def test_decimal_commas_elsewhere_settle_a_comma_before_three_figures() -> None:
    lines = read_lines(["T = 2,6 s", "ω = 2,417 rad/s"], EMPTY)
    assert shown(lines[1].statements[0].readings[0]) == "ω = 2.417 rad s⁻¹"
    assert shown(read_lines(["ω = 2,417 rad/s"], EMPTY)[0].statements[0].readings[0]) == "ω = 2 417 rad s⁻¹"


def test_the_same_lines_are_read_once() -> None:
    assert read_lines(["F = ma"], EMPTY) is read_lines(["F = ma"], EMPTY)


@pytest.mark.parametrize("typed", ["ΔT = 36 / (0.8 x 450)", "delta T = 36/(0.8 x 450)", "Q = 0.8 x 450 x ΔT"])
def test_a_change_is_no_change_of_a_change(typed: str) -> None:
    """Where T is one of the letters of ΔT, ΔT is read as that alone. Common practice, no source."""
    table = SymbolTable((entry("Q"), entry("m"), entry("c"), entry("ΔT", "T", "theta")))
    statement = read_lines([typed], table)[0].statements[0]
    names = {name for reading in statement.readings for side in reading.sides for name in symbols(side)}
    assert "ΔT" in names and not any(name.startswith("ΔΔ") for name in names)
