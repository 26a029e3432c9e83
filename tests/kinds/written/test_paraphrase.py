"""Ideas said in a candidate's own way: with more words, other words, in telegram style; and never taken for what cancels them.

Parts and answers are invented. Source of every mark: common practice, no source.
"""

from dataclasses import dataclass

import pytest

from marker.kinds.written.part import WrittenPart
from marker.kinds.written.second_opinion import opinion
from marker.kinds.written.witnesses import NAMES
from marker.results import Outcome
from tests.kinds.written.table import ALLOWED, compiled, findings

PARTS: dict[str, WrittenPart] = {
    "raft": compiled({
        "name": "raft", "marks": 2,
        "stem": "A bath full to the brim stands on scales. A toy duck floats on it. Explain why their reading stays.",
        "idea": [
            {
                "name": "own weight",
                "says": ["the duck displaces its own weight of water", "the displaced water weighs the same as the duck"],
                "not_enough": ["the duck displaces water", "the duck floats"],
                "contradicts": ["the displaced water weighs less than the duck"],
            },
            {
                "name": "over the brim",
                "says": ["this water leaves the bath", "water flows over the brim"],
                "not_enough": ["the reading stays the same"],
                "contradicts": ["the water stays in the bath"],
            },
        ],
    }),
    "comet": compiled({
        "name": "comet", "marks": 1,
        "stem": "A satellite goes round a planet at constant speed. Explain why it is accelerating.",
        "idea": [
            {
                "name": "velocity",
                "says": ["its velocity changes although its speed is constant", "its direction of motion changes"],
                "not_enough": ["it goes round in a circle"],
                "contradicts": ["its velocity is constant"],
            },
        ],
    }),
    "sky": compiled({
        "name": "sky", "marks": 1,
        "stem": "Light of the blue sky is seen through a polarising filter, which is turned. Explain why the sky darkens at one setting.",
        "idea": [
            {
                "name": "polarised",
                "says": ["the light of the sky is polarised", "the light of the sky vibrates in one plane"],
                "not_enough": ["the filter is polarising"],
                "contradicts": ["the light becomes polarised when the filter is turned", "the light of the sky is unpolarised"],
            },
        ],
    }),
    "dynamo": compiled({
        "name": "dynamo", "marks": 1,
        "stem": "The wheel of a bicycle turns a magnet in a coil. Explain why the lamp is brighter at higher speed.",
        "idea": [
            {
                "name": "rate",
                "says": ["the flux through the coil changes more quickly", "the rate of change of flux is greater"],
                "not_enough": ["the magnet turns faster"],
                "contradicts": ["the magnet becomes stronger"],
            },
        ],
    }),
    "tin": compiled({
        "name": "tin", "marks": 2,
        "stem": "A closed tin is warmed. Explain, with the molecules of the air in it, why the pressure rises.",
        "idea": [
            {
                "name": "faster",
                "says": ["the molecules move faster", "the molecules have more kinetic energy"],
                "contradicts": ["the molecules expand"],
            },
            {
                "name": "hits",
                "says": ["they hit the walls more often", "they hit the walls harder"],
                "not_enough": ["there are more collisions"],
                "contradicts": ["they hit the walls less often"],
            },
        ],
    }),
}  # fmt: skip


@dataclass(frozen=True)
class Row:
    part: str
    typed: str
    expect: str

    def __str__(self) -> str:
        return f"{self.part}: {self.typed}"


ROWS = (
    # staying in is not being in, and leaving is neither
    Row("raft", "the water flows out of the bath", "ne"),
    Row("raft", "the water stays in the bath", "nn"),
    Row("raft", "this much water has left the bath", "ne"),
    # "as much as", "the same … as": a comparison of two things
    Row("raft", "the water pushed aside weighs as much as the duck", "eN"),
    Row("raft", "the water displaced has the same weight as the duck", "eN"),
    Row("raft", "the duck displaces some water", "nN"),
    # velocity and speed told apart where the question speaks of both
    Row("comet", "its speed stays the same but the direction changes, so the velocity changes", "e"),
    Row("comet", "its velocity is constant", "n"),
    # becoming so is not being so
    Row("sky", "the light of the sky is polarised and when the filter is turned it gets blocked", "e"),
    Row("sky", "light from the sky is already polarised", "e"),
    Row("sky", "the light becomes polarised when the filter is turned", "n"),
    # how quickly it changes is said of the change
    Row("dynamo", "the flux in the coil changes faster", "e"),
    Row("dynamo", "the magnet spins faster", "N"),
    # counted in other words
    Row("tin", "the molecules speed up and strike the sides more times every second", "ee"),
    Row("tin", "molecules collide with the walls more times a second", "ne"),
    # small letters below the line: the kinetic energy
    Row("tin", "greater Eₖ of the molecules", "en"),
)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_said_in_other_words(row: Row) -> None:
    found = findings(PARTS[row.part], row.typed)
    assert len(found) == len(row.expect)
    assert not [f.reason for f, letter in zip(found, row.expect, strict=True) if f.outcome not in ALLOWED[letter]]


AROUND = (
    "{}", "I think that {}", "this is because {}", "first of all {}, then the rest follows", "{} and so this happens",
    "in other words: {}", "{} and when someone looks at it it gets different", "{} (by the law)",
)  # fmt: skip


@pytest.mark.parametrize("around", AROUND)
@pytest.mark.parametrize("part", PARTS.values(), ids=lambda p: p.name)
def test_no_wording_contradicts_its_own_idea(part: WrittenPart, around: str) -> None:
    for n, idea in enumerate(part.ideas):
        assert idea.wants is not None
        for sample in idea.wants.says:
            found = findings(part, around.format(sample.text))[n]
            assert found.code not in ("contradicted", "not enough") and found.outcome is not Outcome.NOT_EARNED, found.reason


def test_every_witness_has_a_weight_and_the_edges_are_in_order() -> None:
    rule = opinion()
    assert set(rule.weight) == set(NAMES)
    assert 0 < rule.not_earned < rule.surely_not < 0.5 < rule.agreed < rule.earned < 1 and rule.surely < rule.earned


def test_what_speaks_against_an_idea_has_no_positive_weight() -> None:
    rule = opinion()
    assert all(rule.weight[k] <= 0 for k in ("missing", "weak", "against", "opposite", "contrary", "like_weak", "like_other"))
    assert all(rule.weight[k] >= 0 for k in ("share", "ways", "words", "together", "complete", "likeness", "said"))
