"""Tracing numbers of a statement back to symbols, and telling what an expression stands for."""

from __future__ import annotations

import math
from collections.abc import Sequence

from marker.expression import Expr, Number, Quotient, Symbol, put, symbols
from marker.judging.bench import (
    Bench,
)
from marker.judging.leaves import is_numeric, is_value, template, value_parts
from marker.judging.lifting import Lifted, near
from marker.judging.sources import is_other_g
from marker.physics.evaluate import same_dimensions, value_at
from marker.physics.system import Equation


class Tracing(Bench):
    """Tracing numbers of a statement back to symbols, and telling what an expression stands for."""

    __slots__ = ()

    def _lift(self, equation: Equation, *, plain_only: bool, factors: Sequence[float] = (1.0,), printed: bool = False) -> Lifted | None:
        sides = [template(equation[0]), template(equation[1], 20)]

        def accept(values: Sequence[Sequence[float]]) -> str | None:
            return "=" if any(near(values[0], values[1], f) for f in factors) else None

        def as_it_stands(values: Sequence[Sequence[float]]) -> str | None:
            return "=" if near(values[0], values[1]) else None

        lifter, line, dearer = self._lifter_now(), self.statement.line, None
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

    def _in_printed_units(self, equation: Equation) -> list[Equation]:
        """The equation with its open letters in the unit the data are printed in: 1/12.5 = 1/18.0 + 1/v with v in cm too."""
        part = self.desk.part
        if is_numeric(equation[0]) and is_numeric(equation[1]):
            return []
        names = (symbols(equation[0]) | symbols(equation[1])) - part.data.keys() - {"π"}
        out = []
        for scale in sorted(
            {s for n in names for s in self._data_scales(n) if s < 1} | {s for n in names for s in self._data_scales(n) if s > 1}
        ):
            one = Number(text=f"{scale:g}", value=scale)
            turn: dict[str, Expr] = {
                n: Quotient(over=Symbol(name=n, known=True), under=one) for n in names if scale in self._data_scales(n)
            }
            out.append((put(equation[0], turn), put(equation[1], turn)))
        return out

    def _factors(self, i: int, about: str) -> tuple[float, ...]:
        """1, and the scale of the unit that a later side of the chain gives the result (V/mA = kΩ)."""
        values = [s for s in self.reading.sides[i + 1 : self.end] if is_value(s)]
        return (*self._unit_factors(values[-1] if values else None), *self._data_scales(about))

    def _data_factors(self, about: str) -> tuple[float, ...]:
        return (1.0, *self._data_scales(about))

    def _sought(self) -> tuple[str, ...]:
        """Quantities that are found, not given: what is asked first, then those on the way."""
        part = self.desk.part
        goals = [g.find for g in part.goals]
        return (*goals, *(n for n in part.system.base if n not in part.data and n not in goals and n not in part.free))

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
        out: dict[str, Expr] = {name: Symbol(name=name, known=True) for name in self._sought()}
        for name in self._sought():
            for label, tree in functions_of(name, name in part.angles):
                out[label] = tree
        return out

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
        scaled = (put(tree, {name: Quotient(over=open_letter, under=Number(text=f"{s:g}", value=s))}) for s in self._data_scales(name))
        return tuple(v for v in map(self._own_value, scaled) if v is not None)

    def _data_letters(self, equation: Equation, i: int) -> bool:
        """Letters of data still to be replaced by numbers, as typed: a letter given by numbers before counts as replaced."""
        part = self.desk.part
        quantities = self.desk.letters.quantities
        typed = symbols(equation[0]) | {quantities.get(n, n) for n in symbols(self.reading.sides[i])}
        names = typed & (symbols(equation[0]) | symbols(equation[1]))
        lone = {s.name for s in equation if isinstance(s, Symbol)}
        return any(n in part.data and not part.data[n].constant and n not in lone for n in names)


def functions_of(name: str, angle: bool) -> list[tuple[str, Expr]]:
    """Simple functions of a quantity that working passes through: v², 1/R, sin θ."""
    from marker.expression import Call, Power, Quotient

    letter = Symbol(name=name, known=True)
    one, two = Number(text="1", value=1.0), Number(text="2", value=2.0)
    if angle:
        return [(f"{f} {name}", Call(function=f, inner=letter)) for f in ("sin", "cos", "tan")]
    return [
        (f"{name}^2", Power(base=letter, exponent=two)),
        (f"1/{name}", Quotient(over=one, under=letter)),
    ]
