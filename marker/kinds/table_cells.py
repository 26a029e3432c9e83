"""One cell of a table judged: its value, its figures, its unit."""

import math
from dataclasses import dataclass, replace

from marker.expression import Dimensions
from marker.kinds.short import fault
from marker.kinds.table_reading import Filled
from marker.kinds.typed_values import Typed, Worth
from marker.physics.evaluate import same_dimensions
from marker.results import FaultFound
from marker.scheme.convention import Convention


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """low, high in SI; `scale` and `unit` of the scheme's value."""

    label: str
    low: float
    high: float
    typed: str
    unit: str
    scale: float
    dimensions: Dimensions
    figures: int | None
    marks: float
    symbol: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CompiledTable:
    name: str
    marks: int
    cells: tuple[Cell, ...]
    names: dict[int, tuple[tuple[str, ...], ...]]
    needs_unit: bool
    each: bool
    convention: Convention


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One cell judged. `unit_fault` True when only the unit is at fault; `way` the value as read, None for an empty cell."""

    right: bool | None
    why: str
    lines: tuple[int, ...] = ()
    faults: tuple[FaultFound, ...] = ()
    unit_fault: bool = False
    way: Worth | None = None
    typed: str = ""


def cell_view(part: CompiledTable, index: int, response: Filled) -> View:
    cell, found = part.cells[index], response.cells.get(index, ())
    if not found:
        if response.doubt:
            return View(right=None, why=response.doubt)
        if response.unread:
            return View(
                right=None, why=f"line {min(response.unread)} could not be read, and may hold {cell.label}", lines=(min(response.unread),)
            )
        return View(right=False, why=f"nothing is given for {cell.label}")
    views = [_value(part, index, typed) for typed in found]
    rights = [v.right for v in views]
    if len({_rounded(v) for v in views}) == 1:
        return views[-1]
    counted = {"first": rights[0], "last": rights[-1], "best": True in rights}.get(part.convention.two_answers, all(rights))
    texts = " and ".join(f"“{t.text.strip()}”" for t in found)
    return View(right=bool(counted), why=f"{texts} are both given for {cell.label}", lines=tuple(sorted({t.line for t in found})))


def _rounded(view: View) -> str:
    return "" if view.way is None else f"{view.way.si:.6g}"


def _value(part: CompiledTable, index: int, typed: Typed) -> View:
    cell = part.cells[index]
    way = next((w for w in typed.ways if _inside(cell, w)), typed.ways[0])
    text = f"“{typed.text.strip()}”"
    view = View(right=True, why=f"{text} for {cell.label} is right", lines=(typed.line,), way=way, typed=typed.text.strip())
    if not _inside(cell, way):
        why = f"{text} for {cell.label} is not right; it is {cell.typed}"
        return replace(view, right=False, why=why, faults=(_wrong(part, index, typed, way),))
    figures = _figures(part, cell, typed, way)
    if figures is not None:
        return replace(view, right=False, why=f"{text} for {cell.label} has the wrong number of significant figures", faults=(figures,))
    missing = bool(cell.unit) and part.needs_unit and not way.unit
    other = way.unit and not same_dimensions(way.dimensions, cell.dimensions)
    if (missing or other) and part.convention.unit_fault != "none":
        code = "unit-absent" if missing else "unit-of-another-quantity"
        found = fault(code, typed.line, said=text, of=cell.label, unit=cell.unit)
        why = f"{text} for {cell.label} {'has no unit' if missing else 'has the unit of another quantity'}"
        return replace(view, right=False, why=why, faults=(found,), unit_fault=True)
    return view


def in_si(cell: Cell, way: Worth) -> float:
    """In SI; a bare number, or one with another quantity's unit, by its digits in the scheme's unit."""
    return way.si if way.unit and same_dimensions(way.dimensions, cell.dimensions) else way.raw * cell.scale


def _inside(cell: Cell, way: Worth) -> bool:
    """Within the range, or rounded on the way from a value within it."""
    value, slack = in_si(cell, way), 1e-9 * max(abs(cell.low), abs(cell.high))
    half = way.half[0] if way.unit and same_dimensions(way.dimensions, cell.dimensions) else way.half[1] * cell.scale
    if cell.low - slack <= value <= cell.high + slack:
        return True
    middle = (cell.low + cell.high) / 2
    return cell.figures is not None and half > 0 and abs(value - middle) <= half * (1 + 1e-9) and way.figures is not None


def _figures(part: CompiledTable, cell: Cell, typed: Typed, way: Worth) -> FaultFound | None:
    window = part.convention.significant_figures
    if cell.figures is None or way.figures is None or window.scope == "never":
        return None
    reference = cell.figures if window.reference == "least datum" else window.fixed
    low, high = max(1, reference - window.under), math.inf if window.over is None else reference + window.over
    if way.figures[1] >= low and way.figures[0] <= high:
        return None
    few = way.figures[1] < low
    return fault("figures-of-cell", typed.line, said=f"“{typed.text.strip()}”", way="too few" if few else "too many", right=cell.typed)


def _wrong(part: CompiledTable, index: int, typed: Typed, way: Worth) -> FaultFound:
    """The value of another cell, or simply wrong."""
    cell = part.cells[index]
    other = next((c for i, c in enumerate(part.cells) if i != index and _inside(c, way)), None)
    if other is not None:
        return fault("cells-exchanged", typed.line, sure=False, cell=cell.label, other=other.label)
    return fault("cell-wrong", typed.line, said=f"“{typed.text.strip()}”", cell=cell.label, right=cell.typed)
