"""The keys of a derivation in a scheme file."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from marker.kinds.algebra import LettersSpec

PointKind = Literal["start", "step", "target"]


class PointSpec(BaseModel):
    """One marking point.

    kind   start: a relationship it starts from is stated, by itself or put together with another;  step: an equation between
           the starts and the target;  target: the target is reached by right steps
    of     for a start: its equations or names (default: all);  for a step: the equation (default: any that puts the starts together)
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    kind: PointKind
    name: str = ""
    of: str | list[str] = ""
    marks: float = 1

    @property
    def texts(self) -> tuple[str, ...]:
        return (self.of,) if isinstance(self.of, str) and self.of else tuple(self.of) if not isinstance(self.of, str) else ()


class DerivationSpec(LettersSpec):
    """Keys of kind = "derivation", besides those of a part in letters.

    target   what is to be shown, an equation;  also_target  further forms of it that are accepted
    points   marking points, where the usual ones will not do
    """

    kind: Literal["derivation"] = "derivation"
    target: str
    also_target: list[str] = Field(default_factory=list)
    points: list[PointSpec] = Field(default_factory=list)
