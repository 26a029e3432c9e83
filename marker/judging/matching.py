"""Candidates' own letters: `d` for the length, `W` for the energy, matched to the part's quantities.

A letter the part does not know is taken for the quantity that makes the candidate's statements true, if one
does; a letter that only ever abbreviates an expression ("F = mg" on the way) keeps that expression.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache

from marker.expression import Expr, Number, Product, Sum, Symbol, symbols
from marker.judging.families import states, stem
from marker.judging.given import datum_twice
from marker.judging.leaves import is_numeric, is_value, template, value_parts
from marker.judging.letters import Letters, Pair
from marker.judging.letters_by_truth import at_rest, by_expression, by_truth, cancelled, one_open
from marker.judging.letters_by_value import by_case, by_dimensions, by_first_letter, by_numbers, by_shape, by_value, given_values
from marker.judging.lifting import Lifter
from marker.judging.shape import fill
from marker.judging.sources import Sources
from marker.physics.evaluate import same_dimensions
from marker.scheme.compiled import CompiledCalculation

MOST_LETTERS = 3
_MINUS = Number(text="-1", value=-1.0, figures=(0, 0))


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
    given = given_values(waiting)
    quantities.update(_sought_without_index(part, known))
    expressions.update(_changes(part, waiting, known))
    by_value(part, waiting, known, quantities)
    for left, right in waiting:
        if not is_numeric(left) and is_numeric(right) and not is_value(right):
            by_shape(fill(left, right), known, quantities, sources)
    numbers = bool(part.data or part.carry) and any(is_numeric(p[0]) or is_numeric(p[1]) for p in pairs)
    in_symbols = [_in_symbols(pair, sources) for pair in waiting]
    for pair in in_symbols:
        if left_open := one_open(pair, known, quantities, expressions):
            expressions.update(cancelled(part, left_open))
    for _ in range(2):
        for pair in in_symbols:
            by_truth(part, pair, known, quantities, given, MOST_LETTERS if numbers else 1)
    for pair in in_symbols:
        if left_open := one_open(pair, known, quantities, expressions):
            expressions.update(by_expression(part, left_open) or at_rest(part, known, left_open))
    _by_stem(part, known, quantities)
    by_case(part, waiting, known, quantities, given)
    by_first_letter(part, pairs, known, quantities, sources)
    by_numbers(part, waiting, known, quantities, expressions, sources)
    by_dimensions(part, waiting, known, quantities, expressions)
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
    """The angle of a part that has just one, or gives just one and asks for none; "" otherwise."""
    names = part.angles & part.system.base.keys()
    given = names & part.data.keys()
    if len(given) == 1 and not names & {g.find for g in part.goals}:
        names = given
    return next(iter(names)) if len(names) == 1 else ""


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
