"""Where a number in a working line may have come from, dearest guess last."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import combinations

from marker.expression import Call, Dimensions, Expr, Number, Power, Product, Quotient, Sum, Symbol, symbols
from marker.judging.digits import exchanged, one_figure_off, power_of_ten
from marker.judging.leaves import Leaf
from marker.judging.model import Slip
from marker.physics.evaluate import same_dimensions, value_at
from marker.scheme.compiled import CompiledCalculation, Datum

STRUCTURAL = frozenset(
    {0.0, 0.25, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 9.0, 10.0, 12.0, 24.0, 60.0}
    | {90.0, 100.0, 180.0, 273.0, 273.15, 360.0, 365.0, 3600.0, 86400.0}
)
OTHER_G = (9.8, 9.81, 10.0)
CONVERSION_SLACK = 0.004
ROUNDING_SLACK = 0.004
WITH_PI = (2 * math.pi, 4 * math.pi, math.pi**2, 4 * math.pi**2, 4 * math.pi / 3, math.pi / 4)
OTHERS = (math.log(2), math.sqrt(2), math.sqrt(0.5), math.sqrt(3))
PI_LIKE = (3.1, 3.14, 3.142, 3.1416, 3.14159)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnNumber:
    """A value the candidate found: of a quantity, or of an expression in symbols (`stands_for`).

    slips    faults on the way to it;  line  where (0 when carried from another part)
    """

    stands_for: Expr
    si: float
    raw: float
    half: float
    line: int
    symbol: str = ""
    slips: tuple[Slip, ...] = ()
    right: bool = True
    carried: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One explanation of a number: what it stands for, how far-fetched that is, and the fault it would be."""

    cost: float
    stands_for: Expr
    symbol: str = ""
    slip: Slip | None = None
    own: OwnNumber | None = None
    unexplained: bool = False
    structural: bool = False


def letter(name: str) -> Symbol:
    return Symbol(name=name, known=True)


def constant(value: float) -> Number:
    """A number of our own (a conversion, a factor), not one the candidate typed: it claims no figures and is not traced."""
    return Number(text=f"{value:g}", value=value, figures=(0, 0))


def datum_twice(part: CompiledCalculation, side: Expr) -> bool:
    """A datum both as its letter and as its number, `250eV` where V is 250 V: a unit read as letters."""
    if not isinstance(side, Product):
        return False
    held = [d for s, d in part.data.items() if s in symbols(side)]
    return any(isinstance(x, Number) and any(x.value in (d.raw, d.si) for d in held) for x in side.factors)


def close(leaf: Leaf, value: float, *, raw: bool = False) -> bool:
    """The typed number is this value, or this value rounded to the figures typed (two at least)."""
    typed = leaf.raw if raw else leaf.si
    if math.isclose(typed, value, rel_tol=1e-9, abs_tol=0.0) or typed == value:
        return True
    scale = 1.0 if raw or not leaf.raw else abs(leaf.si / leaf.raw)
    if leaf.number.figures[1] < 2 or value == 0:
        return False
    return abs(typed - value) <= _half(leaf.number) * scale * 1.0001


def _half(number: Number) -> float:
    """Half a unit of the last place, trailing noughts of a whole number taken as no figures (two figures at least stand)."""
    least, most = number.figures
    return number.half * 10.0 ** max(0, most - max(least, 2))


