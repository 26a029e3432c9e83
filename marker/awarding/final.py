"""What earns the points of a final answer: its value, a unit mark of its own, a power-of-ten mark of its own."""

from __future__ import annotations

from dataclasses import replace

from marker.awarding.evidence import Case, credits, own_result, unworked
from marker.awarding.findings import Finding
from marker.awarding.showing import unit_costs
from marker.awarding.wording import came_from, form_clause, letters, missing_answer, quoted, say, sentence, slip_words, unit_clause
from marker.awarding.worlds import family
from marker.judging.model import Kind, Slip
from marker.scheme.compiled import Point

LIMITS = {
    "absurd": "an impossible value",
    "easier": "which makes the question easier",
    "shown": "though the question gives its value",
}


def answer_complete(point: Point, case: Case) -> Finding:
    """Looks for: the value, its unit, figures and form together; right, or right on own values where they may be followed.

    Loses: an arithmetic slip, an unconverted unit, a missing or wrong unit, too few or too many figures, two answers.
    Switches: two_answers, right_from_wrong, answer_only, unit_fault, conversion_fault, follow_*, significant_figures, *_answer.
    Source: conventions file 1.2 rows 3, 6, 10 (one mark shared by value and unit), 1.3 on figures and units.
    """
    answer = case.answer
    if answer.evidence is None:
        return Finding(met=False, because=sentence(_ends_before(case)))
    line, typed = (answer.evidence.line,), answer.evidence.text
    lost = _unacceptable(point, case)
    if lost is not None:
        return replace(lost, lines=lost.lines or line)
    if not answer.number and not _apart_from_power(case):
        return _wrong_number(point, case)
    lost = _badly_written(case)
    if lost is not None:
        return replace(lost, lines=line)
    if answer.converted:
        return Finding(met=True, because=f"{quoted(typed)} is right apart from its power of ten ({say(line)}).", lines=line)
    if answer.followed and _only_rounded(case):
        because = f"{quoted(typed)} is right, worked from a rounded value of {letters(answer.followed)} ({say(line)})."
        return Finding(met=True, because=because, lines=line)
    if answer.followed:
        because = f"{quoted(typed)} is right on the candidate's own {letters(answer.followed)} ({say(line)})."
        return Finding(met=True, because=because, lines=line, followed=True)
    return Finding(met=True, because=f"{quoted(typed)} is right ({say(line)}).", lines=line)


def _ends_before(case: Case) -> str:
    """No value of what is asked for: what the working ends with, where nothing else is asked for."""
    values = [e for e in case.evidence if e.value is not None and e.kind is not Kind.DATUM and e.text]
    if not values or len(case.part.goals) > 1:
        return missing_answer(case.goal.find)
    return missing_answer(case.goal.find, values[-1].text, values[-1].line)


def _only_rounded(case: Case) -> bool:
    """The own values the answer rests on are right ones, taken up with the figures they were written in."""
    for name in case.answer.followed.split(", "):
        found = [e for e in case.evidence if e.kind is Kind.VALUE and e.about == name]
        if name in case.part.carry or not found or not all(e.right and not e.slips and not e.inherited for e in found):
            return False
    return True


def _unacceptable(point: Point, case: Case) -> Finding | None:
    """Whatever the number: other answers beside it, wrong working under it, no working where it is demanded, own values refused."""
    answer, convention = case.answer, case.convention
    assert answer.evidence is not None
    typed, line = answer.evidence.text, (answer.evidence.line,)
    if answer.others and convention.two_answers == "zero":
        lines = tuple(dict.fromkeys((*line, *(o.line for o in answer.others))))
        texts = " and ".join(quoted(t) for t in (typed, *(o.text for o in answer.others)))
        because = f"Different answers are offered, {texts} ({say(lines)})."
        return Finding(met=False, because=because, lines=lines, wrong=True, fault="two-answers")
    if answer.blocked is not None and convention.right_from_wrong != "full":
        because = f"{quoted(typed)} rests on a wrong line: {slip_words(answer.blocked, case.part.data)}."
        return Finding(met=False, because=because, wrong=True)
    working = any(credits(e, case) for e in case.evidence)
    if not working and case.goal.shown is not None and not own_result(case):
        return Finding(met=False, because=sentence(f"the answer alone earns nothing where it is to be shown ({say(line)})"))
    if not working and convention.answer_only == "none" and point.type == "A":
        return Finding(met=False, because=sentence(f"the answer alone, without working, earns nothing ({say(line)})"))
    if answer.followed and not point.follow:
        because = f"{quoted(typed)} is right on the candidate's own {letters(answer.followed)}, which is not followed here ({say(line)})."
        return Finding(met=False, because=because, wrong=True)
    if unworked(case):
        own = letters(answer.followed)
        because = f"{quoted(typed)} is right on the candidate's own {own}, which is not followed without working ({say(line)})."
        return Finding(met=False, because=because, wrong=True)
    return None


