"""The one door to the transforms of the fault table."""

from __future__ import annotations

from marker.expression import Expr
from marker.judging.known_faults import Transform
from marker.judging.transforms.data import wrong_data
from marker.judging.transforms.expressions import wrong_expressions
from marker.judging.transforms.givens import NOTHING, Givens
from marker.judging.transforms.trees import distinct
from marker.judging.transforms.values import wrong_values


def apply(transform: Transform, expression: Expr, givens: Givens = NOTHING) -> list[Expr]:
    """Every wrong expression the transform makes of a right one, each with the change at one place.

    expression  in letters, or with its data put in as quantities (64 mA) or numbers
    givens      the part's data and values: with them a letter's datum is changed too, and comes back as the wrong
                quantity in its place
    Returns trees to be evaluated with the part's values, none equal to the expression; empty where the fault does not apply
    and for the kinds that change only the writing.
    """
    found = (
        *wrong_expressions(transform, expression),
        *wrong_data(transform, expression, givens),
        *wrong_values(transform, expression, givens),
    )
    return distinct(found, expression)
