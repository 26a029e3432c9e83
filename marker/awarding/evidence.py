"""What the rules of marking ask of the evidence: does a line show a relationship, is a substitution clean, what spoils it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations, permutations

from marker.awarding.answer import Answer
from marker.awarding.earlier import done_with
from marker.awarding.worlds import MISREAD, family
from marker.expression import put, symbols
from marker.judging.lifting import near
from marker.judging.model import Evidence, Kind, Slip
from marker.judging.origins import letter
from marker.physics.evaluate import value_at
from marker.scheme.compiled import CompiledCalculation, Goal, Point
from marker.scheme.convention import Convention
from marker.scheme.definitions import with_restatements

CREDITED = frozenset({"conversion", "copying", "arithmetic", "rounding", "swapped", "other quantity", "digit place", "accepted"})
SPOILING = frozenset({"copying", "swapped", "other quantity", "relationship", "rearrangement"})
OWN_SPOILING = frozenset({"relationship", "rearrangement", "copying", "other quantity"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Everything the rules look at for one goal of one response."""

    part: CompiledCalculation
    goal: Goal
    evidence: tuple[Evidence, ...]
    answer: Answer
    settled: int = 0
    """The line that ends the labelled steps before this one: faults up to it are paid for."""

    @property
    def convention(self) -> Convention:
        return self.part.convention


def spoils(slip: Slip, convention: Convention) -> bool:
    """The fault loses the substitution: not a conversion or arithmetic, nor what the convention counts as arithmetic."""
    kind = family(slip, convention)
    return kind in SPOILING and not (kind == "copying" and convention.transcription_slip == "answer mark")


def credits(e: Evidence, case: Case) -> bool:
    """Evidence that shows a relationship, whatever happened to its numbers."""
    if e.tainted or e.kind not in (Kind.RELATIONSHIP, Kind.SUBSTITUTION) or not e.relations or works_back(e, case):
        return False
    if not e.symbolic and not case.convention.implied_relationship:
        return False
    if _on_a_definition_written_wrongly(e, case):
        return False
    return e.right or all(s.family in CREDITED for s in e.slips)


def works_back(e: Evidence, case: Case) -> bool:
    """A substitution that puts in the very value a "show that" asks for, where that is not allowed."""
    shown = case.goal.shown is not None and any(symbol == case.goal.find for symbol, _ in e.uses)
    return shown and e.kind is Kind.SUBSTITUTION and not case.convention.show_reverse


def clean_substitutions(case: Case) -> list[Evidence]:
    """Evidence of values put in their places, and of values on the way that were rightly found."""
    clean = [e for e in case.evidence if _clean(e, case)]
    return clean + _values_on_the_way(case, clean) + _into_own_rearrangement(case)


def _clean(e: Evidence, case: Case) -> bool:
    if e.kind is not Kind.SUBSTITUTION or e.tainted or not e.relations or works_back(e, case):
        return False
    if _on_a_definition_written_wrongly(e, case):
        return False
    return not any(spoils(s, case.convention) for s in (*e.slips, *_own_part(e, case)))


def _own_part(e: Evidence, case: Case) -> tuple[Slip, ...]:
    """Inherited slips that spoil a substitution: an own value of this part that rests on wrong physics, or a datum misread here.

    A datum misread on the way to an earlier goal was charged there.
    Source: conventions file 1.3, carry-forward within one part (not certain).
    """
    here = [s for x in case.evidence for s in x.slips]

    def followed(slip: Slip) -> bool:
        before = family(slip, case.convention) in MISREAD and slip not in here and slip.symbol != case.goal.find
        return (before or done_with(slip, case.part, case.goal, case.settled)) and not _datum_of_this_goal(slip, case)

    return tuple(s for s in e.inherited if family(s, case.convention) in OWN_SPOILING and not followed(s))


def _datum_of_this_goal(slip: Slip, case: Case) -> bool:
    """A datum written down wrongly before it is put in, that no goal before this one needs: it is charged here."""
    goals, relations = case.part.goals, case.part.system.relations
    before = goals[: next(i for i, g in enumerate(goals) if g.find == case.goal.find)]
    if any(slip.symbol in relations[r].letters for g in before for r in g.relations):
        return False
    return slip.symbol in case.part.data and any(slip in e.slips and e.about == slip.symbol for e in case.evidence)


