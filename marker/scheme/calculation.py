"""The keys of a calculation part in a scheme file."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from marker.kinds.base import PartSpec

PointKind = Literal["relationship", "substitution", "value", "answer", "unit", "power of ten"]
MarkType = Literal["M", "dM", "A", "B", "C"]


class PointSpec(BaseModel):
    """One marking point.

    kind    relationship | substitution | value (a named intermediate) | answer | unit (of the answer) | power of ten (conversions)
    of      for a relationship: its equation or name, or several (all are needed; with any = true one is enough);
            for a substitution: equations or names (default: all of the step); for a value: the symbol
    marks   its worth;  type  M, dM, A, B or C (default from the convention);  needs  names of points it depends on
    follow  False: correct answer only, own wrong values are not followed (cao);  isw  True: work after a right answer is ignored
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    kind: PointKind
    name: str = ""
    of: str | list[str] = ""
    marks: float = 1
    type: MarkType | None = None
    needs: list[str] = Field(default_factory=list)
    accept: list[str] = Field(default_factory=list)
    follow: bool = True
    isw: bool = False
    any: bool = False


class SpecialSpec(BaseModel):
    """A special case: what a common wrong route is worth when it earns less by the points.

    answer  the value the route leads to, with its unit;  marks  what it earns;  because  the reason, as a teacher would write it
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    answer: str
    marks: float
    because: str = ""


class StepSpec(BaseModel):
    """One thing to find. A part without steps is one step written at the part's own level.

    show     the value given in a "show that";  accept  lowest and highest value accepted, with units
    figures  significant figures of the least precise datum (default: counted from the data);  unit  unit asked for
    sensible  lowest and highest value that is possible at all, beyond which an own value may not be followed
    special  special cases
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    find: str
    marks: int | None = None
    show: str = ""
    accept: list[str] = Field(default_factory=list)
    answer: str = ""
    figures: int | None = None
    unit: str = ""
    using: list[str] = Field(default_factory=list)
    points: list[PointSpec] = Field(default_factory=list)
    sensible: list[str] = Field(default_factory=list)
    special: list[SpecialSpec] = Field(default_factory=list)
    label: str = ""


class RouteSpec(BaseModel):
    """Another method: its own relationships, and points if they differ."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    name: str = ""
    using: list[str]
    also: list[str] = Field(default_factory=list)
    points: list[PointSpec] = Field(default_factory=list)


class CalculationPart(PartSpec):
    """A calculation.

    given    symbol -> quantity as typed in the question ("64 mA"); the figures typed are kept
    find     what is asked; or `step`, a list, when the part asks for several things in turn
    using    the relationships that carry marks: equations, or names from the relationship sheets
    also     definitions and conversions that carry none ("r = d/2")
    carry    symbol -> part (or "part.symbol") whose answer is used here
    names    symbol -> words or other letters candidates may use for it
    signed   symbols whose value may be negative
    either_sign   True when an answer is accepted with or without its minus sign; left out, it is where only a difference counts
    """

    kind: Literal["calculation"] = "calculation"
    given: dict[str, str] = Field(default_factory=dict)
    find: str = ""
    unit: str = ""
    using: list[str] = Field(default_factory=list)
    also: list[str] = Field(default_factory=list)
    carry: dict[str, str] = Field(default_factory=dict)
    names: dict[str, list[str]] = Field(default_factory=dict)
    signed: list[str] = Field(default_factory=list)
    either_sign: bool | None = None
    show: str = ""
    accept: list[str] = Field(default_factory=list)
    answer: str = ""
    figures: int | None = None
    points: list[PointSpec] = Field(default_factory=list)
    sensible: list[str] = Field(default_factory=list)
    special: list[SpecialSpec] = Field(default_factory=list)
    step: list[StepSpec] = Field(default_factory=list)
    route: list[RouteSpec] = Field(default_factory=list)

    def steps(self) -> tuple[StepSpec, ...]:
        """The things to find, in order; the part's own keys make one step when none are listed."""
        if self.step:
            return tuple(self.step)
        one = StepSpec(
            find=self.find,
            marks=self.marks,
            show=self.show,
            accept=self.accept,
            answer=self.answer,
            figures=self.figures,
            unit=self.unit,
            points=self.points,
            sensible=self.sensible,
            special=self.special,
        )
        return (one,)
