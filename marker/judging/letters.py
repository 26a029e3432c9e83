"""Candidates' own letters: `d` for the length, `W` for the energy, matched to the part's quantities.

A letter the part does not know is taken for the quantity that makes the candidate's statements true, if one
does; a letter that only ever abbreviates an expression ("F = mg" on the way) keeps that expression.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations, permutations

from marker.expression import Call, Expr, Number, Power, Product, Root, Sum, Symbol, children, put, rebuild, symbols
from marker.judging.families import states, stem
from marker.judging.given import datum_twice
from marker.judging.leaves import Leaf, is_numeric, is_value, template, value_parts
from marker.judging.lifting import Lifter, near
from marker.judging.relettered import relettered
from marker.judging.shape import fill
from marker.judging.sources import Sources
from marker.physics.evaluate import same_dimensions
from marker.physics.system import agrees
from marker.scheme.compiled import CompiledCalculation

MOST_LETTERS = 3
_OF_ANGLES = frozenset({"sin", "cos", "tan"})
_MINUS = Number(text="-1", value=-1.0, figures=(0, 0))
MOST_ASSIGNMENTS = 2000


@dataclass(frozen=True, slots=True, kw_only=True)
class Letters:
    """What the candidate's own letters mean: quantities of the part, or expressions."""

    quantities: Mapping[str, str]
    expressions: Mapping[str, Expr]
    angle: str = ""
    angles: frozenset[str] = frozenset()

    def __hash__(self) -> int:
        return hash((self.angle, frozenset(self.quantities.items()), frozenset(self.expressions)))

    def resolve(self, tree: Expr) -> Expr:
        """A tree in the part's own letters, as far as they are known; a letter under a sine that is no angle is the one angle there is."""
        if self.angle:
            tree = self._with_angle(tree)
        unknown = symbols(tree)
        if not (unknown & (self.quantities.keys() | self.expressions.keys())):
            return tree
        mapping: dict[str, Expr] = {n: Symbol(name=q, known=True) for n, q in self.quantities.items() if n in unknown}
        mapping.update({n: e for n, e in self.expressions.items() if n in unknown})
        return put(tree, mapping)

    def _with_angle(self, tree: Expr) -> Expr:
        """`mg sin a` in a part that calls its acceleration a and its angle θ."""
        if isinstance(tree, Call) and tree.function in _OF_ANGLES and isinstance(tree.inner, Symbol):
            taken = tree.inner.name in self.angles or tree.inner.name == "π"
            return tree if taken else replace(tree, inner=Symbol(name=self.angle, known=True))
        parts = children(tree)
        return rebuild(tree, tuple(map(self._with_angle, parts))) if parts else tree


Pair = tuple[Expr, Expr]


def match_letters(part: CompiledCalculation, pairs: Sequence[Pair], sources: Sources) -> Letters:
    """Reads all equalities of a response together and settles its unknown letters.

    pairs    neighbouring sides of every statement, in order;  sources  where numbers may come from.
    """
    alone, known = _of_the_part(part)
    pairs = [(alone.resolve(a), alone.resolve(b)) for a, b in pairs] if alone.angle else pairs
    known -= _of_another_kind(part, pairs)
    waiting = [p for p in pairs if not (symbols(p[0]) <= known and symbols(p[1]) <= known)]
    if not waiting:
        return alone
    quantities: dict[str, str] = {}
    expressions: dict[str, Expr] = {}
    found = replace(alone, quantities=quantities, expressions=expressions)
    given = _given_values(waiting)
    quantities.update(_sought_without_index(part, known))
    expressions.update(_changes(part, waiting, known))
    _by_value(part, waiting, known, quantities)
    for left, right in waiting:
        if not is_numeric(left) and is_numeric(right) and not is_value(right):
            _by_shape(fill(left, right), known, quantities, sources)
    numbers = bool(part.data or part.carry) and any(is_numeric(p[0]) or is_numeric(p[1]) for p in pairs)
    for pair in waiting:
        expressions.update(_cancelled(part, _in_symbols(pair, sources), known, quantities, expressions))
    for _ in range(2):
        for pair in waiting:
            _by_truth(part, _in_symbols(pair, sources), known, quantities, given, MOST_LETTERS if numbers else 1)
    for pair in waiting:
        expressions.update(_by_expression(part, _in_symbols(pair, sources), known, quantities, expressions))
        expressions.update(_at_rest(part, _in_symbols(pair, sources), known, quantities, expressions))
    _by_stem(part, known, quantities)
    _by_case(part, waiting, known, quantities, given)
    _by_first_letter(part, pairs, known, quantities, sources)
    _by_numbers(part, waiting, known, quantities, expressions, sources)
    _by_dimensions(part, waiting, known, quantities, expressions)
    for left, right in waiting:
        if isinstance(left, Symbol) and left.name not in known and left.name not in quantities and left.name not in expressions:
            tree = found.resolve(right)
            if not is_numeric(tree) and symbols(tree) <= known and not datum_twice(part, tree):
                expressions[left.name] = tree
    return found