@dataclass(slots=True)
class Sources:
    """All that is known when a line is read: the part's data, what the part's other values are, and the candidate's own.

    foreign  own values of other parts that this part does not carry, in SI, with their dimensions
    """

    part: CompiledCalculation
    own: list[OwnNumber] = field(default_factory=list)
    foreign: tuple[tuple[float, Dimensions | None], ...] = ()
    _plain: dict[tuple[Leaf, int], list[Source]] = field(default_factory=dict, repr=False)

    def plain(self, leaf: Leaf) -> list[Source]:
        """Explanations without a fault, cheapest first."""
        key = (leaf, len(self.own))
        held = self._plain.get(key)
        if held is None:
            found = [*_from_data(self.part, leaf), *self._own(leaf), *_structural(leaf)]
            found.extend(self._worked_out(leaf, found))
            held = self._plain[key] = sorted(_distinct(found), key=lambda s: s.cost)
        return held

    def composite(self, leaf: Leaf) -> list[Source]:
        """The number as a multiple, square, sum, product or quotient of data worked out in the head."""
        if leaf.number.figures[1] < 2 and leaf.raw < 10:
            return self._small_multiples(leaf)
        return list(self._composites(leaf))

    def _small_multiples(self, leaf: Leaf) -> list[Source]:
        """A number of one figure exactly: 9 as 3.0², 4 as 2 × 2.0, 0.05 as 1/20, 4 as 3.5 + 0.50."""
        if leaf.unit is not None or leaf.raw == 1.0:
            return []
        squares = [s for s, d in self.part.data.items() if math.isclose(leaf.raw, d.si * d.si, rel_tol=1e-9)]
        doubles = [s for s, d in self.part.data.items() if math.isclose(leaf.raw, 2.0 * d.si, rel_tol=1e-9)]
        reciprocals = [tree for tree, value in _values_as_typed(self.part) if math.isclose(leaf.raw * value, 1.0, rel_tol=1e-9)]
        sums = [tree for tree, value in _sums(self.part) if leaf.raw and math.isclose(leaf.raw, value, rel_tol=1e-9)]
        return [
            *(Source(cost=1.2, stands_for=tree) for tree in sums),
            *(Source(cost=1.1, stands_for=Product(factors=(letter(s), letter(s)))) for s in squares),
            *(Source(cost=1.2, stands_for=Product(factors=(constant(2.0), letter(s)))) for s in doubles),
            *(Source(cost=1.1, stands_for=Quotient(over=constant(1.0), under=tree)) for tree in reciprocals),
        ]

    def faulty(self, leaf: Leaf, line: int) -> list[Source]:
        """Explanations that are a fault of copying or converting, likeliest first."""
        found: list[Source] = []
        for symbol, datum in self.part.data.items():
            found.extend(self._miscopied(leaf, symbol, datum, line))
        for symbol, value in self.part.system.base.items():
            if symbol in self.part.data or leaf.unit is not None or not value:
                continue
            if any(close(leaf, value / scale, raw=True) for scale in printed_scales(self.part, symbol)):
                slip = self._slip("unconverted", "conversion", leaf, symbol, line)
                found.append(Source(cost=1.7, stands_for=letter(symbol), symbol=symbol, slip=slip))
        for own in self.own:
            found.extend(self._own_miscopied(leaf, own, line))
        return sorted(found, key=lambda s: s.cost)

    def anything(self, leaf: Leaf, line: int, explained: bool) -> list[Source]:
        """Last resort: this number stands where any one quantity should."""
        base, dims = self.part.system.base, self.part.dimensions
        out: list[Source] = []
        if leaf.unit is None and leaf.raw in STRUCTURAL and self._held_elsewhere(leaf, "") is None:
            return out
        for symbol in base:
            if symbol in self.part.free:
                continue
            source = self._held_elsewhere(leaf, symbol)
            alike = source is None or _alike(dims.get(source), dims.get(symbol))
            elsewhere = [d for v, d in self.foreign if close(leaf, v)] if source is None else []
            if elsewhere:
                explained, alike = True, any(_alike(d, dims.get(symbol)) for d in elsewhere)
            if source == symbol:
                continue
            code = "another-datum" if explained and alike else "other-quantity" if explained else "copied-wrongly"
            family = "copying" if alike else "other quantity"
            slip = self._slip(code, family, leaf, symbol, line)
            out.append(Source(cost=5.0 if explained else 4.0, stands_for=letter(symbol), symbol=symbol, slip=slip))
        return out

    def _held_elsewhere(self, leaf: Leaf, but: str) -> str | None:
        """A symbol whose value this number is."""
        for symbol, value in self.part.system.base.items():
            if close(leaf, value) and symbol not in self.part.free:
                return symbol
        for own in self.own:
            if own.symbol and close(leaf, own.si):
                return own.symbol
        return None

    def _slip(self, code: str, family: str, leaf: Leaf, symbol: str, line: int) -> Slip:
        datum = self.part.data.get(symbol)
        expected = datum.text if datum else ""
        return Slip(code=code, family=family, line=line, symbol=symbol, typed=leaf.number.text, expected=expected)

    def _own(self, leaf: Leaf) -> Iterator[Source]:
        for back, own in enumerate(reversed(self.own)):
            if close(leaf, own.si) or (leaf.unit is None and close(leaf, own.raw, raw=True)):
                cost = 0.1 + 0.001 * back
                yield Source(cost=cost, stands_for=own.stands_for, symbol=own.symbol, own=own)
            elif self.part.either_sign and own.si < 0 and close(leaf, -own.si):
                yield Source(cost=0.3 + 0.001 * back, stands_for=own.stands_for, symbol=own.symbol, own=own)
            elif own.si < 0 and close(leaf, -own.si):
                yield Source(cost=0.3 + 0.001 * back, stands_for=Product(factors=(constant(-1.0), own.stands_for)), own=own)
            elif leaf.number.figures[1] >= 3 and own.si and abs(leaf.si - own.si) <= ROUNDING_SLACK * abs(own.si):
                yield Source(cost=0.35 + 0.001 * back, stands_for=own.stands_for, symbol=own.symbol, own=own)

    def _worked_out(self, leaf: Leaf, already: Sequence[Source]) -> Iterator[Source]:
        """The right value of a quantity found on the way, or the value a "show that" gives."""
        held = {s.symbol for s in already}
        shown = {**self.part.shown, **{g.find: g.shown for g in self.part.goals if g.shown is not None}}
        for symbol, value in shown.items():
            if close(leaf, value):
                yield Source(cost=0.25, stands_for=letter(symbol), symbol=symbol, own=_shown(symbol, value, leaf))
        for symbol, value in self.part.system.base.items():
            if symbol in self.part.data or symbol in held or symbol in self.part.free:
                continue
            low, high = self.part.carried_within.get(symbol, (value, value))
            exact = math.isclose(leaf.si, value, rel_tol=1e-9) and leaf.raw not in STRUCTURAL
            if exact or (leaf.number.figures[1] >= 2 and (close(leaf, value) or low <= leaf.si <= high)):
                yield Source(cost=0.5, stands_for=letter(symbol), symbol=symbol)
            elif leaf.unit is None and value:
                for scale in printed_scales(self.part, symbol):
                    if close(leaf, value / scale, raw=True):
                        yield Source(cost=0.55, stands_for=Quotient(over=letter(symbol), under=constant(scale)), symbol=symbol)

    def _composites(self, leaf: Leaf) -> Iterator[Source]:
        yield from _data_composites(self.part, leaf)
        if leaf.number.figures[1] < 2:
            return
        for own in self.own[-12:]:
            for factor in (2.0, 0.5):
                if own.si and (close(leaf, own.si * factor) or (leaf.unit is None and close(leaf, own.raw * factor, raw=True))):
                    yield Source(cost=1.2, stands_for=Product(factors=(constant(factor), own.stands_for)), own=own)
        yield from self._of_two_own(leaf)
        for own in self.own[-6:]:
            for symbol, datum in self.part.data.items():
                if datum.si and own.si and own.symbol and close(leaf, own.si * datum.si):
                    yield Source(cost=1.25, stands_for=Product(factors=(own.stands_for, letter(symbol))), own=own)

    def _of_two_own(self, leaf: Leaf) -> Iterator[Source]:
        """The sum or the difference of two values found before, worked out in the head: 536.6 of 664.8 and 128.2."""
        if leaf.number.figures[1] < 3:
            return
        held = {own.stands_for: own for own in self.own[-10:]}
        for first, second in combinations(held.values(), 2):
            for a, b, sign in ((first, second, 1.0), (first, second, -1.0), (second, first, -1.0)):
                si, raw = a.si + sign * b.si, a.raw + sign * b.raw
                if raw > 0 and (close(leaf, si) or (leaf.unit is None and close(leaf, raw, raw=True))):
                    term = b.stands_for if sign > 0 else Product(factors=(constant(-1.0), b.stands_for))
                    tree = Sum(terms=(a.stands_for, term))
                    slips, right = tuple(dict.fromkeys((*a.slips, *b.slips))), a.right and b.right
                    made = OwnNumber(stands_for=tree, si=si, raw=raw, half=leaf.number.half, line=b.line, slips=slips, right=right)
                    yield Source(cost=1.3, stands_for=tree, own=made)

    def _miscopied(self, leaf: Leaf, symbol: str, datum: Datum, line: int) -> Iterator[Source]:
        def source(cost: float, code: str, family: str) -> Source:
            return Source(cost=cost, stands_for=letter(symbol), symbol=symbol, slip=self._slip(code, family, leaf, symbol, line))

        if datum.needs_conversion and leaf.unit is None and close(leaf, datum.raw, raw=True):
            yield source(1.5, "unconverted", "conversion")
            return
        if datum.constant and symbol == "g" and leaf.raw in OTHER_G:
            ruling = self.part.convention.other_g
            family = {"answer mark": "conversion", "substitution": "copying"}.get(ruling, "accepted")
            yield source(1.4, "other-g", family)
            return
        unit = leaf.unit
        if unit is not None and datum.unit is not None and unit.scale != datum.unit.scale and leaf.raw == datum.raw:
            yield source(1.6, "wrong-prefix", "conversion" if datum.needs_conversion else "copying")
        if math.isclose(leaf.si, -datum.si, rel_tol=1e-9) and datum.si:
            yield source(1.8, "sign", "copying")
            return
        for against in dict.fromkeys((datum.si, datum.raw)):
            if against and power_of_ten(leaf.si / against) is not None:
                free = datum.needs_conversion or datum.has_power_of_ten
                yield source(2.0, "power-of-ten", "conversion" if free else "digit place")
                return
        typed = leaf.number.text
        for right in dict.fromkeys((datum.number.text, f"{datum.si:.10g}")):
            if exchanged(typed, right):
                yield source(2.2, "digits-exchanged", "copying")
                return
            if one_figure_off(typed, right):
                yield source(2.6, "copied-wrongly", "copying")
                return

    def _own_miscopied(self, leaf: Leaf, own: OwnNumber, line: int) -> Iterator[Source]:
        if not own.raw or leaf.number.figures[1] < 2:
            return
        text, right = leaf.number.text, f"{own.raw:.10g}"
        slip = None
        if power_of_ten(leaf.si / own.si if own.si else 0.0) is not None:
            slip = ("power-of-ten", "conversion")
        elif exchanged(text, right) or (one_figure_off(text, right) and len(text) > 2):
            slip = ("own-value-miscarried", "copying")
        if slip:
            fault = Slip(code=slip[0], family=slip[1], line=line, symbol=own.symbol, typed=text, expected=right)
            yield Source(cost=2.8, stands_for=own.stands_for, symbol=own.symbol, slip=fault, own=own)


