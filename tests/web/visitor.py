"""A browser without a screen: follows forms as a person would, with the form token of its own session."""

from __future__ import annotations

import re
from html import unescape

from httpx import Response
from starlette.applications import Starlette
from starlette.testclient import TestClient

from marker.web.storage import Store
from marker.web.storage.model import Role
from marker.web.storage.people import add_person, make_code


class Visitor:
    def __init__(self, app: Starlette) -> None:
        self.client = TestClient(app, base_url="http://127.0.0.1", follow_redirects=True, raise_server_exceptions=True)

    def get(self, path: str, **more: object) -> Response:
        return self.client.get(path, **more)  # type: ignore[arg-type]

    def post(self, path: str, data: dict[str, str] | None = None, **more: object) -> Response:
        """Sends a form with the token of the first page's form."""
        return self.client.post(path, data={"token": self.token(), **(data or {})}, **more)  # type: ignore[arg-type]

    def token(self) -> str:
        """The session's form token, from a page that everybody sees."""
        found = re.search(r'name="token" value="([^"]+)"', self.get("/").text)
        assert found is not None
        return unescape(found.group(1))


def teacher(app: Starlette) -> Visitor:
    visitor = Visitor(app)
    assert visitor.get(f"/open/{app.state.office.link}").status_code == 200
    return visitor


def signed_in(app: Starlette, store: Store, name: str, role: Role) -> Visitor:
    """Someone who came in with a one-time code."""
    visitor = Visitor(app)
    code = make_code(store, add_person(store, name, role).id, "the test")
    assert visitor.post("/enter", {"code": code}).status_code == 200
    return visitor


def form_token(visitor: Visitor) -> str:
    """The form token of someone who has come in."""
    return field(visitor.get("/you").text, "token")


def field(text: str, name: str) -> str:
    """The value of a hidden field of a page."""
    found = re.search(rf'name="{name}" value="([^"]*)"', text)
    assert found is not None, name
    return unescape(found.group(1))