@lru_cache(maxsize=1_000)
def _of_the_part(part: CompiledCalculation) -> tuple[Letters, frozenset[str]]:
    """What letters mean in a response that has none but the part's, and all letters of the part."""
    known = frozenset(part.system.base) | {"π"}
    quantities = _sought_without_index(part, known)
    _by_stem(part, known, quantities)
    return Letters(quantities=quantities, expressions={}, angle=_one_angle(part), angles=part.angles), known


def _by_stem(part: CompiledCalculation, known: frozenset[str], quantities: dict[str, str]) -> None:
    """The letter without an index for the quantity sought, where several have it."""
    for goal in part.goals:
        letter = stem(goal.find)
        if letter not in known and states(part, letter):
            quantities.setdefault(letter, goal.find)


def _of_another_kind(part: CompiledCalculation, pairs: Sequence[Pair]) -> frozenset[str]:
    """W of a part that means the weight by it, where the candidate writes W = 2982 J: letters given values of another kind only."""
    closed = part.data.keys() | {g.find for g in part.goals}
    found: dict[str, set[bool]] = {}
    for left, right in pairs:
        name, (number, unit) = left.name if isinstance(left, Symbol) else "", value_parts(right)
        if number is not None and name in part.system.base and name not in closed and part.dimensions.get(name):
            found.setdefault(name, set()).add(unit is None or same_dimensions(unit.dimensions, part.dimensions.get(name)))
    return frozenset(n for n, fits in found.items() if fits == {False})


def _one_angle(part: CompiledCalculation) -> str:
    """The angle of a part that has just one; "" otherwise."""
    names = sorted(part.angles & part.system.base.keys())
    return names[0] if len(names) == 1 else ""


def _sought_without_index(part: CompiledCalculation, known: frozenset[str]) -> dict[str, str]:
    """`g = GM/r²` where g_m is sought: the letter without its index, if no other quantity has that letter."""
    out = {}
    for goal in part.goals:
        letter = goal.find.split("_")[0]
        if letter not in known and not any(n != goal.find and n.split("_")[0] == letter for n in known):
            out[letter] = goal.find
    return out


def _changes(part: CompiledCalculation, pairs: Iterable[Pair], known: frozenset[str]) -> dict[str, Expr]:
    """ΔT where the part has T₁ and T₂, and no ΔT: the second less the first."""
    out: dict[str, Expr] = {}
    for name in {n for a, b in pairs for n in symbols(a) | symbols(b)} - known:
        found = [n for n in states(part, name[1:]) if n.startswith(name[1])] if name[0] == "Δ" else []
        if len(found) == 2:
            first, second = (Symbol(name=n, known=True) for n in found)
            out[name] = Sum(terms=(second, Product(factors=(_MINUS, first))))
    return out


def _by_value(part: CompiledCalculation, pairs: Iterable[Pair], known: frozenset[str], quantities: dict[str, str]) -> None:
    """`U = 27.6 V`: a letter given the value of a datum is that datum, if only one has it."""
    for left, right in pairs:
        if not isinstance(left, Symbol) or left.name in known or left.name in quantities:
            continue
        number, unit = value_parts(right)
        if number is None:
            continue
        si = number.value * (unit.scale if unit else 1.0)
        fits = [
            s
            for s, d in part.data.items()
            if abs(si - d.si) <= 1e-6 * abs(d.si) or (unit is None and number.value == d.raw)
            if unit is None or same_dimensions(unit.dimensions, part.dimensions.get(s))
        ]
        if len(fits) == 1:
            quantities[left.name] = fits[0]


