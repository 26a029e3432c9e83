"""The keys of a calculation part in a scheme file."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

from marker.kinds.base import PartSpec, Texts

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
    also, given, names, carry, signed   as for the whole part, where they are better read beside the step
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    find: str
    marks: int | None = None
    show: str = ""
    accept: list[str] = Field(default_factory=list)
    answer: str = ""
    figures: int | None = None
    unit: str = ""
    using: Texts = Field(default_factory=list)
    points: list[PointSpec] = Field(default_factory=list)
    sensible: list[str] = Field(default_factory=list)
    special: list[SpecialSpec] = Field(default_factory=list)
    label: str = ""
    also: Texts = Field(default_factory=list)
    given: dict[str, str] = Field(default_factory=dict)
    names: dict[str, Texts] = Field(default_factory=dict)
    carry: dict[str, str] = Field(default_factory=dict)
    signed: Texts = Field(default_factory=list)


class RouteSpec(BaseModel):
    """Another method, for the whole part: its own relationships and definitions, and points if they differ.

    given, names   data, and words or other letters, that this method alone needs: R = "8.31 J/(mol K)"
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    name: str = ""
    using: Texts
    also: Texts = Field(default_factory=list)
    given: dict[str, str] = Field(default_factory=dict)
    names: dict[str, Texts] = Field(default_factory=dict)
    points: list[PointSpec] = Field(default_factory=list)


_OF_THE_PART = frozenset({"also", "given", "names", "carry", "signed"})


def _together(whole: Any, own: Any) -> Any:
    """What the part has and what a step adds; values of another shape are left for the model to refuse."""
    if whole is None:
        return own
    if isinstance(whole, dict) and isinstance(own, dict):
        return {**own, **whole}
    texts = [[v] if isinstance(v, str) else v for v in (whole, own)]
    return list(dict.fromkeys((*texts[0], *texts[1]))) if all(isinstance(v, list) for v in texts) else own


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
    using: Texts = Field(default_factory=list)
    also: Texts = Field(default_factory=list)
    carry: dict[str, str] = Field(default_factory=dict)
    names: dict[str, Texts] = Field(default_factory=dict)
    signed: Texts = Field(default_factory=list)
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

    @model_validator(mode="before")
    @classmethod
    def _of_the_steps(cls, row: Any) -> Any:
        """Definitions, data, names and carried values written in a step belong to the whole part."""
        steps = row.get("step") if isinstance(row, dict) else None
        if not isinstance(steps, list) or not all(isinstance(s, dict) for s in steps):
            return row
        lifted = dict(row)
        for step in steps:
            for key in _OF_THE_PART & step.keys():
                lifted[key] = _together(lifted.get(key), step[key])
        return {**lifted, "step": [{k: v for k, v in s.items() if k not in _OF_THE_PART} for s in steps]}

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
