"""People: adding them, one-time codes, ending access. For the teacher only."""

from __future__ import annotations

from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.routing import Route

from marker.web.desk import TEACHER, Desk, page
from marker.web.storage.model import Person, Role
from marker.web.storage.people import add_person, find_person, list_people, make_code, set_active

MOST_AT_ONCE = 200


def _people(desk: Desk) -> Response:
    return desk.page("people.html", people=list_people(desk.store), made=())


def _add(desk: Desk) -> Response:
    """One person a line, each with a code that this page shows once."""
    role = desk.typed("role", 12)
    if role not in tuple(Role):
        raise HTTPException(422, detail="Choose what they are: student, moderator or teacher.")
    names = [" ".join(n.split())[:80] for n in desk.typed("names", 20_000).splitlines() if n.strip()][:MOST_AT_ONCE]
    made = []
    for name in names:
        person = add_person(desk.store, name, Role(role))
        made.append((person, make_code(desk.store, person.id, desk.who.name)))
    return desk.page("people.html", people=list_people(desk.store), made=made)


def _person(desk: Desk) -> Person:
    found = find_person(desk.store, desk.number("person"))
    if found is None:
        raise HTTPException(404)
    return found


def _code(desk: Desk) -> Response:
    person = _person(desk)
    if not person.active:
        raise HTTPException(422, detail="Give access again first; then make a code.")
    return desk.page("people.html", people=list_people(desk.store), made=[(person, make_code(desk.store, person.id, desk.who.name))])


def _access(desk: Desk) -> Response:
    person = _person(desk)
    if person.id == desk.who.id:
        raise HTTPException(422, detail="You cannot end your own access.")
    set_active(desk.store, person.id, not person.active)
    desk.say(f"{person.name}: access {'ended' if person.active else 'given again'}.")
    return desk.go("/people")


ROUTES = (
    Route("/people", page(TEACHER, _people)),
    Route("/people", page(TEACHER, _add), methods=["POST"]),
    Route("/people/{person:int}/code", page(TEACHER, _code), methods=["POST"]),
    Route("/people/{person:int}/access", page(TEACHER, _access), methods=["POST"]),
)
