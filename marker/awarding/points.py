"""What earns each kind of marking point. One function a kind; nothing is ever subtracted.

Every rule looks at the evidence of a response for one goal and returns a Finding: met or not, why, and the lines.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from marker.awarding.evidence import (
    Case,
    answer_implies,
    clean_substitutions,
    credits,
    lines_showing,
    of_goal,
    spoiling_slip,
    spoils,
    value_implies,
    wrong_relationship,
)
from marker.awarding.final import answer_complete, powers_right, unit_given
from marker.awarding.findings import Finding, Rule
from marker.awarding.listed import only_listed
from marker.awarding.showing import shown_backwards, state_of_result
from marker.awarding.wording import letter, only_value, quoted, say, sentence, slip_words, unit_clause
from marker.expression import symbols
from marker.judging.model import Evidence, Kind, Slip
from marker.scheme.compiled import CompiledCalculation, Point
from marker.scheme.definitions import changes

_OTHERS = frozenset({"another-datum", "other-quantity", "wrong-relationship"})
_NUMBER = re.compile(r"(?<![A-Za-z_\d.])\d")  # put in, and no index of a letter


def relationship_shown(point: Point, case: Case) -> Finding:
    """Looks for: the relationship in symbols, or implied by numbers in the right places, or by a right answer.

    Loses: never shown; only listed among others; a wrong one in its place.
    Switches: implied_relationship, unselected_list, answer_only, right_from_wrong.
    Source: conventions file 1.3, "relationship implied by correct substitution" (US-N5), rows 8, 11, 13, 15 of 1.2.
    """
    another = _another_quantity(point, case)
    if another is not None:
        because = sentence(slip_words(another, case.part.data))
        return Finding(met=False, because=because, lines=(another.line,), wrong=True)
    shown = [e for e in case.evidence if credits(e, case) and not _on_a_wrong_definition(e, point, case)]
    lines = _lines_of(point, shown, case)
    seen = _seen_of(point, shown, case)
    name = relation_text(case.part, seen, "or" if point.any else "and")
    implied = answer_implies(case, point)
    if lines and not implied and only_listed(point, case, shown):
        return Finding(met=False, because=f"{name} stands among other relationships and is not used ({say(lines)}).", lines=lines)
    if not lines and case.convention.implied_relationship and not point.any and point.type not in ("M", "B"):
        put_in = lines_showing(point.relations, clean_substitutions(case), case)
        if put_in and wrong_relationship(point, case) is None:
            return Finding(met=True, because=sentence(f"the numbers show {name} ({say(put_in)})"), lines=put_in)
    if lines:
        stated = next((e for e in shown if e.line == lines[0] and e.symbolic), None)
        because = f"{name} {_is(name)} stated ({say(lines)})." if stated else sentence(f"the numbers show {name} ({say(lines)})")
        if stated and stated.bare:  # within a line that is wrong in another piece
            because = sentence(f"{name} {_is(name)} shown ({say(lines)})")
        return Finding(met=True, because=because, lines=lines)
    found = None if implied else value_implies(point, case)
    if found is not None:
        value = f"value {quoted(found.text)}" if found.kind is Kind.VALUE else "value put in"
        because = sentence(f"{name} {_is(name)} implied by the right {value} ({say((found.line,))})")
        return Finding(met=True, because=because, lines=(found.line,), implied=True)
    wrong = wrong_relationship(point, case)
    if wrong is not None and not (implied and case.convention.right_from_wrong == "full"):
        return Finding(met=False, because=_in_its_place(name, wrong, point, case), lines=(wrong.line,), wrong=True)
    if implied:
        return _implied(f"{name} {_is(name)} implied", case)
    return Finding(met=False, because=sentence(f"{name} {_is(name)} not shown"))


def _another_quantity(point: Point, case: Case) -> Slip | None:
    """A wrong quantity for the change of a datum (31 °C, or 17 K + 273, for a rise of temperature), where no other mark pays for it.

    Source: common practice, no source; where the values put in have a mark of their own, that one is lost.
    """
    if any(p.kind in ("substitution", "value") for p in case.goal.points):
        return None
    relations, data = case.part.system.relations, case.part.data
    own = frozenset[str]().union(*(relations[r].letters for r in point.relations)) - {case.goal.find}
    for r, letters in changes(case.part):
        change = letters - data.keys()
        if r not in case.part.helpers or len(change) != 1 or not change <= own:
            continue
        for slip in (s for e in case.evidence for s in e.slips):
            if (slip.symbol in change and slip.code in _OTHERS) or (slip.symbol in letters and slip.code == "kelvin-added-to-difference"):
                return slip
    return None


def _on_a_wrong_definition(e: Evidence, point: Point, case: Case) -> bool:
    """Numbers that rest on a definition wrongly written before: 17100/45 shows no P = mgh/t where 17100 is m × h, put for the energy."""
    if e.symbolic or not e.inherited:
        return False
    relations = case.part.system.relations
    own = frozenset[str]().union(*(relations[r].letters for r in point.relations))
    defined = frozenset[str]().union(*(relations[r].letters for r in case.part.helpers)) - own
    wrong = {s for s in e.inherited if s.family == "relationship" and s.symbol in defined}
    return any(own & symbols(w.stated[1]) for w in case.evidence if w.stated is not None and wrong & set(w.slips))


def _lines_of(point: Point, shown: Sequence[Evidence], case: Case) -> tuple[int, ...]:
    """Lines that show the point's relationships: all of them, or the first that is shown where one is enough."""
    if not point.any:
        return lines_showing(point.relations, shown, case)
    found = (lines_showing(frozenset({r}), shown, case) for r in sorted(point.relations))
    return min((lines for lines in found if lines), default=())


