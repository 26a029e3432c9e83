"""The class at a glance: marks that stand, facility, and the commonest faults."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import and_, case, func, select

from marker.web.storage import tables as t
from marker.web.storage.engine import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLine:
    """One part. `facility` is the mean mark as a share of the maximum, 0 to 1; `full`, `none` count candidates with all or no marks."""

    id: int
    name: str
    maximum: float
    facility: float
    full: int
    none: int
    open: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One response. `state` is full, some or none; `waiting` while a referral is open, `decided` when a person gave the mark."""

    id: int
    mark: float
    maximum: float
    state: str
    waiting: bool
    decided: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CandidateLine:
    """One candidate: a cell for each part in paper order, None where there is no response."""

    name: str
    group: str
    cells: tuple[Cell | None, ...]
    total: float
    share: float
    waiting: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultLine:
    """One kind of fault: how many candidates show it, in which parts, and one line as an example."""

    code: str
    candidates: int
    parts: tuple[str, ...]
    example: str
    words: str
    example_id: int
    example_of: tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Overview:
    parts: tuple[PartLine, ...]
    candidates: tuple[CandidateLine, ...]
    faults: tuple[FaultLine, ...]
    groups: tuple[str, ...]
    count: int
    pages: int
    mean: float


def overview(store: Store, test_id: int, *, group: str = "", number: int = 1, size: int = 60, faults: int = 12) -> Overview:
    """Everything about a class test, or one teaching group of it; candidates a page at a time."""
    with store.read() as connection:
        parts = _parts(connection, test_id, group)
        count = connection.execute(select(func.count()).select_from(t.candidate).where(*_people(test_id, group))).scalar_one()
        pages = max(1, -(-count // size))
        number = min(max(number, 1), pages)
        lines = _candidates(connection, test_id, group, parts, (number - 1) * size, size)
        found = _faults(connection, test_id, group, faults)
        names = select(t.candidate.c.class_group).where(*_people(test_id, "")).group_by(t.candidate.c.class_group)
        groups = tuple(sorted(g for g in connection.execute(names).scalars() if g))
        total = sum(p.maximum for p in parts)
        mean = sum(p.facility * p.maximum for p in parts) / total if total else 0.0
    return Overview(parts=parts, candidates=lines, faults=found, groups=groups, count=count, pages=pages, mean=mean)


def _people(test_id: int, group: str) -> list[Any]:
    where: list[Any] = [t.candidate.c.class_test_id == test_id, t.candidate.c.position >= 0]
    return [*where, t.candidate.c.class_group == group] if group else where


def _parts(connection: Any, test_id: int, group: str) -> tuple[PartLine, ...]:
    joined = t.response.join(t.candidate, and_(t.candidate.c.id == t.response.c.candidate_id, *_people(test_id, group)))
    query = (
        select(
            t.part.c.id,
            t.part.c.name,
            t.part.c.maximum,
            func.avg(t.response.c.stands).label("mean"),
            func.sum(case((t.response.c.stands >= t.part.c.maximum, 1), else_=0)).label("full"),
            func.sum(case((t.response.c.stands <= 0, 1), else_=0)).label("none"),
            func.sum(case((and_(t.response.c.referred, ~t.response.c.settled), 1), else_=0)).label("open"),
        )
        .select_from(joined.join(t.part, t.part.c.id == t.response.c.part_id))
        .where(t.part.c.class_test_id == test_id, t.part.c.position >= 0)
        .group_by(t.part.c.id, t.part.c.name, t.part.c.maximum, t.part.c.position)
        .order_by(t.part.c.position)
    )
    return tuple(
        PartLine(
            id=r.id,
            name=r.name,
            maximum=r.maximum,
            facility=r.mean / r.maximum if r.maximum else 0.0,
            full=r.full,
            none=r.none,
            open=r.open,
        )
        for r in connection.execute(query)
    )


def _candidates(
    connection: Any, test_id: int, group: str, parts: tuple[PartLine, ...], offset: int, size: int
) -> tuple[CandidateLine, ...]:
    people = connection.execute(
        select(t.candidate).where(*_people(test_id, group)).order_by(t.candidate.c.position).limit(size).offset(offset)
    ).all()
    columns = [c for c in t.response.c if c.name != "record"]
    wanted = select(*columns).where(t.response.c.class_test_id == test_id, t.response.c.candidate_id.in_([p.id for p in people]))
    cells: dict[tuple[int, int], Cell] = {(r.candidate_id, r.part_id): _cell(r) for r in connection.execute(wanted)}
    maximum = sum(p.maximum for p in parts)
    return tuple(_line(person, parts, cells, maximum) for person in people)


def _cell(row: Any) -> Cell:
    state = "full" if row.stands >= row.maximum else "none" if row.stands <= 0 else "some"
    waiting = bool(row.referred and not row.settled)
    return Cell(id=row.id, mark=row.stands, maximum=row.maximum, state=state, waiting=waiting, decided=bool(row.settled))


def _line(person: Any, parts: tuple[PartLine, ...], cells: Mapping[tuple[int, int], Cell], maximum: float) -> CandidateLine:
    mine = tuple(cells.get((person.id, p.id)) for p in parts)
    total = sum(c.mark for c in mine if c is not None)
    return CandidateLine(
        name=person.name,
        group=person.class_group,
        cells=mine,
        total=total,
        share=total / maximum if maximum else 0.0,
        waiting=any(c.waiting for c in mine if c is not None),
    )


def _faults(connection: Any, test_id: int, group: str, most: int) -> tuple[FaultLine, ...]:
    joined = t.fault.join(t.candidate, and_(t.candidate.c.id == t.fault.c.candidate_id, *_people(test_id, group)))
    people = func.count(func.distinct(t.fault.c.candidate_id))
    query = (
        select(t.fault.c.code, people.label("people"), func.min(t.fault.c.id).label("first"))
        .select_from(joined)
        .where(t.fault.c.class_test_id == test_id)
        .group_by(t.fault.c.code)
        .order_by(people.desc(), t.fault.c.code)
        .limit(most)
    )
    return tuple(_fault(connection, r, test_id) for r in connection.execute(query).all())


def _fault(connection: Any, row: Any, test_id: int) -> FaultLine:
    example = connection.execute(
        select(t.fault, t.candidate.c.name.label("candidate"), t.part.c.name.label("part"))
        .join(t.candidate, t.candidate.c.id == t.fault.c.candidate_id)
        .join(t.part, t.part.c.id == t.fault.c.part_id)
        .where(t.fault.c.id == row.first)
    ).one()
    where = (t.fault.c.class_test_id == test_id, t.fault.c.code == row.code)
    parts = connection.execute(
        select(t.part.c.name)
        .join(t.fault, t.fault.c.part_id == t.part.c.id)
        .where(*where)
        .group_by(t.part.c.name, t.part.c.position)
        .order_by(t.part.c.position)
    ).scalars()
    return FaultLine(
        code=row.code,
        candidates=row.people,
        parts=tuple(parts),
        example=example.typed,
        words=example.words,
        example_id=example.response_id,
        example_of=(example.candidate, example.part),
    )
