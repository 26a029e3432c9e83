"""A PostgreSQL server of our own for the tests, started from installed packages; or one given by MARKER_TEST_POSTGRES."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import mkdtemp

GIVEN = "MARKER_TEST_POSTGRES"


class NoServer(Exception):
    """Why none could be started."""


@contextmanager
def server() -> Iterator[str]:
    """The address of a running server, without a database name. Raises NoServer with the reason."""
    given = os.environ.get(GIVEN)
    if given:
        yield given.rstrip("/")
        return
    programs = _programs()
    try:
        import psycopg  # noqa: F401
    except ImportError:
        raise NoServer("the driver psycopg is not installed") from None
    folder = Path(mkdtemp(prefix="marker-pg-"))
    try:
        yield from _running(programs, folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _running(programs: Path, folder: Path) -> Iterator[str]:
    as_user = _other_user(folder)
    port = _free_port()
    data = folder / "data"
    _run([*as_user, str(programs / "initdb"), "-D", str(data), "-A", "trust", "-U", "marker", "-E", "UTF8", "--locale=C"])
    options = f"-p {port} -h 127.0.0.1 -k {folder} -c fsync=off"
    _run([*as_user, str(programs / "pg_ctl"), "-D", str(data), "-w", "-t", "60", "-o", options, "-l", str(folder / "log"), "start"])
    try:
        yield f"postgresql://marker@127.0.0.1:{port}"
    finally:
        _run([*as_user, str(programs / "pg_ctl"), "-D", str(data), "-m", "immediate", "stop"])


def _programs() -> Path:
    found = shutil.which("initdb")
    if found:
        return Path(found).resolve().parent
    folders = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    if not folders:
        raise NoServer("PostgreSQL is not installed")
    return folders[-1].parent


def _other_user(folder: Path) -> list[str]:
    """PostgreSQL refuses to run as root: then the packages' own user runs it."""
    if os.geteuid() != 0:
        return []
    if shutil.which("runuser") is None:
        raise NoServer("PostgreSQL does not run as root, and there is no runuser")
    try:
        shutil.chown(folder, "postgres", "postgres")
    except LookupError:
        raise NoServer("PostgreSQL does not run as root, and there is no user postgres") from None
    return ["runuser", "-u", "postgres", "--"]


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _run(command: list[str]) -> None:
    done = subprocess.run(command, capture_output=True, text=True, cwd="/", timeout=120, check=False, stdin=subprocess.DEVNULL)
    if done.returncode != 0:
        raise NoServer(f"{Path(command[-1]).name}: {(done.stderr or done.stdout).strip()[-300:]}")
