"""Stores to test with: SQLite in a file, and PostgreSQL where it can be started."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import pytest

from tests.web.postgres import NoServer, server


@pytest.fixture(scope="session")
def postgres() -> Iterator[str]:
    """The address of a PostgreSQL server; the tests that need one are skipped, with the reason, where there is none."""
    running = server()
    try:
        address = running.__enter__()
    except NoServer as why:
        pytest.skip(f"no PostgreSQL: {why}")
    yield address
    running.__exit__(None, None, None)


@pytest.fixture(params=["sqlite", "postgresql"])
def where(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where a new, empty store may be: a file, and a database of a running server."""
    if request.param == "sqlite":
        return str(tmp_path / "store.db")
    address = request.getfixturevalue("postgres")
    return f"{address}/{_database(address)}"


def _database(address: str) -> str:
    import psycopg

    name = f"t{uuid4().hex}"
    with psycopg.connect(f"{address}/postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
    return name
