"""Letters that stand beside each other, sides that come to nought in the data, conversion factors, one value in two forms.

Physics: resultant force and weight (a person on scales in a lift) and v² = u² + 2as to rest are common textbook practice, no source.
"""

import pytest

from marker.marking import mark_candidate
from marker.scheme.paper import build_paper

LIFT = {
    "name": "1",
    "marks": 3,
    "stem": "A crate rests on a spring balance in a rising lift.",
    "given": {"m": "42.0 kg", "a": "0.80 m/s^2"},
    "using": ["F_s = m*a + m*g"],
    "find": "F_s",
    "unit": "N",
}
BRAKES = {
    "name": "1",
    "marks": 3,
    "stem": "A tram brakes to rest.",
    "given": {"v": "0", "u": "14.0 m/s", "a": "-1.75 m/s^2", "x_0": "0"},
    "using": ["v^2 = u^2 + 2*a*(x - x_0)"],
    "find": "x",
    "unit": "m",
}
DROP = {
    "name": "1",
    "marks": 3,
    "stem": "The excess pressure in a drop.",
    "given": {"γ": "0.051 N/m", "r": "2.0e-4 m"},
    "using": ["P = 2*γ/r"],
    "find": "P",
    "unit": "mm Hg",
}
PUMP = {
    "name": "1",
    "marks": 3,
    "stem": "A pump does 5.6 kJ for 16 kJ.",
    "given": {"W": "5.6 kJ", "Q": "16 kJ"},
    "using": ["η = W/Q"],
    "find": "η",
}
REEL = {
    "name": "1",
    "marks": 3,
    "stem": "A reel slows down and stops.",
    "given": {"ω": "0 rad/s", "ω_0": "190 rad/s", "α": "-250 rad/s^2"},
    "using": ["ω = ω_0 + α*t"],
    "signed": ["α"],
    "find": "t",
    "unit": "s",
}
ROWS = (
    ("a conversion factor", DROP, ("P = 2γ/r = 2 × 0.051/2.0e-4 = 510 N/m^2", "P = (510 N/m^2)((1 mm Hg)/(133 N/m^2)) = 3.8 mm Hg"), 2),
    ("one value in two forms", PUMP, ("η = 5.6/16", "= 0.35, or 35 %"), 2),
    ("a force beside the one sought", LIFT, ("F_net = ma", "F_net = F_s - w", "w = mg", "F_s = ma + mg", "F_s = 445.6 N"), 5),
    ("a usual name of the one sought", LIFT, ("F = ma + mg", "F = 42.0 × 0.80 + 42.0 × 9.81 = 446 N"), 2),
    ("a datum of nought on one side", BRAKES, ("v^2 = u^2 + 2a(x - x_0)", "0 = 14.0^2 - 2 × 1.75x", "x = 56 m"), 3),
    ("a side that comes to nought", REEL, ("ω = ω_0 + αt", "t = (ω - ω_0)/α = (0 - 190)/(-250) = 0.76 s"), 2),
)


@pytest.mark.parametrize(("name", "part", "lines", "count"), ROWS, ids=[r[0] for r in ROWS])
def test_no_line_is_called_wrong(name: str, part: dict[str, object], lines: tuple[str, ...], count: int) -> None:
    result = mark_candidate(build_paper({"paper": {"title": "a trial"}, "part": [part]}), {"1": lines})[0]
    assert len(result.lines) == count
    assert [line.text for line in result.lines if line.verdict == "wrong"] == []
    assert result.mark == 3
    assert not result.faults


def test_a_wrong_relationship_with_the_same_letters_is_seen() -> None:
    paper = build_paper({"paper": {"title": "a trial"}, "part": [BRAKES]})
    result = mark_candidate(paper, {"1": ("v^2 = u^2 + a(x - x_0)", "x = 112 m")})[0]
    assert result.lines[0].verdict == "wrong"
    assert result.mark < 3
