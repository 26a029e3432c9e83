"""What drafting gives: a scheme as plain values, with remarks on what it was unsure of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One part as pasted: its name, its text, the lines of its model answer, and its marks where they are stated."""

    name: str
    stem: str
    lines: tuple[str, ...]
    marks: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftedPart:
    """A part of a drafted scheme.

    spec     its keys as in a scheme file;  remarks  key -> what to look at, "" for the part as a whole
    lines    the model answer it was drafted from;  sheets  names of the sheet relationships recognised
    found    letter -> value in SI of what it finds, for later parts that carry it
    """

    spec: Mapping[str, Any]
    lines: tuple[str, ...]
    remarks: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    sheets: tuple[str, ...] = ()
    found: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A drafted scheme: its paper and parts, and questions no part could be made of, each with the reason."""

    paper: Mapping[str, Any]
    parts: tuple[DraftedPart, ...]
    not_drafted: tuple[tuple[str, str], ...] = ()

    @property
    def table(self) -> dict[str, Any]:
        """The scheme as a parsed TOML file would give it."""
        return {"paper": dict(self.paper), "part": [dict(p.spec) for p in self.parts]}
