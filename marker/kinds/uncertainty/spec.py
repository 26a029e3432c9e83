"""The keys of an uncertainty part in a scheme file."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from marker.kinds.base import PartSpec

PointKind = Literal["percentages", "powers", "combination", "combined", "absolute", "value", "statement", "mean", "random", "comparison"]
POINT_KINDS: tuple[PointKind, ...] = (
    "percentages",
    "powers",
    "combination",
    "combined",
    "absolute",
    "value",
    "statement",
    "mean",
    "random",
    "comparison",
)


class Measured(BaseModel):
    """A measured quantity: a value with its uncertainty, or readings to take the mean of.

    value        "46.0 m";  uncertainty  "0.5 m", or "2 %" of the value
    readings     repeated readings, in `unit`: value is their mean, uncertainty (largest − smallest)/number
    scale        with `division`: half the smallest division of an analogue scale, one in the last digit of a digital one
    names        words or other letters for it
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    value: str = ""
    uncertainty: str = ""
    readings: list[str | int | float] = Field(default_factory=list, max_length=100)
    unit: str = ""
    scale: Literal["analogue", "digital"] | None = None
    division: str = ""
    names: list[str] = Field(default_factory=list)


def _alone(typed: Any) -> Any:
    """One relationship, which may stand in brackets as in other kinds of part."""
    if isinstance(typed, list) and len(typed) > 1:
        raise ValueError("one relationship is wanted: put one into the other, such as ρ = 4*m/(π*d^2*h)")
    return typed[0] if isinstance(typed, list) and typed else typed


class UncertaintySpec(PartSpec):
    """Keys of kind = "uncertainty".

    quantities       letter -> "(46.0 ± 0.5) m", or a table with value and uncertainty, or with readings
    find, using      letter of the result and its relationship, "v = s/t"; without `using` the result is the quantity itself
    given            letter -> exact values the relationship needs besides;  unit  of the result;  names  words for the result
    ask              "absolute" or "percentage" uncertainty of the result
    combined_within  accepted range of the combined percentage;  within  of the absolute uncertainty
    combined_follows whether the point "combined" is also for a percentage right on own ones: false, in its range only; true, always;
                     by default after a slip in a percentage, and after a power that was left out (where the powers have a point) unless
                     percentages are simply added: adding alone earns nothing then, the root of the sum of squares is work of its own
    rule_follows     true where a root of the sum of squares in place of a straight sum costs its own point alone and what comes of it
                     is followed; else whatever rests on another way of combining is lost with it
    tolerance        half-width of a default range as a fraction
    figures          significant figures of the least precise datum, for the final uncertainty; default: of the uncertainties given
    drop_below_third a component under a third of the largest may be left out of a root sum of squares
    accepted         a value to compare the result with (point "comparison")
    points           what each mark is for: percentages of each quantity, powers (the percentage of T² is twice that of T), combination
                     (how they are combined), combined (the percentage of the result), absolute (uncertainty of the result), value,
                     statement (value ± uncertainty to one place), mean and random (of readings), comparison
    worth            marks of each point, in order; default: one each
    """

    kind: str = "uncertainty"
    quantities: dict[str, str | Measured] = Field(min_length=1)
    find: str
    using: Annotated[str, BeforeValidator(_alone, json_schema_input_type=str | list[str])] = ""
    given: dict[str, str] = Field(default_factory=dict)
    unit: str = ""
    names: list[str] = Field(default_factory=list)
    ask: Literal["absolute", "percentage"] = "absolute"
    combined_within: list[str] | None = Field(default=None, min_length=2, max_length=2)
    combined_follows: bool | None = None
    rule_follows: bool = False
    within: list[str] | None = Field(default=None, min_length=2, max_length=2)
    tolerance: float = Field(default=0.03, gt=0, lt=0.5)
    figures: int | None = Field(default=None, ge=1, le=9)
    drop_below_third: bool = True
    accepted: str = ""
    points: list[PointKind] | None = None
    worth: list[int] | None = None
