"""Uncertainties of measurements as school physics has them: of a reading, of a mean, combined, and written down.

Rules for combining (ruling `uncertainty_rule`): root sum of squares (GUM, SQA Advanced Higher), sum (A level, IB), largest (SQA Higher).
Sources: JCGM 100:2008 (GUM) clauses 5.1 and 7.2.6; conventions file sections 1.4 and 3.2.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from marker.physics.rounding import Rule, as_decimal, last_place, plain, round_to_figures, round_to_place

Combining = Literal["root sum of squares", "sum", "largest"]
Figures = Literal["one", "two", "two if it begins with 1", "three-digit rule"]
_THIRD = 1.0 / 3.0


def fractional(value: float, absolute: float) -> float:
    """Absolute uncertainty over the value, no unit. Raises ZeroDivisionError for a value of nought."""
    return abs(absolute / value)


def percentage(value: float, absolute: float) -> float:
    """Absolute uncertainty as a percentage of the value: 0.5 in 46.0 gives 1.087."""
    return 100.0 * fractional(value, absolute)


def absolute(value: float, per_cent: float) -> float:
    """The percentage uncertainty as an absolute one, in the value's unit."""
    return abs(value) * per_cent / 100.0


def mean(readings: Sequence[float]) -> float:
    """Arithmetic mean. Raises ValueError when there are no readings."""
    if not readings:
        raise ValueError("no readings")
    return math.fsum(readings) / len(readings)


def random_uncertainty(readings: Sequence[float]) -> float:
    """Random uncertainty in the mean: (largest − smallest) / number of readings. Raises ValueError for fewer than two readings."""
    if len(readings) < 2:
        raise ValueError("at least two readings are needed")
    return (max(readings) - min(readings)) / len(readings)


def reading_uncertainty(division: float, scale: Literal["analogue", "digital"]) -> float:
    """Uncertainty of one reading: half the smallest division of an analogue scale, one in the last digit of a digital one."""
    return abs(division) / 2.0 if scale == "analogue" else abs(division)


def digital_uncertainty(typed: str) -> float:
    """One in the last digit shown: "1.50" gives 0.01."""
    return float(Decimal((0, (1,), last_place(typed))))


def combine(components: Sequence[float], rule: Combining = "root sum of squares", *, drop_below_third: bool = False) -> float:
    """Uncertainties combined: absolute ones of terms, or percentages of factors. Nought when there are none.

    drop_below_third    leave out a component less than a third of the largest (allowed at Advanced Higher).
    """
    sizes = [abs(c) for c in components]
    if not sizes:
        return 0.0
    if drop_below_third:
        sizes = [s for s in sizes if s >= max(sizes) * _THIRD]
    if rule == "sum":
        return math.fsum(sizes)
    return max(sizes) if rule == "largest" else math.hypot(*sizes)


def power(per_cent: float, exponent: float) -> float:
    """Percentage uncertainty of a power: the percentage times the exponent (½ for a square root)."""
    return abs(exponent) * per_cent


def of_function(function: Callable[[float], float], value: float, absolute: float) -> float:
    """Uncertainty of a function of one quantity: half the range from value − absolute to value + absolute."""
    return abs(function(value + absolute) - function(value - absolute)) / 2.0


def contributions(
    function: Callable[[Mapping[str, float]], float], values: Mapping[str, float], uncertainties: Mapping[str, float]
) -> dict[str, float]:
    """What each quantity's uncertainty does to the result on its own, to first order: |∂f/∂x| Δx, in the result's unit.

    For a product this is the result times the fractional uncertainty times the power; for a sum the absolute uncertainty itself.
    Central differences of 10⁻⁴ of each uncertainty, with one Richardson step.
    """
    found: dict[str, float] = {}
    for name, spread in uncertainties.items():
        found[name] = abs(_slope(function, values, name, spread) * spread) if spread else 0.0
    return found


def _slope(function: Callable[[Mapping[str, float]], float], values: Mapping[str, float], name: str, spread: float) -> float:
    def difference(step: float) -> float:
        up, down = values[name] + step, values[name] - step
        return (function({**values, name: up}) - function({**values, name: down})) / (up - down)

    step = max(abs(spread) * 1e-3, abs(values[name]) * 1e-5)
    return (4.0 * difference(step / 2.0) - difference(step)) / 3.0


def propagate(
    function: Callable[[Mapping[str, float]], float],
    values: Mapping[str, float],
    uncertainties: Mapping[str, float],
    rule: Combining = "root sum of squares",
    *,
    drop_below_third: bool = False,
) -> float:
    """Absolute uncertainty of a result by the rule, from each quantity's contribution."""
    return combine(tuple(contributions(function, values, uncertainties).values()), rule, drop_below_third=drop_below_third)


@dataclass(frozen=True, slots=True)
class Stated:
    """A result written down: value and uncertainty to the same decimal place, as decimals that show their figures."""

    value: Decimal
    uncertainty: Decimal

    def __str__(self) -> str:
        return f"{plain(self.value)} ± {plain(self.uncertainty)}"


def stated_uncertainty(uncertainty: float | str | Decimal, figures: Figures = "one", rule: Rule = "half up") -> Decimal:
    """An uncertainty to the figures a rule of writing allows.

    "one" school practice; "two if it begins with 1" the same with 0.14 kept; "two" the most GUM 7.2.6 finds needed; "three-digit rule"
    (Particle Data Group): leading digits 100 to 354 keep two, 355 to 949 one, 950 to 999 become 1000 with two.
    """
    number = as_decimal(uncertainty)
    if not number:
        return number
    if figures == "two":
        return round_to_figures(number, 2, rule)
    if figures == "three-digit rule":
        leading = int(round_to_figures(number, 3, rule).scaleb(2 - number.adjusted()))
        if leading <= 354:
            return round_to_figures(number, 2, rule)
        return round_to_figures(number, 1, rule) if leading < 950 else round_to_place(number, number.adjusted(), rule)
    if figures == "two if it begins with 1" and round_to_figures(number, 2, rule).as_tuple().digits[0] == 1:
        return round_to_figures(number, 2, rule)
    return round_to_figures(number, 1, rule)


def matched(value: float | str | Decimal, uncertainty: Decimal | str, rule: Rule = "half up") -> Decimal:
    """The value rounded to the last place its uncertainty shows: 10.057 62 with 0.027 gives 10.058."""
    return round_to_place(value, last_place(str(uncertainty)), rule)


def state(value: float | str | Decimal, uncertainty: float | str | Decimal, figures: Figures = "one") -> Stated:
    """A result and its uncertainty written to matching places."""
    short = stated_uncertainty(uncertainty, figures)
    return Stated(matched(value, short), short)


def places_match(value: str, uncertainty: str) -> bool:
    """True when typed value and uncertainty end at the same decimal place: 4.42 ± 0.14 do, 4.4 ± 0.14 and 4.423 ± 0.14 do not."""
    return last_place(value) == last_place(uncertainty)


def agrees(value: float, uncertainty: float, accepted: float, accepted_uncertainty: float = 0.0) -> bool:
    """True when an accepted value lies within the uncertainties: the two ranges meet, ends included."""
    gap, reach = abs(value - accepted), abs(uncertainty) + abs(accepted_uncertainty)
    return gap <= reach or math.isclose(gap, reach, rel_tol=1e-9)


def percentage_difference(value: float, accepted: float) -> float:
    """How far a result is from the accepted value, as a percentage of the accepted value, with its sign."""
    return 100.0 * (value - accepted) / abs(accepted)
