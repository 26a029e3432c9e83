"""Bringing a store up to date: numbered steps, each run once and in order, within one transaction.

The table schema_step records what was run. A step is never changed once it has been released; a later one mends it.
"""

from __future__ import annotations

from sqlalchemy import Column, Connection, Engine, Integer, MetaData, String, Table, Text, insert, inspect, select, text

from marker.errors import Problem
from marker.web.errors import StoreError
from marker.web.storage.clock import now
from marker.web.storage.steps import STEPS, Step

_steps_run = Table(
    "schema_step",
    MetaData(),
    Column("number", Integer, primary_key=True),
    Column("title", Text, nullable=False),
    Column("run_at", String(32), nullable=False),
)
_LOCK = 7_355_608  # any number of our own: two servers that start at once must not both bring the store up to date


def bring_up_to_date(engine: Engine, steps: tuple[Step, ...] = STEPS) -> tuple[int, ...]:
    """Runs the steps this store has not had. Returns their numbers. Raises StoreError for a store newer than `steps`."""
    with engine.connect().execution_options(writes=True) as connection, connection.begin():
        if engine.dialect.name == "postgresql":
            connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _LOCK})
        done = _done(connection)
        newest = steps[-1].number
        if done and max(done) > newest:
            seen = f"written by a newer version (schema {max(done)}; this one knows {newest})"
            raise StoreError(Problem(where="store", seen=seen, mend="Install the newer version, or use another store."))
        waiting = [s for s in steps if s.number not in done]
        for step in waiting:
            step.run(connection)
            connection.execute(insert(_steps_run).values(number=step.number, title=step.title, run_at=now()))
    return tuple(s.number for s in waiting)


def _done(connection: Connection) -> set[int]:
    names = inspect(connection).get_table_names()
    if _steps_run.name in names:
        return set(connection.execute(select(_steps_run.c.number)).scalars())
    if names and any(n in names for n in ("class_test", "response", "decision")):
        raise StoreError(Problem(where="store", seen="tables of the same names that are not ours", mend="Use another file or database."))
    _steps_run.create(connection)
    return set()
