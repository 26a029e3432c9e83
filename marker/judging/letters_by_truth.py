"""Own letters told by what makes a statement true: an assignment, an expression of two quantities, a letter that cancels or is nought."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, permutations

from marker.expression import Expr, Number, Product, Sum, Symbol, put, symbols
from marker.judging.families import stem
from marker.judging.leaves import is_numeric
from marker.judging.letters import Letters, Pair
from marker.judging.letters_by_value import contradicted, unlike
from marker.judging.relettered import relettered
from marker.physics.evaluate import same_dimensions
from marker.physics.system import agrees
from marker.scheme.compiled import CompiledCalculation

MOST_LETTERS = 3
MOST_ASSIGNMENTS = 2000
_MINUS = Number(text="-1", value=-1.0, figures=(0, 0))


def by_truth(
    part: CompiledCalculation,
    pair: Pair,
    known: frozenset[str],
    quantities: dict[str, str],
    given: Mapping[str, list[float]],
    most: int,
) -> None:
    """`W = mgh`: the one assignment of the unknown letters that makes a statement follow from the relationships."""
    left, right = _resolved(pair, quantities, {})
    unknown = sorted((symbols(left) | symbols(right)) - known)
    if not unknown or len(unknown) > most or is_numeric(left) or is_numeric(right):
        return
    used = (symbols(left) | symbols(right)) & known
    open_to = [q for q in part.system.base if q not in used]
    found = _true_assignments(part, (left, right), unknown, open_to)
    if not found and isinstance(left, Symbol) and left.name in known - part.data.keys():
        alike = [q for q in open_to if part.dimensions.get(q) == part.dimensions.get(left.name) and q not in part.data]
        for q in alike:
            found.extend(_true_assignments(part, (Symbol(name=q, known=True), right), unknown, [o for o in open_to if o != q]))
    if not found and len(unknown) < MOST_LETTERS:
        found = _with_known_letters(part, (left, right), unknown)
    found = [m for m in found if not _exchanges(m)]
    if found:
        likeliest: dict[str, str] = min(found, key=lambda m: _unlikeness(m) + contradicted(part, m, given))
        quantities.update(likeliest)


def _resolved(pair: Pair, quantities: Mapping[str, str], expressions: Mapping[str, Expr]) -> Pair:
    """An equality with the own letters told so far put by what they stand for."""
    letters = Letters(quantities=quantities, expressions=expressions)
    return letters.resolve(pair[0]), letters.resolve(pair[1])


def _exchanges(assignment: Mapping[str, str]) -> bool:
    """`w = q × cop` for K = Q/W: small letters do not stand for each other's capitals to make a wrong statement right."""
    small = {letter.casefold(): quantity.casefold() for letter, quantity in assignment.items()}
    return any(quantity != letter and small.get(quantity) == letter for letter, quantity in small.items())


def _true_assignments(part: CompiledCalculation, pair: Pair, unknown: Sequence[str], open_to: Sequence[str]) -> list[dict[str, str]]:
    """Every way to take unknown letters for quantities that makes an equality follow, and not trivially."""
    return list(_assignments(part, pair, tuple(unknown), tuple(open_to)))


@lru_cache(maxsize=4_000)
def _assignments(part: CompiledCalculation, pair: Pair, unknown: tuple[str, ...], open_to: tuple[str, ...]) -> tuple[dict[str, str], ...]:
    found: list[dict[str, str]] = []
    points = part.system.points(part.system.everything) or ()
    if not points or len(open_to) ** len(unknown) > MOST_ASSIGNMENTS:
        return ()
    env = dict(points[0])
    for chosen in permutations(open_to, len(unknown)):
        if any(map(_other_index, unknown, chosen)):
            continue
        env.update((n, points[0][q]) for n, q in zip(unknown, chosen, strict=True))
        if not agrees(pair, env):
            continue
        mapping: dict[str, Expr] = {n: Symbol(name=q, known=True) for n, q in zip(unknown, chosen, strict=True)}
        equation = (put(pair[0], mapping), put(pair[1], mapping))
        if part.system.holds(equation) and part.system.support(equation):
            found.append(dict(zip(unknown, chosen, strict=True)))
    return tuple(found)


def _other_index(letter: str, quantity: str) -> bool:
    """V₁ is no T₂."""
    numbers = [re.search(r"[0-9₀-₉]+$", name) for name in (letter, quantity)]
    return all(numbers) and unicodedata.normalize("NFKC", numbers[0].group()) != unicodedata.normalize("NFKC", numbers[1].group())  # type: ignore[union-attr]


