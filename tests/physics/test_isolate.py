"""Letters isolated without SymPy, and identities told without it: SymPy says the same, tree for tree."""

from __future__ import annotations

import re

import pytest

from marker.expression import Expr, Number
from marker.physics.algebra import NotSolved, follows_by_sympy, together_by_sympy
from marker.physics.isolate import isolated
from marker.physics.precise import identical
from marker.reading import read_relation
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.sheets import SheetRelationship, sheet_relationships

Equation = tuple[Expr, Expr]

# A topic's rows are gone through with one letter each, another one for each row: all letters of all rows would take SymPy a minute.
TOPICS = sorted({row.topic for row in sheet_relationships()})

MORE = (
    ("P = 0.5*ρ*A*v^3", "ρ"),
    ("4.18*m*T = 1.5*Q", "T"),
    ("-F = m*(-a)", "F"),
    ("v^2 = u^2 + 2*(-a)*s", "a"),
    ("E - W = m*g*h", "W"),
    ("m*g*sin(θ) - F = m*a", "F"),
    ("n = sin(α)/sin(β)", "β"),
    ("E = k*x^2/2", "x"),
    ("1/f = T", "f"),
)
LEFT_TO_SYMPY = (
    ("1/R = 1/A + 1/B", "R"),
    ("I = E/(R + r)", "I"),
    ("T = 2*π*sqrt(m/k)", "k"),
    ("s = u*t + a*t^2/2", "t"),
    ("m*u = m*v + M*w", "m"),
    ("v^2 = 3*k*T/m", "v"),
)


def equation(text: str, letters: str = "") -> Equation:
    """The typed equation; its letters are those that stand by themselves, where none are named."""
    names = letters.split() or sorted(set(re.findall(r"(?<![A-Za-z])[A-Za-zα-ω](?![A-Za-z])", text)))
    left, right = read_relation(text, SymbolTable(tuple(SymbolEntry(name=n) for n in names))).sides
    return left, right


def of_row(row: SheetRelationship) -> Equation:
    return equation(row.equation, " ".join([*row.quantities, *row.constants]))


def by_sympy(relation: Equation, letter: str) -> tuple[Expr, ...] | None:
    try:
        return tuple(branch[0] for branch in together_by_sympy((relation,), (letter,)))
    except NotSolved:
        return None


@pytest.mark.parametrize("topic", TOPICS)
def test_sheets_are_solved_as_sympy_solves_them(topic: str) -> None:
    rows = [r for r in sheet_relationships() if r.topic == topic]
    cases = [(r, sorted([*r.quantities, *r.constants])) for r in rows]
    chosen = [(r.equation, of_row(r), names[k % len(names)]) for k, (r, names) in enumerate(cases)]
    found = [(text, relation, letter, isolated(relation, letter)) for text, relation, letter in chosen]
    here = [(text, relation, letter, trees) for text, relation, letter, trees in found if trees is not None]
    wrong = [(text, letter) for text, relation, letter, trees in here if by_sympy(relation, letter) != trees]
    assert not wrong


def test_most_of_the_sheets_do_without_sympy() -> None:
    cases = [(of_row(r), n) for r in sheet_relationships() for n in (*r.quantities, *r.constants)]
    assert sum(isolated(relation, n) is not None for relation, n in cases) > 0.6 * len(cases)


@pytest.mark.parametrize(("text", "letter"), MORE)
def test_numbers_and_signs(text: str, letter: str) -> None:
    relation = equation(text)
    found = isolated(relation, letter)
    assert found is not None
    assert found == by_sympy(relation, letter)


@pytest.mark.parametrize(("text", "letter"), LEFT_TO_SYMPY)
def test_what_may_be_written_in_several_ways_is_left_to_sympy(text: str, letter: str) -> None:
    relation = equation(text)
    assert isolated(relation, letter) is None
    assert by_sympy(relation, letter)


IDENTITIES = (
    "v = sqrt(2*E/m)",
    "E = m*v^2/2",
    "2*E = v^2*m",
    "v = sqrt(E/m)",
    "E = m*v^2",
    "E = m*v^2/2 + 0.00001*E",
    "m = 2*E/v^2",
    "E/v = m*v/2",
)
OF_ANGLES = (
    ("sin(α)/n = sin(β)", True),
    ("β = asin(sin(α)/n)", True),
    ("sin(α)^2 + cos(α)^2 = 1", True),
    ("tan(α) = sin(α)/cos(α)", True),
    ("n = sin(α)/β", False),
    ("ln(n^2) = 2*ln(n)", True),
    ("exp(n)*exp(α) = exp(n*α)", False),
    ("exp(n)*exp(α) = exp(n+α)", True),
)


@pytest.mark.parametrize("text", IDENTITIES)
def test_identities_are_those_sympy_finds(text: str) -> None:
    """With v = √(2E/m) put in."""
    letters = "v E m"
    solved = (("v", equation("v = sqrt(2*E/m)", letters)[1]),)
    assert identical(equation(text, letters), solved) is follows_by_sympy(equation(text, letters), solved)


@pytest.mark.parametrize(("text", "true"), OF_ANGLES)
def test_identities_of_angles_and_logarithms(text: str, true: bool) -> None:
    """Elementary trigonometry and the laws of logarithms; β = arcsin(sin α / n)."""
    letters = "α β n"
    solved = (("β", equation("β = asin(sin(α)/n)", letters)[1]),)
    assert identical(equation(text, letters), solved) is true


def test_special_cases_are_put_in_first() -> None:
    """v² = 2as where u is nought."""
    letters = "v u a s"
    nought = Number(text="0", value=0.0)
    solved = (("v", equation("v = sqrt(u^2 + 2*a*s)", letters)[1]), ("u", nought))
    assert identical(equation("v^2 = 2*a*s", letters), solved) is True
    assert identical(equation("v^2 = 2*a*s", letters), solved[:1]) is False


def test_what_has_no_real_value_is_left_to_sympy() -> None:
    assert identical(equation("sqrt(-a) = sqrt(-a)", "a"), ()) is None
