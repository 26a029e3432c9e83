"""One reading of one statement: a chain of sides, judged side by side into evidence.

`R = V/I = 27.6/0.064 = 431 Ω` has a head, R, and everything after it is another way to write R: a
relationship, a substitution, a value. A side that begins something new in the same breath ("= 57.4 = v = …")
becomes the next head and costs nothing by itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from marker.expression import Expr, Number, Quotient, Symbol, symbols
from marker.judging.bench import (
    NOT_RECOGNISED,
    UNKNOWN_COST,
    WRONG_ARITHMETIC,
    WRONG_SUBSTITUTION,
    key_of,
    own_number,
)
from marker.judging.conversions import without_conversions
from marker.judging.desk import Desk, goal_symbols, unknown_letters
from marker.judging.given import datum_twice
from marker.judging.heads import Heads
from marker.judging.leaves import is_numeric, is_value, template
from marker.judging.lifting import Lifted
from marker.judging.miscopied import wrongly_converted
from marker.judging.model import Kind, Slip
from marker.judging.origins import OwnNumber
from marker.judging.right_angles import right_angles_worked_out
from marker.judging.runs import Breath, breaths
from marker.judging.values import implied_by, nearly, typed_value
from marker.judging.valuing import alike


def _of_a_shape(head: Expr, side: Expr) -> bool:
    """Letters set equal to a number that no quantity of the part has but that may belong to a relationship: n sin C = 1."""
    return isinstance(side, Number) and side.value in (0.0, 1.0) and not isinstance(head, Symbol) and not is_numeric(head)


class Chain(Heads):
    """The judging of one chain, side by side."""

    __slots__ = ()

    def judge(self) -> Desk:
        """Works through the sides from left to right; the desk afterwards holds the evidence and the new head."""
        part = self.desk.part
        sides = [right_angles_worked_out(part, without_conversions(self.desk.letters.resolve(s))) for s in self.reading.sides]
        if any(r in "<>≤≥∝" for r in self.reading.relations) and "=" not in self.reading.relations:
            self._proportion(self.reading.sides)
            return self.desk
        self.desk.wrongs += UNKNOWN_COST * sum(datum_twice(self.desk.part, s) for s in sides)
        if self._given_up():
            return self.desk
        head = self._continued(sides) if self.reading.opens else self._completed(sides)
        self.desk.awaiting = None
        whole, parts = breaths(self.desk.part, sides, self._is_step)
        for breath in parts:
            head = self._breath(whole, breath, head, breath is parts[-1])
        if len(sides) == 1 and unknown_letters(self.desk.part, symbols(sides[0])):
            self.desk.wrongs += UNKNOWN_COST
        elif len(sides) == 1 and not is_numeric(sides[0]) and not isinstance(sides[0], Symbol):
            self._mixed(sides[0])
        if head is not None:
            self.desk.head = head
            if is_numeric(sides[-1]) and not is_value(sides[-1]):
                self.desk.awaiting = head
        if is_value(sides[-1]):
            self.desk.awaiting = None
        return self.desk

    def _given_up(self) -> bool:
        """This reading has as many wrongs already as another that has been judged."""
        return self.desk.wrongs >= self.most

    def _completed(self, sides: Sequence[Expr]) -> Expr | None:
        """What a value by itself completes: `A = π × 0.002²` on one line, `1.26 × 10⁻⁵` on the next."""
        head = self.desk.awaiting
        typed = typed_value(sides[0], self.text[0]) if len(sides) == 1 else None
        if head is None or typed is None or self.statement.label or self.statement.alternative:
            return None
        implied = self.desk.implied.get(key_of(head))
        if implied is not None and (nearly(typed.raw, implied.raw) or nearly(typed.si, implied.si, typed.half)):
            if isinstance(head, Symbol) or typed.unit is None:
                return head
            self.desk.own.append(own_number(head, typed, self.statement.line))  # it has a unit, and may be an answer all the same
            return None
        if not isinstance(head, Symbol) or head.name not in self.desk.part.system.base or self._is_datum(typed):
            return None
        if self._answers_another(typed, head.name):
            return None
        return None if typed.unit is not None and self._other_kind(head.name, typed) else head

    def _continued(self, sides: Sequence[Expr]) -> Expr | None:
        """What a line that begins with "=" continues: the head before it, unless a label or its own numbers say otherwise."""
        head = self.desk.head
        if head is None or self.statement.label or not sides:
            return None
        first = sides[0]
        if isinstance(head, Symbol) and is_value(first) and not self._may_have(head.name, first):
            return None
        if is_numeric(first) and not is_value(first) and self._lift((head, first), plain_only=True, printed=True) is None:
            value = next((s for s in sides if is_value(s)), None)
            about = head.name if isinstance(head, Symbol) else ""
            if about and self._exchanged((head, first), about):
                return head
            if self._what_is(first, 0, value)[0] is not None or self._is_over(head, first):
                return None
        return head

    def _breath(self, sides: Sequence[Expr], breath: Breath, head: Expr | None, last: bool) -> Expr | None:
        """Judges one breath of a chain, and gives the head that the next one may go on under."""
        self.end = breath.end
        kept, aside = head, False
        if breath.subject is not None:
            head = self._opened(sides, breath)
        elif breath.start:
            head = self._taken_further(sides[breath.start], head, last)
        else:
            aside = not last and self._found_on_the_way(sides, breath, head)
        pending: list[int] = []
        for i in range(breath.start, breath.end):
            if self._given_up():
                return head
            after = sides[i + 1] if i + 1 < breath.end else None
            if aside and is_numeric(sides[i]):
                pending.append(i)
            else:
                head = self._without_head(sides, i, pending, after) if head is None else self._under(head, sides[i], i, after)
        if pending:
            self._bare([sides[i] for i in pending], pending)
        if breath.closes is not None:
            self._closes(None if aside else head, sides[breath.end - 1], breath)
        return head if head is not None else kept

    def _taken_further(self, side: Expr, head: Expr | None, last: bool) -> Expr | None:
        """The head a later breath goes on under: the chain's own where its numbers follow, or where it waited for the last."""
        if not is_numeric(side):
            return None
        if head is not None and self._lift((head, side), plain_only=True, printed=True) is not None:
            self.awaited = None
            return head
        return self.awaited if last else None

    def _is_step(self, side: Expr) -> bool:
        """Numbers that by themselves stand for a quantity of the part."""
        return not is_value(side) and self._what_is(side, 0, None)[0] is not None

    def _found_on_the_way(self, sides: Sequence[Expr], breath: Breath, head: Expr | None) -> bool:
        """`Ek = 640×9.81×9 = 56506 − 37200`: the numbers of this breath are on the way to what the chain begins with."""
        first = breath.start if head is not None else breath.start + 1
        under = head if head is not None else sides[breath.start]
        numbers = [s for s in sides[first : breath.end] if is_numeric(s) and not is_value(s)]
        if is_numeric(under) or not numbers or self._lift((under, numbers[0]), plain_only=True, printed=True) is not None:
            return False
        target = self._what_is(numbers[0], breath.start, None)[0]
        if isinstance(under, Symbol) and under.name in goal_symbols(self.desk.part):
            self.awaited = under
            return True
        return target is not None and target != under

    def _opened(self, sides: Sequence[Expr], breath: Breath) -> Expr | None:
        """The letter that the equation in numbers just before had open, with the value that equation gives it."""
        assert breath.subject is not None
        held = next((s for s in reversed(sides[: breath.start - 1]) if is_numeric(s)), None)
        name = next(iter(symbols(breath.subject)))
        if held is not None and name in self.desk.part.system.base:
            implied = implied_by(self.desk.part, (held, sides[breath.start - 1]), name)
            if implied is not None:
                self._remember(name, implied, breath.start - 1)
        return breath.subject

    def _closes(self, head: Expr | None, side: Expr, breath: Breath) -> None:
        """Remembers the value that only the next breath writes as what the side before stands for (and its head, when that is true)."""
        assert breath.closes is not None
        made, i = template(side), breath.end - 1
        number, line = breath.closes, self.statement.line
        if head is not None and self._lift((head, side), plain_only=True) is not None:
            self._value(head, number, i)
        lifted = self._lifter_now().explain([made])
        value = OwnNumber(stands_for=lifted.trees[0], si=number.value, raw=number.value, half=number.half, line=line)
        self.desk.own.append(value)
        faulty = self._lifter_now().unconverted([made], line)
        if faulty is not None:
            own = replace(value, stands_for=faulty.trees[0], slips=faulty.slips, right=False)
            self.desk.own.insert(0, own)

    def _without_head(self, sides: Sequence[Expr], i: int, pending: list[int], after: Expr | None) -> Expr | None:
        side = sides[i]
        if is_numeric(side):
            pending.append(i)
            return None
        if not pending:
            return side
        if isinstance(side, Symbol):
            self._labelled(sides, side, pending)
        else:
            if len(pending) > 1 and not all(is_value(sides[j]) for j in pending):
                self._bare([sides[j] for j in pending], pending)
            self._equation(sides[pending[-1]], side, i)
        pending.clear()
        return side

    def _labelled(self, sides: Sequence[Expr], label: Symbol, pending: Sequence[int]) -> None:
        """Numbers and then the letter they are for; of 1/R, v², √x where the letter was put to it without the last step."""
        first = next((sides[j] for j in pending if not is_value(sides[j])), None)
        if first is not None and self._lift((label, first), plain_only=True, printed=True) is None:
            target = self._what_is(first, pending[0], None)[0]
            if target is not None and symbols(target) == {label.name} and is_value(sides[pending[-1]]):
                self._bare([sides[j] for j in pending], pending)
                code = "last-reciprocal" if isinstance(target, Quotient) else "root-forgotten"
                self._without_last_step(label, sides[pending[-1]], pending[-1], code)
                return
        for j in pending:
            self._under(label, sides[j], j, None)

    def _without_last_step(self, label: Symbol, value: Expr, i: int, code: str) -> None:
        """A value of 1/R or v² called R or v: the value the candidate goes on with, with the step left out."""
        typed = typed_value(value, self.text[i])
        if typed is None or label.name not in self.desk.part.system.base:
            return
        slip = Slip(code=code, family="arithmetic", line=self.statement.line, symbol=label.name, typed=typed.text)
        self._add(Kind.VALUE, i, about=label.name, right=False, slips=(slip,), value=typed)
        self.desk.own.append(own_number(label, typed, self.statement.line, symbol=label.name, slips=(slip,), right=False))
        self.desk.wrongs += WRONG_ARITHMETIC

    def _under(self, head: Expr, side: Expr, i: int, after: Expr | None) -> Expr:
        if not is_numeric(side):
            given = isinstance(head, Symbol) and head.name in self.desk.part.data and not isinstance(side, Symbol)
            head = self._of_its_kind(head, side) if given and self._has_data(side) else head
            self.subject = head
            if is_numeric(head) or not self._symbolic(head, side, i, after):
                return side
            return self.subject or head
        if _of_a_shape(head, side) and self.desk.part.system.support((head, side)):
            self._symbolic(head, side, i, after)  # n sin C = 1
            return head
        if self._puts_data_in(head, side, i):
            return head
        head = self._by_its_letter(head, i)
        if is_value(side):
            return self._value(head, side, i)
        if self.former is not None and self._lift((head, side), plain_only=True, printed=True) is None:
            head = self.former if self._lift((self.former, side), plain_only=True, printed=True) is not None else head
        head = self._of_its_kind(head, side)
        self._substitution(head, side, i)
        return head

    def _puts_data_in(self, head: Expr, side: Expr, i: int) -> bool:
        """`1.68 sin C = 1.37`: a letter to be found among numbers, and on the other side a datum or a number of the relationship."""
        if not is_value(side) or isinstance(head, Symbol) or is_numeric(head) or not self._has_data(head):
            return False
        lifted = self._lift((head, side), plain_only=True, printed=True)
        part = self.desk.part
        if lifted is None or not symbols(lifted.trees[1]) <= part.data.keys():
            return False
        if not part.system.support((lifted.trees[0], lifted.trees[1])):
            return False
        self._note_true((head, side), lifted, i)
        self.desk.evidence[-1] = replace(self.desk.evidence[-1], kind=Kind.SUBSTITUTION)
        return True

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
        target, lifted = self._what_is(side, i, values[-1][0] if values else self._worked_out_next(side))
        if target:
            self._named(target, expressions, values, lifted)
            return
        asked = self._asked_under_the_label(lifted) if values else None
        if asked is not None:
            self._named(asked, expressions, values, lifted)
            return
        by_unit = self._used_next_as(values)
        if by_unit is not None:
            self._named(by_unit, expressions, values, lifted)
            return
        self._anonymous(side, i, lifted, values)

    def _worked_out_next(self, side: Expr) -> Expr | None:
        """The value on the line after these numbers, when it is what they come to."""
        typed = typed_value(self.ahead, "") if self.ahead is not None and is_value(self.ahead) else None
        if typed is None:
            return None
        implied = implied_by(self.desk.part, (Symbol(name="#", known=True), side), "#")
        comes = implied is not None and (nearly(typed.raw, implied[1], typed.half) or nearly(typed.si, implied[0]))
        return self.ahead if comes else None

    def _named(self, target: Expr, expressions: Sequence[tuple[Expr, int]], values: Sequence[tuple[Expr, int]], lifted: Lifted) -> None:
        head: Expr = target
        for side, i in sorted((*expressions, *values), key=lambda pair: pair[1]):
            head = self._under(head, side, i, None)
        self.desk.head = head
        if not values:
            self.desk.awaiting = head

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
        numbers = any(leaf.number.figures[1] >= 2 for leaf in template(side).leaves)
        if datum_twice(self.desk.part, side) or (numbers and self._has_data(side)):
            self.desk.wrongs += UNKNOWN_COST

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
            self._keep_own(stands_for, typed, slips, holds)
            faulty = self._lifter_now().unconverted([template(side)], self.statement.line)
            if faulty is not None and holds:
                self.desk.own.insert(0, own_number(faulty.trees[0], typed, self.statement.line, slips=faulty.slips, right=False))
            wrong = wrongly_converted(self.desk.part, stands_for, typed, self.statement.line) if holds else None
            if wrong is not None:
                meant = Symbol(name=wrong.symbol, known=True)
                self.desk.own.append(own_number(meant, typed, self.statement.line, symbol=wrong.symbol, slips=(wrong,), right=False))
        self._found_inside(lifted, i)
        if not values:
            self.desk.wrongs += NOT_RECOGNISED
            self._add(Kind.ARITHMETIC, i, right=True, stated=(lifted.trees[0], side), bare=True, note="not worked out")
            if implied is not None:
                self.desk.awaiting = lifted.trees[0]
                self._remember(key_of(lifted.trees[0]), implied, i)
