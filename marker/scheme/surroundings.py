"""What a calculation part needs of its paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from marker.errors import Problem, SchemeError
from marker.expression import Dimensions, Unit

DataSheet = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What a part needs of its paper: the data sheet's constants, and the quantities of earlier parts that may be carried.

    data      symbol -> accepted values, the first of which the answers are worked out with
    carried   "part.symbol" -> (value in SI, unit, dimensions, figures)
    """

    data: DataSheet
    carried: Mapping[str, Carryable]


@dataclass(frozen=True, slots=True, kw_only=True)
class Carryable:
    value: float
    unit: Unit | None
    dimensions: Dimensions | None
    figures: int
    sensible: tuple[float, float] | None = None
    shown: float | None = None
    accept: tuple[float, float] | None = None


def problem(where: str, key: str, seen: str, expected: str = "", mend: str = "") -> SchemeError:
    return SchemeError(Problem(where=f"{where}, {key}", seen=seen, expected=expected, mend=mend))
