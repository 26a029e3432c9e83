"""A letter solved for: whether an equation has it alone on one side, and the closed form it should have."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from marker.expression import Expr, Product, Quotient, Root, Symbol, symbols, walk
from marker.kinds.algebra.statements import Said
from marker.physics.algebra import NotSolved, from_sympy, raised, solve_together
from marker.physics.evaluate import value_at
from marker.physics.system import Equation
from marker.scheme.compiled import CompiledCalculation


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """An equation seen as an answer.

    about_subject  the letter stands alone on one side;  itself  it stands on the other side too;  outside  letters it may not hold
    both           both signs of a root are given
    """

    said: Said
    about_subject: bool
    itself: bool
    outside: frozenset[str]
    both: bool

    @property
    def right(self) -> bool:
        return self.said.true and self.about_subject and not self.itself and not self.outside

    @property
    def text(self) -> str:
        return self.said.text

    @staticmethod
    def of(said: Said, subject: str, allowed: frozenset[str], lines: Sequence[str]) -> Solved:
        """lines  as typed, where ± is looked for."""
        lone = Symbol(name=subject, known=True)
        other = next((b for a, b in (said.equation, said.equation[::-1]) if a == lone), None)
        names = frozenset[str]() if other is None else symbols(other) - {"π"}
        line = lines[said.line - 1] if 0 < said.line <= len(lines) else ""
        return Solved(
            said=said,
            about_subject=other is not None,
            itself=subject in names,
            outside=names - allowed - {subject},
            both=any(sign in line for sign in _BOTH),
        )


_BOTH = ("±", "+/-", "+-", "+ / -", "\\pm")


def under_one_root(tree: Expr, point: Mapping[str, float]) -> Expr:
    """A product of roots as one root of the whole, where that has the same value; any other tree as it is."""
    if sum(isinstance(n, Root) for n in walk(tree)) < 2 and not isinstance(tree, Product | Quotient):
        return tree
    roots = [n for n in walk(tree) if isinstance(n, Root)]
    degree = max((n.degree for n in roots), default=0)
    if not roots or any(n.degree != degree for n in roots):
        return tree
    try:
        inner = from_sympy(raised(tree, degree))
    except NotSolved:
        return tree
    whole = Root(inner=inner, degree=degree)
    value, there = value_at(tree, point), value_at(whole, point)
    plain = not any(isinstance(n, Root) for n in walk(inner)) and isinstance(inner, Product | Quotient)
    return whole if plain and abs(value - there) <= 1e-9 * abs(value) else tree


def _branches(rows: tuple[Equation, ...], subject: str, others: Sequence[str]) -> Iterator[Expr]:
    """Closed forms of the subject with other letters put out of the way, one for each further equation; some may cancel by themselves."""
    for out in combinations(others, min(len(others), len(rows) - 1)):
        try:
            yield from (branch[0] for branch in solve_together(rows, (subject, *out)))
        except NotSolved:
            continue


def solved_of(part: CompiledCalculation, subject: str, allowed: frozenset[str]) -> Expr | None:
    """The letter in terms of the allowed ones, as school writes it: the positive branch; None when it has none."""
    system = part.system
    others = sorted(frozenset[str]().union(*(r.letters for r in system.relations)) - allowed - {subject} - part.data.keys())
    rows = tuple(r.equation for r in system.relations)
    lone = Symbol(name=subject, known=True)
    given = next((b for row in rows for a, b in (row, row[::-1]) if a == lone and symbols(b) - {"π"} <= allowed), None)
    if given is not None:
        return given
    known = allowed | part.data.keys()
    found = [t for t in _branches(rows, subject, others) if symbols(t) - {"π"} <= known]
    fits = [t for t in found if abs(value_at(t, system.base) - system.base[subject]) <= 1e-6 * abs(system.base[subject])]
    return under_one_root(min(fits, key=lambda t: len(list(walk(t)))), system.base) if fits else None


