"""The equations that starting relationships make when one is put into another: mv²/r = Bqv from F = Bqv and F = mv²/r."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marker.expression import Expr, put
from marker.kinds.algebra.shape import Places, same_form
from marker.physics.algebra import NotSolved, solve_for
from marker.physics.system import Equation, Relation, letters_of

MOST_FORMS = 160


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """An equation, and the relationships put together in it."""

    equation: Equation
    relations: frozenset[int]


def forms_of(relations: Sequence[Relation], helpers: frozenset[int]) -> tuple[Form, ...]:
    """Each relationship as it stands, and with its letters replaced through the others, the fewest put together first."""
    rows = {i: r.equation for i, r in enumerate(relations)}
    found = [Form(equation=e, relations=frozenset({i})) for i, e in rows.items() if i not in helpers]
    layer = list(found)
    for _ in range(len(rows) - 1):
        layer = [grown for form in layer for grown in _grown(form, rows)][: MOST_FORMS - len(found)]
        found.extend(layer)
    return tuple(found)


def _grown(form: Form, rows: Mapping[int, Equation]) -> list[Form]:
    """The form with one letter replaced through one more relationship."""
    out = []
    for index, equation in rows.items():
        if index in form.relations:
            continue
        for name in sorted(letters_of(form.equation) & letters_of(equation)):
            tree = _solution(equation, name)
            if tree is None:
                continue
            put_in = (put(form.equation[0], {name: tree}), put(form.equation[1], {name: tree}))
            out.append(Form(equation=put_in, relations=form.relations | {index}))
    return out


def _solution(equation: Equation, name: str) -> Expr | None:
    """A letter in terms of the others; not the nought that Bqv = mv²/r has for v as well."""
    try:
        return next((tree for tree in solve_for(equation, name) if letters_of((tree, tree))), None)
    except NotSolved:
        return None


def form_like(equation: Equation, forms: Sequence[Form], places: Places) -> Form | None:
    """The first form that an equation is, up to the order of its sides and a number on both."""
    return next((f for f in forms if same_form(equation, f.equation, places)), None)
