"""A gradient part made ready: the line through the table, its accepted ranges, and what the gradient is used for."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from marker.expression import Dimensions, Expr, Symbol
from marker.kinds.entries import Letter, symbol_table
from marker.kinds.gradient.axes import Axis, axis_of
from marker.kinds.gradient.spec import GradientSpec, PointKind, Then
from marker.kinds.marking import question_of
from marker.kinds.meant import Units
from marker.kinds.scheme_quantities import SchemeQuantity, UnitOf, quantity, refuse, relationship, unit_of
from marker.kinds.typed_numbers import letters
from marker.physics.algebra import NotSolved, solve_for
from marker.physics.evaluate import Unknown, Value, evaluate
from marker.physics.graphs import through_the_origin
from marker.physics.regression import StraightLine, least_squares, outliers
from marker.physics.rounding import significant_figures
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.convention import Convention

GRADIENT = "gradient"
INTERCEPT = "intercept"
GRADIENT_WORDS = ("gradient", "slope", "grad", "gradient of the line", "gradient of the graph", "slope of the line")
INTERCEPT_WORDS = ("intercept", "y-intercept")
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


@dataclass(frozen=True, slots=True, kw_only=True)
class GradientPart:
    """What marking needs. Gradient and intercept ranges are in the table's units."""

    spec: GradientSpec
    convention: Convention
    x: Axis
    y: Axis
    line: StraightLine
    through_origin: bool
    gradient_range: Range
    intercept_range: Range
    wanted: Wanted | None
    figures: int
    table: SymbolTable
    points: tuple[tuple[PointKind, int], ...]
    notes: tuple[str, ...]

    @property
    def question(self) -> str:
        return question_of(self.spec)

    @property
    def scale(self) -> float:
        """SI value of one unit of gradient of the table (one mm/N)."""
        return self.y.unit.scale / self.x.unit.scale

    @property
    def dimensions(self) -> Dimensions:
        over, under = self.y.unit.dimensions, self.x.unit.dimensions
        return tuple(a - b for a, b in zip(over, under, strict=True))  # type: ignore[return-value]

    @property
    def units(self) -> Units:
        """The kinds of unit the part is about."""
        wanted = (self.wanted.unit.dimensions,) if self.wanted is not None else ()
        return frozenset((self.x.unit.dimensions, self.y.unit.dimensions, self.dimensions, *wanted))

    def gradient_value(self, raw: float) -> Value:
        """A gradient in the table's units as a value."""
        return Value(raw * self.scale, raw, self.dimensions)

    def intercept_value(self, raw: float) -> Value:
        return Value(raw * self.y.unit.scale, raw, self.y.unit.dimensions)


def compile_gradient(spec: GradientSpec, convention: Convention) -> GradientPart:
    """The part made ready. Raises SchemeError naming the key and the mend."""
    ruled = convention.with_rulings(spec.rulings)
    where = f"part {spec.name}"
    x, y = axis_of(spec.table.x, f"{where}, table.x"), axis_of(spec.table.y, f"{where}, table.y")
    if len(x.values) != len(y.values):
        seen = f"{len(x.values)} values of x and {len(y.values)} of y"
        refuse(f"{where}, table", seen, expected="as many of each", mend="Complete the table.")
    line, left_out = _line(spec, x, y, where)
    origin = through_the_origin(line, max(y.reach, spec.line_tolerance * y.span))
    scale = y.unit.scale / x.unit.scale
    symbols = _symbols(spec, x, y)
    gradient_range = _range(spec.gradient_within, line.gradient, spec.tolerance * abs(line.gradient), scale, f"{where}, gradient_within")
    intercept_range = _range(spec.intercept_within, line.intercept, spec.tolerance * y.span, y.unit.scale, f"{where}, intercept_within")
    wanted = None
    if spec.then is not None:
        wanted = _wanted(spec, spec.then, symbols, line, x, y, f"{where}, then")
    notes = tuple(f"The line passes by the reading at {x.symbol} = {x.values[i]:g} {x.unit.text}".rstrip() + "." for i in left_out)
    return GradientPart(
        spec=spec,
        convention=ruled,
        x=x,
        y=y,
        line=line,
        through_origin=origin,
        gradient_range=gradient_range,
        intercept_range=intercept_range,
        wanted=wanted,
        figures=spec.figures or _least_figures(spec),
        table=symbols,
        points=_points(spec, where),
        notes=notes,
    )


def _line(spec: GradientSpec, x: Axis, y: Axis, where: str) -> tuple[StraightLine, tuple[int, ...]]:
    """The least squares line and the places of the readings it passes by."""
    if spec.leave_out is None:
        left_out = outliers(x.values, y.values, floor=max(y.reach, spec.line_tolerance * y.span))
    else:
        left_out = tuple(i - 1 for i in spec.leave_out)
    kept = [i for i in range(len(x.values)) if i not in left_out]
    try:
        return least_squares([x.values[i] for i in kept], [y.values[i] for i in kept]), left_out
    except ValueError as error:
        refuse(f"{where}, table", str(error), mend="Give at least two readings with different x.")


def _range(typed: list[str] | None, value: float, reach: float, scale: float, where: str) -> Range:
    """An accepted range in the table's units: the one typed, else the value ± reach."""
    if typed is None:
        return (value - reach, value + reach)
    ends = sorted(_end(t, scale, where) for t in typed)
    return (ends[0], ends[1])


