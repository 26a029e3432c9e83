"""What a gradient is used for: the quantity wanted, its relationship with the gradient, its accepted range."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from marker.expression import Dimensions, Expr, Symbol
from marker.kinds.gradient.axes import Axis
from marker.kinds.gradient.spec import GradientSpec, Then
from marker.kinds.scheme_quantities import SchemeQuantity, UnitOf, expression, quantity, refuse, relationship, unit_of
from marker.kinds.typed_numbers import letters
from marker.physics.algebra import NotSolved, from_sympy, solve_for, to_sympy
from marker.physics.evaluate import Unknown, Value, evaluate
from marker.physics.graphs import Linearised, linearise
from marker.physics.regression import StraightLine
from marker.reading.model import SymbolEntry, SymbolTable

GRADIENT = "gradient"
INTERCEPT = "intercept"
GRADIENT_WORDS = ("gradient", "slope", "grad", "gradient of the line", "gradient of the graph", "slope of the line")
INTERCEPT_WORDS = ("intercept", "y-intercept")
NO_SHEET: Mapping[str, Sequence[str]] = MappingProxyType({})
Range = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """The quantity found from the gradient: its letter, its relationship solved for it, the accepted range in SI."""

    symbol: str
    names: tuple[str, ...]
    unit: UnitOf
    equation: tuple[Expr, Expr]
    tree: Expr
    given: Mapping[str, Value]
    within: Range

    def from_line(self, gradient: Value, intercept: Value) -> Value | None:
        """Its value for a gradient and an intercept; None where there is none."""
        try:
            return evaluate(self.tree, {**self.given, GRADIENT: gradient, INTERCEPT: intercept})
        except Unknown:
            return None


def with_sheet(spec: GradientSpec, sheet: Mapping[str, Sequence[str]]) -> GradientSpec:
    """The part with the constants its relationship takes from the data sheet among its data."""
    if spec.then is None or not sheet:
        return spec
    own = {spec.then.find, spec.table.x.symbol, spec.table.y.symbol, GRADIENT, INTERCEPT, *spec.given, *spec.then.given}
    table = SymbolTable(tuple(SymbolEntry(name=n) for n in dict.fromkeys((*own, *sheet))))
    left, right = relationship(spec.then.from_ or spec.then.law, table, f"part {spec.name}, then")
    taken = {n: sheet[n][0] for n in sheet if n in letters(left) | letters(right) and n not in own}
    return spec.model_copy(update={"given": {**taken, **spec.given}}) if taken else spec


def wanted_from(spec: GradientSpec, then: Then, table: SymbolTable, line: StraightLine, x: Axis, y: Axis) -> Wanted:
    """The wanted quantity with its value from the best line checked against the range typed. Raises SchemeError."""
    where = f"part {spec.name}, then"
    equation = _equation(then, table, x, y, where)
    given = {n: q.value for n, q in further_data(spec).items()}
    used = letters(equation[0]) | letters(equation[1])
    needed = used - {then.find, GRADIENT, INTERCEPT, *given}
    if needed or then.find not in used:
        seen = f"{then.from_ or then.law!r}" + (f" with {', '.join(sorted(needed))} not given" if needed else f" without {then.find}")
        mend = "Put what is missing into given, or use only gradient and intercept."
        refuse(f"{where}.from", seen, f"{then.find} from the gradient", mend)
    tree = _solved(equation, then.find, f"{where}.from")
    unit = unit_of(then.unit, f"{where}.unit")
    gradient = Value(line.gradient * y.unit.scale / x.unit.scale, line.gradient, _minus(y.unit.dimensions, x.unit.dimensions))
    intercept = Value(line.intercept * y.unit.scale, line.intercept, y.unit.dimensions)
    draft = Wanted(symbol=then.find, names=tuple(then.names), unit=unit, equation=equation, tree=tree, given=given, within=(0.0, 0.0))
    value = draft.from_line(gradient, intercept)
    if value is None or not math.isfinite(value.si):
        refuse(f"{where}.from", repr(then.from_ or then.law), "a value for this table")
    return replace(draft, within=_within(spec, then, value.si, unit, where))


def _within(spec: GradientSpec, then: Then, si: float, unit: UnitOf, where: str) -> Range:
    """The accepted range in SI."""
    typed = si / unit.scale
    within = range_of(then.within, typed, spec.tolerance * abs(typed), unit.scale, f"{where}.within")
    low, high = within[0] * unit.scale, within[1] * unit.scale
    if then.within is not None and not low <= si <= high:
        seen = f"{' to '.join(then.within)}, but the table gives {typed:.3g} {unit.text}".rstrip()
        refuse(f"{where}.within", seen, "a range that holds the value", "Check the range, the relationship and the units.")
    return low, high


def _equation(then: Then, table: SymbolTable, x: Axis, y: Axis, where: str) -> tuple[Expr, Expr]:
    """The relationship of the wanted quantity with the gradient: as typed, or from the law the readings obey."""
    if then.from_:
        return relationship(then.from_, table, f"{where}.from")
    if not then.law:
        refuse(where, "neither from nor law", f"{then.find} from the gradient", f'Write from = "{then.find} = …" with gradient in it.')
    axes = [_axis_expression(a, where) for a in (y, x)]
    names = sorted({n for e in axes for n in letters(e)} | {e.name for e in table.entries})
    law = relationship(then.law, SymbolTable(tuple(SymbolEntry(name=n) for n in names)), f"{where}.law")
    line = _straight(law, axes[0], axes[1])
    if line is None:
        mend = f"Check the law and the axes: {y.symbol} against {x.symbol}."
        refuse(f"{where}.law", repr(then.law), "a law that these axes make a straight line", mend)
    for name, value in ((GRADIENT, line.gradient), (INTERCEPT, line.intercept)):
        if then.find in {str(s) for s in value.free_symbols}:
            return Symbol(name=name, known=True), from_sympy(value)
    refuse(f"{where}.law", repr(then.law), f"a law whose gradient or intercept has {then.find} in it")


def _straight(law: tuple[Expr, Expr], vertical: Expr, horizontal: Expr) -> Linearised | None:
    """The line a law makes on the axes, every letter taken as positive."""
    import sympy

    forms: list[Any] = [to_sympy(e) for e in (*law, vertical, horizontal)]
    positive = {s: sympy.Symbol(s.name, positive=True) for form in forms for s in form.free_symbols}
    try:
        return linearise(*(form.subs(positive) for form in forms))
    except (NotImplementedError, TypeError, ValueError):
        return None


def _axis_expression(axis: Axis, where: str) -> Expr:
    return expression(axis.symbol, SymbolTable(), f"{where}, the axis {axis.symbol}")


def axis_letters(*axes: Axis) -> frozenset[str]:
    """The letters in what is plotted: T for an axis of T^2."""
    return frozenset(n for axis in axes for n in letters(_axis_expression(axis, "table")))


def _minus(a: Dimensions, b: Dimensions) -> Dimensions:
    return tuple(p - q for p, q in zip(a, b, strict=True))  # type: ignore[return-value]


def _solved(equation: tuple[Expr, Expr], name: str, where: str) -> Expr:
    left, right = equation
    if isinstance(left, Symbol) and left.name == name and name not in letters(right):
        return right
    try:
        return solve_for(equation, name)[0]
    except NotSolved:
        refuse(where, "a relationship that cannot be solved", expected=f"{name} = …", mend=f"Write it as {name} = …")


def range_of(typed: list[str] | None, value: float, reach: float, scale: float, where: str) -> Range:
    """An accepted range in the table's units: the one typed, else the value ± reach."""
    if typed is None:
        return (value - reach, value + reach)
    ends = sorted(_end(t, scale, where) for t in typed)
    return (ends[0], ends[1])


def _end(text: str, scale: float, where: str) -> float:
    end = quantity(text, where)
    return end.raw if not end.unit else end.si / scale


def further_data(spec: GradientSpec) -> dict[str, SchemeQuantity]:
    """Further data, from the part and from `then`."""
    texts = {**spec.given, **(spec.then.given if spec.then is not None else {})}
    return {n: quantity(t, f"part {spec.name}, given.{n}") for n, t in texts.items()}
