"""One reading of one statement: a chain of sides, judged side by side into evidence.

`R = V/I = 27.6/0.064 = 431 Ω` has a head, R, and everything after it is another way to write R: a
relationship, a substitution, a value. A side that begins something new in the same breath ("= 57.4 = v = …")
becomes the next head and costs nothing by itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from marker.expression import Expr, Symbol, symbols
from marker.judging.bench import (
    NOT_RECOGNISED,
    UNKNOWN_COST,
    WRONG_ARITHMETIC,
    WRONG_SUBSTITUTION,
    own_number,
)
from marker.judging.desk import Desk, unknown_letters
from marker.judging.leaves import is_numeric, is_value, template
from marker.judging.lifting import Lifted
from marker.judging.model import Kind, Slip
from marker.judging.relating import Relating
from marker.judging.sources import OwnNumber
from marker.judging.values import implied_by, nearly, typed_value
from marker.judging.valuing import alike


class Chain(Relating):
    """The judging of one chain, side by side."""

    __slots__ = ()

    def judge(self) -> Desk:
        """Works through the sides from left to right; the desk afterwards holds the evidence and the new head."""
        sides = [self.desk.letters.resolve(s) for s in self.reading.sides]
        if any(r in "<>≤≥∝" for r in self.reading.relations) and "=" not in self.reading.relations:
            self._proportion(self.reading.sides)
            return self.desk
        head = self._continued(sides) if self.reading.opens else None
        pending: list[int] = []
        self._run_on(sides)
        for i, side in enumerate(sides):
            after = sides[i + 1] if i + 1 < len(sides) else None
            if i in self.partial and after is not None:
                self._partial_result(head, side, after, i)
                head = None
                continue
            head = self._without_head(sides, i, pending, after) if head is None else self._under(head, side, i, after)
        if head is None and pending:
            self._bare([sides[i] for i in pending], pending)
        if len(sides) == 1 and unknown_letters(self.desk.part, symbols(sides[0])):
            self.desk.wrongs += UNKNOWN_COST
        elif len(sides) == 1 and not is_numeric(sides[0]) and not isinstance(sides[0], Symbol):
            self._mixed(sides[0])
        if head is not None:
            self.desk.head = head
        return self.desk

    def _continued(self, sides: Sequence[Expr]) -> Expr | None:
        """What a line that begins with "=" continues: the head before it, unless a label or its own numbers say otherwise."""
        head = self.desk.head
        if head is None or self.statement.label or not sides:
            return None
        first = sides[0]
        if is_numeric(first) and not is_value(first) and self._lift((head, first), plain_only=True, printed=True) is None:
            value = next((s for s in sides if is_value(s)), None)
            if self._what_is(first, 0, value)[0] is not None:
                return None
        return head

    def _run_on(self, sides: Sequence[Expr]) -> None:
        """`a × b = 6.0 / 2 = 3.0`: a result that the next side begins with is the value of the side before, and nothing else."""
        self.partial = set()
        for i, (side, after) in enumerate(pairwise(sides)):
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
        elif lifted.traced > 1:
            target, _ = self._what_is(side, i, leaf.number)
            if target is not None:
                self._substitution(target, side, i)
                self._value(target, leaf.number, i)
        line = self.statement.line
        self.desk.own.append(OwnNumber(stands_for=lifted.trees[0], si=leaf.si, raw=leaf.raw, half=leaf.number.half, line=line))
        faulty = self._lifter_now().unconverted([template(side)], line)
        if faulty is not None:
            own = OwnNumber(
                stands_for=faulty.trees[0], si=leaf.si, raw=leaf.raw, half=leaf.number.half, line=line, slips=faulty.slips, right=False
            )
            self.desk.own.insert(0, own)

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

    def _under(self, head: Expr, side: Expr, i: int, after: Expr | None) -> Expr:
        if not is_numeric(side):
            self.subject = head
            if is_numeric(head) or not self._symbolic(head, side, i, after):
                return side
            return self.subject or head
        head = self._by_its_letter(head)
        if is_value(side):
            return self._value(head, side, i)
        if self.former is not None and self._lift((head, side), plain_only=True, printed=True) is None:
            head = self.former if self._lift((self.former, side), plain_only=True, printed=True) is not None else head
        self._substitution(head, side, i)
        return head

    def _by_its_letter(self, head: Expr) -> Expr:
        """`E₂/E₁` where the part calls this k: the quantity's own letter, so that its value is recognised in any form."""
        if isinstance(head, Symbol) or is_numeric(head) or symbols(head) & self.desk.part.data.keys():
            return head
        quantity = self._same_as(head)
        return head if quantity is None else Symbol(name=quantity, known=True)

    def _bare(self, sides: Sequence[Expr], indexes: Sequence[int], head: str = "") -> None:
        """`27.6/64 = 0.431 ohm`: what do these numbers stand for?"""
        expressions = [(s, i) for s, i in zip(sides, indexes, strict=True) if not is_value(s)]
        values = [(s, i) for s, i in zip(sides, indexes, strict=True) if is_value(s)]
        if not expressions:
            if self._restated_datum(values):
                return
            typed = [self._lone_value(side, i) for side, i in values]
            if any(a and b and not alike(a, b) for a, b in pairwise(typed)):
                self.desk.wrongs += WRONG_SUBSTITUTION
            return
        side, i = expressions[0]
        target, lifted = self._what_is(side, i, values[-1][0] if values else None)
        if target:
            self._named(target, expressions, values, lifted)
            return
        self._anonymous(side, i, lifted, values)

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
            own = own_number(stands_for, typed, self.statement.line, slips=slips, right=holds)
            self.desk.own.append(own)
            faulty = self._lifter_now().unconverted([template(side)], self.statement.line)
            if faulty is not None and holds:
                self.desk.own.insert(0, own_number(faulty.trees[0], typed, self.statement.line, slips=faulty.slips, right=False))
        self._found_inside(lifted, i)
        if not values:
            self.desk.wrongs += NOT_RECOGNISED
            self._add(Kind.ARITHMETIC, i, right=True, stated=(lifted.trees[0], side), bare=True, note="not worked out")