def _end(text: str, scale: float, where: str) -> float:
    end = quantity(text, where)
    return end.raw if not end.unit else end.si / scale


def _given(spec: GradientSpec) -> dict[str, SchemeQuantity]:
    """Further data, from the part and from `then`."""
    texts = {**spec.given, **(spec.then.given if spec.then is not None else {})}
    return {n: quantity(t, f"part {spec.name}, given.{n}") for n, t in texts.items()}


def _symbols(spec: GradientSpec, x: Axis, y: Axis) -> SymbolTable:
    letters = []
    if spec.then is not None:
        unit = unit_of(spec.then.unit, f"part {spec.name}, then.unit")
        letters.append(Letter(symbol=spec.then.find, words=spec.then.names, unit=unit.text, dimensions=unit.dimensions))
    for axis in (x, y):
        words = (axis.name,) if axis.name else ()
        letters.append(Letter(symbol=axis.symbol, words=words, unit=axis.unit.text, dimensions=axis.unit.dimensions))
    letters += [Letter(symbol=n, unit=q.unit, dimensions=q.dimensions) for n, q in _given(spec).items()]
    further = [SymbolEntry(name=f"Δ{a.symbol}", names=(f"change in {a.name}",) if a.name else (), unit=a.unit.text) for a in (x, y)]
    further.append(SymbolEntry(name=GRADIENT, spellings=("grad", "slope"), names=GRADIENT_WORDS))
    further.append(SymbolEntry(name=INTERCEPT, names=INTERCEPT_WORDS))
    return symbol_table(letters, further)


def _wanted(spec: GradientSpec, then: Then, table: SymbolTable, line: StraightLine, x: Axis, y: Axis, where: str) -> Wanted:
    left, right = relationship(then.from_, table, f"{where}.from")
    given = {n: q.value for n, q in _given(spec).items()}
    needed = (letters(left) | letters(right)) - {then.find, GRADIENT, INTERCEPT, *given}
    if needed or then.find not in letters(left) | letters(right):
        seen = f"{then.from_!r}" + (f" with {', '.join(sorted(needed))} not given" if needed else f" without {then.find}")
        mend = "Put what is missing into given, or use only gradient and intercept."
        refuse(f"{where}.from", seen, expected=f"{then.find} from the gradient", mend=mend)
    tree = _solved((left, right), then.find, f"{where}.from")
    unit = unit_of(then.unit, f"{where}.unit")
    gradient = Value(line.gradient * y.unit.scale / x.unit.scale, line.gradient, _minus(y.unit.dimensions, x.unit.dimensions))
    intercept = Value(line.intercept * y.unit.scale, line.intercept, y.unit.dimensions)
    draft = Wanted(symbol=then.find, names=tuple(then.names), unit=unit, equation=(left, right), tree=tree, given=given, within=(0.0, 0.0))
    value = draft.from_line(gradient, intercept)
    if value is None or not math.isfinite(value.si):
        refuse(f"{where}.from", repr(then.from_), expected="a value for this table")
    within = _range(then.within, value.si / unit.scale, spec.tolerance * abs(value.si / unit.scale), unit.scale, f"{where}.within")
    low, high = within[0] * unit.scale, within[1] * unit.scale
    if then.within is not None and not low <= value.si <= high:
        seen = f"{' to '.join(then.within)}, but the table gives {value.si / unit.scale:.3g} {unit.text}".rstrip()
        refuse(f"{where}.within", seen, "a range that holds the value", "Check the range, the relationship and the units.")
    return Wanted(symbol=then.find, names=tuple(then.names), unit=unit, equation=(left, right), tree=tree, given=given, within=(low, high))


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


def _least_figures(spec: GradientSpec) -> int:
    """Figures of the least precise datum: for each number the most it may claim, the least of those."""
    texts = [str(v) for v in (*spec.table.x.values, *spec.table.y.values) if float(v)]
    texts += [_figures_text(q) for q in _given(spec).values()]
    return min((significant_figures(t)[1] for t in texts), default=2)


def _figures_text(value: SchemeQuantity) -> str:
    try:
        significant_figures(value.number)
    except ValueError:
        return repr(value.raw)
    return value.number


_DEFAULT_POINTS: Mapping[tuple[bool, int], tuple[PointKind, ...]] = {
    (True, 4): ("method", "gradient", "relationship", "answer"),
    (True, 3): ("gradient", "relationship", "answer"),
    (True, 2): ("gradient", "answer"),
    (True, 1): ("answer",),
    (False, 3): ("method", "gradient", "unit"),
    (False, 2): ("method", "gradient"),
    (False, 1): ("gradient",),
}


def _points(spec: GradientSpec, where: str) -> tuple[tuple[PointKind, int], ...]:
    kinds = tuple(spec.points) if spec.points else _DEFAULT_POINTS.get((spec.then is not None, spec.marks), ())
    worth = tuple(spec.worth) if spec.worth else (1,) * len(kinds)
    if not kinds or len(kinds) != len(worth) or sum(worth) != spec.marks:
        seen = f"{len(kinds)} points worth {sum(worth)} for {spec.marks} marks"
        refuse(f"{where}, points", seen, expected="points that add up to the marks", mend="List points, and worth where not one each.")
    missing = [k for k in kinds if k in ("relationship", "answer") and spec.then is None]
    if missing:
        refuse(f"{where}, points", f"{missing[0]!r} without then", mend="Say in then what the gradient is used for.")
    return tuple(zip(kinds, worth, strict=True))
