"""What was referred, in groups of alike responses, a page at a time."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from sqlalchemy import Connection, Select, and_, case, func, select

from marker.reporting import from_record
from marker.results import PartResult
from marker.web.storage import tables as t
from marker.web.storage.engine import Store
from marker.web.storage.model import Entry, Group, Member

State = Literal["open", "settled", "all"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page of groups, of `pages`; `groups_in_all` counts the groups of the state asked for, `open` the responses that wait."""

    groups: tuple[Group, ...]
    number: int
    pages: int
    groups_in_all: int
    open: int


def queue_page(store: Store, test_id: int, *, part_id: int | None = None, state: State = "open", number: int = 1, size: int = 25) -> Page:
    """Groups in the order of the paper, within a part in the order of the class."""
    groups = _groups(test_id, part_id, state).subquery()
    with store.read() as connection:
        total = connection.execute(select(func.count()).select_from(groups)).scalar_one()
        pages = max(1, -(-total // size))
        number = min(max(number, 1), pages)
        rows = connection.execute(
            select(groups, t.part.c.name.label("part"), t.response.c.record, t.candidate.c.name.label("candidate"))
            .join(t.part, t.part.c.id == groups.c.part_id)
            .join(t.response, t.response.c.id == groups.c.first)
            .join(t.candidate, t.candidate.c.id == t.response.c.candidate_id)
            .order_by(t.part.c.position, groups.c.first)
            .limit(size)
            .offset((number - 1) * size)
        ).all()
        waiting = connection.execute(
            select(func.count()).select_from(t.response).where(*_referred(test_id, part_id), ~t.response.c.settled)
        ).scalar_one()
    return Page(groups=tuple(_group(r) for r in rows), number=number, pages=pages, groups_in_all=total, open=waiting)


def _referred(test_id: int, part_id: int | None) -> list[Any]:
    where = [t.response.c.class_test_id == test_id, t.response.c.referred]
    return [*where, t.response.c.part_id == part_id] if part_id is not None else where


def _groups(test_id: int, part_id: int | None, state: State) -> Select[Any]:
    waiting = func.sum(case((t.response.c.settled, 0), else_=1))
    query = (
        select(
            t.response.c.part_id,
            t.response.c.alike,
            func.count().label("count"),
            waiting.label("open"),
            func.min(t.response.c.id).label("first"),
        )
        .where(*_referred(test_id, part_id))
        .group_by(t.response.c.part_id, t.response.c.alike)
    )
    if state == "open":
        return query.having(waiting > 0)
    return query.having(waiting == 0) if state == "settled" else query


def _group(row: Any) -> Group:
    return Group(
        part_id=row.part_id,
        part=row.part,
        alike=row.alike,
        count=row.count,
        open=row.open,
        first=row.first,
        candidate=row.candidate,
        result=result_of(row.record),
    )


def parts_waiting(store: Store, test_id: int) -> tuple[tuple[int, str, int, int], ...]:
    """(part id, name, referred, open) of each part with referrals, in paper order."""
    waiting = func.sum(case((t.response.c.settled, 0), else_=1))
    query = (
        select(t.part.c.id, t.part.c.name, func.count(), waiting)
        .join(t.response, t.response.c.part_id == t.part.c.id)
        .where(*_referred(test_id, None))
        .group_by(t.part.c.id, t.part.c.name, t.part.c.position)
        .order_by(t.part.c.position)
    )
    with store.read() as connection:
        return tuple((int(a), str(b), int(c), int(d)) for a, b, c, d in connection.execute(query))


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a group is in the queue: its number among all groups, how many responses wait, and its neighbours, None at the ends."""

    number: int
    of: int
    open: int
    before: tuple[int, str] | None
    after: tuple[int, str] | None


def place_of(store: Store, test_id: int, part_id: int, alike: str) -> Place:
    """Neighbours are all groups, settled or not."""
    rows = _keys(store, test_id)
    keys = [(r.part_id, r.alike) for r in rows]
    here = keys.index((part_id, alike)) if (part_id, alike) in keys else -1
    return Place(
        number=here + 1,
        of=len(keys),
        open=sum(r.open for r in rows),
        before=keys[here - 1] if here > 0 else None,
        after=keys[here + 1] if here + 1 < len(keys) else None,
    )


def next_open(store: Store, test_id: int, part_id: int | None = None, alike: str = "") -> tuple[int, str] | None:
    """The first open group after this one, from the beginning again at the end; None when nothing waits."""
    rows = _keys(store, test_id)
    keys = [(r.part_id, r.alike) for r in rows]
    here = keys.index((part_id, alike)) if part_id is not None and (part_id, alike) in keys else -1
    for row in (*rows[here + 1 :], *rows[: here + 1]):
        if row.open:
            return (row.part_id, row.alike)
    return None


def _keys(store: Store, test_id: int) -> Sequence[Any]:
    groups = _groups(test_id, None, "all").subquery()
    query = select(groups).join(t.part, t.part.c.id == groups.c.part_id).order_by(t.part.c.position, groups.c.first)
    with store.read() as connection:
        return connection.execute(query).all()


def group_members(store: Store, test_id: int, part_id: int, alike: str, most: int | None = None) -> tuple[Member, ...]:
    """The alike responses in class order, at most so many of them; () when there is no such group."""
    with store.read() as connection:
        return members(connection, and_(*_referred(test_id, part_id), t.response.c.alike == alike), most)


def group_states(store: Store, test_id: int, part_id: int, alike: str) -> tuple[tuple[int, int, bool], ...]:
    """(response, last decision or 0, settled) of every response of a group, in class order."""
    c = t.response.c
    query = select(c.id, c.decision_id, c.settled).join(t.candidate, t.candidate.c.id == c.candidate_id)
    where = (*_referred(test_id, part_id), c.alike == alike)
    with store.read() as connection:
        rows = connection.execute(query.where(*where).order_by(t.candidate.c.position)).all()
    return tuple((r.id, r.decision_id or 0, r.settled) for r in rows)


def one_response(store: Store, test_id: int, response_id: int) -> Member | None:
    with store.read() as connection:
        found = members(connection, and_(t.response.c.id == response_id, t.response.c.class_test_id == test_id))
    return found[0] if found else None


def response_id_of(store: Store, test_id: int, candidate: str, part: str) -> int | None:
    query = (
        select(t.response.c.id)
        .join(t.candidate, t.candidate.c.id == t.response.c.candidate_id)
        .join(t.part, t.part.c.id == t.response.c.part_id)
        .where(t.response.c.class_test_id == test_id, t.candidate.c.name == candidate, t.part.c.name == part)
    )
    with store.read() as connection:
        return connection.execute(query).scalars().first()


def marked_result(store: Store, response_id: int) -> PartResult:
    """How one response was marked, before any decision."""
    with store.read() as connection:
        return result_of(connection.execute(select(t.response.c.record).where(t.response.c.id == response_id)).scalar_one())


_LIGHT = [c for c in t.response.c if c.name != "record"]


def members(connection: Connection, where: Any, most: int | None = None) -> tuple[Member, ...]:
    names = (t.candidate.c.name.label("candidate"), t.part.c.name.label("part"))
    query = (
        select(*_LIGHT, *names, *(c.label(f"d_{c.name}") for c in t.decision.c))
        .join(t.candidate, t.candidate.c.id == t.response.c.candidate_id)
        .join(t.part, t.part.c.id == t.response.c.part_id)
        .join(t.decision, t.decision.c.id == t.response.c.decision_id, isouter=True)
        .where(where)
        .order_by(t.candidate.c.position, t.part.c.position)
        .limit(most)
    )
    return tuple(_member(r) for r in connection.execute(query))


def _member(row: Any) -> Member:
    return Member(
        id=row.id,
        candidate=row.candidate,
        part=row.part,
        alike=row.alike,
        part_id=row.part_id,
        referred=row.referred,
        mark=row.mark,
        maximum=row.maximum,
        stands=row.stands,
        settled=row.settled,
        last=entry(row, "d_") if row.d_id is not None else None,
    )


def entry(row: Any, prefix: str = "") -> Entry:
    names = ("id", "response_id", "action", "mark", "choice", "reason", "batch", "who", "at")
    return Entry(**{n: getattr(row, prefix + n) for n in names})


def result_of(record: str) -> PartResult:
    return from_record(json.loads(record))[1]


def state_of(found: Sequence[Member]) -> str:
    """A token of what is decided about these responses; it changes with every decision about any of them."""
    return state_token([(m.id, m.last.id if m.last else 0) for m in found])


def state_token(pairs: Sequence[tuple[int, int]]) -> str:
    """As `state_of`, from (response, last decision or 0)."""
    return hashlib.sha256(json.dumps(sorted(pairs)).encode()).hexdigest()[:24]