@lru_cache(maxsize=20_000)
def _from_data(part: CompiledCalculation, leaf: Leaf) -> tuple[Source, ...]:
    """Data the number may be, as given, rounded, or as printed with its conversion to come."""
    return tuple(_data(part, leaf))


def _data(part: CompiledCalculation, leaf: Leaf) -> Iterator[Source]:
    for symbol, datum in part.data.items():
        if symbol == "g" and is_other_g(part, leaf):
            continue
        if close(leaf, datum.si) or any(close(leaf, v) for v in datum.others):
            yield Source(cost=0.0, stands_for=letter(symbol), symbol=symbol)
        elif datum.needs_conversion and leaf.number.figures[1] >= 2 and abs(leaf.si - datum.si) <= CONVERSION_SLACK * abs(datum.si):
            yield Source(cost=0.15, stands_for=letter(symbol), symbol=symbol)
        elif datum.si and leaf.unit is None and math.isclose(leaf.si, -datum.si, rel_tol=1e-9):
            yield Source(cost=0.3, stands_for=Product(factors=(constant(-1.0), letter(symbol))), symbol=symbol)
        elif leaf.unit is None and datum.unit is not None and (datum.needs_conversion or datum.unit.dimensions[7]):
            yield from _as_printed(leaf, symbol, datum)


