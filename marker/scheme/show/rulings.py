"""The rulings in force, in words: what each decides, its value here, and whether a paper or part replaced it."""

from __future__ import annotations

import re
from typing import Any

from pydantic import BaseModel

from marker.scheme.convention import Convention
from marker.scheme.show.model import RulingView

_NUMBER = re.compile(r"^\d+[a-z]?(?:, \d+)* ")


def rulings_of(convention: Convention, usual: Convention | None = None) -> tuple[RulingView, ...]:
    """Every ruling of a convention; those that differ from `usual` are marked as replaced."""
    out = []
    for name, field in Convention.model_fields.items():
        if name in ("name", "source"):
            continue
        value = getattr(convention, name)
        replaced = usual is not None and value != getattr(usual, name)
        meaning = _NUMBER.sub("", field.description or "")
        out.append(RulingView(name=name.replace("_", " "), value=in_words(value), meaning=meaning, replaced=replaced))
    return tuple(out)


def replaced(convention: Convention, usual: Convention) -> tuple[RulingView, ...]:
    """Only the rulings that differ."""
    return tuple(r for r in rulings_of(convention, usual) if r.replaced)


def in_words(value: Any) -> str:
    """A ruling's value as a person reads it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None:
        return "any number"
    if isinstance(value, BaseModel):
        return ", ".join(f"{k} {in_words(v)}" for k, v in value.model_dump().items())
    if isinstance(value, dict):
        return ", ".join(f"{k} {in_words(v)}" for k, v in value.items())
    if isinstance(value, list | tuple):
        return ", ".join(in_words(v) for v in value)
    return f"{value:g}" if isinstance(value, float) else str(value)
