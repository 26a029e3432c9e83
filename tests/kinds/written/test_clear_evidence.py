"""A mark is settled only on clear evidence: what comes near an idea goes to a person, and the fuller wording wins.

Parts and answers are invented. Source of every mark: common practice, no source.
"""

from dataclasses import dataclass

import pytest

from marker.kinds.written.part import WrittenPart
from marker.results import Outcome
from tests.kinds.written.table import ALLOWED, compiled, findings

PARTS: dict[str, WrittenPart] = {
    "brake": compiled({
        "name": "brake", "marks": 2,
        "stem": "A copper disc turns between the poles of a magnet and comes to rest. Explain why a current flows in it and why it stops.",
        "idea": [
            {
                "name": "induced",
                "says": ["the disc cuts the field lines of the magnet", "the magnetic field through the disc changes"],
                "not_enough": ["because of the magnet", "electromagnetic induction", "the disc turns near the magnet"],
                "contradicts": ["the field through the disc is constant"],
            },
            {
                "name": "taken",
                "says": ["the current opposes the motion of the disc", "kinetic energy of the disc is turned into heat"],
                "not_enough": ["it slows down", "energy is lost"],
                "contradicts": ["the disc gains energy"],
            },
        ],
    }),
    "load": compiled({
        "name": "load", "marks": 2,
        "stem": "Sand is put on a raft that floats at rest on a lake. It then floats at rest lower in the water. Explain why.",
        "idea": [
            {
                "name": "weight",
                "says": ["the weight of the raft is greater", "the raft is heavier"],
                "not_enough": ["the mass is greater", "there is sand on it"],
                "contradicts": ["the weight is less"],
            },
            {
                "name": "balance",
                "says": ["the upthrust must equal the weight", "the forces are balanced"],
                "contradicts": ["the weight is greater than the upthrust when it floats at rest"],
            },
        ],
    }),
    "drum": compiled({
        "name": "drum", "marks": 2,
        "stem": "A closed oil drum cools at night. Explain, in terms of the molecules of the gas in it, why the pressure falls.",
        "idea": [
            {
                "name": "slower",
                "says": ["the molecules move slower", "the mean kinetic energy of the molecules is smaller"],
                "not_enough": ["the molecules lose energy"],
                "contradicts": ["the molecules move faster"],
            },
            {
                "name": "hits",
                "says": ["they hit the walls less often", "they hit the walls less hard"],
                "not_enough": ["there are fewer collisions"],
                "contradicts": ["the molecules get smaller"],
            },
        ],
    }),
    "slower": compiled({
        "name": "slower", "marks": 1,
        "stem": "State one change to the circuit that makes the charging of a capacitor through a resistor take longer.",
        "idea": [
            {
                "name": "change",
                "says": ["use a larger resistance", "use a larger capacitance"],
                "not_enough": ["change the resistor"],
                "contradicts": ["use a smaller resistance"],
            },
        ],
    }),
    "lamp": compiled({
        "name": "lamp", "marks": 1,
        "stem": "A switch beside the lamp in a circuit is opened. State what happens to the lamp.",
        "idea": [{"name": "off", "says": ["the lamp goes out", "the lamp is off"], "contradicts": ["the lamp stays on"]}],
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
    # more is said than what the scheme lists as not enough
    Row("brake", "the disc cuts the field lines of the magnet as it turns", "eN"),
    Row("brake", "electromagnetic induction, and the disc loses its energy to heat, kinetic to thermal", "NE"),
    Row("brake", "the field going through the disc is changing as it turns near the magnet", "EN"),
    # only what is listed as not enough
    Row("brake", "electromagnetic induction", "nn"),
    Row("brake", "it slows down because energy is lost", "nn"),
    # the same change in another word of the scheme's own; the weaker word alone
    Row("load", "the sand makes it heavier", "en"),
    Row("load", "the mass is greater", "nn"),
    # for a moment the contrary: a person looks
    Row("load", "the weight is bigger than the upthrust so it goes down until the upthrust equals the weight", "EE"),
    Row("load", "the weight of the raft is larger, so it goes down", "eN"),
    # units in brackets and "mean" as an average
    Row("drum", "the mean kinetic energy (in J) of the molecules is smaller so they hit the walls less often", "ee"),
    Row("drum", "the molecules have a smaller mean kinetic energy", "en"),
    Row("drum", "molecules get smaller", "nn"),
    # a change said more closely than "change"; a part named for its quantity
    Row("slower", "use a bigger resistor", "e"),
    Row("slower", "use a different resistor", "n"),
    Row("slower", "a resistor with more ohms", "e"),
    # on and off
    Row("lamp", "it is off", "e"),
    Row("lamp", "the lamp stays on", "n"),
    Row("lamp", "the lamp is dark", "e"),
)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_settled_only_on_clear_evidence(row: Row) -> None:
    found = findings(PARTS[row.part], row.typed)
    assert len(found) == len(row.expect)
    assert not [f.reason for f, letter in zip(found, row.expect, strict=True) if f.outcome not in ALLOWED[letter]]


LEFT_OVER = (
    # words that the scheme does not account for: a person looks; little or nothing besides: not earned
    Row("drum", "the particles have lost some of their vigour and strike with a softer blow", "NN"),
    Row("drum", "the gas leaks out", "nn"),
    Row("load", "the pull of the earth on it is stronger now that more stuff lies on the deck", "EN"),
    Row("load", "it gets wet", "nn"),
)


@pytest.mark.parametrize("row", LEFT_OVER, ids=str)
def test_what_is_left_over_goes_to_a_person(row: Row) -> None:
    found = findings(PARTS[row.part], row.typed)
    asked = [f.outcome is Outcome.REFERRED for f in found]
    assert all(asked) if row.expect.isupper() else not any(asked)
    assert all("“" in f.reason for f in found if f.outcome is Outcome.REFERRED)


def test_a_fuller_wording_is_not_undone_by_what_is_not_enough() -> None:
    for part in PARTS.values():
        for n, idea in enumerate(part.ideas):
            assert idea.wants is not None
            for sample in idea.wants.says:
                alone = findings(part, sample.text)[n]
                assert alone.earned and alone.outcome is Outcome.EARNED, sample.text
                for weak in idea.wants.not_enough:
                    assert findings(part, f"{sample.text}. {weak.text}")[n].earned, (sample.text, weak.text)
