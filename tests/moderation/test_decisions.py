"""From totals to a decision by rule, and to adjusted marks that keep the order, the limits and the old marks."""

import math
import random
from itertools import pairwise

import pytest

pytest.importorskip("scipy", reason="the moderation extra is not installed")

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.moderation.compare import TotalPair
from marker.moderation.decision import Adjustment, Decision, Verdict, adjusted_marks, decide, fit_line
from marker.moderation.model import Mark, MarkSet
from marker.moderation.rules import DecisionFile, DecisionRule, Tolerance, load, named

RULES = load("decision", DecisionFile)
MAXIMUM = 60.0  # 5 % of it is 3 marks
FIRST = [12, 16, 21, 24, 28, 31, 33, 36, 40, 43, 47, 50, 54, 57]
SMALL = [1, -1, 0, 1, 0, -1, 1, 0, -1, 0, 1, -1, 0, 0]
LARGE = [9, -8, 7, -9, 8, -7, 9, -8, 7, -9, 8, -7, 9, -9]


def rule(name: str = "department") -> DecisionRule:
    return named(RULES.decision, name, "rule")


def tolerance() -> Tolerance:
    return named(RULES.tolerance, "by tariff", "tolerance")


def pairs(seconds: list[float]) -> list[TotalPair]:
    return [
        TotalPair(candidate=f"c{i}", first=float(a), second=float(b), marker="Adair")
        for i, (a, b) in enumerate(zip(FIRST, seconds, strict=False))
    ]


def plus(*noise: list[int], shift: float = 0, slope: float = 1) -> list[float]:
    return [shift + slope * a + sum(n[i] for n in noise) for i, a in enumerate(FIRST)]


# Which pattern leads to which decision: common practice, no source (constant if even, regression if it varies, refuse if erratic).
CASES = (
    ("small differences", plus(SMALL), Verdict.STANDS, "100 % of totals are within 3 marks"),
    ("evenly severe", plus(SMALL, shift=5), Verdict.CONSTANT, "differ by +5.00 marks on average"),
    ("evenly lenient", plus(SMALL, shift=-5), Verdict.CONSTANT, "differ by −5.00 marks"),
    ("an even shift inside the tolerance", plus(SMALL, shift=2.4), Verdict.CONSTANT, "evenly over the range"),
    ("bias grows with the mark", plus(SMALL, shift=-2, slope=1.2), Verdict.REGRESSION, "changes with the mark"),
    ("both ends drawn in", plus(SMALL, shift=14, slope=0.6), Verdict.REGRESSION, "by −0.51 for each mark"),
    ("erratic", plus(LARGE), Verdict.RE_MARK, "no even pattern"),
    ("erratic and severe", plus(LARGE, shift=6), Verdict.RE_MARK, "even then only"),
    ("order lost", [float(x) for x in random.Random(3).sample(FIRST, len(FIRST))], Verdict.RE_MARK, "rank order is not kept"),
    ("too few", plus(SMALL)[:4], Verdict.MORE, "4 whole scripts were marked twice; the rule needs 5"),
)


@pytest.mark.parametrize(("name", "seconds", "verdict", "says"), CASES, ids=[c[0] for c in CASES])
def test_decision_and_its_reason(name: str, seconds: list[float], verdict: Verdict, says: str) -> None:
    found = decide(pairs(seconds), MAXIMUM, rule(), tolerance())
    assert found.verdict is verdict, found.reason
    assert says in found.reason
    assert (found.adjustment is not None) == (verdict in (Verdict.CONSTANT, Verdict.REGRESSION))


def test_a_rule_without_adjustments_never_adjusts() -> None:
    found = decide(pairs(plus(SMALL, shift=5)), MAXIMUM, rule("stand or re-mark"), tolerance())
    assert found.verdict is Verdict.RE_MARK and found.adjustment is None


STAGES = (
    # IB dynamic sampling: three checked first; within tolerance all stand; otherwise all five, and an adjustment by band.
    ("first three agree", [13, 60, 30, 60, 55], Verdict.STANDS, "All 3 scripts checked first"),
    ("first three only, one off", [20, None, 28, None, 50], Verdict.MORE, "one script of each of the 5 bands"),
    ("all five", [18, 27, 33, 40, 51], Verdict.BAND, "by rank band"),
)


@pytest.mark.parametrize(("name", "seconds", "verdict", "says"), STAGES, ids=[s[0] for s in STAGES])
def test_staged_rule(name: str, seconds: list[float | None], verdict: Verdict, says: str) -> None:
    rows = [
        TotalPair(candidate=f"c{i}", first=float(a), second=float(b), marker="Adair")
        for i, (a, b) in enumerate(zip((12, 21, 29, 38, 53), seconds, strict=True))
        if b is not None
    ]
    found = decide(rows, MAXIMUM, rule("staged by band"), tolerance(), first=("c0", "c2", "c4"))
    assert found.verdict is verdict, found.reason
    assert says in found.reason