def _values_on_the_way(case: Case, put_in: Sequence[Evidence]) -> list[Evidence]:
    """Right values of quantities found on the way, stated or `put_in`: their substitution was made, if not written."""
    derived = {letter: frozenset(step.relations) for step in case.part.system.steps for letter in step.letters}
    right = (e for e in case.evidence if e.kind is Kind.VALUE and e.right and not (e.slips or e.inherited or e.tainted))
    stated = [replace(e, relations=derived[e.about]) for e in right if e.about in derived and e.about != case.goal.find]
    found = stated + [replace(e, relations=derived[name]) for e in put_in for name in sorted(e.found) if name in derived]
    return [e for e in found if not _on_a_definition_written_wrongly(e, case)]


def _into_own_rearrangement(case: Case) -> list[Evidence]:
    """Data rightly put into a wrongly rearranged relationship, where the convention charges that to the answer."""
    if case.convention.rearranged_symbols != "answer mark":
        return []
    wrong = [e for e in case.evidence if e.stated and any(s.family == "rearrangement" for s in e.slips)]
    found = []
    for e in case.evidence:
        if e.kind is Kind.SUBSTITUTION and e.stated and any(w.about == e.about and _equal(case.part, w, e) for w in wrong):
            found.append(replace(e, relations=case.goal.relations, slips=(), inherited=(), tainted=False))
    return found


def _equal(part: CompiledCalculation, one: Evidence, other: Evidence) -> bool:
    """The right sides of two statements, in symbols, are the same."""
    if one.stated is None or other.stated is None:
        return False
    points = part.system.points(part.system.everything) or ()
    a, b = ([value_at(e.stated[1], p) for p in points] for e in (one, other) if e.stated)
    return bool(points) and near(a, b)


def lines_showing(relations: frozenset[int], evidence: Sequence[Evidence], case: Case) -> tuple[int, ...]:
    """Lines that together show all these relationships, definitions counted as known; empty when they do not."""
    shown: set[int] = set()
    lines: list[int] = []
    evidence = [_with_twins(case, e) for e in evidence]
    for e in evidence:
        if relations & e.relations or (e.relations - shown):
            shown |= e.relations
            lines.append(e.line)
        if relations <= shown or _entailed(relations - shown, frozenset(shown), case):
            useful = [x.line for x in evidence if x.relations & relations and x.line in lines]
            return tuple(dict.fromkeys(useful or lines))
    return ()


def _entailed(relations: frozenset[int], shown: frozenset[int], case: Case) -> bool:
    """They follow from what is shown and the part's definitions, and are about quantities that what is shown is about."""
    system, helpers = case.part.system, case.part.helpers - _written_wrongly(case)
    about = with_restatements(case.part, {n for r in shown for n in system.relations[r].letters})
    if not all(system.relations[r].letters <= about for r in relations):
        return False
    if not (shown - helpers) and not (relations <= helpers):
        known = shown & helpers
        if not known:
            return False
    follows = all(system.holds(system.relations[r].equation, shown | helpers) for r in relations)
    return follows and not _replaced(relations, case) and not _by_definition(relations, shown, case)


def _with_twins(case: Case, e: Evidence) -> Evidence:
    """Evidence with the relationships that say the same of another letter for the quantity."""
    twins = [frozenset(pair) for pair in _twins(case.part) if e.relations & set(pair)]
    return replace(e, relations=e.relations.union(*twins)) if len(e.relations) == 1 and twins else e


@lru_cache(maxsize=256)
def _twins(part: CompiledCalculation) -> tuple[tuple[int, int], ...]:
    """Pairs of relationships that are one but for a letter: W = Fd of the work done, E = Fd of the energy given out."""
    relations, system = part.system.relations, part.system
    out = []
    for a, b in combinations(range(len(relations)), 2):
        first, second = (sorted(x - y) for x, y in permutations((relations[a].letters, relations[b].letters)))
        if len(first) == 1 == len(second) and not {*first, *second} & part.data.keys():
            renamed = tuple(put(side, {second[0]: letter(first[0])}) for side in relations[b].equation)
            if system.base[first[0]] == system.base[second[0]] and system.holds((renamed[0], renamed[1]), frozenset({a})):
                out.append((a, b))
    return tuple(out)


