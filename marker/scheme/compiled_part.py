"""One part of a scheme, compiled once: a part that a change of the scheme leaves alone keeps what was worked out for it.

A class is marked again and again while its scheme is put right, and a page loads the scheme anew each time. What a part is
compiled to hangs on its own table, its convention, the data sheet, the earlier parts it carries values from and any file its
kind reads beside the scheme; while these are word for word the same, it is the same object, and so keeps its marked responses.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from marker.kinds.base import Kind, PartSpec
from marker.scheme.convention import Convention

MOST_PARTS = 500


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CompiledPart:
    """One part, of any kind, ready for marking. It is equal to itself alone."""

    name: str
    question: str
    marks: float
    kind: Kind
    spec: PartSpec
    compiled: Any
    convention: Convention


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """What a part may know of its paper: the data sheet, and the parts before it."""

    sheet: Mapping[str, tuple[str, ...]]
    earlier: tuple[CompiledPart, ...]


@dataclass(frozen=True, slots=True)
class _Order:
    """A part to be compiled. Orders are equal when all that the part hangs on is the same."""

    hangs_on: tuple[object, ...]
    spec: PartSpec = field(compare=False)
    kind: Kind = field(compare=False)
    convention: Convention = field(compare=False)
    around: Around = field(compare=False)


def compiled_part(spec: PartSpec, kind: Kind, convention: Convention, around: Around) -> CompiledPart:
    """The part ready for marking; the same object as before when nothing it hangs on has changed. Raises SchemeError."""
    return _compiled(_Order(_hangs_on(spec, kind, convention, around), spec, kind, convention, around))


def _hangs_on(spec: PartSpec, kind: Kind, convention: Convention, around: Around) -> tuple[object, ...]:
    own = (kind.name, spec.model_dump_json(), convention.model_dump_json(), kind.beside(spec))
    if kind.compile_in_paper is None:
        return own
    carried = {text.partition(".")[0].strip() for text in getattr(spec, "carry", {}).values()}
    sources = tuple(p for p in around.earlier if p.name in carried)
    return (*own, tuple(around.sheet.items()), sources)


@lru_cache(maxsize=MOST_PARTS)
def _compiled(order: _Order) -> CompiledPart:
    spec, kind, convention = order.spec, order.kind, order.convention
    compiled = kind.compile_in_paper(spec, convention, order.around) if kind.compile_in_paper else kind.compile(spec, convention)
    return CompiledPart(
        name=spec.name,
        question=getattr(compiled, "question", "") or spec.question or spec.name,
        marks=float(spec.marks),
        kind=kind,
        spec=spec,
        compiled=compiled,
        convention=convention,
    )
