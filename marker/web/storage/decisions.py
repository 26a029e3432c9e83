"""Decisions: made, taken back, listed. The record only grows; a decision is refused when another came between.

Each decision names the one it follows, and the table allows one follower only, so that of two people who settle the same
response at once exactly one is recorded and the other is told.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from sqlalchemy import Connection, case, func, insert, select, update
from sqlalchemy.exc import IntegrityError

from marker.reporting import Decision, Decisions
from marker.web.storage import tables as t
from marker.web.storage.clock import local, now
from marker.web.storage.engine import Store
from marker.web.storage.model import Entry, Person
from marker.web.storage.queue import entry, state_token
from marker.web.storage.responses import point_to_last
from marker.web.storage.texts import storable

LONGEST_REASON = 2_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What a person wants to record about some responses.

    seen    the state token of exactly these responses when the person looked; see `queue.state_of`
    choice  the possibility chosen, in its words; "" for another mark
    """

    responses: tuple[int, ...]
    mark: float
    seen: str
    choice: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded:
    batch: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Overtaken:
    """Nothing was recorded: someone else decided first. `entries` are the last decisions about these responses."""

    entries: tuple[Entry, ...]

    @property
    def acts(self) -> tuple[tuple[Entry, int], ...]:
        """Each decision once, however many responses it settled, with their number."""
        counts = Counter(e.batch for e in self.entries)
        return tuple((e, counts[e.batch]) for e in {e.batch: e for e in self.entries}.values())


def settle(store: Store, wish: Wish, person: Person, action: str = "settle") -> Recorded | Overtaken:
    """Records one decision for all these responses, or for none of them when any was decided since it was looked at."""
    batch, at = uuid4().hex, now()
    try:
        with store.write() as connection:
            rows = _locked(connection, wish.responses)
            if state_token([(r.id, r.decision_id or 0) for r in rows]) != wish.seen:
                return _overtaken(connection, wish.responses)
            shared = {
                "action": action,
                "mark": wish.mark,
                "choice": storable(wish.choice),
                "reason": storable(wish.reason)[:LONGEST_REASON],
                "batch": batch,
                "person_id": person.id or None,
                "who": storable(person.name),
                "at": at,
            }
            _append(connection, [{"response_id": r.id, "follows": r.decision_id or 0, **shared} for r in rows])
            connection.execute(update(t.response).where(t.response.c.id.in_([r.id for r in rows])).values(stands=wish.mark, settled=True))
            point_to_last(connection, batch)
    except IntegrityError:
        with store.read() as connection:
            return _overtaken(connection, wish.responses)
    return Recorded(batch=batch, count=len(rows))


def undo(store: Store, batch: str, person: Person, test_id: int) -> Recorded | Overtaken | None:
    """Takes a batch back: what stood before it stands again, and the record says so. None when there is no such batch.

    Refused (Overtaken) when any of its responses has been decided about since.
    """
    again, at = uuid4().hex, now()
    with store.write() as connection:
        mine = select(t.decision.c.response_id, t.decision.c.id, t.decision.c.follows).where(t.decision.c.batch == batch)
        made = {r.response_id: r for r in connection.execute(mine)}
        rows = [r for r in _locked(connection, tuple(made)) if r.class_test_id == test_id]
        if not rows:
            return None
        if any(r.decision_id != made[r.id].id for r in rows):
            return _overtaken(connection, tuple(made))
        earlier = [made[r.id].follows for r in rows if made[r.id].follows]
        before = {r.id: r.mark for r in connection.execute(select(t.decision.c.id, t.decision.c.mark).where(t.decision.c.id.in_(earlier)))}
        entries = []
        for row in rows:
            mark = before.get(made[row.id].follows)
            entries.append(
                {
                    "response_id": row.id,
                    "follows": row.decision_id,
                    "action": "undo",
                    "mark": mark,
                    "choice": "",
                    "reason": "",
                    "batch": again,
                    "person_id": person.id or None,
                    "who": storable(person.name),
                    "at": at,
                }
            )
        _append(connection, entries)
        point_to_last(connection, again)
        _stand_again(connection, again)
    return Recorded(batch=again, count=len(rows))


def _stand_again(connection: Connection, batch: str) -> None:
    """After a decision without a mark the provisional one stands; otherwise the mark that it names."""
    mark = select(t.decision.c.mark).where(t.decision.c.response_id == t.response.c.id, t.decision.c.batch == batch).scalar_subquery()
    ids = select(t.decision.c.response_id).where(t.decision.c.batch == batch)
    connection.execute(
        update(t.response).where(t.response.c.id.in_(ids)).values(stands=func.coalesce(mark, t.response.c.mark), settled=mark.is_not(None))
    )


