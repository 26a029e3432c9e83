"""What readings support, on published and made tables, and axes that make a straight line."""

import math

import pytest
import sympy

from marker.physics.graphs import constancy, directly_proportional, linearise, supported

# Boyle 1662, "A Defence of the Doctrine touching the Spring and Weight of the Air": air column (quarter inches) and pressure (inches of
# mercury, fractions as decimals); product near 1400. From memory of the widely reprinted table; the constant product is itself the check.
BOYLE_V = (48, 46, 44, 42, 40, 38, 36, 34, 32, 30, 28, 26, 24, 23, 22, 21, 20, 19, 18, 17, 16, 15, 14, 13, 12)
BOYLE_P = (
    29.125, 30.5625, 31.9375, 33.5, 35.3125, 37.0, 39.3125, 41.625, 44.1875, 47.0625, 50.3125, 54.3125, 58.8125,
    61.3125, 64.0625, 67.0625, 70.6875, 74.125, 77.875, 82.75, 87.875, 93.0625, 100.4375, 107.8125, 117.5625,
)  # fmt: skip
# Mean distance (au) and period (years) of the planets to Saturn: handbook values. T² against a³ is Kepler's third law.
PLANETS_A = (0.3871, 0.7233, 1.0000, 1.5237, 5.2034, 9.5371)
PLANETS_T = (0.2408, 0.6152, 1.0000, 1.8808, 11.862, 29.457)


def test_boyle() -> None:
    volumes = [float(v) for v in BOYLE_V]
    assert constancy("inverse", volumes, BOYLE_P).within(0.02)
    assert supported(volumes, BOYLE_P, 0.02) == ("inverse",)


def test_kepler() -> None:
    cubes, squares = [a**3 for a in PLANETS_A], [t * t for t in PLANETS_T]
    assert supported(cubes, squares, 0.005) == ("direct",)
    assert supported(PLANETS_A, PLANETS_T, 0.05) == ()


@pytest.mark.parametrize(
    ("relation", "xs", "ys", "source"),
    [
        ("direct", (20, 40, 60, 80, 100), (7.4, 14.9, 22.1, 29.8, 37.0), "a made spring table"),
        ("square", (1, 2, 3, 4), (4.9, 19.6, 44.1, 78.4), "free fall, s = ½ × 9.8 t², arithmetic"),
        ("inverse square", (1, 2, 3, 4), (160, 40, 17.8, 10.0), "conventions file section 6 row 31, extended by arithmetic"),
        ("root", (1, 4, 9, 16), (2.01, 4.01, 6.02, 8.03), "pendulum period against length, 2π√(L/9.8) doubled, arithmetic"),
        ("exponential", (0, 1, 2, 3), (80, 40, 20, 10), "conventions file section 6 row 34: halving in equal steps"),
    ],
)
def test_each_relation_is_told_from_the_others(relation: str, xs: tuple[float, ...], ys: tuple[float, ...], source: str) -> None:
    assert supported(xs, ys, 0.02) == (relation,), source


def test_a_line_that_misses_the_origin_is_no_direct_proportion() -> None:
    """y = 3x + 5 by hand; the made spring table passes."""
    assert not directly_proportional([1.0, 2.0, 3.0, 4.0], [8.0, 11.0, 14.0, 17.0], reach=0.1)
    assert directly_proportional([20, 40, 60, 80, 100], [7.4, 14.9, 22.1, 29.8, 37.0], reach=0.1)


def _letters(names: str) -> tuple[sympy.Symbol, ...]:
    found: tuple[sympy.Symbol, ...] = sympy.symbols(names, positive=True)
    return found


def test_axes_that_make_a_straight_line() -> None:
    """Textbook results (common practice): pendulum 4π²/g; lens −1 and 1/f; emf −r and ε; decay −λ and ln N₀; photoelectric h and −φ."""
    T, L, g = _letters("T L g")
    found = linearise(T, 2 * sympy.pi * sympy.sqrt(L / g), T**2, L)
    assert found is not None
    assert found.gradient.equals(4 * sympy.pi**2 / g)
    assert found.intercept == 0
    u, v, f = _letters("u v f")
    found = linearise(1 / f, 1 / u + 1 / v, 1 / v, 1 / u)
    assert found is not None
    assert found.gradient == -1
    assert found.intercept.equals(1 / f)
    E, V, current, r = _letters("E V I r")
    found = linearise(E, V + current * r, V, current)
    assert found is not None
    assert found.gradient.equals(-r)
    assert found.intercept.equals(E)
    N, M, rate, t = _letters("N N_0 lambda t")
    found = linearise(N, M * sympy.exp(-rate * t), sympy.log(N), t)
    assert found is not None
    assert found.gradient.equals(-rate)
    assert found.intercept.equals(sympy.log(M))


def test_axes_that_make_no_straight_line() -> None:
    T, L, g = _letters("T L g")
    assert linearise(T, 2 * sympy.pi * sympy.sqrt(L / g), T, L) is None


def test_readings_of_nought_are_passed_over_not_divided_by() -> None:
    assert constancy("direct", [0.0, 1.0, 2.0], [0.0, 3.0, 6.0]).within(1e-9)
    with pytest.raises(ValueError, match="nought"):
        constancy("direct", [0.0, 1.0], [2.0, 3.0])
    assert math.isinf(constancy("direct", [1.0, 2.0], [1.0, -2.0]).spread)
