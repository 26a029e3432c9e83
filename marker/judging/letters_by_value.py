"""Own letters told by what stands beside them: a value, its unit, the numbers put in, the letter itself in another case."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from marker.expression import Expr, Number, Power, Product, Root, Symbol, children, symbols
from marker.judging.families import states
from marker.judging.given import datum_twice
from marker.judging.leaves import Leaf, is_numeric, is_value, template, value_parts
from marker.judging.letters import Letters, Pair
from marker.judging.lifting import Lifter, near
from marker.judging.sources import Sources
from marker.physics.evaluate import same_dimensions
from marker.scheme.compiled import CompiledCalculation


def by_value(part: CompiledCalculation, pairs: Iterable[Pair], known: frozenset[str], quantities: dict[str, str]) -> None:
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


def by_shape(filled: Mapping[str, Expr], known: frozenset[str], quantities: dict[str, str], sources: Sources) -> None:
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


def given_values(pairs: Iterable[Pair]) -> dict[str, list[float]]:
    """Letters given a value by the candidate, in SI."""
    out: dict[str, list[float]] = {}
    for left, right in pairs:
        if isinstance(left, Symbol):
            number, unit = value_parts(right)
            if number is not None:
                out.setdefault(left.name, []).append(number.value * (unit.scale if unit else 1.0))
    return out


def contradicted(part: CompiledCalculation, assignment: Mapping[str, str], given: Mapping[str, list[float]]) -> int:
    """How far typed values speak against an assignment: a letter that has another value is not that datum."""
    against = 0
    for letter, quantity in assignment.items():
        datum = part.data.get(quantity)
        for value in given.get(letter, ()):
            if datum is not None and not any(abs(value - v) <= 0.01 * abs(v) for v in (datum.si, datum.raw)):
                against += 5
    return against


def by_case(
    part: CompiledCalculation, pairs: Iterable[Pair], known: frozenset[str], quantities: dict[str, str], given: Mapping[str, list[float]]
) -> None:
    """`M` for m: a letter in the other case, where nothing has told otherwise."""
    for pair in pairs:
        beside = symbols(pair[0]) | symbols(pair[1])  # in t/T the one is not the other
        for letter in sorted(beside - known - quantities.keys()):
            fits = [q for q in part.system.base if q.casefold() == letter.casefold() and q not in beside]
            taken = {q for n, q in quantities.items() if not unlike(n, q)}
            if len(fits) == 1 and fits[0] not in taken and not contradicted(part, {letter: fits[0]}, given):
                quantities[letter] = fits[0]


def by_first_letter(
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


def by_numbers(
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


def by_dimensions(
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


def unlike(letter: str, quantity: str) -> int:
    """0 for the same letter in another case or with an index, 1 otherwise."""
    return 0 if letter[0].lower() == quantity[0].lower() else 1
