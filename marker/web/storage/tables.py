"""The tables of the store as they stand now. `steps/` holds how an older file becomes this.

Times are text, UTC, ISO 8601 with a final Z, so that they sort as they stand. Records are the JSON of `marker.results.as_record`.
"""

from __future__ import annotations

from sqlalchemy import Boolean, Column, Float, ForeignKey, Index, Integer, MetaData, String, Table, Text, UniqueConstraint

metadata = MetaData()

setting = Table("setting", metadata, Column("name", String(40), primary_key=True), Column("value", Text, nullable=False))

class_test = Table(
    "class_test",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("title", Text, nullable=False),
    Column("scheme_name", String(255), nullable=False),
    Column("scheme_text", Text, nullable=False),
    Column("scheme_sha256", String(64), nullable=False),
    Column("convention_name", String(255), nullable=False),  # the convention asked for beside the scheme's own; "" for none
    Column("beside", Text, nullable=False),  # JSON: name -> text of the files the scheme needs beside it
    Column("convention", Text, nullable=False),
    Column("rulings", Text, nullable=False),  # JSON: [[ruling, value, source], ...]
    Column("responses_name", String(255), nullable=False),  # "" for a scheme that is only practised
    Column("responses_sha256", String(64), nullable=False),
    Column("marked_at", String(40), nullable=False),
    Column("version", String(40), nullable=False),
    Column("half_marks", Boolean, nullable=False),
    Column("notes", Text, nullable=False),  # JSON: list of text
    Column("practice", Boolean, nullable=False),
    Column("added_at", String(32), nullable=False),
    Column("added_by", Text, nullable=False),
)

part = Table(
    "part",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("class_test_id", ForeignKey("class_test.id"), nullable=False),
    Column("position", Integer, nullable=False),
    Column("name", String(120), nullable=False),
    Column("maximum", Float, nullable=False),
    UniqueConstraint("class_test_id", "name", name="one_part_of_a_name"),
)

candidate = Table(
    "candidate",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("class_test_id", ForeignKey("class_test.id"), nullable=False),
    Column("position", Integer, nullable=False),
    Column("name", String(200), nullable=False),
    Column("class_group", String(200), nullable=False),
    UniqueConstraint("class_test_id", "name", name="one_candidate_of_a_name"),
)

response = Table(
    "response",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("class_test_id", ForeignKey("class_test.id"), nullable=False),
    Column("part_id", ForeignKey("part.id"), nullable=False),
    Column("candidate_id", ForeignKey("candidate.id"), nullable=False),
    Column("mark", Float, nullable=False),
    Column("maximum", Float, nullable=False),
    Column("referred", Boolean, nullable=False),
    Column("alike", String(32), nullable=False),
    Column("stands", Float, nullable=False),  # the mark that counts: the person's where there is one, else `mark`
    Column("settled", Boolean, nullable=False),
    Column("decision_id", Integer, nullable=True),  # the last decision about it
    Column("record", Text, nullable=False),  # last: a database reads a row up to the column it needs
    UniqueConstraint("part_id", "candidate_id", name="one_response_to_a_part"),
)
Index("response_queue", response.c.class_test_id, response.c.referred, response.c.part_id, response.c.alike, response.c.settled)
Index("response_candidate", response.c.class_test_id, response.c.candidate_id)

fault = Table(
    "fault",
    metadata,
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
Index("fault_count", fault.c.class_test_id, fault.c.code)

decision = Table(
    "decision",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("response_id", ForeignKey("response.id"), nullable=False),
    Column("follows", Integer, nullable=False),  # the decision it replaces; 0 for the first
    Column("action", String(12), nullable=False),  # settle, undo, kept, lapsed
    Column("mark", Float, nullable=True),  # None: the provisional mark stands again
    Column("choice", Text, nullable=False),
    Column("reason", Text, nullable=False),
    Column("batch", String(32), nullable=False),
    Column("person_id", Integer, nullable=True),
    Column("who", Text, nullable=False),
    Column("at", String(32), nullable=False),
    UniqueConstraint("response_id", "follows", name="one_decision_after_another"),
    sqlite_autoincrement=True,
)
Index("decision_batch", decision.c.batch)

person = Table(
    "person",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", String(120), nullable=False),
    Column("role", String(12), nullable=False),
    Column("active", Boolean, nullable=False),
    Column("added_at", String(32), nullable=False),
)

access_code = Table(
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

attempt = Table(
    "attempt",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("person_id", ForeignKey("person.id"), nullable=False),
    Column("class_test_id", ForeignKey("class_test.id"), nullable=False),
    Column("part_name", String(120), nullable=False),
    Column("scheme_sha256", String(64), nullable=False),
    Column("draw", Integer, nullable=False),  # 0: the numbers of the paper
    Column("began_at", String(32), nullable=False),
    Column("ended_at", String(32), nullable=True),
    Column("mark", Float, nullable=False),
    Column("maximum", Float, nullable=False),
    Column("done", Boolean, nullable=False),
    Column("hints", Integer, nullable=False),  # how many were asked for in all
    Column("hint_strength", Integer, nullable=False),  # of those now showing; 0 none, 4 the next step
)
Index("attempt_person", attempt.c.person_id, attempt.c.class_test_id, attempt.c.part_name)

attempt_line = Table(
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
Index("attempt_lines", attempt_line.c.attempt_id)
