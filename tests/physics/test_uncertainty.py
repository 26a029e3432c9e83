"""Uncertainties against GUM 7.2.6, the neutral resistor example of the conventions file 1.4, and the uncertainties package's arithmetic."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marker.physics.uncertainty import (
    Combining,
    Figures,
    agrees,
    combine,
    digital_uncertainty,
    of_function,
    percentage,
    percentage_difference,
    places_match,
    power,
    propagate,
    random_uncertainty,
    reading_uncertainty,
    state,
    stated_uncertainty,
)

RESISTOR = "conventions file 1.4, recomputed: V = 7.5 ± 0.1 V, I = 1.50 ± 0.05 A, R = 5.0 Ω"


@pytest.mark.parametrize(
    ("rule", "per_cent", "ohms"),
    [("largest", 3.33, 0.17), ("root sum of squares", 3.59, 0.18), ("sum", 4.67, 0.23)],
)
def test_the_neutral_resistor(rule: Combining, per_cent: float, ohms: float) -> None:
    parts = (percentage(7.5, 0.1), percentage(1.50, 0.05))
    assert parts == pytest.approx((1.33, 3.33), abs=0.005), RESISTOR
    combined = combine(parts, rule)
    assert combined == pytest.approx(per_cent, abs=0.005), RESISTOR
    assert combined / 100 * 5.0 == pytest.approx(ohms, abs=0.005), RESISTOR
    assert str(state(5.0, combined / 100 * 5.0)) == "5.0 ± 0.2", RESISTOR + "; all three rules agree at one figure"


@pytest.mark.parametrize("rule", ["largest", "root sum of squares", "sum"])
def test_propagation_gives_what_percentages_give_for_a_quotient(rule: Combining) -> None:
    found = propagate(lambda q: q["V"] / q["I"], {"V": 7.5, "I": 1.50}, {"V": 0.1, "I": 0.05}, rule)
    assert found == pytest.approx(combine((percentage(7.5, 0.1), percentage(1.5, 0.05)), rule) / 100 * 5.0, rel=1e-8), RESISTOR


@pytest.mark.parametrize(
    ("value", "uncertainty", "figures", "written", "source"),
    [
        ("10.05762", "0.027", "two", "10.058 ± 0.027", "GUM 7.2.6: 10.057 62 Ω with 27 mΩ is 10.058 Ω"),
        ("28.05", "1", "one", "28 ± 1", "GUM 7.2.6: 28.05 kHz to 28 kHz"),
        ("4.4231", "0.1363", "two if it begins with 1", "4.42 ± 0.14", "conventions file 3.2, school practice"),
        ("4.4231", "0.1363", "one", "4.4 ± 0.1", "conventions file 1.4"),
        ("0.827", "0.119", "three-digit rule", "0.83 ± 0.12", "Particle Data Group rule, from memory"),
        ("0.827", "0.367", "three-digit rule", "0.8 ± 0.4", "Particle Data Group rule, from memory"),
        ("0.827", "0.967", "three-digit rule", "0.8 ± 1.0", "950 to 999 become 1000 with two figures, from memory"),
        ("0.827", "0.0367", "three-digit rule", "0.83 ± 0.04", "Particle Data Group rule, from memory"),
    ],
)
def test_figures_as_written(value: str, uncertainty: str, figures: Figures, written: str, source: str) -> None:
    assert str(state(value, uncertainty, figures)) == written, source


def test_an_uncertainty_may_be_rounded_up_by_half_up() -> None:
    """GUM 7.2.6 rounds 10.47 mΩ up to 11 mΩ by judgement; plain rounding to two figures gives 10 mΩ."""
    assert str(stated_uncertainty("10.47", "two")) == "10"


@pytest.mark.parametrize(
    ("value", "uncertainty", "match"),
    [("4.42", "0.14", True), ("4.4", "0.1", True), ("4.423", "0.14", False), ("4.4", "0.14", False), ("28", "1", True)],
)
def test_last_places_of_value_and_uncertainty(value: str, uncertainty: str, match: bool) -> None:
    """Rule of conventions file 1.4 and 3.2: value rounded to the uncertainty's decimal place."""
    assert places_match(value, uncertainty) is match


