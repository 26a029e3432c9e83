"""Kinds of part: how each is set and marked, in one table.

A kind is a module that offers `KIND`. The table names the modules; each is imported when a scheme first asks for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from importlib import import_module

from marker.kinds.base import Kind

_MODULES: Mapping[str, str] = {
    "calculation": "marker.kinds.calculation",
    "direction": "marker.kinds.direction",
    "written": "marker.kinds.written",
    "gradient": "marker.kinds.gradient",
    "proportion": "marker.kinds.proportion",
    "uncertainty": "marker.kinds.uncertainty",
    "choice": "marker.kinds.choice",
    "true or false": "marker.kinds.true_false",
    "unit": "marker.kinds.unit_only",
    "estimate": "marker.kinds.magnitude",
    "table": "marker.kinds.table",
    "derivation": "marker.kinds.derivation",
    "rearrangement": "marker.kinds.rearrangement",
}


class _Kinds(Mapping[str, Kind]):
    """Read-only: name -> Kind, imported at first use."""

    def __getitem__(self, name: str) -> Kind:
        kind = import_module(_MODULES[name]).KIND
        assert isinstance(kind, Kind)
        return kind

    def __iter__(self) -> Iterator[str]:
        return iter(_MODULES)

    def __len__(self) -> int:
        return len(_MODULES)


KINDS: Mapping[str, Kind] = _Kinds()

__all__ = ["KINDS", "Kind"]
