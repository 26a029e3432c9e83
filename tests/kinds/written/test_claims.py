"""What typed answers claim: one form for the many ways to say a thing. Source: common practice, no source."""

from dataclasses import dataclass

import pytest

from marker.kinds.written.claims.claims import claims
from marker.kinds.written.claims.entail import agree, opposed
from marker.kinds.written.claims.model import Claim
from marker.kinds.written.claims.speech import speech
from marker.kinds.written.claims.tokens import Speech

PLAIN = speech(("The current in the heating wire. The kinetic energy of the particles. Photon, work function, alpha, steel, time.",), {})


def said(typed: str, words: Speech = PLAIN) -> tuple[Claim, ...]:
    return claims(tuple(typed.split("\n")), words).claims


WAYS = (
    # typed, way, what it is said of
    ("low current", "down", "current"),
    ("the current is small", "down", "current"),
    ("less current flows", "down", "current"),
    ("the current drops", "down", "current"),
    ("this reduces the current", "down", "current"),
    ("high voltage reduces the current", "down", "current"),
    ("a higher voltage gives a lower current", "down", "current"),
    ("I is small", "down", "current"),
    ("lower I", "down", "current"),
    ("I↓", "down", "current"),
    ("I = P/V is small", "down", "current"),
    ("not much current flows", "down", "current"),
    ("as the voltage rises the current falls", "down", "current"),
    ("as V increases I decreases", "down", "current"),
    ("KE const", "steady", "kinetic_energy"),
    ("E_k stays the same", "steady", "kinetic_energy"),
    ("the kinetic energy does not change", "steady", "kinetic_energy"),
    ("there is no change in the kinetic energy", "steady", "kinetic_energy"),
    ("the p.d. across the coil becomes larger", "up", "voltage"),
    ("the number of collisions increases", "up", "collide"),
    ("more collisions per second", "up", "collide"),
    ("they hit the walls more often", "up", "collide"),
    ("takes longer", "up", "time"),
    ("it loses energy", "down", "energy"),
    ("the momentum change is bigger", "up", "change"),
)


@pytest.mark.parametrize(("typed", "way", "head"), WAYS, ids=lambda x: str(x))
def test_a_change_is_said_of_its_quantity(typed: str, way: str, head: str) -> None:
    assert any(c.kind == "way" and c.way == way and head in c.heads for c in said(typed))


ACTS = (
    # two wordings of one action, and a third that says the contrary
    ("the steel absorbs alpha", "alpha is absorbed by the steel", "alpha passes through the steel"),
    ("alpha is stopped by the steel", "alpha cannot get through the steel", "alpha penetrates the steel"),
    ("alpha wont go thru the steel", "No alpha gets through the steel", "alpha gets through"),
    ("no alpha reaches the wire", "alpha does not reach the wire", "alpha reaches the wire"),
    ("it stops alpha from reaching the wire", "alpha is absorbed before reaching the wire", "the alpha arrives at the wire"),
    ("they move closer together", "they approach each other", "they move apart"),
)


@pytest.mark.parametrize("row", ACTS, ids=lambda r: r[0])
def test_active_and_passive_denied_and_contrary(row: tuple[str, str, str]) -> None:
    one, other, contrary = (tuple(c for c in said(t) if c.kind == "act") for t in row)
    assert any(agree(b, a) for a in one for b in other)
    assert any(opposed(c, a) for a in one for c in contrary)


@dataclass(frozen=True)
class Side:
    typed: str
    way: str
    left: str
    right: str


COMPARED = (
    Side("the photon energy is less than the work function", "less", "energy", "work_function"),
    Side("hf < φ", "less", "energy", "work_function"),
    Side("the photon has less energy than the work function", "less", "energy", "work_function"),
    Side("the work function is greater than the photon energy", "more", "work_function", "energy"),
    Side("the energy is below the work function", "less", "energy", "work_function"),
)


@pytest.mark.parametrize("row", COMPARED, ids=lambda r: r.typed)
def test_comparisons_have_two_sides(row: Side) -> None:
    assert any(c.kind == "compare" and c.way == row.way and row.left in c.left and row.right in c.right for c in said(row.typed))


def test_an_equation_alone_says_nothing_of_change() -> None:
    assert not [c for c in said("P = I²R") if c.kind != "is"]
    assert not [c for c in said("V = Q/C, F = Δp/t") if c.kind != "is"]


def test_it_stands_for_what_was_spoken_of() -> None:
    way = next(c for c in said("The current changes. Then it falls.") if c.way == "down")
    assert "current" in way.heads


@pytest.mark.parametrize("typed", ("the foton has less enegy", "the photon has les energy", "THE PHOTON HAS LESS ENERGY"))
def test_spelling_by_letters_or_by_sound(typed: str) -> None:
    assert any(c.way == "down" and {"energy", "photon"} <= c.words for c in said(typed))
