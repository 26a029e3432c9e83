"""Tracing numbers of a statement back to symbols, and telling what an expression stands for."""

from __future__ import annotations

import math
from collections.abc import Sequence

from marker.expression import Expr, Number, Quotient, Sum, Symbol, Unit, put, symbols
from marker.judging.bench import Bench
from marker.judging.given import is_other_g
from marker.judging.leaves import is_numeric, is_value, template, value_parts
from marker.judging.lifting import Lifted, Lifter, lifter_of, near
from marker.judging.origins import constant
from marker.judging.sought import data_offsets, data_scales, targets
from marker.physics.evaluate import same_dimensions, value_at
from marker.physics.system import Equation


class Tracing(Bench):
    """Tracing numbers of a statement back to symbols, and telling what an expression stands for."""

    __slots__ = ()

    def _lift(self, equation: Equation, *, plain_only: bool, factors: Sequence[float] = (1.0,), printed: bool = False) -> Lifted | None:
        """Both sides with their numbers traced, where that makes a consequence of the relationships; None where nothing does.

        factors  by which the sides may differ;  printed  open letters may be in the units of the data. Asked again of the same
        equation by one who knows the same, here or in another response, the answer is the one given before.
        """
        lifter = self._lifter_now()
        key = (equation, plain_only, tuple(factors), printed, 0 if plain_only else self.statement.line)
        if key not in lifter.traced:
            lifter.traced[key] = self._lift_anew(lifter, equation, plain_only, factors, printed)
        return lifter.traced[key]

    def _lift_anew(self, lifter: Lifter, equation: Equation, plain_only: bool, factors: Sequence[float], printed: bool) -> Lifted | None:
        sides = [template(equation[0]), template(equation[1], 20)]

        def accept(values: Sequence[Sequence[float]]) -> str | None:
            return "=" if any([near(values[0], values[1], f) for f in factors]) else None

        def as_it_stands(values: Sequence[Sequence[float]]) -> str | None:
            return "=" if near(values[0], values[1]) else None

        line, dearer = self.statement.line, None
        if printed or not plain_only:
            for scaled in self._in_printed_units(equation):
                templates = [template(scaled[0]), template(scaled[1], 20)]
                found = lifter.lift(templates, as_it_stands, line, faults=False)
                if found is not None and found.cost < 1:
                    return found
                dearer = dearer or found
        if dearer is not None:
            return lifter.lift(sides, accept, line, faults=False) or dearer
        return lifter.lift(sides, accept, line, faults=not plain_only)

    def _lift_from_others(self, equation: Equation, about: str, factors: Sequence[float]) -> Lifted | None:
        """The same without own values of the quantity worked out: a product under `E =` is h c, and not the E found before times λ."""
        others = [o for o in self.desk.own if about not in {o.symbol, *symbols(o.stands_for)}]
        lifter = lifter_of(self.desk.part, tuple(others), self.desk.foreign, tuple(self.desk.pieces))
        return self._lift_anew(lifter, equation, plain_only=True, factors=factors, printed=True)

    def _in_printed_units(self, equation: Equation) -> list[Equation]:
        """The equation with its open letters in the unit the data are printed in: 1/12.5 = 1/18.0 + 1/v with v in cm too."""
        part = self.desk.part
        if is_numeric(equation[0]) and is_numeric(equation[1]):
            return []
        names = (symbols(equation[0]) | symbols(equation[1])) - part.data.keys() - {"π"}
        out = []
        for scale in sorted({s for n in names for s in self._scales(n)}):
            turned = [n for n in names if scale in self._scales(n)]
            turn: dict[str, Expr] = {n: Quotient(over=Symbol(name=n, known=True), under=constant(scale)) for n in turned}
            out.append((put(equation[0], turn), put(equation[1], turn)))
        for offset in sorted({o for n in names for o in data_offsets(part, n)}):
            turned = [n for n in names if offset in data_offsets(part, n)]
            turn = {n: Sum(terms=(Symbol(name=n, known=True), constant(-offset))) for n in turned}
            out.append((put(equation[0], turn), put(equation[1], turn)))
        return out

    def _scales(self, about: str) -> tuple[float, ...]:
        """Scales of units of a quantity's kind that its data are given in or that the candidate has written own values in."""
        part = self.desk.part
        dims = part.dimensions.get(about)
        scales = {o.scale for o in self.desk.own if o.scale != 1.0}
        if not scales or dims is None or not any(dims[:7]):
            return data_scales(part, about)
        written = {o.scale for o in self.desk.own if o.scale != 1.0 and same_dimensions(part.dimensions.get(o.symbol), dims)}
        return tuple(dict.fromkeys((*data_scales(part, about), *(f for s in sorted(written) for f in (s, 1 / s)))))

    def _factors(self, i: int, about: str) -> tuple[float, ...]:
        """1, and the scale of the unit that a later side of the chain gives the result (V/mA = kΩ)."""
        values = [s for s in self.reading.sides[i + 1 : self.end] if is_value(s)]
        if not values and self.ahead is not None and is_value(self.ahead) and i == len(self.reading.sides) - 1:
            values = [self.ahead]
        return (*self._unit_factors(values[-1] if values else None), *self._scales(about))

    def _data_factors(self, about: str) -> tuple[float, ...]:
        return (1.0, *self._scales(about))

    def _unit_factors(self, value: Expr | None) -> tuple[float, ...]:
        unit = _unit_of(value)
        return (1.0, unit.scale) if unit is not None and unit.scale != 1.0 else (1.0,)

    def _what_is(self, side: Expr, i: int, value: Expr | None) -> tuple[Expr | None, Lifted]:
        """The quantity, or simple function of the quantity sought, that a numeric expression stands for."""
        lifter, line = self._lifter_now(), self.statement.line
        key = (side, value, line)
        if key not in lifter.told:
            lifter.told[key] = self._what_it_is(lifter, side, value)
        return lifter.told[key]

    def _what_it_is(self, lifter: Lifter, side: Expr, value: Expr | None) -> tuple[Expr | None, Lifted]:
        part = self.desk.part
        tree = template(side)
        open_to = targets(part)
        goals = [g.find for g in part.goals]
        unit = _unit_of(value)
        percent = unit is not None and unit.name == "%"  # no one gives a reciprocal of an efficiency in per cent
        factors = (*self._unit_factors(value), *(f for g in goals for f in data_scales(part, g)))

        def accept(values: Sequence[Sequence[float]]) -> str | None:
            return next((t.name for t in open_to if t.met_by(values[0], factors) and not (percent and t.name.startswith("1/"))), None)

        found = lifter.lift([tree], accept, self.statement.line, faults=False)
        explained = lifter.explain([tree])
        if found is None and (explained.unexplained or value is not None):
            found = lifter.lift([tree], accept, self.statement.line, faults=True)
            if found is not None and found.cost > 4.5 and not explained.unexplained and not self._in_the_unit_of(found.target, value):
                found = None
        if found is not None and (found.traced or len(tree.leaves) == 1):
            return next(t.tree for t in open_to if t.name == found.target), found
        return None, explained

    def _in_the_unit_of(self, name: str, value: Expr | None) -> bool:
        """The value is written in a unit that only the quantity asked for here is measured in."""
        unit = _unit_of(value)
        dims = self.desk.part.dimensions
        if unit is None or not any(g.find == name for g in self.desk.part.goals):
            return False
        return [n for n, d in dims.items() if d is not None and same_dimensions(d, unit.dimensions)] == [name]

    def _has_data(self, tree: Expr) -> bool:
        made = template(tree)
        lifted = self._lifter_now().explain([made])
        return bool(lifted.traced or lifted.unexplained) or any(is_other_g(self.desk.part, leaf) for leaf in made.leaves)

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

    def _own_value_as_printed(self, tree: Expr, name: str) -> tuple[float, ...]:
        """The values of an expression with one open letter in the units the data are printed in: 1/v with v in cm."""
        open_letter = Symbol(name=name, known=True)
        scales = data_scales(self.desk.part, name)
        scaled = (put(tree, {name: Quotient(over=open_letter, under=Number(text=f"{s:g}", value=s))}) for s in scales)
        return tuple(v for v in map(self._own_value, scaled) if v is not None)

    def _data_letters(self, equation: Equation, i: int) -> bool:
        """Letters of data still to be replaced by numbers, as typed: a letter given by numbers before counts as replaced."""
        part = self.desk.part
        quantities = self.desk.letters.quantities
        worked = any(is_numeric(side) and not is_value(side) for side in self.reading.sides[1:i])  # pV = 9.4 × 3.6 = 34 = n × 8.31 × T
        typed = (frozenset[str]() if worked else symbols(equation[0])) | {quantities.get(n, n) for n in symbols(self.reading.sides[i])}
        names = typed & (symbols(equation[0]) | symbols(equation[1]))
        lone = {s.name for s in equation if isinstance(s, Symbol)}
        return any(n in part.data and not part.data[n].constant and n not in lone for n in names)


def _unit_of(value: Expr | None) -> Unit | None:
    """The unit a value is written with; None without one, or where there is no value."""
    return None if value is None else value_parts(value)[1]