def _as_printed(leaf: Leaf, symbol: str, datum: Datum) -> Iterator[Source]:
    """The printed number with its conversion still to come: 6.5 of "6.5 min" is t/60."""
    unit = datum.unit
    if unit is None or not close(leaf, datum.raw, raw=True):
        return
    if unit.offset:
        for offset in (unit.offset, float(round(unit.offset))):
            tree = Sum(terms=(letter(symbol), constant(-offset)))
            yield Source(cost=0.2, stands_for=tree, symbol=symbol)
    else:
        yield Source(cost=0.2, stands_for=Quotient(over=letter(symbol), under=constant(unit.scale)), symbol=symbol)


@lru_cache(maxsize=20_000)
def _structural(leaf: Leaf) -> tuple[Source, ...]:
    """A number that belongs to the shape of a relationship: 2, ½, 60, π, 273."""
    return tuple(_shape_numbers(leaf))


def _shape_numbers(leaf: Leaf) -> Iterator[Source]:
    if leaf.unit is not None:
        return
    if leaf.raw in STRUCTURAL or power_of_ten(leaf.raw) is not None:
        usual = leaf.number.figures[1] <= 1 or leaf.raw in (0.5, 60.0, 180.0, 360.0)
        yield Source(cost=0.05 if usual else 0.4, stands_for=constant(leaf.si), structural=True)
    elif leaf.raw in PI_LIKE or math.isclose(leaf.raw, 22 / 7, rel_tol=1e-3):
        yield Source(cost=0.3, stands_for=Symbol(name="π", known=True), structural=True)
    elif leaf.number.figures[1] >= 2:
        for value in (*WITH_PI, *OTHERS):
            if close(leaf, value, raw=True):
                yield Source(cost=0.35, stands_for=constant(value), structural=True)


