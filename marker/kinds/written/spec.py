"""The keys of a written part in the scheme file.

[[part]] kind = "written" has either [[part.idea]] tables, one per key idea, or `accept`, a list of accepted answers.
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

from marker.kinds.base import PartSpec

RelationKind = Literal["increases with", "decreases with", "proportional", "inverse", "equals", "because of", "zero with"]


class _Table(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class RelationSpec(_Table):
    """How the first quantity of `between` depends on the second."""

    between: list[str] = Field(min_length=2, max_length=2)
    kind: RelationKind


class IdeaSpec(_Table):
    """One key idea.

    says         sample wordings, any one suffices;  any  required terms: each inner list holds alternatives, all lists are needed
    relation     a relation the response must state;  terms  name -> other words for it, in this part
    not_enough   wordings that alone do not earn the mark;  contradicts  wordings that cancel it
    marks        what the idea is worth;  depends  names of ideas without which this one earns nothing
    """

    name: str
    says: list[str] = Field(default_factory=list)
    any: list[list[str]] = Field(default_factory=list)
    relation: RelationSpec | None = None
    terms: dict[str, list[str]] = Field(default_factory=dict)
    not_enough: list[str] = Field(default_factory=list)
    contradicts: list[str] = Field(default_factory=list)
    marks: int = Field(default=1, ge=1)
    depends: list[str] = Field(default_factory=list)

    @model_validator(mode="after")
    def _earnable(self) -> IdeaSpec:
        if not (self.says or self.any or self.relation):
            raise ValueError(f"idea {self.name!r} says nothing that could earn it; give says, any or relation")
        return self


class AcceptSpec(_Table):
    """An accepted answer and how good it is."""

    text: str
    kind: Literal["best", "good", "minimal", "keyword"] = "good"


class SettledSpec(_Table):
    """A response a teacher has settled: its mark, or the names of the ideas it earned.

    contradicts  it says the contrary, rather than nothing of the kind; this teaches feedback, not marks
    """

    text: str
    mark: float | int | None = None
    ideas: list[str] | None = None
    contradicts: bool = False

    @model_validator(mode="after")
    def _decided(self) -> SettledSpec:
        if self.mark is None and self.ideas is None:
            raise ValueError("a settled response needs mark or ideas")
        return self


class WrittenSpec(PartSpec):
    """A written part.

    needs    how many ideas earn all the marks (default: as many as it takes);  terms  other words, for all ideas
    wants    the question asks for so many points ("state two …"): the list rule applies;  wrong, ignore  listed wrong and neutral points
    settled  decisions of a teacher, or the path of a JSONL file of them: {"text": …, "mark": …} or {"text": …, "ideas": […]}
    """

    kind: str = "written"
    idea: list[IdeaSpec] = Field(default_factory=list)
    accept: list[str | AcceptSpec] = Field(default_factory=list)
    terms: dict[str, list[str]] = Field(default_factory=dict)
    needs: int | None = Field(default=None, ge=1)
    wants: int | None = Field(default=None, ge=1)
    wrong: list[str] = Field(default_factory=list)
    ignore: list[str] = Field(default_factory=list)
    settled: str | list[SettledSpec] = Field(default_factory=list)

    @model_validator(mode="after")
    def _one_form(self) -> WrittenSpec:
        if bool(self.idea) == bool(self.accept):
            raise ValueError("a written part has either idea tables or accept, one of the two")
        names = [i.name for i in self.idea]
        if len(set(names)) < len(names):
            raise ValueError(f"two ideas of part {self.name!r} have the same name")
        for idea in self.idea:
            for other in idea.depends:
                if other not in names:
                    raise ValueError(f"idea {idea.name!r} depends on {other!r}, which is not an idea of this part ({', '.join(names)})")
        if self.needs is not None and self.needs > max(len(names), 1):
            raise ValueError(f"needs = {self.needs}, but the part has {len(names)} ideas")
        worth = sum(i.marks for i in self.idea)
        if self.idea and self.needs is None and worth < self.marks:
            raise ValueError(f"the ideas are worth {worth} together, the part {self.marks}; raise marks of an idea or give needs")
        return self
