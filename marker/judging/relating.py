"""Letters set equal to letters: a relationship, a rearrangement, a definition of the candidate's own, or a wrong one."""

from __future__ import annotations

import math
from collections.abc import Sequence

from marker.expression import Expr, Product, Quotient, Symbol, has_unit, symbols
from marker.judging.bench import (
    UNKNOWN_COST,
    WRONG_ARITHMETIC,
)
from marker.judging.conversions import without_conversions
from marker.judging.desk import unknown_letters
from marker.judging.families import family_relations
from marker.judging.given import STRUCTURAL
from marker.judging.leaves import is_numeric, is_value, template
from marker.judging.lifting import Lifted
from marker.judging.model import Kind
from marker.judging.origins import OwnNumber
from marker.judging.relettered import as_its_numbers, relettered
from marker.judging.shape import fill
from marker.judging.substituting import Substituting
from marker.physics.evaluate import same_dimensions, value_at
from marker.physics.system import Equation
from marker.physics.units import parse_unit

LEFT_OUT = 0.2  # what letters cost that say less than the numbers after them


class Relating(Substituting):
    """Letters set equal to letters: a relationship, a rearrangement, a definition of the candidate's own, or a wrong one."""

    __slots__ = ()

    def _symbolic(self, head: Expr, side: Expr, i: int, after: Expr | None) -> bool:
        """Judges letters = letters. False when the side begins something new."""
        equation = (head, side)
        shown = family_relations(self.desk.part, (self.reading.sides[i - 1], self.reading.sides[i])) if i else frozenset()
        if shown:
            self._add(Kind.RELATIONSHIP, i, relations=shown, symbolic=True, stated=equation)
            return True
        lifted = self._lift(equation, plain_only=True)
        if lifted is None and self.desk.part.system.support(equation):
            lifted = Lifted(trees=equation, cost=0.0)  # a side that comes to nought in the data: v² = u² + 2as where v = 0
        if lifted is not None:
            self._note_true(equation, lifted, i)
            if after is None or is_value(after):
                self._with_own_values(equation, i)
            return True
        if not self._claims(head, side, i) and self._begins_anew(head, side, after):
            return False
        if self._unit_alone(head, i):
            return True
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
        rebound = self._as_typed(equation, i) or self._rebound(equation, i, after)
        if rebound is not None:
            self._note_true(rebound, self._lifter_now().explain([template(rebound[0]), template(rebound[1], 20)]), i)
            self.subject, self.former = rebound[0], head
            return True
        if self._true_in_data(equation, i):
            return True
        if self._mended_by_numbers(head, side, after) or (isinstance(side, Quotient) and side.over == side.under):
            self._add(Kind.UNKNOWN, i, about=self._about(equation), stated=equation)
            self.desk.wrongs += LEFT_OUT
            return True
        if self._names_again(equation, i):
            self._add(Kind.UNKNOWN, i, about=self._about(equation), stated=equation)
            return True
        faulty = self._lift(equation, plain_only=False) if self._has_data(side) and not _only_shape(side) else None
        if faulty is not None:
            self._note_true(equation, faulty, i)
            self.desk.wrongs += WRONG_ARITHMETIC * 0.9 * len(faulty.slips)
        else:
            self._wrong_relationship(equation, i)
        return True

    def _as_typed(self, equation: Equation, i: int) -> Equation | None:
        """The equation in the very letters typed, where those are the part's and it is right so: v in two meanings, W beside W_f."""
        letters, sides = self.desk.letters, self.reading.sides
        head = next((s for s in sides[:i] if without_conversions(letters.resolve(s)) == equation[0]), equation[0])
        typed = (head, sides[i])
        if typed == equation or not (symbols(head) | symbols(sides[i])) <= self.desk.part.system.base.keys() | {"π"}:
            return None
        return typed if self.desk.part.system.support(typed) else None

    def _unit_alone(self, head: Expr, i: int) -> bool:
        """`v = √(2E/m) = m/s`: the unit of the value that was not worked out, and no statement."""
        part = self.desk.part
        if i < 2 and not self.reading.opens and not self.text[i].isalpha():  # P = V²/R is no number of volts squared per ohm
            return False
        names = symbols(head) - part.data.keys()
        wanted = [d for n in names if (d := part.dimensions.get(n)) is not None]
        return any(same_dimensions(unit.dimensions, d) for unit, _ in parse_unit(self.text[i]) for d in wanted)

    def _with_own_values(self, equation: Equation, i: int) -> None:
        """`E = stress/strain` where both have just been worked out: the values are put in, though not written again."""
        head, note = equation[0], self.desk.evidence[-1]
        if not isinstance(head, Symbol) or note.kind is not Kind.RELATIONSHIP or not note.relations or head.name in self.desk.implied:
            return
        tree = self.reading.sides[i]
        held: dict[str, OwnNumber] = {}
        for name in symbols(tree) - {"π"}:
            meant = self.desk.letters.resolve(Symbol(name=name, known=True))
            own = next((o for o in reversed(self.desk.own) if o.line and o.stands_for == meant), None)
            if own is None:
                return
            held[name] = own
        value = value_at(tree, {n: o.si for n, o in held.items()})
        found = [o for o in held.values() if o.symbol not in self.desk.part.data]
        if len(held) < 2 or not found or not math.isfinite(value):
            return
        slips = tuple(dict.fromkeys(s for o in held.values() for s in o.slips))
        uses = tuple((o.symbol, o.si) for o in held.values() if o.symbol)
        fields = {"about": head.name, "relations": note.relations, "inherited": slips, "uses": uses, "stated": note.stated}
        evidence = self._add(Kind.SUBSTITUTION, i, implied=value, implied_raw=value, **fields)
        self._remember(head.name, (value, value, None), i, evidence)

    def _says_it_generally(self, side: Expr, after: Expr | None) -> bool:
        """`v = d/t = π × 3.8/2.6`: letters of the candidate's own, one of which the next side fills with a whole expression."""
        if after is None or not is_numeric(after):
            return False
        filled = fill(side, after)
        if not filled or all(is_value(v) for v in filled.values()):
            return False
        return self._what_is(after, 0, None)[0] is not None

    def _rebound(self, equation: Equation, i: int, after: Expr | None) -> Equation | None:
        """The statement with a letter taken for another quantity, if that is true; its numbers put back to letters where it has some."""
        numbers = self.ahead if after is None and i == len(self.reading.sides) - 1 else after
        found = relettered(self.desk.part, equation, after=numbers)
        if found is None and any(template(side).leaves for side in equation):
            explained = self._lifter_now().explain([template(equation[0]), template(equation[1], 20)])
            found = relettered(self.desk.part, (explained.trees[0], explained.trees[1])) if explained.traced else None
        if found is not None:
            return found
        return as_its_numbers(self.desk.part, equation) if self._right_numbers(equation[0], numbers) is not None else None

    def _right_numbers(self, head: Expr, after: Expr | None) -> Lifted | None:
        """The numbers right after the letters, traced, where they are the right ones for the head; None otherwise."""
        if after is None or not is_numeric(after) or is_value(after):
            return None
        return self._lift((head, after), plain_only=True, printed=True)

    def _mended_by_numbers(self, head: Expr, side: Expr, after: Expr | None) -> bool:
        """`P = mgh/t = 12 × 16 × 9.81 × 2.8/60` of twelve sacks of 16 kg: the numbers right after the letters say more, and are right."""
        lifted = None if has_unit(side) else self._right_numbers(head, after)
        return lifted is not None and symbols(side) < symbols(lifted.trees[1])

    def _names_again(self, equation: Equation, i: int) -> bool:
        """`P = pd`: a letter said in words to be a quantity of its own kind names it and claims nothing."""
        left, right = equation
        words = self.text[i].strip()
        if not (isinstance(left, Symbol) and isinstance(right, Symbol)) or len(words) < 2 or not words.replace(" ", "").isalpha():
            return False
        dims = self.desk.part.dimensions
        return words != right.name and dims.get(left.name) is not None and dims.get(left.name) == dims.get(right.name)

    def _claims(self, head: Expr, side: Expr, i: int) -> bool:
        """`V = V₀√2 = …`, `W = m = …`: a quantity sought and the first thing it is set equal to, so no new beginning."""
        part = self.desk.part
        if i != 1 or not isinstance(head, Symbol) or head.name in part.data or head.name not in part.system.base:
            return False
        return bool(symbols(side)) and symbols(side) <= part.data.keys()

    def _begins_anew(self, head: Expr, side: Expr, after: Expr | None) -> bool:
        if isinstance(side, Symbol) and not isinstance(head, Symbol):
            return True
        if after is None:
            return False
        if isinstance(side, Symbol) and side != head and self.reading.sides.index(self.reading.sides[-1]) > 1:
            return is_numeric(after) or self._lift((side, after), plain_only=True) is not None
        if len(symbols(side)) != 1 or self._has_data(side):
            return self._states_something_else(side, after)
        return (is_value(after) and _is_function_of_one(side)) or self._lift((side, after), plain_only=True) is not None

    def _states_something_else(self, side: Expr, after: Expr) -> bool:
        """`T = 2π√(L/g) = 1.84 = L/g = (1.84/2π)²`: with the numbers after it the side states a relationship of its own.

        `I = 24.6/2.08 = 11.8 = I²R = 11.8² × 1.9`: or it is another quantity.
        """
        lifted = self._lift((side, after), plain_only=True) if is_numeric(after) and not is_value(after) else None
        if lifted is None:
            return False
        return self._same_as(side) is not None or bool(self.desk.part.system.support((lifted.trees[0], lifted.trees[1])))

    def _proportion(self, sides: Sequence[Expr]) -> None:
        """`I ∝ 1/d²`: a relationship between two states of the same quantities."""
        if self.reading.relations == ("∝",):
            shown = family_relations(self.desk.part, (sides[0], Product(factors=(Symbol(name="∝"), sides[1]))))
            if shown:
                self._add(Kind.RELATIONSHIP, 0, relations=shown, symbolic=True)
            else:
                self._add(Kind.UNKNOWN, 0)
                self.desk.wrongs += UNKNOWN_COST


def _only_shape(side: Expr) -> bool:
    """Letters and single figures of a relationship's shape (`2V/I`, `mv²/2`): no datum is put in, whatever unit the letters spell."""
    return all(leaf.raw in STRUCTURAL and leaf.number.figures[1] <= 1 for leaf in template(side).leaves)


def _is_function_of_one(side: Expr) -> bool:
    """t², 1/v, sin θ: one letter and no number of the candidate's but those that belong to the shape."""
    return not isinstance(side, Symbol) and all(leaf.raw == 1.0 for leaf in template(side).leaves)
