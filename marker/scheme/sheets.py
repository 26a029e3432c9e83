"""The relationship sheets of rubrics/relationships/: named relationships a scheme may use."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from marker.resources import rubrics


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRelationship:
    """One row of a sheet. `quantities` maps its symbols to quantity kinds; `constants` are symbols of rubrics/constants.toml."""

    name: str
    names: tuple[str, ...]
    topic: str
    equation: str
    quantities: Mapping[str, str]
    constants: tuple[str, ...]
    when: str
    special_of: str
    domain: Mapping[str, str]
    source: str


@cache
def sheet_relationships() -> tuple[SheetRelationship, ...]:
    """Every relationship of every sheet, by file name and then in file order."""
    folder = rubrics() / "relationships"
    files = sorted((f for f in folder.iterdir() if f.name.endswith(".toml")), key=lambda f: f.name)
    found: list[SheetRelationship] = []
    for file in files:
        sheet = tomllib.loads(file.read_text(encoding="utf-8"))
        found.extend(_row(r, sheet.get("topic", file.name.removesuffix(".toml"))) for r in sheet.get("relationship", ()))
    return tuple(found)


def _row(row: Mapping[str, Any], topic: str) -> SheetRelationship:
    return SheetRelationship(
        name=row["name"],
        names=tuple(row.get("names", ())),
        topic=topic,
        equation=row["equation"],
        quantities=dict(row.get("quantities", {})),
        constants=tuple(row.get("constants", ())),
        when=row.get("when", ""),
        special_of=row.get("special_of", ""),
        domain=dict(row.get("domain", {})),
        source=row.get("source", ""),
    )


@cache
def by_name() -> Mapping[str, SheetRelationship]:
    """Sheet relationships under their names and other names, in lower case."""
    out: dict[str, SheetRelationship] = {}
    for row in sheet_relationships():
        for name in (row.name, *row.names):
            out.setdefault(name.casefold(), row)
    return out
