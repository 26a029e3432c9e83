"""A gradient part made ready: the line through the table, its accepted ranges, and what the gradient is used for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from marker.expression import Dimensions
from marker.kinds.entries import Letter, symbol_table
from marker.kinds.gradient.axes import Axis, axis_of
from marker.kinds.gradient.carrying import Drawn, calculation_of
from marker.kinds.gradient.headings import headed
from marker.kinds.gradient.spec import GradientSpec, PointKind
from marker.kinds.gradient.wanted import (
    GRADIENT,
    GRADIENT_WORDS,
    INTERCEPT,
    INTERCEPT_WORDS,
    NO_SHEET,
    Range,
    Wanted,
    axis_letters,
    further_data,
    range_of,
    wanted_from,
    with_sheet,
)
from marker.kinds.marking import question_of
from marker.kinds.meant import Units
from marker.kinds.scheme_quantities import SchemeQuantity, refuse, unit_of
from marker.physics.evaluate import Value
from marker.physics.graphs import through_the_origin
from marker.physics.regression import StraightLine, extreme_lines, least_squares, outliers
from marker.physics.rounding import significant_figures
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.convention import Convention


@dataclass(frozen=True, slots=True, kw_only=True)
class GradientPart:
    """What marking needs. Gradient and intercept ranges are in the table's units.

    onward  what follows from the line, as a calculation;  headed  the graph with a power of ten left in the heading of an axis
    """

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
    axis_letters: frozenset[str]
    extremes: tuple[StraightLine, StraightLine] | None
    points: tuple[tuple[PointKind, int], ...]
    notes: tuple[str, ...]
    onward: CompiledCalculation | None = None
    headed: tuple[GradientPart, ...] = ()

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


def compile_gradient(spec: GradientSpec, convention: Convention, sheet: Mapping[str, Sequence[str]] = NO_SHEET) -> GradientPart:
    """The part made ready. `sheet` is the paper's data sheet, letter -> accepted values. Raises SchemeError naming the key and the mend."""
    spec = with_sheet(spec, sheet)
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
    gradient_range = range_of(spec.gradient_within, line.gradient, spec.tolerance * abs(line.gradient), scale, f"{where}, gradient_within")
    intercept_range = range_of(spec.intercept_within, line.intercept, spec.tolerance * y.span, y.unit.scale, f"{where}, intercept_within")
    figures = spec.figures or _least_figures(spec)
    wanted, onward = None, None
    if spec.then is not None:
        wanted = wanted_from(spec, spec.then, symbols, line, x, y)
        drawn = Drawn(x=x, y=y, line=line, gradient_range=gradient_range, figures=figures)
        onward = calculation_of(spec, wanted, ruled, drawn)
    notes = tuple(f"The line passes by the reading at {x.symbol} = {x.values[i]:g} {x.unit.text}".rstrip() + "." for i in left_out)
    drawn_part = GradientPart(
        spec=spec,
        convention=ruled,
        x=x,
        y=y,
        line=line,
        through_origin=origin,
        gradient_range=gradient_range,
        intercept_range=intercept_range,
        wanted=wanted,
        figures=figures,
        table=symbols,
        axis_letters=axis_letters(x, y),
        extremes=_extremes(x, y, left_out),
        points=_points(spec, x, y, where),
        notes=notes,
        onward=onward,
    )
    return replace(drawn_part, headed=headed(drawn_part))


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


def _extremes(x: Axis, y: Axis, left_out: Sequence[int]) -> tuple[StraightLine, StraightLine] | None:
    """The shallowest and the steepest line through all error bars; None where there are no bars or no such line."""
    if not (x.bars or y.bars):
        return None
    kept = [i for i in range(len(x.values)) if i not in left_out]
    bars = [[(a.bars or (0.0,) * len(a.values))[i] for i in kept] for a in (x, y)]
    return extreme_lines([x.values[i] for i in kept], [y.values[i] for i in kept], bars[0], bars[1])


def _symbols(spec: GradientSpec, x: Axis, y: Axis) -> SymbolTable:
    letters = []
    if spec.then is not None:
        unit = unit_of(spec.then.unit, f"part {spec.name}, then.unit")
        letters.append(Letter(symbol=spec.then.find, words=spec.then.names, unit=unit.text, dimensions=unit.dimensions))
    for axis in (x, y):
        words = (axis.name,) if axis.name else ()
        letters.append(Letter(symbol=axis.symbol, words=words, unit=axis.unit.text, dimensions=axis.unit.dimensions))
    letters += [Letter(symbol=n, unit=q.unit, dimensions=q.dimensions) for n, q in further_data(spec).items()]
    further = [SymbolEntry(name=f"Δ{a.symbol}", names=(f"change in {a.name}",) if a.name else (), unit=a.unit.text) for a in (x, y)]
    further.append(SymbolEntry(name=GRADIENT, spellings=("grad", "slope"), names=GRADIENT_WORDS))
    further.append(SymbolEntry(name=INTERCEPT, names=INTERCEPT_WORDS))
    return symbol_table(letters, further)


def _least_figures(spec: GradientSpec) -> int:
    """Figures of the least precise datum: for each number the most it may claim, the least of those."""
    texts = [str(v) for v in (*spec.table.x.values, *spec.table.y.values) if float(v)]
    texts += [_figures_text(q) for q in further_data(spec).values()]
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


def _points(spec: GradientSpec, x: Axis, y: Axis, where: str) -> tuple[tuple[PointKind, int], ...]:
    kinds = tuple(spec.points) if spec.points else _DEFAULT_POINTS.get((spec.then is not None, spec.marks), ())
    worth = tuple(spec.worth) if spec.worth else (1,) * len(kinds)
    if not kinds or len(kinds) != len(worth) or sum(worth) != spec.marks:
        seen = f"{len(kinds)} points worth {sum(worth)} for {spec.marks} marks"
        refuse(f"{where}, points", seen, expected="points that add up to the marks", mend="List points, and worth where not one each.")
    missing = [k for k in kinds if k in ("relationship", "answer") and spec.then is None]
    if missing:
        refuse(f"{where}, points", f"{missing[0]!r} without then", mend="Say in then what the gradient is used for.")
    if {"worst line", "uncertainty"} & set(kinds) and not (x.bars or y.bars):
        refuse(f"{where}, points", "no uncertainty of the readings", "error bars", "Give uncertainty in table.y.")
    return tuple(zip(kinds, worth, strict=True))