def _in_its_place(name: str, wrong: Evidence, point: Point, case: Case) -> str:
    """What stands where the relationship should; or, where a wrong line gives another quantity than it does, that it is not shown."""
    given = {letter for step in case.part.system.steps if set(step.relations) & point.relations for letter in step.letters}
    typed, where = quoted(wrong.text), f"({say((wrong.line,))})"
    if wrong.about not in given and len(of_goal(case)) > 1:
        return f"{name} {_is(name)} not shown; {typed} is wrong {where}."
    what = f"does not come from {name}" if only_value(wrong.text) else f"is not {name}"
    return f"{typed} {what} {where}."


def _is(name: str) -> str:
    """The verb after one relationship, or after several."""
    return "are" if " and " in name else "is"


def _seen_of(point: Point, shown: Sequence[Evidence], case: Case) -> frozenset[int]:
    """The relationships to name: all the point asks for; where one of several is enough and one is shown, that one."""
    if not point.any:
        return point.relations
    lines = {r: lines_showing(frozenset({r}), shown, case) for r in sorted(point.relations)}
    seen = [r for r in lines if lines[r]]
    return frozenset({min(seen, key=lambda r: lines[r])}) if seen else point.relations


def _implied(what: str, case: Case) -> Finding:
    line = (case.answer.evidence.line,) if case.answer.evidence else ()
    return Finding(met=True, because=sentence(f"{what} by the right answer ({say(line)})"), lines=line, implied=True)


def values_substituted(point: Point, case: Case) -> Finding:
    """Looks for: every value in its place, unit conversions apart (they cost the answer).

    Loses: a value copied wrongly or taken from elsewhere; values exchanged; numbers put into a wrong relationship.
    Switches: transcription_slip, conversion_fault, rearranged_symbols, answer_only, show_final_line, show_unit, show_reverse.
    Source: conventions file 1.2 rows 9, 11, 12; 1.3 "wrong substitution".
    """
    clean = clean_substitutions(case)
    needed = point.relations or of_goal(case)
    lines = () if _last_step_spoilt(case, clean) else lines_showing(needed, clean, case)
    implied = answer_implies(case, point)
    for_itself = any(p.kind == "answer" for p in case.goal.points)  # the result has a point of its own
    if case.goal.shown is not None and not implied and not for_itself:
        lost = _not_shown(case, lines)
        if lost is not None:
            return lost
    if lines:
        used = any(e.uses for e in clean)
        return Finding(met=True, because=f"All values are substituted ({say(lines)}).", lines=lines, followed=used)
    slip = spoiling_slip(case)
    if slip is not None and not implied:
        because = sentence(slip_words(slip, case.part.data))
        if slip.family == "relationship" and any(p.kind == "relationship" for p in case.goal.points):
            because = f"The values are not put into {relation_text(case.part, needed)} ({say((slip.line,))})."
        return Finding(met=False, because=because, lines=(slip.line,) if slip.line else (), wrong=True)
    if implied:
        return _implied("the substitution is implied", case)
    partly = tuple(dict.fromkeys(e.line for e in case.evidence if e.kind is Kind.SUBSTITUTION and not e.tainted))
    why = f"Not every value is substituted ({say(partly)})." if partly else "No values are substituted."
    return Finding(met=False, because=why, lines=partly)


