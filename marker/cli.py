"""The command line: arguments in, one library call, printed result. Exit status 0 done, 1 a person is needed (--strict), 2 refused."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Optional

import typer

app = typer.Typer(no_args_is_help=True, add_completion=False, help="Marks typed answers and calculations in school physics, and says why.")
scheme_app = typer.Typer(no_args_is_help=True, help="Prove, draft and show mark schemes.")
app.add_typer(scheme_app, name="scheme")

REFUSED = 2
NEEDS_A_PERSON = 1


@app.command()
def mark(
    scheme: Annotated[Path, typer.Argument(help="The scheme file (TOML).")],
    responses: Annotated[Path, typer.Argument(help="The responses: CSV, .xlsx or JSON Lines.")],
    output: Annotated[Path, typer.Option("-o", "--output", help="The workbook to write.")] = Path("marks.xlsx"),
    records: Annotated[Optional[Path], typer.Option(help="Also write one JSON object a response to this file.")] = None,
    convention: Annotated[Optional[str], typer.Option(help="A convention file, or the name of a ready one.")] = None,
    keep: Annotated[Optional[Path], typer.Option(help="An earlier workbook whose teacher's marks are kept.")] = None,
    jobs: Annotated[int, typer.Option(help="Processes to use; 0 for one a processor.")] = 1,
    strict: Annotated[bool, typer.Option(help="Exit with 1 when a response is referred or a row was set aside.")] = False,
) -> None:
    """Mark a class test and write its workbook."""
    from marker.classwork import mark_files
    from marker.reporting import read_decisions, write_records, write_workbook

    decisions = read_decisions(keep) if keep else None
    marked, problems = mark_files(
        scheme, responses, convention=convention, jobs=jobs or os.cpu_count() or 1, progress=_progress() if sys.stderr.isatty() else None
    )
    write_workbook(output, marked, decisions)
    if records is not None:
        write_records(records, marked.responses())
    for problem in problems:
        typer.echo(f"set aside: {problem.sentence()}", err=True)
    referred = len(marked.referrals())
    total = len(marked.results)
    typer.echo(f"{marked.title}: {total} responses of {len(marked.candidates)} candidates marked, {referred} referred to you. Workbook: {output}")
    if strict and (referred or problems):
        raise typer.Exit(NEEDS_A_PERSON)


def _progress() -> Callable[[int, int], None]:
    """Candidates done, on standard error, once marking has taken a second."""
    began = time.monotonic()

    def tell(done: int, of: int) -> None:
        if time.monotonic() - began > 1:
            end = "\n" if done == of else "\r"
            sys.stderr.write(f"marked {done} of {of} candidates{end}")
            sys.stderr.flush()

    return tell


def main() -> None:
    """The installed command. Our own refusals become one message and status 2."""
    from marker.errors import MarkerError

    try:
        app()
    except MarkerError as error:
        typer.echo(str(error), err=True)
        sys.exit(REFUSED)


if __name__ == "__main__":
    main()