@lru_cache(maxsize=4_000)
def printed_scales(part: CompiledCalculation, symbol: str) -> tuple[float, ...]:
    """Scales of the units in which data of the same dimensions are printed."""
    dims = part.dimensions.get(symbol)
    if dims is None or not any(dims[:7]):
        return ()
    alike = (d.unit.scale for d in part.data.values() if d.unit and d.needs_conversion and same_dimensions(d.unit.dimensions, dims))
    return tuple(sorted(set(alike)))


@lru_cache(maxsize=20_000)
def is_other_g(part: CompiledCalculation, leaf: Leaf) -> bool:
    """10 for g is another value of g, not one of those given rounded to a whole number."""
    datum = part.data.get("g")
    return datum is not None and datum.constant and leaf.raw == max(OTHER_G) and leaf.raw not in (datum.si, *datum.others)


def _data_composites(part: CompiledCalculation, leaf: Leaf) -> tuple[Source, ...]:
    """The number as something worked out from data alone."""
    return tuple(_worked_from_data(part, leaf))


def _worked_from_data(part: CompiledCalculation, leaf: Leaf) -> Iterator[Source]:
    data = _values_as_typed(part)
    for tree, value in data:
        for factor in (2.0, 0.5, 4.0, 0.25, 3.0, math.pi, 2 * math.pi):
            if close(leaf, value * factor):
                yield Source(cost=1.0, stands_for=Product(factors=(constant(factor), tree)))
        if close(leaf, 1 / value):
            yield Source(cost=1.0, stands_for=Quotient(over=constant(1.0), under=tree))
        for factor in (1.0, 0.5):
            if leaf.number.figures[1] >= 2 and close(leaf, factor * value * value):
                yield Source(cost=1.1, stands_for=Product(factors=(constant(factor), tree, tree)))
        for power in (3, 4):
            if leaf.number.figures[1] >= 2 and close(leaf, value**power):
                yield Source(cost=1.15, stands_for=Power(base=tree, exponent=constant(float(power))))
    if leaf.number.figures[1] < 2:
        return
    for tree, value in _of_angles(part):
        if close(leaf, value):
            yield Source(cost=0.9, stands_for=tree)
    for tree, value in _of_two_or_three(part):
        if close(leaf, value):
            yield Source(cost=1.35, stands_for=tree)


