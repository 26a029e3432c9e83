"""Parts of the same physics are judged as one; whatever their physics differ in keeps them apart."""

from __future__ import annotations

import pytest

from marker import build_paper
from marker.judging.physics_of import physics_of
from marker.judging.script import judge_script
from marker.scheme.compiled import CompiledCalculation

PUMP = {"name": "1", "marks": 3, "given": {"m": "45 kg", "h": "12 m", "t": "20 s"}, "find": "P", "unit": "W", "using": ["P = m*g*h/t"]}

# what a scheme is changed by, and whether its physics stay the same; common practice, no source
CHANGES = (
    ({"marks": 4, "points": [{"kind": "relationship", "marks": 2}, {"kind": "answer", "marks": 2}]}, True),
    ({"accept": ["250 W", "270 W"]}, True),
    ({"rulings": {"answer_only": "none", "rounding_tolerance": 0.02}}, True),
    ({"rulings": {"other_g": "accepted"}}, False),
    ({"given": {"m": "45 kg", "h": "12 m", "t": "25 s"}}, False),
    ({"using": ["P = m*g*h/t", "E = P*t"]}, False),
    ({"given": {"m": "45 kg", "h": "12.0 m", "t": "20 s"}}, False),
)


def compiled(**changes: object) -> CompiledCalculation:
    made = build_paper({"paper": {"title": "pump"}, "part": [{**PUMP, **changes}]}).parts[0].compiled
    assert isinstance(made, CompiledCalculation)
    return made


@pytest.mark.parametrize(("changes", "same"), CHANGES, ids=str)
def test_what_keeps_parts_apart(changes: dict[str, object], same: bool) -> None:
    assert (physics_of(compiled(**changes)) is physics_of(compiled())) is same


def test_judged_once_for_all_of_the_same_physics() -> None:
    lines = ("P = mgh/t", "= 45 × 9.81 × 12/20", "= 265 W")
    strict = compiled(rulings={"answer_only": "none"})
    assert judge_script(strict, lines, {}) is judge_script(compiled(), lines, {})


def test_nothing_of_the_marks_is_left_to_judge_by() -> None:
    seen = physics_of(compiled(accept=["250 W", "270 W"]))
    assert seen.marks == 0 and not seen.routes
    assert all(goal.accept is None and not goal.points for goal in seen.goals)