def test_bands_that_would_turn_the_order_are_pooled() -> None:
    rows = [
        TotalPair(candidate=str(i), first=float(a), second=float(b), marker="")
        for i, (a, b) in enumerate(((18, 20), (20, 19), (30, 34), (40, 47), (50, 55)))
    ]
    found = decide(rows, MAXIMUM, rule("staged by band"), tolerance())
    assert found.adjustment is not None
    assert found.adjustment.knots == ((19.0, 19.5), (30.0, 34.0), (40.0, 47.0), (50.0, 55.0))


def test_the_cap_holds_and_halves_go_up() -> None:
    shift = Adjustment(shift=9, cap=6, step=1)
    assert [shift.apply(x, 0, 60) for x in (0, 30, 57)] == [6, 36, 60]
    assert Adjustment(shift=0.5, step=1).apply(10, 0, 60) == 11
    assert Adjustment(shift=0.25, step=0.5).apply(10, 0, 60) == 10.5
    assert Adjustment(shift=-20, step=1).apply(5, 0, 60) == 0
    assert Adjustment(shift=0, slope=1, step=1).apply(10.5, 0, 60) == 10.5  # no change: not rounded either


ADJUSTMENTS = st.one_of(
    st.builds(Adjustment, shift=st.floats(-30, 30), slope=st.floats(0.05, 3), cap=st.floats(0, 20), step=st.sampled_from((0.5, 1.0))),
    st.lists(st.tuples(st.floats(0, 60), st.floats(0, 60)), min_size=1, max_size=5).map(
        lambda k: Adjustment(knots=tuple(zip(sorted({x for x, _ in k}), sorted(y for _, y in k), strict=False)), cap=10)
    ),
)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(ADJUSTMENTS, st.lists(st.integers(0, 60), min_size=2, max_size=12))
def test_an_adjustment_keeps_the_order_the_limits_and_the_cap(adjustment: Adjustment, totals: list[int]) -> None:
    """Order kept: the moderator should keep the rank order (Cambridge coursework practice); equal marks stay equal."""
    found = [adjustment.apply(float(t), 0, 60) for t in sorted(totals)]
    assert all(a <= b for a, b in pairwise(found))
    assert all(0 <= f <= 60 for f in found)
    assert all(abs(f - t) <= adjustment.cap + adjustment.step / 2 + 1e-6 for f, t in zip(found, sorted(totals), strict=True))


def test_least_squares_line_is_numpys() -> None:
    a, b = np.array(FIRST, dtype=float), np.array(plus(SMALL, shift=4, slope=0.9))
    assert fit_line(a, b, "least squares") == pytest.approx(tuple(np.polyfit(a, b, 1)))


def test_orthogonal_line_is_the_first_principal_axis() -> None:
    """With equal errors on both sides the Deming line is the first eigenvector of the covariance (numpy.linalg.eigh)."""
    a, b = np.array(FIRST, dtype=float), np.array(plus(LARGE, shift=4, slope=0.9))
    _, vectors = np.linalg.eigh(np.cov(a, b))
    x, y = vectors[:, -1]
    slope, shift = fit_line(a, b, "orthogonal")
    assert slope == pytest.approx(y / x)
    assert shift == pytest.approx(b.mean() - slope * a.mean())


def _class(markers: tuple[str, ...]) -> MarkSet:
    rows = [
        Mark(candidate=f"c{i}", part=part, mark=mark, maximum=30.0, marker=markers[i % len(markers)])
        for i, total in enumerate(FIRST)
        for part, mark in (("1", float(total // 2)), ("2", float(total - total // 2)))
    ]
    return MarkSet(marks=tuple(rows), parts={"1": 30.0, "2": 30.0})


def _told(marker: str, shift: float) -> Decision:
    return Decision(marker=marker, verdict=Verdict.CONSTANT, reason="", rule="", n=9, adjustment=Adjustment(shift=shift))


def test_only_the_marker_decided_on_is_adjusted_and_the_old_total_stays() -> None:
    found = adjusted_marks(_class(("Adair", "Brook")), {"1": 30.0, "2": 30.0}, [_told("Brook", 3)])
    assert [a.total for a in found] == FIRST
    assert [a.change for a in found] == [0, 3] * 7


def test_when_a_part_was_not_compared_its_marks_do_not_move() -> None:
    found = adjusted_marks(_class(("Adair",)), {"1": 30.0}, [_told("", 40)])
    assert [a.compared for a in found] == [t // 2 for t in FIRST]
    assert all(a.adjusted == 30 + (a.total - a.compared) for a in found)


def test_nothing_marked_twice_in_whole_scripts() -> None:
    found = decide([], MAXIMUM, rule(), tolerance())
    assert found.verdict is Verdict.MORE and math.isnan(found.within_now)


# Common practice, no source: 0 for 1-mark items, 1 for 2 to 4 marks, about 5 % of a component (conventions file 5.1); longer parts ours.
@pytest.mark.parametrize(("maximum", "allowed"), ((1, 0), (2, 1), (4, 1), (5, 1), (9, 1), (10, 1), (19, 1), (20, 2), (35, 3)))
def test_tolerance_by_tariff(maximum: float, allowed: float) -> None:
    assert tolerance().for_response(maximum) == allowed


def test_tolerance_of_a_total_is_five_per_cent() -> None:
    assert tolerance().for_total(60) == 3
