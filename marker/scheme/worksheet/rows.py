"""A scheme as rows and back: one row for each part, and one for each step, route, point, direction and idea under it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from marker.scheme.toml_writer import key_text, value
from marker.scheme.worksheet.columns import BY_KEY, CHILDREN, PART, cell_value

Cell = str | int | float


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row: the part it belongs to, what it is, column title -> cell, and its further keys as TOML lines."""

    part: str
    row: str
    cells: Mapping[str, Cell] = field(default_factory=dict)
    further: str = ""


def rows_of(scheme: Mapping[str, Any]) -> Iterator[Row]:
    """Every row of a scheme, in its order."""
    for number, part in enumerate(scheme.get("part", ()), 1):
        yield from _rows(part, str(part.get("name", number)), PART)


def _rows(table: Mapping[str, Any], part: str, kind: str) -> Iterator[Row]:
    cells: dict[str, Cell] = {}
    further: list[str] = []
    children: list[tuple[str, list[Any]]] = []
    for key, v in table.items():
        if key in CHILDREN and _all_tables(v):
            children.append((key, v))
            continue
        column = BY_KEY.get(key)
        written = cell_value(column, kind, v) if column is not None else None
        if column is None or written is None:
            further.append(f"{key_text(key)} = {value(v)}")
        else:
            cells[column.title] = written
    yield Row(part=part, row=kind, cells=cells, further="\n".join(further))
    for key, tables in children:
        for inner in tables:
            yield from _rows(inner, part, CHILDREN[key])


def _all_tables(v: Any) -> bool:
    return isinstance(v, list) and bool(v) and all(isinstance(x, Mapping) for x in v)
