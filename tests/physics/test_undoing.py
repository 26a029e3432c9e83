"""Letters freed step by step: the closed form, and that it satisfies the equation it came from (the check outside the code is SymPy)."""

from __future__ import annotations

import pytest
import sympy

from marker.expression import Expr
from marker.physics.algebra import NotSolved, solve_for, to_sympy
from marker.physics.undoing import undone
from marker.reading import read_relation, write_plain
from marker.reading.model import SymbolEntry, SymbolTable

LETTERS = SymbolTable(tuple(SymbolEntry(name=n) for n in ("a", "b", "c", "d", "x", "n")))

# equation, the closed forms of x a person would write, the plainest first. Common practice, no source.
ROWS = (
    ("a = b*x^3", ["∛(a/b)"]),
    ("a^2 = 4*b*x^3/(c*d)", ["∛(cda²/(4b))"]),
    ("a = 1/2*b*x^3", ["∛(2a/b)"]),
    ("a = b*x^4", ["∜(a/b)", "−∜(a/b)"]),
    ("a = b/x^3", ["∛(b/a)"]),
    ("a = b*x^(3/2)", ["(a/b)^(2/3)"]),
    ("a = b*x^(-2)", ["√(b/a)", "−√(b/a)"]),
    ("a = b - c*x^3", ["∛((b − a)/c)"]),
    ("a = b*x^5", ["(a/b)^(1/5)"]),
    ("a = b*sqrt(x + c)", ["(a/b)² − c"]),
    ("a = b*exp(-x/c)", ["−c ln(a/b)"]),
    ("sin(x) = a/b", ["sin⁻¹(a/b)"]),
    ("a = b*log10(x/c)", ["c × 10^(a/b)"]),
    ("a = 2^(x/b)", ["b ln a/ln 2"]),
    ("a = x + x^3", []),
)


def equation(text: str) -> tuple[Expr, Expr]:
    sides = read_relation(text, LETTERS).sides
    return sides[0], sides[1]


@pytest.mark.parametrize(("text", "forms"), ROWS, ids=[t for t, _ in ROWS])
def test_the_forms_a_person_writes(text: str, forms: list[str]) -> None:
    assert [write_plain(t) for t in undone(equation(text), "x")] == forms


@pytest.mark.parametrize("text", [t for t, forms in ROWS if forms])
def test_they_satisfy_the_equation(text: str) -> None:
    left, right = equation(text)
    values = {"a": 1.3, "b": 1.7, "c": 0.9, "d": 1.1}
    found = undone((left, right), "x")
    for tree in found:
        at = {sympy.Symbol(n, real=True): v for n, v in values.items()}
        x = complex(to_sympy(tree).subs(at))
        gap = complex((to_sympy(left) - to_sympy(right)).subs({**at, sympy.Symbol("x", real=True): x.real}))
        assert abs(x.imag) < 1e-12 and abs(gap) < 1e-9


def test_no_closed_form_is_said_so() -> None:
    with pytest.raises(NotSolved):
        solve_for(equation("a = x + exp(x) + sin(x)"), "x")
