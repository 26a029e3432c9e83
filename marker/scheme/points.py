"""The points a part has when its scheme writes none: what the convention gives a calculation of so many marks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from marker.errors import Problem, SchemeError
from marker.physics.system import System
from marker.scheme.compiled import Point
from marker.scheme.convention import Convention


def default_points(
    system: System,
    find: str,
    relations: frozenset[int],
    helpers: frozenset[int],
    marks: float,
    show: bool,
    convention: Convention,
    where: str,
    *,
    unitless: bool = False,
) -> tuple[Point, ...]:
    """One point a relationship, one for the substitution, one for the answer; fewer or more as the marks say.

    With n relationships: n + 2 marks give n relationships, substitution, answer; n + 1 leave the substitution out;
    1 mark is the answer; more than n + 2 add the values found on the way. A "show that" ends with its substitution
    (which asks for the stated result). Where the unit has a mark of its own, that comes last and counts as one more.
    Where half marks are given, points of half a mark are tried first. Raises SchemeError when the marks fit no such pattern.
    """
    patterns = _patterns(system, find, relations, show, convention.unit_fault == "separate mark" and not unitless and not show)
    for worth in (0.5, 1.0) if convention.half_marks else (1.0,):
        number = marks / worth
        if number.is_integer() and int(number) in patterns:
            types = convention.mark_types
            return tuple(replace(p, marks=worth, type=types.get(p.kind, p.type)) for p in patterns[int(number)])
    count = len(relations)
    raise SchemeError(
        Problem(
            where=f"{where}, points",
            seen=f"{marks:g} marks for {count} relationship{'s' if count != 1 else ''} fit no usual pattern",
            expected=f"{' or '.join(str(k) for k in sorted(patterns))} marks",
            mend="Write the points out under points.",
        )
    )


def _patterns(system: System, find: str, relations: frozenset[int], show: bool, unit_apart: bool) -> Mapping[int, list[Point]]:
    """Number of points -> the points."""
    order = sorted(relations)
    shown = [_point(_name(system, r, order), "relationship", frozenset({r})) for r in order]
    substitution, answer = _point("substitution", "substitution", relations), _point("answer", "answer")
    if show:
        found = ([*shown, substitution], [substitution], [*shown, substitution, answer])
        return {len(points): points for points in found}
    method = _point("method", "substitution", relations)
    between = [replace(_point(f"value of {n}", "value"), quantity=n) for n in _between(system, find, relations)]
    longer = [[*shown, substitution, *between[:k], answer] for k in range(len(between) + 1)]
    sizes = ([answer], [method, answer], [*shown, answer], *longer)
    with_unit = [[*points, _unit(points)] if unit_apart and (len(points) > 1) else points for points in sizes]
    if unit_apart:
        with_unit.insert(1, [answer, _unit([answer])])
    return {len(points): points for points in with_unit}


def _point(name: str, kind: str, relations: frozenset[int] = frozenset()) -> Point:
    return Point(name=name, kind=kind, marks=1, type="C", relations=relations)


def _unit(points: Sequence[Point]) -> Point:
    """The unit's own point; it is not earned by a unit behind a number that nothing led to."""
    kind = next(k for k in ("substitution", "relationship", "answer") if any(p.kind == k for p in points))
    return replace(_point("unit", "unit"), needs=tuple(p.name for p in points if p.kind == kind)[-1:])


def _name(system: System, index: int, order: list[int]) -> str:
    return "relationship" if len(order) == 1 else f"relationship {system.relations[index].shown}"


def _between(system: System, find: str, relations: frozenset[int]) -> list[str]:
    """Quantities found on the way to the goal, in the order found."""
    return [n for step in system.steps if set(step.relations) & relations for n in step.letters if n != find]


def with_dependence(points: Sequence[Point], convention: Convention, where: str) -> tuple[Point, ...]:
    """The points with what their mark types depend on among their needs: an A on the M marks before it, a dM on the last of them.

    Raises SchemeError for a part of a mark where the convention gives whole marks.
    """
    out: list[Point] = []
    for number, point in enumerate(points, 1):
        if not convention.half_marks and not float(point.marks).is_integer():
            raise SchemeError(
                Problem(
                    where=f"{where}, points {number}, marks",
                    seen=f"{point.marks:g}",
                    expected="a whole number of marks",
                    mend="Give a whole number, or rule half_marks = true.",
                )
            )
        methods = [p.name for p in out if p.type == "M"]
        more = methods[-1:] if point.type == "dM" else methods if point.type == "A" else []
        out.append(replace(point, type="M" if point.type == "dM" else point.type, needs=tuple(dict.fromkeys((*point.needs, *more)))))
    return tuple(out)
