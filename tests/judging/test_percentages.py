"""A ratio worked out as a percentage. By hand: 48 W of 75 W is 0.64 or 64 %; common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest

from marker import build_paper
from marker.marking import mark_response

RATIO: dict[str, Any] = {"given": {"P": "48 W", "Q": "75 W"}, "find": "η", "using": ["η = P/Q"], "names": {"η": ["efficiency"]}}
SPEED: dict[str, Any] = {"given": {"d": "3.4 m", "t": "0.010 s"}, "find": "v", "unit": "m/s", "using": ["v = d/t"]}

ROWS = (
    (RATIO, "η = P/Q x 100 = 64", 3),
    (RATIO, "η = P/Q × 100 % = 64 %", 3),
    (RATIO, "η = 48/75 x 100 = 64%", 3),
    (RATIO, "efficiency = 48/75*100 = 64", 3),
    (RATIO, "η = 100 x 48/75 = 64%", 3),
    (RATIO, "η = P/Q = 0.64", 3),
    (RATIO, "64 %", 3),
    (RATIO, "η = Q/P x 100 = 156%", 0),
    (RATIO, "η = P/Q x 100 = 46%", 1),
    (SPEED, "v = d/t x 100 = 34000 m/s", 0),
)


@pytest.mark.parametrize(("keys", "typed", "mark"), ROWS, ids=[t for _, t, _ in ROWS])
@pytest.mark.parametrize("unit", ["", "%"])
def test_marks(keys: dict[str, Any], typed: str, mark: float, unit: str) -> None:
    own = {"unit": unit} if unit and "unit" not in keys else {}
    part = build_paper({"paper": {"title": "x"}, "part": [{"name": "1", "marks": 3, **keys, **own}]}).parts[0]
    result = mark_response(part, [typed])
    assert result.mark == mark, [a.reason for a in result.awards]
