"""What judging sees of a part: its physics, without what only awarding reads.

While a scheme is put right its rulings, points and tolerances change, and its physics does not. What was judged once stands for
every part of the same physics.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from functools import lru_cache

from marker.physics.system import System
from marker.scheme.compiled import CompiledCalculation, Goal
from marker.scheme.convention import Convention

MOST_PARTS = 1_000


@lru_cache(maxsize=MOST_PARTS)
def physics_of(part: CompiledCalculation) -> CompiledCalculation:
    """The part with its marks, points and tolerances left blank, and of its rulings only what another value of g is taken for.

    The same object for all parts that are alike in the rest.
    """
    bare = replace(
        part,
        name="",
        question="",
        marks=0.0,
        convention=_with_other_g(part.convention.other_g),
        goals=tuple(map(_sought, part.goals)),
        routes=(),
        route_name="",
        sensible={},
        anew=None,
    )
    return _first_alike(_Bare(tuple(_as_key(getattr(bare, f.name)) for f in fields(bare)), bare))


@dataclass(frozen=True, slots=True)
class _Bare:
    """A part without what only awarding reads, equal to another when all that is left is the same."""

    physics: tuple[object, ...]
    part: CompiledCalculation = field(compare=False)


@lru_cache(maxsize=MOST_PARTS)
def _first_alike(bare: _Bare) -> CompiledCalculation:
    return bare.part


@lru_cache(maxsize=8)
def _with_other_g(ruling: str) -> Convention:
    return Convention().with_rulings({"other_g": ruling})


def _sought(goal: Goal) -> Goal:
    """The goal without its points and without how near an answer must be."""
    return replace(goal, accept=None, figures=0, fewest_figures=0, points=(), sensible=None, special=())


def _as_key(value: object) -> object:
    match value:
        case System():
            return (value.relations, tuple(value.data.items()), tuple(value.base.items()), value.steps, value.angles, value.ones)
        case Convention():
            return value.other_g
        case Mapping():
            return tuple(value.items())
        case _:
            return value