def _in_symbols(pair: Pair, sources: Sources) -> Pair:
    """Numbers that are plainly data put back to symbols, so that a letter in an expression set equal to them can be told."""
    left, right = pair
    lifter = Lifter(sources, ())
    if _open_on_both_sides(pair):
        lifted = lifter.explain([template(left), template(right, 20)])
        return (lifted.trees[0], lifted.trees[1]) if not lifted.unexplained and lifted.traced else pair
    if isinstance(left, Symbol) or is_numeric(left) or not is_numeric(right) or is_value(right):
        return pair
    lifted = lifter.explain([template(right)])
    return (left, lifted.trees[0]) if not lifted.unexplained and lifted.traced else pair


def _open_on_both_sides(pair: Pair) -> bool:
    """One and the same letter on either side of an equation in numbers: it cannot be just anything that makes the two equal."""
    return len(symbols(pair[0])) == 1 and symbols(pair[0]) == symbols(pair[1]) and not any(isinstance(side, Symbol) for side in pair)


def _by_shape(filled: Mapping[str, Expr], known: frozenset[str], quantities: dict[str, str], sources: Sources) -> None:
    """`U/N = 415/1.43e4`: a letter in whose place a datum or an own value stands is that quantity."""
    for letter, numbers in filled.items():
        if letter in known or letter in quantities or letter in sources.part.system.base or states(sources.part, letter):
            continue
        leaves = template(numbers).leaves
        if len(leaves) != 1 or not is_value(numbers):
            continue
        fits = {s.symbol for s in sources.plain(leaves[0]) if s.symbol and s.cost < 0.3}
        if len(fits) == 1 and not (fits & set(quantities.values())):
            quantities[letter] = next(iter(fits))


def _given_values(pairs: Iterable[Pair]) -> dict[str, list[float]]:
    """Letters given a value by the candidate, in SI."""
    out: dict[str, list[float]] = {}
    for left, right in pairs:
        if isinstance(left, Symbol):
            number, unit = value_parts(right)
            if number is not None:
                out.setdefault(left.name, []).append(number.value * (unit.scale if unit else 1.0))
    return out


def _contradicted(part: CompiledCalculation, assignment: Mapping[str, str], given: Mapping[str, list[float]]) -> int:
    """How far typed values speak against an assignment: a letter that has another value is not that datum."""
    against = 0
    for letter, quantity in assignment.items():
        datum = part.data.get(quantity)
        for value in given.get(letter, ()):
            if datum is not None and not any(abs(value - v) <= 0.01 * abs(v) for v in (datum.si, datum.raw)):
                against += 5
    return against


def _by_truth(
    part: CompiledCalculation,
    pair: Pair,
    known: frozenset[str],
    quantities: dict[str, str],
    given: Mapping[str, list[float]],
    most: int,
) -> None:
    """`W = mgh`: the one assignment of the unknown letters that makes a statement follow from the relationships."""
    letters = Letters(quantities=quantities, expressions={})
    left, right = letters.resolve(pair[0]), letters.resolve(pair[1])
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
        likeliest: dict[str, str] = min(found, key=lambda m: _unlikeness(m) + _contradicted(part, m, given))
        quantities.update(likeliest)


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


def _by_expression(
    part: CompiledCalculation, pair: Pair, known: frozenset[str], quantities: Mapping[str, str], expressions: Mapping[str, Expr]
) -> dict[str, Expr]:
    """`Pt = mcΔT` where T₁ and T₂ are given, `V/R₁ + V/R₂ = (E − V)/r` with V for IR: one letter for two quantities together."""
    letters = Letters(quantities=quantities, expressions=expressions)
    left, right = letters.resolve(pair[0]), letters.resolve(pair[1])
    unknown = (symbols(left) | symbols(right)) - known
    if len(unknown) != 1 or is_numeric(left) or is_numeric(right):
        return {}
    name = next(iter(unknown))
    twice = name in symbols(left) and name in symbols(right)  # a letter written once may be whatever makes the two equal
    for tree in (*_sums_of_a_kind(part), *(_products(part) if twice else ())):
        equation = (put(left, {name: tree}), put(right, {name: tree}))
        if part.system.support(equation):
            return {name: tree}
    return {}


