"""Own values carried on: two parts back, with a unit of their own, out by a power of ten, used wrongly. Invented parts.

Source: GMP 17 (N5-2019, AH2022) for carrying at all; each further shape is common practice, no source.
"""

from __future__ import annotations

import pytest

from marker import build_paper
from marker.marking import mark_candidate

PAPER = build_paper(
    {
        "paper": {"title": "A winch in three parts"},
        "part": [
            {
                "name": "1",
                "marks": 3,
                "given": {"m": "40 kg", "g": "9.8 N/kg"},
                "find": "W",
                "unit": "N",
                "using": ["W = m*g"],
            },
            {
                "name": "2",
                "marks": 3,
                "given": {"h": "6.0 m"},
                "carry": {"W": "1"},
                "find": "E",
                "unit": "J",
                "using": ["E = W*h"],
            },
            {
                "name": "3",
                "marks": 3,
                "given": {"t": "8.0 s"},
                "carry": {"E": "2"},
                "find": "P",
                "unit": "W",
                "using": ["P = E/t"],
            },
        ],
    }
)

# what is typed in parts 1, 2 and 3; marks of each
TABLE = (
    ("W = mg = 40*9.8 = 392 N", "E = Wh = 392*6.0 = 2352 J", "P = E/t = 2352/8.0 = 294 W", (3, 3, 3)),
    ("W = mg = 40*9.8 = 382 N", "E = Wh = 382*6.0 = 2292 J", "P = E/t = 2292/8.0 = 286.5 W", (2, 3, 3)),
    ("W = 40 N", "E = Wh = 40*6.0 = 240 J", "P = E/t = 240/8.0 = 30 W", (0, 3, 3)),
    ("W = mg = 40*9.8 = 0.392 kN", "E = Wh = 392*6.0 = 2.35 kJ", "P = 2.35e3/8.0 = 294 W", (3, 3, 3)),
    ("W = mg = 40*9.8 = 3920 N", "E = Wh = 3920*6.0 = 23.5 kJ", "P = 23500/8.0 = 2940 W", (2, 3, 3)),
    ("W = mg = 40*9.8 = 382 N", "E = W/h = 382/6.0 = 63.7 J", "P = E/t = 63.7/8.0 = 8.0 W", (2, 0, 3)),
    ("W = mg = 40*9.8 = 382 N", "E = Wh = 382*6.0 = 2192 J", "P = E/t = 2192/8.0 = 274 W", (2, 2, 3)),
    ("", "", "P = E/t = 2352/8.0 = 294 W", (0, 0, 3)),
)


@pytest.mark.parametrize(("first", "second", "third", "marks"), TABLE)
def test_marks(first: str, second: str, third: str, marks: tuple[float, float, float]) -> None:
    typed = {name: tuple(text.split("; ")) if text else () for name, text in (("1", first), ("2", second), ("3", third))}
    assert tuple(r.mark for r in mark_candidate(PAPER, typed)) == marks
