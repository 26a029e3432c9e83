"""The course of a derivation: for each typed equation, whether it follows from what stands before it, and as what."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from marker.kinds.algebra import Said
from marker.kinds.algebra.shape import left_to_cancel, same_form
from marker.kinds.derivation.compiled import CompiledDerivation
from marker.kinds.derivation.forms import form_like
from marker.physics.system import PROBES, Equation, Relation, System


class Standing(StrEnum):
    """What an equation is in its place."""

    START = "start"  # states a starting relationship
    TOGETHER = "together"  # puts starting relationships together: all of them as they stand, or some of them in any form
    FOLLOWS = "follows"  # follows from what stands before it
    LEAP = "leap"  # true, but rests on relationships not yet stated
    TARGET = "target"  # the target, reached
    ASSUMED = "assumed"  # the target or a rearrangement of it, before what it rests on
    WRONG = "wrong"
    FROM_WRONG = "from wrong"  # follows from a wrong equation before it
    NUMBERS = "numbers"
    OPEN = "open"  # holds a letter nobody has explained


RIGHT = frozenset({Standing.START, Standing.TOGETHER, Standing.FOLLOWS, Standing.LEAP})


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One equation of the response in its place.

    known  the starts stated by then, this one counted;  plain  it is a start as given, or one put into another
    """

    said: Said
    standing: Standing
    known: frozenset[int]
    plain: bool = False

    @property
    def line(self) -> int:
        return self.said.line


def course_of(part: CompiledDerivation, said: Sequence[Said]) -> tuple[Stage, ...]:
    """Every equation in order. A relationship counts as known from the line that states it."""
    known = frozenset[int]()
    stages: list[Stage] = []
    for one in said:
        standing = _standing(part, one, known, [s.said.equation for s in stages if s.standing is Standing.WRONG])
        if standing in RIGHT:
            known |= one.relations
        plain = standing in (Standing.START, Standing.TOGETHER) and form_like(one.equation, part.forms, part.places) is not None
        stages.append(Stage(said=one, standing=standing, known=known, plain=plain))
    return tuple(stages)


def _standing(part: CompiledDerivation, said: Said, known: frozenset[int], wrong: Sequence[Equation]) -> Standing:
    if said.numbers:
        return Standing.NUMBERS
    if said.open:
        return Standing.OPEN
    if not said.true:
        return Standing.FROM_WRONG if _from_wrong(part, said, wrong) else Standing.WRONG
    cancels = left_to_cancel(said.equation)
    if is_target(part, said.equation) and not cancels:
        return Standing.TARGET if part.needed <= known else Standing.ASSUMED
    form = form_like(said.equation, part.forms, part.places)
    if form is not None and form.relations - part.part.helpers == said.relations:
        return Standing.START if len(said.relations) == 1 else Standing.TOGETHER
    if cancels and len(said.relations) > 1:
        return Standing.TOGETHER
    if said.relations <= known:
        return Standing.FOLLOWS
    if part.from_target.support(said.equation):
        return Standing.ASSUMED
    if len(said.relations) == 1:
        return Standing.START
    return Standing.TOGETHER if said.relations < part.needed else Standing.LEAP


def is_target(part: CompiledDerivation, equation: Equation) -> bool:
    """The same two sides as an accepted form of the target, as expressions."""
    return any(same_form(equation, t, part.places, factor=False) for t in part.targets)


def _from_wrong(part: CompiledDerivation, said: Said, wrong: Sequence[Equation]) -> bool:
    """True when the equation follows from a wrong one before it, alone or with one starting relationship."""
    system = part.part.system
    for row in wrong:
        own = Relation(name="own", left=row[0], right=row[1])
        for others in ([], *([r] for r in system.relations)):
            made = System(relations=(own, *others), data=system.data, base=system.base, steps=(), angles=system.angles)
            points = made.points(made.everything)
            if points is not None and len(points) == PROBES and 0 in (made.support(said.equation) or ()):
                return True
    return False
