"""Probes and SymPy on the same statements: what one finds true the other confirms; disagreement would be a fault of ours.

Relationships and rearrangements are standard physics (OpenStax, College Physics 2e, chapters 2, 6, 7, 20, 22 and 25).
"""

from __future__ import annotations

import pytest

from marker.judging.confirm import confirmed
from marker.reading import read_relation
from marker.scheme.compiled import CompiledCalculation
from tests.awarding.parts import one_part

SPEED = {"given": {"m": "645 kg", "E_k": "18.5 kJ"}, "find": "v", "using": ["E_k = m*v^2/2"]}
LIFT = {"given": {"m": "1350 kg", "h": "420 m", "t": "390 s"}, "find": "P", "using": ["E_p = m*g*h", "P = E_p/t"], "marks": 4}
WIRE = {"given": {"B": "0.36 T", "I": "7.5 A", "L": "24 cm", "θ": "52°"}, "find": "F", "using": ["F = B*I*L*sin(θ)"]}
ACROSS = {"given": {"B": "0.36 T", "I": "7.5 A", "L": "24 cm", "θ": "90°"}, "find": "F", "using": ["F = B*I*L*sin(θ)"]}
REST = {"given": {"u": "0 m/s", "a": "2.4 m/s^2", "s": "18 m"}, "find": "v", "using": ["v^2 = u^2 + 2*a*s"]}
PATH = {"given": {"m": "9.11e-31 kg", "v": "6.0e7 m/s", "q": "1.60e-19 C", "B": "0.50 T"}, "find": "r", "using": ["B*q*v = m*v^2/r"]}
GLASS = {"given": {"θ_1": "47°", "n": "1.52"}, "find": "θ_2", "using": ["n = sin(θ_1)/sin(θ_2)"]}
PARALLEL = {"given": {"R_1": "3.0 Ω", "R_2": "6.0 Ω"}, "find": "R", "using": ["1/R = 1/R_1 + 1/R_2"]}

TRUE = (
    (SPEED, "v = sqrt(2*E_k/m)"),
    (SPEED, "2*E_k = m*v^2"),
    (SPEED, "m = 2*E_k/v^2"),
    (LIFT, "P = m*g*h/t"),
    (LIFT, "P*t = m*g*h"),
    (WIRE, "sin(θ) = F/(B*I*L)"),
    (WIRE, "B = F/(I*L*sin(θ))"),
    (ACROSS, "F = B*I*L"),
    (REST, "v = sqrt(2*a*s)"),
    (PATH, "r = m*v/(B*q)"),
    (PATH, "B*q*r = m*v"),
    (GLASS, "sin(θ_2) = sin(θ_1)/n"),
    (GLASS, "θ_2 = asin(sin(θ_1)/n)"),
    (PARALLEL, "R = R_1*R_2/(R_1 + R_2)"),
    (PARALLEL, "R*(R_1 + R_2) = R_1*R_2"),
)
FALSE = (
    (SPEED, "v = 2*E_k/m"),
    (SPEED, "v = sqrt(E_k/m)"),
    (LIFT, "P = m*g*h*t"),
    (WIRE, "F = B*I*L*cos(θ)"),
    (PATH, "r = m*v/B/q^2"),
    (GLASS, "θ_2 = θ_1/n"),
    (PARALLEL, "R = 1/R_1 + 1/R_2"),
    (PARALLEL, "R = R_1 + R_2"),
)


def equation(part: CompiledCalculation, text: str):  # type: ignore[no-untyped-def]
    left, right = read_relation(text, part.table).sides
    return left, right


@pytest.mark.parametrize(("keys", "text"), TRUE, ids=lambda v: v if isinstance(v, str) else "")
def test_both_find_it_true(keys: dict[str, object], text: str) -> None:
    part = one_part(**keys).compiled
    statement = equation(part, text)
    assert part.system.support(statement)
    assert confirmed(part, statement) is True


@pytest.mark.parametrize(("keys", "text"), FALSE, ids=lambda v: v if isinstance(v, str) else "")
def test_both_find_it_false(keys: dict[str, object], text: str) -> None:
    part = one_part(**keys).compiled
    statement = equation(part, text)
    assert part.system.support(statement) is None
    assert confirmed(part, statement) is False


def test_a_triviality_shows_nothing() -> None:
    part = one_part(**SPEED).compiled
    assert part.system.support(equation(part, "m*v = v*m")) == frozenset()


def test_support_names_the_relationships() -> None:
    part = one_part(**LIFT).compiled
    assert part.system.support(equation(part, "P = m*g*h/t")) == {0, 1}
    assert part.system.support(equation(part, "P = E_p/t")) == {1}


@pytest.mark.parametrize("text", ["v = m^(9^9)", "v = m^99", "v = " + "+".join(["m*E_k"] * 60)])
def test_long_or_steep_statements_are_not_asked(text: str) -> None:
    part = one_part(**SPEED).compiled
    assert confirmed(part, equation(part, text)) is None
