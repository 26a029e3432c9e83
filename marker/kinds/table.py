"""kind = "table": several values to find, one for each cell, typed as "name: value" lines, as a list, or in the order of the table."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from marker.expression import NO_DIMENSIONS
from marker.kinds.base import Carried, Kind, PartSpec
from marker.kinds.short import Judged, capital, refuse, result_of, where
from marker.kinds.table_cells import Cell, CompiledTable, View, cell_view, in_si
from marker.kinds.table_reading import Filled, filled, name_words
from marker.kinds.words import is_blank, line_reports
from marker.reading import read_quantity
from marker.results import LineReport, OwnValue, PartResult
from marker.scheme.convention import Convention


class CellSpec(BaseModel):
    """One cell.

    label    as the table heads its row or column; candidates may use it, or one of `names`
    value    the right value with its unit;  accept  instead of a tolerance, the lowest and highest value accepted
    figures  significant figures of the least precise datum; default: those are not judged
    marks    its worth (default: equal shares of the part's);  symbol  letter under which later parts carry it
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    label: str = Field(min_length=1)
    names: list[str] = Field(default_factory=list)
    value: str
    accept: list[str] = Field(default_factory=list)
    figures: int | None = Field(default=None, ge=1, le=9)
    marks: float | int | None = Field(default=None, gt=0)
    symbol: str = ""


class TableSpec(PartSpec):
    """Keys of kind = "table".

    cell       the cells, in the order of the table
    units      "heading": the printed heading has the unit, and a value may be bare; "cell": each value needs its own
    tolerance  accepted either side of a value, as a fraction; default: the convention's rounding tolerance
    points     "each": a cell each; "all": every cell right for the marks
    """

    kind: Literal["table"] = "table"
    cell: list[CellSpec] = Field(min_length=1, max_length=60)
    units: Literal["heading", "cell"] = "heading"
    tolerance: float | None = Field(default=None, gt=0, lt=1)
    points: Literal["each", "all"] = "each"


def compile_table(spec: TableSpec, convention: Convention) -> CompiledTable:
    """Raises SchemeError with the key and the mend."""
    convention = convention.with_rulings(spec.rulings)
    worth = _worth(spec, convention)
    cells = tuple(_cell(spec, index, cell, worth[index], convention) for index, cell in enumerate(spec.cell))
    names: dict[int, tuple[tuple[str, ...], ...]] = {}
    seen: set[tuple[str, ...]] = set()
    for index, cell in enumerate(spec.cell):
        phrases = tuple(p for p in (name_words(n) for n in (cell.label, *cell.names)) if p)
        if not phrases or seen & set(phrases):
            refuse(
                spec,
                f"cell {index + 1}, label",
                f'"{cell.label}" does not tell the cell apart',
                "a name of its own",
                "Give each cell another label.",
            )
        seen |= set(phrases)
        names[index] = phrases
    return CompiledTable(
        name=spec.name,
        marks=spec.marks,
        cells=cells,
        names=names,
        needs_unit=spec.units == "cell",
        each=spec.points == "each",
        convention=convention,
    )


def _worth(spec: TableSpec, convention: Convention) -> list[float]:
    """Marks of each cell, adding up to the part's."""
    given = [float(c.marks) for c in spec.cell if c.marks is not None]
    missing = len(spec.cell) - len(given)
    share = (spec.marks - sum(given)) / missing if missing else 0.0
    worth = [share if c.marks is None else float(c.marks) for c in spec.cell]
    step = 2 if convention.half_marks else 1
    whole = spec.points == "all" or all(abs(w * step - round(w * step)) < 1e-9 and w > 0 for w in worth)
    if not whole or abs(sum(worth) - spec.marks) > 1e-9:
        refuse(
            spec,
            "marks",
            f"{spec.marks} marks for {len(spec.cell)} cells",
            "a whole mark for each cell",
            'Give each cell its marks, or use points = "all".',
        )
    return worth


def _cell(spec: TableSpec, index: int, cell: CellSpec, worth: float, convention: Convention) -> Cell:
    key = f"cell {index + 1}, "
    try:
        value = read_quantity(cell.value)
        ends = [read_quantity(text) for text in cell.accept]
    except ValueError as error:
        refuse(spec, f"{key}value", str(error), "a value with its unit", 'Write it as "2.4 V".')
    if len(ends) not in (0, 2):
        refuse(spec, f"{key}accept", f"{len(ends)} values", "the lowest and the highest", 'Write accept = ["2.3 V", "2.5 V"].')
    tolerance = spec.tolerance or convention.rounding_tolerance
    scale = 1.0 if value.unit is None else value.unit.scale
    half = max(abs(value.si) * tolerance, value.number.half * scale)
    low, high = (ends[0].si, ends[1].si) if ends else (value.si - half, value.si + half)
    if low > high or not low <= value.si <= high:
        refuse(spec, f"{key}accept", f"{cell.accept} around {cell.value}", "a range that holds the value", "Put the lower end first.")
    return Cell(
        label=cell.label,
        low=low,
        high=high,
        typed=cell.value,
        unit="" if value.unit is None else value.unit.name,
        scale=scale,
        dimensions=NO_DIMENSIONS if value.unit is None else value.unit.dimensions,
        figures=cell.figures,
        marks=worth,
        symbol=cell.symbol,
    )


# ---- marking ----------------------------------------------------------------------------------------------------------


def mark_table(part: CompiledTable, lines: Sequence[str], carried: Carried) -> PartResult:
    """Marks each cell. Nothing is carried into a table."""
    response = Filled() if is_blank(lines) else filled(lines, part.names, len(part.cells))
    views = _unit_once(part, [cell_view(part, index, response) for index in range(len(part.cells))])
    points = [_point(cell.label, cell.marks, view) for cell, view in zip(part.cells, views, strict=True)]
    if not part.each:
        points = [_together(part, views)]
    own = tuple(
        OwnValue(symbol=cell.symbol, value=in_si(cell, view.way), typed=view.typed, unit=cell.unit, right=bool(view.right))
        for cell, view in zip(part.cells, views, strict=True)
        if cell.symbol and view.way is not None
    )
    return result_of(part.name, part.marks, points, _reports(lines, response, views), own)


def _unit_once(part: CompiledTable, views: list[View]) -> list[View]:
    """A unit fault costs one cell of a part, or none where the convention never charges it."""
    out: list[View] = []
    charged = part.convention.unit_fault_scope == "never"
    for view in views:
        if view.unit_fault and charged:
            out.append(replace(view, right=True, faults=(), why=f"{view.why}, which costs no further mark"))
        else:
            charged = charged or view.unit_fault
            out.append(view)
    return out


def _point(label: str, worth: float, view: View) -> Judged:
    return Judged(
        point=label,
        kind="table",
        maximum=worth,
        marks={0.0: f"{label} is not right", worth: f"{label} is right"} if view.right is None else worth * view.right,
        reason=f"{where(view.lines)}{view.why if view.lines else capital(view.why)}.",
        lines=view.lines,
        doubt=view.why if view.right is None else "",
        faults=view.faults,
    )


def _together(part: CompiledTable, views: Sequence[View]) -> Judged:
    """Every cell right for the marks."""
    wrong = [v for v in views if v.right is False]
    open_ones = [v for v in views if v.right is None]
    right = False if wrong else None if open_ones else True
    telling = wrong or open_ones or list(views)
    view = View(
        right=right,
        why="; ".join(dict.fromkeys(v.why for v in telling)),
        lines=tuple(sorted({n for v in telling for n in v.lines})),
        faults=tuple(f for v in wrong for f in v.faults),
    )
    return _point("table", float(part.marks), view)


def _reports(lines: Sequence[str], response: Filled, views: Sequence[View]) -> tuple[LineReport, ...]:
    verdicts: dict[int, tuple[str, str, tuple[str, ...]]] = {n: ("withdrawn", "", ()) for n in response.taken_back}
    for view in views:
        for number in view.lines if view.way is not None or view.right is False else ():
            before = verdicts.get(number, ("right", "", ()))
            verdict = "right" if view.right and before[0] == "right" else "wrong"
            note = "" if view.right else view.why
            verdicts[number] = (verdict, "; ".join(n for n in (before[1], note) if n), (*before[2], *([view.way.text] if view.way else [])))
    return line_reports(lines, verdicts, response.unread)


def model_table(part: CompiledTable) -> tuple[str, ...]:
    """A line for each cell."""
    return tuple(f"{cell.label}: {cell.typed}" for cell in part.cells)


KIND = Kind(name="table", spec=TableSpec, compile=compile_table, mark=mark_table, model=model_table)
