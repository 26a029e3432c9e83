"""Sampling rules and who marks what: sizes as the published rules print them, draws repeatable and independent of the file's order."""

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from marker.errors import MarkerError, SchemeError, WorkbookError
from marker.moderation.allocation import SecondMarker, allocate
from marker.moderation.model import Mark, MarkSet
from marker.moderation.rules import SamplingFile, SamplingRule, load, named
from marker.moderation.sampling import draw_sample, size_for

RULES = load("sampling", SamplingFile).rule


def rule(name: str) -> SamplingRule:
    return named(RULES, name, "sampling rule")


def cohort(size: int, parts: int = 3, classes: int = 3, shuffled: int | None = None) -> MarkSet:
    """Candidates with distinct totals falling from the first to the last, in classes by turns, each class with its own marker."""
    rows = [
        Mark(candidate=f"{i:03d}", part=str(p), mark=float(size - i), maximum=float(size), marker=f"teacher {i % classes}")
        for i in range(size)
        for p in range(1, parts + 1)
    ]
    if shuffled is not None:
        random.Random(shuffled).shuffle(rows)
    return MarkSet(
        marks=tuple(rows),
        parts={str(p): float(size) for p in range(1, parts + 1)},
        classes={f"{i:03d}": f"13{i % classes}" for i in range(size)},
    )


SIZES = (
    # Pearson from 2026: 1-15 all; 16-100: 15; 101-200: 20; over 200: 25; highest and lowest besides.
    ("size bands with extremes", {1: 1, 15: 15, 16: 15, 100: 15, 101: 20, 200: 20, 201: 25, 900: 25}),
    # Earlier UK joint rule, from memory: up to 10 all; 11-100: 10; 101-200: 15; over 200: 20.
    ("size bands of ten", {10: 10, 11: 10, 100: 10, 101: 15, 200: 15, 201: 20}),
    # Cambridge coursework, from memory and not certain: up to 10 all; 11-50: 10; 51-100: 15; over 100: 20.
    ("coursework bands", {10: 10, 50: 10, 51: 15, 100: 15, 101: 20}),
    # OxfordAQA: up to 15 all, otherwise at most 15.
    ("at most fifteen", {15: 15, 16: 15, 400: 15}),
    # EAL: below 18: 35 %; 19-100: 25 %; 101-200: 15 %; 201-500: 10 %; at least 3 learners (parts of a learner counted up).
    ("share by cohort", {2: 2, 5: 3, 17: 6, 20: 5, 100: 25, 101: 16, 200: 30, 201: 21, 500: 50}),
    # IB dynamic sampling: one of each of five rank bands.
    ("five rank bands, three first", {5: 5, 6: 5, 80: 5}),
)


@pytest.mark.parametrize(("name", "sizes"), SIZES, ids=lambda x: x if isinstance(x, str) else "")
def test_sizes_as_published(name: str, sizes: dict[int, int]) -> None:
    assert {n: size_for(rule(name), n) for n in sizes} == sizes


def test_extremes_come_besides_the_number() -> None:
    found = draw_sample(cohort(60), rule("size bands with extremes"), draw=1)
    why = {d.candidate: d.why for d in found.drawn}
    assert len(found.drawn) == 17
    assert (why["000"], why["059"]) == ("highest mark", "lowest mark")


