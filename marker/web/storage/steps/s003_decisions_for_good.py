"""Step 3: the database itself refuses to change or remove a decision once it is recorded."""

from __future__ import annotations

from sqlalchemy import Connection, text

from marker.web.storage.steps.step import Step

_SAID = "decisions are recorded for good"

_SQLITE = tuple(
    f"CREATE TRIGGER decision_no_{event.lower()} BEFORE {event} ON decision BEGIN SELECT RAISE(ABORT, '{_SAID}'); END"
    for event in ("UPDATE", "DELETE")
)
_POSTGRESQL = (
    f"CREATE FUNCTION decision_for_good() RETURNS trigger AS $$ BEGIN RAISE EXCEPTION '{_SAID}'; END $$ LANGUAGE plpgsql",
    "CREATE TRIGGER decision_no_change BEFORE UPDATE OR DELETE ON decision FOR EACH ROW EXECUTE FUNCTION decision_for_good()",
    "CREATE TRIGGER decision_no_truncate BEFORE TRUNCATE ON decision EXECUTE FUNCTION decision_for_good()",
)


def _run(connection: Connection) -> None:
    for line in _SQLITE if connection.dialect.name == "sqlite" else _POSTGRESQL:
        connection.execute(text(line))


STEP = Step(number=3, title="decisions cannot be changed or removed", run=_run)
