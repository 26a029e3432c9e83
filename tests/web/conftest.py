"""What the tests of the pages share: stores on both databases, the pages served for real, and a browser."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from starlette.applications import Starlette

from marker.web.app import create_app
from marker.web.storage import Store
from tests.web.browsing import NoBrowser, chromium
from tests.web.postgres import NoServer, server
from tests.web.running import Served
from tests.web.scene import settings, store_with_class


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


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """A store in a file that holds the class test of the scene."""
    opened, _ = store_with_class(tmp_path / "store.db")
    yield opened
    opened.close()


@pytest.fixture
def app(store: Store) -> Starlette:
    """The pages over that store."""
    return create_app(store, settings())


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """A browser; the tests that need one are skipped, with the reason, where there is none."""
    running = chromium()
    try:
        found = running.__enter__()
    except NoBrowser as why:
        pytest.skip(f"no browser: {why}")
    yield found
    running.__exit__(None, None, None)


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """The pages served for real over a store that holds the class test of the scene."""
    file = tmp_path / "store.db"
    store, _ = store_with_class(file)
    store.close()
    with Served("--store", str(file)) as running:
        yield running
