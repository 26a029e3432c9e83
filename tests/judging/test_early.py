"""A wrong value told from one that comes of rounding on the way. Worked out by hand; common practice, no source."""

from __future__ import annotations

import pytest

from tests.awarding.parts import mark, one_part

WEIGHT = {"given": {"m": "40 kg", "g": "9.8 N/kg"}, "find": "W", "unit": "N", "using": ["W = m*g"]}
DRAG = {"given": {"F": "17 N", "A": "0.31 m^2", "L": "5.3 m"}, "find": "E", "unit": "J", "using": ["E = F*L/A"]}
RING = {"given": {"m": "0.30 kg", "v": "2.7 m/s", "r": "0.14 m"}, "find": "F", "unit": "N", "using": ["F = m*v^2/r"]}

ROWS = (
    # one product of two data: nothing between to round
    (WEIGHT, "W = mg = 40*9.8 = 382 N", "an arithmetic slip"),
    (WEIGHT, "W = mg = 40*9.8 = 400 N", "an arithmetic slip"),
    # 290.6 J; 17 × 5.3 = 90.1 and 17/0.31 = 54.8 cut to any figures do not give 281
    (DRAG, "E = FL/A = 17*5.3/0.31 = 281 J", "an arithmetic slip"),
    # 15.6 N; 2.7² = 7.29 taken as 7 gives 15.0
    (RING, "F = mv²/r = 0.30*2.7²/0.14 = 15.0 N", "rounded too early"),
    (RING, "F = mv²/r = 0.30*2.7²/0.14 = 14.9 N", "an arithmetic slip"),
)


@pytest.mark.parametrize(("part", "typed", "said"), ROWS, ids=[r[1] for r in ROWS])
def test_reason(part: dict[str, object], typed: str, said: str) -> None:
    assert said in mark(one_part(**part), typed).awards[-1].reason
