"""The laws of marking, held to the responses of the invented class tests: a fixed sample of each. Common practice, no source.

Where a law does not hold of a response by its own terms, the response is passed over before the sample is drawn, and the reason is
written beside the condition.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

import pytest

from marker.marking import mark_class
from tests.awarding.class_responses import (
    FOLDERS,
    HANDS,
    PLAIN,
    Typed,
    calculations,
    marked,
    paper_of,
    part_of,
    rows_of,
    sample,
    scheme_of,
    with_part,
)
from tests.awarding.parts import mark, one_part

SIZE = 150
LOST_POWER = re.compile(r"to the power|lost|bracket to")
RESULT = re.compile(r"=\s*[-−]?\d[\d.]*(?:\s*×\s*10[⁻⁰¹²³⁴-⁹]+)?\s*(?:[A-Za-zΩ°%µ][^=]*)?$")
NUMBERS = re.compile(r"(?<![₀-₉_A-Za-z])\d")


@dataclass(frozen=True)
class Added:
    typed: Typed
    line: str
    place: str

    def __str__(self) -> str:
        return f"{self.typed}, {self.place}: {self.line}"


def _may_be_added_to(t: Typed) -> bool:
    """Not where a person would say that the line changes what stands there.

    Crossed-out work is replaced by it, and words that take something back may take it back too; superscripts lost on the line are a
    matter of the whole hand, which a line with its superscripts changes.
    """
    base = marked(t)
    withdrawn = any(line.verdict == "withdrawn" for line in base.lines)
    lost = any(LOST_POWER.search(note) for note in base.notes) or re.search(r"\b(?:no|wrong)\b", "\n".join(t.lines))
    return not (withdrawn or lost)


def _added() -> Iterator[Added]:
    """Relationships of the model answer, and its substitutions where the candidate has no wrong value of their own to go on from.

    None before a line that begins with "=", which goes on from the one before it.
    """
    for t in sample([t for t in calculations() if _may_be_added_to(t)], SIZE, 1):
        part = part_of(t)
        own = bool(part.compiled.carry) or any(not o.right for o in marked(t).own)
        goes_on = t.lines[0].lstrip().startswith("=")
        for line in dict.fromkeys(part.kind.model(part.compiled)):
            if not RESULT.search(line) and not (own and NUMBERS.search(line.replace("(1/2)", ""))):
                yield from (Added(t, line, place) for place in (("last",) if goes_on else ("first", "last")))


def test_a_correct_line_never_lowers_a_mark() -> None:
    lowered, tried = set(), 0
    for a in _added():
        lines = (a.line, *a.typed.lines) if a.place == "first" else (*a.typed.lines, a.line)
        tried += 1
        if marked(a.typed, lines).mark < marked(a.typed).mark:
            lowered.add((str(a.typed), a.place))
    assert tried > 400
    assert not lowered


@pytest.mark.parametrize("hand", HANDS)
def test_another_hand_never_changes_a_mark(hand: str) -> None:
    changed = HANDS[hand]
    written = [t for t in calculations() if "\\" not in "".join(t.lines) and tuple(map(changed, t.lines)) != t.lines]
    assert len(written) > 100
    for t in sample(written, 100, 2):
        assert marked(t, [changed(line) for line in t.lines]).mark == marked(t).mark, (t, [changed(line) for line in t.lines])


NUMBER_RAISED = re.compile(r"(?<![\d.]10)(?<=\d)(?:\^|\*\*|[²³⁴])")
LOST = re.compile(r"\^(?:\(([-−]?\d+)\)|([-−]?\d+))(?![.\d])|([⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+)")


# each has another fault too, and without its superscript a reading that is wrong in one place only: (240/150)4 as × 4
HIDES_ITS_FAULT = {"bakery s02 q9", "bakery s09 q9", "lighthouse t03 b10", "tram_depot s11 p3", "windmill s16 p1"}


# a number of things has no unit, and "5.7×1016 s-1" after it reads as a difference: not mended
COUNTED_A_SECOND = {"canal_lift s03 p5"}


def _without_raised_figures(line: str) -> str:
    return LOST.sub(lambda m: m[1] or m[2] or m[3].translate(PLAIN), line.replace("**", "^"))


def test_lost_superscripts_never_change_a_mark() -> None:
    """I2R, 10-3, ms-2, v2 = u2 + 2as; not where a number other than ten is raised, for what 1.24 was the typed line no longer says."""
    plain = [t for t in calculations() if NUMBER_RAISED.search("\n".join(t.lines)) is None and "\\" not in "".join(t.lines)]
    written = [t for t in plain if tuple(map(_without_raised_figures, t.lines)) != t.lines]
    assert len(written) > 250
    written = [t for t in written if str(t) not in HIDES_ITS_FAULT | COUNTED_A_SECOND]
    changed = [str(t) for t in sample(written, 250, 5) if marked(t, list(map(_without_raised_figures, t.lines))).mark != marked(t).mark]
    assert changed == []


_ANSWER = re.compile(r"(\s*)(\d+(?:\.\d+)?)(?![\d.,]|\s\d)")


def _with_last_number(t: Typed, factor: float) -> tuple[str, ...] | None:
    """The lines with another number after the last sign of equality; None where there is none."""
    place = max(i for i, line in enumerate(t.lines) if line.strip())
    head, sign, tail = t.lines[place].rpartition("=")
    found = _ANSWER.match(tail)
    if not sign or found is None:
        return None
    decimals = len(found[2].partition(".")[2])
    last = f"{head}{sign}{found[1]}{float(found[2]) * factor:.{decimals}f}{tail[found.end() :]}"
    return (*t.lines[:place], last, *t.lines[place + 1 :])


@pytest.mark.parametrize("factor", [0.31, 1.37, 7.3])
def test_a_wrong_final_number_never_raises_a_mark(factor: float) -> None:
    tried = 0
    for t in sample([t for t in calculations() if _with_last_number(t, factor) is not None], SIZE, 3):
        lines = _with_last_number(t, factor)
        assert lines is not None
        result = marked(t, lines)
        if any(o.right for o in result.own):
            continue  # the other number happens to be a right one
        tried += 1
        assert result.mark <= marked(t).mark, (t, lines)
    assert tried > 60


RAMP = {"given": {"m": "85 kg", "θ": "7.4°"}, "find": "F", "unit": "N", "using": ["F = m*g*sin(θ)"]}


@pytest.mark.parametrize("last", ["827N", "256N", "513N", "107N"])
def test_a_wrong_function_earns_nothing_whatever_its_number(last: str) -> None:
    """The x between a number and cos is a sign, and not the angle, where that comes out right by chance."""
    assert mark(one_part(**RAMP), f"F = mgcosx = 85x9.81xcos7.4 = {last}").mark == 0


PREFIXES = {"m": -3, "k": 3}
SIMPLE = frozenset({"V", "A", "N", "J", "C", "W", "T", "Ω", "Pa", "Hz"})


def _rescaled(given: str, prefix: str) -> str | None:
    """The same datum with its unit prefixed and its number multiplied to match; None where it has no plain number and simple unit."""
    number, _, unit = given.partition(" ")
    return f"{number}e{-PREFIXES[prefix]} {prefix}{unit}" if unit in SIMPLE and re.fullmatch(r"\d+(?:\.\d+)?", number) else None


def _data_of(t: Typed) -> dict[str, str]:
    spec: dict[str, Any] = next(p for p in scheme_of(t.test)["part"] if p["name"] == t.part)
    return {n: text for n, text in spec.get("given", {}).items() if _rescaled(text, "k") is not None}


def _with_data(other: dict[str, Any], part: dict[str, Any]) -> None:
    part["given"].update(other)


@pytest.mark.parametrize("prefix", PREFIXES)
def test_a_datum_in_another_unit_never_changes_a_mark(prefix: str) -> None:
    """6.8 A or 6.8 × 10³ mA in the question; not for responses that convert it wrongly, which is another fault in another unit."""
    parts = {(t.test, t.part): t for t in calculations() if _data_of(t)}
    assert len(parts) > 15
    chosen = {(t.test, t.part) for t in sample(list(parts.values()), 12, 4)}
    tried = 0
    for (test, name), some in parts.items():
        if (test, name) not in chosen:
            continue
        other = {n: _rescaled(text, prefix) for n, text in _data_of(some).items()}
        paper = with_part(some, partial(_with_data, other))
        for t in [t for t in calculations() if (t.test, t.part) == (test, name)]:
            base = marked(t)
            if any(f.code in ("power-of-ten", "unconverted", "wrong-prefix", "wrong-conversion", "copied-wrongly") for f in base.faults):
                continue
            tried += 1
            assert marked(t, paper=paper).mark == base.mark, (t, t.lines)
    assert tried > 100


LETTERS = "ZYHKQDG"
RUN = re.compile(r"(?<![A-Za-z_\\])[A-Za-z]+(?![A-Za-z_\d])")


def _renamed(t: Typed) -> tuple[str, str] | None:
    """(letter, another letter) of a datum that the response writes only in formulas of the part's own letters; None where there is none."""
    spec: dict[str, Any] = next(p for p in scheme_of(t.test)["part"] if p["name"] == t.part)
    plain = {"given", "find", "unit", "using", "name", "marks", "stem", "accept", "names", "kind", "figures"}
    if spec.keys() - plain or "\\" in "".join(t.lines):
        return None
    letters = {n for n in (*spec.get("given", {}), spec["find"]) if len(n) == 1 and n.isascii()}
    text = " ".join(t.lines)
    if any(len(run) > 2 and not set(run) <= letters for run in RUN.findall(text)) or re.search(r"[A-Za-z]\d", text):
        return None
    for old in sorted(letters & spec.get("given", {}).keys()):
        runs = [run for run in RUN.findall(text) if old in run]
        new = next((x for x in LETTERS if x not in text and x not in " ".join(spec["using"]) and x not in spec.get("given", {})), "")
        if new and runs and all(set(run) <= letters for run in runs) and not re.search(rf"\d\s*{old}\b", text):
            return old, new
    return None


