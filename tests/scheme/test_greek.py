"""Greek letters by name: a scheme written with theta and lambda_0 is the same scheme as one with θ and λ_0.

Names of the letters: ISO 80000-1:2009 (E), clause 7.1 and annex on Greek letters. Cases: common practice, no source.
"""

import tomllib

import pytest

from marker.marking import mark_response
from marker.scheme.greek import LETTERS, greek, greek_keys
from marker.scheme.paper import build_paper

SPELT = (
    ("theta", "θ"), ("theta_1", "θ_1"), ("lambda_0", "λ_0"),
    ("F = B*I*L*sin(theta)", "F = B*I*L*sin(θ)"), ("Delta_T", "ΔT"), ("DeltaT", "ΔT"),
    ("Delta lambda", "Δλ"), ("v = omega*r", "v = ω*r"), ("epsilon_0", "ε_0"), ("mu*N", "μ*N"), ("rho*g*h", "ρ*g*h"),
)  # fmt: skip
LEFT = ("Beta", "alphabet", "thetas", "E_k", "pi", "kinetic energy", "munition")


@pytest.mark.parametrize(("typed", "meant"), SPELT)
def test_names_become_letters(typed: str, meant: str) -> None:
    assert greek(typed) == meant


@pytest.mark.parametrize("typed", LEFT)
def test_other_words_stay(typed: str) -> None:
    assert greek(typed) == typed


def test_every_letter_of_the_list_is_one_sign() -> None:
    """Omicron, iota and upsilon look like Latin letters, and pi is built in; the rest of the usual ones are there."""
    signs = list(LETTERS.values())
    assert len(set(signs)) == len(signs) and all(len(s) == 1 for s in signs)
    assert {"α", "β", "γ", "δ", "ε", "θ", "λ", "μ", "ρ", "σ", "φ", "ω", "Δ", "Φ", "Ψ", "Ω"} <= set(signs)


def test_keys_of_the_data_sheet() -> None:
    assert greek_keys({"epsilon_0": "8.85e-12 F/m"}) == {"ε_0": "8.85e-12 F/m"}


IN_NAMES = """
[paper]
title = "Winch cable"
data = { mu_0 = "1.26e-6 H/m" }
[[part]]
name = "1"
marks = 3
given = { L = "24 cm", I = "7.5 A", B = "0.36 T", theta = "52°" }
find = "F"
using = ["F = B*I*L*sin(theta)"]
names = { theta = ["angle to the field"] }
[[part]]
name = "2"
marks = 3
given = { n = "2", lambda = "656 nm", d = "3.2 um" }
find = "theta_2"
using = ["d*sin(theta_2) = n*lambda"]
points = [{ kind = "relationship" }, { kind = "value", of = "theta_2" }, { kind = "answer" }]
"""
RESPONSES = (
    ("1", ("F = BIL sin θ", "F = 0.36 × 7.5 × 0.24 × sin 52", "F = 0.51 N")),
    ("1", ("F = B*I*L*sin(theta) = 0.51 N",)),
    ("2", ("d sin θ2 = nλ", "θ2 = 24.2°")),
)


@pytest.mark.parametrize(("part", "lines"), RESPONSES)
def test_both_spellings_mark_alike(part: str, lines: tuple[str, ...]) -> None:
    spelt = build_paper(tomllib.loads(IN_NAMES))
    signs = build_paper(tomllib.loads(_in_signs(IN_NAMES)))
    assert mark_response(spelt.part(part), lines) == mark_response(signs.part(part), lines)
    assert mark_response(spelt.part(part), lines).mark == 3


def _in_signs(text: str) -> str:
    for name, sign in (("theta_2", "θ_2"), ("theta", "θ"), ("lambda", "λ"), ("mu_0", "μ_0")):
        text = text.replace(f"{name} =", f'"{sign}" =').replace(name, sign)
    return text
