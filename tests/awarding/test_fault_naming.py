"""The 42 common errors named from a candidate's working: conventions file, section 6 (cases in fault_cases.py).

A fault is named as sure only where a line of working agrees with it and no other does; on a bare wrong number none is.
"""

from __future__ import annotations

import re
from functools import lru_cache

import pytest

from marker import build_paper
from marker.results import FaultFound, PartResult
from marker.scheme.paper import CompiledPart
from tests.awarding.fault_cases import CASES, ELSEWHERE, PARTS, FaultCase
from tests.awarding.parts import mark, one_part
from tests.rubrics.files import faults

NUMBERS = {f["code"]: f.get("number") for f in faults()["fault"]}


@lru_cache
def part_of(name: str) -> CompiledPart:
    return one_part(**PARTS[name])


@pytest.mark.parametrize("case", CASES, ids=str)
def test_named_from_its_worked_case(case: FaultCase) -> None:
    result = mark(part_of(case.part), case.typed)
    assert tuple(f.code for f in result.faults) == case.codes, [a.reason for a in result.awards]
    assert [f.sure for f in result.faults] == [len(case.codes) == 1] * len(case.codes)
    assert case.number in {NUMBERS[c] for c in case.codes}
    assert result.mark == case.marks, [a.reason for a in result.awards]
    assert not result.referred


@pytest.mark.parametrize("case", [c for c in CASES if c.bare], ids=str)
def test_not_named_on_the_bare_number(case: FaultCase) -> None:
    result = mark(part_of(case.part), case.bare)
    assert result.mark == 0
    assert not any(f.sure for f in result.faults), [f.code for f in result.faults]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_told_to_teacher_and_student(case: FaultCase) -> None:
    for fault in mark(part_of(case.part), case.typed).faults:
        _is_told(fault)
        assert fault.line is not None


def _is_told(fault: FaultFound) -> None:
    assert fault.teacher and not fault.teacher.endswith(".")
    assert fault.student[0].isupper() and fault.student.endswith(".")
    assert not re.search(r"[{}]|\bwrong\b|\bmistake\b", fault.student)
    assert not re.search(r"[{}]", fault.teacher)


# Lines that more than one error makes, or none of the list: what may be said of them. Common practice, no source; numbers invented.
OPEN = (
    ("kinetic", "E = ½mv² = 16 J", set(), "the relationship alone: no line shows what became of it"),
    ("laser", "λ = c/f = 3.00 x 10^8/(6.0 x 10^14) = 5.0 x 10^-5 m", {"power-of-ten"}, "a hundred times out: no single key"),
    ("resistor", "R = V/I² = 7.5/1.5² = 3.3 Ω", {"wrong-relationship"}, "none of the list"),
    ("conductor", "B = F/Il = 6.0/(2.0 x 3.0) = 1.3 T", {"arithmetic"}, "any slip"),
)


@pytest.mark.parametrize(("part", "typed", "sure", "why"), OPEN)
def test_what_cannot_be_told_is_not_asserted(part: str, typed: str, sure: set[str], why: str) -> None:
    assert {f.code for f in mark(part_of(part), typed).faults if f.sure} == sure, why


# --- rows of the list that are about graphs and uncertainties ----------------------------------------

CART = {
    "name": "a",
    "kind": "gradient",
    "marks": 3,
    "table": {
        "x": {"name": "time", "symbol": "t", "unit": "s", "values": ["1.0", "2.0", "3.0", "4.0", "5.0"]},
        "y": {"name": "speed", "symbol": "v", "unit": "m/s", "values": ["4.0", "6.0", "8.0", "10.0", "12.0"]},
    },
}
READINGS = {
    "name": "a",
    "kind": "uncertainty",
    "marks": 4,
    "quantities": {"V": "(7.5 ± 0.1) V", "I": "(1.50 ± 0.05) A"},
    "find": "R",
    "using": "R = V/I",
    "unit": "Ω",
}
BALL = {
    "name": "a",
    "kind": "uncertainty",
    "marks": 4,
    "quantities": {"m": "(0.250 ± 0.005) kg", "v": "(3.2 ± 0.1) m/s"},
    "find": "E",
    "using": "E = 1/2*m*v^2",
    "unit": "J",
}


def _other(part: dict[str, object], typed: str, rulings: dict[str, object] | None = None) -> PartResult:
    return mark(build_paper({"paper": {"title": "one", "rulings": rulings or {}}, "part": [part]}).parts[0], typed)


@pytest.mark.parametrize(
    ("number", "part", "typed", "code"),
    [
        (33, CART, "gradient = (3.0 - 0)/(8.0 - 2.0) = 0.50", "gradient-inverted"),
        (33, CART, "gradient = 8.0/3.0 = 2.67 m/s²", "gradient-one-point"),
        (42, READINGS, "V: 0.1/7.5 = 1.33 %; I: 0.05/1.50 = 3.33 %; R = 5.0 Ω; 3.33 % of 5.0 = 0.17 Ω", "uncertainty-largest-only"),
        (42, BALL, "m: 2.0 %; v: 3.1 %; E: 2.0 + 3.1 = 5.1 %; E = (1.28 ± 0.07) J", "power-not-multiplied"),
    ],
)
def test_rows_of_graphs_and_uncertainties(number: int, part: dict[str, object], typed: str, code: str) -> None:
    assert number in ELSEWHERE
    result = _other(part, typed, {"uncertainty_rule": "sum"})
    assert code in {f.code for f in result.faults}, [a.reason for a in result.awards]
    assert all(f.teacher and f.student and not re.search(r"[{}]", f.teacher + f.student) for f in result.faults)


def test_every_row_of_the_list_has_its_case() -> None:
    assert {c.number for c in CASES} | set(ELSEWHERE) == set(range(1, 43))
