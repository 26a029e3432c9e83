"""The command line: arguments in, one library call, printed result. Exit status 0 done, 1 a person is needed (--strict), 2 refused."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Annotated

import typer

from marker.moderation.commands import app as moderate_app
from marker.scheme.commands import scheme_app
from marker.web.commands import serve

app = typer.Typer(
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    help="Marks typed answers and calculations in school physics, and says why.",
)
app.add_typer(scheme_app, name="scheme", help="Prove, draft and show mark schemes.")
app.add_typer(moderate_app, name="moderate", help="Samples, blind second marks, agreement, adjustment and the record.")
app.command()(serve)

REFUSED = 2
NEEDS_A_PERSON = 1


@app.command()
def mark(
    scheme: Annotated[Path, typer.Argument(help="The scheme file (TOML).")],
    responses: Annotated[Path, typer.Argument(help="The responses: CSV, .xlsx or JSON Lines.")],
    output: Annotated[Path, typer.Option("-o", "--output", help="The workbook to write.")] = Path("marks.xlsx"),
    records: Annotated[Path | None, typer.Option(help="Also write one JSON object a response to this file.")] = None,
    convention: Annotated[str | None, typer.Option(help="A convention file, or the name of a ready one.")] = None,
    keep: Annotated[Path | None, typer.Option(help="An earlier workbook whose teacher's marks are kept.")] = None,
    jobs: Annotated[int, typer.Option(help="Processes to use; 0 for one a processor.")] = 1,
    strict: Annotated[bool, typer.Option(help="Exit with 1 when a response is referred or the file needs a look.")] = False,
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
        typer.echo(f"to look at: {problem.sentence()}", err=True)
    referred, total = len(marked.referrals()), len(marked.results)
    candidates = _count(len(marked.candidates), "candidate")
    typer.echo(f"{marked.title}: {_count(total, 'response')} of {candidates} marked, {referred} referred to you.")
    typer.echo(f"Workbook: {output}. You remain the marker: a mark typed on the sheet Refer replaces the one proposed.")
    if strict and (referred or problems):
        raise typer.Exit(NEEDS_A_PERSON)


@app.command()
def read(
    lines: Annotated[list[str] | None, typer.Argument(help="Lines of working, as typed.")] = None,
    given: Annotated[list[str] | None, typer.Option("--with", help='A value, such as "I=3.2 A"; may be repeated.')] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON, the same fields as on the screen.")] = False,
    notation: Annotated[bool, typer.Option(help="Show the notations that are read, with examples.")] = False,
) -> None:
    """Show how a line is read, its other readings, and which of its equalities hold."""
    from marker.reading.report import notation_page, report, show

    if notation:
        typer.echo(notation_page())
        return
    typed = list(lines or ()) or [line.rstrip("\n") for line in sys.stdin]
    typer.echo(show(report(typed, given or []), as_json=as_json, colour=sys.stdout.isatty()))


@app.command()
def feedback(
    scheme: Annotated[Path, typer.Argument(help="The scheme file (TOML).")],
    records: Annotated[Path, typer.Argument(help="The records written by marker mark --records.")],
    output: Annotated[Path, typer.Option("-o", "--output", help="The folder for the pages.")] = Path("feedback"),
    workbook: Annotated[Path | None, typer.Option(help="The workbook, whose teacher's marks are honoured.")] = None,
    pdf: Annotated[bool, typer.Option(help="Also print the class's page to PDF, with Chromium.")] = False,
) -> None:
    """Write a feedback page for every candidate, and one for the class to print."""
    from marker.classwork import feedback_material
    from marker.reporting import read_decisions
    from marker.reporting.feedback import write_feedback, write_pdf

    marked, answers = feedback_material(scheme, records)
    pages = write_feedback(output, marked, read_decisions(workbook) if workbook else None, answers)
    if pdf:
        write_pdf(pages[-1], pages[-1].with_suffix(".pdf"))
    typer.echo(f"{_count(len(pages) - 1, 'feedback page')} and the class's page {pages[-1].name} written to {output}.")


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _progress() -> Callable[[int, int], None]:
    """Candidates done, on standard error, once marking has taken a second."""
    began = time.monotonic()

    def tell(done: int, of: int) -> None:
        if time.monotonic() - began > 1:
            sys.stderr.write(f"marked {done} of {of} candidates" + ("\n" if done == of else "\r"))
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
