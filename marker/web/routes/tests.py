"""Class tests: adding one, the class at a glance, one response, and whether its parts may be practised."""

from __future__ import annotations

from pathlib import Path, PurePath
from tempfile import TemporaryDirectory

from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.routing import Route

from marker.classwork import mark_files
from marker.errors import Problem, ResponsesError
from marker.reporting.feedback.view import part_view
from marker.reporting.feedback.wording import wording
from marker.web.desk import STAFF, TEACHER, Desk, page
from marker.web.papers import copy_scheme
from marker.web.storage.class_tests import find_test, keep_class_test, practice_test, set_practice
from marker.web.storage.model import TestHead
from marker.web.storage.overview import overview
from marker.web.storage.queue import marked_result, one_response, state_of


def the_test(desk: Desk) -> TestHead:
    """The class test of the address, or 404."""
    found = find_test(desk.store, desk.number("test"))
    if found is None:
        raise HTTPException(404)
    return found


def _new(desk: Desk) -> Response:
    return desk.page("new_test.html")


def _add(desk: Desk) -> Response:
    """Marks uploaded files and keeps the class test; the files themselves are not kept."""
    with TemporaryDirectory(prefix="marker-") as folder:
        scheme = _saved(desk.form.get("scheme"), Path(folder), "scheme.toml")
        responses = _saved(desk.form.get("responses"), Path(folder), "responses.csv")
        if scheme is None or responses is None:
            missing = "the scheme" if scheme is None else "the responses"
            raise ResponsesError(Problem(where="the form", seen=f"no file for {missing}", mend="Choose both files."))
        marked, problems = mark_files(scheme, responses)
        kept = keep_class_test(desk.store, copy_scheme(scheme), marked, desk.who.name)
    said = f"{marked.title}: {len(marked.results)} responses marked, {len(marked.referrals())} referred to you."
    if kept.lapsed:
        said += f" {kept.lapsed} earlier decisions no longer fit and wait again."
    if problems:
        said += f" {len(problems)} rows or cells were set aside; the workbook lists them under Record."
    desk.say(said)
    return desk.go(f"/tests/{kept.id}")


def _saved(upload: object, folder: Path, fallback: str) -> Path | None:
    """An uploaded file under its own last name, which decides how it is read; None where none was chosen."""
    if not isinstance(upload, UploadFile) or not upload.filename:
        return None
    name = PurePath(upload.filename.replace("\\", "/")).name[:120].replace("\x00", "") or fallback
    target = folder / (name if name not in (".", "..") else fallback)
    target.write_bytes(upload.file.read())
    return target


def _overview(desk: Desk) -> Response:
    test = the_test(desk)
    group = desk.request.query_params.get("group", "")[:200]
    number = desk.asked("page", 1)
    return desk.page(
        "overview.html", test=test, found=overview(desk.store, test.id, group=group, number=number), group=group, number=number
    )


def _practice(desk: Desk) -> Response:
    test = the_test(desk)
    wanted = desk.typed("open") == "yes"
    scheme = practice_test(desk.store, test.id)
    if wanted and scheme is not None:
        desk.office.papers.paper(scheme)
    set_practice(desk.store, test.id, wanted)
    desk.say("Students can now practise its parts." if wanted else "Its parts can no longer be practised.")
    return desk.go(f"/tests/{test.id}")


def _response(desk: Desk) -> Response:
    test = the_test(desk)
    member = one_response(desk.store, test.id, desk.number("response"))
    if member is None:
        raise HTTPException(404)
    result = marked_result(desk.store, member.id)
    view = part_view(result, member.stands, member.settled, "p", (), wording())
    return desk.page(
        "response.html",
        test=test,
        member=member,
        result=result,
        view=view,
        seen=state_of([member]),
        marks=possible_marks(member.maximum, test),
    )


def possible_marks(maximum: float, test: TestHead) -> tuple[float, ...]:
    """Every mark that may be given for a part."""
    steps = round(maximum * (2 if test.half_marks else 1))
    return tuple(n / (2 if test.half_marks else 1) for n in range(steps + 1))


ROUTES = (
    Route("/tests/new", page(TEACHER, _new)),
    Route("/tests", page(TEACHER, _add), methods=["POST"]),
    Route("/tests/{test:int}", page(STAFF, _overview)),
    Route("/tests/{test:int}/practice", page(TEACHER, _practice), methods=["POST"]),
    Route("/tests/{test:int}/responses/{response:int}", page(STAFF, _response)),
)
