"""What a chain is about: whether numbers answer for its head, for another quantity of its kind, or for what a label asks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.expression import Expr, Power, Symbol, put, symbols
from marker.judging.desk import goal_symbols
from marker.judging.dimensions import dimensions_of
from marker.judging.leaves import is_numeric, is_value, template
from marker.judging.lifting import Lifted
from marker.judging.model import Kind, TypedValue
from marker.judging.relating import Relating
from marker.judging.sought import sought
from marker.judging.values import implied_by, nearly, typed_value
from marker.physics.evaluate import same_dimensions

MISREAD = 4.0  # tracings dearer than this put any number in any place


class Heads(Relating):
    """What the head of a chain stands for."""

    __slots__ = ()

    def _may_have(self, name: str, value: Expr) -> bool:
        """A line "= 6.34 × 10⁻⁷ m" after a list of data that ends in c = 3 × 10⁸ gives no value of c."""
        typed, datum = typed_value(value, self.text[0]), self.desk.part.data.get(name)
        if typed is None or datum is None:
            return True
        return nearly(typed.si, datum.si, typed.half) or nearly(typed.raw, datum.raw) or name in self.desk.implied

    def _is_datum(self, typed: TypedValue) -> bool:
        """The value is one the question gives."""
        return any(nearly(typed.si, d.si) or typed.raw == d.raw for d in self.desk.part.data.values())

    def _answers_another(self, typed: TypedValue, name: str) -> bool:
        """The value is right for something else that the question asks for: steps between were done in the head."""
        goals = [g for g in self.desk.part.goals if g.find != name]
        units = {g.find: g.unit.scale if g.unit is not None else 1.0 for g in goals}
        return any(nearly(typed.si, g.value, typed.half) or nearly(typed.raw * units[g.find], g.value) for g in goals)

    def _is_over(self, head: Expr, side: Expr) -> bool:
        """The head has its value already, and these numbers come to another and go on from it."""
        held = [o for o in self.desk.own if isinstance(head, Symbol) and o.symbol == head.name]
        implied = implied_by(self.desk.part, (Symbol(name="#", known=True), side), "#")
        if not held or implied is None or nearly(implied[1], held[-1].raw, held[-1].half):
            return False
        return any(nearly(leaf.raw, held[-1].raw, leaf.number.half) for leaf in template(side).leaves if leaf.number.figures[1] >= 2)

    def _of_its_kind(self, head: Expr, side: Expr) -> Expr:
        """`f = 850 × 340/358` where f is the frequency given and f_o is sought: the one of a kind whose numbers they are.

        So too `v² = 3.4² + 7.5²` of a part that calls the resultant w and one component v.
        """
        part = self.desk.part
        name = next(iter(symbols(head)), "")
        if len(symbols(head)) != 1 or name not in part.system.base or (template(head).leaves and not isinstance(head, Power)):
            return head
        if self._lift((head, side), plain_only=True, printed=True) is not None:
            return head
        dims = part.dimensions.get(name)
        kin = [n for n in sought(part) if n != name and same_dimensions(part.dimensions.get(n), dims)]
        given = name in part.data and not part.data[name].constant and isinstance(head, Symbol)
        for plain in (True, False) if given else (True,):
            for other in kin if plain or self._has_data(side) else ():
                meant = put(head, {name: Symbol(name=other, known=True)})
                lifted = self._lift((meant, side), plain_only=plain, printed=plain)
                if lifted is None or lifted.traced == 1 or (lifted.traced == 0 and is_numeric(side)) or lifted.cost >= MISREAD:
                    continue
                if all(s.family in ("copying", "conversion") for s in lifted.slips):
                    self._means_from_now_on(name, other)
                    return meant
        return head

    def _means_from_now_on(self, name: str, other: str) -> None:
        """A letter with a value already, given or found, that is used again for another quantity stays with that."""
        if name in self.desk.part.data or any(own.symbol == name for own in self.desk.own):
            letters = self.desk.letters
            self.desk.letters = replace(letters, quantities={**letters.quantities, name: other})

    def _by_its_letter(self, head: Expr, i: int) -> Expr:
        """`E₂/E₁` or `mgh` where the part calls this k or E_p: the quantity's own letter, so that its value is recognised in any form."""
        data = self.desk.part.data
        if isinstance(head, Symbol) or is_numeric(head) or (template(head).leaves and not symbols(head) - {"π"} <= data.keys()):
            return head
        quantity = self._same_as(head)
        if quantity is None:
            return head
        letter = Symbol(name=quantity, known=True)
        if symbols(head) & data.keys():
            relations = self.desk.part.system.support((letter, head)) or frozenset()
            self._clear((letter, head), quantity)
            self._add(Kind.RELATIONSHIP, i, about=quantity, relations=relations, symbolic=True, stated=(letter, head))
        return letter

    def _asked_under_the_label(self, lifted: Lifted) -> Expr | None:
        """`(i) 12 + 18 + 4.5 = 34.5`: numbers of the kind that step (i) asks for, and not what it is: its wrong answer."""
        label = self.statement.label.strip("(). ").casefold()
        dims = self.desk.part.dimensions
        kind = dimensions_of(lifted.trees[0], dims) if label and not lifted.unexplained and lifted.traced > 1 else None
        for goal in self.desk.part.goals if kind is not None else ():
            if goal.label.strip("(). ").casefold() == label and same_dimensions(kind, dims.get(goal.find)):
                return Symbol(name=goal.find, known=True)
        return None

    def _used_next_as(self, values: Sequence[tuple[Expr, int]]) -> Expr | None:
        """`π × 0.063 = 0.198 m²`, and on the next line 6.0 × 10⁵ × 0.198: the one quantity on the way that has such a unit."""
        typed = typed_value(values[-1][0], self.text[values[-1][1]]) if values else None
        if typed is None or typed.unit is None or typed.number is None or typed.number.figures[1] < 2 or self.ahead is None:
            return None
        if is_value(self.ahead) or not any(leaf.raw == typed.raw for leaf in template(self.ahead).leaves):
            return None
        part, unit = self.desk.part, typed.unit.dimensions
        kin = [n for n in part.system.base if any(unit) and same_dimensions(part.dimensions.get(n), unit)]
        alone = len(kin) == 1 and kin[0] not in part.data and kin[0] not in goal_symbols(part)
        return Symbol(name=kin[0], known=True) if alone else None
