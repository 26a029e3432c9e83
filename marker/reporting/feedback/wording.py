"""The student's wording, from rubrics/feedback.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache

from pydantic import BaseModel, ConfigDict, Field

from marker.resources import rubrics

DEFAULT, BLANK, UNREAD = "default", "blank", "unread"


class _Frozen(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class PageWords(_Frozen):
    heading: str
    intro: str
    waiting: str
    marks_heading: str
    practise_heading: str
    practise_intro: str
    practise_none: str
    practise_all_right: str
    blank_parts: str
    full_parts: str
    footer: str
    bundle_solutions: str


class PartWords(_Frozen):
    blank: str
    next_heading: str
    solution: str
    solution_note: str
    own_value: str
    own_value_named: str
    referred: str
    decided: str
    unsure: str
    read_as: str


class VerdictWords(_Frozen):
    """A sign and words; the sign is never alone."""

    sign: str = Field(min_length=1, max_length=2)
    text: str = Field(min_length=1)


class PointWords(_Frozen):
    name: str
    next: str


class Wording(_Frozen):
    page: PageWords
    part: PartWords
    verdicts: Mapping[str, VerdictWords]
    points: Mapping[str, PointWords]
    faults: Mapping[str, str]

    def verdict(self, name: str) -> VerdictWords:
        """The words for a verdict; a plain remark for one this file does not have."""
        return self.verdicts.get(name) or self.verdicts["remark"]

    def point(self, kind: str) -> PointWords:
        return self.points.get(kind) or self.points[DEFAULT]


@lru_cache(maxsize=1)
def wording() -> Wording:
    """The wording in use. Raises pydantic.ValidationError when the file has lost a key."""
    return Wording.model_validate(tomllib.loads((rubrics() / "feedback.toml").read_text(encoding="utf-8")))
