"""The command that serves the pages: arguments in, class test marked and kept, server started."""

from __future__ import annotations

import os
import socket
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from marker.web.settings import Settings
    from marker.web.storage import Store

STORE = "MARKER_STORE"
LOOPBACK = ("127.0.0.1", "localhost")
EVERYWHERE = "0.0.0.0"


def serve(
    scheme: Annotated[Path | None, typer.Argument(help="A scheme file (TOML), to practise and, with responses, to settle.")] = None,
    responses: Annotated[Path | None, typer.Argument(help="The responses of a class: CSV, .xlsx or JSON Lines.")] = None,
    store: Annotated[
        str, typer.Option(envvar=STORE, help="Where decisions are kept: a file, or postgresql://user@host/name.")
    ] = "marker.db",
    convention: Annotated[str | None, typer.Option(help="A convention file, or the name of a ready one.")] = None,
    keep: Annotated[Path | None, typer.Option(help="An earlier workbook whose teacher's marks are taken over.")] = None,
    port: Annotated[int, typer.Option(min=0, max=65535, help="Port to listen on; 0 for any free one.")] = 8417,
    host: Annotated[str, typer.Option(help="Address to listen on. Another than this machine's own needs --department.")] = "127.0.0.1",
    known_as: Annotated[
        list[str] | None, typer.Option(help="A name the pages are reached by, such as physics.example; may be repeated.")
    ] = None,
    department: Annotated[bool, typer.Option(help="Everyone signs in with a one-time code that the teacher makes.")] = False,
    https: Annotated[bool, typer.Option(help="The pages are reached over https, by way of a proxy on this machine.")] = False,
    name: Annotated[str, typer.Option(help="The teacher's name in the record.")] = "Teacher",
    jobs: Annotated[int, typer.Option(help="Processes to mark with; 0 for one a processor.")] = 1,
) -> None:
    """Open the local pages: settle what was referred, see the class at a glance, practise."""
    from marker.web.settings import Settings
    from marker.web.storage import open_store

    _allowed(host, department)
    settings = Settings(department=department, https=https, hosts=_hosts(host, known_as or []), teacher=name)
    opened = open_store(store)
    try:
        if scheme is not None:
            _take_in(opened, scheme, responses, convention, keep, jobs or os.cpu_count() or 1, name)
        _run(opened, settings, host, port)
    finally:
        opened.close()


def _allowed(host: str, department: bool) -> None:
    from marker.errors import Problem
    from marker.web.errors import ServeError

    if host not in LOOPBACK and not department:
        seen = f"{host} is open to others, and without --department anyone there could practise and read the questions"
        raise ServeError(Problem(where="--host", seen=seen, mend="Add --department, or leave --host out."))


def _hosts(host: str, names: list[str]) -> tuple[str, ...]:
    own = () if host in (*LOOPBACK, EVERYWHERE) else (host,)
    return tuple(dict.fromkeys(("127.0.0.1", "localhost", *own, *names)))


def _take_in(store: Store, scheme: Path, responses: Path | None, convention: str | None, keep: Path | None, jobs: int, who: str) -> None:
    """Marks the class test and keeps it, unless it is there already just as it is."""
    from marker.web.taking import take_in, take_practice

    if responses is None:
        typer.echo(take_practice(store, scheme, convention, who).told)
        return
    taken = take_in(store, scheme, responses, convention=convention, keep=keep, jobs=jobs, who=who)
    for sentence in taken.set_aside:
        typer.echo(f"to look at: {sentence}", err=True)
    typer.echo(taken.told)


def _run(store: Store, settings: Settings, host: str, port: int) -> None:
    import uvicorn

    from marker.web.app import create_app

    app = create_app(store, settings)
    listening = _listen(host, port)
    address = f"http://{LOOPBACK[0] if host == EVERYWHERE else host}:{listening.getsockname()[1]}"
    typer.echo(f"Pages: {address}/")
    typer.echo(f"For the teacher: {address}/open/{app.state.office.link}")
    typer.echo("The second address is the teacher's key; keep it to yourself. Ctrl-C ends; nothing is lost.")
    config = uvicorn.Config(
        app, log_level="warning", access_log=False, server_header=False, proxy_headers=settings.https, timeout_graceful_shutdown=3
    )
    uvicorn.Server(config).run(sockets=[listening])


def _listen(host: str, port: int) -> socket.socket:
    from marker.errors import Problem
    from marker.web.errors import ServeError

    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((host, port))
        made.listen(128)
    except OSError as error:
        made.close()
        why = (error.strerror or "no reason given").lower()
        mend = "Give another --port; 0 takes any free one."
        raise ServeError(Problem(where=f"{host}, port {port}", seen=f"cannot be listened on ({why})", mend=mend)) from None
    return made
