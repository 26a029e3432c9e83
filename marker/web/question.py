"""A part as a student is asked it: the words, the values given, and any table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.kinds.gradient.spec import Column, Table
from marker.kinds.uncertainty.spec import Measured, UncertaintySpec
from marker.scheme.calculation import CalculationPart, StepSpec
from marker.scheme.vary import Varied


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """`stem` is the question's text; `asks` what to find; `given` are (symbol, value); `table` rows, head first."""

    name: str
    marks: float
    stem: str
    asks: tuple[str, ...]
    given: tuple[tuple[str, str], ...]
    table: tuple[tuple[str, ...], ...]
    fresh: bool


def question_of(drawn: Varied) -> Question:
    spec = drawn.part.spec
    asks = tuple(_ask(s) for s in spec.steps()) if isinstance(spec, CalculationPart) else ()
    table = getattr(spec, "table", None)
    return Question(
        name=drawn.part.name,
        marks=drawn.part.marks,
        stem=drawn.stem,
        asks=asks,
        given=tuple((shown_symbol(s), v) for s, v in drawn.data) or _measured(spec),
        table=_rows(table) if isinstance(table, Table) else (),
        fresh=drawn.fresh,
    )


def shown_symbol(name: str) -> str:
    """A letter without the mark of its index: θ_1 as θ1."""
    return name.replace("_", "")


def _ask(step: StepSpec) -> str:
    letter = shown_symbol(step.find)
    label = f"({step.label}) " if step.label else ""
    if step.show:
        return f"{label}Show that {letter} is about {step.show}."
    return f"{label}Find {letter} in {step.unit}." if step.unit else f"{label}Find {letter}."


def _measured(spec: object) -> tuple[tuple[str, str], ...]:
    if not isinstance(spec, UncertaintySpec):
        return ()
    found = [(shown_symbol(name), _quantity(q)) for name, q in spec.quantities.items()]
    return (*found, *((shown_symbol(n), v) for n, v in spec.given.items()))


def _quantity(measured: str | Measured) -> str:
    if isinstance(measured, str):
        return measured
    if measured.readings:
        return f"{', '.join(map(str, measured.readings))} {measured.unit}".strip()
    return f"{measured.value} ± {measured.uncertainty}" if measured.uncertainty else measured.value


def _rows(table: Table) -> tuple[tuple[str, ...], ...]:
    return (_column(table.x), _column(table.y))


def _column(column: Column) -> tuple[str, ...]:
    head = " ".join(filter(None, (column.name, shown_symbol(column.symbol))))
    values: Sequence[str] = [str(v) for v in column.values]
    return (f"{head} / {column.unit}" if column.unit else head, *values)
