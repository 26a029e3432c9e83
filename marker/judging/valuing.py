"""Values: of a quantity, of a datum written again, of an expression such as v², or standing alone."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from marker.expression import Expr, Number, Product, Quotient, Symbol, children, rebuild, symbols
from marker.judging.bench import (
    UNKNOWN_COST,
    WRONG_ARITHMETIC,
    WRONG_UNIT,
    key_of,
    own_number,
)
from marker.judging.desk import Implied, unknown_letters
from marker.judging.leaves import template
from marker.judging.model import Kind, Slip, TypedValue
from marker.judging.noting import Noting
from marker.judging.sought import sought
from marker.judging.values import check_value, nearly, power_between, typed_value
from marker.physics.evaluate import Unknown, Value, evaluate, same_dimensions, value_at
from marker.scheme.compiled import CompiledCalculation


def _head_in_printed_units(symbol: str, typed: TypedValue, implied: Implied | None) -> Expr | None:
    """What a bare value stands for where the data went in as they are printed: λ = 0.693/13.2 = 0.0525 of years is λ/(1 year⁻¹)."""
    head = implied.evidence.stated[0] if implied is not None and implied.evidence.stated is not None else None
    if head is None or typed.unit is not None or isinstance(head, Symbol) or symbols(head) != {symbol}:
        return None
    one, two = (value_at(head, {symbol: v}) for v in (1.0, 2.0))
    return head if one and math.isclose(two, 2 * one) else None


class Valuing(Noting):
    """Values: of a quantity, of a datum written again, of an expression such as v², or standing alone."""

    __slots__ = ()

    def _value(self, head: Expr, side: Expr, i: int) -> Expr:
        """A value under a head: of a quantity, of a datum, or of an expression such as v² or sin θ."""
        typed = typed_value(side, self.text[i])
        if typed is None:
            return head
        if unknown_letters(self.desk.part, symbols(head)):  # settled since
            head = self.desk.letters.resolve(head)
        if isinstance(head, Symbol):
            self._value_of(head.name, typed, side, i)
            return head
        return self._value_of_expression(head, typed, i)

    def _value_of(self, symbol: str, typed: TypedValue, side: Expr, i: int) -> None:
        part = self.desk.part
        if symbol in part.data and typed.unit is not None and self._other_kind(symbol, typed):
            meant = [n for n in self._letters_before(i) if n not in part.data and not self._other_kind(n, typed)]
            if len(meant) == 1:
                self._quantity(meant[0], typed, i)
                return
        if symbol in part.data:
            self._datum(symbol, typed, i)
        elif symbol in part.system.base:
            self._quantity(symbol, typed, i)
        else:
            self._add(Kind.VALUE, i, value=typed, bare=True)
            self.desk.own.append(own_number(self._in_the_head(symbol, typed, side), typed, self.statement.line, symbol=""))

    def _in_the_head(self, symbol: str, typed: TypedValue, side: Expr) -> Expr:
        """What a letter of the candidate's own with a value stands for: data worked out in the head (KE = 4.0e-17 J is eV), or itself."""
        leaves = template(side).leaves
        if len(leaves) == 1 and typed.number is not None and typed.number.figures[1] >= 2:
            composites = self._lifter_now().sources.composite(leaves[0])
            fits = [s.stands_for for s in composites if s.own is None and self._of_kind(s.stands_for, typed)]
            exact = [t for t in fits if math.isclose(value_at(t, self.desk.part.system.base), typed.si, rel_tol=1e-6)]
            if self._alike_at_every_probe(exact or fits):
                return (exact or fits)[0]
        return Symbol(name=symbol)

    def _alike_at_every_probe(self, trees: Sequence[Expr]) -> bool:
        """Expressions that are all the same (and there is one), such as d₂/d₁ in metres and in kilometres."""
        vectors = [self.desk.part.system.vector(t) for t in trees]
        return bool(vectors) and all(math.isclose(a, b, rel_tol=1e-6) for v in vectors for a, b in zip(v, vectors[0], strict=True))

    def _of_kind(self, tree: Expr, typed: TypedValue) -> bool:
        """A product of data has the dimensions of the value's unit, if one is typed."""
        unit = typed.unit
        if unit is None:
            return True
        values = {s: Value(1.0, 1.0, self.desk.part.dimensions.get(s)) for s in symbols(tree)}
        try:
            found = evaluate(tree, values).dimensions
        except Unknown:
            return False
        return found is not None and same_dimensions(found, unit.dimensions)

    def _datum(self, symbol: str, typed: TypedValue, i: int) -> None:
        datum = self.desk.part.data[symbol]
        right = any(nearly(typed.si, v, typed.half) for v in (datum.si, *datum.others)) or (
            typed.unit is None and nearly(typed.raw, datum.raw, 0.0)
        )
        held = self.desk.implied.get(symbol)
        slips: tuple[Slip, ...] = ()
        if right:
            self.desk.own.append(own_number(Symbol(name=symbol, known=True), typed, self.statement.line, symbol=symbol))
        elif self.statement.tentative and held is None:
            self._add(Kind.VALUE, i, value=typed, bare=True)
            return
        else:
            wrong_sum = held is not None and not nearly(held.raw, typed.raw, typed.half)
            carried = held.evidence.slips if held is not None and not wrong_sum else ()
            slips = carried or (self._datum_slip(symbol, typed, wrong_sum),)
            own = own_number(Symbol(name=symbol, known=True), typed, self.statement.line, symbol=symbol, slips=slips, right=False)
            self.desk.own.append(own)
            self.desk.wrongs += WRONG_ARITHMETIC
        self._add(Kind.DATUM, i, about=symbol, right=right, slips=slips, value=typed)

    def _datum_slip(self, symbol: str, typed: TypedValue, wrong_sum: bool) -> Slip:
        datum = self.desk.part.data[symbol]
        expected, line = datum.text, self.statement.line
        if power_between(typed.si, datum.si) or power_between(typed.raw, datum.raw):
            family = "conversion" if datum.needs_conversion or datum.has_power_of_ten else "digit place"
            return Slip(code="power-of-ten", family=family, line=line, symbol=symbol, typed=typed.text, expected=expected)
        if wrong_sum:
            return Slip(code="arithmetic", family="arithmetic", line=line, symbol=symbol, typed=typed.text, expected=expected)
        as_printed = typed.unit is not None and datum.unit is not None and typed.unit.scale == datum.unit.scale
        if datum.needs_conversion and typed.raw != datum.raw and typed.unit is not None and not as_printed:
            return Slip(code="wrong-conversion", family="conversion", line=line, symbol=symbol, typed=typed.text, expected=expected)
        return Slip(code="copied-wrongly", family="copying", line=line, symbol=symbol, typed=typed.text, expected=expected)

    def _quantity(self, symbol: str, typed: TypedValue, i: int) -> None:
        implied = self.desk.implied.get(symbol)
        typed = self._as_difference(symbol, typed)
        scaled = _head_in_printed_units(symbol, typed, implied)
        plain = typed
        if scaled is not None:
            typed = replace(typed, si=typed.raw / value_at(scaled, {symbol: 1.0}))
        if i == 0 and self.reading.opens and any(o.symbol == symbol and not nearly(typed.si, o.si, typed.half) for o in self.desk.own):
            self._add(Kind.VALUE, i, value=typed, bare=True)
            return
        about = 0 < i <= len(self.reading.relations) and self.reading.relations[i - 1] == "≈"
        inherited, slips, right = check_value(self.desk.part, symbol, typed, implied, self.statement.line, about=about)
        if implied is None and not right:
            slips = (*slips, *self._another_datum(symbol, typed))
        inherited = tuple(dict.fromkeys((*inherited, *self.desk.taint(symbol))))
        tainted = bool(self.desk.taint(symbol)) or bool(implied and implied.evidence.tainted)
        evidence = self._add(
            Kind.VALUE,
            i,
            about=symbol,
            right=right,
            slips=slips,
            inherited=inherited,
            value=typed,
            tainted=tainted,
            uses=implied.evidence.uses if implied else (),
            bare=implied is None,
        )
        meant = implied.evidence.stated[1] if implied and implied.evidence.tainted and implied.evidence.stated else None
        if meant is not None:
            self.desk.own.append(own_number(meant, typed, self.statement.line))
        for stands_for in (Symbol(name=symbol, known=True), *([] if scaled is None else [scaled])):
            own = own_number(stands_for, plain, self.statement.line, symbol=symbol, slips=(*inherited, *slips), right=right)
            self.desk.own.append(own)
        if slips and not evidence.right:
            self.desk.wrongs += WRONG_ARITHMETIC
        if typed.unit is not None and self._other_kind(symbol, typed):
            self.desk.wrongs += WRONG_UNIT

    def _another_datum(self, symbol: str, typed: TypedValue) -> tuple[Slip, ...]:
        """`d = 300` where 300 lines are given and d is the spacing: a datum of another quantity said to be this one."""
        part = self.desk.part
        if typed.unit is not None or any(g.find == symbol for g in part.goals) or typed.number is None or typed.number.figures[1] < 2:
            return ()
        if not any(typed.raw == d.raw and n != symbol for n, d in part.data.items()):
            return ()
        return (Slip(code="other-quantity", family="other quantity", line=self.statement.line, symbol=symbol, typed=typed.text),)

    def _letters_before(self, i: int) -> list[str]:
        """Quantities of the part in the sides of the chain before this one."""
        found = {n for side in self.reading.sides[:i] for n in symbols(self.desk.letters.resolve(side))}
        return sorted(found & self.desk.part.system.base.keys())

    def _as_difference(self, symbol: str, typed: TypedValue) -> TypedValue:
        """`ΔT = 48.7 °C` is 48.7 K: a value in °C taken as a difference where that is nearer the truth."""
        if typed.unit is None or not typed.unit.offset:
            return typed
        truth, difference = self.desk.part.system.base[symbol], typed.raw * typed.unit.scale
        return replace(typed, si=difference) if abs(difference - truth) < abs(typed.si - truth) else typed

    def _other_kind(self, symbol: str, typed: TypedValue) -> bool:
        dims = self.desk.part.dimensions.get(symbol)
        return dims is not None and typed.unit is not None and not same_dimensions(typed.unit.dimensions, dims)

    def _value_of_expression(self, head: Expr, typed: TypedValue, i: int) -> Expr:
        """v² = 57.4, sin θ = 0.481, mgh = 5.6e6 J: the expression's value, or (run on) the value of its one unknown."""
        part = self.desk.part
        if unknown_letters(part, symbols(head)):
            self._add(Kind.VALUE, i, value=typed, bare=True)
            self.desk.wrongs += UNKNOWN_COST
            return head
        if self._has_data(head):
            return self._value_of_numbers(head, typed, i)
        quantity = self._same_as(head)
        if quantity is not None:
            relations = part.system.support((Symbol(name=quantity, known=True), head)) or frozenset()
            self._clear((Symbol(name=quantity, known=True), head), quantity)
            self._add(Kind.RELATIONSHIP, i, about=quantity, relations=relations, symbolic=True)
            self._quantity(quantity, typed, i)
            return Symbol(name=quantity, known=True)
        expected = self._own_value(head)
        open_to = sorted(symbols(head) - part.data.keys() - {"π"})
        differs = expected is None or not nearly(typed.si, expected, typed.half)
        if len(open_to) == 1 and differs and self._fits_quantity(open_to[0], typed, expected):
            self._quantity(open_to[0], typed, i)
            return Symbol(name=open_to[0], known=True)
        key = key_of(head)
        implied = self.desk.implied.get(key) or self._implied_through(head, open_to)
        right = expected is not None and (nearly(typed.si, expected, typed.half) or nearly(typed.raw, expected, typed.half))
        if not right and typed.unit is None and len(open_to) == 1:
            right = any(nearly(typed.raw, v, typed.half) for v in self._own_value_as_printed(head, open_to[0]))
        slips: tuple[Slip, ...] = ()
        if (
            self.reading.opens
            and any(o.stands_for == head for o in self.desk.own)
            and not (expected and nearly(typed.si, expected, typed.half))
        ):
            self._add(Kind.VALUE, i, value=typed, bare=True)
            return head
        inherited = implied.evidence.slips + implied.evidence.inherited if implied else ()
        matches = implied is not None and (nearly(typed.si, implied.si, typed.half) or nearly(typed.raw, implied.raw, typed.half))
        if not right and not matches:
            slips = (self._sum_slip(implied, typed, key),)
            self.desk.wrongs += WRONG_ARITHMETIC
        about = open_to[0] if len(open_to) == 1 else ""
        self._add(
            Kind.ARITHMETIC, i, about=about, right=right or matches, slips=slips, inherited=inherited, value=typed, stated=(head, head)
        )
        self._keep_own(head, typed, (*inherited, *slips), right)
        self._unconverted_too(head, typed)
        return head

    def _keep_own(self, tree: Expr, typed: TypedValue, slips: tuple[Slip, ...], right: bool) -> None:
        """Remembers what an expression comes to; with its unit, where only the plain numbers are in it: 90 − 6.2 = 83.8°."""
        unit, line = typed.unit, self.statement.line
        value = self._own_value(tree) if unit is not None and unit.scale != 1.0 and not unit.offset else None
        if unit is None or value is None or nearly(typed.si, value, typed.half) or not nearly(typed.raw, value):
            self.desk.own.append(own_number(tree, typed, line, slips=slips, right=right))
            return
        with_unit = Product(factors=(Number(text="", value=unit.scale), tree))
        for meant, number in ((tree, replace(typed, si=typed.raw)), (with_unit, replace(typed, raw=typed.si))):
            self.desk.own.append(own_number(meant, number, line, slips=slips, right=right))

    def _unconverted_too(self, head: Expr, typed: TypedValue) -> None:
        """`strain = 6.5/18 = 0.36` with 6.5 mm: the value may go on as what it should be, a conversion left out."""
        bare, left_out = without_conversions(self.desk.part, head)
        if left_out and typed.unit is None:
            line, data = self.statement.line, self.desk.part.data
            slips = tuple(
                Slip(code="unconverted", family="conversion", line=line, symbol=s, typed=data[s].number.text, expected=data[s].text)
                for s in left_out
            )
            self.desk.own.insert(0, own_number(bare, typed, line, slips=slips, right=False))

    def _implied_through(self, head: Expr, open_to: Sequence[str]) -> Implied | None:
        """What v² comes to where an equation before it gives v."""
        held = self.desk.implied.get(open_to[0]) if len(open_to) == 1 else None
        if held is None:
            return None
        base = self.desk.part.system.base
        si, raw = (value_at(head, {**base, open_to[0]: v}) for v in (held.si, held.raw))
        return replace(held, si=si, raw=raw, radians=None) if math.isfinite(si) and math.isfinite(raw) else None

    def _value_of_numbers(self, head: Expr, typed: TypedValue, i: int) -> Expr:
        """`E − 2.1 × 1.6e-19 = 4.47e-19 J`: letters and data together, and what they come to."""
        for name in sought(self.desk.part):
            symbol = Symbol(name=name, known=True)
            lifted = self._lift((symbol, head), plain_only=True, factors=self._data_factors(name), printed=True)
            if lifted is not None and lifted.traced:
                implied = self._implied_mixed(head)
                self._note_substitution((symbol, head), lifted, i, name, implied)
                self.desk.evidence[-1] = replace(self.desk.evidence[-1], kind=Kind.SUBSTITUTION)
                self._quantity(name, typed, i)
                return symbol
        lifted = self._lifter_now().explain([template(head)])
        self._add(Kind.ARITHMETIC, i, value=typed, stated=(lifted.trees[0], lifted.trees[0]), bare=True)
        self.desk.own.append(own_number(lifted.trees[0], typed, self.statement.line))
        return head

    def _implied_mixed(self, tree: Expr) -> tuple[float, float, float | None] | None:
        value = self._own_value(tree)
        return None if value is None else (value, value, None)

    def _sum_slip(self, implied: Implied | None, typed: TypedValue, symbol: str) -> Slip:
        code = (
            "calculator-mode"
            if implied and implied.radians is not None and nearly(typed.raw, implied.radians, typed.half)
            else "arithmetic"
        )
        return Slip(code=code, family="arithmetic", line=self.statement.line, symbol=symbol, typed=typed.text)

    def _fits_quantity(self, symbol: str, typed: TypedValue, expected: float | None) -> bool:
        truth = self.desk.part.system.base[symbol]
        if nearly(typed.si, truth, typed.half) or nearly(typed.raw, truth, typed.half):
            return True
        dims = self.desk.part.dimensions.get(symbol)
        return typed.unit is not None and dims is not None and tuple(typed.unit.dimensions) == tuple(dims) and any(dims)

    def _lone_value(self, side: Expr, i: int) -> TypedValue | None:
        """A value with nothing said of it: the answer, as a rule."""
        typed = typed_value(side, self.text[i])
        if typed is not None and self._sum_of_own(typed, side, i):
            return typed
        assumed = self._carried_by_its_unit(typed) if typed is not None else ""
        if typed is not None and assumed:
            self._quantity(assumed, typed, i)
            return typed
        if typed is not None:
            self._add(Kind.VALUE, i, about=self._found_between(typed), value=typed, bare=True)
            if typed.unit is not None and all(self._other_kind(q, typed) for q in self.desk.part.system.base):
                self.desk.wrongs += WRONG_UNIT
        return typed

    def _sum_of_own(self, typed: TypedValue, side: Expr, i: int) -> bool:
        """`total 664.8` after 613.6 and 51.1: the sum or difference of own values; True when that is a quantity of the part."""
        part, leaves = self.desk.part, template(side).leaves
        if len(leaves) != 1 or self.statement.alternative:
            return False
        for source in self._lifter_now().sources.of_two_own(leaves[0]):
            tree, quantity = source.stands_for, self._same_as(source.stands_for)
            slips, right = (source.own.slips, source.own.right) if source.own is not None else ((), True)
            if quantity is None:
                self.desk.own.append(own_number(tree, typed, self.statement.line, slips=slips, right=right))
                return False
            shown = part.system.support((Symbol(name=quantity, known=True), tree)) or frozenset()
            held = {"implied": typed.si, "implied_raw": typed.raw}
            made = self._add(Kind.SUBSTITUTION, i, about=quantity, relations=shown, inherited=slips, **held)
            self.desk.implied[quantity] = Implied(si=typed.si, raw=typed.raw, radians=None, evidence=made)
            self._quantity(quantity, typed, i)
            return True
        return False

    def _carried_by_its_unit(self, typed: TypedValue) -> str:
        """`no time, so say 60 s`: what comes from another part, where nothing else of this one has such a unit."""
        part = self.desk.part
        if typed.unit is None:
            return ""
        kin = [n for n in part.system.base if same_dimensions(part.dimensions.get(n), typed.unit.dimensions)]
        return kin[0] if len(kin) == 1 and kin[0] in part.carry and any(typed.unit.dimensions) else ""

    def _found_between(self, typed: TypedValue) -> str:
        """A value found on the way (not asked for), told by its unit and its being right; "" when it is none."""
        part = self.desk.part
        goals = {g.find for g in part.goals}
        for name, truth in part.system.base.items():
            if name in part.data or name in goals or typed.unit is None or self._other_kind(name, typed):
                continue
            if part.dimensions.get(name) and abs(typed.si - truth) <= 0.005 * abs(truth) and self._unlike_goals(name):
                return name
        return ""

    def _unlike_goals(self, name: str) -> bool:
        part = self.desk.part
        return not any(part.dimensions.get(g.find) == part.dimensions.get(name) for g in part.goals)

    def _restated_datum(self, values: Sequence[tuple[Expr, int]]) -> bool:
        """`64 mA = 0.0064 A`: a datum as printed, and what the candidate makes of it."""
        first = typed_value(values[0][0], self.text[values[0][1]]) if len(values) > 1 else None
        if first is None or first.unit is None:
            return False
        for symbol, datum in self.desk.part.data.items():
            printed = datum.unit is not None and first.raw == datum.raw and math.isclose(first.si, datum.si, rel_tol=1e-6)
            same_scale = datum.unit is not None and math.isclose(first.unit.scale, datum.unit.scale, rel_tol=1e-9)
            if printed and same_scale:
                for side, i in values[1:]:
                    typed = typed_value(side, self.text[i])
                    if typed is not None:
                        self._datum(symbol, typed, i)
                return True
        return False


def alike(a: TypedValue, b: TypedValue) -> bool:
    """Two typed values that agree as quantities or as numbers."""
    half = max(a.number.half if a.number else 0.0, b.number.half if b.number else 0.0)
    return nearly(a.si, b.si, max(a.half, b.half)) or ((a.unit is None or b.unit is None) and nearly(a.raw, b.raw, half))


def without_conversions(part: CompiledCalculation, tree: Expr) -> tuple[Expr, tuple[str, ...]]:
    """A tree with its data in SI where it had them as printed (d/0.001), and the symbols of those data."""
    if isinstance(tree, Quotient) and isinstance(tree.over, Symbol) and isinstance(tree.under, Number) and tree.under.figures == (0, 0):
        datum = part.data.get(tree.over.name)
        if datum is not None and datum.unit is not None and math.isclose(datum.unit.scale, tree.under.value, rel_tol=1e-9):
            return tree.over, (tree.over.name,)
    made = [without_conversions(part, p) for p in children(tree)]
    found = tuple(dict.fromkeys(s for _, names in made for s in names))
    return (rebuild(tree, tuple(t for t, _ in made)), found) if found else (tree, ())
