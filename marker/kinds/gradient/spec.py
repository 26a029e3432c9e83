"""The keys of a gradient part in a scheme file."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from marker.kinds.base import PartSpec

PointKind = Literal["method", "gradient", "unit", "intercept", "relationship", "answer", "worst line", "uncertainty"]


class _Strict(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, populate_by_name=True)


class Column(_Strict):
    """One column of the table. Values as text ("37.0") keep their figures; numbers do nearly always.

    uncertainty  of each reading, in the column's unit: one number or one per reading
    """

    name: str = ""
    symbol: str
    unit: str = ""
    values: list[str | int | float] = Field(min_length=2, max_length=60)
    uncertainty: float | int | list[float | int] | None = None


class Table(_Strict):
    """x is the horizontal axis, y the vertical one."""

    x: Column
    y: Column


class Then(_Strict):
    """What the gradient is used for.

    from     relationship of the wanted letter with `gradient`, and `intercept` where it matters: "k = 1/gradient"
    law      in its place, the law the readings obey, in the letters of the axes: "T = 2*π*√(L/g)" plotted as T^2 against L
    given    further data it needs;  names  words for the wanted quantity;  within  range accepted, else the default tolerance
    """

    find: str
    from_: str = Field(default="", alias="from")
    law: str = ""
    unit: str = ""
    within: list[str] | None = Field(default=None, min_length=2, max_length=2)
    names: list[str] = Field(default_factory=list)
    given: dict[str, str] = Field(default_factory=dict)


class GradientSpec(PartSpec):
    """Keys of kind = "gradient".

    gradient_within, intercept_within   accepted ranges; default: the least squares value ± tolerance
    tolerance       half-width of a default range as a fraction: of the gradient, of the answer; of the span of y for an intercept
    leave_out       readings, counted from 1, that the line passes by; default: those that clearly lie off the line of the others
    line_tolerance  how far from the line, as a fraction of the span of y, a point may lie and still be on it
    either_sign     true: the gradient of a line that falls may be given without its minus sign; left out, such a one is referred
    apart           least distance of the two points along x, as a fraction of the span, for the method point; default: only remarked on
    given           further data, letter -> quantity; may stand here or in `then`
    figures         significant figures of the least precise datum; default: counted from the table and the further data
    points          what each mark is for; "worst line" and "uncertainty" (of the gradient) need the uncertainty of the readings
    worth           marks of each point, in order; default: one each
    """

    kind: str = "gradient"
    table: Table
    gradient_within: list[str] | None = Field(default=None, min_length=2, max_length=2)
    intercept_within: list[str] | None = Field(default=None, min_length=2, max_length=2)
    tolerance: float = Field(default=0.03, gt=0, lt=0.5)
    leave_out: list[int] | None = None
    line_tolerance: float = Field(default=0.02, gt=0, lt=0.5)
    either_sign: bool = False
    apart: float | None = Field(default=None, gt=0, le=1)
    figures: int | None = Field(default=None, ge=1, le=9)
    given: dict[str, str] = Field(default_factory=dict)
    then: Then | None = None
    points: list[PointKind] | None = None
    worth: list[int] | None = None
