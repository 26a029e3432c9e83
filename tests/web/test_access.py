"""Who may see and do what on the pages. Common practice, no source."""

from __future__ import annotations

import re

import pytest
from starlette.applications import Starlette

from marker.web.app import create_app
from marker.web.storage import Store
from marker.web.storage.model import Role
from tests.web.scene import settings
from tests.web.visitor import Visitor, field, form_token, signed_in, teacher

# --- who may see what ------------------------------------------------------------------------------------

# address, and the status for: nobody, a student, a moderator, the teacher (303: sent to the first page)
SEES = (
    ("/", 200, 303, 200, 200),
    ("/tests/1", 303, 403, 200, 200),
    ("/tests/1/settle", 303, 403, 200, 200),
    ("/tests/1/record", 303, 403, 200, 200),
    ("/tests/1/workbook", 303, 403, 200, 200),
    ("/tests/1/decisions.jsonl", 303, 403, 200, 200),
    ("/tests/1/responses/1", 303, 403, 200, 200),
    ("/tests/new", 303, 403, 403, 200),
    ("/people", 303, 403, 403, 200),
    ("/practise", 303, 200, 200, 200),
    ("/practise/1/1", 303, 200, 200, 200),
    ("/you", 303, 200, 200, 200),
    ("/tests/99", 303, 403, 404, 404),
    ("/nowhere", 404, 404, 404, 404),
)


@pytest.mark.parametrize("row", SEES, ids=[r[0] for r in SEES])
def test_each_role_sees_its_pages_and_no_others(row: tuple[str, int, int, int, int], app: Starlette, store: Store) -> None:
    path, *wanted = row
    people = (Visitor(app), signed_in(app, store, "S", Role.STUDENT), signed_in(app, store, "M", Role.MODERATOR), teacher(app))
    assert [p.get(path, follow_redirects=False).status_code for p in people] == wanted


# form, its fields, and the status for: nobody, a student, a moderator
DOES = (
    ("/people", {"names": "X", "role": "teacher"}, 401, 403, 403),
    ("/people/1/code", {}, 401, 403, 403),
    ("/people/1/access", {}, 401, 403, 403),
    ("/tests", {}, 401, 403, 403),
    ("/tests/1/practice", {"open": "no"}, 401, 403, 403),
    ("/tests/1/undo", {"batch": "x"}, 401, 403, 404),
    ("/tests/1/responses/1", {"pick": "m1"}, 401, 403, 200),
    ("/practise/1/1/line", {"line": "P = IV"}, 401, 200, 200),
)


@pytest.mark.parametrize("row", DOES, ids=[r[0] for r in DOES])
def test_each_role_may_do_what_it_may(row: tuple[str, dict[str, str], int, int, int], app: Starlette, store: Store) -> None:
    path, data, *wanted = row
    people = (Visitor(app), signed_in(app, store, "S", Role.STUDENT), signed_in(app, store, "M", Role.MODERATOR))
    assert [_status(p, path, data) for p in people] == wanted


def _status(visitor: Visitor, path: str, data: dict[str, str]) -> int:
    token = visitor.token() if visitor.get("/").url.path == "/" else field(visitor.get("/you").text, "token")
    return visitor.client.post(path, data={"token": token, **data}).status_code


def test_a_student_sees_only_their_own_working(app: Starlette, store: Store) -> None:
    one, two = signed_in(app, store, "One", Role.STUDENT), signed_in(app, store, "Two", Role.STUDENT)
    one.client.post("/practise/1/1/line", data={"token": form_token(one), "line": "P = 12345 I"})
    mine = one.get("/practise/1/1").text
    line = field(mine, "line_id")
    assert "12345" in mine
    assert "12345" not in two.get("/practise/1/1").text
    assert two.client.post("/practise/1/1/back", data={"token": form_token(two), "line_id": line}).status_code == 404
    assert "12345" in one.get("/practise/1/1").text
    assert "begun" in one.get("/practise").text
    assert "begun" not in signed_in(app, store, "Three", Role.STUDENT).get("/practise").text


def test_a_closed_class_test_cannot_be_practised(app: Starlette, store: Store) -> None:
    alma, student = teacher(app), signed_in(app, store, "S", Role.STUDENT)
    assert student.get("/practise/1/1").status_code == 200
    alma.post("/tests/1/practice", {"open": "no"})
    assert student.get("/practise/1/1").status_code == 404
    assert "tide mill" not in student.get("/practise").text


def test_access_that_ends_ends_at_the_next_page(app: Starlette, store: Store) -> None:
    alma, student = teacher(app), signed_in(app, store, "S", Role.STUDENT)
    number = student.client.get("/you").text and next(p for p in _people_ids(alma))
    alma.post(f"/people/{number}/access")
    assert student.get("/practise", follow_redirects=False).status_code == 303


def _people_ids(alma: Visitor) -> list[int]:
    return [int(n) for n in re.findall(r'action="/people/(\d+)/access"', alma.get("/people").text)]


def test_in_a_department_nobody_practises_without_a_code(store: Store) -> None:
    app = create_app(store, settings(department=True))
    visitor = Visitor(app)
    assert "Start practising" not in visitor.get("/").text
    assert visitor.post("/enter/practise", {"name": "X"}).status_code == 403
    alma = teacher(app)
    page = alma.post("/people", {"names": "Nia\nOmar", "role": "student"}).text
    codes = re.findall(r'<code class="code">([^<]+)</code>', page)
    assert len(codes) == 2
    assert "Practise" in visitor.post("/enter", {"code": codes[0]}).text
    again = Visitor(app).post("/enter", {"code": codes[0]})
    assert (again.status_code, "cannot be used" in again.text or "not one that can be used" in again.text) == (422, True)
    assert codes[1] not in alma.get("/people").text


def test_on_one_machine_practice_needs_no_account(app: Starlette) -> None:
    visitor = Visitor(app)
    assert "Class test: the tide mill" in visitor.post("/enter/practise", {"name": ""}).text
    assert visitor.get("/tests/1").status_code == 403


def test_the_teachers_link_must_be_the_right_one(app: Starlette) -> None:
    assert Visitor(app).get(f"/open/{'0' * 64}").status_code == 404
