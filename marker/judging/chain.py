"""One reading of one statement: a chain of sides, judged side by side into evidence.

`R = V/I = 27.6/0.064 = 431 Ω` has a head, R, and everything after it is another way to write R: a
relationship, a substitution, a value. A side that begins something new in the same breath ("= 57.4 = v = …")
becomes the next head and costs nothing by itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from marker.expression import Expr, Number, Product, Quotient, Sum, Symbol, put, symbols
from marker.judging.desk import Desk, Implied, unknown_letters
from marker.judging.families import family_relations, stem
from marker.judging.shape import fill
from marker.judging.leaves import is_numeric, is_value, template, value_parts
from marker.judging.lifting import Lifted, Lifter, near
from marker.judging.model import Evidence, Kind, Slip, TypedValue
from marker.judging.sources import OwnNumber, Sources
from marker.judging.values import check_value, implied_by, nearly, power_between, typed_value
from marker.physics.evaluate import same_dimensions, value_at
from marker.physics.system import Equation
from marker.reading.model import Reading, Statement

WRONG_RELATIONSHIP, WRONG_SUBSTITUTION, WRONG_ARITHMETIC, UNKNOWN_COST = 3.0, 3.0, 1.0, 3.2
WRONG_UNIT = 0.5


@dataclass(slots=True, kw_only=True)
class Chain:
    """The judging of one chain on one desk (a fork, when several readings are tried)."""

    desk: Desk
    statement: Statement
    reading: Reading
    text: tuple[str, ...]
    partial: set[int] = field(default_factory=set)

    def judge(self) -> Desk:
        """Works through the sides from left to right; the desk afterwards holds the evidence and the new head."""
        sides = [self.desk.letters.resolve(s) for s in self.reading.sides]
        if any(r in "<>≤≥∝" for r in self.reading.relations) and "=" not in self.reading.relations:
            self._proportion(self.reading.sides)
            return self.desk
        head = self.desk.head if self.reading.opens else None
        pending: list[int] = []
        self._run_on(sides)
        for i, side in enumerate(sides):
            after = sides[i + 1] if i + 1 < len(sides) else None
            if i in self.partial and after is not None:
                self._partial_result(head, side, after, i)
                head = None
                continue
            if head is None:
                head = self._without_head(sides, i, pending, after)
            else:
                head = self._under(head, side, i, after)
        if head is None and pending:
            self._bare([sides[i] for i in pending], pending)
        if len(sides) == 1 and unknown_letters(self.desk.part, symbols(sides[0])):
            self.desk.wrongs += UNKNOWN_COST
        elif len(sides) == 1 and not is_numeric(sides[0]) and not isinstance(sides[0], Symbol):
            self._mixed(sides[0])
        if head is not None:
            self.desk.head = head
        return self.desk

    def _run_on(self, sides: Sequence[Expr]) -> None:
        """`a × b = 6.0 / 2 = 3.0`: a result that the next side begins with is the value of the side before, and nothing else."""
        self.partial = set()
        for i, (side, after) in enumerate(zip(sides, sides[1:], strict=False)):
            if not (is_numeric(side) and is_numeric(after)) or is_value(after):
                continue
            first = template(after).leaves[:1]
            implied = implied_by(self.desk.part, (Symbol(name="#", known=True), side), "#")
            if not first or implied is None or not nearly(first[0].raw, implied[1], first[0].number.half):
                continue
            whole = implied_by(self.desk.part, (Symbol(name="#", known=True), after), "#")
            if whole is not None and nearly(whole[1], implied[1]):
                continue
            self.partial.add(i)

    def _partial_result(self, head: Expr | None, side: Expr, after: Expr, i: int) -> None:
        """Remembers the value a run-on side begins with as what the side before stands for (and as its head's, when that is true)."""
        lifted = self._lifter_now().explain([template(side)])
        leaf = template(after).leaves[0]
        if head is not None and self._lift((head, side), plain_only=True) is not None:
            self._substitution(head, side, i)
            self._value(head, leaf.number, i)
        self.desk.own.append(
            OwnNumber(stands_for=lifted.trees[0], si=leaf.si, raw=leaf.raw, half=leaf.number.half, line=self.statement.line)
        )

    def _proportion(self, sides: Sequence[Expr]) -> None:
        """`I ∝ 1/d²`: a relationship between two states of the same quantities."""
        if self.reading.relations == ("∝",):
            shown = family_relations(self.desk.part, (sides[0], Product(factors=(Symbol(name="∝"), sides[1]))))
            if shown:
                self._add(Kind.RELATIONSHIP, 0, relations=shown, symbolic=True)
            else:
                self._add(Kind.UNKNOWN, 0)

    # --- sides before any letter has appeared -------------------------------------------------

    def _without_head(self, sides: Sequence[Expr], i: int, pending: list[int], after: Expr | None) -> Expr | None:
        side = sides[i]
        if is_numeric(side):
            pending.append(i)
            return None
        if not pending:
            return side
        if isinstance(side, Symbol):
            for j in pending:
                self._under(side, sides[j], j, None)
        else:
            self._equation(sides[pending[-1]], side, i)
        pending.clear()
        return side

    # --- sides under a head ------------------------------------------------------------------

    def _under(self, head: Expr, side: Expr, i: int, after: Expr | None) -> Expr:
        if not is_numeric(side):
            if is_numeric(head) or not self._symbolic(head, side, i, after):
                return side
            return head
        if is_value(side):
            return self._value(head, side, i)
        self._substitution(head, side, i)
        return head

    def _symbolic(self, head: Expr, side: Expr, i: int, after: Expr | None) -> bool:
        """Judges letters = letters. False when the side begins something new."""
        equation = (head, side)
        shown = family_relations(self.desk.part, (self.reading.sides[i - 1], self.reading.sides[i])) if i else frozenset()
        if shown:
            self._add(Kind.RELATIONSHIP, i, relations=shown, symbolic=True, stated=equation)
            return True
        lifted = self._lift(equation, plain_only=True)
        if lifted is not None:
            self._note_true(equation, lifted, i)
            return True
        if self._begins_anew(head, side, after):
            return False
        if unknown_letters(self.desk.part, symbols(head) | symbols(side)):
            shown = family_relations(self.desk.part, equation)
            if shown:
                self._add(Kind.RELATIONSHIP, i, relations=shown, symbolic=True, stated=equation)
                return True
            self._add(Kind.UNKNOWN, i, about=self._about(equation), stated=equation)
            self.desk.wrongs += UNKNOWN_COST
            return True
        if i + 1 < len(self.reading.sides) and self._says_it_generally(side, after):
            self._add(Kind.UNKNOWN, i, about=self._about(equation), stated=equation)
            return True
        rebound = self._rebound(equation)
        if rebound is not None:
            self._note_true(rebound, self._lifter_now().explain([template(rebound[0]), template(rebound[1], 20)]), i)
            return True
        faulty = self._lift(equation, plain_only=False) if self._has_data(side) else None
        if faulty is not None:
            self._note_true(equation, faulty, i)
        else:
            self._wrong_relationship(equation, i)
        return True

    def _says_it_generally(self, side: Expr, after: Expr | None) -> bool:
        """`v = d/t = π × 3.8/2.6`: letters of the candidate's own, one of which the next side fills with a whole expression."""
        if after is None or not is_numeric(after):
            return False
        filled = fill(side, after)
        if not filled or all(is_value(v) for v in filled.values()):
            return False
        return self._what_is(after, 0, None)[0] is not None

    def _rebound(self, equation: Equation) -> Equation | None:
        """The statement with its subject taken for another quantity of its kind (Q = mL where Q is the whole heat), if that is true."""
        part = self.desk.part
        left, right = equation
        by_stem = self._with_index(equation)
        if by_stem is not None:
            return by_stem
        if not isinstance(left, Symbol) or left.name in part.data or left.name not in part.system.base:
            return None
        dims = part.dimensions.get(left.name)
        for name in part.system.base:
            if name in part.data or name == left.name or name in symbols(right) or part.dimensions.get(name) != dims or dims is None:
                continue
            other = (Symbol(name=name, known=True), right)
            if part.system.support(other):
                return other
        return None

    def _with_index(self, equation: Equation) -> Equation | None:
        """A letter without its index taken for each quantity it may be (R for R₂, λ for λ₀), where that makes the statement follow."""
        part = self.desk.part
        for name in sorted((symbols(equation[0]) | symbols(equation[1])) - {"π"}):
            for other in part.system.base:
                if other != name and stem(other) == stem(name) and stem(name) == name:
                    turn: dict[str, Expr] = {name: Symbol(name=other, known=True)}
                    changed = (put(equation[0], turn), put(equation[1], turn))
                    if part.system.support(changed):
                        return changed
        return None

    def _begins_anew(self, head: Expr, side: Expr, after: Expr | None) -> bool:
        if isinstance(side, Symbol) and not isinstance(head, Symbol):
            return True
        if after is None:
            return False
        if isinstance(side, Symbol) and side != head and self.reading.sides.index(self.reading.sides[-1]) > 1:
            return is_numeric(after) or self._lift((side, after), plain_only=True) is not None
        return len(symbols(side)) == 1 and self._lift((side, after), plain_only=True) is not None

    def _equation(self, left: Expr, right: Expr, i: int) -> None:
        """A number or data on one side, letters on the other: 27.6 = 0.064 R."""
        equation = (left, right)
        if is_value(left) and not self._has_data(right):
            self._value(right, left, i)
            return
        self._substituted(equation, i, self._about(equation))

    def _substitution(self, head: Expr, side: Expr, i: int) -> None:
        about = head.name if isinstance(head, Symbol) else self._about((head, side))
        self._substituted((head, side), i, about)

    def _substituted(self, equation: Equation, i: int, about: str) -> None:
        if unknown_letters(self.desk.part, symbols(equation[0]) | symbols(equation[1])):
            self._unknown_head(equation, i)
            return
        factors = self._factors(i, about)
        lifted = self._lift(equation, plain_only=True, factors=factors, printed=True)
        implied = implied_by(self.desk.part, equation, about)
        if lifted is None and not self._exchanged(equation, about):
            lifted = self._only_if_stated(self._lift(equation, plain_only=False, factors=factors))
        if lifted is None:
            self._not_traced(equation, i, about, implied)
            return
        self._note_substitution(equation, lifted, i, about, implied)

    def _only_if_stated(self, lifted: Lifted | None) -> Lifted | None:
        """Another quantity's value counts as a wrong substitution only under a relationship stated before; else the relationship is wrong."""
        if lifted is None or not any(s.family == "other quantity" for s in lifted.slips):
            return lifted
        shown = self.desk.part.system.support((lifted.trees[0], lifted.trees[1])) or frozenset()
        return lifted if shown & self.desk.stated else None

    def _unknown_head(self, equation: Equation, i: int) -> None:
        """A letter nothing is known of is given numbers: what the numbers stand for tells what it is."""
        head, side = equation
        if isinstance(head, Symbol) and is_numeric(side):
            self._bare([side], [i], head=head.name)
        else:
            self._add(Kind.UNKNOWN, i, stated=equation)
            self.desk.wrongs += UNKNOWN_COST

    def _not_traced(self, equation: Equation, i: int, about: str, implied: tuple[float, float, float | None] | None) -> None:
        """Numbers that make no consequence of the relationships: true in the data all the same, swapped, or wrong."""
        part = self.desk.part
        explained = self._lifter_now().explain([template(equation[0]), template(equation[1], 20)])
        truth = part.system.base.get(about)
        if explained.unexplained and implied is not None and truth and nearly(implied[0], truth):
            goal = next((g for g in part.goals if g.find == about), None)
            self._add(
                Kind.SUBSTITUTION,
                i,
                about=about,
                relations=goal.relations if goal else frozenset(),
                implied=implied[0],
                implied_raw=implied[1],
                note="agrees with the data, though not every number could be traced",
            )
            self._remember(about, implied, i)
            return
        if self._settled(about) and implied is not None and is_numeric(equation[1]):
            self._worked_on(i, about, implied)
            return
        swapped = self._swapped(explained, about)
        slip = swapped or self._wrong_slip(about, i, explained)
        evidence = self._add(
            Kind.SUBSTITUTION,
            i,
            about=about,
            right=False,
            slips=(slip,),
            inherited=self.desk.taint(about),
            implied=implied[0] if implied else None,
            implied_raw=implied[1] if implied else None,
            tainted=swapped is None,
            stated=(explained.trees[0], explained.trees[1]),
        )
        if about and swapped is None and about not in part.data and explained.unexplained:
            self.desk.taints.setdefault(about, slip)
        self.desk.wrongs += WRONG_SUBSTITUTION
        if implied is not None:
            self._remember(about, implied, i, evidence)

    def _worked_on(self, i: int, about: str, implied: tuple[float, float, float | None]) -> None:
        """After a right substitution, more numbers are arithmetic: the same value, a value rounded on the way, or a slip."""
        before = self.desk.implied[about]
        if nearly(implied[1], before.raw) or nearly(implied[0], before.si):
            self._add(Kind.ARITHMETIC, i, about=about, implied=implied[0], implied_raw=implied[1])
            return
        rounded = before.raw != 0 and abs(implied[1] / before.raw - 1) < 0.06
        code, family = ("rounded-early", "rounding") if rounded else ("wrong-rearrangement-of-numbers", "arithmetic")
        slip = Slip(code=code, family=family, line=self.statement.line, symbol=about, typed=self.text[i])
        evidence = self._add(Kind.ARITHMETIC, i, about=about, right=False, slips=(slip,), implied=implied[0], implied_raw=implied[1])
        self.desk.wrongs += WRONG_ARITHMETIC
        self._remember(about, implied, i, evidence)

    def _exchanged(self, equation: Equation, about: str) -> bool:
        explained = self._lifter_now().explain([template(equation[0]), template(equation[1], 20)])
        return self._swapped(explained, about) is not None

    def _swapped(self, explained: Lifted, about: str) -> Slip | None:
        """Two data each in the other's place, under a relationship stated rightly before."""
        part = self.desk.part
        left, right = explained.trees
        names = sorted((symbols(left) | symbols(right)) & part.data.keys())
        if explained.unexplained or not self.desk.stated or self.desk.taint(about):
            return None
        for j, a in enumerate(names):
            for b in names[j + 1 :]:
                swap: dict[str, Expr] = {a: Symbol(name=b, known=True), b: Symbol(name=a, known=True)}
                shown = part.system.support((put(left, swap), put(right, swap)))
                if shown and shown & self.desk.stated:
                    return Slip(code="values-exchanged", family="swapped", line=self.statement.line, symbol=a, typed=a, expected=b)
        return None

    def _wrong_slip(self, about: str, i: int, explained: Lifted) -> Slip:
        taint = self.desk.taint(about)
        if taint:
            return taint[0]
        code = "wrong-relationship"
        if self._settled(about) and not explained.unexplained:
            return Slip(
                code="wrong-rearrangement-of-numbers", family="arithmetic", line=self.statement.line, symbol=about, typed=self.text[i]
            )
        return Slip(code=code, family="relationship", line=self.statement.line, symbol=about, typed=self.text[i])

    def _settled(self, about: str) -> bool:
        """All data are already in a right substitution for this quantity: what follows is arithmetic."""
        held = self.desk.implied.get(about)
        if held is None or held.evidence.tainted:
            return False
        return held.evidence.kind is Kind.ARITHMETIC or (held.evidence.right and not held.evidence.slips)

    # --- values --------------------------------------------------------------------------------

    def _value(self, head: Expr, side: Expr, i: int) -> Expr:
        """A value under a head: of a quantity, of a datum, or of an expression such as v² or sin θ."""
        typed = typed_value(side, self.text[i])
        if typed is None:
            return head
        if isinstance(head, Symbol):
            self._value_of(head.name, typed, i)
            return head
        return self._value_of_expression(head, typed, i)

    def _value_of(self, symbol: str, typed: TypedValue, i: int) -> None:
        part = self.desk.part
        if symbol in part.data:
            self._datum(symbol, typed, i)
        elif symbol in part.system.base:
            self._quantity(symbol, typed, i)
        else:
            self._add(Kind.VALUE, i, value=typed, bare=True)
            self.desk.own.append(_own(Symbol(name=symbol), typed, self.statement.line, symbol=""))

    def _datum(self, symbol: str, typed: TypedValue, i: int) -> None:
        datum = self.desk.part.data[symbol]
        right = any(nearly(typed.si, v, typed.half) for v in (datum.si, *datum.others)) or (
            typed.unit is None and nearly(typed.raw, datum.raw, 0.0)
        )
        held = self.desk.implied.get(symbol)
        slips: tuple[Slip, ...] = ()
        if right:
            self.desk.own.append(_own(Symbol(name=symbol, known=True), typed, self.statement.line, symbol=symbol))
        elif self.statement.tentative and held is None:
            self._add(Kind.VALUE, i, value=typed, bare=True)
            return
        else:
            wrong_sum = held is not None and not nearly(held.raw, typed.raw, typed.half)
            carried = held.evidence.slips if held is not None and not wrong_sum else ()
            slips = carried or (self._datum_slip(symbol, typed, wrong_sum),)
            own = _own(Symbol(name=symbol, known=True), typed, self.statement.line, symbol=symbol, slips=slips, right=False)
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
        if datum.needs_conversion and typed.raw != datum.raw and typed.unit is not None:
            return Slip(code="wrong-conversion", family="conversion", line=line, symbol=symbol, typed=typed.text, expected=expected)
        return Slip(code="copied-wrongly", family="copying", line=line, symbol=symbol, typed=typed.text, expected=expected)

    def _quantity(self, symbol: str, typed: TypedValue, i: int) -> None:
        implied = self.desk.implied.get(symbol)
        if i == 0 and self.reading.opens and any(o.symbol == symbol and not nearly(typed.si, o.si, typed.half) for o in self.desk.own):
            self._add(Kind.VALUE, i, value=typed, bare=True)
            return
        inherited, slips, right = check_value(self.desk.part, symbol, typed, implied, self.statement.line)
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
            self.desk.own.append(_own(meant, typed, self.statement.line))
        own = _own(
            Symbol(name=symbol, known=True),
            typed,
            self.statement.line,
            symbol=symbol,
            slips=(*inherited, *slips, *self.desk.taint(symbol)),
            right=right,
        )
        self.desk.own.append(own)
        if slips and not evidence.right:
            self.desk.wrongs += WRONG_ARITHMETIC
        if typed.unit is not None and self._other_kind(symbol, typed):
            self.desk.wrongs += WRONG_UNIT

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
        quantity = self._same_as(head)
        if quantity is not None:
            relations = part.system.support((Symbol(name=quantity, known=True), head)) or frozenset()
            self._add(Kind.RELATIONSHIP, i, about=quantity, relations=relations, symbolic=True)
            self._quantity(quantity, typed, i)
            return Symbol(name=quantity, known=True)
        expected = self._own_value(head)
        open_to = sorted(symbols(head) - part.data.keys())
        if len(open_to) == 1 and (expected is None or not nearly(typed.si, expected, typed.half)):
            if self._fits_quantity(open_to[0], typed, expected):
                self._quantity(open_to[0], typed, i)
                return Symbol(name=open_to[0], known=True)
        key = _key(head)
        implied = self.desk.implied.get(key)
        right = expected is not None and (nearly(typed.si, expected, typed.half) or nearly(typed.raw, expected, typed.half))
        slips: tuple[Slip, ...] = ()
        if self.reading.opens and any(o.stands_for == head for o in self.desk.own) and not (expected and nearly(typed.si, expected, typed.half)):
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
        self.desk.own.append(_own(head, typed, self.statement.line, slips=(*inherited, *slips), right=right))
        return head

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

    def _same_as(self, tree: Expr) -> str | None:
        """A quantity of the part, not a datum, that an expression in letters is equal to."""
        part = self.desk.part
        for name in part.system.base:
            if name not in part.data and name not in symbols(tree) and part.system.holds((Symbol(name=name, known=True), tree)):
                return name
        return None

    def _own_value(self, tree: Expr) -> float | None:
        """An expression's value with the candidate's own values where there are any."""
        env = dict(self.desk.part.system.base)
        for own in self.desk.own:
            if own.symbol:
                env[own.symbol] = own.si
        value = value_at(tree, env)
        return value if math.isfinite(value) else None

    # --- numbers without any letter -----------------------------------------------------------

    def _bare(self, sides: Sequence[Expr], indexes: Sequence[int], head: str = "") -> None:
        """`27.6/64 = 0.431 ohm`: what do these numbers stand for?"""
        expressions = [(s, i) for s, i in zip(sides, indexes, strict=True) if not is_value(s)]
        values = [(s, i) for s, i in zip(sides, indexes, strict=True) if is_value(s)]
        if not expressions:
            if self._restated_datum(values):
                return
            typed = [self._lone_value(side, i) for side, i in values]
            if any(a and b and not _alike(a, b) for a, b in zip(typed, typed[1:], strict=False)):
                self.desk.wrongs += WRONG_SUBSTITUTION
            return
        side, i = expressions[0]
        target, lifted = self._what_is(side, i, values[-1][0] if values else None)
        if target:
            self._named(target, expressions, values, lifted)
            return
        self._anonymous(side, i, lifted, values)

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

    def _named(self, target: Expr, expressions: Sequence[tuple[Expr, int]], values: Sequence[tuple[Expr, int]], lifted: Lifted) -> None:
        head: Expr = target
        for side, i in sorted((*expressions, *values), key=lambda pair: pair[1]):
            head = self._under(head, side, i, None)
        self.desk.head = head

    def _mixed(self, side: Expr) -> None:
        """An expression of letters and data with nothing said of it: `G M/r²` with numbers for G and M."""
        for goal in self.desk.part.goals:
            equation = (Symbol(name=goal.find, known=True), side)
            lifted = self._lift(equation, plain_only=True)
            if lifted is not None:
                self._note_true(equation, lifted, 0)
                if lifted.traced:
                    self.desk.evidence[-1] = replace(self.desk.evidence[-1], kind=Kind.SUBSTITUTION)
                self.desk.head = equation[0]
                return

    def _what_is(self, side: Expr, i: int, value: Expr | None) -> tuple[Expr | None, Lifted]:
        """The quantity, or simple function of the quantity sought, that a numeric expression stands for."""
        part = self.desk.part
        tree = template(side)
        targets = self._targets()
        points = part.system.points(part.system.everything) or ()
        vectors = {name: [value_at(t, p) for p in points] for name, t in targets.items()}
        goals = [g.find for g in part.goals]
        factors = (*self._unit_factors(value), *(f for g in goals for f in self._data_scales(g)))

        def accept(values: Sequence[Sequence[float]]) -> str | None:
            for name, vector in vectors.items():
                if any(near(vector, values[0], f) for f in factors):
                    return name
            return None

        lifter = self._lifter_now()
        found = lifter.lift([tree], accept, self.statement.line, faults=False)
        explained = lifter.explain([tree])
        if found is None and (explained.unexplained or value is not None):
            found = lifter.lift([tree], accept, self.statement.line, faults=True)
            if found is not None and found.cost > 4.5 and not explained.unexplained:
                found = None
        if found is not None and (found.traced or len(tree.leaves) == 1):
            return targets[found.target], found
        return None, explained

    def _targets(self) -> dict[str, Expr]:
        part = self.desk.part
        out: dict[str, Expr] = {}
        goals = [g.find for g in part.goals]
        between = [n for n in part.system.base if n not in part.data and n not in goals and n not in part.free]
        for name in (*goals, *between):
            out[name] = Symbol(name=name, known=True)
        for name in (*goals, *between):
            for label, tree in _functions_of(name, name in part.angles):
                out[label] = tree
        return out

    def _anonymous(self, side: Expr, i: int, lifted: Lifted, values: Sequence[tuple[Expr, int]]) -> None:
        """Numbers that stand for no named quantity: remembered, as the value of what they stand for in symbols."""
        implied = implied_by(self.desk.part, (Symbol(name="#", known=True), side), "#")
        for value, j in values:
            typed = typed_value(value, self.text[j])
            if typed is None:
                continue
            holds = implied is None or nearly(typed.raw, implied[1], typed.half) or nearly(typed.si, implied[0], typed.half)
            slips: tuple[Slip, ...] = ()
            if not holds:
                radians = implied is not None and implied[2] is not None and nearly(typed.raw, implied[2], typed.half)
                slips = (
                    Slip(
                        code="calculator-mode" if radians else "arithmetic", family="arithmetic", line=self.statement.line, typed=typed.text
                    ),
                )
                self.desk.wrongs += WRONG_ARITHMETIC
            stands_for: Expr = lifted.trees[0]
            self._add(
                Kind.ARITHMETIC,
                j,
                right=holds,
                slips=slips,
                value=typed,
                stated=(stands_for, value),
                bare=True,
                implied=implied[0] if implied else None,
                implied_raw=implied[1] if implied else None,
            )
            own = _own(stands_for, typed, self.statement.line, slips=slips, right=holds)
            self.desk.own.append(own)
        if not values:
            self._add(Kind.ARITHMETIC, i, right=True, stated=(lifted.trees[0], side), bare=True, note="not worked out")

    def _lone_value(self, side: Expr, i: int) -> TypedValue | None:
        """A value with nothing said of it: the answer, as a rule."""
        typed = typed_value(side, self.text[i])
        if typed is not None:
            self._add(Kind.VALUE, i, about=self._found_between(typed), value=typed, bare=True)
            if typed.unit is not None and all(self._other_kind(q, typed) for q in self.desk.part.system.base):
                self.desk.wrongs += WRONG_UNIT
        return typed

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

    # --- common steps --------------------------------------------------------------------------

    def _lifter_now(self) -> Lifter:
        part = self.desk.part
        return Lifter(Sources(part, self.desk.own, self.desk.foreign), part.system.points(part.system.everything) or ())

    def _lift(
        self, equation: Equation, *, plain_only: bool, factors: Sequence[float] = (1.0,), printed: bool = False
    ) -> Lifted | None:
        sides = [template(equation[0]), template(equation[1], 20)]

        def accept(values: Sequence[Sequence[float]]) -> str | None:
            return "=" if any(near(values[0], values[1], f) for f in factors) else None

        if printed or not plain_only:
            for scaled in self._in_printed_units(equation):
                found = self._lifter_now().lift([template(scaled[0]), template(scaled[1], 20)], accept, self.statement.line, faults=False)
                if found is not None and found.cost < 1:
                    return found
        return self._lifter_now().lift(sides, accept, self.statement.line, faults=not plain_only)

    def _in_printed_units(self, equation: Equation) -> list[Equation]:
        """The equation with its open letters in the unit the data are printed in: 1/12.5 = 1/18.0 + 1/v with v in cm too."""
        part = self.desk.part
        if is_numeric(equation[0]) and is_numeric(equation[1]):
            return []
        names = (symbols(equation[0]) | symbols(equation[1])) - part.data.keys() - {"π"}
        out = []
        for scale in sorted({s for n in names for s in self._data_scales(n) if s < 1} | {s for n in names for s in self._data_scales(n) if s > 1}):
            one = Number(text=f"{scale:g}", value=scale)
            turn: dict[str, Expr] = {n: Quotient(over=Symbol(name=n, known=True), under=one) for n in names if scale in self._data_scales(n)}
            out.append((put(equation[0], turn), put(equation[1], turn)))
        return out

    def _factors(self, i: int, about: str) -> tuple[float, ...]:
        """1, and the scale of the unit that a later side of the chain gives the result (V/mA = kΩ)."""
        values = [s for s in self.reading.sides[i + 1 :] if is_value(s)]
        return (*self._unit_factors(values[-1] if values else None), *self._data_scales(about))

    def _data_scales(self, about: str) -> tuple[float, ...]:
        """Scales of units in which data of the same kind as the quantity are given: all lengths left in cm give a length in cm."""
        part = self.desk.part
        dims = part.dimensions.get(about)
        if dims is None or not any(dims[:7]):
            return ()
        other = tuple(-x for x in dims)
        found = {
            d.unit.scale
            for d in part.data.values()
            if d.unit is not None
            and d.unit.scale != 1.0
            and (same_dimensions(d.unit.dimensions, dims) or same_dimensions(d.unit.dimensions, other))  # type: ignore[arg-type]
        }
        return tuple(f for s in sorted(found) for f in (s, 1 / s))

    def _unit_factors(self, value: Expr | None) -> tuple[float, ...]:
        if value is None:
            return (1.0,)
        _, unit = value_parts(value)
        return (1.0, unit.scale) if unit is not None and unit.scale != 1.0 else (1.0,)

    def _note_true(self, equation: Equation, lifted: Lifted, i: int) -> None:
        trees = (lifted.trees[0], lifted.trees[1])
        shown = self.desk.part.system.support(trees) or frozenset()
        about = self._about(equation)
        symbolic = lifted.traced == 0
        kind = Kind.RELATIONSHIP if symbolic or self._data_letters(equation) else Kind.SUBSTITUTION
        if not shown:
            self._add(Kind.DATUM, i, about=about, stated=trees)
            return
        self._clear(equation, about)
        implied = None if symbolic else implied_by(self.desk.part, equation, about)
        evidence = self._add(
            kind,
            i,
            about=about,
            relations=shown,
            slips=lifted.slips,
            stated=trees,
            symbolic=symbolic,
            right=not lifted.slips,
            inherited=tuple(s for o in lifted.own for s in o.slips),
            uses=_uses(lifted),
            implied=implied[0] if implied else None,
            implied_raw=implied[1] if implied else None,
        )
        if implied is not None:
            self._remember(about, implied, i, evidence)

    def _note_substitution(
        self, equation: Equation, lifted: Lifted, i: int, about: str, implied: tuple[float, float, float | None] | None
    ) -> None:
        trees = (lifted.trees[0], lifted.trees[1])
        shown = self.desk.part.system.support(trees) or frozenset()
        lifted = self._difference_slip(lifted, shown)
        taint = self.desk.taint(about)
        numbers = is_numeric(equation[0]) or is_numeric(equation[1])
        kind = Kind.SUBSTITUTION if numbers or not self._data_letters(equation) else Kind.RELATIONSHIP
        inherited = tuple(s for o in lifted.own for s in o.slips)
        evidence = self._add(
            kind,
            i,
            about=about,
            relations=shown,
            slips=lifted.slips,
            stated=trees,
            right=not lifted.slips,
            inherited=inherited + taint,
            uses=_uses(lifted),
            tainted=bool(taint),
            implied=implied[0] if implied else None,
            implied_raw=implied[1] if implied else None,
        )
        self.desk.wrongs += WRONG_ARITHMETIC * len(lifted.slips) * 0.9
        if implied is not None and about:
            self._remember(about, implied, i, evidence)
        if not isinstance(equation[0], Symbol) and not is_numeric(equation[0]) and is_numeric(equation[1]):
            side = implied_by(self.desk.part, (Symbol(name="#", known=True), equation[1]), "#")
            if side is not None:
                self._remember(_key(equation[0]), side, i, evidence)

    def _difference_slip(self, lifted: Lifted, shown: frozenset[int]) -> Lifted:
        """273 added to one temperature of a difference: a wrong value put in, not a conversion left out."""
        part = self.desk.part
        offset = {s for s, d in part.data.items() if d.unit is not None and d.unit.offset}
        if not any(s.code == "unconverted" and s.symbol in offset for s in lifted.slips):
            return lifted
        shift: dict[str, Expr] = {
            n: Sum(terms=(Symbol(name=n, known=True), Number(text="10", value=10.0))) for n in offset
        }
        for r in shown:
            relation = part.system.relations[r]
            if len(relation.letters & offset) > 1 and part.system.holds((put(relation.left, shift), put(relation.right, shift))):
                slips = tuple(
                    replace(s, code="kelvin-added-to-difference", family="copying") if s.symbol in offset else s for s in lifted.slips
                )
                return replace(lifted, slips=slips)
        return lifted

    def _remember(self, about: str, implied: tuple[float, float, float | None], i: int, evidence: Evidence | None = None) -> None:
        if about:
            held = evidence or self.desk.evidence[-1]
            self.desk.implied[about] = Implied(si=implied[0], raw=implied[1], radians=implied[2], evidence=held)

    def _wrong_relationship(self, equation: Equation, i: int) -> None:
        about = self._about(equation)
        names = symbols(equation[0]) | symbols(equation[1])
        part = self.desk.part
        before = any(
            part.system.relations[r].letters & names and (not about or about in part.system.relations[r].letters) for r in self.desk.stated
        )
        family = "rearrangement" if before else "relationship"
        code = "wrong-rearrangement-of-symbols" if before else "wrong-relationship"
        slip = Slip(code=code, family=family, line=self.statement.line, symbol=about, typed=self.text[i])
        self._add(Kind.RELATIONSHIP, i, about=about, right=False, slips=(slip,), symbolic=True, stated=equation)
        for name in self._tainted_by(equation, about):
            self.desk.taints[name] = slip
        self.desk.wrongs += WRONG_RELATIONSHIP

    def _tainted_by(self, equation: Equation, about: str) -> tuple[str, ...]:
        if about and about not in self.desk.part.data:
            return (about,)
        held = {o.symbol for o in self.desk.own}
        names = (symbols(equation[0]) | symbols(equation[1])) - self.desk.part.data.keys() - held
        return tuple(sorted(names))

    def _clear(self, equation: Equation, about: str) -> None:
        for name in symbols(equation[0]) | symbols(equation[1]) | {about}:
            self.desk.taints.pop(name, None)

    def _about(self, equation: Equation) -> str:
        """The quantity a statement is about: a lone letter, else the one that is not given, else the one sought."""
        part = self.desk.part
        for side in equation:
            if isinstance(side, Symbol) and side.name not in part.data:
                return side.name
        names = (symbols(equation[0]) | symbols(equation[1])) - {"π"}
        unknown = sorted(n for n in names if n not in part.data)
        if len(unknown) == 1:
            return unknown[0]
        goals = [g.find for g in part.goals if g.find in unknown]
        if goals:
            return goals[0]
        return next((s.name for s in equation if isinstance(s, Symbol)), "")

    def _has_data(self, tree: Expr) -> bool:
        lifted = self._lifter_now().explain([template(tree)])
        return bool(lifted.traced or lifted.unexplained)

    def _data_letters(self, equation: Equation) -> bool:
        part = self.desk.part
        names = symbols(equation[0]) | symbols(equation[1])
        lone = {s.name for s in equation if isinstance(s, Symbol)}
        return any(n in part.data and not part.data[n].constant and n not in lone for n in names)

    def _add(self, kind: Kind, i: int, **fields: object) -> Evidence:
        at = self.reading.sides[i].at if i < len(self.reading.sides) else None
        evidence = Evidence(
            kind=kind,
            line=self.statement.line,
            text=self.text[i],
            alternative=self.statement.alternative,
            final=self.statement.final,
            tentative=self.statement.tentative,
            columns=at,
            **fields,  # type: ignore[arg-type]
        )
        self.desk.add(evidence)
        return evidence


def _functions_of(name: str, angle: bool) -> list[tuple[str, Expr]]:
    """Simple functions of a quantity that working passes through: v², 1/R, √x, sin θ."""
    from marker.expression import Call, Power, Quotient, Root

    letter = Symbol(name=name, known=True)
    one, two = Number(text="1", value=1.0), Number(text="2", value=2.0)
    if angle:
        return [(f"{f} {name}", Call(function=f, inner=letter)) for f in ("sin", "cos", "tan")]
    return [
        (f"{name}^2", Power(base=letter, exponent=two)),
        (f"1/{name}", Quotient(over=one, under=letter)),
        (f"√{name}", Root(inner=letter)),
    ]


def _own(
    stands_for: Expr, typed: TypedValue, line: int, *, symbol: str = "", slips: tuple[Slip, ...] = (), right: bool = True
) -> OwnNumber:
    return OwnNumber(
        stands_for=stands_for,
        si=typed.si,
        raw=typed.raw,
        half=typed.half,
        line=line,
        symbol=symbol,
        slips=tuple(dict.fromkeys(slips)),
        right=right,
    )


def _alike(a: TypedValue, b: TypedValue) -> bool:
    """Two typed values that agree as quantities or as numbers."""
    half = max(a.number.half if a.number else 0.0, b.number.half if b.number else 0.0)
    return nearly(a.si, b.si, max(a.half, b.half)) or (a.unit is None or b.unit is None) and nearly(a.raw, b.raw, half)


def _uses(lifted: Lifted) -> tuple[tuple[str, float], ...]:
    found = [(o.symbol, o.si) for o in lifted.own if o.symbol]
    return tuple(dict.fromkeys((*found, *lifted.miscopied)))


def _key(tree: Expr) -> str:
    """A name under which the value of an expression in letters is remembered."""
    return tree.name if isinstance(tree, Symbol) else f"={hash(tree)}"
