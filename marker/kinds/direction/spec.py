"""The keys of a direction part in a scheme file."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from marker.kinds.base import PartSpec

# words ("up the page"), an axis ("+y"), or a vector [0, 1, 0]
Way = str | list[int | float]
WAY_EXAMPLES = 'words such as "up the page", an axis such as "+y", or a vector such as [0, 1, 0]'

RuleName = Literal[
    "force on a charge", "force on a current", "field of a straight wire", "field of a coil", "force in an electric field",
    "force in a gravitational field", "towards the centre", "along the velocity", "induced current in a wire", "induced current in a loop",
    "field from the force", "current from the force", "velocity from the force", "given",
]  # fmt: skip


class AskSpec(BaseModel):
    """One direction asked.

    of         what it is the direction of ("force on the positive ion"); its telling words name it in answers, with those of `names`
    rule       how it follows from the geometry, or "given" with an `answer`
    velocity, field, current, force    directions given; "at rest" or "none" for nothing
    centre     from the body to the centre of its circle;  at  the place, from the wire, where the field is asked
    sense      "clockwise" or "anticlockwise" for a coil's current or a motion in a circle
    seen_from  the side a turn is looked at from; default: the reader of the page (compass: above)
    change     of the field through a loop
    charge_motion  "electron flow" when the current given (or asked) is that of the electrons
    beside     True for the field beside a flat coil, not inside it
    answer     checked against the rule;  also  further phrases that are right as they stand
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    of: str = Field(min_length=1)
    names: list[str] = Field(default_factory=list)
    rule: RuleName
    charge: Literal["positive", "negative", "neutral"] | None = None
    velocity: Way | None = None
    field: Way | None = None
    current: Way | None = None
    force: Way | None = None
    centre: Way | None = None
    at: Way | None = None
    sense: Literal["clockwise", "anticlockwise"] | None = None
    seen_from: Way | None = None
    change: Literal["increasing", "decreasing", "steady", "reversed"] | None = None
    charge_motion: Literal["conventional current", "electron flow"] = "conventional current"
    beside: bool = False
    answer: str = ""
    also: list[str] = Field(default_factory=list)


class DirectionSpec(PartSpec):
    """Keys of kind = "direction".

    frame   "page": right, up the page, out of the page; "compass": east, north, vertically up, for a plan or a map
    ask     the directions asked, in the order of the question
    points  "all": every direction right for the marks; "each": the marks shared equally. Default: "all" for one mark or one
            direction, "each" when there are as many marks as directions
    places  where things of the question lie: { "magnet" = "left" } makes "towards the magnet" the left
    within  how far, in degrees, an answer given by an angle may be off
    """

    kind: Literal["direction"] = "direction"
    frame: Literal["page", "compass"] = "page"
    ask: list[AskSpec] = Field(min_length=1, max_length=6)
    points: Literal["all", "each"] | None = None
    places: dict[str, Way] = Field(default_factory=dict)
    within: float = Field(default=10.0, gt=0, le=40)
