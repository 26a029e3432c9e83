"""Issue → rule → marks, for the standard three-mark calculation: the rows of the conventions file, section 1.3, that concern calculations.

Source field: the published key, else "from memory". A row the conventions file is not certain of ([M?]) is tested as an option of a
ruling, never as the default. The resistor is that of BA7377; the other parts are invented.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import pytest

from marker import build_paper
from marker.marking import mark_candidate
from tests.awarding.parts import mark, one_part
from tests.awarding.switch_rows import SETTINGS


@dataclass(frozen=True)
class Row:
    issue: str
    typed: str
    marks: float
    source: str
    setting: str = "resistor"
    rulings: Mapping[str, Any] = field(default_factory=dict)

    def __str__(self) -> str:
        return f"{self.issue}: {self.typed}"


MORE: Mapping[str, Mapping[str, Any]] = {
    "kinetic": {"given": {"m": "4.0 kg", "v": "2.0 m/s"}, "find": "E", "unit": "J", "using": ["E = 1/2*m*v^2"]},
    # 2.51 × 3.25 = 8.1575 J: the conventions file's example has 8.16 J from data of three figures
    "push": {"given": {"F": "2.51 N", "d": "3.25 m"}, "find": "W", "unit": "J", "using": ["W = F*d"]},
    "light": {"given": {"f": "5.0e14 Hz", "c": "3.00e8 m/s"}, "find": "λ", "unit": "m", "using": ["c = f*λ"]},
    "car": {"given": {"s": "60 km", "t": "1.5 h"}, "find": "v", "unit": "m/s", "using": ["v = s/t"]},
    "third": {"given": {"V": "8.5 V", "I": "1.5 A"}, "find": "R", "unit": "Ω", "using": ["V = I*R"]},
    "block": {"given": {"F": "12 N", "A": "0.50 m^2"}, "find": "p", "unit": "Pa", "using": ["p = F/A"]},
    "dose": {"given": {"E": "3.0 J", "m": "60 kg"}, "find": "D", "unit": "Gy", "using": ["D = E/m"]},
}
ALL = {**SETTINGS, **MORE}

ROWS = (
    Row("no working, right value and unit", "5.0 Ω", 3, "AH2022 (GMP 1)"),
    Row("no working, wrong", "4.0 Ω", 0, "from memory"),
    Row("no working, right value, no unit", "5.0", 2, "from memory"),
    Row("no working, right value, wrong unit", "5.0 A", 2, "from memory"),
    Row("relationship implied by correct substitution", "7.5/1.5 = 4.0 Ω", 2, "US-N5"),
    Row("several listed, none chosen", "V = IR, P = IV, Q = It", 0, "from memory (GMP 3)"),
    Row("relationship stated, then another used", "V = IR; P = IV = 7.5*1.5 = 11.25 W", 0, "from memory (GMP 3)"),
    Row("triangle only", "triangle with V over I and R", 0, "from memory (GMP 6)"),
    Row("right substitution, wrong arithmetic", "R = V/I = 7.5/1.5 = 6.0 Ω", 2, "from memory; same ruling US-N5"),
    Row("wrong substitution", "R = V/I = 7.5/2.5 = 3.0 Ω", 1, "AH2018"),
    Row("wrong relationship", "R = VI = 7.5 x 1.5 = 11.25 Ω", 0, "from memory"),
    Row("wrong physics, right number", "R = I/V = 7.5/1.5 = 5.0 Ω", 0, "from memory; annotation H2013"),
    Row("wrong physics after a right statement, right number", "R = V/I; R = 1.5/7.5 = 5.0 Ω", 1, "AH2018"),
    Row("symbols rearranged wrongly", "V = IR; R = VI = 7.5 x 1.5 = 11.25 Ω", 1, "from memory"),
    Row("numbers rearranged wrongly", "V = IR; 7.5 = 1.5 x R; R = 7.5 x 1.5 = 11.25 Ω", 2, "from memory"),
    Row("square written, then ignored", "E = ½mv² = ½ x 4.0 x 2.0² = 4.0 J", 2, "from memory", "kinetic"),
    Row("square absent from the substitution", "E = ½mv² = ½ x 4.0 x 2.0 = 4.0 J", 1, "from memory", "kinetic"),
    Row("unit missing", "R = V/I = 7.5/1.5 = 5.0", 2, "from memory"),
    Row("unit wrong", "R = V/I = 7.5/1.5 = 5.0 W", 2, "from memory"),
    Row("case of a unit symbol", "f = 1/T = 1/0.25 = 4.0 hZ", 3, "from memory", "pulse"),
    Row("case of a unit symbol", "D = E/m = 3.0/60 = 0.05 gy", 3, "from memory", "dose"),
    Row("equivalent unit", "P = E/t = 600/4.0 = 150 J/s", 3, "not certain: option", "kettle", {"equivalent_units": True}),
    Row("equivalent unit", "p = F/A = 12/0.50 = 24 N m⁻²", 3, "not certain: option", "block", {"equivalent_units": True}),
    Row("equivalent unit", "v = s/t = 60/1.5 = 40 km/h", 3, "not certain: option", "car", {"equivalent_units": True}),
    Row("equivalent unit refused", "p = F/A = 12/0.50 = 24 N m⁻²", 2, "not certain: option", "block", {"equivalent_units": False}),
    Row("conversion missed", "R = V/I = 27.6/64 = 0.43 Ω", 2, "not certain: option", "heater", {"conversion_fault": "answer mark"}),
    Row("conversion missed", "R = V/I = 27.6/64 = 0.43 Ω", 1, "not certain: option", "heater", {"conversion_fault": "substitution"}),
    Row("figures: one fewer", "W = Fd = 2.51 x 3.25 = 8.2 J", 3, "LITH", "push"),
    Row("figures: as many", "W = Fd = 2.51 x 3.25 = 8.16 J", 3, "LITH", "push"),
    Row("figures: one more", "W = Fd = 2.51 x 3.25 = 8.158 J", 3, "LITH", "push"),
    Row("figures: two more", "W = Fd = 2.51 x 3.25 = 8.1575 J", 3, "LITH", "push"),
    Row("figures: two fewer", "W = Fd = 2.51 x 3.25 = 8 J", 2, "LITH", "push"),
    Row("figures: three more", "W = Fd = 2.51 x 3.25 = 8.15750 J", 2, "LITH", "push"),
    Row("recurring decimal as the final form", "R = V/I = 8.5/1.5 = 5.66... Ω", 2, "from memory; LITH", "third"),
    Row("dots in a working line only", "R = V/I = 8.5/1.5 = 5.666...; R = 5.7 Ω", 3, "US-N5", "third"),
    Row("rounding wrong", "R = V/I = 8.5/1.5 = 5.6 Ω", 2, "from memory", "third"),
    Row("rounding on the way", "I = E/R = 2.00/3.00 = 0.67; P = I²r = 0.67² x 50 = 22.4 W", 3, "not certain: option", "two loops"),
    Row(
        "rounding on the way tolerated",
        "I = E/R = 2.00/3.00 = 0.67; P = I²r = 0.67² x 50 = 22.4 W",
        4,
        "not certain: option",
        "two loops",
        {"rounding_tolerance": 0.02},
    ),
    Row("fraction as final answer", "R = V/I = 8.5/1.5 = 17/3 Ω", 2, "from memory; OCR15", "third"),
    Row("wrong value from the data sheet", "λ = c/f = 3.4 x 10^2/5.0 x 10^14 = 6.8 x 10^-13 m", 1, "from memory", "light"),
    Row("value of g", "W = mg = 4.00 x 10 = 40.0 N", 2, "not certain: option", "load", {"other_g": "answer mark"}),
    Row("value of g", "W = mg = 4.00 x 10 = 40.0 N", 3, "not certain: option", "load", {"other_g": "accepted"}),
    Row("symbol not the usual one, clear by its use", "Z = V/I = 7.5/1.5 = 5.0 Ω", 3, "from memory (GMP 22)"),
    Row("show that: a bare result", "R = 5.0 Ω", 0, "AH2022 (principle); split from memory", "show"),
    Row("show that: all steps", "V = IR; 7.5 = 1.5R; R = 5.0 Ω", 2, "AH2022 (principle); split from memory", "show"),
    Row("show that: the final line left out", "V = IR; 7.5 = 1.5R", 1, "AH2022 (principle); split from memory", "show"),
    Row("surplus working that does not contradict", "R = V/I = 7.5/1.5 = 5.0 Ω; P = IV = 11.25 W", 3, "US-N5"),
    Row("right answer, then contradicted", "R = V/I = 7.5/1.5 = 5.0 Ω; so R = 0.2 Ω", 2, "from memory"),
    Row("two answers", "R = V/I = 7.5/1.5 = 5.0 Ω or 0.2 Ω", 2, "from memory"),
    Row("crossed out and not replaced", "~~R = V/I = 7.5/1.5 = 5.0 Ω~~", 3, "from memory"),
    Row("crossed out and replaced", "~~R = V/I = 7.5/1.5 = 5.0 Ω~~; R = VI = 11.25 Ω", 0, "from memory"),
    Row("carried on within the part, arithmetic slip", "E = mgh = 2.0*9.8*5.0 = 89 J; P = E/t = 89/0.40 = 223 W", 5, "US-N5", "lift"),
    Row(
        "carried on within the part, wrong physics",
        "E = mgh² = 2.0*9.8*5.0² = 490 J; P = E/t = 490/0.40 = 1225 W",
        3,
        "not certain: option",
        "lift",
        {"follow_wrong_physics": True},
    ),
)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_issue(row: Row) -> None:
    result = mark(one_part(rulings=dict(row.rulings), **ALL[row.setting]), row.typed)
    assert result.mark == row.marks, [f"{a.point}: {a.reason}" for a in result.awards]


PAPERS = (
    Row("carried across parts", "Q = It = 2.5*8.0 = 22 C / E = QV = 22*6.0 = 132 J", 5, "N5-2019, AH2022 (GMP 17)", "charge"),
    Row("carried across parts, wrong physics before", "Q = I/t = 2.5/8.0 = 0.31 C / E = QV = 0.31*6.0 = 1.9 J", 3, "AH2022", "charge"),
    Row("the right value used all the same", "Q = It = 2.5*8.0 = 22 C / E = QV = 20*6.0 = 120 J", 5, "common practice", "charge"),
    Row("nothing before, a value assumed", "- / assume Q = 50 C; E = QV = 50*6.0 = 300 J", 3, "common practice, no source", "charge"),
    Row("nothing before, a value from nowhere", "- / E = QV; 50*6.0 = 300 J", 1, "common practice, no source", "charge"),
    Row(
        "same unit fault in a later part",
        "R = 7.5/1.5 = 5.0 / R = 9.0/1.5 = 6.0 / R = 3.0/1.5 = 2.0",
        7,
        "not certain: option",
        "cells",
        {"unit_fault_scope": "question"},
    ),
    Row(
        "the value to be shown used",
        "v = sqrt(2gh) = sqrt(2*9.8*1.25) = 3.5 m/s / p = mv = 2.0*5.0 = 10 kg m/s",
        4,
        "common practice, no source",
        "drop",
    ),
    Row(
        "own value in its place",
        "v = sqrt(2gh) = sqrt(2*9.8*1.25) = 3.5 m/s / p = mv = 2.0*3.5 = 7.0 kg m/s",
        3,
        "common practice, no source",
        "drop",
        {"follow_shown": False},
    ),
)


@pytest.mark.parametrize("row", PAPERS, ids=str)
def test_issue_over_a_paper(row: Row) -> None:
    paper = build_paper({"paper": {"title": "two parts", "rulings": dict(row.rulings)}, "part": ALL[row.setting]["parts"]})
    typed = dict(zip([p.name for p in paper.parts], row.typed.split(" / "), strict=True))
    results = mark_candidate(paper, {name: text.split("; ") for name, text in typed.items()})
    assert sum(r.mark for r in results) == row.marks, [a.reason for r in results for a in r.awards]
