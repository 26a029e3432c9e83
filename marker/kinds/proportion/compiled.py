"""A proportion part: its keys in a scheme file, and the part made ready."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from pydantic import Field

from marker.kinds.base import PartSpec
from marker.kinds.gradient.axes import Axis, axis_of
from marker.kinds.gradient.spec import Table
from marker.kinds.marking import question_of
from marker.kinds.scheme_quantities import refuse
from marker.physics.graphs import Constancy, Relation, constants, spread_of
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.convention import Convention

PointKind = Literal["ratios", "conclusion"]
WRITTEN: Mapping[str, str] = MappingProxyType(
    {
        "direct": "{y}/{x}",
        "inverse": "{x}×{y}",
        "square": "{y}/{x}²",
        "inverse square": "{y}×{x}²",
        "root": "{y}/√{x}",
        "exponential": "the ratio of neighbouring {y}",
    }
)


class ProportionSpec(PartSpec):
    """Keys of kind = "proportion".

    table      x and y columns;  relation  what y is proportional to: direct, inverse, square, inverse square, root, exponential
    ask        "show" that it holds (the table must bear it out), or "test" whether it does
    needs      how many readings must be tested;  tolerance  how far a constant may stray, as a fraction, and still be constant
    points     what each mark is for: ratios (readings tested or compared), conclusion;  worth  marks of each point, in order
    """

    kind: str = "proportion"
    table: Table
    relation: Relation = "direct"
    ask: Literal["show", "test"] = "show"
    needs: int = Field(default=2, ge=2)
    tolerance: float = Field(default=0.05, gt=0, lt=0.5)
    points: list[PointKind] | None = None
    worth: list[int] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ProportionPart:
    """What marking needs. `constant` holds each reading's would-be constant; `holds` whether they are constant."""

    spec: ProportionSpec
    convention: Convention
    x: Axis
    y: Axis
    constant: Constancy
    holds: bool
    table: SymbolTable
    points: tuple[tuple[PointKind, int], ...]

    @property
    def question(self) -> str:
        return question_of(self.spec)

    @property
    def test(self) -> str:
        return WRITTEN[self.spec.relation].format(x=self.x.symbol, y=self.y.symbol)


def compile_proportion(spec: ProportionSpec, convention: Convention) -> ProportionPart:
    """The part made ready. Raises SchemeError naming the key and the mend."""
    where = f"part {spec.name}"
    x, y = axis_of(spec.table.x, f"{where}, table.x"), axis_of(spec.table.y, f"{where}, table.y")
    if len(x.values) != len(y.values) or len(x.values) < spec.needs:
        seen = f"{len(x.values)} values of x and {len(y.values)} of y"
        refuse(f"{where}, table", seen, f"{spec.needs} or more of each", "Complete the table.")
    try:
        constant = spread_of(constants(spec.relation, x.values, y.values))
    except ValueError as error:
        refuse(f"{where}, table", str(error), "readings that can be tested", "Leave readings of nought out of the table.")
    if spec.ask == "show" and not constant.within(spec.tolerance):
        seen = f"{spec.relation} proportion strays by {100 * constant.spread:.0f} %"
        refuse(f"{where}, relation", seen, "a table that bears it out", 'Correct the table, raise tolerance, or set ask = "test".')
    entries = tuple(SymbolEntry(name=a.symbol, names=(a.name,) if a.name else (), unit=a.unit.text) for a in (x, y))
    return ProportionPart(
        spec=spec,
        convention=convention.with_rulings(spec.rulings),
        x=x,
        y=y,
        constant=constant,
        holds=constant.within(spec.tolerance),
        table=SymbolTable(entries),
        points=_points(spec, where),
    )


def _points(spec: ProportionSpec, where: str) -> tuple[tuple[PointKind, int], ...]:
    kinds: tuple[PointKind, ...] = tuple(spec.points) if spec.points else ("ratios", "conclusion")[: spec.marks]  # type: ignore[assignment]
    worth = tuple(spec.worth) if spec.worth else (spec.marks - len(kinds) + 1,) + (1,) * (len(kinds) - 1)
    if len(kinds) != len(worth) or sum(worth) != spec.marks:
        seen = f"{len(kinds)} points worth {sum(worth)} for {spec.marks} marks"
        refuse(f"{where}, points", seen, "points that add up to the marks", "List points, and worth where not one each.")
    return tuple(zip(kinds, worth, strict=True))
