"""Numbers put into a relationship: rightly, with a fault of copying or converting, exchanged, or into a wrong one."""

from __future__ import annotations

import math
from dataclasses import replace

from marker.expression import Expr, Negative, Number, Power, Product, Quotient, Root, Sum, Symbol, put, symbols
from marker.judging.bench import (
    UNKNOWN_COST,
    WRONG_ARITHMETIC,
    WRONG_SUBSTITUTION,
)
from marker.judging.desk import unknown_letters
from marker.judging.leaves import is_numeric, is_value, template
from marker.judging.lifting import Lifted, near
from marker.judging.model import Kind, Slip
from marker.judging.noting import NO_VALUE
from marker.judging.unit_sizes import unit_sizes
from marker.judging.values import implied_by, nearly
from marker.judging.valuing import Valuing
from marker.physics.evaluate import value_at
from marker.physics.system import Equation


class Substituting(Valuing):
    """Numbers put into a relationship: rightly, with a fault of copying or converting, exchanged, or into a wrong one."""

    __slots__ = ()

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
        equation = _apart(equation)
        factors = self._factors(i, about)
        lifted = self._lift(equation, plain_only=True, factors=factors, printed=True)
        if lifted is not None and about in symbols(lifted.trees[1]) - symbols(equation[1]):
            lifted = self._lift_from_others(equation, about, factors) or lifted
        implied = implied_by(self.desk.part, equation, about)
        alone = is_numeric(equation[1]) or symbols(equation[0]) | symbols(equation[1]) == {about}
        if lifted is None and implied is not None and alone and self._same_again(about, implied):
            self._worked_on(i, about, implied)
            return
        if lifted is None and not self._exchanged(equation, about):
            lifted = self._only_if_stated(self._lift(equation, plain_only=False, factors=factors))
        if lifted is None:
            powers = self._root_left_out(equation)
            if powers is not None:
                equation, lifted = powers
                implied = implied_by(self.desk.part, equation, about)
        if lifted is None:
            self._not_traced(equation, i, about, implied)
            return
        self._note_substitution(equation, lifted, i, about, implied)

    def _root_left_out(self, equation: Equation) -> tuple[Equation, Lifted] | None:
        """`v² = u² + 2as`, then `v = 2 × 2.1 × 4.5`: rightly put in, and the root not taken, or the square root of a fourth power.

        Only where the relationship stands before. What the numbers come to is then an arithmetic slip.
        """
        head, side = equation
        if not isinstance(head, Symbol) or not self.desk.stated or self.desk.taint(head.name) or not is_numeric(side):
            return None
        power = Number(text="2", value=2.0, figures=(0, 0))
        for raised in (Power(base=head, exponent=power), Power(base=Power(base=head, exponent=power), exponent=power)):
            inner = side.inner if isinstance(side, Root) and raised.base != head else side
            lifted = self._lift((raised, inner), plain_only=True, printed=True)
            shown = self.desk.part.system.support((lifted.trees[0], lifted.trees[1])) if lifted is not None and lifted.traced else None
            if lifted is not None and shown and shown <= self.desk.stated:
                return (raised, inner), lifted
        return None

    def _only_if_stated(self, lifted: Lifted | None) -> Lifted | None:
        """Another quantity's value is a wrong substitution only under a relationship stated before."""
        if lifted is None or not any(s.family == "other quantity" for s in lifted.slips):
            return lifted
        shown = self.desk.part.system.support((lifted.trees[0], lifted.trees[1])) or frozenset()
        return lifted if shown & self.desk.stated else None

    def _unknown_head(self, equation: Equation, i: int) -> None:
        """A letter nothing is known of is given numbers: what the numbers stand for tells what it is."""
        head, side = equation
        if isinstance(head, Symbol) and is_numeric(side):
            before, self.desk.head = self.desk.head, None
            self._bare([side], [i], head=head.name)
            found, self.desk.head = self.desk.head, before
            if isinstance(found, Symbol) and found.name in self.desk.part.system.base:
                letters = self.desk.letters
                self.desk.letters = replace(letters, quantities={**letters.quantities, head.name: found.name})
            else:
                self._keep_letter(head.name, side)
        else:
            self._add(Kind.UNKNOWN, i, stated=equation)
            self.desk.wrongs += UNKNOWN_COST

    def _keep_letter(self, name: str, side: Expr) -> None:
        """`W = 1003.6 − 198.1`: from here on the letter stands for what its numbers stand for."""
        letters = self.desk.letters
        lifted = self._lifter_now().explain([template(side)])
        if name not in letters.quantities and not lifted.unexplained and lifted.traced:
            self.desk.letters = replace(letters, expressions={**letters.expressions, name: lifted.trees[0]})

    def _not_traced(self, equation: Equation, i: int, about: str, implied: tuple[float, float, float | None] | None) -> None:
        """Numbers that make no consequence of the relationships: true in the data all the same, swapped, or wrong."""
        part = self.desk.part
        if self._true_in_data(equation, i) or self._true_in_data(self._own_put_back(equation), i):
            return
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
        if self._settled(about, explained) and implied is not None and is_numeric(equation[1]):
            self._worked_on(i, about, implied)
            return
        if self._turned_wrongly(explained, i, about, implied):
            return
        swapped = self._swapped(explained, about) or self._left_out(explained, about, i)
        self._found_inside(explained, i, about)
        if swapped is None and not explained.unexplained:
            self._shown_in_part((explained.trees[0], explained.trees[1]), about, i, symbolic=False)
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
            uses=self._in_each_others_place(swapped),
            stated=(explained.trees[0], explained.trees[1]),
        )
        if about and swapped is None and about not in part.data and explained.unexplained:
            self.desk.taints.setdefault(about, slip)
        if swapped is None:
            self._taint_together(equation, about, slip)
        self.desk.wrongs += 0.0 if self._said_before(about, explained) else WRONG_SUBSTITUTION
        if implied is not None or (not isinstance(equation[0], Symbol) and is_numeric(equation[1])):
            self._remember(about, implied or NO_VALUE, i, evidence)

    def _in_each_others_place(self, swapped: Slip | None) -> tuple[tuple[str, float], ...]:
        """Two data exchanged, each with the other's value, in SI; a number of things left out, which is to take one."""
        data = self.desk.part.data
        if swapped is not None and swapped.code == "factor-left-out":
            return ((swapped.symbol, 1.0),)
        if swapped is None or swapped.symbol not in data or swapped.expected not in data:
            return ()
        one, other = data[swapped.symbol], data[swapped.expected]
        return ((swapped.symbol, other.si), (swapped.expected, one.si))

    def _same_again(self, about: str, implied: tuple[float, float, float | None]) -> bool:
        """After a right substitution, numbers that come to the same."""
        held = self.desk.implied.get(about)
        settled = held is not None and held.evidence.kind is not Kind.RELATIONSHIP and self._settled(about)
        return settled and held is not None and nearly(implied[1], held.raw)

    def _said_before(self, about: str, explained: Lifted) -> bool:
        """Numbers put into a wrong relationship just as it was stated: the same wrong, and not a second one."""
        vector = self.desk.part.system.vector
        numbers = vector(explained.trees[1])
        wrong = (e.stated for e in self.desk.evidence if e.about == about and e.symbolic and not e.right and e.stated is not None)
        return bool(numbers) and any(near(vector(stated[1]), numbers) for stated in wrong)

    def _own_put_back(self, equation: Equation) -> Equation:
        """The equation with the candidate's own right values replaced by their letters: `2.5 − 1.5 × 1.1` is 2.5 − 1.5 I₁."""
        right = {o.symbol for o in self.desk.own if o.right and o.symbol and o.symbol not in self.desk.part.data}
        sides = []
        for place, side in enumerate(equation):
            made = template(side, 20 * place)
            turned: dict[str, Expr] = {}
            for leaf in made.leaves:
                own = next((s for s in self._lifter_now().sources.plain(leaf) if s.own is not None and s.symbol in right), None)
                turned[leaf.name] = leaf.number if own is None else own.stands_for
            sides.append(put(made.tree, turned))
        return (sides[0], sides[1])

    def _taint_together(self, equation: Equation, about: str, slip: Slip) -> None:
        """An equation with several unknowns that is wrong spoils all of them that are not found yet."""
        found = {o.symbol for o in self.desk.own}
        names = (symbols(equation[0]) | symbols(equation[1])) & self.desk.part.system.base.keys()
        spoilt = {n for n in names if n not in self.desk.part.data and n not in found}
        for name in spoilt if spoilt - {about} else ():
            self.desk.taints.setdefault(name, slip)

    def _turned_wrongly(self, explained: Lifted, i: int, about: str, implied: tuple[float, float, float | None] | None) -> bool:
        """A value found before multiplied by the size of a unit where it should be divided, or the other way about."""
        tree = explained.trees[1]
        truth = self.desk.part.system.base.get(about)
        if explained.unexplained or implied is None or not truth or symbols(tree) != {about}:
            return False
        ratio = value_at(tree, self.desk.part.system.base) / truth
        if not any(math.isclose(r, s, rel_tol=3e-3) for r in (ratio, 1 / ratio if ratio else 0.0) for s in unit_sizes(self.desk.part)):
            return False
        slip = Slip(code="wrong-conversion", family="conversion", line=self.statement.line, symbol=about, typed=self.text[i])
        taint = self.desk.taint(about)
        evidence = self._add(
            Kind.ARITHMETIC,
            i,
            about=about,
            right=False,
            slips=(slip,),
            inherited=(*taint, *(s for o in explained.own for s in o.slips)),
            tainted=bool(taint),
            implied=implied[0],
            implied_raw=implied[1],
        )
        self.desk.wrongs += WRONG_ARITHMETIC
        self._remember(about, implied, i, evidence)
        return True

    def _worked_on(self, i: int, about: str, implied: tuple[float, float, float | None]) -> None:
        """After a right substitution, more numbers are arithmetic: the same value, a value rounded on the way, or a slip."""
        before = self.desk.implied[about]
        if nearly(implied[1], before.raw) or nearly(implied[0], before.si):
            self._add(Kind.ARITHMETIC, i, about=about, implied=implied[0], implied_raw=implied[1], stated=before.evidence.stated)
            return
        rounded = before.raw != 0 and abs(implied[1] / before.raw - 1) < 0.06
        code, family = ("rounded-early", "rounding") if rounded else ("wrong-rearrangement-of-numbers", "arithmetic")
        slip = Slip(code=code, family=family, line=self.statement.line, symbol=about, typed=self.text[i])
        evidence = self._add(
            Kind.ARITHMETIC,
            i,
            about=about,
            right=False,
            slips=(slip,),
            implied=implied[0],
            implied_raw=implied[1],
            stated=before.evidence.stated,
        )
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

    def _left_out(self, explained: Lifted, about: str, i: int) -> Slip | None:
        """`nλ = d sin θ`, then `sin θ = λ/d` where n is 2: a number of things left out of a relationship stated rightly before."""
        part, (left, right) = self.desk.part, explained.trees
        if explained.unexplained or not self.desk.stated or self.desk.taint(about):
            return None
        for name in sorted(part.data.keys() - symbols(left) - symbols(right) - part.angles):
            count = Symbol(name=name, known=True)
            if any(part.dimensions.get(name) or (1,)) or part.data[name].unit is not None:
                continue
            for whole in (Product(factors=(right, count)), Quotient(over=right, under=count)):
                shown = part.system.support((left, whole))
                if shown and shown & self.desk.stated:
                    line = self.statement.line
                    return Slip(code="factor-left-out", family="copying", line=line, symbol=name, typed=self.text[i], expected=name)
        return None

    def _wrong_slip(self, about: str, i: int, explained: Lifted) -> Slip:
        taint = self.desk.taint(about)
        if taint:
            return taint[0]
        code = "wrong-relationship"
        if self._settled(about, explained) and not explained.unexplained:
            return Slip(
                code="wrong-rearrangement-of-numbers", family="arithmetic", line=self.statement.line, symbol=about, typed=self.text[i]
            )
        return Slip(code=code, family="relationship", line=self.statement.line, symbol=about, typed=self.text[i])

    def _settled(self, about: str, explained: Lifted | None = None) -> bool:
        """All data are already in a right substitution for this quantity: what follows is arithmetic, unless it brings other data in."""
        held = self.desk.implied.get(about)
        if held is None or held.evidence.tainted:
            return False
        if held.evidence.kind is not Kind.ARITHMETIC and (not held.evidence.right or held.evidence.slips):
            return False
        before = held.evidence.stated
        if before is None or explained is None:
            return True
        brought = frozenset().union(*map(symbols, explained.trees)) & self.desk.part.data.keys()
        return brought <= symbols(before[0]) | symbols(before[1])


def _apart(equation: Equation) -> Equation:
    """`0 = 13.9² + 2a × 24` with its first term on one side and the rest on the other, so that neither is nought."""
    for zero, total in (equation, equation[::-1]):
        if isinstance(zero, Number) and zero.value == 0 and isinstance(total, Sum):
            first, rest = total.terms[0], total.terms[1:]
            return first, Negative(inner=rest[0] if len(rest) == 1 else Sum(terms=rest))
    return equation
