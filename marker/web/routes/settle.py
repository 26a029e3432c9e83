"""Settling what was referred: the queue, one group of alike responses, the decision, and taking it back."""

from __future__ import annotations

import re
from dataclasses import dataclass

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
from marker.web.storage.queue import (
    group_members,
    group_states,
    marked_result,
    next_open,
    one_response,
    parts_waiting,
    place_of,
    queue_page,
    state_token,
)
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """A group as its page and its form need it.

    states    (response, last decision, settled) of every one;  listed  the first of them, with their candidates
    chosen    states of those a decision is for: all of them, or the one singled out;  first  the first of these
    """

    states: tuple[tuple[int, int, bool], ...]
    listed: tuple[Member, ...]
    chosen: tuple[tuple[int, int, bool], ...]
    first: Member

    @property
    def only(self) -> int:
        """The response singled out, 0 for none."""
        return self.first.id if len(self.chosen) == 1 < len(self.states) else 0

    @property
    def seen(self) -> str:
        return state_token([(response, decision) for response, decision, _ in self.chosen])


def _alike(desk: Desk, test: TestHead, only: str) -> Alike:
    """The group of the address, whole or one of it; 404 when there is none."""
    part_id, alike = desk.number("part"), str(desk.request.path_params["alike"])
    states = group_states(desk.store, test.id, part_id, alike)
    chosen = tuple(s for s in states if str(s[0]) == only) if only not in ("", "0") else states
    first = one_response(desk.store, test.id, chosen[0][0]) if chosen else None
    if first is None:
        raise HTTPException(404)
    return Alike(states=states, listed=group_members(desk.store, test.id, part_id, alike, LISTED), chosen=chosen, first=first)


def _group(desk: Desk) -> Response:
    test = the_test(desk)
    return _group_page(desk, test, _alike(desk, test, desk.request.query_params.get("only", "")[:12]))


def _group_page(
    desk: Desk, test: TestHead, found: Alike, status: int = 200, overtaken: Overtaken | None = None, mine: Wish | None = None
) -> Response:
    first = found.first
    result = marked_result(desk.store, first.id)
    return desk.page(
        "group.html",
        status=status,
        test=test,
        first=first,
        result=result,
        view=part_view(result, result.mark, False, "p", (), wording()),
        members=found.listed,
        more=len(found.states) - len(found.listed),
        count=len(found.chosen),
        all_count=len(found.states),
        only=found.only,
        waiting=sum(not settled for _, _, settled in found.chosen),
        seen=found.seen,
        marks=possible_marks(first.maximum, test),
        place=place_of(desk.store, test.id, first.part_id, first.alike),
        overtaken=overtaken,
        mine=mine,
    )


def _decide(desk: Desk) -> Response:
    """One decision for all alike, or for the one singled out. Refused, and told, when someone else was first."""
    test = the_test(desk)
    only = desk.typed("only", 12)
    found = _alike(desk, test, only)
    wish = _wish(desk, test, found.first, tuple(response for response, _, _ in found.chosen))
    done = settle(desk.store, wish, desk.who)
    if isinstance(done, Overtaken):
        return _group_page(desk, test, _alike(desk, test, only), 409, done, wish)
    told = _told(found.first, len(found.chosen))
    desk.say(f"{told}: {marks_text(wish.mark)} of {mark_text(found.first.maximum)}.", done.batch, desk.request.url.path)
    return desk.go(_onward(desk, test, found.first.part_id, found.first.alike))


def _told(first: Member, count: int) -> str:
    if count == 1:
        return f"Settled {first.part} of candidate {first.candidate}"
    return f"Settled {counted(count, 'alike response')} to {first.part}"


def _wish(desk: Desk, test: TestHead, first: Member, responses: tuple[int, ...]) -> Wish:
    """What the form asks for: `pick` is "p0" for the first possibility, or "m1.5" for another mark."""
    mark, choice = _picked(desk.typed("pick", 12), marked_result(desk.store, first.id))
    if not possible_mark(mark, first.maximum, test.half_marks):
        raise HTTPException(422, detail="That is not a mark this part can have.")
    reason = desk.typed("reason", LONGEST_REASON).strip()
    return Wish(responses=responses, mark=mark, seen=desk.typed("seen", 40), choice=choice, reason=reason)


def _picked(pick: str, result: PartResult) -> tuple[float, str]:
    """(mark, possibility in its words); -1 where nothing possible was picked."""
    possibilities = result.referral.possibilities if result.referral is not None else ()
    if re.fullmatch(r"p[0-9]", pick) and int(pick[1:]) < len(possibilities):
        chosen = possibilities[int(pick[1:])]
        return chosen.mark, chosen.text
    return (float(pick[1:]), "") if re.fullmatch(r"m[0-9]{1,3}(?:\.[0-9])?", pick) else (-1.0, "")


def _decide_one(desk: Desk) -> Response:
    """Another mark for one response, referred or not."""
    test = the_test(desk)
    member = one_response(desk.store, test.id, desk.number("response"))
    if member is None:
        raise HTTPException(404)
    wish = _wish(desk, test, member, (member.id,))
    done = settle(desk.store, wish, desk.who)
    if isinstance(done, Overtaken):
        who = done.entries[0].who if done.entries else "someone"
        desk.say(f"Not recorded: {who} has decided about this response since you opened it. What stands now is shown here.")
    else:
        desk.say(f"{_told(member, 1)}: {marks_text(wish.mark)} of {mark_text(member.maximum)}.", done.batch)
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
