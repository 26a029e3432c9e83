"""The table of known faults, rubrics/faults.toml, as frozen rows."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from marker.resources import rubrics

Transform = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownFault:
    """One row. `family` is its class, which decides with the convention what it costs; `transform` how the wrong comes from the right.

    teacher, student   texts with placeholders;  name, plain   the same where a value they need is missing;  practise  what to do next
    number   its row in the department's list, 0 when none
    context  a word the part must hold for it to be named;  over  rows not named where this one fits
    """

    code: str
    name: str
    family: str
    transform: Transform
    teacher: str = ""
    student: str = ""
    plain: str = ""
    practise: str = ""
    number: int = 0
    context: str = ""
    over: tuple[str, ...] = ()

    @property
    def kind(self) -> str:
        return str(self.transform["kind"])


@cache
def known_faults() -> tuple[KnownFault, ...]:
    """Every fault, in file order."""
    return tuple(
        KnownFault(
            code=row["code"],
            name=row["name"],
            family=row["class"],
            transform=MappingProxyType(row["transform"]),
            teacher=row.get("teacher", ""),
            student=row.get("student", ""),
            plain=row.get("plain", ""),
            practise=row.get("practise", ""),
            number=row.get("number", 0),
            context=row.get("context", ""),
            over=tuple(row.get("over", ())),
        )
        for row in _table().get("fault", ())
    )


@cache
def contexts() -> Mapping[str, frozenset[str]]:
    """Code of a fault -> kinds of quantity without one of which it makes no sense; from rubrics/fault_contexts.toml."""
    table = tomllib.loads((rubrics() / "fault_contexts.toml").read_text(encoding="utf-8"))
    return {code: frozenset(kinds) for code, kinds in table.items()}


@cache
def kinds_of_transform() -> Mapping[str, str]:
    """Kind of transform -> what it changes: "expression", "datum", "value" or "writing"."""
    return {kind: on for on, kinds in _table().get("kinds", {}).items() for kind in kinds}


@cache
def _table() -> Mapping[str, Any]:
    return tomllib.loads((rubrics() / "faults.toml").read_text(encoding="utf-8"))