def _on_a_definition_written_wrongly(e: Evidence, case: Case) -> bool:
    return len(e.relations) > 1 and bool(e.relations & _written_wrongly(case))


def _written_wrongly(case: Case) -> frozenset[int]:
    """Definitions of the part that the candidate wrote otherwise: with E_k = mv², "E_k = mgh − Fd" says nothing of ½mv²."""
    relations = case.part.system.relations
    wrong = [symbols(e.stated[0]) | symbols(e.stated[1]) for e in case.evidence if e.symbolic and not e.right and e.stated is not None]
    found = {r for r in case.part.helpers if relations[r].letters in wrong}
    return frozenset(r for r in found if not any(e.right and e.relations == {r} for e in case.evidence)) if found else frozenset()


def _replaced(relations: frozenset[int], case: Case) -> bool:
    """Another number was put in for what they give."""
    others = {s.symbol for e in case.evidence for s in e.slips if s.code in ("another-datum", "other-quantity")} - case.part.data.keys()
    return any(case.part.system.relations[r].letters & others for r in relations - case.part.helpers)


def _by_definition(relations: frozenset[int], shown: frozenset[int], case: Case) -> bool:
    """They follow from definitions that were not written, whatever was: not from what is shown by itself."""
    system, unwritten = case.part.system, case.part.helpers - shown
    marked = [system.relations[r].equation for r in relations - case.part.helpers]
    if all(system.holds(equation, shown) for equation in marked):
        return False
    return bool(marked) and all(system.holds(equation, unwritten) for equation in marked)


def of_goal(case: Case) -> frozenset[int]:
    """Relationships of the goal that carry marks."""
    return case.goal.relations - case.part.helpers


def answer_implies(case: Case, point: Point) -> bool:
    """A right number with nothing against it implies what led to it, unless the point must be seen."""
    answer, convention = case.answer, case.convention
    if point.type in ("M", "B") or not answer.number or convention.answer_only == "none":
        return False
    if answer.others and convention.two_answers == "zero":
        return False
    if unworked(case):
        return False
    if case.goal.shown is not None and not own_result(case):
        return False
    if convention.right_from_wrong == "full":
        return True
    return answer.blocked is None and spoiling_slip(case) is None


def unworked(case: Case) -> bool:
    """An answer right on own values with no working of its own, where the convention asks for some. Source: CSM."""
    if not case.answer.followed or case.convention.follow_unworked or all(p.kind == "answer" for p in case.goal.points):
        return False
    return not any(credits(e, case) for e in case.evidence)


def value_implies(point: Point, case: Case) -> Evidence | None:
    """A right value of a quantity found on the way, from which nothing but the point's relationship gives it."""
    if point.type in ("M", "B") or not case.convention.implied_relationship or case.convention.answer_only == "none":
        return None
    found = _values_on_the_way(case, [e for e in case.evidence if e.kind is Kind.SUBSTITUTION and not e.tainted])
    return next((e for e in found if point.relations <= e.relations), None)


def own_result(case: Case) -> bool:
    """In a "show that" under full credit for answers alone: a result with more figures than the value given."""
    e = case.answer.evidence
    if case.convention.answer_only != "full" or e is None or e.value is None or e.value.number is None:
        return False
    return e.value.number.figures[1] > case.goal.shown_figures


def spoiling_slip(case: Case) -> Slip | None:
    """The first fault that spoils a substitution for this goal or a quantity on the way to it."""
    others = {g.find for g in case.part.goals if g.find != case.goal.find}
    for e in case.evidence:
        for slip in (*e.slips, *e.inherited):
            if not spoils(slip, case.convention) or e.kind is Kind.DATUM:
                continue
            followed = case.convention.follow_wrong_physics and slip.symbol in others
            if not followed and slip.line > case.settled:
                return slip
    return None


def wrong_relationship(point: Point, case: Case) -> Evidence | None:
    """A statement that stands where the point's relationship should."""
    letters = frozenset[str]().union(*(case.part.system.relations[r].letters for r in point.relations))
    for e in case.evidence:
        wrong = any(s.family in ("relationship", "rearrangement") for s in e.slips)
        if wrong and (e.about in letters or e.about == case.goal.find):
            return e
    return None
