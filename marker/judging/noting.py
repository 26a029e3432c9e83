"""Writing down what a statement was found to be: evidence, and what follows from it for the lines after."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from marker.expression import Call, Expr, Number, Power, Product, Quotient, Root, Sum, Symbol, children, put, symbols, walk
from marker.judging.bench import (
    WRONG_ARITHMETIC,
    WRONG_RELATIONSHIP,
    key_of,
    uses_of,
)
from marker.judging.confirm import confirmed
from marker.judging.desk import Implied
from marker.judging.given import datum_twice
from marker.judging.inplace import shown_but_for_a_piece
from marker.judging.leaves import Template, is_numeric, template
from marker.judging.lifting import Lifted
from marker.judging.model import Evidence, Kind, Slip
from marker.judging.origins import OwnNumber
from marker.judging.tracing import Tracing
from marker.judging.values import implied_by
from marker.physics.evaluate import DEGREE, value_at
from marker.physics.system import Equation

NO_VALUE = (math.nan, math.nan, None)  # what wrong numbers come to that leave the quantity no value, such as sin θ = 4.2


class Noting(Tracing):
    """Writing down what a statement was found to be: evidence, and what follows from it for the lines after."""

    __slots__ = ()

    def _note_true(self, equation: Equation, lifted: Lifted, i: int) -> None:
        trees = (lifted.trees[0], lifted.trees[1])
        shown = self._not_through_a_wrong_one(trees, self.desk.part.system.support(trees) or frozenset())
        about = self._about(equation)
        symbolic = lifted.traced == 0
        kind = Kind.RELATIONSHIP if symbolic or self._data_letters(equation, i) else Kind.SUBSTITUTION
        if not shown:
            self._add(Kind.DATUM, i, about=about, stated=trees)
            return
        if symbolic and confirmed(self.desk.part, trees) is False:
            self._add(Kind.UNKNOWN, i, about=about, stated=trees, note="the probes and SymPy do not agree on this line")
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
            uses=uses_of(lifted),
            found=lifted.found,
            implied=implied[0] if implied else None,
            implied_raw=implied[1] if implied else None,
        )
        if implied is not None:
            self._remember(about, implied, i, evidence)

    def _not_through_a_wrong_one(self, trees: Equation, shown: frozenset[int]) -> frozenset[int]:
        """Relationships shown; none where several are shown by way of a quantity that the candidate has just related wrongly."""
        spoilt = (symbols(trees[0]) | symbols(trees[1])) & self.desk.taints.keys() - self.desk.part.data.keys()
        return frozenset() if len(shown) > 1 and spoilt else shown

    def _note_substitution(
        self, equation: Equation, lifted: Lifted, i: int, about: str, implied: tuple[float, float, float | None] | None
    ) -> None:
        trees = (lifted.trees[0], lifted.trees[1])
        shown = self._shown_but_for_a_unit(trees, about, i)
        lifted = self._difference_slip(lifted, shown)
        taint = self.desk.taint(about)
        numbers = is_numeric(equation[0]) or is_numeric(equation[1])
        kind = Kind.SUBSTITUTION if numbers or not self._data_letters(equation, i) else Kind.RELATIONSHIP
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
            uses=uses_of(lifted),
            found=lifted.found,
            tainted=bool(taint),
            implied=implied[0] if implied else None,
            implied_raw=implied[1] if implied else None,
        )
        self.desk.wrongs += WRONG_ARITHMETIC * len(lifted.slips) * 0.9
        self._keep_pieces(equation, lifted)
        if implied is not None and about:
            self._remember(about, implied, i, evidence)
        elif evidence.slips and shown and not isinstance(equation[0], Symbol):
            self._remember(about, NO_VALUE, i, evidence)
        if not isinstance(equation[0], Symbol) and not is_numeric(equation[0]) and is_numeric(equation[1]):
            side = implied_by(self.desk.part, (Symbol(name="#", known=True), equation[1]), "#")
            if side is not None:
                self._remember(key_of(equation[0]), side, i, evidence)

    def _shown_but_for_a_unit(self, trees: Equation, about: str, i: int) -> frozenset[int]:
        """Relationships that numbers put back to letters show, the result in whatever unit the data are printed in."""
        for factor in dict.fromkeys((1.0, *self._factors(i, about))):
            scaled = trees[0] if factor == 1.0 else Product(factors=(Number(text="", value=1 / factor), trees[0]))
            shown = self.desk.part.system.support((scaled, trees[1]))
            if shown:
                return shown
        return frozenset()

    def _keep_pieces(self, equation: Equation, lifted: Lifted) -> None:
        """Remembers what pieces of the numbers come to, for a next side in which some of them are worked out."""
        for side, tree, first in zip(equation, lifted.trees, (0, 20), strict=False):
            made = template(side, first)
            if len(made.leaves) < 2:
                continue
            si, raw = ({leaf.name: v for leaf, v in zip(made.leaves, values, strict=True)} for values in _values(made))
            for piece, meant in _pieces(made.tree, tree):
                values = value_at(piece, {**si, "°": DEGREE}), value_at(piece, {**raw, "°": DEGREE})
                if all(map(math.isfinite, values)) and values[1]:
                    slips, line = lifted.slips, self.statement.line
                    own = OwnNumber(stands_for=meant, si=values[0], raw=values[1], half=0.0, line=line, slips=slips, right=not slips)
                    self.desk.pieces.append(own)

    def _difference_slip(self, lifted: Lifted, shown: frozenset[int]) -> Lifted:
        """273 added to one temperature of a difference: a wrong value put in, not a conversion left out."""
        part = self.desk.part
        offset = {s for s, d in part.data.items() if d.unit is not None and d.unit.offset}
        if not any(s.code == "unconverted" and s.symbol in offset for s in lifted.slips):
            return lifted
        shift: dict[str, Expr] = {n: Sum(terms=(Symbol(name=n, known=True), Number(text="10", value=10.0))) for n in offset}
        for r in shown:
            relation = part.system.relations[r]
            if len(relation.letters & offset) > 1 and part.system.holds((put(relation.left, shift), put(relation.right, shift))):
                misread = tuple(s for s in lifted.slips if s.code != "unconverted" or s.symbol not in offset)
                if any(s.symbol in offset for s in misread):  # 69 − 14 for 96 − 14: the other is in degrees Celsius, as it should be
                    return replace(lifted, slips=misread)
                added = (replace(s, code="kelvin-added-to-difference", family="copying") for s in lifted.slips if s.symbol in offset)
                return replace(lifted, slips=(*added, *(s for s in misread if s.symbol not in offset)))
        return lifted

    def _true_in_data(self, equation: Equation, i: int) -> bool:
        """An equation of open letters and worked-out numbers that follows from the relationships with the data in."""
        part = self.desk.part
        open_to = (symbols(equation[0]) | symbols(equation[1])) - part.data.keys() - {"π"}
        numbers = [n for side in equation for n in template(side).leaves]
        mixed = any(not is_numeric(side) and template(side).leaves and not isinstance(side, Symbol) for side in equation)
        if not mixed or not numbers or not open_to or not open_to <= part.system.base.keys():
            return False
        shown = part.system.support_in_data(equation)
        if not shown or any(datum_twice(part, side) for side in equation):
            return False
        about = self._about(equation)
        implied = implied_by(part, equation, about) if about in part.system.base else None
        note = "agrees with the data put in"
        if implied is None:
            self._add(Kind.SUBSTITUTION, i, about=about, relations=shown, note=note)
            return True
        evidence = self._add(Kind.SUBSTITUTION, i, about=about, relations=shown, implied=implied[0], implied_raw=implied[1], note=note)
        self._remember(about, implied, i, evidence)
        return True

    def _found_inside(self, lifted: Lifted, i: int, about: str = "") -> None:
        """A relationship shown by a piece of an expression that as a whole is not one: c/f inside (c/f) × 2.

        A piece for the very quantity the expression is about is none: a factor too many makes the relationship a wrong one.
        """
        if lifted.unexplained or lifted.traced < 2:
            return
        for tree in lifted.trees:
            for piece in walk(tree):
                if piece is tree or not isinstance(piece, Sum | Product | Quotient) or len(symbols(piece)) < 2:
                    continue
                quantity = self._same_as(piece)
                if quantity is not None and quantity != about:
                    shown = self.desk.part.system.support((Symbol(name=quantity, known=True), piece))
                    if shown:
                        self._add(Kind.SUBSTITUTION, i, about=quantity, relations=shown)

    def _remember(self, about: str, implied: tuple[float, float, float | None], i: int, evidence: Evidence | None = None) -> None:
        if about:
            held = evidence or self.desk.evidence[-1]
            self.desk.implied[about] = Implied(si=implied[0], raw=implied[1], radians=implied[2], evidence=held)

    def _clear(self, equation: Equation, about: str) -> None:
        """A right statement mends what it alone settles: not an equation that leaves another unknown open beside it."""
        found = {o.symbol for o in self.desk.own if o.right}
        names = (symbols(equation[0]) | symbols(equation[1])) - self.desk.part.data.keys() - {"π"}
        lone = any(isinstance(side, Symbol) and side.name == about for side in equation)
        if lone or not names - found - {about}:
            for name in names if not lone else {about}:
                self.desk.taints.pop(name, None)

    def _tainted_by(self, equation: Equation, about: str) -> tuple[str, ...]:
        if about and about not in self.desk.part.data:
            return (about,)
        held = {o.symbol for o in self.desk.own}
        names = (symbols(equation[0]) | symbols(equation[1])) - self.desk.part.data.keys() - held
        return tuple(sorted(names))

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
        self._sides_named(equation, i)
        self._shown_in_part(equation, about, i, symbolic=True)
        self._add(Kind.RELATIONSHIP, i, about=about, right=False, slips=(slip,), symbolic=True, stated=equation)
        for name in self._tainted_by(equation, about):
            self.desk.taints[name] = slip
        self.desk.wrongs += WRONG_RELATIONSHIP

    def _shown_in_part(self, equation: Equation, about: str, i: int, *, symbolic: bool) -> None:
        """The relationships of several that a wrong statement shows all the same."""
        shown = shown_but_for_a_piece(self.desk.part, equation, about)
        if shown:
            kind = Kind.RELATIONSHIP if symbolic else Kind.SUBSTITUTION
            self._add(kind, i, about=about, relations=shown, symbolic=symbolic, bare=True, stated=equation)

    def _sides_named(self, equation: Equation, i: int) -> None:
        """`mgh = ½mv²` where work against friction is left out: wrong, and the one side is the potential energy all the same."""
        if any(isinstance(side, Symbol) for side in equation) or i > 1 or not self.desk.part.data:
            return
        for side in equation:
            quantity = self._same_as(side) if len(symbols(side)) > 1 else None
            if quantity is not None:
                meant = (Symbol(name=quantity, known=True), side)
                shown = self.desk.part.system.support(meant) or frozenset()
                if len(shown) == 1:
                    self._add(Kind.RELATIONSHIP, i, about=quantity, relations=shown, symbolic=True, bare=True, stated=meant)


def _values(made: Template) -> tuple[list[float], list[float]]:
    """The numbers of a template in SI, and as typed (an angle in radians in both)."""
    return [leaf.si for leaf in made.leaves], [leaf.si if leaf.angle else leaf.raw for leaf in made.leaves]


def _pieces(tree: Expr, meant: Expr) -> Iterator[tuple[Expr, Expr]]:
    """Pieces of a template with what each stands for, the whole left out."""
    for part, other in zip(children(tree), children(meant), strict=False):
        if isinstance(part, Call | Power | Sum | Quotient | Product | Root) and symbols(part):
            yield part, other
            yield from _pieces(part, other)