def _cancelled(
    part: CompiledCalculation, pair: Pair, known: frozenset[str], quantities: Mapping[str, str], expressions: Mapping[str, Expr]
) -> dict[str, Expr]:
    """`½mv² = ½mu² + mgh` in a part that gives no mass: a letter whose size does not matter, taken for one of its unit."""
    letters = Letters(quantities=quantities, expressions=expressions)
    left, right = letters.resolve(pair[0]), letters.resolve(pair[1])
    unknown = (symbols(left) | symbols(right)) - known
    name = next(iter(unknown), "")
    if len(unknown) != 1 or name not in symbols(left) & symbols(right) or isinstance(left, Symbol) or isinstance(right, Symbol):
        return {}
    sizes = [Number(text=f"{size:g}", value=size, figures=(0, 0)) for size in (1.0, 2.0, 0.3)]
    held = (relettered(part, (put(left, {name: n}), put(right, {name: n})), plain=True) for n in sizes)
    return {name: sizes[0]} if all(held) else {}


def _at_rest(
    part: CompiledCalculation, pair: Pair, known: frozenset[str], quantities: Mapping[str, str], expressions: Mapping[str, Expr]
) -> dict[str, Expr]:
    """`m₁u₁ + m₂u₂ = (m₁ + m₂)v` where the second is at rest, v² = u² + 2as from rest: a letter of the part's kind that is nought."""
    letters = Letters(quantities=quantities, expressions=expressions)
    left, right = letters.resolve(pair[0]), letters.resolve(pair[1])
    unknown = (symbols(left) | symbols(right)) - known
    name = next(iter(unknown), "")
    if len(unknown) != 1 or not (stem(name) in {stem(n) for n in known} or name == "u"):
        return {}
    nought = Number(text="0", value=0.0)
    return {name: nought} if part.system.support((put(left, {name: nought}), put(right, {name: nought}))) else {}


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


def _by_case(
    part: CompiledCalculation, pairs: Iterable[Pair], known: frozenset[str], quantities: dict[str, str], given: Mapping[str, list[float]]
) -> None:
    """`M` for m: a letter in the other case, where nothing has told otherwise."""
    for pair in pairs:
        beside = symbols(pair[0]) | symbols(pair[1])  # in t/T the one is not the other
        for letter in sorted(beside - known - quantities.keys()):
            fits = [q for q in part.system.base if q.casefold() == letter.casefold() and q not in beside]
            taken = {q for n, q in quantities.items() if not _unlike(n, q)}
            if len(fits) == 1 and fits[0] not in taken and not _contradicted(part, {letter: fits[0]}, given):
                quantities[letter] = fits[0]


def _by_first_letter(
    part: CompiledCalculation, pairs: Sequence[Pair], known: frozenset[str], quantities: dict[str, str], sources: Sources
) -> None:
    """`W_f = 310 × 120`: a letter with an index of the candidate's own, for the quantity of that letter that its numbers are of.

    Not where the letter is also written by itself, nor where there are two with that letter.
    """
    used = {n for pair in pairs for side in pair for n in symbols(side)}
    sides = [side for pair in pairs for side in pair]
    own = {n: n.split("_")[0] for n in used - known - quantities.keys() if "_" in n}
    for letter, first in sorted(own.items()):
        open_to = first in part.system.base and first not in part.data and list(own.values()).count(first) == 1
        alone = open_to and not any(_writes(side, first, letter.removeprefix(f"{first}_")) for side in sides)
        numbers = [right for left, right in pairs if isinstance(left, Symbol) and left.name == letter and is_numeric(right)]
        if alone and numbers and all(_may_be(part, first, right, sources) for right in numbers if not is_value(right)):
            quantities[letter] = first


