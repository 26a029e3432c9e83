"""Marked responses and their faults, kept when a class test is marked or marked again."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any
from uuid import uuid4

from sqlalchemy import Connection, bindparam, delete, insert, select, update

from marker.reporting import MarkedPaper, from_record
from marker.reporting.paper import possible_mark
from marker.results import PartResult, as_record
from marker.web.alike import alike_key
from marker.web.storage import tables as t
from marker.web.storage.clock import now
from marker.web.storage.texts import fit, storable

Ids = Mapping[str, int]


def keep_responses(connection: Connection, test_id: int, marked: MarkedPaper, parts: Ids, candidates: Ids, who: str) -> int:
    """Writes every result of a marking over what was there. Returns how many decisions lapsed."""
    before = {(r.part_id, r.candidate_id): r for r in connection.execute(select(t.response).where(t.response.c.class_test_id == test_id))}
    fresh, changed, lapsed = [], [], []
    for name, result in marked.responses():
        key = (parts[result.part], candidates[name])
        row = _row(test_id, key, name, result)
        old = before.pop(key, None)
        if old is None:
            fresh.append({**row, "stands": result.mark, "settled": False, "decision_id": None})
            continue
        stays = not old.settled or _stays(old, result, marked.half_marks)
        if not stays:
            lapsed.append(old)
        settled = bool(old.settled and stays)
        changed.append({**row, "row_id": old.id, "stands": old.stands if settled else result.mark, "settled": settled})
    if fresh:
        connection.execute(insert(t.response), fresh)
    if changed:
        names = ("mark", "maximum", "referred", "alike", "record", "stands", "settled")
        values: dict[str, Any] = {n: bindparam(f"b_{n}") for n in names}
        rows = [{"row_id": c["row_id"], **{f"b_{n}": c[n] for n in names}} for c in changed]
        connection.execute(update(t.response).where(t.response.c.id == bindparam("row_id")).values(values), rows)
    gone = [{"row_id": r.id} for r in before.values()]
    if gone:
        connection.execute(update(t.response).where(t.response.c.id == bindparam("row_id")).values(referred=False), gone)
    _lapse(connection, lapsed, who)
    _keep_faults(connection, test_id, marked, parts, candidates)
    return len(lapsed)


def _row(test_id: int, key: tuple[int, int], name: str, result: PartResult) -> dict[str, Any]:
    return {
        "class_test_id": test_id,
        "part_id": key[0],
        "candidate_id": key[1],
        "mark": result.mark,
        "maximum": result.maximum,
        "referred": result.referred,
        "alike": alike_key(result),
        "record": json.dumps(as_record(name, result)),
    }


def _stays(old: Any, result: PartResult, half_marks: bool) -> bool:
    """A decision stays while the same is typed and its mark is possible."""
    typed = [line.text for line in from_record(json.loads(old.record))[1].lines]
    return typed == [line.text for line in result.lines] and possible_mark(old.stands, result.maximum, half_marks)


def _lapse(connection: Connection, rows: list[Any], who: str) -> None:
    if not rows:
        return
    batch, at = uuid4().hex, now()
    reason = "The test was marked again, and the response or what the part is worth is no longer the same."
    entries = [
        {
            "response_id": r.id,
            "follows": r.decision_id,
            "action": "lapsed",
            "mark": None,
            "choice": "",
            "reason": reason,
            "batch": batch,
            "person_id": None,
            "who": storable(who),
            "at": at,
        }
        for r in rows
    ]
    connection.execute(insert(t.decision), entries)
    point_to_last(connection, batch)


def point_to_last(connection: Connection, batch: str) -> None:
    """Each response of a batch of decisions points to its decision."""
    made = select(t.decision.c.id).where(t.decision.c.response_id == t.response.c.id, t.decision.c.batch == batch).scalar_subquery()
    ids = select(t.decision.c.response_id).where(t.decision.c.batch == batch)
    connection.execute(update(t.response).where(t.response.c.id.in_(ids)).values(decision_id=made))


def _keep_faults(connection: Connection, test_id: int, marked: MarkedPaper, parts: Ids, candidates: Ids) -> None:
    """The faults that working shows, once a response each, with the line as an example."""
    connection.execute(delete(t.fault).where(t.fault.c.class_test_id == test_id))
    query = select(t.response.c.id, t.response.c.part_id, t.response.c.candidate_id).where(t.response.c.class_test_id == test_id)
    ids = {(r.part_id, r.candidate_id): r.id for r in connection.execute(query)}
    rows = []
    for name, result in marked.responses():
        key = (parts[result.part], candidates[name])
        typed = {line.number: line.text for line in result.lines}
        for code, found in {f.code: f for f in reversed(result.faults) if f.sure}.items():
            rows.append(
                {
                    "class_test_id": test_id,
                    "response_id": ids[key],
                    "part_id": key[0],
                    "candidate_id": key[1],
                    "code": fit(code, 80),
                    "line": found.line,
                    "typed": storable(typed.get(found.line or 0, "")),
                    "words": storable(found.teacher),
                }
            )
    if rows:
        connection.execute(insert(t.fault), rows)
