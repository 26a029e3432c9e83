"""Class tests: kept when they are marked, marked again without losing a decision, and given back as a marked paper."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, and_, case, func, insert, select, update

from marker.reporting import MarkedPaper, from_record
from marker.web.storage import tables as t
from marker.web.storage.clock import now
from marker.web.storage.engine import Store
from marker.web.storage.model import SchemeCopy, TestHead
from marker.web.storage.responses import keep_responses
from marker.web.storage.texts import fit, storable


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """What keeping did: the class test, whether it is new, and how many decisions could not be kept."""

    id: int
    new: bool
    lapsed: int = 0


def keep_class_test(store: Store, scheme: SchemeCopy, marked: MarkedPaper, who: str, practice: bool = False) -> Kept:
    """Keeps a marked class test. One with the same scheme and responses file names is marked again in its place.

    Decisions stay where the response is typed as before and the mark is still possible; otherwise they lapse, on the record.
    """
    with store.write() as connection:
        query = select(t.class_test.c.id).where(
            and_(t.class_test.c.scheme_name == fit(scheme.name, 255), t.class_test.c.responses_name == fit(marked.responses_file, 255))
        )
        before = connection.execute(query.order_by(t.class_test.c.id)).scalars().first()
        values = _values(scheme, marked)
        if before is None:
            values |= {"practice": practice, "added_at": now(), "added_by": storable(who)}
            found = connection.execute(insert(t.class_test).values(values)).inserted_primary_key
            test_id = int(found[0]) if found else 0
        else:
            test_id = int(before)
            connection.execute(update(t.class_test).where(t.class_test.c.id == test_id).values(values))
        parts = _named(connection, t.part, test_id, [(name, {"maximum": maximum}) for name, maximum in marked.parts])
        people = [(c, {"class_group": fit(marked.groups.get(c, ""), 200)}) for c in marked.candidates]
        candidates = _named(connection, t.candidate, test_id, people)
        lapsed = keep_responses(connection, test_id, marked, parts, candidates, who)
    return Kept(id=test_id, new=before is None, lapsed=lapsed)


def _values(scheme: SchemeCopy, marked: MarkedPaper) -> dict[str, Any]:
    return {
        "title": storable(marked.title),
        "scheme_name": fit(scheme.name, 255),
        "scheme_text": storable(scheme.text),
        "scheme_sha256": scheme.sha256,
        "convention_name": fit(scheme.convention, 255),
        "beside": json.dumps(dict(scheme.beside)),
        "convention": storable(marked.convention),
        "rulings": json.dumps([list(r) for r in marked.rulings]),
        "responses_name": fit(marked.responses_file, 255),
        "responses_sha256": marked.responses_sha256,
        "marked_at": fit(marked.when, 40),
        "version": fit(marked.version, 40),
        "half_marks": marked.half_marks,
        "notes": json.dumps(list(marked.notes)),
    }


def _named(connection: Connection, table: Any, test_id: int, wanted: Sequence[tuple[str, Mapping[str, Any]]]) -> dict[str, int]:
    """Rows of parts or candidates by name -> id, in order. Those no longer there stay, at position -1, with what was decided."""
    mine = table.c.class_test_id == test_id
    known = {row.name: row.id for row in connection.execute(select(table.c.id, table.c.name).where(mine))}
    connection.execute(update(table).where(mine).values(position=-1))
    for position, (name, more) in enumerate(wanted):
        stored = storable(name)
        if stored in known:
            connection.execute(update(table).where(table.c.id == known[stored]).values(position=position, **more))
    fresh = [
        {"class_test_id": test_id, "position": n, "name": storable(name), **more}
        for n, (name, more) in enumerate(wanted)
        if storable(name) not in known
    ]
    if fresh:
        connection.execute(insert(table), fresh)
    ids = {row.name: int(row.id) for row in connection.execute(select(table.c.id, table.c.name).where(mine))}
    return {name: ids[storable(name)] for name, _ in wanted}


def list_tests(store: Store, only_practice: bool = False) -> tuple[TestHead, ...]:
    """Every class test, the last added first."""
    with store.read() as connection:
        query = select(t.class_test).order_by(t.class_test.c.id.desc())
        rows = connection.execute(query.where(t.class_test.c.practice) if only_practice else query).all()
        return tuple(_head(connection, row) for row in rows)


def find_test(store: Store, test_id: int) -> TestHead | None:
    with store.read() as connection:
        row = connection.execute(select(t.class_test).where(t.class_test.c.id == test_id)).first()
        return None if row is None else _head(connection, row)


def the_same(store: Store, scheme: SchemeCopy, responses_name: str, responses_sha256: str, version: str) -> TestHead | None:
    """The class test marked by this version from exactly these files."""
    c = t.class_test.c
    query = select(t.class_test).where(
        c.scheme_name == fit(scheme.name, 255),
        c.scheme_sha256 == scheme.sha256,
        c.convention_name == fit(scheme.convention, 255),
        c.beside == json.dumps(dict(scheme.beside)),
        c.responses_name == fit(responses_name, 255),
        c.responses_sha256 == responses_sha256,
        c.version == fit(version, 40),
    )
    with store.read() as connection:
        row = connection.execute(query).first()
        return None if row is None else _head(connection, row)


def _head(connection: Connection, row: Any) -> TestHead:
    of = t.response.c.class_test_id == row.id
    waits = func.coalesce(func.sum(case((t.response.c.settled, 0), else_=1)), 0)
    referred, waiting = connection.execute(select(func.count(), waits).select_from(t.response).where(of, t.response.c.referred)).one()
    present = and_(t.candidate.c.class_test_id == row.id, t.candidate.c.position >= 0)
    worth = and_(t.part.c.class_test_id == row.id, t.part.c.position >= 0)
    return TestHead(
        id=row.id,
        title=row.title,
        scheme_name=row.scheme_name,
        responses_name=row.responses_name,
        marked_at=row.marked_at,
        convention=row.convention,
        practice=row.practice,
        half_marks=row.half_marks,
        maximum=float(connection.execute(select(func.coalesce(func.sum(t.part.c.maximum), 0)).where(worth)).scalar_one()),
        candidates=connection.execute(select(func.count()).select_from(t.candidate).where(present)).scalar_one(),
        referred=referred,
        open=waiting,
    )


def scheme_of(store: Store, test_id: int) -> SchemeCopy | None:
    with store.read() as connection:
        row = connection.execute(select(t.class_test).where(t.class_test.c.id == test_id)).first()
    if row is None:
        return None
    return SchemeCopy(
        name=row.scheme_name, text=row.scheme_text, sha256=row.scheme_sha256, convention=row.convention_name, beside=json.loads(row.beside)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeTest:
    """As much of a class test as practising needs. `key` changes when the scheme or what it reads does."""

    id: int
    title: str
    practice: bool
    key: str


def practice_test(store: Store, test_id: int) -> PracticeTest | None:
    c = t.class_test.c
    query = select(c.id, c.title, c.practice, c.scheme_sha256, c.convention_name, c.beside).where(c.id == test_id)
    with store.read() as connection:
        row = connection.execute(query).first()
    if row is None:
        return None
    whole = "\x1f".join((row.scheme_sha256, row.convention_name, row.beside))
    return PracticeTest(id=row.id, title=row.title, practice=row.practice, key=hashlib.sha256(whole.encode()).hexdigest())


def set_practice(store: Store, test_id: int, is_open: bool) -> None:
    with store.write() as connection:
        connection.execute(update(t.class_test).where(t.class_test.c.id == test_id).values(practice=is_open))


def marked_paper(store: Store, test_id: int) -> MarkedPaper:
    """The class test as it was marked, without any decision. Raises KeyError."""
    with store.read() as connection:
        row = connection.execute(select(t.class_test).where(t.class_test.c.id == test_id)).first()
        if row is None:
            raise KeyError(test_id)
        parts = connection.execute(_present(t.part, test_id)).all()
        people = connection.execute(_present(t.candidate, test_id)).all()
        part_names, names = {p.id: p.name for p in parts}, {c.id: c.name for c in people}
        columns = (t.response.c.part_id, t.response.c.candidate_id, t.response.c.record)
        results = {
            (names[r.candidate_id], part_names[r.part_id]): from_record(json.loads(r.record))[1]
            for r in connection.execute(select(*columns).where(t.response.c.class_test_id == test_id))
            if r.part_id in part_names and r.candidate_id in names
        }
    return MarkedPaper(
        title=row.title,
        scheme_file=row.scheme_name,
        scheme_sha256=row.scheme_sha256,
        responses_file=row.responses_name,
        responses_sha256=row.responses_sha256,
        convention=row.convention,
        rulings=tuple((a, b, c) for a, b, c in json.loads(row.rulings)),
        version=row.version,
        when=row.marked_at,
        parts=tuple((p.name, p.maximum) for p in parts),
        candidates=tuple(c.name for c in people),
        results=results,
        groups={c.name: c.class_group for c in people if c.class_group},
        half_marks=row.half_marks,
        notes=tuple(json.loads(row.notes)),
    )


def _present(table: Any, test_id: int) -> Any:
    return select(table).where(table.c.class_test_id == test_id, table.c.position >= 0).order_by(table.c.position)