def _writes(tree: Expr, name: str, index: str) -> bool:
    """The letter is written in it, apart from right before its index (another reading of the two)."""
    if isinstance(tree, Symbol):
        return tree.name == name
    parts = children(tree)
    if isinstance(tree, Product):
        after = [getattr(p, "name", "") for p in (*parts[1:], tree)]
        parts = tuple(p for p, then in zip(parts, after, strict=True) if then != index)
    return any(_writes(p, name, index) for p in parts)


def _may_be(part: CompiledCalculation, name: str, numbers: Expr, sources: Sources) -> bool:
    """Numbers that give a quantity, a value put in wrongly allowed for."""
    points = part.system.points(part.system.everything) or ()
    wanted = [p[name] for p in points]

    def accept(values: Sequence[Sequence[float]]) -> str | None:
        return name if near(values[0], wanted[: len(values[0])]) else None

    return Lifter(sources, points).lift([template(numbers)], accept, 0, faults=True) is not None


def _by_numbers(
    part: CompiledCalculation,
    pairs: Iterable[Pair],
    known: frozenset[str],
    quantities: dict[str, str],
    expressions: dict[str, Expr],
    sources: Sources,
) -> None:
    """`n = 18/5.3`: a letter that abbreviates an expression of data."""
    lifter = Lifter(sources, ())
    for whole, right in pairs:
        left = _squared(whole)
        if not isinstance(left, Symbol) or left.name in known or left.name in quantities or left.name in expressions:
            continue
        letters = Letters(quantities=quantities, expressions=expressions)
        if is_value(right) or not symbols(letters.resolve(right)) <= known:
            continue
        resolved = letters.resolve(right)
        made = template(resolved)
        lifted = lifter.explain([made])
        traced = all(sources.plain(x) or _of_one_datum(sources, x) for x in made.leaves) and bool(lifted.traced or symbols(lifted.trees[0]))
        if not traced or datum_twice(part, resolved):
            continue
        meant = lifted.trees[0] if whole is left else Root(inner=lifted.trees[0])
        equal = _equal_quantity(part, meant)
        if equal:
            quantities[left.name] = equal
        else:
            expressions[left.name] = meant


def _squared(side: Expr) -> Expr:
    """v of v², any other side as it is."""
    match side:
        case Power(base=Symbol() as base, exponent=Number(value=2.0)):
            return base
        case _:
            return side


def _of_one_datum(sources: Sources, leaf: Leaf) -> bool:
    """A multiple of one datum (half the diameter); a product of several may as well be a value found before."""
    return any(s.cost <= 1.0 for s in sources.composite(leaf))


def _equal_quantity(part: CompiledCalculation, tree: Expr) -> str:
    """The quantity, not a datum, an expression is equal to, printed units allowed for; "" when none."""
    scales = {1.0} | {s for d in part.data.values() if d.unit is not None and d.needs_conversion for s in (d.unit.scale, 1 / d.unit.scale)}
    for name in part.system.base:
        if name in part.data or name in part.free:
            continue
        for scale in sorted(scales, key=lambda s: s != 1.0):
            side: Expr = tree if scale == 1.0 else Product(factors=(Number(text="", value=scale), tree))
            if part.system.support((Symbol(name=name, known=True), side)):
                return name
    return ""


def _by_dimensions(
    part: CompiledCalculation, pairs: Iterable[Pair], known: frozenset[str], quantities: dict[str, str], expressions: Mapping[str, Expr]
) -> None:
    """`W = 567 000 J`: a letter given a value whose unit only one unknown quantity of the part has."""
    for left, right in pairs:
        if not isinstance(left, Symbol) or left.name in known or left.name in quantities or left.name in expressions:
            continue
        number, unit = value_parts(right)
        if number is None or unit is None:
            continue
        fits = [q for q in part.system.base if q not in part.data and same_dimensions(unit.dimensions, part.dimensions.get(q))]
        if len(fits) == 1:
            quantities[left.name] = fits[0]


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
    return sum(_unlike(n, q) for n, q in assignment.items())


def _unlike(letter: str, quantity: str) -> int:
    """0 for the same letter in another case or with an index, 1 otherwise."""
    return 0 if letter[0].lower() == quantity[0].lower() else 1
