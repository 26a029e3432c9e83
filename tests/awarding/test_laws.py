"""Laws of marking: what must hold of any response, whatever the part.

Parts and responses come from the published worked examples and the slips on them (worked_examples.py, sources there); the
laws themselves are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker import build_paper
from marker.marking import mark_class, mark_response
from marker.results import PartResult
from marker.scheme.paper import CompiledPart
from tests.awarding.parts import one_part
from tests.awarding.test_worked_examples import CASES, Case
from tests.awarding.worked_examples import EXAMPLES, Example

settings.register_profile("laws", deadline=None, derandomize=True, max_examples=80)
laws = settings(settings.get_profile("laws"))

cases = st.sampled_from(CASES)
examples = st.sampled_from(EXAMPLES)


@lru_cache
def part_of(name: str) -> CompiledPart:
    e = next(e for e in EXAMPLES if e.name == name)
    return one_part(given=dict(e.given), find=e.find, unit=e.unit, using=[e.using])


def marked(example: Example, lines: Sequence[str]) -> PartResult:
    return mark_response(part_of(example.name), tuple(lines))


def points(result: PartResult) -> list[float]:
    return [a.mark for a in result.awards]


# --- bounds ------------------------------------------------------------------------------------------


@laws
@given(example=examples, picked=st.lists(st.integers(0, 40), max_size=6))
def test_marks_lie_between_nothing_and_the_maximum(example: Example, picked: list[int]) -> None:
    """Lines of several slips thrown together, in any order."""
    pool = [line for c in CASES if c.example is example for line in c.lines]
    result = marked(example, [pool[i % len(pool)] for i in picked])
    assert 0 <= result.mark <= result.maximum
    assert result.mark == sum(points(result))
    assert all(0 <= a.mark <= a.maximum and a.reason.endswith(".") for a in result.awards)
    if result.referral is not None:
        assert all(0 <= p.mark <= result.maximum for p in result.referral.possibilities)


@laws
@given(text=st.text(max_size=80), example=examples)
def test_any_text_at_all_is_marked(text: str, example: Example) -> None:
    result = marked(example, text.split("\n"))
    assert 0 <= result.mark <= result.maximum


# --- lines added and numbers changed -----------------------------------------------------------------


@laws
@given(case=cases, what=st.sampled_from(("model answer", "relationship alone", "no final answer")), place=st.integers(0, 3))
def test_a_correct_line_never_lowers_a_mark(case: Case, what: str, place: int) -> None:
    added = next(c for c in CASES if c.example is case.example and c.slip == what).lines
    before = marked(case.example, case.lines)
    at = min(place, len(case.lines))
    after = marked(case.example, (*case.lines[:at], *added, *case.lines[at:]))
    assert after.mark >= before.mark, (case.lines, added, [a.reason for a in after.awards])


_LAST_NUMBER = re.compile(r"(\d[\d.]*)((?: x 10\^-?\d+)?(?: [^=\d]*(?:\^-?\d[^=\d]*)*)?)$")


ENDED = [c for c in CASES if _LAST_NUMBER.search(c.lines[-1]) and c.slip not in ("relationship alone", "no final answer")]


@laws
@given(case=st.sampled_from(ENDED), factor=st.sampled_from((0.31, 0.62, 1.37, 2.3, 4.1, 7.3)))
def test_a_wrong_final_number_never_raises_a_mark(case: Case, factor: float) -> None:
    last = case.lines[-1]
    found = _LAST_NUMBER.search(last)
    assert found is not None
    typed = found.group(1)
    decimals = len(typed.partition(".")[2])
    wrong = f"{last[: found.start(1)]}{float(typed) * factor:.{decimals}f}{found.group(2)}"
    assert marked(case.example, (*case.lines[:-1], wrong)).mark <= marked(case.example, case.lines).mark, wrong


# --- writing that says the same ----------------------------------------------------------------------

SUPERSCRIPTS = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
PLAIN = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
_RAISED = re.compile(r"[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+")
_POWER = re.compile(r"\^(-?\d+)")
_TEN = re.compile(r"(\d) ?\* ?10\^(-?\d+)")


def canonical(e: Example, line: str) -> str:
    """Times as *, also between letters set apart; powers as ^."""
    line = _RAISED.sub(lambda m: "^" + m.group().translate(PLAIN), line)
    line = re.sub(r"\s[x×·]\s(?=[\d(])", "*", line)
    letter = "|".join(map(re.escape, (*e.given, e.find)))
    line = re.sub(rf"(?<![A-Za-z])({letter}) (?=({letter})(?![A-Za-z]))", r"\1*", line)
    return re.sub(r"(?<=[\d.)^])\s?[x×·]\s?(?=[\d(πA-Za-zλω])", "*", line).replace(" × ", "*")


NOTATIONS: dict[str, Callable[[str], str]] = {
    "star": lambda t: t,
    "star apart": lambda t: t.replace("*", " * "),
    "cross": lambda t: t.replace("*", " × "),
    "letter x": lambda t: t.replace("*", " x "),
    "raised powers": lambda t: _POWER.sub(lambda m: m.group(1).translate(SUPERSCRIPTS), t),
    "exponents with E": lambda t: _TEN.sub(r"\1e\2", t),
    "no spaces about =": lambda t: t.replace(" = ", "="),
    "wide spaces": lambda t: t.replace(" = ", "   =   "),
    "Greek by name": lambda t: t.replace("λ", "lambda ").replace("ω", "omega ").replace("ρ", "rho ").replace("π", "pi "),
}


@laws
@given(case=cases, notation=st.sampled_from(sorted(NOTATIONS)))
def test_notation_never_changes_a_mark(case: Case, notation: str) -> None:
    lines = tuple(NOTATIONS[notation](canonical(case.example, line)) for line in case.lines)
    result = marked(case.example, lines)
    assert result.mark == case.marks, (lines, [a.reason for a in result.awards])


@laws
@given(case=cases, together=st.booleans())
def test_line_breaks_never_change_a_mark(case: Case, together: bool) -> None:
    """A chain on one line, or each of its sides on a line of its own."""
    if together:
        lines: tuple[str, ...] = ("; ".join(case.lines),)
    else:
        lines = tuple(part for line in case.lines for part in _sides(line))
    assert marked(case.example, lines).mark == case.marks, lines


def _sides(line: str) -> list[str]:
    head, *rest = line.split(" = ")
    return [line] if len(rest) < 2 else [f"{head} = {rest[0]}", *(f"= {side}" for side in rest[1:])]


LETTERS = {"V": "U", "I": "J", "R": "Z", "F": "N", "m": "M", "a": "b", "v": "w", "Q": "q", "t": "T", "k": "K", "x": "y", "B": "H"}


LETTERED = [c for c in CASES if set(c.example.given) | {c.example.find} <= LETTERS.keys()]


@laws
@given(case=st.sampled_from(LETTERED), data=st.data())
def test_letters_never_change_a_mark(case: Case, data: st.DataObject) -> None:
    """The same calculation with other letters for some of its quantities, in the question and in the answer."""
    e = case.example
    may = sorted(n for n in (*e.given, e.find) if LETTERS[n] not in {*e.given, e.find})
    changed = data.draw(st.sets(st.sampled_from(may), min_size=1))
    turn = {n: LETTERS[n] for n in changed}

    def renamed(text: str) -> str:
        """Letters of formulas: a letter by itself, or among letters of the part run together (IR, mv²)."""
        letters = "".join(sorted({*e.given, e.find}))
        formula = re.compile(rf"(?<![A-Za-z])[{letters}]+(?![A-Za-z])")
        head, _, unit = _split_unit(text, e.unit)
        return formula.sub(lambda m: "".join(turn.get(c, c) for c in m.group()), head) + unit

    part = one_part(
        given={turn.get(n, n): t for n, t in e.given.items()},
        find=turn.get(e.find, e.find),
        unit=e.unit,
        using=[re.sub(r"[A-Za-z_]+", lambda m: turn.get(m.group(), m.group()), e.using)],
    )
    lines = tuple(renamed(canonical(e, line)) for line in case.lines)
    result = mark_response(part, lines)
    assert result.mark == case.marks, (lines, [a.reason for a in result.awards])


def _split_unit(text: str, unit: str) -> tuple[str, str, str]:
    """The line without the unit at its end, and the unit."""
    return (text[: -len(unit)], "", unit) if text.endswith(" " + unit) else (text, "", "")


# --- units and powers of ten -------------------------------------------------------------------------

PREFIXES = {"m": -3, "k": 3, "M": 6}
SAFE = ("model answer", "answer alone", "unit left off", "arithmetic", "no final answer", "relationship alone", "wrong relationship")
SIMPLE = {"V": "V", "A": "A", "N": "N", "J": "J", "C": "C", "W": "W", "T": "T"}


def _rescaled(given: str, prefix: str) -> str | None:
    """The same datum with its unit prefixed and its number multiplied to match; None where it has no simple unit."""
    number, _, unit = given.partition(" ")
    if unit not in SIMPLE:
        return None
    return f"{number}e{-PREFIXES[prefix]} {prefix}{unit}" if "e" not in number else None


def _others(e: Example, prefix: str) -> dict[str, str]:
    """Data that may stand in another unit, as they stand in it."""
    return {n: t for n in e.given if (t := _rescaled(e.given[n], prefix)) is not None}


RESCALED = [c for c in CASES if c.slip in SAFE and _others(c.example, "k")]


@laws
@given(case=st.sampled_from(RESCALED), prefix=st.sampled_from(sorted(PREFIXES)), data=st.data())
def test_a_datum_in_another_unit_never_changes_a_mark(case: Case, prefix: str, data: st.DataObject) -> None:
    """7.5 V or 7.5 × 10³ mV in the question: the same response earns the same."""
    e = case.example
    other = _others(e, prefix)
    chosen = data.draw(st.sets(st.sampled_from(sorted(other)), min_size=1))
    given_ = {**e.given, **{n: other[n] for n in chosen}}
    part = one_part(given=given_, find=e.find, unit=e.unit, using=[e.using])
    result = mark_response(part, case.lines)
    assert result.mark == case.marks, (given_, case.lines, [a.reason for a in result.awards])


@laws
@given(
    case=st.sampled_from([c for c in CASES if c.example.unit in SIMPLE and c.slip in ("model answer", "answer alone", "arithmetic")]),
    prefix=st.sampled_from(sorted(PREFIXES)),
)
def test_the_answer_in_another_unit_never_changes_a_mark(case: Case, prefix: str) -> None:
    """5.0 A or 5.0 × 10³ mA as the answer."""
    unit = case.example.unit
    found = re.search(rf"(\d[\d.]*)(?: x 10\^(-?\d+))? {unit}$", case.lines[-1])
    assert found is not None
    power = int(found.group(2) or 0) - PREFIXES[prefix]
    scaled = f"{case.lines[-1][: found.start()]}{found.group(1)} x 10^{power} {prefix}{unit}"
    result = marked(case.example, (*case.lines[:-1], scaled))
    assert result.mark == case.marks, (scaled, [a.reason for a in result.awards])


def test_the_laws_have_cases_to_be_tried_on() -> None:
    """Every draw of a law reaches its assertion; these are how many there are to draw from."""
    assert len(CASES) > 250
    assert len(ENDED) > 200
    assert len(LETTERED) > 40
    assert len(RESCALED) > 60


# --- the same again ----------------------------------------------------------------------------------


@laws
@given(case=cases)
def test_marking_is_deterministic(case: Case) -> None:
    e = case.example
    again = one_part(given=dict(e.given), find=e.find, unit=e.unit, using=[e.using])
    assert marked(e, case.lines) == marked(e, case.lines) == mark_response(again, case.lines)


@settings(laws, max_examples=15)
@given(order=st.permutations(range(8)), example=examples)
def test_the_order_of_candidates_has_no_effect(order: list[int], example: Example) -> None:
    part = {"name": "a", "marks": 3, "given": dict(example.given), "find": example.find, "unit": example.unit, "using": [example.using]}
    paper = build_paper({"paper": {"title": "one part", "rulings": {"unit_fault_scope": "paper"}}, "part": [part]})
    own = [c for c in CASES if c.example is example]
    typed = {(f"c{i}", "a"): own[i % len(own)].lines for i in range(8)}
    names = [f"c{i}" for i in range(8)]
    assert mark_class(paper, [names[i] for i in order], typed) == mark_class(paper, names, typed)


JUNK = ("?? )) 3 + = ((", "[[ 5 * / 7 ]", "see my sketch overleaf", "((((", "12 + + = = 4")


@laws
@given(case=cases, junk=st.sampled_from(JUNK))
def test_a_line_that_cannot_be_read_touches_no_point(case: Case, junk: str) -> None:
    """It may send the response to a person, with the points as they are."""
    before, after = marked(case.example, case.lines), marked(case.example, (*case.lines, junk))
    assert points(after) == points(before)
    if after.referral is not None:
        assert after.referral.possibilities[0].mark == before.mark


@pytest.mark.parametrize("case", [c for c in CASES if c.slip == "unit left off"][:6], ids=str)
def test_a_doubt_settled_by_the_convention_is_no_referral(case: Case) -> None:
    result = marked(case.example, case.lines)
    assert result.referral is None
    assert replace(result, referral=None) == result
