"""Where a number in a working line may have come from, dearest guess last."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import combinations

from marker.expression import Dimensions, Expr, Product, Quotient, Sum
from marker.judging.composites import alike, from_data_together, small_multiples
from marker.judging.dimensions import dimensions_of
from marker.judging.given import STRUCTURAL, from_data, structural, worked_out
from marker.judging.leaves import Leaf
from marker.judging.miscopied import half_converted, miscopied, own_miscopied, slip_of
from marker.judging.origins import OwnNumber, Source, by_cost, constant, letter
from marker.judging.unit_sizes import unit_ratio
from marker.physics.evaluate import DEGREE, same_dimensions, value_at
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.definitions import changes

FOUND_FIGURES = 3  # that the value of a quantity found in the head must have to be told from chance
OF_THE_WHOLE = 3.5  # what it costs to take the whole p.d. for that of one piece, or one end of a change for the change
MOST_UNITS = 6  # own values looked through for the unit a candidate works in
ROUNDING_SLACK = 0.004
MOST_PIECES = 12
MOST_KNOWN = 4_000
OF_OWN = (2.0, 0.5, 4 / math.pi, 1 / math.pi, math.pi)  # what an own value is multiplied by in the head: d² = 4A/π

Foreign = tuple[tuple[float, Dimensions | None], ...]


@dataclass(slots=True)
class Sources:
    """All that is known when a line is read: the part's data, what the part's other values are, and the candidate's own.

    foreign  own values of other parts that this part does not carry, in SI, with their dimensions
    pieces   values of pieces of expressions written before
    """

    part: CompiledCalculation
    own: tuple[OwnNumber, ...] = ()
    foreign: Foreign = ()
    pieces: tuple[OwnNumber, ...] = ()
    _plain: dict[Leaf, list[Source]] = field(default_factory=dict, repr=False)

    def plain(self, leaf: Leaf) -> list[Source]:
        """Explanations without a fault, cheapest first."""
        held = self._plain.get(leaf)
        if held is None:
            found = [*self._own(leaf), *self._data_in_own_units(leaf), *self._pieces(leaf)]
            held = self._plain[leaf] = _ranked(self.part, leaf, found) if found else _of_the_part(self.part, leaf)
        return held

    def composite(self, leaf: Leaf) -> list[Source]:
        """The number as a multiple, square, sum, product or quotient of data worked out in the head."""
        if leaf.number.figures[1] < 2 and leaf.raw < 10:
            return list(small_multiples(self.part, leaf))
        return list(self._composites(leaf))

    def faulty(self, leaf: Leaf, line: int, beside: frozenset[float] = frozenset()) -> list[Source]:
        """Explanations that are a fault of copying or converting, likeliest first; `beside` are the statement's other numbers."""
        found = [*miscopied(self.part, leaf, line), *half_converted(self.part, leaf, beside, line)]
        for own in self.own:
            found.extend(own_miscopied(leaf, own, line))
        return sorted(found, key=by_cost)

    def anything(self, leaf: Leaf, line: int, explained: bool) -> list[Source]:
        """Last resort: this number stands where any one quantity should."""
        base, dims = self.part.system.base, self.part.dimensions
        out: list[Source] = []
        source = self._held_elsewhere(leaf)
        if leaf.unit is None and leaf.raw in STRUCTURAL and source is None:
            return out
        elsewhere = [d for v, d in self.foreign if leaf.close(v)] if source is None else []
        explained = explained or bool(elsewhere)
        found = source if source and source not in self.part.data and leaf.number.figures[1] >= FOUND_FIGURES else ""
        steps = self._own_steps(leaf)
        for symbol in base:
            if symbol in self.part.free or not all(alike(d, dims.get(symbol)) for d in steps):
                continue
            fits = source is None or alike(dims.get(source), dims.get(symbol))
            if elsewhere:
                fits = any(alike(d, dims.get(symbol)) for d in elsewhere)
            if source == symbol:
                continue
            code = "another-datum" if explained and fits else "other-quantity" if explained else "copied-wrongly"
            family = "copying" if fits else "other quantity"
            made = _as_any(self.part, leaf, symbol, line, code, family, found)
            given = source in self.part.data and symbol not in self.part.data
            whole = given and any({source, symbol} <= names for _, names in changes(self.part))
            out.append(replace(made, cost=OF_THE_WHOLE) if whole else made)
        return out

    def _own_steps(self, leaf: Leaf) -> list[Dimensions | None]:
        """Dimensions of the expressions whose own value this number is: it can stand only where such a quantity belongs."""
        steps = (o.stands_for for o in self.own if not o.symbol and leaf.number.figures[1] >= 2 and leaf.raw_close(o.raw))
        return [dimensions_of(tree, self.part.dimensions) for tree in steps]

    def _held_elsewhere(self, leaf: Leaf) -> str | None:
        """A symbol whose value this number is."""
        for symbol, value in self.part.system.base.items():
            if leaf.close(value) and symbol not in self.part.free:
                return symbol
        for own in self.own:
            if own.symbol and leaf.close(own.si):
                return own.symbol
        return None

    def _own(self, leaf: Leaf) -> Iterator[Source]:
        for back, own in enumerate(reversed(self.own)):
            if leaf.close(own.si) or (leaf.unit is None and leaf.raw_close(own.raw)):
                cost = 0.1 + 0.001 * back
                meant = self._as_angle(own) if leaf.angle and not leaf.close(own.si) else own.stands_for
                yield Source(cost=cost, stands_for=meant, symbol=own.symbol, own=own)
                yield from self._own_in_its_unit(leaf, own, cost)
            elif self.part.either_sign and own.si < 0 and leaf.close(-own.si):
                yield Source(cost=0.3 + 0.001 * back, stands_for=own.stands_for, symbol=own.symbol, own=own)
            elif own.si < 0 and leaf.close(-own.si):
                yield Source(cost=0.3 + 0.001 * back, stands_for=Product(factors=(constant(-1.0), own.stands_for)), own=own)
            elif leaf.number.figures[1] >= 3 and own.si and abs(leaf.si - own.si) <= ROUNDING_SLACK * abs(own.si):
                yield Source(cost=0.35 + 0.001 * back, stands_for=own.stands_for, symbol=own.symbol, own=own)

    def _as_angle(self, own: OwnNumber) -> Expr:
        """83.8 of an own 90 − 6.2 = 83.8 under a cosine: as many degrees, where the expression is one of plain degrees."""
        value = value_at(own.stands_for, self.part.system.base) if not own.symbol else math.nan
        degrees = math.isclose(value, own.raw, rel_tol=0.01)
        return Product(factors=(constant(DEGREE), own.stands_for)) if degrees else own.stands_for

    def _own_in_its_unit(self, leaf: Leaf, own: OwnNumber, cost: float) -> Iterator[Source]:
        """2.85 of an own E = 2.85 eV is E over one electronvolt where the working goes on in electronvolts."""
        written = own.scale != 1.0 and own.symbol not in self.part.angles and leaf.unit is None
        if written and leaf.raw_close(own.raw):
            yield Source(cost=cost + 0.03, stands_for=Quotient(over=own.stands_for, under=constant(own.scale)), symbol=own.symbol, own=own)

    def _data_in_own_units(self, leaf: Leaf) -> Iterator[Source]:
        """1250 of a datum 12.5 m, where an own length has been written in centimetres."""
        dims = self.part.dimensions
        for own in self.own[-MOST_UNITS:]:
            if own.scale == 1.0 or leaf.unit is not None or own.symbol in self.part.angles or not any((dims.get(own.symbol) or ())[:7]):
                continue
            for symbol, datum in self.part.data.items():
                if same_dimensions(dims.get(symbol), dims.get(own.symbol)) and leaf.raw_close(datum.si / own.scale):
                    yield Source(cost=0.3, stands_for=Quotient(over=letter(symbol), under=constant(own.scale)), symbol=symbol)

    def _pieces(self, leaf: Leaf) -> Iterator[Source]:
        """A piece of an expression before, worked out: 0.0946 of exp(-0.131 × 18)."""
        if leaf.number.figures[1] < 2 or leaf.unit is not None:
            return
        for piece in self.pieces[-MOST_PIECES:]:
            if abs(leaf.raw - piece.raw) <= max(leaf.number.half, ROUNDING_SLACK * abs(piece.raw)):
                yield Source(cost=0.7, stands_for=piece.stands_for, own=piece if piece.slips else None)

    def _composites(self, leaf: Leaf) -> Iterator[Source]:
        yield from from_data_together(self.part, leaf)
        if leaf.number.figures[1] < 2:
            return
        for own in self.own[-12:]:
            for factor in OF_OWN if leaf.number.figures[1] >= 3 else OF_OWN[:2]:
                if own.si and (leaf.close(own.si * factor) or (leaf.unit is None and leaf.raw_close(own.raw * factor))):
                    yield Source(cost=1.2, stands_for=Product(factors=(constant(factor), own.stands_for)), own=own)
        yield from self.of_two_own(leaf)
        for own in self.own[-6:]:
            for symbol, datum in self.part.data.items():
                if datum.si and own.si and own.symbol and leaf.close(own.si * datum.si):
                    yield Source(cost=1.25, stands_for=Product(factors=(own.stands_for, letter(symbol))), own=own)
                if own.symbol and same_dimensions(self.part.dimensions.get(own.symbol), self.part.dimensions.get(symbol)):
                    yield from _sums_with_own(leaf, own, letter(symbol), datum.si)

    def of_two_own(self, leaf: Leaf) -> Iterator[Source]:
        """The sum or the difference of two values found before, worked out in the head: 536.6 of 664.8 and 128.2."""
        if leaf.number.figures[1] < 3:
            return
        held = {own.stands_for: own for own in self.own[-10:]}
        for first, second in combinations(held.values(), 2):
            for a, b, sign in ((first, second, 1.0), (first, second, -1.0), (second, first, -1.0)):
                si, raw = a.si + sign * b.si, a.raw + sign * b.raw
                if raw > 0 and (leaf.close(si) or (leaf.unit is None and leaf.raw_close(raw))):
                    term = b.stands_for if sign > 0 else Product(factors=(constant(-1.0), b.stands_for))
                    tree = Sum(terms=(a.stands_for, term))
                    slips, right = tuple(dict.fromkeys((*a.slips, *b.slips))), a.right and b.right
                    made = OwnNumber(stands_for=tree, si=si, raw=raw, half=leaf.number.half, line=b.line, slips=slips, right=right)
                    yield Source(cost=1.3, stands_for=tree, own=made)


