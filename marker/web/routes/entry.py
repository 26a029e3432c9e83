"""Coming in and leaving: the teacher's link, one-time codes, practising without an account on one machine."""

from __future__ import annotations

import hmac

from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.routing import Route

from marker.web.desk import ANYONE, EVERYONE_KNOWN, Desk, page, sign_in
from marker.web.storage.class_tests import list_tests
from marker.web.storage.model import Role
from marker.web.storage.people import add_person, find_person, first_of, rename, use_code


def _first(desk: Desk) -> Response:
    if desk.person is None:
        return desk.page("enter.html", wrong=False)
    if desk.person.role is Role.STUDENT:
        return desk.go("/practise")
    return desk.page("tests.html", tests=list_tests(desk.store))


def _link(desk: Desk) -> Response:
    """The address that the command printed: whoever has it is the teacher."""
    given = str(desk.request.path_params["key"])
    if not hmac.compare_digest(given.encode(), desk.office.link.encode()):
        desk.limit(desk.office.rates.codes, desk.address)
        raise HTTPException(404)
    teacher = first_of(desk.store, Role.TEACHER) or add_person(desk.store, desk.office.settings.teacher, Role.TEACHER)
    sign_in(desk.request, teacher)
    return desk.go("/")


def _code(desk: Desk) -> Response:
    desk.limit(desk.office.rates.codes, desk.address)
    person = use_code(desk.store, desk.typed("code", 60))
    if person is None:
        return desk.page("enter.html", status=422, wrong=True)
    sign_in(desk.request, person)
    return desk.go("/")


def _practise(desk: Desk) -> Response:
    """On one machine: practise at once, with a name only if one is wished."""
    if desk.office.settings.department:
        raise HTTPException(403)
    if desk.person is not None:
        return desk.go("/practise")
    desk.limit(desk.office.rates.newcomers, desk.address)
    sign_in(desk.request, add_person(desk.store, desk.typed("name", 80).strip() or "no name", Role.STUDENT))
    return desk.go("/practise")


def _leave(desk: Desk) -> Response:
    desk.request.session.clear()
    return desk.go("/")


def _rename(desk: Desk) -> Response:
    name = desk.typed("name", 80).strip()
    if name and find_person(desk.store, desk.who.id) is not None:
        rename(desk.store, desk.who.id, name)
        desk.say("Your name is changed. What was recorded before keeps the name it was recorded with.")
    return desk.go("/you")


def _you(desk: Desk) -> Response:
    return desk.page("you.html")


ROUTES = (
    Route("/", page(ANYONE, _first)),
    Route("/open/{key}", page(ANYONE, _link)),
    Route("/enter", page(ANYONE, _code), methods=["POST"]),
    Route("/enter/practise", page(ANYONE, _practise), methods=["POST"]),
    Route("/leave", page(ANYONE, _leave), methods=["POST"]),
    Route("/you", page(EVERYONE_KNOWN, _you)),
    Route("/you", page(EVERYONE_KNOWN, _rename), methods=["POST"]),
)
