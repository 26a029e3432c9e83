"""A short part of every kind, to copy and change, and the keys each kind has."""

from __future__ import annotations

import inspect
import re
from difflib import get_close_matches

from pydantic import BaseModel

from marker.errors import Problem, SchemeError
from marker.kinds.base import PartSpec
from marker.resources import rubrics

_PART = re.compile(r"(?m)^(?=# ---|\[\[part\]\])")
_KIND = re.compile(r'(?m)^kind = "([^"]+)"')


def examples_text() -> str:
    """The file of examples, a scheme that can be used as it stands."""
    return (rubrics() / "examples.toml").read_text(encoding="utf-8")


def examples_of(kind: str) -> str:
    """The examples of one kind of part, and its keys explained. Raises SchemeError for a kind there is not."""
    from marker.kinds import KINDS

    if kind not in KINDS:
        near = get_close_matches(kind, KINDS, n=1)
        mend = f"Did you mean {near[0]!r}?" if near else f"Use one of {', '.join(sorted(KINDS))}."
        raise SchemeError(Problem(where="examples", seen=f"{kind!r} is not a kind of part", mend=mend))
    parts = [text for own, text in _parts() if own == kind]
    return "\n".join([*(p.rstrip() + "\n" for p in parts), *_explained(KINDS[kind].spec)])


def _parts() -> list[tuple[str, str]]:
    """(kind, text) of every example with the remarks above it."""
    found: list[tuple[str, str]] = []
    remarks = ""
    for piece in _PART.split(examples_text())[1:]:
        if not piece.startswith("[[part]]"):
            remarks += piece
            continue
        kind = _KIND.search(piece)
        found.append((kind.group(1) if kind else "calculation", remarks + piece))
        remarks = ""
    return found


def _explained(spec: type[BaseModel]) -> list[str]:
    """What is said of the keys of a kind and of the tables inside it."""
    inherited = [m for m in spec.__mro__ if issubclass(m, BaseModel) and m not in (BaseModel, PartSpec)]
    keys = "\n".join(_keys(m) for m in inherited)
    return [f"Keys\n{keys}\n", *(f"{m.__name__.removesuffix('Spec')}\n{_keys(m)}\n" for m in _tables(spec) if m.__doc__)]


def _keys(model: type[BaseModel]) -> str:
    """The docstring's account of the keys; where it has none, its one line."""
    text = inspect.cleandoc(model.__doc__ or "")
    head, _, body = text.partition("\n\n")
    return "\n".join(f"  {line}" for line in (body or head).splitlines())


def _tables(model: type[BaseModel]) -> list[type[BaseModel]]:
    from marker.scheme.paper import models_in

    found: list[type[BaseModel]] = []
    for field in model.model_fields.values():
        for inner in models_in(field.annotation):
            found += [m for m in (inner, *_tables(inner)) if m not in found]
    return found