def _wrong_number(point: Point, case: Case) -> Finding:
    answer = case.answer
    assert answer.evidence is not None
    typed, line = answer.evidence.text, (answer.evidence.line,)
    if answer.limit:
        why = LIMITS[answer.limit]
        because = f"{quoted(typed)} rests on the candidate's own {letters(answer.followed)}, {why}, and is not followed ({say(line)})."
        return Finding(met=False, because=because, lines=line, wrong=True)
    slip = answer.slip or _slip_before(case)
    if slip is None:
        alone = all(e is answer.evidence or e.kind is Kind.DATUM for e in case.evidence)
        why = ", and no working shows why" if alone else ""
        return Finding(met=False, because=f"{quoted(typed)} is not the right value{why} ({say(line)}).", lines=line)
    alone = answer.converted and (answer.unit, answer.figures, answer.form) == ("ok", "ok", "ok")
    because = f"{quoted(typed)} is not the right value: {came_from(slip, case.part.data, typed)}."
    return Finding(met=False, because=because, lines=line, wrong=True, fault=slip.code if alone else "")


def _slip_before(case: Case) -> Slip | None:
    """The first fault seen in the lines that lead to a wrong answer in which none shows."""
    last = case.answer.evidence.line if case.answer.evidence is not None else 0
    return next((s for e in case.evidence if e.line <= last for s in e.slips), None)


def _apart_from_power(case: Case) -> bool:
    """A power-of-ten fault has a point of its own, and nothing else is wrong with the number."""
    return case.answer.converted and any(p.kind == "power of ten" for p in case.goal.points)


def _badly_written(case: Case) -> Finding | None:
    """A right number whose unit, figures or form lose the answer mark."""
    answer = case.answer
    assert answer.evidence is not None
    typed, where = answer.evidence.text, f"({say((answer.evidence.line,))})"
    if answer.unit == "prefix" and not _power_point(case):
        return Finding(met=False, because=sentence(f"{unit_clause('prefix', typed)} {where}"), wrong=True, fault="wrong-prefix")
    faults: list[tuple[str, str]] = []
    if unit_costs(case):
        faults.append((unit_clause(answer.unit, typed), "unit-missing" if answer.unit == "missing" else "unit-wrong"))
    if answer.figures != "ok":
        faults.append((f"{quoted(typed)} has too {answer.figures} significant figures", f"too-{answer.figures}-figures"))
    if answer.form != "ok":
        faults.append((form_clause(answer.form, typed), {"fraction": "fraction-left", "rounding": "rounded-wrongly"}.get(answer.form, "")))
    if not faults:
        return None
    clause = " and ".join([faults[0][0], *(other.removeprefix(f"{quoted(typed)} ") for other, _ in faults[1:])])
    return Finding(met=False, because=sentence(f"{clause} {where}"), wrong=True, fault=faults[0][1] if len(faults) == 1 else "")


def _power_point(case: Case) -> bool:
    return any(p.kind == "power of ten" for p in case.goal.points)


def unit_given(point: Point, case: Case) -> Finding:
    """Looks for: a unit of the right quantity on the value given, right or wrong. Source: AP09 (a point of its own)."""
    answer = case.answer
    if answer.evidence is None:
        return Finding(met=False, because=sentence(missing_answer(case.goal.find)))
    typed, line = answer.evidence.text, (answer.evidence.line,)
    if answer.unit in ("ok", "prefix"):
        return Finding(met=True, because=f"{quoted(typed)} has a right unit ({say(line)}).", lines=line)
    code = "unit-missing" if answer.unit == "missing" else "unit-wrong"
    because = sentence(f"{unit_clause(answer.unit, typed)} ({say(line)})")
    return Finding(met=False, because=because, lines=line, wrong=True, fault=code)


def powers_right(point: Point, case: Case) -> Finding:
    """Looks for: an answer with every unit converted and every power of ten right. Source: OCR15MS (an annotation of its own)."""
    answer = case.answer
    if answer.evidence is None:
        return Finding(met=False, because=sentence(missing_answer(case.goal.find)))
    line = (answer.evidence.line,)
    slips = (s for e in case.evidence for s in (*e.slips, *e.inherited) if s.code != "other-g")
    slip = next((s for s in slips if family(s, case.convention) == "conversion"), answer.slip if answer.converted else None)
    if slip is not None:
        because = sentence(slip_words(slip, case.part.data))
        return Finding(met=False, because=because, lines=(slip.line,) if slip.line else (), wrong=True, fault=slip.code)
    if answer.unit == "prefix":
        because = sentence(f"{unit_clause('prefix', answer.evidence.text)} ({say(line)})")
        return Finding(met=False, because=because, lines=line, wrong=True, fault="wrong-prefix")
    if not answer.number and not any(credits(e, case) for e in case.evidence):
        return Finding(met=False, because=f"{quoted(answer.evidence.text)} is not the right value ({say(line)}).", lines=line)
    return Finding(met=True, because=sentence(f"every unit is converted ({say(line)})"), lines=line)
