"""The look of the workbook: one set of named styles, made once and shared by every cell.

Quiet paper tones and one accent. Every state that has a fill also has a sign, a border or words of its own, so that a
black-and-white print says the same.
"""

from __future__ import annotations

from copy import copy
from typing import Any

FONT = "Arial"
INK = "22303A"
QUIET = "5E6B74"
ACCENT = "1D5C63"
RULE = "C9D1D4"
STRONG_RULE = "7C8B90"
HEAD_FILL = "E4ECEC"
WAITING_FILL = "FBEFD0"
INPUT_FILL = "FFFCF2"
OWN_FILL = "E3EEF7"
TOTAL_FILL = "F3F6F6"

GENERAL = "General"
TEXT = "@"
PERCENT = "0%"
ONE_PLACE = "0.0"
TWO_PLACES = "0.00"


def shared_styles(book: Any) -> dict[str, Any]:
    """Name -> openpyxl style array of every named style, after registering the styles with the workbook."""
    scratch = book.create_sheet("styles being made")
    arrays: dict[str, Any] = {}
    for style in _named_styles():
        book.add_named_style(style)
        cell = scratch.cell(1, 1)
        cell.style = style.name
        arrays[style.name] = copy(cell._style)
        cell.quotePrefix = True
        arrays[style.name + " quoted"] = copy(cell._style)
    book.remove(scratch)
    return arrays


def _named_styles() -> list[Any]:
    thin, firm = _sides()
    below = {"bottom": thin}
    start = {"bottom": thin, "top": firm}
    box = {"left": thin, "right": thin, "top": thin, "bottom": thin}
    return [
        _style("title", size=16, bold=True, colour=ACCENT, vertical="center"),
        _style("subtitle", colour=QUIET, vertical="center"),
        _style("plain", wrap=False),
        _style("note", colour=QUIET, wrap=True),
        _style("status", bold=True, wrap=False, vertical="center"),
        _style("heading", size=12, bold=True, colour=ACCENT, vertical="bottom"),
        _style("head", bold=True, fill=HEAD_FILL, edges={"bottom": firm}, wrap=True, vertical="center"),
        _style("head centred", bold=True, fill=HEAD_FILL, edges={"bottom": firm}, wrap=True, across="center", vertical="center"),
        _style("out of", colour=QUIET, across="center", italic=True),
        _style("out of label", colour=QUIET, italic=True),
        _style("candidate", bold=True, edges=below, form=TEXT, vertical="center"),
        _style("group", colour=QUIET, edges=below, form=TEXT, vertical="center"),
        _style("mark", edges=below, across="center", vertical="center"),
        _style("total", bold=True, edges=below, fill=TOTAL_FILL, across="center", vertical="center"),
        _style("percent", edges=below, fill=TOTAL_FILL, across="center", vertical="center", form=PERCENT),
        _style("to settle", edges=below, vertical="center", wrap=True),
        _style("foot label", bold=True, edges=below, fill=TOTAL_FILL),
        _style("foot mean", edges=below, fill=TOTAL_FILL, across="center", form=ONE_PLACE),
        _style("foot percent", edges=below, fill=TOTAL_FILL, across="center", form=PERCENT),
        _style("cell", edges=below, wrap=True),
        _style("cell code", edges=below, form=TEXT, bold=True),
        _style("cell centred", edges=below, across="center"),
        _style("cell mark", edges=below, bold=True, across="center"),
        _style("cell again", edges=below, form=TEXT, colour=QUIET),
        _style("cell mean", edges=below, across="center", form=TWO_PLACES),
        _style("cell percent", edges=below, across="center", form=PERCENT),
        _style("start", edges=start, wrap=True),
        _style("start code", edges=start, form=TEXT, bold=True),
        _style("start centred", edges=start, across="center"),
        _style("start mark", edges=start, bold=True, across="center"),
        _style("input mark", edges=box, fill=INPUT_FILL, across="center", bold=True, vertical="center"),
        _style("input text", edges=box, fill=INPUT_FILL, wrap=True),
        _style("input code", edges=box, fill=INPUT_FILL, form=TEXT),
        _style("state", edges=below, bold=True, wrap=True),
    ]


def _sides() -> tuple[Any, Any]:
    from openpyxl.styles import Side

    return Side(style="thin", color=RULE), Side(style="medium", color=STRONG_RULE)


def _style(
    name: str,
    *,
    size: float = 10,
    bold: bool = False,
    italic: bool = False,
    colour: str = INK,
    fill: str = "",
    edges: dict[str, Any] | None = None,
    across: str | None = None,
    vertical: str = "top",
    wrap: bool = False,
    form: str = GENERAL,
) -> Any:
    from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill

    style = NamedStyle(name=name)
    style.font = Font(name=FONT, size=size, bold=bold, italic=italic, color=colour)
    style.alignment = Alignment(horizontal=across, vertical=vertical, wrap_text=wrap)
    style.number_format = form
    if fill:
        style.fill = PatternFill("solid", fgColor=fill)
    if edges:
        style.border = Border(**edges)
    return style
