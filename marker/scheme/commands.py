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
    every: Annotated[bool, typer.Option("--all", help="List every response that was tried, not only those that surprise.")] = False,
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
