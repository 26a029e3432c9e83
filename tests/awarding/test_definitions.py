"""A relationship shown only by numbers that rest on a wrongly written definition is not shown. Numbers of our own; common practice, no
source: a wrong relationship earns nothing for itself, though what follows is followed."""

from __future__ import annotations

import pytest

from marker import build_paper
from marker.marking import mark_response

PUMP = {
    "name": "1",
    "marks": 4,
    "stem": "A pump lifts 240 kg of water through 6.5 m in 30 s and takes 0.80 kW. Find its efficiency.",
    "given": {"m": "240 kg", "h": "6.5 m", "t": "30 s", "P_in": "0.80 kW", "g": "9.81 N/kg"},
    "find": "η",
    "using": ["P_out = m*g*h/t", "η = P_out/P_in"],
    "also": ["W = m*g*h"],
    "names": {"W": ["work done"], "P_out": ["power out"], "P_in": ["power in"], "η": ["efficiency"]},
    "points": [
        {"kind": "relationship", "of": "P_out = m*g*h/t"},
        {"kind": "relationship", "of": "η = P_out/P_in"},
        {"kind": "substitution"},
        {"kind": "answer"},
    ],
}
ROWS = (
    ("W = mgh = 240 x 9.81 x 6.5 = 15304 J; power out = 15304/30 = 510 W; efficiency = 510/800 = 0.64", "1111"),
    ("W = mh = 240 x 6.5 = 1560; power out = 1560/30 = 52 W; efficiency = power out/power in = 52/800 = 0.065", "0100"),
    ("P = mgh/t; W = mh = 240 x 6.5 = 1560; power out = 1560/30 = 52 W; efficiency = power out/power in = 52/800 = 0.065", "1100"),
)


@pytest.mark.parametrize(("typed", "points"), ROWS, ids=[t for t, _ in ROWS])
def test_points(typed: str, points: str) -> None:
    part = build_paper({"paper": {"title": "pump"}, "part": [PUMP]}).parts[0]
    result = mark_response(part, typed.split("; "))
    assert "".join(f"{a.mark:g}" for a in result.awards) == points, [a.reason for a in result.awards]
