"""Practising: choose a part, type a line, see at once what it says. Every page shows the asking person's own work only."""

from __future__ import annotations

import secrets

from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.routing import Route

from marker.scheme.paper import Paper
from marker.web.coaching import LONGEST_LINE, MOST_LINES, STRONGEST, fault_on_last, hint, judged
from marker.web.desk import EVERYONE_KNOWN, Desk, page
from marker.web.question import question_of
from marker.web.storage import practice
from marker.web.storage.class_tests import find_test, list_tests
from marker.web.storage.model import Role, TestHead


def _choose(desk: Desk) -> Response:
    tests = [t for t in list_tests(desk.store, only_practice=True) if desk.office.papers.works(t.id)]
    listed = [(t, _parts(desk, t)) for t in tests]
    return desk.page("practise.html", listed=listed)


def _parts(desk: Desk, test: TestHead) -> list[tuple[int, str, float, practice.Progress | None]]:
    """(number, name, maximum, own progress) of each part."""
    paper, _ = desk.office.papers.paper(test.id)
    mine = practice.progress(desk.store, desk.who.id, test.id)
    return [(n, p.name, p.marks, mine.get(p.name)) for n, p in enumerate(paper.parts, start=1)]


def _open_test(desk: Desk) -> tuple[TestHead, Paper, str]:
    """The class test of the address, if it may be practised by this person."""
    test = find_test(desk.store, desk.number("test"))
    if test is None or (not test.practice and desk.who.role is Role.STUDENT):
        raise HTTPException(404)
    paper, key = desk.office.papers.paper(test.id)
    return test, paper, key


def _part_name(desk: Desk, paper: Paper) -> str:
    number = desk.number("part")
    if not 1 <= number <= len(paper.parts):
        raise HTTPException(404)
    return paper.parts[number - 1].name


def _attempt(desk: Desk) -> tuple[TestHead, Paper, practice.Attempt]:
    """The attempt in hand; a first one is begun with fresh numbers. A changed scheme begins anew."""
    test, paper, key = _open_test(desk)
    name = _part_name(desk, paper)
    found = practice.in_hand(desk.store, desk.who.id, test.id, name)
    if found is None or found.scheme_sha256 != key:
        _begin(desk, test, paper, name, key, fresh=True)
        found = practice.in_hand(desk.store, desk.who.id, test.id, name)
    if found is None:
        raise HTTPException(404)
    return test, paper, found


def _begin(desk: Desk, test: TestHead, paper: Paper, name: str, key: str, fresh: bool) -> None:
    desk.limit(desk.office.rates.draws, str(desk.who.id))
    draw = 1 + secrets.randbelow(2**31 - 2) if fresh else 0
    practice.begin(desk.store, desk.who.id, test.id, name, paper.part(name).marks, draw, key)


def _part(desk: Desk) -> Response:
    test, paper, attempt = _attempt(desk)
    return _shown(desk, test, paper, attempt)


def _shown(
    desk: Desk, test: TestHead, paper: Paper, attempt: practice.Attempt, status: int = 200, typed: str = "", wrong: str = ""
) -> Response:
    drawn = desk.office.papers.drawn(test.id, attempt.part, attempt.draw)
    working = judged(drawn.part, [x.text for x in attempt.lines])
    hints = [hint(drawn.part, [x.text for x in attempt.lines], n) for n in range(1, attempt.strength + 1)]
    number = desk.number("part")
    only = desk.request.headers.get("x-part-of-page") == "working"
    return desk.page(
        "working.html" if only else "part.html",
        status=status,
        test=test,
        number=number,
        of=len(paper.parts),
        question=question_of(drawn),
        attempt=attempt,
        working=working,
        lines=list(zip(working.lines, attempt.lines, strict=False)),
        hints=hints,
        strongest=STRONGEST,
        typed=typed,
        wrong=wrong,
        longest=LONGEST_LINE,
        full=len(attempt.lines) >= MOST_LINES,
    )


def _line(desk: Desk) -> Response:
    desk.limit(desk.office.rates.lines, str(desk.who.id))
    test, paper, attempt = _attempt(desk)
    text = " ".join(desk.typed("line", 10 * LONGEST_LINE).split())
    if not text:
        return _done(desk, test, paper)
    if len(text) > LONGEST_LINE or len(attempt.lines) >= MOST_LINES:
        wrong = (
            f"A line may have {LONGEST_LINE} characters."
            if len(text) > LONGEST_LINE
            else "That is as many lines as fit. Take one back first."
        )
        return _shown(desk, test, paper, attempt, 422, text[:LONGEST_LINE], wrong)
    drawn = desk.office.papers.drawn(test.id, attempt.part, attempt.draw)
    result = judged(drawn.part, [*(x.text for x in attempt.lines), text]).result
    fault = fault_on_last(result)
    verdict = result.lines[-1].verdict if result.lines else "remark"
    practice.add_line(desk.store, attempt, text, verdict, fault.code if fault else "", result.mark)
    return _done(desk, test, paper)


def _back(desk: Desk) -> Response:
    test, paper, attempt = _attempt(desk)
    line = desk.typed("line_id", 12)
    left = [x.text for x in attempt.lines if str(x.id) != line]
    if not line.isdecimal() or len(left) == len(attempt.lines):
        raise HTTPException(404)
    drawn = desk.office.papers.drawn(test.id, attempt.part, attempt.draw)
    practice.take_back(desk.store, attempt, int(line), judged(drawn.part, left).result.mark)
    return _done(desk, test, paper)


def _hint(desk: Desk) -> Response:
    test, paper, attempt = _attempt(desk)
    if attempt.strength < practice.NEXT_STEP:
        practice.show_hint(desk.store, attempt, attempt.strength + 1)
    return _done(desk, test, paper)


def _draw(desk: Desk) -> Response:
    """Begins the part again, with fresh numbers or with those of the paper."""
    test, paper, key = _open_test(desk)
    _begin(desk, test, paper, _part_name(desk, paper), key, fresh=desk.typed("numbers") != "paper")
    return desk.go(_address(desk, test))


def _done(desk: Desk, test: TestHead, paper: Paper) -> Response:
    """Back to the part; only its working where the page asked for that."""
    if desk.request.headers.get("x-part-of-page") == "working":
        return _shown(desk, *_attempt_again(desk, test, paper))
    return desk.go(_address(desk, test))


def _attempt_again(desk: Desk, test: TestHead, paper: Paper) -> tuple[TestHead, Paper, practice.Attempt]:
    found = practice.in_hand(desk.store, desk.who.id, test.id, _part_name(desk, paper))
    if found is None:
        raise HTTPException(404)
    return test, paper, found


def _address(desk: Desk, test: TestHead) -> str:
    return f"/practise/{test.id}/{desk.number('part')}#line"


_PART = "/practise/{test:int}/{part:int}"
ROUTES = (
    Route("/practise", page(EVERYONE_KNOWN, _choose)),
    Route(_PART, page(EVERYONE_KNOWN, _part)),
    Route(f"{_PART}/line", page(EVERYONE_KNOWN, _line), methods=["POST"]),
    Route(f"{_PART}/back", page(EVERYONE_KNOWN, _back), methods=["POST"]),
    Route(f"{_PART}/hint", page(EVERYONE_KNOWN, _hint), methods=["POST"]),
    Route(f"{_PART}/draw", page(EVERYONE_KNOWN, _draw), methods=["POST"]),
)
