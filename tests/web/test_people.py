"""One-time codes and rates. Common practice, no source."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from sqlalchemy import select

from marker.web.ratelimit import Rate
from marker.web.storage import Store, open_store, tables
from marker.web.storage.model import Role
from marker.web.storage.people import ALPHABET, add_person, list_people, make_code, secret, set_active, use_code


@pytest.fixture
def store(where: str) -> Iterator[Store]:
    opened = open_store(where)
    yield opened
    opened.close()


def test_a_code_lets_its_person_in_once(store: Store) -> None:
    cleo = add_person(store, "  Cleo \n B ", Role.STUDENT)
    code = make_code(store, cleo.id, "Alma")
    assert cleo.name == "Cleo B"
    assert use_code(store, f" {code.lower().replace('-', ' ')} ") == cleo
    assert use_code(store, code) is None
    assert [row.code for row in list_people(store)] == ["used"]


def test_codes_are_long_readable_and_kept_only_as_digests(store: Store) -> None:
    person = add_person(store, "D", Role.MODERATOR)
    codes = {make_code(store, person.id, "Alma") for _ in range(20)}
    assert len(codes) == 20
    assert all(set(c) <= {*ALPHABET, "-"} and len(c) == 11 for c in codes)
    assert not set(ALPHABET) & set("01OIL")
    with store.read() as connection:
        kept = connection.execute(select(tables.access_code)).all()
    assert not any(code in str(row) or code.replace("-", "") in str(row) for row in kept for code in codes)


REFUSED = ("", "AAAAA-AAAAA", "' OR 1=1 --", "ÄÖÜ" * 4, "x" * 5000)


@pytest.mark.parametrize("typed", REFUSED, ids=["empty", "unknown", "SQL", "other letters", "long"])
def test_anything_else_is_refused(store: Store, typed: str) -> None:
    make_code(store, add_person(store, "E", Role.STUDENT).id, "Alma")
    assert use_code(store, typed) is None


def test_a_code_ends_with_time_with_a_newer_one_and_with_access(store: Store) -> None:
    person = add_person(store, "F", Role.STUDENT)
    over = make_code(store, person.id, "Alma", timedelta(seconds=-1))
    assert use_code(store, over) is None
    earlier, later = make_code(store, person.id, "Alma"), make_code(store, person.id, "Alma")
    assert use_code(store, earlier) is None
    set_active(store, person.id, False)
    assert use_code(store, later) is None
    set_active(store, person.id, True)
    assert use_code(store, later) is None


def test_of_many_who_use_a_code_at_once_one_comes_in(store: Store) -> None:
    person = add_person(store, "G", Role.STUDENT)
    code = make_code(store, person.id, "Alma")
    with ThreadPoolExecutor(6) as pool:
        came = list(pool.map(lambda _: use_code(store, code), range(6)))
    assert sum(p is not None for p in came) == 1


def test_a_secret_is_made_once_also_when_asked_for_at_once(store: Store) -> None:
    with ThreadPoolExecutor(6) as pool:
        made = set(pool.map(lambda _: secret(store, "sessions"), range(6)))
    assert len(made) == 1
    assert len(made.pop()) == 64
    assert secret(store, "codes") != secret(store, "sessions")


def test_a_rate_lets_some_through_at_once_and_then_so_many_a_minute() -> None:
    """A token bucket, worked by hand: 3 at once, 6 a minute is one in 10 s."""
    moment = [0.0]
    rate = Rate(6, 3, clock=lambda: moment[0])
    assert [rate.wait("a") for _ in range(5)] == [0, 0, 0, 10, 10]
    assert rate.wait("b") == 0
    moment[0] = 9.0
    assert rate.wait("a") == 1
    moment[0] = 10.0
    assert rate.wait("a") == 0
    moment[0] = 1000.0
    assert [rate.wait("a") for _ in range(4)] == [0, 0, 0, 10]
