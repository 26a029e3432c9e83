"""Settling what was referred: the queue, one group of alike responses, the decision, and taking it back."""

from __future__ import annotations

from collections.abc import Sequence

from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.routing import Route

from marker.reporting.feedback.view import part_view
from marker.reporting.feedback.wording import wording
from marker.reporting.paper import mark_text, possible_mark
from marker.results import PartResult
from marker.web.desk import STAFF, Desk, page
from marker.web.routes.tests import possible_marks, the_test
from marker.web.storage.decisions import LONGEST_REASON, Overtaken, Wish, settle, undo
from marker.web.storage.model import Member, TestHead
from marker.web.storage.queue import group_members, marked_result, next_open, one_response, parts_waiting, place_of, queue_page, state_of
from marker.web.views import counted, marks_text

LISTED = 40
"""Candidates of a group that are listed by name on its page."""


def _queue(desk: Desk) -> Response:
    test = the_test(desk)
    asked = desk.request.query_params.get("state", "open")
    state = asked if asked in ("open", "settled", "all") else "open"
    part_id = desk.asked("part", 0) or None
    number = desk.asked("page", 1)
    found = queue_page(desk.store, test.id, part_id=part_id, state=state, number=number)  # type: ignore[arg-type]
    return desk.page("queue.html", test=test, found=found, parts=parts_waiting(desk.store, test.id), state=state, part_id=part_id)


def _next(desk: Desk) -> Response:
    test = the_test(desk)
    return desk.go(_onward(desk, test, None, ""))


def _onward(desk: Desk, test: TestHead, part_id: int | None, alike: str) -> str:
    """The address of the next group that waits; the queue when none does."""
    found = next_open(desk.store, test.id, part_id, alike)
    return f"/tests/{test.id}/settle" if found is None else f"/tests/{test.id}/settle/{found[0]}/{found[1]}"


def _group(desk: Desk) -> Response:
    test = the_test(desk)
    return _group_page(desk, test, _members(desk, test))


def _members(desk: Desk, test: TestHead) -> tuple[Member, ...]:
    found = group_members(desk.store, test.id, desk.number("part"), str(desk.request.path_params["alike"]))
    if not found:
        raise HTTPException(404)
    return found


def _group_page(
    desk: Desk, test: TestHead, found: Sequence[Member], status: int = 200, overtaken: Overtaken | None = None, mine: Wish | None = None
) -> Response:
    first = found[0]
    only = desk.asked("only", 0) or int(desk.typed("only", 12) or 0)
    chosen = [m for m in found if m.id == only] or list(found)
    result = marked_result(desk.store, chosen[0].id)
    return desk.page(
        "group.html",
        status=status,
        test=test,
        first=chosen[0],
        result=result,
        view=part_view(result, result.mark, False, "p", (), wording()),
        members=found[:LISTED],
        more=max(0, len(found) - LISTED),
        count=len(chosen),
        all_count=len(found),
        only=chosen[0].id if len(chosen) == 1 and len(found) > 1 else 0,
        waiting=sum(not m.settled for m in chosen),
        seen=state_of(chosen),
        marks=possible_marks(first.maximum, test),
        place=place_of(desk.store, test.id, first.part_id, first.alike),
        overtaken=overtaken,
        mine=mine,
    )


def _decide(desk: Desk) -> Response:
    """One decision for all alike, or for the one singled out. Refused, and told, when someone else was first."""
    test = the_test(desk)
    found = _members(desk, test)
    only = desk.typed("only", 12)
    chosen = [m for m in found if str(m.id) == only] if only not in ("", "0") else list(found)
    if not chosen:
        raise HTTPException(404)
    wish = _wish(desk, test, chosen, marked_result(desk.store, chosen[0].id))
    done = settle(desk.store, wish, desk.who)
    if isinstance(done, Overtaken):
        return _group_page(desk, test, _members(desk, test), 409, done, wish)
    desk.say(f"{_told(chosen)}: {marks_text(wish.mark)} of {mark_text(chosen[0].maximum)}.", done.batch, desk.request.url.path)
    return desk.go(_onward(desk, test, chosen[0].part_id, chosen[0].alike))


def _told(chosen: Sequence[Member]) -> str:
    if len(chosen) == 1:
        return f"Settled {chosen[0].part} of candidate {chosen[0].candidate}"
    return f"Settled {counted(len(chosen), 'alike response')} to {chosen[0].part}"


def _wish(desk: Desk, test: TestHead, chosen: Sequence[Member], result: PartResult) -> Wish:
    """What the form asks for: `pick` is "p0" for the first possibility, or "m1.5" for another mark."""
    pick = desk.typed("pick", 12)
    mark, choice = -1.0, ""
    if pick.startswith("p") and pick[1:].isdecimal() and result.referral is not None:
        number = int(pick[1:])
        if number < len(result.referral.possibilities):
            mark, choice = result.referral.possibilities[number].mark, result.referral.possibilities[number].text
    elif pick.startswith("m"):
        try:
            mark = float(pick[1:])
        except ValueError:
            mark = -1.0
    if not possible_mark(mark, chosen[0].maximum, test.half_marks):
        raise HTTPException(422, detail="That is not a mark this part can have.")
    return Wish(
        responses=tuple(m.id for m in chosen),
        mark=mark,
        seen=desk.typed("seen", 40),
        choice=choice,
        reason=desk.typed("reason", LONGEST_REASON).strip(),
    )


def _decide_one(desk: Desk) -> Response:
    """Another mark for one response, referred or not."""
    test = the_test(desk)
    member = one_response(desk.store, test.id, desk.number("response"))
    if member is None:
        raise HTTPException(404)
    wish = _wish(desk, test, [member], marked_result(desk.store, member.id))
    done = settle(desk.store, wish, desk.who)
    if isinstance(done, Overtaken):
        who = done.entries[0].who if done.entries else "someone"
        desk.say(f"Not recorded: {who} has decided about this response since you opened it. What stands now is shown here.")
    else:
        desk.say(f"{_told([member])}: {marks_text(wish.mark)} of {mark_text(member.maximum)}.", done.batch)
    return desk.go(f"/tests/{test.id}/responses/{member.id}")


def _undo(desk: Desk) -> Response:
    test = the_test(desk)
    done = undo(desk.store, desk.typed("batch", 40), desk.who, test.id)
    if done is None:
        raise HTTPException(404)
    if isinstance(done, Overtaken):
        last = done.entries[0]
        desk.say(f"Not taken back: {last.who} has decided again about one of these responses since. The record shows what stands.")
        return desk.go(f"/tests/{test.id}/record")
    desk.say(f"Taken back for {counted(done.count, 'response')}. What stood before stands again, and the record shows both.")
    back = desk.typed("back", 300)
    return desk.go(back if back.startswith(f"/tests/{test.id}/") else f"/tests/{test.id}/settle")


ROUTES = (
    Route("/tests/{test:int}/settle", page(STAFF, _queue)),
    Route("/tests/{test:int}/settle/next", page(STAFF, _next)),
    Route("/tests/{test:int}/settle/{part:int}/{alike}", page(STAFF, _group)),
    Route("/tests/{test:int}/settle/{part:int}/{alike}", page(STAFF, _decide), methods=["POST"]),
    Route("/tests/{test:int}/responses/{response:int}", page(STAFF, _decide_one), methods=["POST"]),
    Route("/tests/{test:int}/undo", page(STAFF, _undo), methods=["POST"]),
)
