"""Class tests taken in from their files: marked, kept, and the decisions of an earlier workbook with them."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from marker.classwork import mark_files, package_version, rulings_in_force
from marker.reporting import MarkedPaper, read_decisions
from marker.reporting.decisions import Decisions, usable
from marker.scheme.paper import load_scheme
from marker.web.papers import copy_scheme
from marker.web.storage import Store
from marker.web.storage.class_tests import Kept, keep_class_test, marked_paper, set_practice, the_same
from marker.web.storage.decisions import Recorded, Wish, settle
from marker.web.storage.model import Person, Role, TestHead
from marker.web.storage.queue import one_response, response_id_of, state_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What taking in did, as the command tells it."""

    id: int
    title: str
    told: str
    set_aside: tuple[str, ...] = ()


def take_in(
    store: Store, scheme: Path, responses: Path, *, convention: str | None = None, keep: Path | None = None, jobs: int = 1, who: str = ""
) -> Taken:
    """Marks the files and keeps the class test. When the store holds it just as it is, nothing is marked again.

    Raises SchemeError, ResponsesError or WorkbookError.
    """
    decisions = read_decisions(keep) if keep is not None else None
    digest = hashlib.sha256(responses.read_bytes()).hexdigest() if responses.is_file() else ""
    there = _there(store, scheme, convention, responses.name, digest)
    if there is not None:
        added = _take_decisions(store, there.id, decisions, who)
        return Taken(id=there.id, title=there.title, told=f"{there.title}: as it was kept; {there.open} to settle.{_carried(added)}")
    marked, problems = mark_files(scheme, responses, convention=convention, jobs=jobs)
    kept = keep_class_test(store, copy_scheme(scheme, convention), marked, who)
    added = _take_decisions(store, kept.id, decisions, who)
    told = _told(marked, kept) + _carried(added)
    return Taken(id=kept.id, title=marked.title, told=told, set_aside=tuple(p.sentence() for p in problems))


def _there(store: Store, scheme: Path, convention: str | None, name: str, digest: str) -> TestHead | None:
    """The class test as the store has it, if these very files were marked by this version."""
    try:
        copy = copy_scheme(scheme, convention)
    except (OSError, ValueError):
        return None
    return the_same(store, copy, name, digest, package_version())


def _told(marked: MarkedPaper, kept: Kept) -> str:
    responses = f"{len(marked.results)} responses of {len(marked.candidates)} candidates marked"
    told = f"{marked.title}: {responses}, {len(marked.referrals())} referred."
    if not kept.new:
        told += (
            " Decisions made before are kept." if not kept.lapsed else f" {kept.lapsed} decisions made before no longer fit and wait again."
        )
    return told


def _carried(added: int) -> str:
    return f" {added} marks taken over from the workbook." if added else ""


def _take_decisions(store: Store, test_id: int, decisions: Decisions | None, who: str) -> int:
    """Marks of an earlier workbook for responses nobody has decided about here. Returns how many."""
    if decisions is None:
        return 0
    marked = marked_paper(store, test_id)
    maxima = dict(marked.parts)
    person = Person(id=0, name=who, role=Role.TEACHER)
    added = 0
    for (candidate, part), decision in decisions.made.items():
        found = response_id_of(store, test_id, candidate, part)
        member = one_response(store, test_id, found) if found is not None else None
        if member is None or member.last is not None or not usable(decision, maxima[part], marked.half_marks) or decision.mark is None:
            continue
        wish = Wish(responses=(member.id,), mark=decision.mark, seen=state_of([member]), reason=decision.note)
        added += isinstance(settle(store, wish, person, action="kept"), Recorded)
    return added


def take_practice(store: Store, scheme: Path, convention: str | None, who: str) -> Taken:
    """A scheme without responses, open for practice. Raises SchemeError."""
    paper = load_scheme(scheme, convention)
    copy = copy_scheme(scheme, convention)
    marked = MarkedPaper(
        title=paper.title,
        scheme_file=scheme.name,
        scheme_sha256=copy.sha256,
        responses_file="",
        responses_sha256="",
        convention=paper.convention.name,
        rulings=tuple(rulings_in_force(paper.convention)),
        version=package_version(),
        when=datetime.now().strftime("%Y-%m-%d %H:%M"),
        parts=tuple((p.name, p.marks) for p in paper.parts),
        candidates=(),
        results={},
        half_marks=paper.convention.half_marks,
    )
    kept = keep_class_test(store, copy, marked, who, practice=True)
    set_practice(store, kept.id, True)
    return Taken(id=kept.id, title=marked.title, told=f"{marked.title}: open for practice.")