@lru_cache(maxsize=MOST_KNOWN)
def sources_of(part: CompiledCalculation, own: tuple[OwnNumber, ...], foreign: Foreign, pieces: tuple[OwnNumber, ...]) -> Sources:
    """The same for all readings and responses that know the same."""
    return Sources(part, own, foreign, pieces)


@lru_cache(maxsize=20_000)
def _of_the_part(part: CompiledCalculation, leaf: Leaf) -> list[Source]:
    """What a number is in a response that has found nothing it could be, as most have not."""
    return _ranked(part, leaf, ())


def _ranked(part: CompiledCalculation, leaf: Leaf, of_response: Sequence[Source]) -> list[Source]:
    """What the part and the response explain a number by, cheapest first."""
    found = [*from_data(part, leaf), *of_response, *structural(leaf), *_size_of_a_unit(part, leaf)]
    symbols = {s.symbol for s in found}
    found.extend(s for s in worked_out(part, leaf) if s.own is not None or s.symbol not in symbols)
    return sorted(_distinct(found), key=by_cost)


@lru_cache(maxsize=20_000)
def _as_any(part: CompiledCalculation, leaf: Leaf, symbol: str, line: int, code: str, family: str, found: str) -> Source:
    """A number put in for a quantity that nothing says it is."""
    cost = 4.0 if code == "copied-wrongly" else 5.0
    slip = slip_of(part, code, family, leaf, symbol, line)
    return Source(cost=cost, stands_for=letter(symbol), symbol=symbol, slip=slip, found=found)


