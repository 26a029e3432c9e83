"""The calculation of what is wanted from the line: a part of the kind calculation to which gradient and intercept are carried."""

from __future__ import annotations

from dataclasses import dataclass

from marker.errors import SchemeError
from marker.expression import Dimensions, Unit
from marker.kinds.gradient.axes import Axis
from marker.kinds.gradient.spec import GradientSpec
from marker.kinds.gradient.wanted import GRADIENT, GRADIENT_WORDS, INTERCEPT, INTERCEPT_WORDS, Range, Wanted
from marker.kinds.typed_numbers import letters
from marker.physics.regression import StraightLine
from marker.reading import write_plain
from marker.scheme.calculation import CalculationPart, PointSpec
from marker.scheme.compile_calculation import compile_calculation
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.convention import Convention
from marker.scheme.surroundings import Carryable, Surroundings

LINE = "line"  # the drawn line, as the part the gradient and the intercept are carried from
_SIZE = "steepness"  # the size of the gradient of a line that falls


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """The line of a part as far as it matters here: axes, best line, range of the gradient in the table's units, figures of the data."""

    x: Axis
    y: Axis
    line: StraightLine
    gradient_range: Range
    figures: int


def calculation_of(spec: GradientSpec, wanted: Wanted, convention: Convention, drawn: Drawn) -> CompiledCalculation | None:
    """The calculation of the wanted quantity from the line. None where the relationship is one that the kind calculation does not
    take; the statements about the gradient are then all there is to go by."""
    try:
        part = _spec(spec, wanted, drawn)
        return compile_calculation(part, convention, Surroundings(data={}, carried=_carryable(drawn)))
    except SchemeError:
        return None


def gradient_unit(x: Axis, y: Axis) -> Unit:
    """The unit of the gradient as the table gives it."""
    over, under = y.unit, x.unit
    dimensions: Dimensions = tuple(a - b for a, b in zip(over.dimensions, under.dimensions, strict=True))  # type: ignore[assignment]
    name = f"{over.text or '1'}/({under.text})" if under.text else over.text or "1"
    return Unit(name=name, scale=over.scale / under.scale, dimensions=dimensions)


def _spec(part: GradientSpec, wanted: Wanted, drawn: Drawn) -> CalculationPart:
    then = part.then
    assert then is not None
    text = then.from_ or f"{wanted.symbol} = {write_plain(wanted.tree)}"
    carried = [n for n in (GRADIENT, INTERCEPT) if n in letters(wanted.tree)]
    falling = drawn.line.gradient < 0 and GRADIENT in carried
    names = {GRADIENT: list(GRADIENT_WORDS[1:]), INTERCEPT: list(INTERCEPT_WORDS), wanted.symbol: list(wanted.names)}
    return CalculationPart(
        name=part.name,
        marks=2,
        find=wanted.symbol,
        unit=wanted.unit.text,
        using=[text],
        also=[f"{_SIZE} = -{GRADIENT}"] if falling else [],
        given={**part.given, **then.given},
        carry={n: f"{LINE}.{n}" for n in carried},
        names={n: words for n, words in names.items() if n in carried or n == wanted.symbol},
        signed=carried,
        figures=drawn.figures,
        accept=list(then.within or ()),
        points=[PointSpec(kind="relationship"), PointSpec(kind="answer")],
    )


def _carryable(drawn: Drawn) -> dict[str, Carryable]:
    unit, y = gradient_unit(drawn.x, drawn.y), drawn.y.unit
    low, high = drawn.gradient_range
    gradient = Carryable(
        value=drawn.line.gradient * unit.scale,
        unit=unit if any(unit.dimensions) else None,
        dimensions=unit.dimensions,
        figures=drawn.figures,
        accept=(low * unit.scale, high * unit.scale),
    )
    intercept = Carryable(
        value=drawn.line.intercept * y.scale,
        unit=Unit(name=y.text, scale=y.scale, dimensions=y.dimensions) if any(y.dimensions) else None,
        dimensions=y.dimensions,
        figures=drawn.figures,
    )
    return {f"{LINE}.{GRADIENT}": gradient, f"{LINE}.{INTERCEPT}": intercept}
