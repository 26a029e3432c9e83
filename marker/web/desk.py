"""What every page does before its own work: who is asking, may they, is the form genuine; then the answer."""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Callable, Coroutine, Mapping
from dataclasses import dataclass, field
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from marker.web.papers import Papers
from marker.web.ratelimit import Rate
from marker.web.settings import Settings
from marker.web.storage import Store
from marker.web.storage.model import Person, Role
from marker.web.storage.people import find_person
from marker.web.views import rendered

ANYONE = frozenset[Role]()
STAFF = frozenset({Role.TEACHER, Role.MODERATOR})
TEACHER = frozenset({Role.TEACHER})
EVERYONE_KNOWN = frozenset(Role)

LARGEST_NUMBER = 2**31 - 1

Form = Mapping[str, str | UploadFile]
Page = Callable[["Desk"], Response]
Endpoint = Callable[[Request], Coroutine[Any, Any, Response]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    lines: Rate
    draws: Rate
    codes: Rate
    newcomers: Rate


@dataclass(frozen=True, slots=True, kw_only=True)
class Office:
    """What all pages share. `link` is the secret of the teacher's link."""

    store: Store
    papers: Papers
    settings: Settings
    rates: Rates
    link: str


@dataclass(slots=True, kw_only=True)
class Desk:
    """One request at work."""

    request: Request
    office: Office
    person: Person | None
    form: Form = field(default_factory=dict)

    @property
    def store(self) -> Store:
        return self.office.store

    @property
    def who(self) -> Person:
        """The person asking, on a page that is not for anyone."""
        if self.person is None:
            raise HTTPException(401)
        return self.person

    def number(self, name: str) -> int:
        """A whole number of the address; one that no row can have is 404."""
        found = int(self.request.path_params[name])
        if found > LARGEST_NUMBER:
            raise HTTPException(404)
        return found

    def asked(self, name: str, default: int) -> int:
        """A whole number of the query; the default where it is none."""
        text = self.request.query_params.get(name, "")
        return int(text) if text.isdecimal() and len(text) < 8 else default

    def typed(self, name: str, longest: int = 2_000) -> str:
        """A text field of the form, cut at `longest` characters."""
        value = self.form.get(name, "")
        return value[:longest] if isinstance(value, str) else ""

    def say(self, text: str, batch: str = "", back: str = "") -> None:
        """A message at the top of the next page, with an undo where there is a batch, which leads to `back`."""
        self.request.session["said"] = {"text": text[:500], "batch": batch, "back": back}

    def page(self, template: str, status: int = 200, **values: Any) -> HTMLResponse:
        said = self.request.session.pop("said", None) if status == 200 else None
        shared = {
            "person": self.person,
            "department": self.office.settings.department,
            "token": token(self.request),
            "said": said,
            "path": self.request.url.path,
        }
        return HTMLResponse(rendered(template, {**shared, **values}), status)

    def go(self, path: str) -> RedirectResponse:
        return RedirectResponse(path, status_code=303)

    def limit(self, rate: Rate, key: str) -> None:
        """Raises 429 with the seconds to wait."""
        wait = rate.wait(key)
        if wait:
            raise HTTPException(429, detail=str(wait), headers={"Retry-After": str(wait)})

    @property
    def address(self) -> str:
        return self.request.client.host if self.request.client else "unknown"


def token(request: Request) -> str:
    """The session's form token, made when it is first needed."""
    found = request.session.get("token")
    if not isinstance(found, str):
        found = secrets.token_urlsafe(24)
        request.session["token"] = found
    return found


def page(roles: frozenset[Role], work: Page) -> Endpoint:
    """An endpoint for people of these roles; ANYONE for everyone. A form must carry the session's token."""

    async def endpoint(request: Request) -> Response:
        form: Form = {}
        if request.method == "POST":
            form = dict(await request.form(max_files=4, max_fields=60))
            _genuine(request, form)
        return await run_in_threadpool(_at_work, request, form, roles, work)

    return endpoint


def _at_work(request: Request, form: Form, roles: frozenset[Role], work: Page) -> Response:
    office: Office = request.app.state.office
    person = _person(request, office)
    if roles and person is None:
        if request.method == "GET":
            return RedirectResponse("/", status_code=303)
        raise HTTPException(401)
    if roles and person is not None and person.role not in roles:
        raise HTTPException(403)
    return work(Desk(request=request, office=office, person=person, form=form))


def _person(request: Request, office: Office) -> Person | None:
    found = request.session.get("person")
    if not isinstance(found, int):
        return None
    person = find_person(office.store, found)
    if person is None or not person.active:
        request.session.clear()
        return None
    return person


def _genuine(request: Request, form: Form) -> None:
    """Refuses a form from another site, or without the token of this session."""
    if request.headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
        raise HTTPException(403, detail="form")
    given = form.get("token") or request.headers.get("x-form-token", "")
    known = request.session.get("token")
    if not (isinstance(given, str) and isinstance(known, str) and hmac.compare_digest(given.encode(), known.encode())):
        raise HTTPException(403, detail="form")


def sign_in(request: Request, person: Person) -> None:
    """A session of its own for this person; whatever the browser had before is gone."""
    request.session.clear()
    request.session["person"] = person.id
    token(request)