def _locked(connection: Connection, responses: Sequence[int]) -> Sequence[Any]:
    query = select(t.response.c.id, t.response.c.decision_id, t.response.c.class_test_id).where(t.response.c.id.in_(responses))
    return connection.execute(query.order_by(t.response.c.id).with_for_update()).all()


def _append(connection: Connection, rows: list[dict[str, Any]]) -> None:
    connection.execute(insert(t.decision), rows)


def _overtaken(connection: Connection, responses: Sequence[int]) -> Overtaken:
    query = select(t.decision).join(t.response, t.response.c.decision_id == t.decision.c.id)
    rows = connection.execute(query.where(t.response.c.id.in_(responses)).order_by(t.decision.c.id.desc()))
    return Overtaken(entries=tuple(entry(r) for r in rows))


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """One act as the record lists it. `last` is True while it is the last decision about all its responses."""

    batch: str
    action: str
    part: str
    candidates: tuple[str, ...]
    count: int
    mark: float | None
    choice: str
    reason: str
    who: str
    at: str
    last: bool


MOST_NAMED = 12


def batches(store: Store, test_id: int, number: int = 1, size: int = 50) -> tuple[tuple[Batch, ...], int]:
    """One page of the record, newest first, and how many pages there are."""
    of = t.response.c.class_test_id == test_id
    joined = t.decision.join(t.response, t.response.c.id == t.decision.c.response_id).join(t.part, t.part.c.id == t.response.c.part_id)
    with store.read() as connection:
        total = connection.execute(select(func.count(func.distinct(t.decision.c.batch))).select_from(joined).where(of)).scalar_one()
        rows = connection.execute(
            select(
                t.decision.c.batch,
                func.max(t.decision.c.id).label("newest"),
                func.min(t.decision.c.id).label("first"),
                func.count().label("count"),
                func.min(case((t.response.c.decision_id == t.decision.c.id, 1), else_=0)).label("last"),
                func.min(t.part.c.name).label("part"),
            )
            .select_from(joined)
            .where(of)
            .group_by(t.decision.c.batch)
            .order_by(func.max(t.decision.c.id).desc())
            .limit(size)
            .offset((max(number, 1) - 1) * size)
        ).all()
        found = tuple(_batch(connection, r) for r in rows)
    return found, max(1, -(-total // size))


def _batch(connection: Connection, row: Any) -> Batch:
    said = connection.execute(select(t.decision).where(t.decision.c.id == row.first)).one()
    names = connection.execute(
        select(t.candidate.c.name)
        .join(t.response, t.response.c.candidate_id == t.candidate.c.id)
        .join(t.decision, t.decision.c.response_id == t.response.c.id)
        .where(t.decision.c.batch == row.batch)
        .order_by(t.candidate.c.position)
        .limit(MOST_NAMED)
    ).scalars()
    return Batch(
        batch=row.batch,
        action=said.action,
        part=row.part,
        candidates=tuple(names),
        count=row.count,
        mark=said.mark,
        choice=said.choice,
        reason=said.reason,
        who=said.who,
        at=said.at,
        last=bool(row.last) and said.action in ("settle", "kept"),
    )


def entries(store: Store, test_id: int) -> tuple[tuple[str, str, Entry], ...]:
    """(candidate, part, decision) of every decision ever recorded, oldest first."""
    query = (
        select(t.decision, t.candidate.c.name.label("candidate"), t.part.c.name.label("part"))
        .join(t.response, t.response.c.id == t.decision.c.response_id)
        .join(t.candidate, t.candidate.c.id == t.response.c.candidate_id)
        .join(t.part, t.part.c.id == t.response.c.part_id)
        .where(t.response.c.class_test_id == test_id)
        .order_by(t.decision.c.id)
    )
    with store.read() as connection:
        return tuple((r.candidate, r.part, entry(r)) for r in connection.execute(query))


def standing_decisions(store: Store, test_id: int) -> Decisions:
    """The decisions in force, as the workbook takes them: the note holds the reason, who and when."""
    query = (
        select(t.decision, t.candidate.c.name.label("candidate"), t.part.c.name.label("part"))
        .join(t.response, t.response.c.decision_id == t.decision.c.id)
        .join(t.candidate, t.candidate.c.id == t.response.c.candidate_id)
        .join(t.part, t.part.c.id == t.response.c.part_id)
        .where(t.response.c.class_test_id == test_id, t.response.c.settled)
    )
    with store.read() as connection:
        made = {(r.candidate, r.part): Decision(mark=r.mark, note=_note(r)) for r in connection.execute(query)}
    return Decisions(made=made, file="the pages")


def _note(row: Any) -> str:
    said = "; ".join(p for p in (row.choice, row.reason) if p)
    return f"{said} ({row.who}, {local(row.at)})" if said else f"{row.who}, {local(row.at)}"