@lru_cache(maxsize=256)
def _values_as_typed(part: CompiledCalculation) -> tuple[tuple[Expr, float], ...]:
    """Every datum with its value in SI, and with the number printed where that is another."""
    out: list[tuple[Expr, float]] = []
    for symbol, datum in part.data.items():
        if datum.si:
            out.append((letter(symbol), datum.si))
        unit = datum.unit
        if unit is not None and datum.needs_conversion and not unit.offset and datum.raw:
            out.append((Quotient(over=letter(symbol), under=constant(unit.scale)), datum.raw))
    return tuple(out)


@lru_cache(maxsize=256)
def _of_angles(part: CompiledCalculation) -> tuple[tuple[Expr, float], ...]:
    """Sine, cosine and tangent of the angles given, worked out in the head or on a calculator."""
    trees = [Call(function=f, inner=letter(n)) for n in sorted(part.angles & part.data.keys()) for f in ("sin", "cos", "tan")]
    return tuple((tree, value_at(tree, part.system.base)) for tree in trees)


@lru_cache(maxsize=256)
def _of_two_or_three(part: CompiledCalculation) -> tuple[tuple[Expr, float], ...]:
    """Sums, differences, products and quotients of two data, and products of three, with their values."""
    data = _values_as_typed(part)
    out = [(tree, value) for (a, x), (b, y) in combinations(data, 2) for value, tree in _pairs(a, x, b, y)]
    out.extend((Product(factors=(a, b, c)), x * y * z) for (a, x), (b, y), (c, z) in combinations(data, 3))
    return tuple(out)


@lru_cache(maxsize=256)
def _sums(part: CompiledCalculation) -> tuple[tuple[Expr, float], ...]:
    """Sums and differences of two data of a kind, with their values as typed."""
    out: list[tuple[Expr, float]] = []
    for (a, x), (b, y) in combinations(_values_as_typed(part), 2):
        kinds = [part.dimensions.get(n) for tree in (a, b) for n in symbols(tree)]
        if len(kinds) == 2 and _alike(kinds[0], kinds[1]):
            out.append((Sum(terms=(a, b)), x + y))
            out.append((Sum(terms=(a, Product(factors=(constant(-1.0), b)))), x - y))
            out.append((Sum(terms=(b, Product(factors=(constant(-1.0), a)))), y - x))
    return tuple(out)


def _pairs(first: Expr, x: float, second: Expr, y: float) -> Iterator[tuple[float, Expr]]:
    yield x * y, Product(factors=(first, second))
    yield x / y, Quotient(over=first, under=second)
    yield y / x, Quotient(over=second, under=first)
    yield x * y / 2, Product(factors=(constant(0.5), first, second))
    yield 2 * x * y, Product(factors=(constant(2.0), first, second))
    yield x + y, Sum(terms=(first, second))
    yield x - y, Sum(terms=(first, Product(factors=(constant(-1.0), second))))
    yield y - x, Sum(terms=(second, Product(factors=(constant(-1.0), first))))
    yield x * y * y, Product(factors=(first, second, second))
    yield x * x * y, Product(factors=(first, first, second))


def _shown(symbol: str, value: float, leaf: Leaf) -> OwnNumber:
    return OwnNumber(stands_for=letter(symbol), si=value, raw=leaf.raw, half=leaf.number.half, line=0, symbol=symbol, carried=True)


def _alike(a: object, b: object) -> bool:
    return a is None or b is None or same_dimensions(a, b)  # type: ignore[arg-type]


def _distinct(found: Sequence[Source]) -> list[Source]:
    best: dict[Expr, Source] = {}
    for source in found:
        if source.stands_for not in best or source.cost < best[source.stands_for].cost:
            best[source.stands_for] = source
    return list(best.values())
