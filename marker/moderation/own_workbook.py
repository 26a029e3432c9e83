"""What our own marks workbook tells besides the marks: points, provisional marks, the teacher's decisions, and the typed lines."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from marker.moderation.grid import Grid
from marker.moderation.model import Mark, Response, point_marks
from marker.reporting import read_decisions
from marker.reporting.workbook.layout import POINTS, RECORD, REFER, WORKING

FACTS = ("Class test", "Marked", "Scheme", "Responses", "Convention", "Marked with")


def details(path: Path, sheets: Mapping[str, Grid]) -> dict[Response, Mark]:
    """(candidate, part) -> the mark that stands (the teacher's where there is one), with points and typed lines; {} for other workbooks.

    The points are those the engine's own mark was made of, and are left out where the teacher's mark is another one.
    """
    if POINTS not in sheets or REFER not in sheets:
        return {}
    found = read_decisions(path)
    texts = _texts(sheets.get(WORKING))
    marks = {}
    for key, earlier in found.earlier.items():
        decision = found.made.get(key)
        own = None if decision is None else decision.mark
        value = earlier.mark if own is None else own
        marks[key] = Mark(
            candidate=key[0],
            part=key[1],
            mark=value,
            maximum=earlier.maximum,
            marker="",
            points=point_marks((p.point, p.mark, p.maximum) for p in earlier.points if value == earlier.mark),
            text=texts.get(key, ""),
            referred=earlier.referred and own is None,
        )
    return marks


def _texts(grid: Grid | None) -> dict[Response, str]:
    """The typed lines of each response from the sheet Working."""
    header = grid.header(("candidate", "part", "line", "as typed")) if grid is not None else None
    if grid is None or header is None:
        return {}
    top, columns = header
    lines: dict[Response, list[str]] = {}
    for i in range(top + 1, len(grid.rows)):
        candidate, part, line, typed = (grid.cell(i, columns[k]) for k in ("candidate", "part", "line", "as typed"))
        if isinstance(line.value, int | float):
            lines.setdefault((candidate.text, part.text), []).append("" if typed.value is None else str(typed.value))
    return {key: "\n".join(found) for key, found in lines.items()}


def facts(sheets: Mapping[str, Grid]) -> dict[str, str]:
    """What the sheet Record says of how the marks came about: scheme, responses and convention, and every ruling in force."""
    grid = sheets.get(RECORD)
    if grid is None:
        return {}
    found = {row[0].text: row[1].text for row in grid.rows if len(row) > 1 and row[0].text in FACTS}
    header = grid.header(("ruling", "value", "source"))
    if header is not None:
        rulings = [grid.cell(i, j).text for i in range(header[0] + 1, len(grid.rows)) for j in (0, 1)]
        found["Rulings"] = "; ".join(f"{name}: {value}" for name, value in zip(rulings[::2], rulings[1::2], strict=True) if name)
    return {name: text for name, text in found.items() if text}
