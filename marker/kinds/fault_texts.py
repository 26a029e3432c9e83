"""Faults of graphs and uncertainties with their wording, from rubrics/faults/graphs.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache

from marker.resources import rubrics
from marker.results import FaultFound


@lru_cache(maxsize=1)
def _texts() -> Mapping[str, Mapping[str, str]]:
    found: Mapping[str, Mapping[str, str]] = tomllib.loads((rubrics() / "faults" / "graphs.toml").read_text(encoding="utf-8"))
    return found


def codes() -> frozenset[str]:
    return frozenset(_texts())


def fault(code: str, line: int | None = None, *, sure: bool = True, **values: object) -> FaultFound:
    """The fault of that code with its places filled in. Raises KeyError on a code that is not in the file."""
    entry = _texts()[code]
    filled = {k: str(v) for k, v in values.items()}
    teacher, student = (entry[k].format_map(filled) for k in ("teacher", "student"))
    return FaultFound(code=code, line=line, teacher=teacher, student=student, sure=sure)
