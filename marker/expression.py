"""The expression tree: what a typed expression *says*, before anything is known about whether it is true.

Reading builds these trees, physics evaluates them, judging compares them, reporting writes them out.
All nodes are frozen and hashable, so a tree is a key for memoising. `at` is the place (start, end) in
the typed text, columns counted from 0, end excluded; it takes no part in equality.

A unit is a factor like any other: `0.36 T` is Product((Number 0.36, UnitFactor T)). A percentage is a
Product with the unit %, whose scale is 0.01. An angle in degrees carries the unit °, of scale π/180.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from functools import wraps
from operator import attrgetter, is_
from typing import Any, TypeVar

from marker.frozen import frozen

Place = tuple[int, int] | None

# Exponents of metre, kilogram, second, ampere, kelvin, mole, candela; and of the angle, which SI counts as 1.
Dimensions = tuple[float, float, float, float, float, float, float, float]
NO_DIMENSIONS: Dimensions = (0.0,) * 8
ANGLE: Dimensions = (0.0,) * 7 + (1.0,)


T = TypeVar("T")


class Hashed:
    """Room for a hash. It is no field: it takes no part in comparing, copying or pickling."""

    __slots__ = ("_hash",)
    _hash: int


def hashed_once(cls: type[T]) -> type[T]:
    """A frozen dataclass on `Hashed` that remembers its hash: trees are keys everywhere, and hashing one walks all of it."""
    plain = cls.__hash__

    def remembered(self: T) -> int:
        try:
            return self._hash  # type: ignore[attr-defined, no-any-return]
        except AttributeError:
            found = hash((cls, plain(self)))
            object.__setattr__(self, "_hash", found)
            return found

    cls.__hash__ = remembered  # type: ignore[method-assign, assignment]
    return cls


@hashed_once
@frozen
class Unit(Hashed):
    """A unit as one factor: value in SI = (number + offset) × scale. Only °C and °F have an offset."""

    name: str
    scale: float
    dimensions: Dimensions
    offset: float = 0.0


class Kept(Hashed):
    """Room for what is worked out of a tree but once (see `kept_on_tree`). These are no fields either."""

    __slots__ = (
        "_by_itself", "_choice", "_comes_to", "_converted", "_function", "_letters", "_number",
        "_percent", "_plain", "_right_angles", "_templates", "_typed", "_united",
    )  # fmt: skip


def kept_on_tree(slot: str) -> Callable[[Callable[[Expr], T]], Callable[[Expr], T]]:
    """For a function of a tree alone: its answer is kept on the tree. A memo beside would compare whole trees at every question."""
    held, keep = attrgetter(slot), getattr(Kept, slot).__set__

    def keeping(work: Callable[[Expr], T]) -> Callable[[Expr], T]:
        @wraps(work)
        def asked(node: Expr) -> T:
            try:
                return held(node)  # type: ignore[no-any-return]
            except AttributeError:
                found = work(node)
                keep(node, found)
                return found

        return asked

    return keeping


@frozen
class Expr(Kept):
    at: Place = field(default=None, compare=False)


@hashed_once
@frozen
class Number(Expr):
    """A number as written. `half` is half a unit in its last place shown (0.0 for an exact number such as ½ or π's 2).

    figures  (least, most) significant figures it may claim: 300 has (1, 3), 5.0 has (2, 2).
    """

    text: str
    value: float
    half: float = 0.0
    figures: tuple[int, int] = (1, 1)


@hashed_once
@frozen
class Symbol(Expr):
    """A letter or name. `name` is the part's own symbol when `known`, else the letters as typed."""

    name: str
    known: bool = False


@hashed_once
@frozen
class UnitFactor(Expr):
    unit: Unit


@hashed_once
@frozen
class Sum(Expr):
    """terms, at least two; a difference holds a Negative."""

    terms: tuple[Expr, ...]


@hashed_once
@frozen
class Product(Expr):
    """factors, at least two, in the order typed."""

    factors: tuple[Expr, ...]


@hashed_once
@frozen
class Quotient(Expr):
    over: Expr
    under: Expr


@hashed_once
@frozen
class Power(Expr):
    base: Expr
    exponent: Expr


@hashed_once
@frozen
class Negative(Expr):
    inner: Expr


@hashed_once
@frozen
class Root(Expr):
    inner: Expr
    degree: int = 2


@hashed_once
@frozen
class Call(Expr):
    """A function: sin cos tan asin acos atan sinh cosh tanh ln log10 log2 exp abs."""

    function: str
    inner: Expr


@hashed_once
@frozen
class PlusMinus(Expr):
    """value ± uncertainty."""

    value: Expr
    uncertainty: Expr


_CHILDREN: Mapping[type[Expr], Callable[[Any], tuple[Expr, ...]]] = {
    Sum: attrgetter("terms"),
    Product: attrgetter("factors"),
    Quotient: attrgetter("over", "under"),
    Power: attrgetter("base", "exponent"),
    Negative: lambda node: (node.inner,),
    Root: lambda node: (node.inner,),
    Call: lambda node: (node.inner,),
    PlusMinus: attrgetter("value", "uncertainty"),
}


def children(node: Expr) -> tuple[Expr, ...]:
    """The parts of a node in the order written."""
    of_kind = _CHILDREN.get(type(node))
    return () if of_kind is None else of_kind(node)


def walk(node: Expr) -> Iterator[Expr]:
    """Every node of the tree, parents first, left to right."""
    stack = [node]
    while stack:
        here = stack.pop()
        yield here
        stack.extend(reversed(children(here)))


NO_LETTERS: frozenset[str] = frozenset()


@kept_on_tree("_letters")
def symbols(node: Expr) -> frozenset[str]:
    """Names of the letters in the tree."""
    if isinstance(node, Symbol):
        return frozenset((node.name,))
    return NO_LETTERS.union(*map(symbols, children(node)))


@kept_on_tree("_united")
def has_unit(node: Expr) -> bool:
    return isinstance(node, UnitFactor) or any(map(has_unit, children(node)))


def rebuild(node: Expr, parts: tuple[Expr, ...]) -> Expr:
    """The same kind of node with other parts."""
    match node:
        case Sum():
            return Sum(terms=parts, at=node.at)
        case Product():
            return Product(factors=parts, at=node.at)
        case Quotient():
            return Quotient(over=parts[0], under=parts[1], at=node.at)
        case Power():
            return Power(base=parts[0], exponent=parts[1], at=node.at)
        case Negative():
            return Negative(inner=parts[0], at=node.at)
        case Root(degree=d):
            return Root(inner=parts[0], degree=d, at=node.at)
        case Call(function=f):
            return Call(function=f, inner=parts[0], at=node.at)
        case PlusMinus():
            return PlusMinus(value=parts[0], uncertainty=parts[1], at=node.at)
    return node


def put(node: Expr, mapping: Mapping[str, Expr]) -> Expr:
    """A tree with some letters replaced by trees; what holds none of them is kept as it is."""
    if isinstance(node, Symbol):
        return mapping.get(node.name, node)
    inner = children(node)
    made = tuple([put(p, mapping) for p in inner])
    return node if all(map(is_, made, inner)) else rebuild(node, made)
