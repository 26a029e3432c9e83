"""Practice: attempts at a part, the lines typed, and each student's own progress. Every function asks for one person only."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from sqlalchemy import and_, case, func, insert, select, update

from marker.web.storage import tables as t
from marker.web.storage.clock import now
from marker.web.storage.engine import Store
from marker.web.storage.texts import fit, storable

NEXT_STEP = 4
"""The hint strength at which the next step itself is shown; 1 to 3 are the hints."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedLine:
    id: int
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """One go at a part. `draw` says which numbers; `lines` those typed and not taken back."""

    id: int
    person_id: int
    test_id: int
    part: str
    scheme_sha256: str
    draw: int
    done: bool
    mark: float
    maximum: float
    hints: int
    strength: int
    lines: tuple[TypedLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """One part for one student: goes begun, goes completed, and the best mark."""

    begun: int
    completed: int
    best: float
    last_at: str


def begin(store: Store, person_id: int, test_id: int, part: str, maximum: float, draw: int, scheme_sha256: str) -> Attempt:
    """A new attempt, in place of the one in hand."""
    c = t.attempt.c
    in_hand = and_(c.person_id == person_id, c.class_test_id == test_id, c.part_name == part, c.ended_at.is_(None))
    moment = now()
    values = {
        "person_id": person_id,
        "class_test_id": test_id,
        "part_name": fit(part, 120),
        "scheme_sha256": scheme_sha256,
        "draw": draw,
        "began_at": moment,
        "ended_at": None,
        "mark": 0.0,
        "maximum": maximum,
        "done": False,
        "hints": 0,
        "hint_strength": 0,
    }
    with store.write(lasting=False) as connection:
        connection.execute(update(t.attempt).where(in_hand).values(ended_at=moment))
        key = connection.execute(insert(t.attempt).values(values)).inserted_primary_key
    return Attempt(
        id=int(key[0]) if key else 0,
        person_id=person_id,
        test_id=test_id,
        part=part,
        scheme_sha256=scheme_sha256,
        draw=draw,
        done=False,
        mark=0.0,
        maximum=maximum,
        hints=0,
        strength=0,
        lines=(),
    )


def in_hand(store: Store, person_id: int, test_id: int, part: str) -> Attempt | None:
    """The attempt this person has begun and not left."""
    query = (
        select(t.attempt)
        .where(t.attempt.c.person_id == person_id, t.attempt.c.class_test_id == test_id, t.attempt.c.part_name == part)
        .where(t.attempt.c.ended_at.is_(None))
        .order_by(t.attempt.c.id.desc())
    )
    with store.read() as connection:
        row = connection.execute(query).first()
        return None if row is None else _attempt(connection, row)


def _attempt(connection: Any, row: Any) -> Attempt:
    lines = connection.execute(
        select(t.attempt_line.c.id, t.attempt_line.c.text)
        .where(t.attempt_line.c.attempt_id == row.id, t.attempt_line.c.taken_back_at.is_(None))
        .order_by(t.attempt_line.c.id)
    )
    return Attempt(
        id=row.id,
        person_id=row.person_id,
        test_id=row.class_test_id,
        part=row.part_name,
        scheme_sha256=row.scheme_sha256,
        draw=row.draw,
        done=row.done,
        mark=row.mark,
        maximum=row.maximum,
        hints=row.hints,
        strength=row.hint_strength,
        lines=tuple(TypedLine(id=r.id, text=r.text) for r in lines),
    )


def add_line(store: Store, attempt: Attempt, text: str, verdict: str, fault: str, mark: float) -> Attempt:
    """Keeps a line with what was found in it; hints showing for the line before go away."""
    values = {
        "attempt_id": attempt.id,
        "text": storable(text),
        "verdict": fit(verdict, 20),
        "fault": fit(fault, 80),
        "at": now(),
        "taken_back_at": None,
    }
    done = attempt.done or mark >= attempt.maximum
    with store.write(lasting=False) as connection:
        key = connection.execute(insert(t.attempt_line).values(values)).inserted_primary_key
        _set(connection, attempt.id, mark=mark, hint_strength=0, done=done)
    line = TypedLine(id=int(key[0]) if key else 0, text=storable(text))
    return replace(attempt, lines=(*attempt.lines, line), mark=mark, strength=0, done=done)


def take_back(store: Store, attempt: Attempt, line_id: int, mark: float) -> Attempt:
    """Takes one line out of the working; it stays in the store. An attempt once completed stays completed."""
    mine = and_(t.attempt_line.c.id == line_id, t.attempt_line.c.attempt_id == attempt.id, t.attempt_line.c.taken_back_at.is_(None))
    with store.write(lasting=False) as connection:
        connection.execute(update(t.attempt_line).where(mine).values(taken_back_at=now()))
        _set(connection, attempt.id, mark=mark, hint_strength=0)
    return replace(attempt, lines=tuple(x for x in attempt.lines if x.id != line_id), mark=mark, strength=0)


def show_hint(store: Store, attempt: Attempt, strength: int) -> Attempt:
    with store.write(lasting=False) as connection:
        _set(connection, attempt.id, hint_strength=strength, hints=attempt.hints + 1)
    return replace(attempt, strength=strength, hints=attempt.hints + 1)


def _set(connection: Any, attempt_id: int, **values: Any) -> None:
    connection.execute(update(t.attempt).where(t.attempt.c.id == attempt_id).values(**values))


def progress(store: Store, person_id: int, test_id: int) -> dict[str, Progress]:
    """Part name -> this person's progress."""
    query = (
        select(
            t.attempt.c.part_name,
            func.count().label("begun"),
            func.sum(case((t.attempt.c.done, 1), else_=0)).label("completed"),
            func.max(t.attempt.c.mark).label("best"),
            func.max(t.attempt.c.began_at).label("last_at"),
        )
        .where(t.attempt.c.person_id == person_id, t.attempt.c.class_test_id == test_id)
        .group_by(t.attempt.c.part_name)
    )
    with store.read() as connection:
        return {
            r.part_name: Progress(begun=r.begun, completed=r.completed, best=r.best, last_at=r.last_at) for r in connection.execute(query)
        }
