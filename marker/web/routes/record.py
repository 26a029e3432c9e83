"""The record of decisions, and the workbook written from it at any time."""

from __future__ import annotations

import json
import re
from pathlib import Path
from tempfile import mkdtemp

from starlette.background import BackgroundTask
from starlette.responses import FileResponse, PlainTextResponse, Response
from starlette.routing import Route

from marker.reporting import write_workbook
from marker.web.desk import STAFF, Desk, page
from marker.web.routes.tests import the_test
from marker.web.storage.class_tests import marked_paper
from marker.web.storage.decisions import batches, entries, standing_decisions

_WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def _record(desk: Desk) -> Response:
    test = the_test(desk)
    number = desk.asked("page", 1)
    found, pages = batches(desk.store, test.id, number)
    return desk.page("record.html", test=test, batches=found, pages=pages, number=min(max(number, 1), pages))


def _decisions(desk: Desk) -> Response:
    """Every decision ever recorded, one JSON object a line, oldest first."""
    test = the_test(desk)
    lines = [
        json.dumps(
            {
                "candidate": candidate,
                "part": part,
                "action": e.action,
                "mark": e.mark,
                "choice": e.choice,
                "reason": e.reason,
                "who": e.who,
                "when": e.at,
            },
            ensure_ascii=False,
        )
        for candidate, part, e in entries(desk.store, test.id)
    ]
    headers = {"Content-Disposition": 'attachment; filename="decisions.jsonl"'}
    return PlainTextResponse("\n".join(lines) + "\n" * bool(lines), media_type="application/jsonl", headers=headers)


def _workbook(desk: Desk) -> Response:
    test = the_test(desk)
    folder = Path(mkdtemp(prefix="marker-"))
    file = folder / "marks.xlsx"
    write_workbook(file, marked_paper(desk.store, test.id), standing_decisions(desk.store, test.id))
    name = re.sub(r"[^\w-]+", "-", test.title).strip("-")[:60] or "marks"
    return FileResponse(file, media_type=_WORKBOOK, filename=f"{name}.xlsx", background=BackgroundTask(_remove, file))


def _remove(file: Path) -> None:
    file.unlink(missing_ok=True)
    file.parent.rmdir()


ROUTES = (
    Route("/tests/{test:int}/record", page(STAFF, _record)),
    Route("/tests/{test:int}/decisions.jsonl", page(STAFF, _decisions)),
    Route("/tests/{test:int}/workbook", page(STAFF, _workbook)),
)
