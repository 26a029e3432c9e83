"""What final-year physics calls its quantities: usual letters and words, from rubrics/quantities.toml and rubrics/constants.toml."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

from marker.expression import Dimensions
from marker.physics.evaluate import same_dimensions
from marker.physics.units import parse_unit
from marker.resources import rubrics


@dataclass(frozen=True, slots=True, kw_only=True)
class QuantityKind:
    """A quantity of physics: the letters and words used for it, its SI unit and dimensions."""

    name: str
    letters: tuple[str, ...]
    words: tuple[str, ...]
    unit: str
    dimensions: Dimensions | None
    angle: bool
    signed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Constant:
    """A constant of nature or of the data sheet. `values` are accepted values in SI, the reference one first."""

    symbol: str
    letters: tuple[str, ...]
    words: tuple[str, ...]
    unit: str
    values: tuple[str, ...]


def _table(name: str) -> dict[str, Any]:
    path = rubrics() / name
    return tomllib.loads(path.read_text(encoding="utf-8")) if path.is_file() else {}


def unit_dimensions(text: str) -> Dimensions | None:
    """Dimensions of a unit as text; None for no unit."""
    if not text or text == "1":
        return None
    found = parse_unit(text)
    return found[0][0].dimensions if found else None


@cache
def quantity_kinds() -> tuple[QuantityKind, ...]:
    """Every quantity kind of the library, in file order."""
    return tuple(
        QuantityKind(
            name=row["name"],
            letters=tuple(row.get("symbols", ())),
            words=tuple(dict.fromkeys((row["name"], *row.get("words", ())))),
            unit=row.get("unit", ""),
            dimensions=unit_dimensions(row.get("unit", "")),
            angle=bool(row.get("angle", False)),
            signed=bool(row.get("may_be_negative", False)),
        )
        for row in _table("quantities.toml").get("quantity", ())
    )


@cache
def constants() -> tuple[Constant, ...]:
    """Every constant of the library."""
    return tuple(
        Constant(
            symbol=row["symbol"],
            letters=tuple(row.get("aliases", ())),
            words=tuple(row.get("names", ())),
            unit=row.get("unit", ""),
            values=tuple(str(v) for v in (row["value"], *row.get("accepted", ()))),
        )
        for row in _table("constants.toml").get("constant", ())
    )


@lru_cache(maxsize=1_000)
def _kinds_with(dimensions: Dimensions) -> tuple[QuantityKind, ...]:
    return tuple(k for k in quantity_kinds() if k.dimensions is not None and same_dimensions(k.dimensions, dimensions))


def kinds_of(symbol: str, dimensions: Dimensions | None) -> tuple[QuantityKind, ...]:
    """Quantity kinds a letter may stand for, given its dimensions: those whose first letter it is; else those that list it.

    An index is left off ("E_k", "θ1", "m₂"), unless the whole is listed.
    """
    stem = symbol.split("_")[0].rstrip("0123456789₀₁₂₃₄₅₆₇₈₉'")
    if dimensions is None:
        return ()
    fitting = _kinds_with(dimensions)
    for wanted in (symbol, stem):
        first = [k for k in fitting if k.letters and k.letters[0] == wanted]
        if first:
            return tuple(first)
    named = [k for k in fitting if symbol in k.letters or (stem and stem in k.letters)]
    return tuple(named) if named else fitting if len(fitting) == 1 else ()
