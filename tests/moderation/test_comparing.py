"""Comparison of marks: pairs, groups, several markers, and the list to look at again."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

pytest.importorskip("scipy", reason="the moderation extra is not installed")

from marker.errors import MarkerError, WorkbookError
from marker.moderation import defaults, options
from marker.moderation.again import look_again
from marker.moderation.compare import Comparison, compare, split_markers
from marker.moderation.model import MarkSet, PointMark, point_marks
from marker.moderation.report import make_report, needs_person
from marker.moderation.rules import DecisionFile, load, named
from marker.moderation.several import several_markers
from marker.moderation.severity import severity
from marker.moderation.source import load_marks

MarkTable = Callable[..., MarkSet]
TOLERANCE = named(load("decision", DecisionFile).tolerance, "by tariff", "tolerance")
PARTS = {"1": 1.0, "2": 3.0}
FIRST = [
    ("a", "1", "Adair", 1),
    ("a", "2", "Adair", 3),
    ("b", "1", "Brook", 0),
    ("b", "2", "Brook", 2),
    ("c", "1", "Adair", 1),
    ("c", "2", "Adair", 0),
]
SECOND = [
    ("c", "2", "Cole", 2),
    ("a", "1", "Cole", 1),
    ("a", "2", "Cole", 2),
    ("b", "1", "Cole", 1),
    ("b", "2", "Cole", 2),
    ("c", "1", "Cole", 1),
]


@pytest.fixture
def small(table: MarkTable) -> Comparison:
    return compare(table(FIRST, PARTS, {"a": "13A", "b": "13B", "c": "13A"}), [table(SECOND, PARTS, name="second.csv")], TOLERANCE)


def test_figures_worked_by_hand(small: Comparison) -> None:
    """Differences a1 0, a2 -1, b1 +1, b2 0, c1 0, c2 +2."""
    f = small.overall.figures
    assert (f.n, f.candidates, f.exact.count, f.adjacent.count, f.within.count) == (6, 3, 3, 5, 4)
    assert f.bias.value == pytest.approx(2 / 6) and f.mean_absolute == pytest.approx(4 / 6)
    assert f.kappa is None and f.icc21 is None  # parts of 1 and 3 marks are not pooled
    t = small.overall.totals
    assert t is not None and (t.n, t.maximum) == (3, 4.0)
    assert [(p.candidate, p.first, p.second) for p in small.totals] == [("a", 4, 3), ("b", 2, 3), ("c", 1, 3)]


def test_groups(small: Comparison) -> None:
    assert {g.name: g.figures.n for g in small.of("part")} == {"1": 3, "2": 3}
    assert {g.name: g.figures.n for g in small.of("first marker")} == {"Adair": 4, "Brook": 2}
    assert {g.name: g.figures.bias.value for g in small.of("class")} == {"13A": pytest.approx(0.25), "13B": pytest.approx(0.5)}
    assert small.of("second marker") == ()  # there is only one
    one = small.of("part")[0].figures
    assert one.kappa is not None and one.kappa.value == pytest.approx(0.0)  # marks 1 0 1 against 1 1 1: chance alone


def test_the_order_of_rows_does_not_matter(table: MarkTable) -> None:
    first = table(FIRST, PARTS)
    found = [compare(first, [table(rows, PARTS)], TOLERANCE).overall.figures for rows in (SECOND, sorted(SECOND), SECOND[::-1])]
    assert found[0] == found[1] == found[2]


REFUSED = (
    ("no first mark", [("d", "1", "Cole", 1)], "candidate d, part 1 has no first mark"),
    ("same name", [("a", "1", "Adair", 1)], "Adair has marked candidate a, part 1 already"),
)


@pytest.mark.parametrize(("name", "rows", "says"), REFUSED, ids=[r[0] for r in REFUSED])
def test_wrong_pairings_are_refused(name: str, rows: list[tuple[str, str, str, float]], says: str, table: MarkTable) -> None:
    with pytest.raises(WorkbookError) as caught:
        compare(table(FIRST, PARTS), [table(rows, PARTS, name="second.csv")], TOLERANCE)
    assert says in str(caught.value) and "second.csv, row 2" in str(caught.value)


def test_nothing_marked_twice_is_refused(table: MarkTable) -> None:
    with pytest.raises(WorkbookError) as caught:
        compare(table(FIRST, PARTS), [], TOLERANCE)
    assert "no response was marked twice" in str(caught.value)


def test_several_markers_in_one_table(table: MarkTable) -> None:
    together = table([*FIRST, *SECOND], PARTS)
    first, seconds = split_markers(together)
    assert {m.marker for m in first.marks} == {"Adair", "Brook"} and [s.markers for s in seconds] == [("Cole",)]
    first, seconds = split_markers(together, "Cole")
    assert first.markers == ("Cole",) and [s.markers for s in seconds] == [("Adair",), ("Brook",)]
    with pytest.raises(WorkbookError) as caught:
        split_markers(together, "Dale")
    assert '"Dale" has given no mark' in str(caught.value)


def test_points_and_faults_are_groups(table: MarkTable) -> None:
    def with_points(marks: MarkSet, given: dict[str, tuple[float, ...]], fault: str = "") -> MarkSet:
        names = ("relationship", "substitution", "answer")
        return replace(
            marks,
            marks=tuple(
                replace(
                    m,
                    points=tuple(PointMark(name=n, mark=x, maximum=1) for n, x in zip(names, given[m.candidate], strict=True)),
                    faults=((fault, "line"),) if fault and m.mark < 3 else (),
                )
                for m in marks.marks
            ),
        )

    rows = {"a": (1, 1, 1), "b": (1, 1, 0), "c": (1, 0, 0)}
    others = {"a": (1, 1, 1), "b": (1, 0, 1), "c": (1, 1, 0)}
    first = with_points(table([(c, "2", "Adair", float(sum(p))) for c, p in rows.items()], {"2": 3.0}), rows, "unit-missing")
    second = with_points(table([(c, "2", "Cole", float(sum(p))) for c, p in others.items()], {"2": 3.0}), others)
    found = compare(first, [second], TOLERANCE)
    assert {g.name: g.figures.exact.count for g in found.of("point")} == {"2: relationship": 3, "2: substitution": 1, "2: answer": 2}
    assert {g.name: g.figures.n for g in found.of("fault")} == {"unit-missing": 2}
    listed = look_again(found)
    assert [(a.candidate, a.reasons) for a in listed] == [("b", ("the same mark for different points (substitution, answer)",))]


def test_points_of_one_name_are_told_apart() -> None:
    """Two answers in one part: by name alone the first would be compared with the second."""
    found = point_marks([("answer", 1, 1), ("unit", 0, 1), ("answer", 0, 1)])
    assert [(p.name, p.mark) for p in found] == [("answer", 1), ("unit", 0), ("answer 2", 0)]


def test_equal_marks_of_equal_points_need_no_second_look(table: MarkTable) -> None:
    points = point_marks([("answer", 1, 1), ("answer", 0, 1)])
    first, second = (table([("a", "2", who, 1.0)], {"2": 2.0}) for who in ("Adair", "Cole"))
    engine = replace(first, marks=(replace(first.marks[0], points=points),))
    for other in (second, replace(second, marks=(replace(second.marks[0], points=points),))):
        assert look_again(compare(engine, [other], TOLERANCE)) == ()


def test_look_again_puts_the_furthest_apart_first(small: Comparison) -> None:
    assert [(a.candidate, a.part) for a in look_again(small)] == [("b", "1"), ("c", "2")]
    assert look_again(small)[1].reasons == ("marks 2 apart, more than the 1 allowed",)


def test_several_markers_at_once(table: MarkTable) -> None:
    """Dataset A of Shrout and Fleiss as marks of six candidates by four markers: ICC(2,1) .29, ICC(3,1) .71 as printed."""
    rows = ((9, 2, 5, 8), (6, 1, 3, 2), (8, 4, 6, 8), (7, 1, 2, 6), (10, 5, 6, 9), (6, 2, 4, 7))
    marks = table([(str(i), "1", f"marker {j}", float(x)) for i, row in enumerate(rows) for j, x in enumerate(row)], {"1": 10.0})
    (found,) = several_markers([marks], ["1"])
    assert (found.n, found.markers) == (6, 4)
    assert found.icc is not None and (round(found.icc.icc21.value, 2), round(found.icc.icc31.value, 2)) == (0.29, 0.71)
    assert several_markers([table(FIRST, PARTS), table(SECOND, PARTS)], ["1", "2"]) == ()


def test_markers_without_a_common_response_are_not_compared(table: MarkTable) -> None:
    rows = [("a", "1", "A", 1), ("a", "1", "B", 0), ("b", "1", "C", 1), ("b", "1", "D", 1), ("c", "1", "A", 1), ("c", "1", "B", 1)]
    with pytest.raises(MarkerError) as caught:
        severity(table(rows, {"1": 1.0}).marks)
    assert "A and B with C and D" in str(caught.value)


def test_engine_against_teacher(files: tuple[Path, Path], tmp_path: Path) -> None:
    """The engine's records first, a teacher's marks second: agreement by part and by fault of the engine."""
    engine = load_marks(files[1])
    lines = ["candidate,part,marker,mark"]
    lines += [f"{m.candidate},{m.part},Dale,{max(0, m.mark - (m.part == '3')):g}" for m in engine.marks]
    path = tmp_path / "teacher.csv"
    path.write_text("\n".join(lines), encoding="utf-8")
    chosen = options.decision_rules(defaults.DECISION, defaults.ANCHOR, None)
    report = make_report(engine, [load_marks(path, like=engine)], rule=chosen.rule, tolerance=chosen.tolerance, anchor=chosen.anchor)
    exact = {g.name: g.figures.exact.value for g in report.comparison.of("part")}
    assert all((v == 1) == (p != "3") for p, v in exact.items())
    assert {g.name for g in report.comparison.of("fault")} == {"unit-missing", "inverted-quotient", "arithmetic-slip"}
    assert report.decisions[0].n == 46 and needs_person(report)
