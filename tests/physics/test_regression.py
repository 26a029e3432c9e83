"""Straight lines against NIST's certified values (Statistical Reference Datasets, linear regression), SciPy and worked cases."""

import math
import random

import pytest

from marker.physics.regression import (
    between,
    corner_lines,
    extreme_lines,
    gradient_uncertainty,
    least_squares,
    off_the_line,
    outliers,
    residuals,
    through_origin,
)

# NIST StRD "Norris": ozone monitors, y then x, 36 pairs.
NORRIS = """0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3 449.1 448.6 778.9 777.0 559.2 558.2
0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0 448.9 447.5 10.8 11.6 557.7 556.0 228.3 228.1 998.0 995.8 888.8 887.6 119.6 120.2
0.3 0.3 0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0 10.2 11.1 117.6 118.3 228.9 229.2 668.4 669.1 449.2 448.9
0.2 0.5"""
# Anscombe 1973, The American Statistician 27: first and third sets.
ANSCOMBE_X = (10.0, 8.0, 13.0, 9.0, 11.0, 14.0, 6.0, 4.0, 12.0, 7.0, 5.0)
ANSCOMBE_1 = (8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68)
ANSCOMBE_3 = (7.46, 6.77, 12.74, 7.11, 7.81, 8.84, 6.08, 5.39, 8.15, 6.42, 5.73)


def test_norris_certified() -> None:
    numbers = [float(t) for t in NORRIS.split()]
    line = least_squares(numbers[1::2], numbers[0::2])
    assert len(numbers) == 72
    assert line.gradient == pytest.approx(1.00211681802045, rel=1e-12)
    assert line.intercept == pytest.approx(-0.262323073774029, rel=1e-10)
    assert line.gradient_error == pytest.approx(0.429796848199937e-03, rel=1e-10)
    assert line.intercept_error == pytest.approx(0.232818234301152, rel=1e-10)
    assert line.residual_deviation == pytest.approx(0.884796396144373, rel=1e-10)
    assert line.r_squared == pytest.approx(0.999993745883712, rel=1e-12)


def test_no_intercept_1_certified() -> None:
    """NIST StRD "NoInt1": y 130 to 140 against x 60 to 70, line through the origin."""
    line = through_origin([float(x) for x in range(60, 71)], [float(y) for y in range(130, 141)])
    assert line.gradient == pytest.approx(2.07438016528926, rel=1e-13)
    assert line.gradient_error == pytest.approx(0.165289256198347e-01, rel=1e-12)
    assert line.residual_deviation == pytest.approx(3.56753034006338, rel=1e-12)
    assert line.r_squared == pytest.approx(0.999365492298663, rel=1e-12)


def test_no_intercept_2_certified() -> None:
    """NIST StRD "NoInt2": (4, 3), (5, 4), (6, 4), line through the origin."""
    line = through_origin([4.0, 5.0, 6.0], [3.0, 4.0, 4.0])
    assert line.gradient == pytest.approx(0.727272727272727, rel=1e-13)
    assert line.gradient_error == pytest.approx(0.420827318078432e-01, rel=1e-12)
    assert line.residual_deviation == pytest.approx(0.369274472937998, rel=1e-12)
    assert line.r_squared == pytest.approx(0.993348115299335, rel=1e-12)


@pytest.mark.parametrize("ys", [ANSCOMBE_1, ANSCOMBE_3])
def test_anscombe(ys: tuple[float, ...]) -> None:
    """Anscombe 1973: every set has gradient 0.500, intercept 3.00, standard error of the gradient 0.118, r² 0.667 (printed figures)."""
    line = least_squares(ANSCOMBE_X, ys)
    assert (line.gradient, line.intercept) == pytest.approx((0.500, 3.00), abs=0.003)
    assert line.gradient_error == pytest.approx(0.118, abs=5e-4)
    assert line.r_squared == pytest.approx(0.667, abs=1e-3)


def test_the_reading_off_anscombes_third_line_is_found() -> None:
    """Anscombe 1973: in the third set one reading (x = 13) lies off the line the others make; the first set has none."""
    assert outliers(ANSCOMBE_X, ANSCOMBE_3) == (2,)
    assert outliers(ANSCOMBE_X, ANSCOMBE_1) == ()


