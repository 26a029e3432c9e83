"""Every relationship of every sheet: built as documented, its quantities known, its dimensions agreed by pint."""

import random
import re
from itertools import pairwise
from typing import Any

import pytest
from scipy.optimize import brentq

from .dimensions import balanced
from .files import REAL, constants, quantities, relationships, sheets
from .plain import evaluate, letters, sides

KEYS = {"name", "names", "equation", "quantities", "constants", "when", "special_of", "sets", "cues", "domain", "units", "source"}
DOMAIN = re.compile(r"positive|not negative|any sign|whole number|at least 1|0 to 1|0 to (90|180) degrees")
# What final-year physics covers, as issue 6 lists it; not a published list.
TOPICS = {
    "motion", "forces", "momentum", "energy", "circular_motion", "rotation", "oscillations", "gravitation", "geometry", "materials",
    "fluids", "thermal", "gases", "electricity", "dc_circuits", "electric_fields", "capacitors", "magnetism", "induction", "ac", "waves",
    "optics", "quantum", "relativity", "nuclear", "astrophysics", "uncertainties", "graphs",
}  # fmt: skip
EVERY = [pytest.param(r, id=name) for name, r in relationships().items()]
SPECIAL = [pytest.param(r, id=name) for name, r in relationships().items() if "special_of" in r]


def test_topics_are_covered() -> None:
    assert {s["topic"] for s in sheets().values()} == TOPICS == set(sheets())
    assert len(relationships()) >= 170


def test_no_name_is_used_twice() -> None:
    """A name in `using` means one relationship, whatever its case."""
    names = [n.casefold() for sheet in sheets().values() for r in sheet["relationship"] for n in (r["name"], *r.get("names", []))]
    assert sorted(n for n in set(names) if names.count(n) > 1) == []


@pytest.mark.parametrize("r", EVERY)
def test_built_as_documented(r: dict[str, Any]) -> None:
    assert set(r) <= KEYS
    assert r["source"].strip()
    assert not any("=" in n for n in (r["name"], *r.get("names", []))), "an equation in `using` is always an equation"
    named = set(r["quantities"]) | set(r.get("constants", []))
    assert letters(r["equation"]) == named
    assert set(r["quantities"]).isdisjoint(r.get("constants", []))
    assert set(r.get("constants", [])) <= set(constants())
    for symbol, quantity in r["quantities"].items():
        usual = quantities()[quantity]["symbols"]
        assert symbol in usual or symbol.split("_")[0] in {s.split("_")[0] for s in usual}
    assert set(r.get("domain", {})) | set(r.get("units", {})) <= named
    assert all(DOMAIN.fullmatch(d) for d in r.get("domain", {}).values())


@pytest.mark.parametrize("r", EVERY)
def test_dimensions_agree(r: dict[str, Any]) -> None:
    """Judge: pint."""
    assert balanced(r), r["equation"]


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("Ohm's law", "V = I/R"),
        ("kinetic energy", "E_k = 1/2*m*v"),
        ("displacement and time at constant acceleration", "s = u*t + 1/2*a*t"),
        ("period of a simple pendulum", "T = 2*pi*sqrt(g/l)"),
        ("charging of a capacitor, potential difference", "V = V_0*(1 - exp(-t/R))"),
        ("resistors in parallel", "R = 1/R_1 + 1/R_2"),
        ("gradient", "m = (x_2 - x_1)/(y_2 - y_1)"),
    ],
)
def test_a_wrong_equation_does_not_balance(name: str, wrong: str) -> None:
    """The check above can fail: common slips, no source."""
    assert not balanced(relationships()[name], wrong)


@pytest.mark.parametrize("r", SPECIAL)
def test_a_special_form_follows_from_the_general_one(r: dict[str, Any]) -> None:
    """A solution of the special equation, with its `sets` put in, solves the general one: checked at drawn numbers."""
    general = relationships()[r["special_of"]]
    draw = random.Random(r["name"])
    for _ in range(4):
        drawn = {s: draw.uniform(0.2, 1.4) for s in sorted(letters(general["equation"]) | letters(r["equation"]))}
        values = _on_the_curve(r["equation"], drawn)
        full = {**values, **{s: evaluate(text, values, REAL) for s, text in r["sets"].items()}}
        left, right = (evaluate(side, full, REAL) for side in sides(general["equation"]))
        assert left == pytest.approx(right, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("r", SPECIAL)
def test_a_special_form_says_when(r: dict[str, Any]) -> None:
    general = relationships()[r["special_of"]]
    assert r["when"]
    assert set(r["sets"]) <= letters(general["equation"]) | letters(r["equation"])


def _on_the_curve(equation: str, values: dict[str, float]) -> dict[str, float]:
    """The values with one symbol changed so that the equation holds. Raises AssertionError when no symbol can do it."""
    for name in sorted(letters(equation)):
        root = _root(equation, name, values)
        if root is not None:
            return {**values, name: root}
    raise AssertionError(f"no solution of {equation} near {values}")


def _root(equation: str, name: str, values: dict[str, float]) -> float | None:
    """A value of one symbol between a millionth and a thousand, of either sign, that makes the equation hold."""
    left, right = sides(equation)

    def gap(x: float) -> float:
        here = {**values, name: x}
        return float(evaluate(left, here, REAL) - evaluate(right, here, REAL))

    grid = [10 ** (k / 10) for k in range(-60, 31)]
    for low, high in [*pairwise(grid), *pairwise([-x for x in grid])]:
        try:
            if gap(low) * gap(high) <= 0:
                return float(brentq(gap, low, high, xtol=1e-15, rtol=1e-14))
        except (ValueError, ZeroDivisionError, OverflowError):
            continue
    return None
