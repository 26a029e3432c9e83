"""Faults of a written answer with their wording, from rubrics/faults/written.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from functools import lru_cache

from marker.kinds.written.finding import Finding
from marker.kinds.written.part import WrittenPart
from marker.resources import rubrics
from marker.results import FaultFound, Outcome

_CODES = {"contradicted": "idea-contradicted", "not enough": "idea-not-enough", "doubtful": "idea-doubtful", "spelling": "term-spelling"}


@lru_cache(maxsize=1)
def texts() -> Mapping[str, Mapping[str, str]]:
    found: Mapping[str, Mapping[str, str]] = tomllib.loads((rubrics() / "faults" / "written.toml").read_text(encoding="utf-8"))
    return found


def faults(part: WrittenPart, findings: Sequence[Finding], wrong_points: Sequence[str]) -> tuple[FaultFound, ...]:
    """What went wrong, idea by idea, where the candidate's own words show it. An idea that is merely missing is no fault."""
    found = [
        _fault(_CODES[f.code], f.lines[0] if f.lines else None, f.outcome is not Outcome.REFERRED, f.words, idea.states)
        for idea, f in zip(part.ideas, findings, strict=True)
        if f.code in _CODES and f.words
    ]
    named = {f.code for f in found}
    found += [
        _fault("idea-contradicted", f.lines[0] if f.lines else None, False, f.words, idea.states)
        for idea, f in zip(part.ideas, findings, strict=True)
        if f.contradiction and not f.earned and f.words and "idea-contradicted" not in named
    ]
    found += [_fault("list-wrong-point", None, True, text, "") for text in wrong_points]
    return tuple(found)


def _fault(code: str, line: int | None, sure: bool, said: str, wanted: str) -> FaultFound:
    entry = texts()[code]
    teacher, student = (entry[k].format_map({"said": said, "wanted": wanted}) for k in ("teacher", "student"))
    return FaultFound(code=code, line=line, teacher=teacher, student=student, sure=sure)
