"""Proving schemes: what is remarked on, what fails, and what each fault should cost under each ruling.

Costs: the published 15-response table (conventions file 1.2: rows 3, 6, 9, 10 of BA7377 and AH2018, the others from memory)
and the rulings of section 1.5. Remarks: common practice, no source.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from typing import Any

import pytest

from marker.expression import Symbol
from marker.judging.known_faults import known_faults
from marker.scheme.checking import Came, Proof, check_paper, check_part
from marker.scheme.checking.calculation import NAMES
from marker.scheme.checking.cost import Happened, points_lost
from marker.scheme.checking.notations import NOTATIONS, in_notation
from marker.scheme.checking.other_kinds import plain_keyboard
from marker.scheme.checking.solution import in_figures, shortest, solution, stages
from marker.scheme.paper import CompiledPart, Paper, build_paper

from .schemes import FILES, name_of

RESISTOR = """
[[part]]
name = "1"
marks = 3
given = { V = "7.5 V", I = "1.5 A" }
find = "R"
unit = "Ω"
using = ["V = I*R"]
"""


def paper(parts: str, rulings: str = "") -> Paper:
    head = '[paper]\ntitle = "Invented"\n' + (f"[paper.rulings]\n{rulings}\n" if rulings else "")
    return build_paper(tomllib.loads(head + parts))


def only(parts: str, rulings: str = "") -> CompiledPart:
    return paper(parts, rulings).parts[0]


# --- costs ------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Row:
    """A response of the 15-response table as a class of fault, the marks it gets of 3, and the source."""

    row: str
    family: str
    marks: float
    source: str
    code: str = ""
    rulings: str = ""

    def __str__(self) -> str:
        return f"{self.row} {self.family}"


COSTS = (
    Row("3", "unit", 2, "from memory"),
    Row("6", "arithmetic", 2, "from memory; same ruling US-N5"),
    Row("10, value and unit share a mark", "figures", 2, "AH2018"),
    Row("11", "substitution", 1, "AH2018", "values-exchanged"),
    Row("12", "transcription", 1, "AH2018", "decimal-point-lost"),
    Row("13", "relationship", 0, "from memory"),
    Row("14", "arithmetic", 2, "from memory", "wrong-rearrangement-of-numbers"),
    Row("15", "rearrangement", 1, "from memory"),
    Row("conversion", "conversion", 2, "from memory, uncertain: ruling 7"),
    Row("ruling 4, none", "unit", 3, "conventions file 1.5", rulings='unit_fault = "none"'),
    Row("ruling 7, substitution", "conversion", 1, "conventions file 1.5", rulings='conversion_fault = "substitution"'),
    Row("ruling 7a, conversion", "transcription", 2, "conventions file 1.5", "decimal-point-lost", 'digit_place = "conversion"'),
    Row("ruling 9, followed", "transcription", 2, "conventions file 1.5", rulings='transcription_slip = "substitution mark, followed"'),
    Row("ruling 9, answer mark", "transcription", 2, "conventions file 1.5", rulings='transcription_slip = "answer mark"'),
    Row("ruling 16, substitution", "substitution", 1, "conventions file 1.5", "other-g", 'other_g = "substitution"'),
    Row("ruling 16, accepted", "substitution", 3, "conventions file 1.5", "other-g", 'other_g = "accepted"'),
)


@pytest.mark.parametrize("row", COSTS, ids=str)
def test_what_a_fault_costs(row: Row) -> None:
    part = only(RESISTOR, row.rulings)
    stage = stages(part.compiled)[0]
    lost = points_lost(part.compiled, Happened(family=row.family, code=row.code, stage=stage))
    points = part.compiled.goals[0].points
    assert part.marks - sum(points[i].marks for i in lost) == row.marks


CHAIN = """
[[part]]
name = "2"
marks = 5
given = { "ε" = "24.6 V", r = "0.35 Ω", R_1 = "9.0 Ω", R_2 = "15 Ω" }
find = "I"
using = ["1/R = 1/R_1 + 1/R_2", "ε = I*(R + r)"]
points = [
  { kind = "relationship", of = "1/R = 1/R_1 + 1/R_2" }, { kind = "value", of = "R" },
  { kind = "relationship", of = "ε = I*(R + r)" }, { kind = "substitution", of = "ε = I*(R + r)" }, { kind = "answer" },
]
"""
WHERE = (
    ("arithmetic", 0, {1}, "a slip is charged once, where its value has a point (US-N5: followed)"),
    ("arithmetic", 1, {4}, "the same in the last step"),
    ("relationship", 0, {0, 1, 4}, "wrong relationship first: its value and the answer go; the second relationship stays"),
    ("relationship", 1, {2, 3, 4}, "wrong relationship last: the first and its value stay"),
)


@pytest.mark.parametrize(("family", "step", "lost", "source"), WHERE, ids=lambda v: str(v)[:30])
def test_a_fault_costs_where_it_happens(family: str, step: int, lost: set[int], source: str) -> None:
    part = only(CHAIN).compiled
    assert points_lost(part, Happened(family=family, code="", stage=stages(part)[step])) == lost, source


# --- a sound scheme ---------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def resistor() -> Proof:
    return check_paper(paper(RESISTOR))


def test_the_resistor_passes(resistor: Proof) -> None:
    assert resistor.passes and not resistor.remarks
    assert resistor.parts[0].answer == "R = 5.0 Ω"


def test_the_model_answer_is_tried_in_five_notations(resistor: Proof) -> None:
    tried = [t.what for t in resistor.trials if t.what.startswith("model answer, ")]
    assert [f"model answer, {n}" for n in NAMES.values()] == tried
    assert len({t.lines for t in resistor.trials if t.what in tried}) == 5
    assert all(t.mark == 3 for t in resistor.trials if t.what.startswith("model answer"))


def test_a_blank_and_an_answer_alone(resistor: Proof) -> None:
    by_name = {t.what: t for t in resistor.trials}
    assert (by_name["blank"].mark, by_name["answer alone"].mark) == (0, 3)


def test_faults_are_tried_once_a_step(resistor: Proof) -> None:
    codes = [t.code for t in resistor.trials if t.code]
    assert len(codes) == len(set(codes))
    for expected in (
        "inverted-quotient",
        "values-exchanged",
        "digits-exchanged",
        "arithmetic",
        "unit-missing",
        "wrong-rearrangement-of-symbols",
    ):
        assert expected in codes
    assert set(codes) <= {f.code for f in known_faults()}


# Rows of the table as the made-up responses themselves get them, marked by the engine: what is claimed of a fault holds in fact.
IN_FACT = {
    "inverted-quotient": 0, "values-exchanged": 1, "arithmetic": 2, "unit-missing": 2, "unit-wrong": 2,
    "wrong-rearrangement-of-symbols": 1, "digits-exchanged": 1, "copied-wrongly": 1, "stopped-early": 2,
}  # fmt: skip


@pytest.mark.parametrize(("code", "marks"), IN_FACT.items())
def test_made_up_responses_get_the_marks_of_the_table(resistor: Proof, code: str, marks: float) -> None:
    trial = next(t for t in resistor.trials if t.code == code)
    assert (trial.mark, trial.came) == (marks, Came.AS_RULED), trial.lines


def test_figures_outside_the_window() -> None:
    """12.6 V and 1.70 A: three figures, one fewer and two more are allowed (LITH), so 7 and 7.41176 Ω are not."""
    keys = 'marks = 3\ngiven = { V = "12.6 V", I = "1.70 A" }\nfind = "R"\nunit = "Ω"\nusing = ["V = I*R"]'
    trials = {t.code: t for t in check_part(only(part(keys))).trials if t.code.startswith("too-")}
    assert {(c, t.mark, t.lines[-1]) for c, t in trials.items()} == {
        ("too-few-figures", 2, "R = 7 Ω"),
        ("too-many-figures", 2, "R = 7.41176 Ω"),
    }


@pytest.mark.parametrize("file", FILES, ids=name_of)
def test_the_schemes_of_this_repository(file: Any) -> None:
    """Every scheme is proved; made-up faults come out as ruled (five in six at least), and none earns full marks unseen."""
    from marker.scheme.files import load_any

    proof = check_paper(load_any(file))
    faults = [t for t in proof.trials if t.code]
    assert proof.passes, "\n".join(r.problem.sentence() for r in proof.remarks if r.fails)
    assert not faults or sum(t.came is not Came.DIFFERS for t in faults) / len(faults) >= 5 / 6
    turned = [t for t in faults if t.what == "two values exchanged (ΔT)"]  # a fall written as a rise: its sign costs nothing
    assert not [t for t in faults if t.came is Came.DIFFERS and t.mark == t.maximum and t not in turned]


# --- schemes with something to mend -------------------------------------------------------------------


def part(keys: str) -> str:
    return f'[[part]]\nname = "1"\n{keys}\n'


@dataclass(frozen=True)
class Amiss:
    """A scheme with something amiss: whether it fails, and what the remark says."""

    what: str
    keys: str
    fails: bool
    says: tuple[str, ...]
    rulings: str = ""

    def __str__(self) -> str:
        return self.what


FORCE = 'marks = 3\nfind = "F"\n'
PUSH = FORCE + 'given = { m = "2.0 kg", a = "3.0 m/s^2" }\nusing = ["F = m*a"]\n'
AMISS = (
    Amiss(
        "sides of two kinds",
        'marks = 3\ngiven = { m = "2.0 kg", a = "3.0 m/s", F = "6.0 N" }\nfind = "t"\nusing = ["F = m*a", "F = m*a/t"]\n'
        'points = [{ kind = "answer", marks = 3 }]',
        True,
        ("using", "does not balance", "left in N", "Correct the relationship"),
    ),
    Amiss("answer in another unit", PUSH + 'unit = "W"', True, ("unit", "'W' is not a unit of F", "in N")),
    Amiss("range in another unit", PUSH + 'unit = "N"\naccept = ["5.9 kg", "6.1 kg"]', True, ("accept", "'5.9 kg'", "in N")),
    Amiss(
        "one significant figure",
        FORCE + 'given = { m = "2 kg", a = "3.0 m/s^2" }\nusing = ["F = m*a"]',
        False,
        ("given.m", "'2 kg' has one significant figure", 'Write "2.0 kg"'),
    ),
    Amiss(
        "datum without use",
        FORCE + 'given = { m = "2.0 kg", a = "3.0 m/s^2", h = "1.2 m" }\nusing = ["F = m*a"]',
        False,
        ("given.h", "in no relationship"),
    ),
    Amiss(
        "a lost superscript and an index",
        'marks = 3\nfind = "v"\ngiven = { v_2 = "3.0 m/s", a = "2.0 m/s^2", s = "4.0 m" }\nusing = ["v^2 = v_2^2 + 2*a*s"]',
        False,
        ("v2 may be v^2", "or v_2"),
    ),
    Amiss("a name of two quantities", PUSH + 'names = { m = ["load"], F = ["load"] }', True, ("'load' is a name of F and of m",)),
    Amiss("a name that is another letter", PUSH + 'names = { F = ["m"] }', True, ("'m' is the letter of another quantity",)),
    Amiss("a name that is a unit", PUSH + 'unit = "N"\nnames = { F = ["N"] }', False, ("'N' as a letter for F is also a unit", "“5.0 N”")),
    Amiss("a name for nothing", PUSH + 'names = { q = ["pull"] }', True, ("names.q", "not a quantity of this part")),
    Amiss(
        "a point out of reach",
        'marks = 4\nfind = "F"\ngiven = { m = "2.0 kg", a = "3.0 m/s^2" }\n'
        'using = ["F = m*a"]\n'
        'points = [{ kind = "relationship" }, { kind = "substitution" }, { kind = "answer" }, '
        '{ kind = "value", of = "F", accept = ["7.0 N", "8.0 N"] }]',
        True,
        ("no model answer earns the point", "value F"),
    ),
    Amiss(
        "a range that hides a fault",
        'marks = 3\nfind = "E_k"\ngiven = { m = "4.0 kg", v = "1.02 m/s" }\nusing = ["E_k = m*v^2/2"]\naccept = ["1.6 J", "2.6 J"]',
        False,
        ("accepted all the same after", "arithmetic slip"),
    ),
    Amiss("a wide range", PUSH + 'unit = "N"\naccept = ["5.0 N", "7.0 N"]', False, ("accept", "33 % wide")),
)


@pytest.mark.parametrize("row", AMISS, ids=str)
def test_what_is_amiss_is_said(row: Amiss) -> None:
    proof = check_part(paper(part(row.keys), row.rulings).parts[0])
    said = [r for r in proof.remarks if all(t in r.problem.sentence() for t in row.says)]
    assert said, [r.problem.sentence() for r in proof.remarks]
    assert said[0].fails is row.fails
    assert proof.passes is not row.fails or any(r.fails for r in proof.remarks)


def test_nothing_is_said_where_nothing_need_be_done() -> None:
    keys = 'marks = 3\nfind = "I"\ngiven = { V = "12 V", R = "4.0 Ω", r = "0.50 Ω" }\nusing = ["V = I*(R + r)"]'
    assert check_part(paper(part(keys)).parts[0]).remarks == ()


def test_a_part_of_another_kind() -> None:
    keys = 'kind = "choice"\nmarks = 1\noptions = ["volt", "ampere", "ohm"]\nkey = "B"'
    proof = check_part(paper(part(keys)).parts[0])
    assert proof.passes and {t.what for t in proof.trials} >= {"model answer", "model answer, in small letters", "blank"}


# --- notations -------------------------------------------------------------------------------------


def test_how_the_five_notations_write_one_line() -> None:
    part = only(
        '[[part]]\nname = "1"\nmarks = 3\ngiven = { l = "1.0 m", g = "9.8 m/s^2" }\nfind = "T"\nusing = ["T = 2*pi*sqrt(l/g)"]'
    ).compiled
    first = solution(part)[0]
    assert [in_notation(first, n, part.table) for n in NOTATIONS] == [
        "T = 2π√(l/g)",
        "T = 2*pi*sqrt(l/g)",
        "T = 2 x π x sqrt(l/g)",
        "T = 2 \\times \\pi \\times \\sqrt{\\frac{l}{g}}",
        in_notation(first, NOTATIONS[-1], part.table),
    ]
    assert "SQRT(" in in_notation(first, NOTATIONS[-1], part.table)


# value, figures, as a person writes it (common practice, no source); the last is 180 to two figures, plain and clear
WRITTEN = (
    (0.51234, 2, "0.51"),
    (431.25, 3, "431"),
    (262000, 3, "2.62 × 10^5"),
    (0.000123, 2, "1.2 × 10^-4"),
    (8.0, 2, "8.0"),
    (-4.6, 2, "-4.6"),
    (180.3, 2, "180"),
)


@pytest.mark.parametrize(("value", "figures", "text"), WRITTEN)
def test_numbers_to_so_many_figures(value: float, figures: int, text: str) -> None:
    assert in_figures(value, figures) == text


def test_numbers_as_short_as_they_go() -> None:
    assert [shortest(v) for v in (0.064, 240000.0, 7.5, 6.63e-34, 1350.0)] == ["0.064", "240000", "7.5", "6.63 × 10^-34", "1350"]
    assert in_figures(180.3, 2, clear=True) == "1.8 × 10^2"


def test_a_plain_keyboard() -> None:
    assert plain_keyboard("4.9 × 10⁻⁷ Ω m²") == "4.9 * 10^-7 ohm m^2"
    assert Symbol(name="θ").name == "θ"
