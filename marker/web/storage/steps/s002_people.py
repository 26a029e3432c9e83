"""Step 2: people, their one-time codes, and practice."""

from __future__ import annotations

from sqlalchemy import Boolean, Column, Connection, Float, ForeignKey, Index, Integer, MetaData, String, Table, Text

from marker.web.storage.steps.step import Step


def _tables() -> MetaData:
    metadata = MetaData()
    Table("class_test", metadata, Column("id", Integer, primary_key=True))
    Table(
        "person",
        metadata,
        Column("id", Integer, primary_key=True),
        Column("name", String(120), nullable=False),
        Column("role", String(12), nullable=False),
        Column("active", Boolean, nullable=False),
        Column("added_at", String(32), nullable=False),
    )
    Table(
        "access_code",
        metadata,
        Column("id", Integer, primary_key=True),
        Column("person_id", ForeignKey("person.id"), nullable=False),
        Column("digest", String(64), nullable=False, unique=True),
        Column("made_at", String(32), nullable=False),
        Column("made_by", Text, nullable=False),
        Column("ends_at", String(32), nullable=False),
        Column("used_at", String(32), nullable=True),
    )
    _practice(metadata)
    return metadata


def _practice(metadata: MetaData) -> None:
    attempt = Table(
        "attempt",
        metadata,
        Column("id", Integer, primary_key=True),
        Column("person_id", ForeignKey("person.id"), nullable=False),
        Column("class_test_id", ForeignKey("class_test.id"), nullable=False),
        Column("part_name", String(120), nullable=False),
        Column("scheme_sha256", String(64), nullable=False),
        Column("draw", Integer, nullable=False),
        Column("began_at", String(32), nullable=False),
        Column("ended_at", String(32), nullable=True),
        Column("mark", Float, nullable=False),
        Column("maximum", Float, nullable=False),
        Column("done", Boolean, nullable=False),
        Column("hints", Integer, nullable=False),
        Column("hint_strength", Integer, nullable=False),
    )
    Index("attempt_person", attempt.c.person_id, attempt.c.class_test_id, attempt.c.part_name)
    line = Table(
        "attempt_line",
        metadata,
        Column("id", Integer, primary_key=True),
        Column("attempt_id", ForeignKey("attempt.id"), nullable=False),
        Column("text", Text, nullable=False),
        Column("verdict", String(20), nullable=False),
        Column("fault", String(80), nullable=False),
        Column("at", String(32), nullable=False),
        Column("taken_back_at", String(32), nullable=True),
    )
    Index("attempt_lines", line.c.attempt_id)


def _run(connection: Connection) -> None:
    metadata = _tables()
    for name in ("person", "access_code", "attempt", "attempt_line"):
        metadata.tables[name].create(connection)


STEP = Step(number=2, title="people, one-time codes and practice", run=_run)
