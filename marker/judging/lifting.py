"""Lifting: numbers back to symbols, so that the expression is judged and not its value.

`0.15*3.2*0.085*sin 90` is right because it is B I L sin θ with the part's own data in it, not because it
comes to 0.0408. Every number is matched to where it may have come from; the cheapest assignment that makes
the lifted expression a consequence of the relationships is the one the candidate meant.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from marker.expression import Expr, Product, Quotient, Sum, Symbol, put, symbols
from marker.frozen import frozen
from marker.judging.given import as_typed
from marker.judging.leaves import MOST_LEAVES, Leaf, Template
from marker.judging.model import Slip
from marker.judging.origins import OwnNumber, Source, by_cost
from marker.judging.sources import MOST_KNOWN, Foreign, Sources, sources_of
from marker.physics.evaluate import Unknown, compiled, value_at
from marker.physics.system import TOLERANCE, Point
from marker.scheme.compiled import CompiledCalculation

MOST_TRIALS = 400
MOST_TWICE = 4  # numbers of a statement that are traced as if each were worked out in the head
NEAR = 20 * TOLERANCE


@frozen
class Lifted:
    """Expressions with their numbers traced. `trees` are the sides in symbols; `cost` tells how far-fetched the tracing is.

    found   quantities found on the way whose right values are put in without having been written before
    """

    trees: tuple[Expr, ...]
    cost: float
    slips: tuple[Slip, ...] = ()
    own: tuple[OwnNumber, ...] = ()
    target: str = ""
    unexplained: int = 0
    traced: int = 0
    miscopied: tuple[tuple[str, float], ...] = ()
    found: frozenset[str] = frozenset()


Accept = Callable[[Sequence[Sequence[float]]], str | None]


class Lifter:
    """Tries assignments of sources to numbers against a test at the probes, cheapest first.

    traced, told, explained  what was asked of one who knows just this much, with the answers
    """

    __slots__ = ("explained", "points", "sources", "told", "traced")

    def __init__(self, sources: Sources, points: Sequence[Point]) -> None:
        self.sources = sources
        self.points = points
        self.traced: dict[object, Lifted | None] = {}
        self.told: dict[object, tuple[Expr | None, Lifted]] = {}
        self.explained: dict[tuple[Template, ...], Lifted] = {}

    def lift(self, sides: Sequence[Template], accept: Accept, line: int, faults: bool) -> Lifted | None:
        """The cheapest tracing for which `accept` (values of each side at each probe) names a target.

        Plain sources are tried first, then numbers worked out in the head, then (when `faults`) faults of copying
        and converting. None when nothing fits.
        """
        leaves = [leaf for side in sides for leaf in side.leaves]
        if len(leaves) > MOST_LEAVES:
            return None
        functions = [compiled(side.tree) for side in sides]
        for choices in self._stages(leaves, line, faults):
            found = self._search(sides, functions, leaves, choices, accept)
            if found is not None:
                return found
        return None

    def unconverted(self, sides: Sequence[Template], line: int) -> Lifted | None:
        """The cheapest tracing with numbers that are printed in another unit taken as put in unconverted; None when there are none."""
        leaves = [leaf for side in sides for leaf in side.leaves]
        chosen = []
        for leaf in leaves:
            faulty = [s for s in self.sources.faulty(leaf, line) if s.slip is not None and s.slip.code == "unconverted"]
            plain = self.sources.plain(leaf) or [unexplained(leaf)]
            chosen.append(faulty[0] if faulty and plain[0].cost > 0 else plain[0])
        if not any(s.slip for s in chosen):
            return None
        return _lifted(sides, leaves, chosen, "")

    def explain(self, sides: Sequence[Template]) -> Lifted:
        """The cheapest plain tracing, whether or not it makes anything true."""
        asked = tuple(sides)
        if asked not in self.explained:
            self.explained[asked] = self._explained(asked)
        return self.explained[asked]

    def _explained(self, sides: Sequence[Template]) -> Lifted:
        leaves = [leaf for side in sides for leaf in side.leaves]
        chosen = [(self.sources.plain(leaf) or self.sources.composite(leaf) or [unexplained(leaf)])[0] for leaf in leaves]
        lifted = _lifted(sides, leaves, chosen, "")
        return replace(lifted, trees=tuple(self._recognised(t) for t in lifted.trees))

    def _recognised(self, tree: Expr) -> Expr:
        """A datum worked out (12 + 273, 24/100, 6.5 × 60) as that datum."""
        if not isinstance(tree, Sum | Product | Quotient) or not self.points or len(symbols(tree)) != 1:
            return tree
        name = next(iter(symbols(tree)))
        if name in self.sources.part.data and all(_roughly(value_at(tree, p), p[name]) for p in self.points):
            return Symbol(name=name, known=True)
        return tree

    def _stages(self, leaves: Sequence[Leaf], line: int, faults: bool) -> Iterator[list[list[Source]]]:
        plain = [self.sources.plain(leaf) for leaf in leaves]
        first = [p or [unexplained(leaf)] for p, leaf in zip(plain, leaves, strict=True)]
        yield first
        second = [
            p if p and not p[0].structural else p + self.sources.composite(leaf) + ([] if p else [unexplained(leaf)])
            for p, leaf in zip(plain, leaves, strict=True)
        ]
        if second != first:
            yield second
        if len({leaf.raw for leaf in leaves}) < len(leaves) <= MOST_TWICE:  # 1.2/1.2: the same number for two things
            yield [p + self.sources.composite(leaf) or [unexplained(leaf)] for p, leaf in zip(plain, leaves, strict=True)]
        if not faults:
            return
        beside = frozenset(leaf.raw for leaf in leaves)
        third = [
            s if p and p[0].cost == 0.0 else s + self.sources.faulty(leaf, line, beside)
            for s, p, leaf in zip(second, plain, leaves, strict=True)
        ]
        if third != second:
            yield third
        for index, leaf in enumerate(leaves):
            last = list(third)
            last[index] = third[index] + self.sources.anything(leaf, line, bool(plain[index] or self.sources.composite(leaf)))
            yield last

    def _search(
        self,
        sides: Sequence[Template],
        functions: Sequence[Callable[[Point], float]],
        leaves: Sequence[Leaf],
        choices: Sequence[Sequence[Source]],
        accept: Accept,
    ) -> Lifted | None:
        vector = self.sources.part.system.vector
        names = [leaf.name for leaf in leaves]
        envs = [dict(p) for p in self.points]
        for chosen in _by_cost(choices):
            target = _first(functions, names, [vector(source.stands_for) for source in chosen], envs, accept)
            if target is not None:
                return _lifted(sides, leaves, chosen, target)
        return None


@lru_cache(maxsize=MOST_KNOWN)
def lifter_of(part: CompiledCalculation, own: tuple[OwnNumber, ...], foreign: Foreign, pieces: tuple[OwnNumber, ...]) -> Lifter:
    """One for all readings and responses that know the same: half of what they ask has been asked before."""
    return Lifter(sources_of(part, own, foreign, pieces), part.system.points(part.system.everything) or ())


def _first(
    functions: Sequence[Callable[[Point], float]],
    names: Sequence[str],
    vectors: Sequence[tuple[float, ...]],
    envs: Sequence[dict[str, float]],
    accept: Accept,
) -> str | None:
    """The target accepted at every probe; the first probe alone settles most trials."""
    values: list[list[float]] = [[] for _ in functions]
    target = None
    for k, env in enumerate(envs):
        for name, vector in zip(names, vectors, strict=True):
            env[name] = vector[k]
        try:
            for column, function in zip(values, functions, strict=True):
                column.append(function(env))
        except (KeyError, ValueError, ZeroDivisionError, OverflowError, Unknown):
            return None
        target = accept(values)
        if target is None:
            return None
    return target


def unexplained(leaf: Leaf) -> Source:
    return Source(cost=3.0, stands_for=as_typed(leaf), unexplained=True)


def _by_cost(choices: Sequence[Sequence[Source]]) -> Iterator[list[Source]]:
    """One source for each number, in rising total cost, at most MOST_TRIALS times."""
    ranked = [sorted(options, key=by_cost) for options in choices]
    yield [options[0] for options in ranked]
    costs = [[source.cost for source in options] for options in ranked]
    start = (0,) * len(ranked)
    heap, seen = [(0.0, start)], {start}
    for _ in range(MOST_TRIALS - 1):
        ranks = heapq.heappop(heap)[1]
        for i, r in enumerate(ranks):
            if r + 1 < len(costs[i]):
                after = (*ranks[:i], r + 1, *ranks[i + 1 :])
                if after not in seen:
                    seen.add(after)
                    heapq.heappush(heap, (sum([c[k] for c, k in zip(costs, after, strict=True)]), after))
        if not heap:
            return
        yield [options[k] for options, k in zip(ranked, heap[0][1], strict=True)]


def _lifted(sides: Sequence[Template], leaves: Sequence[Leaf], chosen: Sequence[Source], target: str) -> Lifted:
    mapping = {leaf.name: source.stands_for for leaf, source in zip(leaves, chosen, strict=True)}
    slips = tuple(s.slip for s in chosen if s.slip is not None)
    faulty = [(leaf, s) for leaf, s in zip(leaves, chosen, strict=True) if s.slip is not None and s.symbol]
    wrong = tuple((s.symbol, leaf.si if s.value is None else s.value) for leaf, s in faulty)
    own = tuple(s.own for s in chosen if s.own is not None)
    return Lifted(
        trees=tuple(put(side.tree, mapping) for side in sides),
        cost=sum(s.cost for s in chosen),
        slips=slips,
        own=own,
        target=target,
        unexplained=sum(s.unexplained for s in chosen),
        traced=sum(not (s.unexplained or s.structural) for s in chosen),
        miscopied=wrong,
        found=frozenset(s.found for s in chosen if s.found),
    )


def near(a: Sequence[float], b: Sequence[float], factor: float = 1.0) -> bool:
    """Two vectors of probe values agree, one of them multiplied; nought agrees with nothing."""
    for x, y in zip(a, b, strict=False):
        if isinstance(x, complex) or isinstance(y, complex) or x == 0:
            return False
        y = factor * y
        gap = abs(x - y)
        if not (gap <= NEAR * abs(x) or gap <= NEAR * abs(y)):  # of the larger of the two
            return False
    return True


def _roughly(a: float, b: float) -> bool:
    return abs(a - b) <= 1e-3 * abs(b)