def test_reading_and_random_uncertainty() -> None:
    """Rules of conventions file 1.4 (from memory there); numbers worked by hand."""
    assert reading_uncertainty(1.0, "analogue") == 0.5
    assert reading_uncertainty(0.01, "digital") == 0.01
    assert digital_uncertainty("1.50") == 0.01
    assert digital_uncertainty("230") == 1.0
    assert random_uncertainty([2.31, 2.35, 2.28, 2.33, 2.33]) == pytest.approx(0.014)
    with pytest.raises(ValueError, match="two readings"):
        random_uncertainty([2.3])


def test_a_third_of_the_largest_may_be_dropped() -> None:
    """Conventions file 1.4: a component under a third of the largest may be ignored (from memory); root values by hand."""
    assert combine((3.0, 0.9), drop_below_third=True) == 3.0
    assert combine((3.0, 1.0), drop_below_third=True) == pytest.approx(math.sqrt(10.0))
    assert combine((), "sum") == 0.0


def test_powers_and_functions() -> None:
    """Textbook rule n × percentage (common practice); half-range of sin θ worked by hand from a sine table: 0.5150, 0.4848."""
    assert power(2.0, 3) == 6.0
    assert power(2.0, 0.5) == 1.0
    assert of_function(lambda d: math.sin(math.radians(d)), 30.0, 1.0) == pytest.approx((0.5150 - 0.4848) / 2, abs=5e-5)


@pytest.mark.parametrize(
    ("value", "uncertainty", "accepted", "other", "within"),
    [(9.7, 0.2, 9.81, 0.0, True), (9.5, 0.2, 9.81, 0.0, False), (9.6, 0.21, 9.81, 0.0, True), (1.0, 0.1, 1.3, 0.2, True)],
)
def test_agreement_with_an_accepted_value(value: float, uncertainty: float, accepted: float, other: float, within: bool) -> None:
    """Ranges meet or they do not, by hand; ends count (common practice, no source)."""
    assert agrees(value, uncertainty, accepted, other) is within


def test_percentage_difference_has_its_sign() -> None:
    assert percentage_difference(9.5, 10.0) == pytest.approx(-5.0)


CASES: tuple[tuple[Callable[..., float], dict[str, float], dict[str, float]], ...] = (
    (lambda q: q["s"] / q["t"], {"s": 46.0, "t": 10.4}, {"s": 0.5, "t": 0.3}),
    (lambda q: 4 * math.pi**2 * q["L"] / q["T"] ** 2, {"L": 1.0, "T": 2.01}, {"L": 0.002, "T": 0.02}),
    (lambda q: q["a"] + q["b"] - q["c"], {"a": 3.0, "b": 4.0, "c": 2.0}, {"a": 0.1, "b": 0.2, "c": 0.2}),
    (lambda q: math.sqrt(2 * q["E"] / q["m"]), {"E": 18500.0, "m": 645.0}, {"E": 300.0, "m": 5.0}),
)


@pytest.mark.parametrize("case", range(len(CASES)))
def test_root_sum_of_squares_is_the_law_of_propagation(case: int) -> None:
    """GUM 5.1.2 with derivatives by SymPy as the independent reference."""
    import sympy

    function, values, spreads = CASES[case]
    letters = {n: sympy.Symbol(n, positive=True) for n in values}
    formulas = ("s/t", "4*pi**2*L/T**2", "a+b-c", "sqrt(2*E/m)")
    expression = eval(formulas[case], {"pi": sympy.pi, "sqrt": sympy.sqrt, **letters})  # our own text, in a test
    at = {letters[n]: v for n, v in values.items()}
    variance = sum(float(sympy.diff(expression, x).subs(at) ** 2) * spreads[n] ** 2 for n, x in letters.items())
    assert propagate(function, values, spreads) == pytest.approx(math.sqrt(variance), rel=1e-8)


@given(st.lists(st.floats(1e-6, 1e6), min_size=1, max_size=6))
def test_order_of_the_three_rules(parts: list[float]) -> None:
    """Property by the triangle inequality: largest ≤ root sum of squares ≤ sum."""
    largest, root, total = (combine(parts, r) for r in ("largest", "root sum of squares", "sum"))
    assert largest <= root * (1 + 1e-12)
    assert root <= total * (1 + 1e-12)
