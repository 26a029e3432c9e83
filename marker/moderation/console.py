"""Where commands print: results on standard output, messages on standard error; typed text is never taken for markup."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import typer


def say(text: str) -> None:
    typer.echo(text)


def complain(text: str) -> None:
    typer.echo(text, err=True)


def show_table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    table = Table(*heads, box=None, pad_edge=False, header_style="bold")
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    Console(highlight=False, markup=False).print(table)
