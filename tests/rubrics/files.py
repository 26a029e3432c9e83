"""The data files, read as they stand."""

import math
import tomllib
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from marker.resources import rubrics

REAL = MappingProxyType({name: getattr(math, name) for name in ("pi", "sqrt", "sin", "cos", "tan", "exp", "log10")} | {"ln": math.log})


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads((rubrics() / name).read_text(encoding="utf-8"))


@lru_cache(maxsize=1)
def sheets() -> dict[str, dict[str, Any]]:
    """File name without its ending -> content of one relationship sheet."""
    folder = rubrics() / "relationships"
    return {f.name.removesuffix(".toml"): _read(f"relationships/{f.name}") for f in sorted(folder.iterdir(), key=lambda f: f.name)}


@lru_cache(maxsize=1)
def relationships() -> dict[str, dict[str, Any]]:
    """Name -> relationship, over all sheets."""
    return {r["name"]: r for sheet in sheets().values() for r in sheet["relationship"]}


@lru_cache(maxsize=1)
def quantities() -> dict[str, dict[str, Any]]:
    return {q["name"]: q for q in _read("quantities.toml")["quantity"]}


@lru_cache(maxsize=1)
def constants() -> dict[str, dict[str, Any]]:
    return {c["symbol"]: c for c in _read("constants.toml")["constant"]}


@lru_cache(maxsize=1)
def faults() -> dict[str, Any]:
    return _read("faults.toml")


def unit_of(relationship: dict[str, Any], symbol: str) -> str:
    """Unit text of a symbol of a relationship: its own, its quantity's or its constant's."""
    if symbol in relationship.get("units", {}):
        return str(relationship["units"][symbol])
    if symbol in relationship["quantities"]:
        return str(quantities()[relationship["quantities"][symbol]]["unit"])
    return str(constants()[symbol]["unit"])
