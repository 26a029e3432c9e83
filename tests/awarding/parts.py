"""Small parts built in code for table tests."""

from __future__ import annotations

from typing import Any

from marker import build_paper, mark_response
from marker.results import PartResult
from marker.scheme.paper import CompiledPart


def one_part(rulings: dict[str, Any] | None = None, data: dict[str, Any] | None = None, **keys: Any) -> CompiledPart:
    """A paper of one calculation part under the default convention, some rulings replaced."""
    part = {"name": "a", "marks": 3, **keys}
    paper: dict[str, Any] = {"title": "one part", "rulings": rulings or {}}
    if data:
        paper["data"] = data
    return build_paper({"paper": paper, "part": [part]}).parts[0]


def mark(part: CompiledPart, typed: str) -> PartResult:
    """Marks lines written on one line with "; " between them, or with line breaks."""
    lines = typed.split("\n") if "\n" in typed else typed.split("; ")
    return mark_response(part, [line for line in lines if line.strip()])
