"""The rules of moderation as data: sampling, tolerance, decision, qualifying, drift, anchors and rules of thumb for items.

Each is a table of a TOML file in rubrics/moderation/ (or of a department's own file) with a name and its source.
"""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from typing import Literal, Self, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from marker.errors import Problem, SchemeError
from marker.resources import rubrics


class _Table(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class _Named(_Table):
    name: str = Field(min_length=1)
    source: str = Field(min_length=1)
    note: str = ""


class SizeBand(_Table):
    """How many are drawn from a cohort of at most `up_to`."""

    up_to: int | None = Field(default=None, ge=1)
    all: bool = False
    take: int | None = Field(default=None, ge=1)
    percent: float | None = Field(default=None, gt=0, le=100)

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        if sum((self.all, self.take is not None, self.percent is not None)) > 1:
            raise ValueError("give one of all, take and percent")
        return self


Spread = Literal["random", "even by rank", "rank bands", "mark bands", "by marker", "by class"]


class SamplingRule(_Named):
    unit: Literal["candidate", "response"] = "candidate"
    size: tuple[SizeBand, ...] = Field(min_length=1)
    minimum: int = Field(default=0, ge=0)
    maximum: int | None = Field(default=None, ge=1)
    spread: Spread = "random"
    bands: int = Field(default=0, ge=0)
    boundaries: tuple[float, ...] = ()
    per_band: int = Field(default=0, ge=0)
    always: tuple[Literal["highest", "lowest"], ...] = ()
    first: int = Field(default=0, ge=0)
    chosen_count: bool = False

    @model_validator(mode="after")
    def _complete(self) -> Self:
        if self.spread == "rank bands" and not self.bands:
            raise ValueError('"rank bands" needs the number of bands')
        if self.spread == "mark bands" and not self.boundaries:
            raise ValueError('"mark bands" needs boundaries')
        if self.unit == "response" and self.spread != "random":
            raise ValueError('single responses are drawn with spread = "random"')
        limits = [b.up_to for b in self.size]
        if None in limits[:-1] or limits[-1] is not None or any(a >= b for a, b in pairwise(limits) if a and b):
            raise ValueError("size bands rise by up_to, and the last has none")
        if not self.per_band and any(not (b.all or b.take or b.percent) for b in self.size):
            raise ValueError("each size band says all, take or percent, unless per_band is given")
        return self


class ResponseTolerance(_Table):
    up_to: float | None = None
    within: float | None = Field(default=None, ge=0)
    percent: float | None = Field(default=None, ge=0)

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        if (self.within is None) == (self.percent is None):
            raise ValueError("give one of within and percent")
        return self


class Tolerance(_Named):
    """How far two marks may differ before it matters, in raw marks."""

    response: tuple[ResponseTolerance, ...] = Field(min_length=1)
    total_percent: float = Field(ge=0)

    def for_response(self, maximum: float) -> float:
        entry = next((e for e in self.response if e.up_to is None or maximum <= e.up_to), self.response[-1])
        if entry.within is not None:
            return entry.within
        return float(max(1, int(maximum * (entry.percent or 0) / 100 + 1e-9)))

    def for_total(self, maximum: float) -> float:
        return maximum * self.total_percent / 100


Adjustment = Literal["constant", "regression", "by band"]


class DecisionRule(_Named):
    tolerance: str
    minimum: int = Field(ge=2)
    share: float = Field(ge=0, le=1)
    rank_order: float = Field(ge=-1, le=1)
    line: Literal["least squares", "orthogonal"] = "least squares"
    adjustments: tuple[Adjustment, ...]
    bands: int = Field(default=0, ge=0)
    cap_percent: float = Field(ge=0, le=100)
    round_to: float = Field(default=1, gt=0)
    staged: bool = False

    @model_validator(mode="after")
    def _complete(self) -> Self:
        if "by band" in self.adjustments and not self.bands:
            raise ValueError('"by band" needs the number of bands')
        return self


class AnchorBand(_Table):
    up_to: float | None = None
    exact: float = Field(ge=0, le=1)
    weighted: float = Field(ge=0, le=1)


class Anchor(_Named):
    parts: tuple[AnchorBand, ...] = Field(min_length=1)
    floor: float = Field(ge=0, le=1)

    def for_part(self, maximum: float) -> AnchorBand:
        return next((b for b in self.parts if b.up_to is None or maximum <= b.up_to), self.parts[-1])


class QualifyingRule(_Named):
    tolerance: str
    minimum: int = Field(ge=1)
    exact: float = Field(ge=0, le=1)
    within: float = Field(default=0, ge=0, le=1)
    bias_percent: float | None = Field(default=None, ge=0)
    per_part: float = Field(default=0, ge=0, le=1)


class DriftRule(_Named):
    tolerance: str
    window: int = Field(ge=2)
    exact: float = Field(ge=0, le=1)
    within: float = Field(default=0, ge=0, le=1)
    run: int = Field(default=0, ge=0)


class ItemRule(_Named):
    measure: Literal["facility", "discrimination", "item total", "alpha without", "no response"]
    below: float | None = None
    above: float | None = None
    scope: Literal["part", "point", "both"] = "part"
    says: str

    @model_validator(mode="after")
    def _limit(self) -> Self:
        if self.below is None and self.above is None:
            raise ValueError("give below, above or both")
        return self


class AlphaUse(_Table):
    use: str
    least: float
    source: str = Field(min_length=1)


class TailGroups(_Table):
    share: float = Field(gt=0, le=0.5)
    source: str = Field(min_length=1)


class SamplingFile(_Table):
    rule: tuple[SamplingRule, ...]


class DecisionFile(_Table):
    tolerance: tuple[Tolerance, ...] = ()
    decision: tuple[DecisionRule, ...] = ()
    anchor: tuple[Anchor, ...] = ()


class StandardisationFile(_Table):
    qualifying: tuple[QualifyingRule, ...] = ()
    drift: tuple[DriftRule, ...] = ()


class ItemFile(_Table):
    groups: TailGroups
    rule: tuple[ItemRule, ...]
    alpha: tuple[AlphaUse, ...] = ()


F = TypeVar("F", bound=BaseModel)
N = TypeVar("N", bound=_Named)


def load(name: str, shape: type[F], path: Path | None = None) -> F:
    """Rules from rubrics/moderation/<name>.toml, or from the department's own file at `path`.

    Raises SchemeError with the table, the key and the mend.
    """
    where = str(path) if path else f"rubrics/moderation/{name}.toml"
    try:
        text = path.read_text(encoding="utf-8") if path else (rubrics() / "moderation" / f"{name}.toml").read_text(encoding="utf-8")
        return shape.model_validate(tomllib.loads(text))
    except OSError as error:
        raise SchemeError(Problem(where=where, seen="the file cannot be read", mend=f"Check the name ({error.strerror}).")) from None
    except UnicodeDecodeError:
        raise SchemeError(Problem(where=where, seen="the file is not UTF-8 text", mend="Save it as UTF-8.")) from None
    except tomllib.TOMLDecodeError as error:
        raise SchemeError(Problem(where=where, seen=f"not readable as TOML: {error}", mend="Mend that line.")) from None
    except ValidationError as error:
        raise SchemeError(_problems(where, error)) from None


def _problems(where: str, error: ValidationError) -> list[Problem]:
    found = []
    for item in error.errors():
        place = ", ".join(f"number {p + 1}" if isinstance(p, int) else p for p in item["loc"])
        found.append(
            Problem(where=f"{where}, {place}" if place else where, seen=item["msg"], mend="See the notes at the top of the shipped file.")
        )
    return found


def named(rules: Sequence[N], name: str, what: str) -> N:
    """The rule of that name. Raises SchemeError with the nearest name and the choices."""
    for rule in rules:
        if rule.name == name:
            return rule
    near = difflib.get_close_matches(name, [r.name for r in rules], 1)
    choices = "; ".join(r.name for r in rules)
    raise SchemeError(
        Problem(
            where=what,
            seen=f'"{name}" is not the name of one',
            expected=f"one of: {choices}",
            mend=f'Use "{near[0]}"?' if near else "Use one of these, or add it to a file of your own.",
        )
    )
