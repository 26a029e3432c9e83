"""The relationships of a part as a set of solutions that can be drawn from.

A statement is a consequence of some relationships when it holds at every point of their solution set;
a few random points decide it ("probes"). The smallest set of relationships for which it holds names
the relationships the statement shows. Data that specialise a relationship (a start from rest, a right
angle) keep their value in every probe, so the special form counts as true.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from marker.expression import Expr, Sum, Symbol, symbols
from marker.physics.algebra import NotSolved, solve_together
from marker.physics.evaluate import Unknown, compiled, value_at

Point = Mapping[str, float]
Equation = tuple[Expr, Expr]

PROBES = 3
TRIES = 60
MOST_REMEMBERED = 20_000
RIGHT_ANGLE = math.pi / 2
TOLERANCE = 1e-6
NOTHING = 1e-11  # of the terms that cancel, what is left by arithmetic alone


@dataclass(frozen=True, slots=True, kw_only=True)
class Relation:
    """One relationship of a part. `helper` is True when it defines or converts (r = d/2) and carries no mark of its own.

    name   as the scheme writes it;  shown  as a person writes it ("E_k = ½mv²");  letters  all of it but π
    """

    name: str
    left: Expr
    right: Expr
    helper: bool = False
    shown: str = ""
    letters: frozenset[str] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "letters", letters_of(self.equation))

    @property
    def equation(self) -> Equation:
        return (self.left, self.right)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """Letters found at one go, from which relationships, and the branch of their closed form."""

    letters: tuple[str, ...]
    relations: tuple[int, ...]
    trees: tuple[Expr, ...]


class Unsolvable(Exception):
    """The data and relationships do not fix a quantity. `missing` names those left over."""

    def __init__(self, missing: Iterable[str]) -> None:
        self.missing = tuple(sorted(missing))
        super().__init__(", ".join(self.missing))


@dataclass(slots=True, kw_only=True)
class System:
    """Relationships with data. Built once per part by `solved_system`; everything it caches is derived and deterministic.

    ones  data that are just "1" of their unit, such as the second of "photons per second"
    """

    relations: tuple[Relation, ...]
    data: Point
    base: Point
    steps: tuple[Step, ...]
    angles: frozenset[str] = frozenset()
    ones: frozenset[str] = frozenset()
    everything: frozenset[int] = field(init=False, repr=False)
    _points: dict[frozenset[int], tuple[Point, ...] | None] = field(default_factory=dict, repr=False)
    _with_data: dict[frozenset[int], tuple[Point, ...]] = field(default_factory=dict, repr=False)
    _vectors: dict[Expr, tuple[float, ...]] = field(default_factory=dict, repr=False)
    _supports: dict[Equation, frozenset[int] | None] = field(default_factory=dict, repr=False)

    def __post_init__(self) -> None:
        self.everything = frozenset(range(len(self.relations)))

    def solve(self, overrides: Point) -> Point | None:
        """All quantities with some values replaced (a replaced quantity is no longer derived); None when it has no solution."""
        env = dict(self.data)
        env.update(overrides)
        try:
            for step in self.steps:
                for letter, tree in zip(step.letters, step.trees, strict=True):
                    if letter not in overrides:
                        env[letter] = compiled(tree)(env)
        except (ValueError, ZeroDivisionError, OverflowError, KeyError, Unknown):
            return None
        return env if all(math.isfinite(v) for v in env.values()) else None

    def points(self, subset: frozenset[int]) -> tuple[Point, ...] | None:
        """Probes on the solution set of a subset of the relationships; None when none could be drawn."""
        if subset not in self._points:
            rng = random.Random(f"{sorted(subset)}")
            drawn = tuple(p for p in (self._draw(subset, rng) for _ in range(PROBES)) if p is not None)
            self._points[subset] = drawn if len(drawn) == PROBES else None
        return self._points[subset]

    def vector(self, tree: Expr) -> tuple[float, ...]:
        """A tree's value at every probe of all relationships together; nan where it has none. Remembered."""
        found = self._vectors.get(tree)
        if found is None:
            found = tuple(value_at(tree, p) for p in self.points(self.everything) or ())
            if len(self._vectors) < MOST_REMEMBERED:
                self._vectors[tree] = found
        return found

    def holds(self, equation: Equation, subset: frozenset[int] | None = None) -> bool:
        """True when the equation holds at every probe of the subset (all relationships when None)."""
        if subset is None:
            left, right = self.vector(equation[0]), self.vector(equation[1])
            if _agree(left, right) or 0.0 not in left + right:
                return _agree(left, right)
        points = self.points(self.everything if subset is None else subset)  # a side comes to nought: v = u + at where v = 0
        return points is not None and all(agrees(equation, p) for p in points)

    def support(self, equation: Equation) -> frozenset[int] | None:
        """The smallest set of relationships the equation follows from: empty for a triviality, None when it does not follow."""
        if equation not in self._supports:
            if len(self._supports) > MOST_REMEMBERED:
                self._supports.clear()
            self._supports[equation] = self._support(equation)
        return self._supports[equation]

    def _support(self, equation: Equation) -> frozenset[int] | None:
        if not self.holds(equation):
            return None
        for size in range(len(self.relations) + 1):
            for chosen in combinations(range(len(self.relations)), size):
                if self.holds(equation, frozenset(chosen)):
                    return frozenset(chosen)
        return None

    def support_in_data(self, equation: Equation, tolerance: float = 0.005) -> frozenset[int] | None:
        """The smallest set of relationships from which an equation follows with the data put in; None when none.

        `I₂ = 2 I₁ − 2` follows from a loop of a circuit once its values are in, though none of them can be traced. Typed
        numbers are rounded, so the sides agree to `tolerance`.
        """
        letters = symbols(equation[0]) | symbols(equation[1])
        for size in range(1, len(self.relations) + 1):
            for chosen in combinations(range(len(self.relations)), size):
                reached = self.data.keys() | {"π"} | {name for r in chosen for name in self.relations[r].letters}
                points = self._points_with_data(frozenset(chosen)) if letters <= reached else ()
                if points and all(_roughly(equation, p, tolerance) for p in points):
                    return frozenset(chosen)
        return None

    def _points_with_data(self, subset: frozenset[int]) -> tuple[Point, ...]:
        if subset not in self._with_data:
            open_to = frozenset[str]().union(*(self.relations[r].letters for r in subset)) - self.data.keys()
            if len(subset) > 1 and len(open_to) <= len(subset) and open_to <= self.base.keys():
                self._with_data[subset] = (self.base,)
                return self._with_data[subset]
            rng = random.Random(f"data {sorted(subset)}")
            drawn = (self._draw(subset, rng, self.data) for _ in range(PROBES))
            self._with_data[subset] = tuple(p for p in drawn if p is not None)
        return self._with_data[subset]

    def fixed(self, letter: str) -> bool:
        """A datum that specialises a relationship: nought, a right angle, or one of its unit, which need not be written."""
        value = self.data.get(letter)
        if letter in self.ones:
            return True
        return value is not None and (value == 0 or (letter in self.angles and math.isclose(value, RIGHT_ANGLE)))

    def _draw(self, subset: frozenset[int], rng: random.Random, held: Point | None = None) -> Point | None:
        for _ in range(TRIES if held is None else TRIES // 3):
            point = self._attempt(subset, rng, held or {})
            if point is not None:
                return point
        return None

    def _attempt(self, subset: frozenset[int], rng: random.Random, held: Point) -> Point | None:
        env = {n: v for n, v in self.base.items() if self.fixed(n)} | dict(held)
        left = set(subset)
        while left:
            index = min(left, key=lambda i: (len(self.relations[i].letters - env.keys()), rng.random()))
            left.remove(index)
            relation = self.relations[index]
            free = sorted(relation.letters - env.keys())
            if not free:
                if not agrees(relation.equation, env):
                    return None
                continue
            dependent = rng.choice(free)
            env.update((n, self._random(n, rng)) for n in free if n != dependent)
            root = near_root(relation.equation, dependent, env, self.base[dependent])
            if root is None or not self._sensible(dependent, root):
                return None
            env[dependent] = root
        env.update((n, self._random(n, rng)) for n in sorted(self.base) if n not in env)
        return env

    def _random(self, name: str, rng: random.Random) -> float:
        value = self.base[name]
        if name in self.angles:
            return value * rng.uniform(0.8, 1.1)
        return value * rng.uniform(0.75, 1.3) if value else rng.uniform(0.5, 2.0)

    def _sensible(self, name: str, value: float) -> bool:
        base = self.base[name]
        return base == 0 or 0.05 < value / base < 20


def agrees(equation: Equation, point: Point) -> bool:
    """Whether both sides have the same value there, to one part in a million."""
    try:
        a, b = compiled(equation[0])(point), compiled(equation[1])(point)
    except (ValueError, ZeroDivisionError, OverflowError, KeyError, Unknown):
        return False
    if isinstance(a, complex) or isinstance(b, complex) or not (math.isfinite(a) and math.isfinite(b)):
        return False
    gap = abs(a - b)
    return gap <= TOLERANCE * max(abs(a), abs(b)) or (gap != 0 and gap <= NOTHING * _largest_term(equation, point))


def _largest_term(equation: Equation, point: Point) -> float:
    """The size of what cancels on a side that comes to nought, as v² = u² + 2as does where v = 0."""
    terms = [t for side in equation if isinstance(side, Sum) for t in side.terms]
    return max((abs(v) for t in terms if math.isfinite(v := value_at(t, point))), default=0.0)


def _roughly(equation: Equation, point: Point, tolerance: float) -> bool:
    a, b = value_at(equation[0], point), value_at(equation[1], point)
    return abs(a - b) <= tolerance * max(abs(a), abs(b))


def _agree(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return bool(a) and all(abs(x - y) <= TOLERANCE * max(abs(x), abs(y)) for x, y in zip(a, b, strict=True))


def near_root(equation: Equation, name: str, env: Point, start: float) -> float | None:
    """The value of one letter that makes an equation hold, found from a start by the secant rule; None when it does not settle."""
    left, right = compiled(equation[0]), compiled(equation[1])

    def gap(x: float) -> float:
        at = {**env, name: x}
        return left(at) - right(at)

    x0 = start if start else 1e-3
    x1 = x0 * 1.01
    try:
        g0, g1 = gap(x0), gap(x1)
        for _ in range(60):
            if g1 == g0:
                break
            x0, x1, g0 = x1, x1 - g1 * (x1 - x0) / (g1 - g0), g1
            g1 = gap(x1)
            if abs(x1 - x0) <= 1e-13 * abs(x1):
                break
    except (ValueError, ZeroDivisionError, OverflowError, KeyError, Unknown, TypeError):
        return None
    return x1 if math.isfinite(x1) and agrees(equation, {**env, name: x1}) else None


def solved_system(
    relations: Sequence[Relation],
    data: Point,
    *,
    angles: frozenset[str] = frozenset(),
    signed: frozenset[str] = frozenset(),
    hints: Point | None = None,
    wanted: Iterable[str] = (),
) -> System:
    """A part's relationships solved for everything its data fix.

    signed  letters that may be negative;  hints  values that choose among branches (a typed answer);
    wanted  letters that must come out. Letters nothing fixes take the hint or 1 in probes.
    Raises Unsolvable when a wanted letter is not fixed by the data.
    """
    known = set(data)
    env = dict(data)
    steps: list[Step] = []
    waiting = list(range(len(relations)))
    progress = True
    while progress:
        progress = False
        for size in (1, 2, 3):
            found = _next_step(relations, waiting, known, size)
            for group, letters in found:
                step = _solve_step(relations, group, letters, env, angles, signed, hints or {})
                if step is None:
                    continue
                steps.append(step)
                known.update(letters)
                waiting = [i for i in waiting if i not in group]
                progress = True
                break
            if progress:
                break
    missing = set(wanted) - known
    if missing:
        raise Unsolvable(missing)
    for relation in relations:
        for name in relation.letters - env.keys():
            env[name] = (hints or {}).get(name, 1.0)
    return System(relations=tuple(relations), data=dict(data), base=env, steps=tuple(steps), angles=angles)


def _next_step(
    relations: Sequence[Relation], waiting: Sequence[int], known: set[str], size: int
) -> list[tuple[tuple[int, ...], tuple[str, ...]]]:
    """Groups of `size` relationships that hold exactly `size` unknown letters together."""
    found = []
    for group in combinations(waiting, size):
        letters = frozenset[str]().union(*(relations[i].letters for i in group)) - known
        if len(letters) == size:
            found.append((group, tuple(sorted(letters))))
    return found


def _solve_step(
    relations: Sequence[Relation],
    group: tuple[int, ...],
    letters: tuple[str, ...],
    env: dict[str, float],
    angles: frozenset[str],
    signed: frozenset[str],
    hints: Point,
) -> Step | None:
    try:
        branches = solve_together(tuple(relations[i].equation for i in group), letters)
    except NotSolved:
        return None
    best: tuple[tuple[float, ...], tuple[Expr, ...], tuple[float, ...]] | None = None
    for order, trees in enumerate(branches):
        try:
            values = tuple(float(compiled(t)(env)) for t in trees)
        except (ValueError, ZeroDivisionError, OverflowError, KeyError, TypeError, Unknown):
            continue
        if not all(math.isfinite(v) for v in values):
            continue
        rank = _rank(letters, values, angles, signed, hints, order)
        if best is None or rank < best[0]:
            best = (rank, trees, values)
    if best is None:
        return None
    env.update(zip(letters, best[2], strict=True))
    return Step(letters=letters, relations=group, trees=best[1])


def _rank(
    letters: Sequence[str], values: Sequence[float], angles: frozenset[str], signed: frozenset[str], hints: Point, order: int
) -> tuple[float, ...]:
    """Lower is better: near a hint, positive unless it may be negative, an acute angle, then SymPy's order."""
    away = sum(abs(v - hints[n]) / (abs(hints[n]) or 1.0) for n, v in zip(letters, values, strict=True) if n in hints)
    negative = sum(v < 0 for n, v in zip(letters, values, strict=True) if n not in signed)
    obtuse = sum(abs(v) > RIGHT_ANGLE for n, v in zip(letters, values, strict=True) if n in angles)
    below = sum(v < 0 for v in values)
    return (away, negative, obtuse, below, order)


def letters_of(equation: Equation) -> frozenset[str]:
    return (symbols(equation[0]) | symbols(equation[1])) - {"π"}


def symbol(name: str) -> Symbol:
    return Symbol(name=name, known=True)