def _last_step_spoilt(case: Case, clean: Sequence[Evidence]) -> bool:
    """Every line in which values are put in for the goal itself has a wrong one: what was put in rightly before does not make up for it."""
    own = [e for e in case.evidence if e.kind is Kind.SUBSTITUTION and e.about == case.goal.find]
    if not own or any(e is c and _NUMBER.search(e.text) for e in own for c in clean):
        return False
    return any(s.family == "copying" and spoils(s, case.convention) for s in own[-1].slips)


def _not_shown(case: Case, lines: tuple[int, ...]) -> Finding | None:
    """Why a "show that" is not shown to its end; None where it is."""
    state = state_of_result(case)
    if state == "reached" or (state == "missing" and not case.convention.show_final_line):
        return None
    if shown_backwards(case):
        return None
    if state == "missing" or case.answer.evidence is None:
        because = "the values are substituted, but the result is not stated" if lines else "the result is not shown"
        return Finding(met=False, because=sentence(because), lines=lines)
    e = case.answer.evidence
    if state == "unit":
        because = sentence(f"{unit_clause(case.answer.unit, e.text)} ({say((e.line,))})")
        code = {"missing": "unit-missing", "prefix": "wrong-prefix"}.get(case.answer.unit, "unit-wrong")
        return Finding(met=False, because=because, lines=lines or (e.line,), wrong=True, fault=code)
    if case.answer.number and case.answer.figures == "few" and case.answer.blocked is None:
        because = f"{quoted(e.text)} needs one figure more than the value given ({say((e.line,))})."
        return Finding(met=False, because=because, lines=lines or (e.line,), wrong=True, fault="too-few-figures")
    because = f"{quoted(e.text)} does not follow from the working ({say((e.line,))})."
    return Finding(met=False, because=because, lines=lines or (e.line,), wrong=True)


def value_found(point: Point, case: Case) -> Finding:
    """Looks for: the value of a named intermediate quantity, or its right use later on."""
    target = case.part.system.base[point.quantity]
    last = None
    for e in case.evidence:
        if e.about != point.quantity or e.value is None or e.kind is not Kind.VALUE:
            continue
        last = e
        low, high = point.accept or (target * 0.995, target * 1.005)
        half = e.value.half
        within = min(low, high) - half <= e.value.si <= max(low, high) + half or (e.value.unit is None and e.right)
        if within and not e.tainted:
            return Finding(met=True, because=f"{letter(point.quantity)} is right ({say((e.line,))}).", lines=(e.line,))
        if _follows_carried(case, e):
            used = " and ".join(letter(s) for s, _ in e.uses)
            because = f"{quoted(e.text)} is right on the candidate's own {used} ({say((e.line,))})."
            return Finding(met=True, because=because, lines=(e.line,), followed=True)
    if last is None:
        if answer_implies(case, point):
            return _implied(f"the value of {letter(point.quantity)} is implied", case)
        return Finding(met=False, because=f"{letter(point.quantity)} is not found.")
    slip = next(iter((*last.inherited, *last.slips)), None)
    why = f": {slip_words(slip, case.part.data, last.text)}" if slip else f" ({say((last.line,))})"
    because = f"{quoted(last.text)} is not the right value of {letter(point.quantity)}{why}."
    return Finding(met=False, because=because, lines=(last.line,), wrong=True)


def _follows_carried(case: Case, e: Evidence) -> bool:
    """A value worked out rightly from own values of earlier parts."""
    clean = not (e.bare or e.tainted or e.slips or e.inherited)
    carried = bool(e.uses) and all(symbol in case.part.carry for symbol, _ in e.uses)
    return case.convention.follow_across_parts and clean and carried


_HALF = re.compile(r"\(1/2\)(?=[^\W\d_(])")  # ½mv², but (1/2)^(t/T)


def relation_text(part: CompiledCalculation, relations: frozenset[int], joined: str = "and") -> str:
    shown = f" {joined} ".join(part.system.relations[r].shown for r in sorted(relations)) or "the relationship"
    return _HALF.sub("½", shown)


RULES: Mapping[str, Rule] = MappingProxyType(
    {
        "relationship": relationship_shown,
        "substitution": values_substituted,
        "value": value_found,
        "answer": answer_complete,
        "unit": unit_given,
        "power of ten": powers_right,
    }
)