@pytest.mark.parametrize("seed", range(8))
def test_against_scipy(seed: int) -> None:
    """Independent reference: scipy.stats.linregress."""
    stats = pytest.importorskip("scipy.stats")
    draw = random.Random(seed)
    xs = [draw.uniform(-50, 50) * 10**seed for _ in range(5 + seed)]
    ys = [draw.gauss(3 - 0.7 * x, 4 * 10**seed) for x in xs]
    ours, theirs = least_squares(xs, ys), stats.linregress(xs, ys)
    assert (ours.gradient, ours.intercept) == pytest.approx((theirs.slope, theirs.intercept), rel=1e-9)
    assert (ours.gradient_error, ours.intercept_error) == pytest.approx((theirs.stderr, theirs.intercept_stderr), rel=1e-5)
    assert ours.r_squared == pytest.approx(theirs.rvalue**2, rel=1e-9)


@pytest.mark.parametrize(
    ("first", "second", "printed"),
    [((0.50, 525.0), (6.4, 2000.0), 250.0), ((19.0, 1300.0), (32.0, 3120.0), 140.0), ((1.0, 210.0), (51.0, 260.0), 1.0)],
)
def test_slopes_of_the_jet_car(first: tuple[float, float], second: tuple[float, float], printed: float) -> None:
    """OpenStax, College Physics 2e (CC BY 4.0), chapter 2: velocity and acceleration of a jet car from two points of its graphs,
    printed to two figures."""
    assert float(f"{between(first, second).gradient:.2g}") == printed


def test_two_points_and_points_off_the_line() -> None:
    """Conventions file section 6 row 33: (3, 8), (0, 2) gives 2.0, not 0.5 and not 8/3."""
    line = between((3.0, 8.0), (0.0, 2.0))
    assert (line.gradient, line.intercept) == (2.0, 2.0)
    assert off_the_line(line, [(1.0, 4.05), (2.0, 6.4), (5.0, 12.0)], 0.1) == (1,)
    assert residuals(line, [1.0], [4.5]) == (0.5,)


@pytest.mark.parametrize(
    ("xs", "ys"),
    [([1.0], [2.0]), ([1.0, 1.0], [2.0, 3.0]), ([1.0, 2.0], [2.0]), ([1.0, math.nan], [2.0, 3.0]), ([1.0, math.inf], [1.0, 2.0])],
)
def test_what_is_no_line_is_refused(xs: list[float], ys: list[float]) -> None:
    with pytest.raises(ValueError, match=r"point|same|values|finite"):
        least_squares(xs, ys)


@pytest.mark.parametrize("seed", range(6))
def test_extreme_lines_are_the_linear_programmes_optimum(seed: int) -> None:
    """Independent reference: scipy.optimize.linprog, gradient least and greatest with every bar crossed."""
    optimize = pytest.importorskip("scipy.optimize")
    draw = random.Random(seed)
    xs = [float(x) for x in range(1, 7)]
    dys = [draw.uniform(0.3, 0.6) for _ in xs]
    ys = [1.5 * x + 0.4 + draw.uniform(-0.25, 0.25) for x in xs]
    rows = [[x, 1.0] for x in xs] + [[-x, -1.0] for x in xs]
    limits = [y + d for y, d in zip(ys, dys, strict=True)] + [-(y - d) for y, d in zip(ys, dys, strict=True)]
    found = extreme_lines(xs, ys, [0.0] * 6, dys)
    assert found is not None
    for line, sign in zip(found, (1.0, -1.0), strict=True):
        best = optimize.linprog([sign, 0.0], A_ub=rows, b_ub=limits, bounds=[(None, None)] * 2)
        assert line.gradient == pytest.approx(best.x[0], rel=1e-7)
    assert found[0].gradient <= 1.5 <= found[1].gradient, "the line the bars were made from is one of them"


def test_no_straight_line_fits_a_parabola_with_short_bars() -> None:
    xs = [0.0, 1.0, 2.0, 3.0]
    assert extreme_lines(xs, [x * x for x in xs], [0.0] * 4, [0.1] * 4) is None


def test_corner_lines() -> None:
    """By hand: bars ±1 at (0, 0) and (10, 20) give gradients (19 − 1)/10 and (21 + 1)/10."""
    low, high = corner_lines([0.0, 5.0, 10.0], [0.0, 10.0, 20.0], [1.0, 1.0, 1.0])
    assert (low.gradient, high.gradient) == pytest.approx((1.8, 2.2))
    assert gradient_uncertainty((low, high)) == pytest.approx(0.2)