def _with_known_letters(part: CompiledCalculation, pair: Pair, unknown: Sequence[str]) -> list[dict[str, str]]:
    """`V₂ = V R₂/(R₁ + R₂)` where V is the quantity sought: a letter of the part that the candidate uses for another of its kind."""
    names = sorted((symbols(pair[0]) | symbols(pair[1])) & part.system.base.keys())
    for name in names:
        dims = part.dimensions.get(name)
        alike = [
            q
            for q in part.system.base
            if q != name and q not in names and (part.dimensions.get(q) == dims or q.casefold() == name.casefold())
        ]
        for other in alike:
            turned = tuple(put(side, {name: Symbol(name=other, known=True)}) for side in pair)
            used = symbols(turned[0]) | symbols(turned[1])
            open_to = [q for q in part.system.base if q not in used]
            found = _true_assignments(part, (turned[0], turned[1]), unknown, open_to)
            if found:
                return [{**f, name: other} for f in found]
    return []


def _unlikeness(assignment: Mapping[str, str]) -> int:
    return sum(unlike(n, q) for n, q in assignment.items())


@dataclass(frozen=True, slots=True)
class Open:
    """An equality with one letter left that nothing stands for yet."""

    name: str
    left: Expr
    right: Expr

    def closed_by(self, tree: Expr) -> Pair:
        return put(self.left, {self.name: tree}), put(self.right, {self.name: tree})


def one_open(pair: Pair, known: frozenset[str], quantities: Mapping[str, str], expressions: Mapping[str, Expr]) -> Open | None:
    """The equality with the own letters told so far resolved, where just one is left."""
    left, right = _resolved(pair, quantities, expressions)
    unknown = (symbols(left) | symbols(right)) - known
    return Open(next(iter(unknown)), left, right) if len(unknown) == 1 else None


def by_expression(part: CompiledCalculation, found: Open) -> dict[str, Expr]:
    """`Pt = mcΔT` where T₁ and T₂ are given, `V/R₁ + V/R₂ = (E − V)/r` with V for IR: one letter for two quantities together."""
    name, left, right = found.name, found.left, found.right
    if is_numeric(left) or is_numeric(right):
        return {}
    twice = name in symbols(left) and name in symbols(right)  # a letter written once may be whatever makes the two equal
    for tree in (*_sums_of_a_kind(part), *(_products(part) if twice else ())):
        if part.system.support(found.closed_by(tree)):
            return {name: tree}
    return {}


def cancelled(part: CompiledCalculation, found: Open) -> dict[str, Expr]:
    """`½mv² = ½mu² + mgh` in a part that gives no mass: a letter whose size does not matter, taken for one of its unit."""
    left, right = found.left, found.right
    if found.name not in symbols(left) & symbols(right) or isinstance(left, Symbol) or isinstance(right, Symbol):
        return {}
    sizes = [Number(text=f"{size:g}", value=size, figures=(0, 0)) for size in (1.0, 2.0, 0.3)]
    return {found.name: sizes[0]} if all(relettered(part, found.closed_by(n), plain=True) for n in sizes) else {}


def at_rest(part: CompiledCalculation, known: frozenset[str], found: Open) -> dict[str, Expr]:
    """`m₁u₁ + m₂u₂ = (m₁ + m₂)v` where the second is at rest, v² = u² + 2as from rest: a letter of the part's kind that is nought."""
    if not (stem(found.name) in {stem(n) for n in known} or found.name == "u"):
        return {}
    nought = Number(text="0", value=0.0)
    return {found.name: nought} if part.system.support(found.closed_by(nought)) else {}


@lru_cache(maxsize=256)
def _sums_of_a_kind(part: CompiledCalculation) -> tuple[Expr, ...]:
    """Differences and sums of two quantities of the same dimensions."""
    out: list[Expr] = []
    for a, b in combinations(sorted(part.system.base), 2):
        if same_dimensions(part.dimensions.get(a), part.dimensions.get(b)) and any(part.dimensions.get(a) or ()):
            x, y = Symbol(name=a, known=True), Symbol(name=b, known=True)
            out.extend((Sum(terms=(y, Product(factors=(_MINUS, x)))), Sum(terms=(x, Product(factors=(_MINUS, y)))), Sum(terms=(x, y))))
    return tuple(out)


@lru_cache(maxsize=256)
def _products(part: CompiledCalculation) -> tuple[Expr, ...]:
    """Products of two quantities of the part."""
    pairs = combinations(sorted(part.system.base), 2)
    return tuple(Product(factors=(Symbol(name=a, known=True), Symbol(name=b, known=True))) for a, b in pairs)
