"""Agreement with the examiner of the cable-car class test on its uncertainty part and its gradient part.

The papers and marks are a development set outside the product (its README names who wrote it); the test skips where they are absent.
"""

from __future__ import annotations

import csv
import tomllib
from pathlib import Path

import pytest

from marker.kinds import KINDS
from marker.scheme.convention import Convention

FOLDER = Path(__file__).resolve().parents[3] / "shared" / "classtest"
pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason="the cable-car class test is not beside this checkout")

SCHEME = """
[[part]]
name = "k9"
kind = "uncertainty"
marks = 4
find = "v"
using = "v = s/t"
unit = "m/s"
names = ["speed"]
combined_within = ["3.0 %", "3.2 %"]
within = ["0.13 m/s", "0.145 m/s"]
quantities = { s = "(46.0 ± 0.5) m", t = "(10.4 ± 0.3) s" }

[[part]]
name = "k10"
kind = "gradient"
marks = 4
gradient_within = ["0.36 mm/N", "0.38 mm/N"]
then = { find = "k", from = "k = 1/gradient", unit = "N/m", names = ["spring constant"], within = ["2630 N/m", "2780 N/m"] }
table.x = { name = "force", symbol = "F", unit = "N", values = [20, 40, 60, 80, 100] }
table.y = { name = "compression", symbol = "x", unit = "mm", values = [7.4, 14.9, 22.1, 29.8, 37.0] }
"""


def _rows(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("number", [0, 1], ids=["uncertainty", "gradient"])
def test_points_agree_with_the_examiner(number: int) -> None:
    """All 18 candidates point by point; a mark the examiner also accepts counts, a referral does not."""
    keys = tomllib.loads(SCHEME)["part"][number]
    kind = KINDS[keys["kind"]]
    compiled = kind.compile(kind.spec(**keys), Convention())
    typed = {row["candidate"]: row[keys["name"]] for row in _rows("responses.csv")}
    marked = [row for row in _rows("marks.csv") if row["part"] == keys["name"]]
    differ = []
    for row in marked:
        result = kind.mark(compiled, typed[row["candidate"]].split("\n"), {})
        points = ";".join(str(int(a.mark)) for a in result.awards)
        if result.referred or (points != row["points"] and str(int(result.mark)) != row["accept"]):
            differ.append(f"{row['candidate']}: {points} for {row['points']} ({row['reason']})")
    assert len(marked) == 18
    assert not differ, "\n".join(differ)
