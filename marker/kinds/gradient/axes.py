"""The axes of a graph, from the columns of a table."""

from __future__ import annotations

from dataclasses import dataclass

from marker.kinds.gradient.spec import Column
from marker.kinds.scheme_quantities import UnitOf, refuse, unit_of
from marker.physics.rounding import last_place


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """Readings along one axis in the table's unit. `reach` is half the last place shown, or the stated uncertainty;
    `bars` the stated uncertainty of each reading, empty when none is stated."""

    symbol: str
    name: str
    unit: UnitOf
    values: tuple[float, ...]
    reach: float
    bars: tuple[float, ...] = ()

    @property
    def span(self) -> float:
        return max(self.values) - min(self.values)


def axis_of(column: Column, where: str) -> Axis:
    texts = [str(v) for v in column.values]
    try:
        values, places = tuple(float(t) for t in texts), [last_place(t) for t in texts]
    except ValueError:
        refuse(f"{where}.values", ", ".join(texts[:12]), expected="numbers", mend="Write bare numbers; the unit goes in unit.")
    stated = column.uncertainty
    reach = 0.5 * 10.0 ** min(places) if stated is None else max(stated) if isinstance(stated, list) else float(stated)
    bars = () if stated is None else tuple(map(float, stated)) if isinstance(stated, list) else (float(stated),) * len(values)
    if bars and len(bars) != len(values):
        refuse(
            f"{where}.uncertainty", f"{len(bars)} uncertainties", f"{len(values)}, one per reading", "Give one number for all, or a list."
        )
    return Axis(symbol=column.symbol, name=column.name, unit=unit_of(column.unit, f"{where}.unit"), values=values, reach=reach, bars=bars)
