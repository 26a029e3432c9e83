"""Rounding and significant figures against published rules and examples. Conventions file section 3.3."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marker.physics.rounding import (
    Rule,
    as_decimal,
    last_place,
    plain,
    round_to_figures,
    round_to_place,
    rounding_interval,
    rounds_to,
    significant_figures,
    truncated,
)

ISO = "ISO 80000-1 Annex B (as restated in the conventions file 3.3)"
RULES: tuple[Rule, ...] = ("half up", "half even")
AS2706 = "AS 2706: leading zeros never count, trailing zeros of whole numbers depend on known accuracy"


@pytest.mark.parametrize(
    ("value", "place", "even", "up", "source"),
    [
        ("12.25", -1, "12.2", "12.3", ISO),
        ("12.35", -1, "12.4", "12.4", ISO),
        ("12.254", -1, "12.3", "12.3", ISO + ", in one step"),
        ("12.223", -1, "12.2", "12.2", ISO),
        ("1225.0", 1, "1.22E+3", "1.23E+3", ISO + ", multiples of 10"),
        ("1235.0", 1, "1.24E+3", "1.24E+3", ISO + ", multiples of 10"),
        ("-12.25", -1, "-12.2", "-12.3", ISO + ": larger magnitude"),
    ],
)
def test_rounding_to_a_place(value: str, place: int, even: str, up: str, source: str) -> None:
    assert round_to_place(value, place, "half even") == Decimal(even), source
    assert round_to_place(value, place, "half up") == Decimal(up), source


@pytest.mark.parametrize("value", [12.25, 12.35, -0.125, 2.5, 3.5, 1e-7, 0.1363])
def test_half_even_is_what_python_does_with_exact_ties(value: float) -> None:
    """Independent reference: Python's own round() of a Decimal is half to even."""
    assert round_to_place(value, -1, "half even") == round(Decimal(repr(value)), 1)


@pytest.mark.parametrize(
    ("value", "typed", "right", "source"),
    [
        ("12.25", "12.3", True, "either way at an exact tie, conventions file 3.3"),
        ("12.25", "12.2", True, "either way at an exact tie, conventions file 3.3"),
        ("12.254", "12.2", False, ISO + ": not in stages"),
        ("5.67", "5.7", True, "common practice, no source"),
        ("5.67", "5.6", False, "conventions file 1.3: wrong rounding, from memory"),
        ("8.16", "8.2", True, "conventions file 1.3"),
        ("8.16", "8", True, "a right rounding; whether it has enough figures is another ruling"),
        ("8.1576", "8.16", True, "conventions file 1.3"),
        ("273.15", "300", True, "300 may claim one figure, conventions file 3.3"),
        ("273.15", "300.", False, "a point after whole-number zeros makes them count, AS 2706"),
        ("0.1363", "0.14", True, "arithmetic"),
        ("14262", "1.43e4", True, "arithmetic"),
    ],
)
def test_a_right_rounding(value: str, typed: str, right: bool, source: str) -> None:
    assert rounds_to(value, typed) is right, source


def test_digits_cut_off() -> None:
    """Conventions file 1.3: 5.67 written 5.6 (from memory)."""
    assert truncated("5.67", "5.6")
    assert not truncated("5.67", "5.7")
    assert not truncated("5.67", "5.5")


@pytest.mark.parametrize(
    ("typed", "figures", "source"),
    [
        ("300", (1, 3), AS2706),
        ("300.", (3, 3), AS2706),
        ("300.0", (4, 4), AS2706),
        ("0.0140", (3, 3), AS2706),
        ("0.00014", (2, 2), AS2706),
        ("1050", (3, 4), AS2706),
        ("3.0e8", (2, 2), "notation of powers shows the figures, common practice"),
        ("30e7", (1, 2), "common practice, no source"),
        ("0", (1, 1), "common practice, no source"),
        ("431.25", (5, 5), AS2706),
    ],
)
def test_significant_figures(typed: str, figures: tuple[int, int], source: str) -> None:
    assert significant_figures(typed) == figures, source


@pytest.mark.parametrize(
    ("value", "figures", "shown"),
    [("0.01363", 2, "0.014"), ("9.96", 2, "10"), ("14262", 3, "1.43e4"), ("0.000027", 1, "3e-5"), ("91.44", 2, "91")],
)
def test_rounding_to_figures(value: str, figures: int, shown: str) -> None:
    """Arithmetic; 36 in is 91 cm rather than 91.44 cm (NIST, conversions should not add precision)."""
    assert Decimal(plain(round_to_figures(value, figures))) == Decimal(shown)


def test_the_interval_of_a_typed_number() -> None:
    assert rounding_interval("4.42") == (Decimal("4.415"), Decimal("4.425"))
    assert rounding_interval("300") == (Decimal("299.5"), Decimal("300.5"))


@pytest.mark.parametrize("text", ["", "abc", "nan", "1e999", "9" * 200, "1_0x", "--3"])
def test_what_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="number"):
        as_decimal(text)


@given(st.decimals(min_value=-10**9, max_value=10**9, places=6), st.integers(1, 8))
def test_rounded_values_are_right_roundings(value: Decimal, figures: int) -> None:
    """Property: what we round, we accept, by both rules; two units of the last place away is refused."""
    for rule in RULES:
        rounded = round_to_figures(value, figures, rule)
        assert rounds_to(value, str(rounded))
        far = str(rounded + 2 * Decimal((0, (1,), last_place(str(rounded)))))
        assert not rounds_to(value, far if set(far) & set("E.") else far + ".")
