"""People and their one-time codes. A code is kept only as a digest, works once, and ends on a date."""

from __future__ import annotations

import hmac
import secrets
from dataclasses import dataclass
from datetime import timedelta
from hashlib import sha256

from sqlalchemy import and_, case, func, insert, select, update
from sqlalchemy.exc import IntegrityError

from marker.web.storage import tables as t
from marker.web.storage.clock import now
from marker.web.storage.engine import Store
from marker.web.storage.model import Person, Role
from marker.web.storage.texts import fit

ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""Without characters that are taken for one another on paper: 0 and O, 1, I and L."""

CODE_LENGTH = 10
CODE_LASTS = timedelta(days=14)


def secret(store: Store, name: str) -> str:
    """A random secret of this store, made when it is first asked for."""
    with store.read() as connection:
        found = connection.execute(select(t.setting.c.value).where(t.setting.c.name == name)).scalars().first()
    if found is not None:
        return str(found)
    try:
        with store.write() as connection:
            connection.execute(insert(t.setting).values(name=name, value=secrets.token_hex(32)))
    except IntegrityError:
        pass
    with store.read() as connection:
        return str(connection.execute(select(t.setting.c.value).where(t.setting.c.name == name)).scalar_one())


def add_person(store: Store, name: str, role: Role) -> Person:
    values = {"name": fit(" ".join(name.split()), 120), "role": role.value, "active": True, "added_at": now()}
    with store.write() as connection:
        key = connection.execute(insert(t.person).values(values)).inserted_primary_key
    return Person(id=int(key[0]) if key else 0, name=str(values["name"]), role=role)


def find_person(store: Store, person_id: int) -> Person | None:
    with store.read() as connection:
        row = connection.execute(select(t.person).where(t.person.c.id == person_id)).first()
    return None if row is None else Person(id=row.id, name=row.name, role=Role(row.role), active=row.active)


def first_of(store: Store, role: Role) -> Person | None:
    with store.read() as connection:
        row = connection.execute(select(t.person).where(t.person.c.role == role.value, t.person.c.active).order_by(t.person.c.id)).first()
    return None if row is None else Person(id=row.id, name=row.name, role=Role(row.role))


def rename(store: Store, person_id: int, name: str) -> None:
    with store.write() as connection:
        connection.execute(update(t.person).where(t.person.c.id == person_id).values(name=fit(" ".join(name.split()), 120)))


def set_active(store: Store, person_id: int, active: bool) -> None:
    """Gives access, or ends it: sessions end at their next page, and open codes end with it."""
    with store.write() as connection:
        connection.execute(update(t.person).where(t.person.c.id == person_id).values(active=active))
        if not active:
            mine = and_(t.access_code.c.person_id == person_id, t.access_code.c.used_at.is_(None))
            connection.execute(update(t.access_code).where(mine).values(ends_at=now()))


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A person as the teacher's list shows one. `code` is open, used, ended or none; `done` counts practised parts completed."""

    person: Person
    code: str
    code_ends: str
    attempts: int
    done: int


def list_people(store: Store) -> tuple[Listed, ...]:
    """Everyone who has access or had it, by role and name."""
    moment = now()
    counts = select(t.attempt.c.person_id, func.count().label("n"), func.sum(case((t.attempt.c.done, 1), else_=0)).label("done"))
    counted = counts.group_by(t.attempt.c.person_id).subquery()
    query = select(t.person, counted.c.n, counted.c.done).join(counted, counted.c.person_id == t.person.c.id, isouter=True)
    newest = select(t.access_code).order_by(t.access_code.c.id)
    with store.read() as connection:
        codes = {row.person_id: row for row in connection.execute(newest)}
        rows = connection.execute(query.order_by(t.person.c.role.desc(), t.person.c.name, t.person.c.id)).all()
    found = []
    for row in rows:
        code = codes.get(row.id)
        state = "none" if code is None else "used" if code.used_at else "ended" if code.ends_at <= moment else "open"
        person = Person(id=row.id, name=row.name, role=Role(row.role), active=row.active)
        ends = code.ends_at if code is not None else ""
        found.append(Listed(person=person, code=state, code_ends=ends, attempts=row.n or 0, done=row.done or 0))
    return tuple(found)


def make_code(store: Store, person_id: int, by: str, lasts: timedelta = CODE_LASTS) -> str:
    """A new one-time code for a person, shown now and never again. Earlier codes not yet used end."""
    code = "".join(secrets.choice(ALPHABET) for _ in range(CODE_LENGTH))
    moment, digest = now(), _digest(store_key(store), code)
    with store.write() as connection:
        mine = and_(t.access_code.c.person_id == person_id, t.access_code.c.used_at.is_(None))
        connection.execute(update(t.access_code).where(mine).values(ends_at=moment))
        values = {
            "person_id": person_id,
            "digest": digest,
            "made_at": moment,
            "made_by": fit(by, 200),
            "ends_at": now(lasts),
        }
        connection.execute(insert(t.access_code).values(values))
    return f"{code[:5]}-{code[5:]}"


def use_code(store: Store, typed: str) -> Person | None:
    """The person a code belongs to, once; None for a code that is wrong, used or ended."""
    code = "".join(c for c in typed.upper() if c.isalnum())
    if len(code) != CODE_LENGTH:
        return None
    digest, moment = _digest(store_key(store), code), now()
    with store.write() as connection:
        query = select(t.access_code).where(t.access_code.c.digest == digest)
        row = connection.execute(query).first()
        if row is None or row.used_at is not None or row.ends_at <= moment:
            return None
        unused = and_(t.access_code.c.id == row.id, t.access_code.c.used_at.is_(None))
        if connection.execute(update(t.access_code).where(unused).values(used_at=moment)).rowcount != 1:
            return None
        owner = connection.execute(select(t.person).where(t.person.c.id == row.person_id, t.person.c.active)).first()
    return None if owner is None else Person(id=owner.id, name=owner.name, role=Role(owner.role))


def store_key(store: Store) -> str:
    return secret(store, "codes")


def _digest(key: str, code: str) -> str:
    return hmac.new(key.encode(), code.encode(), sha256).hexdigest()
