"""The rows of answers.toml as parts and expectations."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from marker.kinds.written import KIND, WrittenSpec
from marker.kinds.written.finding import Finding
from marker.kinds.written.judge import judge_all
from marker.kinds.written.part import WrittenPart
from marker.kinds.written.prose import read
from marker.results import Outcome
from marker.scheme.convention import Convention

COMMON = "common practice, no source"
ALLOWED = {
    "e": {Outcome.EARNED}, "n": {Outcome.NOT_EARNED}, "r": {Outcome.REFERRED},
    "E": {Outcome.EARNED, Outcome.REFERRED}, "N": {Outcome.NOT_EARNED, Outcome.REFERRED},
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    part: str
    typed: str
    expect: str
    mark: float | None
    source: str

    def __str__(self) -> str:
        return f"{self.part}: {self.typed}"


def load(name: str) -> tuple[dict[str, WrittenPart], tuple[Row, ...]]:
    data = tomllib.loads((Path(__file__).parent / name).read_text(encoding="utf-8"))
    parts, rows = {}, []
    for question in data["question"]:
        part = compiled({**question["part"], "idea": question["idea"]})
        parts[part.name] = part
        rows += [
            Row(part=part.name, typed=r["typed"], expect=r["expect"], mark=r.get("mark"), source=r.get("source", COMMON))
            for r in question["rows"]
        ]
    return parts, tuple(rows)


def compiled(keys: dict[str, Any], convention: Convention | None = None) -> WrittenPart:
    part = KIND.compile(WrittenSpec.model_validate({"kind": "written", **keys}), convention or Convention())
    assert isinstance(part, WrittenPart)
    return part


def findings(part: WrittenPart, typed: str) -> tuple[Finding, ...]:
    """What was found about each idea of a typed answer."""
    return judge_all(read(tuple(typed.split("\n")), part.known), part)


PARTS, ROWS = load("answers.toml")
_MORE = (load("answers_more.toml"), load("answers_third.toml"))
MORE_PARTS = {name: part for parts, _ in _MORE for name, part in parts.items()}
MORE_ROWS = tuple(row for _, rows in _MORE for row in rows)
