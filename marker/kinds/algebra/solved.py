"""A letter solved for: whether an equation has it alone on one side, and the closed form it should have."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marker.expression import Expr, Product, Quotient, Root, Symbol, symbols, walk
from marker.kinds.algebra.statements import Said
from marker.physics.algebra import NotSolved, from_sympy, solve_together, squared
from marker.physics.evaluate import value_at
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
    if not roots or any(n.degree != 2 for n in roots):
        return tree
    try:
        square = from_sympy(squared(tree))
    except NotSolved:
        return tree
    whole = Root(inner=square)
    value, there = value_at(tree, point), value_at(whole, point)
    plain = not any(isinstance(n, Root) for n in walk(square)) and isinstance(square, Product | Quotient)
    return whole if plain and abs(value - there) <= 1e-9 * abs(value) else tree


def solved_of(part: CompiledCalculation, subject: str, allowed: frozenset[str]) -> Expr | None:
    """The letter in terms of the allowed ones, as school writes it: the positive branch; None when it has none."""
    system = part.system
    others = sorted(frozenset[str]().union(*(r.letters for r in system.relations)) - allowed - {subject} - part.data.keys())
    rows = tuple(r.equation for r in system.relations)
    try:
        branches = solve_together(rows, (subject, *others))
    except NotSolved:
        return None
    found = [b[0] for b in branches if symbols(b[0]) - {"π"} <= allowed | part.data.keys()]
    fits = [t for t in found if abs(value_at(t, system.base) - system.base[subject]) <= 1e-6 * abs(system.base[subject])]
    return under_one_root(min(fits, key=lambda t: len(list(walk(t)))), system.base) if fits else None


