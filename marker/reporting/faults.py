"""Faults by name: what a fault's stable code is called, and what a student practises against it. The data are in rubrics/."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from marker.resources import rubrics


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultWords:
    """`name` as a teacher would say it; `practise` completes "practise …"; `family` is its class. "" where the data have nothing."""

    name: str
    practise: str = ""
    family: str = ""


def fault_words(code: str) -> FaultWords:
    """The words for a code; for one the data do not have, the code itself in words."""
    found = _table().get(code)
    return found if found is not None else FaultWords(name=_plain(code))


@lru_cache(maxsize=1)
def _table() -> Mapping[str, FaultWords]:
    words = {entry["code"]: _words(entry["code"], entry) for entry in _load("faults.toml").get("fault", [])}
    folder = rubrics() / "faults"
    names = sorted(p.name for p in folder.iterdir() if p.name.endswith(".toml")) if folder.is_dir() else []
    for file in names:
        for code, entry in _load("faults/" + file).items():
            if isinstance(entry, dict):
                words.setdefault(code, _words(code, entry))
    return words


def _words(code: str, entry: Mapping[str, Any]) -> FaultWords:
    return FaultWords(name=entry.get("name", _plain(code)), practise=entry.get("practise", ""), family=entry.get("class", ""))


def _plain(code: str) -> str:
    return code.replace("-", " ").replace("_", " ")


def _load(name: str) -> dict[str, Any]:
    path = rubrics() / name
    return tomllib.loads(path.read_text(encoding="utf-8")) if path.is_file() else {}
