"""`marker scheme …`: options in, one library call, a printed result. Exit status 0 done, 2 refused or not passed."""

from __future__ import annotations

import functools
import json
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, ParamSpec

import typer

from marker.errors import MarkerError

scheme_app = typer.Typer(
    no_args_is_help=True, pretty_exceptions_enable=False, help="Write, prove, draft and show mark schemes, as TOML or as a worksheet."
)
P = ParamSpec("P")
REFUSED = 2

Scheme = Annotated[Path, typer.Argument(help="The scheme: TOML, or the worksheet form (.xlsx).", show_default=False)]
Rules = Annotated[str | None, typer.Option(help="A convention file, or the name of a ready one.", show_default=False)]


def refusals(command: Callable[P, None]) -> Callable[P, None]:
    """A refusal becomes a message on standard error and exit status 2."""

    @functools.wraps(command)
    def told(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            command(*args, **kwargs)
        except MarkerError as error:
            typer.echo(str(error), err=True)
            raise typer.Exit(REFUSED) from None

    return told


@scheme_app.command()
@refusals
def check(
    scheme: Scheme,
    convention: Rules = None,
    every: Annotated[bool, typer.Option("--all", help="List the made-up mistakes and every response that was tried, too.")] = False,
) -> None:
    """Prove a scheme: units, figures, letters, and made-up responses with every known fault. Exit status 2 if it does not pass."""
    from marker.scheme.checking import check_paper
    from marker.scheme.files import load_any
    from marker.scheme.printing import print_proof

    proof = check_paper(load_any(scheme, convention))
    print_proof(proof, every)
    if not proof.passes:
        raise typer.Exit(REFUSED)


@scheme_app.command()
@refusals
def draft(
    source: Annotated[Path, typer.Argument(help="Questions and model answers: a text file or a Word file (.docx).", show_default=False)],
    output: Annotated[Path | None, typer.Option("-o", "--output", help="Scheme to write (.toml or .xlsx); else it is printed.")] = None,
    title: Annotated[str, typer.Option(help="Title of the class test; else its first line, or the file's name.", show_default=False)] = "",
    convention: Annotated[str, typer.Option(help="A convention file, or the name of a ready one.")] = "positive three-mark",
) -> None:
    """Draft a scheme from pasted questions and model answers. What it was unsure of stands in remarks."""
    from marker.scheme.draft import draft_file, draft_text
    from marker.scheme.files import write_table

    made = draft_file(source, title, convention)
    if output is None:
        typer.echo(draft_text(made), nl=False)
    elif output.suffix.lower() == ".xlsx":
        write_table(made.table, output)
    else:
        from marker.reporting.atomic import write_text

        write_text(output, draft_text(made))
    remarks = sum(len(said) for p in made.parts for said in p.remarks.values())
    where = f" Written: {output}." if output else ""
    typer.echo(f"{len(made.parts)} part{'' if len(made.parts) == 1 else 's'} drafted, {remarks} remarks to look at.{where}", err=True)
    for name, why in made.not_drafted:
        typer.echo(f"not drafted: question {name}: {why}", err=True)


@scheme_app.command()
@refusals
def show(
    scheme: Scheme,
    output: Annotated[
        Path | None,
        typer.Option("-o", "--output", help="File to write: .html for a page to print, .xlsx for a workbook; else it is printed here."),
    ] = None,
    convention: Rules = None,
) -> None:
    """Show the marking instructions: expected working, answers with accepted ranges, marks, other methods. A file only with -o."""
    from marker.errors import Problem, SchemeError
    from marker.scheme.files import load_any
    from marker.scheme.show import scheme_page, scheme_text, scheme_view, write_instructions

    if output is None:
        typer.echo(scheme_text(scheme_view(load_any(scheme, convention))))
        return
    if output.suffix.lower() not in (".html", ".htm", ".xlsx"):
        raise SchemeError(Problem(where=str(output), seen="its name ends in neither .html nor .xlsx", mend="Name it instructions.html."))
    view = scheme_view(load_any(scheme, convention))
    if output.suffix.lower() == ".xlsx":
        write_instructions(view, output)
    else:
        from marker.reporting.atomic import write_text

        write_text(output, scheme_page(view))
    typer.echo(f"{view.title}: {len(view.parts)} parts, {view.maximum} marks. Written: {output}.")


@scheme_app.command()
@refusals
def worksheet(
    source: Scheme,
    target: Annotated[Path, typer.Argument(help="The other form to write: .xlsx or .toml.", show_default=False)],
) -> None:
    """Change a scheme from TOML to a worksheet, or back. Nothing is lost either way; comments of a TOML file are not kept."""
    from marker.scheme.files import change_form

    change_form(source, target)
    typer.echo(f"Written: {target}.")


@scheme_app.command()
@refusals
def rulings(
    convention: Annotated[str, typer.Argument(help="A convention file, or the name of a ready one.")] = "positive three-mark",
) -> None:
    """List the rulings of a convention: each with its value there, its options, its meaning and its source."""
    from marker.scheme.paper import load_convention
    from marker.scheme.rulings import rulings_page

    typer.echo(rulings_page(load_convention(convention)))


@scheme_app.command()
@refusals
def examples(
    kind: Annotated[str, typer.Argument(help="A kind of part; all of them when it is left out.", show_default=False)] = "",
) -> None:
    """Print a short example of every kind of part; of one kind with all its keys explained."""
    from marker.scheme.examples import examples_of, examples_text

    typer.echo((examples_of(kind) if kind else examples_text()).rstrip())


@scheme_app.command()
@refusals
def schema(
    output: Annotated[Path | None, typer.Option("-o", "--output", help="File to write; else it is printed.", show_default=False)] = None,
) -> None:
    """The JSON Schema of scheme files, for an editor that completes and checks TOML."""
    from marker.reporting.atomic import write_text
    from marker.scheme.schema import scheme_schema

    text = json.dumps(scheme_schema(), indent=2, ensure_ascii=False) + "\n"
    if output is None:
        typer.echo(text, nl=False)
    else:
        write_text(output, text)
        typer.echo(f"Written: {output}.")