def test_even_by_rank_takes_one_of_each_slice() -> None:
    found = draw_sample(cohort(100), rule("size bands of ten"), draw=4)
    assert sorted(int(d.candidate) // 10 for d in found.drawn) == list(range(10))


def test_rank_bands_and_three_checked_first() -> None:
    found = draw_sample(cohort(50), rule("five rank bands, three first"), draw=2)
    assert sorted(int(d.candidate) // 10 for d in found.drawn) == list(range(5))
    assert [d.stage for d in found.drawn] == [1, 2, 1, 2, 1]  # highest, middle and lowest band first


def test_mark_bands_take_three_of_each_degree_class() -> None:
    # Sheffield Hallam: all below 15; about 3 from each class band; at most 25.
    found = draw_sample(cohort(100), rule("three from each class of mark"), draw=3)
    percent = [100 - int(d.candidate) for d in found.drawn]
    counts = [sum(low <= p < high for p in percent) for low, high in ((70, 101), (60, 70), (50, 60), (40, 50), (0, 40))]
    assert counts == [3, 3, 3, 3, 3]
    assert len(draw_sample(cohort(14), rule("three from each class of mark"), draw=3).drawn) == 14


@pytest.mark.parametrize(("name", "each"), (("each marker checked", 5), ("each class checked", 3)))
def test_strata_each_get_their_number(name: str, each: int) -> None:
    found = draw_sample(cohort(60), rule(name), draw=9)
    groups = [int(d.candidate) % 3 for d in found.drawn]
    assert [groups.count(g) for g in range(3)] == [each] * 3


@pytest.mark.parametrize(("name", "each"), (("double marking, a quarter", 10), ("double marking, one in twenty", 2)))
def test_single_responses_are_drawn_part_by_part(name: str, each: int) -> None:
    # NAEP: a quarter of the responses on small samples, 5 % on large ones.
    found = draw_sample(cohort(40), rule(name), draw=5)
    parts = [p for _, p in found.responses]
    assert [parts.count(p) for p in ("1", "2", "3")] == [each] * 3


@pytest.mark.parametrize("name", [r.name for r in RULES])
def test_a_draw_repeats_whatever_the_order_of_the_file(name: str) -> None:
    first, again = (draw_sample(cohort(70, shuffled=s), rule(name), draw=11, chosen=["033"]) for s in (1, 2))
    assert set(first.responses) == set(again.responses)
    assert "033" in {d.candidate for d in first.drawn}


def test_another_draw_number_draws_another_sample() -> None:
    drawn = {frozenset(draw_sample(cohort(100), rule("at most fifteen"), draw=n).responses) for n in range(20)}
    assert len(drawn) == 20


def test_draws_by_chance_are_even() -> None:
    """Each of 30 candidates should be in about half of 600 draws of 15; 6 standard deviations either way."""
    counts = dict.fromkeys((f"{i:03d}" for i in range(30)), 0)
    for n in range(600):
        for d in draw_sample(cohort(30, parts=1), rule("at most fifteen"), draw=n).drawn:
            counts[d.candidate] += 1
    assert all(abs(c - 300) < 6 * (600 * 0.25) ** 0.5 for c in counts.values())


def test_chosen_candidates_count_where_the_rule_says_so() -> None:
    assert len(draw_sample(cohort(40), rule("at most fifteen"), draw=1, chosen=["001", "002"]).drawn) == 15
    assert len(draw_sample(cohort(40), rule("size bands of ten"), draw=1, chosen=["001", "002"]).drawn) == 12


REFUSED: tuple[tuple[str, Callable[[], object], str], ...] = (
    ("unknown candidate", lambda: draw_sample(cohort(20), rule("size bands of ten"), 1, chosen=["999"]), '"999" has no marks'),
    ("unknown part", lambda: draw_sample(cohort(20), rule("size bands of ten"), 1, parts=["7"]), '"7" is not a part'),
    ("unknown rule", lambda: rule("size band of ten"), 'Use "size bands of ten"'),
    (
        "no classes",
        lambda: draw_sample(MarkSet(marks=cohort(20).marks, parts=cohort(20).parts), rule("each class checked"), 1),
        "no class known",
    ),
)


@pytest.mark.parametrize(("name", "act", "says"), REFUSED, ids=[r[0] for r in REFUSED])
def test_refusals(name: str, act: Callable[[], object], says: str) -> None:
    with pytest.raises(MarkerError) as caught:
        act()
    assert says in str(caught.value)


BAD_RULES = (
    ('size = [{ up_to = 5, all = true }]\nspread = "random"', "the last has none"),
    ('size = [{ take = 5, percent = 3 }]\nspread = "random"', "one of all, take and percent"),
    ('size = [{ take = 5 }]\nspread = "rank bands"', "needs the number of bands"),
    ('size = [{ take = 5 }]\nspread = "rnadom"', "rule, number 1, spread"),
    ('size = [{ take = 5 }]\nspread = "random"\ncolour = "red"', "colour"),
    ("size = [{ take = }]", "not readable as TOML"),
)


@pytest.mark.parametrize(("body", "says"), BAD_RULES)
def test_a_departments_own_rules_are_checked(tmp_path: Path, body: str, says: str) -> None:
    path = tmp_path / "own.toml"
    path.write_text(f'[[rule]]\nname = "ours"\nsource = "our own"\n{body}\n', encoding="utf-8")
    with pytest.raises(SchemeError) as caught:
        load("sampling", SamplingFile, path)
    assert says in str(caught.value)


def test_every_shipped_rule_has_a_source() -> None:
    assert len(RULES) >= 9 and all(len(r.source) > 10 for r in RULES)


TEAM = (SecondMarker(name="Adair", classes=("130",)), SecondMarker(name="Brook", classes=("131",)), SecondMarker(name="Cole"))


@pytest.mark.parametrize("copies", (1, 2))
def test_nobody_marks_their_own_class_and_loads_are_even(copies: int) -> None:
    marks = cohort(90)
    sample = draw_sample(marks, rule("size bands with extremes"), draw=8)
    given = allocate(sample, marks, TEAM, copies=copies)
    for marker in TEAM:
        assert not {marks.classes[d.candidate] for d in given[marker.name]} & set(marker.classes)
    times = [sum(d in theirs for theirs in given.values()) for d in sample.drawn]
    assert times == [copies] * len(sample.drawn)
    assert copies == 2 or max(map(len, given.values())) - min(map(len, given.values())) <= 2


def test_common_scripts_go_to_all_who_may_have_them() -> None:
    marks = cohort(90)
    sample = draw_sample(marks, rule("size bands with extremes"), draw=8)
    given = allocate(sample, marks, TEAM, common=4)
    full = [
        d
        for d in sample.drawn
        if sum(d in theirs for theirs in given.values()) == sum(marks.classes[d.candidate] not in m.classes for m in TEAM)
    ]
    assert len(full) >= 4


def test_nobody_marks_again_what_they_marked_first() -> None:
    marks = cohort(30, classes=2)
    sample = draw_sample(marks, rule("size bands of ten"), draw=8)
    given = allocate(sample, marks, (SecondMarker(name="Teacher 0"), SecondMarker(name="Teacher 1")))
    assert {int(d.candidate) % 2 for d in given["Teacher 0"]} <= {1} and {int(d.candidate) % 2 for d in given["Teacher 1"]} <= {0}


def test_too_few_free_markers_are_named_by_candidate() -> None:
    marks = cohort(12)
    sample = draw_sample(marks, rule("size bands with extremes"), draw=8)
    with pytest.raises(WorkbookError) as caught:
        allocate(sample, marks, TEAM[:1])
    assert len(caught.value.problems) == 4 and "class 130" in str(caught.value)
