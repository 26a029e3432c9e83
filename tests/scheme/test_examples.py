"""The examples of every kind of part: each can be used as it stands, and `marker scheme examples` prints it with its keys.

The scheme is invented; g of the falling stone is by hand 2 × 1.52/0.560² = 9.69 m/s², 1.3 % + 2 × 1.07 % = 3.46 %, 0.335 m/s².
"""

from __future__ import annotations

import tomllib

import pytest

from marker.errors import SchemeError
from marker.kinds import KINDS
from marker.marking import mark_response
from marker.scheme.checking import check_paper
from marker.scheme.examples import examples_of, examples_text
from marker.scheme.paper import Paper, build_paper

PAPER: Paper = build_paper(tomllib.loads(examples_text()))


def test_every_kind_has_an_example() -> None:
    assert {p.spec.kind for p in PAPER.parts} == set(KINDS)


@pytest.mark.parametrize("name", [p.name for p in PAPER.parts])
def test_its_model_answer_earns_full_marks(name: str) -> None:
    part = PAPER.part(name)
    result = mark_response(part, part.kind.model(part.compiled))
    assert (result.mark, result.referred) == (part.marks, False), [a.reason for a in result.awards]


def test_the_examples_pass_the_check_of_schemes() -> None:
    assert [r.problem.sentence() for r in check_paper(PAPER).remarks if r.fails] == []


# what a candidate writes, and the mark: common practice, no source
TYPED = (
    ("uncertainty", "s: 0.02/1.52 = 1.3 %; t: 0.006/0.560 = 1.07 %, twice 2.14 %; total 3.46 %; 0.34 m/s^2", 4),
    ("gradient", "gradient = (10.7-12.0)/(2.0-0.5) = -0.87; gradient = -r; r = 0.87 ohm", 4),
    ("proportion", "the load doubles, the sag doubles; so proportional", 2),
    ("rearrangement", "v3 = 2P/ρA; v = cube root of 2P/ρA", 2),
    ("calculation, own points", "Q = mcT = 12 x 4180 x 4 = 200640; Q = 12 x 3.34e5 = 4.008e6; 4.2 MJ", 5),
    ("calculation in steps", "p = 1000 x 9.81 x 4.2 = 41200 Pa; F = 41200 x π x 0.36²/4 = 4.2 kN", 4),
)


@pytest.mark.parametrize(("name", "typed", "mark"), TYPED, ids=[n for n, _, _ in TYPED])
def test_typed_answers(name: str, typed: str, mark: float) -> None:
    result = mark_response(PAPER.part(name), typed.split("; "))
    assert result.mark == mark, [a.reason for a in result.awards]


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_a_kind_is_printed_with_its_keys(kind: str) -> None:
    text = examples_of(kind)
    assert "[[part]]" in text and "Keys" in text
    own = set(KINDS[kind].spec.model_fields) - {"name", "kind", "marks", "question", "stem", "rulings"}
    told = {k for k in own if k in text}
    assert told == own, own - told


def test_an_unknown_kind_is_refused_with_the_nearest() -> None:
    with pytest.raises(SchemeError, match="Did you mean 'gradient'"):
        examples_of("gradeint")


COMBINED = (
    ({"uncertainty_rule": "sum"}, "are added", False),
    ({"uncertainty_rule": "root sum of squares"}, "root of the sum of their squares", True),
    ({"uncertainty_rule": "largest"}, "the largest alone", True),
)


@pytest.mark.parametrize(("rulings", "says", "warned"), COMBINED, ids=[s for _, s, _ in COMBINED])
def test_the_check_says_how_uncertainties_combine(rulings: dict[str, str], says: str, warned: bool) -> None:
    """The question of the example says "add": a ruling that says otherwise is named."""
    row = next(p for p in tomllib.loads(examples_text())["part"] if p["name"] == "uncertainty")
    row = {k: v for k, v in row.items() if k not in ("combined_within", "within")} | {"rulings": rulings}
    proof = check_paper(build_paper({"paper": {"title": "x"}, "part": [row]})).parts[0]
    assert says in proof.notes[0] and "t × 2" in proof.notes[0]
    assert any("uncertainty_rule" in r.problem.seen for r in proof.remarks) is warned