def test_letters_never_change_a_mark() -> None:
    found = [(t, pair) for t in calculations() if (pair := _renamed(t)) is not None]
    assert len(found) > 15
    for t, (old, new) in found[:80]:
        spec: dict[str, Any] = next(p for p in scheme_of(t.test)["part"] if p["name"] == t.part)
        letters = {n for n in (*spec["given"], spec["find"]) if len(n) == 1}

        def change(part: dict[str, Any], old: str = old, new: str = new) -> None:
            part["given"] = {new if n == old else n: text for n, text in part["given"].items()}
            part["using"] = [re.sub(rf"(?<![A-Za-z_]){old}(?![A-Za-z_])", new, u) for u in part["using"]]
            part["names"] = {new if n == old else n: w for n, w in part.get("names", {}).items()}

        def written(run: re.Match[str], old: str = old, new: str = new, letters: set[str] = letters) -> str:
            return run[0].replace(old, new) if set(run[0]) <= letters else run[0]

        lines = [RUN.sub(written, line) for line in t.lines]
        assert marked(t, lines, paper=with_part(t, change)).mark == marked(t).mark, (t, lines)


def test_marks_lie_within_bounds_and_add_up() -> None:
    for t in calculations():
        result = marked(t)
        assert 0 <= result.mark == sum(a.mark for a in result.awards) <= result.maximum
        assert all(0 <= a.mark <= a.maximum and a.reason.endswith(".") for a in result.awards), t
        if result.referral is not None:
            assert all(0 <= p.mark <= result.maximum for p in result.referral.possibilities)
            assert "fault of the program" not in result.referral.reason, t


@pytest.mark.parametrize("test", FOLDERS)
def test_the_order_of_candidates_has_no_effect(test: str) -> None:
    paper, rows = paper_of(test), rows_of(test)
    typed = {(candidate, part): lines for candidate, parts in rows.items() for part, lines in parts.items()}
    names = list(rows)
    assert mark_class(paper, names[::-1], typed) == mark_class(paper, names, typed)
