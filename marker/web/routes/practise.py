"""Practising: choose a part, type a line, see at once what it says. Every page shows the asking person's own work only."""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.routing import Route

from marker.marking import mark_response
from marker.scheme.paper import CompiledPart, Paper
from marker.web.coaching import LONGEST_LINE, MOST_LINES, STRONGEST, fault_on_last, hint, judged
from marker.web.desk import EVERYONE_KNOWN, Desk, page
from marker.web.question import question_of
from marker.web.storage import practice
from marker.web.storage.class_tests import PracticeTest, list_tests, practice_test
from marker.web.storage.model import Role


def _choose(desk: Desk) -> Response:
    found = [practice_test(desk.store, t.id) for t in list_tests(desk.store, only_practice=True)]
    listed = [(t, _parts(desk, t)) for t in found if t is not None and desk.office.papers.works(t)]
    return desk.page("practise.html", listed=listed)


def _parts(desk: Desk, test: PracticeTest) -> list[tuple[int, str, float, practice.Progress | None]]:
    """(number, name, maximum, own progress) of each part."""
    paper = desk.office.papers.paper(test)
    mine = practice.progress(desk.store, desk.who.id, test.id)
    return [(n, p.name, p.marks, mine.get(p.name)) for n, p in enumerate(paper.parts, start=1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """The part of the address, in its class test."""

    test: PracticeTest
    paper: Paper
    number: int

    @property
    def part(self) -> CompiledPart:
        return self.paper.parts[self.number - 1]

    @property
    def address(self) -> str:
        return f"/practise/{self.test.id}/{self.number}#line"


def _place(desk: Desk) -> Place:
    """The part of the address, if it may be practised by this person; else 404."""
    test, number = practice_test(desk.store, desk.number("test")), desk.number("part")
    if test is None or (not test.practice and desk.who.role is Role.STUDENT):
        raise HTTPException(404)
    paper = desk.office.papers.paper(test)
    if not 1 <= number <= len(paper.parts):
        raise HTTPException(404)
    return Place(test=test, paper=paper, number=number)


def _attempt(desk: Desk, place: Place) -> practice.Attempt:
    """The attempt in hand; a first one is begun with fresh numbers. A changed scheme begins anew."""
    found = practice.in_hand(desk.store, desk.who.id, place.test.id, place.part.name)
    if found is None or found.scheme_sha256 != place.test.key:
        return _begin(desk, place, fresh=True)
    return found


def _begin(desk: Desk, place: Place, fresh: bool) -> practice.Attempt:
    desk.limit(desk.office.rates.draws, str(desk.who.id))
    draw = 1 + secrets.randbelow(2**31 - 2) if fresh else 0
    return practice.begin(desk.store, desk.who.id, place.test.id, place.part.name, place.part.marks, draw, place.test.key)


def _drawn(desk: Desk, place: Place, attempt: practice.Attempt) -> CompiledPart:
    return desk.office.papers.drawn(place.test, attempt.part, attempt.draw).part


def _part(desk: Desk) -> Response:
    place = _place(desk)
    return _shown(desk, place, _attempt(desk, place))


def _shown(desk: Desk, place: Place, attempt: practice.Attempt, status: int = 200, typed: str = "", wrong: str = "") -> Response:
    drawn = desk.office.papers.drawn(place.test, attempt.part, attempt.draw)
    lines = [x.text for x in attempt.lines]
    working = judged(drawn.part, lines)
    return desk.page(
        "working.html" if desk.request.headers.get(ASKED) == "working" else "part.html",
        status=status,
        test=place.test,
        number=place.number,
        of=len(place.paper.parts),
        question=question_of(drawn),
        attempt=attempt,
        working=working,
        lines=list(zip(working.lines, attempt.lines, strict=False)),
        hints=[hint(drawn.part, lines, n) for n in range(1, attempt.strength + 1)],
        strongest=STRONGEST,
        typed=typed,
        wrong=wrong,
        longest=LONGEST_LINE,
        full=len(attempt.lines) >= MOST_LINES,
    )


def _line(desk: Desk) -> Response:
    desk.limit(desk.office.rates.lines, str(desk.who.id))
    place = _place(desk)
    attempt = _attempt(desk, place)
    text = " ".join(desk.typed("line", 10 * LONGEST_LINE).split())
    if not text:
        return _done(desk, place, attempt)
    if len(text) > LONGEST_LINE or len(attempt.lines) >= MOST_LINES:
        wrong = (
            f"A line may have {LONGEST_LINE} characters."
            if len(text) > LONGEST_LINE
            else "That is as many lines as fit. Take one back first."
        )
        return _shown(desk, place, attempt, 422, text[:LONGEST_LINE], wrong)
    result = mark_response(_drawn(desk, place, attempt), [*(x.text for x in attempt.lines), text])
    fault = fault_on_last(result)
    verdict = result.lines[-1].verdict if result.lines else "remark"
    return _done(desk, place, practice.add_line(desk.store, attempt, text, verdict, fault.code if fault else "", result.mark))


def _back(desk: Desk) -> Response:
    place = _place(desk)
    attempt = _attempt(desk, place)
    line = desk.typed("line_id", 12)
    left = [x.text for x in attempt.lines if str(x.id) != line]
    if len(left) == len(attempt.lines):
        raise HTTPException(404)
    mark = mark_response(_drawn(desk, place, attempt), left).mark
    return _done(desk, place, practice.take_back(desk.store, attempt, int(line), mark))


def _hint(desk: Desk) -> Response:
    place = _place(desk)
    attempt = _attempt(desk, place)
    if attempt.strength < practice.NEXT_STEP:
        attempt = practice.show_hint(desk.store, attempt, attempt.strength + 1)
    return _done(desk, place, attempt)


def _draw(desk: Desk) -> Response:
    """Begins the part again, with fresh numbers or with those of the paper."""
    place = _place(desk)
    _begin(desk, place, fresh=desk.typed("numbers") != "paper")
    return desk.go(place.address)


def _done(desk: Desk, place: Place, attempt: practice.Attempt) -> Response:
    """Back to the part; only its working where the page asked for that."""
    return _shown(desk, place, attempt) if desk.request.headers.get(ASKED) == "working" else desk.go(place.address)


ASKED = "x-part-of-page"
_PART = "/practise/{test:int}/{part:int}"
ROUTES = (
    Route("/practise", page(EVERYONE_KNOWN, _choose)),
    Route(_PART, page(EVERYONE_KNOWN, _part)),
    Route(f"{_PART}/line", page(EVERYONE_KNOWN, _line), methods=["POST"]),
    Route(f"{_PART}/back", page(EVERYONE_KNOWN, _back), methods=["POST"]),
    Route(f"{_PART}/hint", page(EVERYONE_KNOWN, _hint), methods=["POST"]),
    Route(f"{_PART}/draw", page(EVERYONE_KNOWN, _draw), methods=["POST"]),
)
