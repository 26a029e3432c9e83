"""Step 1: class tests, responses, and the decisions on them."""

from __future__ import annotations

from sqlalchemy import Boolean, Column, Connection, Float, ForeignKey, Index, Integer, MetaData, String, Table, Text, UniqueConstraint

from marker.web.storage.steps.step import Step

_metadata = MetaData()

Table("setting", _metadata, Column("name", String(40), primary_key=True), Column("value", Text, nullable=False))

Table(
    "class_test",
    _metadata,
    Column("id", Integer, primary_key=True),
    Column("title", Text, nullable=False),
    Column("scheme_name", String(255), nullable=False),
    Column("scheme_text", Text, nullable=False),
    Column("scheme_sha256", String(64), nullable=False),
    Column("convention_name", String(255), nullable=False),
    Column("beside", Text, nullable=False),
    Column("convention", Text, nullable=False),
    Column("rulings", Text, nullable=False),
    Column("responses_name", String(255), nullable=False),
    Column("responses_sha256", String(64), nullable=False),
    Column("marked_at", String(40), nullable=False),
    Column("version", String(40), nullable=False),
    Column("half_marks", Boolean, nullable=False),
    Column("notes", Text, nullable=False),
    Column("practice", Boolean, nullable=False),
    Column("added_at", String(32), nullable=False),
    Column("added_by", Text, nullable=False),
)

Table(
    "part",
    _metadata,
    Column("id", Integer, primary_key=True),
    Column("class_test_id", ForeignKey("class_test.id"), nullable=False),
    Column("position", Integer, nullable=False),
    Column("name", String(120), nullable=False),
    Column("maximum", Float, nullable=False),
    UniqueConstraint("class_test_id", "name", name="one_part_of_a_name"),
)

Table(
    "candidate",
    _metadata,
    Column("id", Integer, primary_key=True),
    Column("class_test_id", ForeignKey("class_test.id"), nullable=False),
    Column("position", Integer, nullable=False),
    Column("name", String(200), nullable=False),
    Column("class_group", String(200), nullable=False),
    UniqueConstraint("class_test_id", "name", name="one_candidate_of_a_name"),
)

_response = Table(
    "response",
    _metadata,
    Column("id", Integer, primary_key=True),
    Column("class_test_id", ForeignKey("class_test.id"), nullable=False),
    Column("part_id", ForeignKey("part.id"), nullable=False),
    Column("candidate_id", ForeignKey("candidate.id"), nullable=False),
    Column("mark", Float, nullable=False),
    Column("maximum", Float, nullable=False),
    Column("referred", Boolean, nullable=False),
    Column("alike", String(32), nullable=False),
    Column("stands", Float, nullable=False),
    Column("settled", Boolean, nullable=False),
    Column("decision_id", Integer, nullable=True),
    Column("record", Text, nullable=False),
    UniqueConstraint("part_id", "candidate_id", name="one_response_to_a_part"),
)
Index("response_queue", _response.c.class_test_id, _response.c.referred, _response.c.part_id, _response.c.alike, _response.c.settled)
Index("response_candidate", _response.c.class_test_id, _response.c.candidate_id)

_fault = Table(
    "fault",
    _metadata,
    Column("id", Integer, primary_key=True),
    Column("class_test_id", ForeignKey("class_test.id"), nullable=False),
    Column("response_id", ForeignKey("response.id"), nullable=False),
    Column("part_id", ForeignKey("part.id"), nullable=False),
    Column("candidate_id", ForeignKey("candidate.id"), nullable=False),
    Column("code", String(80), nullable=False),
    Column("line", Integer, nullable=True),
    Column("typed", Text, nullable=False),
    Column("words", Text, nullable=False),
)
Index("fault_count", _fault.c.class_test_id, _fault.c.code)

_decision = Table(
    "decision",
    _metadata,
    Column("id", Integer, primary_key=True),
    Column("response_id", ForeignKey("response.id"), nullable=False),
    Column("follows", Integer, nullable=False),
    Column("action", String(12), nullable=False),
    Column("mark", Float, nullable=True),
    Column("choice", Text, nullable=False),
    Column("reason", Text, nullable=False),
    Column("batch", String(32), nullable=False),
    Column("person_id", Integer, nullable=True),
    Column("who", Text, nullable=False),
    Column("at", String(32), nullable=False),
    UniqueConstraint("response_id", "follows", name="one_decision_after_another"),
    sqlite_autoincrement=True,
)
Index("decision_batch", _decision.c.batch)


def _run(connection: Connection) -> None:
    _metadata.create_all(connection, checkfirst=False)


STEP = Step(number=1, title="class tests, responses and decisions", run=_run)
