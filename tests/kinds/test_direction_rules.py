"""The derived answers: against numpy's cross product, and against published worked cases."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pytest

from marker.errors import SchemeError
from marker.kinds.direction import KIND
from marker.kinds.direction.vectors import Direction, named
from tests.kinds.direction_parts import part

SIX = {
    "to the right": (1, 0, 0),
    "to the left": (-1, 0, 0),
    "up the page": (0, 1, 0),
    "down the page": (0, -1, 0),
    "out of the page": (0, 0, 1),
    "into the page": (0, 0, -1),
}
CHARGES = {"positive": 1, "negative": -1, "neutral": 0}


def word_for(vector: Any) -> str:
    """The word for a vector along an axis; "zero" for none."""
    found = [word for word, axis in SIX.items() if np.allclose(vector, axis)]
    return found[0] if found else "zero"


@pytest.mark.parametrize("charge", CHARGES)
@pytest.mark.parametrize("field_way", SIX)
@pytest.mark.parametrize("velocity", SIX)
def test_force_on_a_charge_is_the_cross_product(velocity: str, field_way: str, charge: str) -> None:
    """F = q v × B (numpy.cross as reference): the right word earns the mark and none of the other six answers does."""
    force = CHARGES[charge] * np.cross(SIX[velocity], SIX[field_way])
    compiled = part(
        {"of": "force on the particle", "rule": "force on a charge", "charge": charge, "velocity": velocity, "field": field_way}
    )
    right = word_for(force)
    for answer in [*SIX, "zero"]:
        result = KIND.mark(compiled, [answer], {})
        assert (result.mark, result.referral) == (float(answer == right), None), (answer, result.awards[0].reason)


@pytest.mark.parametrize("field_way", SIX)
@pytest.mark.parametrize("current", SIX)
def test_force_on_a_current(current: str, field_way: str) -> None:
    """F = I L × B; electrons drift against the conventional current, so their flow gives the opposite (numpy.cross as reference)."""
    force = np.cross(SIX[current], SIX[field_way])
    for motion, sign in (("conventional current", 1), ("electron flow", -1)):
        compiled = part(
            {"of": "force on the wire", "rule": "force on a current", "current": current, "field": field_way, "charge_motion": motion}
        )
        assert KIND.mark(compiled, [word_for(sign * force)], {}).mark == 1.0


@pytest.mark.parametrize("axis_form", [True, False])
def test_axis_letters_and_vectors_are_geometry_too(axis_form: bool) -> None:
    ways = ("+x", "-y") if axis_form else ([1, 0, 0], [0, -1, 0])
    compiled = part({"of": "force", "rule": "force on a current", "current": ways[0], "field": ways[1]})
    assert KIND.mark(compiled, ["into the page"], {}).mark == 1.0  # x × -y = -z


@dataclass(frozen=True, kw_only=True)
class Case:
    """A published or remembered case: what is given, the published answer, and where it stands."""

    ask: dict[str, Any]
    answer: str
    source: str
    frame: str = "page"
    wrong: str = ""
    names: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        return f"{self.ask['rule']}: {self.answer}"


COLLEGE = "OpenStax, College Physics"
CASES = (
    Case(
        ask={"rule": "force on a charge", "charge": "positive", "velocity": "west", "field": "vertically down"},
        answer="south", wrong="north", frame="compass", source=f"{COLLEGE}, chapter 22, charged supersonic jet; published solution",
    ),
    Case(
        ask={"rule": "force on a charge", "charge": "positive", "velocity": "due west", "field": "due north"},
        answer="vertically down", wrong="up", frame="compass", source=f"{COLLEGE} 2e, Example 22.1; the direction from memory",
    ),
    Case(
        ask={"rule": "field from the force", "current": "up", "force": "left"},
        answer="into the page", wrong="out of the page", source=f"{COLLEGE}, problem 22.33 (a); published answer",
    ),
    Case(
        ask={"rule": "field from the force", "charge": "positive", "velocity": "down", "force": "into the page"},
        answer="left", wrong="right", source=f"{COLLEGE}, chapter 22 problem 5 (b); published answer",
    ),
    Case(
        ask={"rule": "field from the force", "charge": "positive", "velocity": "left", "force": "up"},
        answer="out of the page", wrong="into the page", source=f"{COLLEGE}, chapter 22 problem 5 (c); published answer",
    ),
    Case(
        ask={"rule": "current from the force", "force": "up", "field": "out of the page"},
        answer="left", wrong="right", source=f"{COLLEGE}, problem 22.32 (a); published answer",
    ),
    Case(
        ask={"rule": "current from the force", "force": "up", "field": "right"},
        answer="out of the page", wrong="in", source=f"{COLLEGE}, problem 22.32 (b); published answer",
    ),
    Case(
        ask={"rule": "force in an electric field", "charge": "positive", "field": "west"},
        answer="west", wrong="east", frame="compass", source="schoolphysics, age 16-19, force on a proton",
    ),
    Case(
        ask={"rule": "field from the force", "charge": "positive", "velocity": "north", "force": "east"},
        answer="up", wrong="down", frame="compass", source="schoolphysics, age 16-19, force on a proton (field upwards, out of the plan)",
    ),
    Case(
        ask={"rule": "induced current in a loop", "field": "out of the page", "change": "increasing"},
        answer="clockwise", wrong="anticlockwise", source="Halliday, Resnick, Walker, 10th ed., ch. 30 question 1; published solution",
    ),
    Case(
        ask={"rule": "induced current in a loop", "field": "into the page", "change": "increasing"},
        answer="anticlockwise", wrong="clockwise", source="long wire and loop A, problem 21.17 of a college text; published solution",
    ),
    Case(
        ask={"rule": "induced current in a loop", "field": "into the page", "change": "steady"},
        answer="no current", wrong="clockwise", source="Faraday's law: no change of flux, no e.m.f.; from memory",
    ),
    Case(
        ask={"rule": "velocity from the force", "charge": "negative", "force": "left", "field": "out of the page"},
        answer="up the page", wrong="down the page", source="from memory; checked by F = q v × B",
    ),
    Case(
        ask={"rule": "field of a straight wire", "current": "out of the page"},
        answer="anticlockwise", wrong="clockwise", source="right-hand grip rule; from memory",
    ),
    Case(
        ask={"rule": "field of a straight wire", "current": "into the page", "at": "right"},
        answer="down the page", wrong="up the page", source="right-hand grip rule; from memory",
    ),
    Case(
        ask={"rule": "field of a coil", "sense": "anticlockwise"},
        answer="out of the page", wrong="into the page", source="right-hand grip rule; from memory",
    ),
    Case(
        ask={"rule": "field of a coil", "sense": "anticlockwise", "beside": True},
        answer="into the page", wrong="out of the page", source="field lines close on themselves; from memory",
    ),
    Case(
        ask={"rule": "field of a coil", "sense": "clockwise", "seen_from": "right"},
        answer="to the left", wrong="to the right", source="right-hand grip rule: away from the viewer is a clockwise turn; from memory",
    ),
    Case(
        ask={"rule": "force in a gravitational field", "field": "down"},
        answer="downwards", wrong="up", source="definition of field strength; from memory",
    ),
    Case(
        ask={"rule": "induced current in a wire", "velocity": "right", "field": "into the page"},
        answer="up the page", wrong="down the page", source="right-hand dynamo rule; from memory, checked by v × B",
    ),
    Case(
        ask={"rule": "along the velocity", "centre": "left", "sense": "clockwise"},
        answer="down the page", wrong="up the page", source="the rightmost point of a clockwise circle moves down; from memory",
    ),
    Case(
        ask={"rule": "towards the centre", "velocity": "up", "sense": "clockwise"},
        answer="right", wrong="left", source="the leftmost point of a clockwise circle moves up; from memory",
    ),
)  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=str)
def test_published_cases(case: Case) -> None:
    compiled = part({"of": "direction asked", **case.ask}, frame=case.frame)
    assert KIND.mark(compiled, [case.answer], {}).mark == 1.0, case.source
    assert KIND.mark(compiled, [case.wrong], {}).mark == 0.0, case.source


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_model_answer_earns_full_marks(case: Case) -> None:
    compiled = part({"of": "direction asked", **case.ask}, frame=case.frame)
    result = KIND.mark(compiled, KIND.model(compiled), {})
    assert (result.mark, result.referral) == (1.0, None)


@pytest.mark.parametrize("vector", [[1, 1, 0], [-3, 1, 0], [1, -2, 0], [1, 1, 1], [0, 1, -1], [2, 0, 1]])
@pytest.mark.parametrize("frame", ["page", "compass"])
def test_a_slanting_answer_is_named_so_that_it_reads_back(vector: list[int], frame: str) -> None:
    compiled = part({"of": "resultant force", "rule": "force in a gravitational field", "field": vector}, frame=frame)
    result = KIND.mark(compiled, KIND.model(compiled), {})
    assert (result.mark, result.referral) == (1.0, None), KIND.model(compiled)


def test_names_of_turns_tell_the_side_they_are_seen_from() -> None:
    above = Direction(sort="turn", vector=(0.0, 1.0, 0.0), viewed=(0.0, 1.0, 0.0))
    assert named(above, "page") == "anticlockwise seen from above"
    assert named(Direction(sort="turn", vector=(0.0, 0.0, -1.0)), "page") == "clockwise"


REFUSED = (
    ({"rule": "force on a charge", "charge": "positive", "velocity": "up"}, "field"),
    ({"rule": "force on a charge", "charge": "positive", "velocity": "perpendicular", "field": "left"}, "velocity"),
    ({"rule": "force on a current", "current": "left or right", "field": "up"}, "current"),
    ({"rule": "given"}, "answer"),
    ({"rule": "given", "answer": "towards the thing"}, "answer"),
    ({"rule": "force on a current", "current": "left", "field": "into the page", "answer": "up"}, "answer"),
    ({"rule": "force in an electric field", "field": "up"}, "charge"),
)


@pytest.mark.parametrize(("ask", "key"), REFUSED)
def test_a_scheme_that_cannot_be_meant_is_refused_with_its_key(ask: dict[str, Any], key: str) -> None:
    with pytest.raises(SchemeError) as refused:
        part({"of": "force on the wire", **ask})
    problem = refused.value.problems[0]
    assert problem.where == f"part 1, ask 1, {key}"
    assert problem.mend


def test_a_typed_answer_that_agrees_is_accepted() -> None:
    wire = {"of": "force on the wire", "rule": "force on a current", "current": "left", "field": "into the page", "answer": "down the page"}
    assert part(wire) is not None


def test_marks_that_cannot_be_shared_are_refused() -> None:
    ask = {"rule": "given", "answer": "left"}
    with pytest.raises(SchemeError, match="points"):
        part({"of": "force on P", **ask}, {"of": "force on Q", **ask}, marks=3)
    with pytest.raises(SchemeError, match="points"):
        part({"of": "force on P", **ask}, {"of": "force on Q", **ask}, marks=1, points="each")