def _size_of_a_unit(part: CompiledCalculation, leaf: Leaf) -> Iterator[Source]:
    """The size of a unit that a value is turned into, or out of: 1.60e-19, 3.6e6 J/kWh."""
    ratio = unit_ratio(part, leaf)
    if ratio is not None:
        yield Source(cost=0.3, stands_for=constant(ratio), structural=True)


def _sums_with_own(leaf: Leaf, own: OwnNumber, datum: Expr, si: float) -> Iterator[Source]:
    """An own value and a datum of its kind, added or taken from each other in the head."""
    minus = constant(-1.0)
    if leaf.close(own.si + si):
        yield Source(cost=1.25, stands_for=Sum(terms=(own.stands_for, datum)), own=own)
    if leaf.close(own.si - si):
        yield Source(cost=1.3, stands_for=Sum(terms=(own.stands_for, Product(factors=(minus, datum)))), own=own)
    if leaf.close(si - own.si):
        yield Source(cost=1.3, stands_for=Sum(terms=(datum, Product(factors=(minus, own.stands_for)))), own=own)


def _distinct(found: Sequence[Source]) -> list[Source]:
    best: dict[Expr, Source] = {}
    for source in found:
        if source.stands_for not in best or source.cost < best[source.stands_for].cost:
            best[source.stands_for] = source
    return list(best.values())
