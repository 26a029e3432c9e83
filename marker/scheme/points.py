"""The points a part has when its scheme writes none: what the convention gives a calculation of so many marks."""

from __future__ import annotations

from marker.errors import Problem, SchemeError
from marker.physics.system import System
from marker.scheme.compiled import Point
from marker.scheme.convention import Convention


def default_points(
    system: System, find: str, relations: frozenset[int], helpers: frozenset[int], marks: float, show: bool, convention: Convention, where: str
) -> tuple[Point, ...]:
    """One point a relationship, one for the substitution, one for the answer; fewer or more as the marks say.

    With n relationships: n + 2 marks give n relationships, substitution, answer; n + 1 leave the substitution out;
    1 mark is the answer; more than n + 2 add the values found on the way. A "show that" ends with its substitution
    (which asks for the stated result). Raises SchemeError when the marks fit no such pattern.
    """
    types = convention.mark_types
    order = sorted(relations)
    shown = [Point(name=_name(system, r, order), kind="relationship", marks=1, type=types["relationship"], relations=frozenset({r})) for r in order]
    substitution = Point(name="substitution", kind="substitution", marks=1, type=types["substitution"], relations=relations)
    answer = Point(name="answer", kind="answer", marks=1, type=types["answer"])
    count = len(shown)
    if show:
        patterns = {count + 1: [*shown, substitution], 1: [substitution], count + 2: [*shown, substitution, answer]}
    else:
        patterns = {
            1: [answer],
            2: [Point(name="method", kind="substitution", marks=1, type=types["substitution"], relations=relations), answer],
            count + 1: [*shown, answer],
            count + 2: [*shown, substitution, answer],
        }
        between = _between(system, find, relations)
        for k in range(1, len(between) + 1):
            values = [Point(name=f"value of {n}", kind="value", marks=1, type=types["value"], quantity=n) for n in between[:k]]
            patterns[count + 2 + k] = [*shown, substitution, *values, answer]
    chosen = patterns.get(int(marks)) if float(marks).is_integer() else None
    if chosen is None:
        problem = Problem(
            where=f"{where}, points",
            seen=f"{marks:g} marks for {count} relationship{'s' if count != 1 else ''} fit no usual pattern",
            expected=f"{' or '.join(str(k) for k in sorted(patterns))} marks",
            mend="Write the points out under points.",
        )
        raise SchemeError(problem)
    return tuple(chosen)


def _name(system: System, index: int, order: list[int]) -> str:
    return "relationship" if len(order) == 1 else f"relationship {system.relations[index].name}"


def _between(system: System, find: str, relations: frozenset[int]) -> list[str]:
    """Quantities found on the way to the goal, in the order found."""
    return [n for step in system.steps if set(step.relations) & relations for n in step.letters if n != find]
