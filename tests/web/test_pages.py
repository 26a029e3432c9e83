"""The pages without a browser: forms, headers, limits, settling, and hostile text.

The headers and cookie flags follow the OWASP cheat sheets on CSRF, content-security policy and session management (from memory).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from starlette.applications import Starlette

from marker.reporting import read_decisions
from marker.web.app import create_app
from marker.web.settings import Limits
from marker.web.storage import Store
from marker.web.storage.model import Role
from marker.web.views import raised
from tests.web.scene import HOSTILE, SCHEME, settings
from tests.web.visitor import Visitor, field, form_token, signed_in, teacher


def first_group(visitor: Visitor) -> str:
    return str(visitor.get("/tests/1/settle/next").url.path)


# --- forms, headers, limits ------------------------------------------------------------------------------


def test_a_form_without_its_token_or_from_elsewhere_changes_nothing(app: Starlette) -> None:
    alma = teacher(app)
    path = first_group(alma)
    page = alma.get(path).text
    good = {"token": field(page, "token"), "seen": field(page, "seen"), "only": "0", "pick": "p0"}
    for bad in ({**good, "token": "x"}, {k: v for k, v in good.items() if k != "token"}, {**good, "token": Visitor(app).token()}):
        assert alma.client.post(path, data=bad).status_code == 403
    assert alma.client.post(path, data=good, headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403
    assert "8 responses wait" in alma.get("/tests/1/settle").text
    assert alma.client.post(path, data=good).status_code == 200
    assert "6 responses wait" in alma.get("/tests/1/settle").text


PAGES = ("/", "/tests/1", "/tests/1/settle/next", "/practise/1/1", "/nowhere", "/static/pages.css", "/static/settle.js")


@pytest.mark.parametrize("path", PAGES)
def test_every_answer_carries_the_strict_policy(path: str, app: Starlette) -> None:
    answer = teacher(app).get(path)
    policy = dict(p.strip().split(" ", 1) for p in answer.headers["content-security-policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["form-action"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["cache-control"] == ("max-age=3600" if path.startswith("/static") else "no-store")


@pytest.mark.parametrize("path", PAGES[:5])
def test_no_page_needs_anything_from_elsewhere_or_inline(path: str, app: Starlette) -> None:
    import re

    text = teacher(app).get(path).text
    assert re.findall(r'(?:src|href|action)="(?!/|#|\?)[^"]*"', text) == []
    assert re.findall(r"<script(?![^>]*\bsrc=)|<style|\son\w+=|\sstyle=", text.replace("&#34;", "")) == []


@pytest.mark.parametrize("https", [False, True])
def test_the_session_cookie_is_signed_and_kept_from_scripts(https: bool, store: Store) -> None:
    app = create_app(store, settings(https=https))
    cookie = Visitor(app).get("/").headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=lax" in cookie
    assert ("secure" in cookie) is https
    forged = Visitor(app)
    forged.client.cookies.set("marker_session", "eyJwZXJzb24iOiAxfQ==.aaaaaa.bbbbbbbbbbbbbbbbbbbbbbbbbbb")
    assert forged.get("/people", follow_redirects=False).status_code == 303


def test_the_session_outlasts_a_restart(store: Store) -> None:
    alma = teacher(create_app(store, settings()))
    again = Visitor(create_app(store, settings()))
    again.client.cookies = alma.client.cookies
    assert again.get("/people").status_code == 200


def test_only_known_host_names_are_answered(app: Starlette) -> None:
    assert Visitor(app).get("/", headers={"Host": "marker.attacker.example"}).status_code == 400


def test_a_body_that_is_too_large_is_refused(app: Starlette) -> None:
    alma = teacher(app)
    assert alma.client.post("/people", data={"names": "x" * 300_000}).status_code == 413
    chunks = (b"x" * 50_000 for _ in range(10))
    sent = alma.client.post("/people", content=chunks, headers={"content-type": "application/x-www-form-urlencoded"})
    assert sent.status_code == 413


def test_practice_has_a_rate_and_says_when_to_go_on(store: Store) -> None:
    app = create_app(store, settings(limits=Limits(lines_a_minute=6, lines_at_once=3)))
    one, two = signed_in(app, store, "One", Role.STUDENT), signed_in(app, store, "Two", Role.STUDENT)
    token = form_token(one)
    statuses = [one.client.post("/practise/1/1/line", data={"token": token, "line": f"I = {n}"}).status_code for n in range(5)]
    assert statuses == [200, 200, 200, 429, 429]
    answer = one.client.post("/practise/1/1/line", data={"token": token, "line": "I = 9"})
    assert 1 <= int(answer.headers["retry-after"]) <= 10
    assert two.client.post("/practise/1/1/line", data={"token": form_token(two), "line": "I = 1"}).status_code == 200


def test_codes_cannot_be_tried_without_end(store: Store) -> None:
    app = create_app(store, settings(limits=Limits(codes_a_minute=6, codes_at_once=3)))
    visitor = Visitor(app)
    token = visitor.token()
    assert [visitor.client.post("/enter", data={"token": token, "code": "A" * 10}).status_code for _ in range(5)] == [
        422,
        422,
        422,
        429,
        429,
    ]


ODD = (
    ("/tests/1/settle?part=x&state=<b>&page=-3", 200),
    ("/tests/1/settle?part=99999999999999999999&page=9999999", 200),
    ("/tests/1/settle/1/nothing", 404),
    ("/tests/99999999999999999999", 404),
    ("/tests/1/responses/424242", 404),
    ("/tests/1?group=%00%ff<i>&page=7", 200),
    ("/practise/1/0", 404),
    ("/practise/1/99", 404),
    ("/practise/7/1", 404),
    ("/tests/1/record?page=0", 200),
)


@pytest.mark.parametrize(("path", "status"), ODD)
def test_odd_addresses_never_break_a_page(path: str, status: int, app: Starlette) -> None:
    answer = teacher(app).get(path)
    assert answer.status_code == status
    assert "<i>" not in answer.text


# --- settling --------------------------------------------------------------------------------------------


def decide(visitor: Visitor, path: str, pick: str, reason: str = "", page: str | None = None) -> object:
    page = page or visitor.get(path).text
    data = {"token": field(page, "token"), "seen": field(page, "seen"), "only": "0", "pick": pick, "reason": reason}
    return visitor.client.post(path, data=data)


def test_settling_goes_on_to_the_next_group_and_can_be_undone(app: Starlette) -> None:
    alma = teacher(app)
    path = first_group(alma)
    done = decide(alma, path, "p1", "a half-open bracket")
    assert "Settled 2 alike responses to 1a: 2 marks of 3." in done.text  # type: ignore[attr-defined]
    assert done.url.path != path  # type: ignore[attr-defined]
    assert "a half-open bracket" in alma.get("/tests/1/record").text
    assert "2 marks of 3, by Teacher" in alma.get(path).text
    batch = field(done.text, "batch")  # type: ignore[attr-defined]
    assert "Taken back for 2 responses" in alma.post("/tests/1/undo", {"batch": batch}).text
    assert "8 responses wait" in alma.get("/tests/1/settle").text
    lines = [json.loads(x) for x in alma.get("/tests/1/decisions.jsonl").text.splitlines()]
    assert [(x["candidate"], x["action"], x["mark"], x["who"]) for x in lines] == [
        ("c06", "settle", 2.0, "Teacher"),
        ("c07", "settle", 2.0, "Teacher"),
        ("c06", "undo", None, "Teacher"),
        ("c07", "undo", None, "Teacher"),
    ]


def test_the_second_of_two_people_is_told_and_may_still_replace(app: Starlette, store: Store) -> None:
    alma, mona = teacher(app), signed_in(app, store, "Mona", Role.MODERATOR)
    path = first_group(alma)
    page = alma.get(path).text
    decide(mona, path, "p0", "she was first")
    late = decide(alma, path, "p1", "mine", page)
    assert late.status_code == 409  # type: ignore[attr-defined]
    assert "Someone was here before you" in late.text  # type: ignore[attr-defined]
    assert "Mona" in late.text and "she was first" in late.text and "mine" in late.text  # type: ignore[attr-defined]
    assert "1 mark of 3, by Mona" in alma.get(path).text
    again = decide(alma, path, "m2.0", "mine", late.text)  # type: ignore[attr-defined]
    assert again.status_code == 200  # type: ignore[attr-defined]
    record = alma.get("/tests/1/record").text
    assert "she was first" in record and "mine" in record


def test_one_of_a_group_by_itself(app: Starlette) -> None:
    import re

    alma = teacher(app)
    path = first_group(alma)
    only = re.findall(r"\?only=(\d+)", alma.get(path).text)[1]
    page = alma.get(f"{path}?only={only}").text
    data = {"token": field(page, "token"), "seen": field(page, "seen"), "only": field(page, "only"), "pick": "m3.0"}
    assert "Settled 1a of candidate c07: 3 marks of 3." in alma.client.post(path, data=data).text
    assert "1 still wait" in alma.get("/tests/1/settle").text


@pytest.mark.parametrize("pick", ["", "p9", "m-1", "m4", "m1.5", "mnan", "minf", "m", "x", "p-1", "p²"])
def test_an_impossible_mark_is_never_recorded(pick: str, app: Starlette) -> None:
    alma = teacher(app)
    answer = decide(alma, first_group(alma), pick)
    assert answer.status_code == 422  # type: ignore[attr-defined]
    assert alma.get("/tests/1/decisions.jsonl").text == ""


def test_the_workbook_can_be_had_at_any_time(app: Starlette, tmp_path: Path) -> None:
    alma = teacher(app)
    decide(alma, first_group(alma), "p1", "seen")
    answer = alma.get("/tests/1/workbook")
    assert "Class-test-the-tide-mill.xlsx" in answer.headers["content-disposition"]
    file = tmp_path / "marks.xlsx"
    file.write_bytes(answer.content)
    assert {k: d.mark for k, d in read_decisions(file).made.items()} == {("c06", "1a"): 2.0, ("c07", "1a"): 2.0}


def test_another_mark_for_a_response_that_was_not_referred(app: Starlette) -> None:
    alma = teacher(app)
    page = alma.get("/tests/1/responses/1").text
    data = {"token": field(page, "token"), "seen": field(page, "seen"), "pick": "m1.0", "reason": "copied"}
    assert "1 of 3" in alma.client.post("/tests/1/responses/1", data=data).text
    late = alma.client.post("/tests/1/responses/1", data={**data, "pick": "m2.0"})
    assert "Not recorded: Teacher has decided about this response" in late.text


# --- hostile text and uploads ----------------------------------------------------------------------------


def test_what_candidates_type_is_shown_as_text_everywhere(app: Starlette, store: Store) -> None:
    alma = teacher(app)
    student = signed_in(app, store, "<script>alert(1)</script>", Role.STUDENT)
    for line in HOSTILE:
        student.client.post("/practise/1/1/line", data={"token": form_token(student), "line": line})
    texts = [alma.get(p).text for p in ("/tests/1", "/tests/1/settle", "/people")]
    texts += [alma.get(f"/tests/1/settle?state=all&page={n}").text for n in (1, 2)]
    path = first_group(alma)
    here = alma.get(path).text
    import re

    after = re.search(r'href="(/tests/1/settle/\d+/\w+)"[^>]*rel="next"', here)
    assert after is not None
    hostile = alma.get(after.group(1)).text
    texts += [hostile, student.get("/practise/1/1").text]
    assert "&lt;script&gt;document.title" in hostile
    assert "&lt;script&gt;document.title" in texts[-1]
    for text in texts:
        assert "<img" not in text
        assert "<script>" not in text
        assert "</textarea><b>" not in text
        assert "<i onclick" not in text
        assert "onerror=&#34;" in text or 'onerror="' not in text


def test_a_class_test_is_added_from_its_files(tmp_path: Path) -> None:
    from marker.web.storage import open_store

    store = open_store(tmp_path / "empty.db")
    alma = teacher(create_app(store, settings()))
    responses = 'candidate,1a,1b,2\nq1,"P = IV\n46 = I × 230\nI = 0.20 A",E = mgh,\n"<b>q2</b>",I = 0.2 A,,p = ρgh\n'
    files = {"scheme": ("../mill.toml", SCHEME.encode()), "responses": ("mill.csv", responses.encode())}
    page = alma.client.post("/tests", data={"token": alma.token()}, files=files)
    assert page.status_code == 200
    assert "6 responses marked" in page.text
    assert "&lt;b&gt;q2&lt;/b&gt;" in page.text
    assert "mill.toml" in alma.get("/").text
    again = alma.client.post("/tests", data={"token": alma.token()}, files=files)
    assert again.url.path == page.url.path
    bad = alma.client.post("/tests", data={"token": alma.token()}, files={**files, "scheme": ("mill.toml", b"[paper]\ntitle = 3")})
    assert bad.status_code == 422
    assert "title" in bad.text
    none = alma.client.post("/tests", data={"token": alma.token()}, files={"scheme": files["scheme"]})
    assert (none.status_code, "Choose both files" in none.text) == (422, True)
    store.close()


RAISED = (("1025 kg/m^3", "1025 kg/m³"), ("2.40 × 10^-6 Pa", "2.40 × 10⁻⁶ Pa"), ("x^2.5 and y^z", "x^2.5 and y^z"), ("m^1234", "m^1234"))


@pytest.mark.parametrize(("typed", "shown"), RAISED, ids=[r[0] for r in RAISED])
def test_powers_in_a_question_are_raised(typed: str, shown: str) -> None:
    assert raised(typed) == shown
