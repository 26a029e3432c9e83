"""Follow-through in every shape: each phrase with responses, marks of the parts or of the points worked out by hand.

Source: GMP 17 (N5-2019, AH2022) for carrying between parts, OCR19 and IB03 within one, AP06, AP12 and CSM for its limits; each further
shape is common practice, no source. Invented parts.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import pytest

from marker import build_paper
from marker.marking import mark_candidate

WINCH = [
    {"name": "1", "marks": 3, "given": {"m": "40 kg", "g": "9.8 N/kg"}, "find": "W", "unit": "N", "using": ["W = m*g"]},
    {"name": "2", "marks": 3, "given": {"h": "6.0 m"}, "carry": {"W": "1"}, "find": "E", "unit": "J", "using": ["E = W*h"]},
    {"name": "3", "marks": 3, "given": {"t": "8.0 s"}, "carry": {"E": "2"}, "find": "P", "unit": "W", "using": ["P = E/t"]},
]
PUMP = [
    {
        "name": "1",
        "marks": 5,
        "given": {"I": "2.5 A", "V": "12 V", "t": "40 s"},
        "using": ["P = I*V"],
        "points": [],
        "step": [
            {"find": "P", "marks": 2, "unit": "W", "points": [{"kind": "substitution"}, {"kind": "answer"}]},
            {"find": "E", "marks": 3, "unit": "J", "using": ["E = P*t"]},
        ],
    }
]
DROP = [
    {"name": "1", "marks": 2, "given": {"h": "1.25 m", "g": "9.8 N/kg"}, "find": "v", "show": "5.0 m/s", "using": ["v^2 = 2*g*h"]},
    {"name": "2", "marks": 3, "given": {"m": "2.0 kg"}, "carry": {"v": "1"}, "find": "p", "unit": "kg m/s", "using": ["p = m*v"]},
]
PROBE = [
    {
        "name": "1",
        "marks": 3,
        "given": {"s": "6.0e8 m", "t": "4.0 s"},
        "find": "v",
        "unit": "m/s",
        "using": ["v = s/t"],
        "sensible": ["0 m/s", "3.0e8 m/s"],
    },
    {"name": "2", "marks": 3, "given": {"T": "10 s"}, "carry": {"v": "1"}, "find": "d", "unit": "m", "using": ["d = v*T"]},
]
SLED = [
    {"name": "1", "marks": 3, "given": {"a": "3.0 m/s^2", "t": "0.50 s"}, "find": "v", "unit": "m/s", "using": ["v = a*t"]},
    {"name": "2", "marks": 3, "given": {"F": "40 N"}, "carry": {"v": "1"}, "find": "P", "unit": "W", "using": ["P = F*v"]},
]
PAPERS: Mapping[str, list[dict[str, Any]]] = {
    "winch": WINCH,
    "pump": [{k: v for k, v in PUMP[0].items() if k != "points"}],
    "drop": DROP,
    "probe": PROBE,
    "sled": SLED,
}


@dataclass(frozen=True)
class Row:
    """`typed` has its parts parted by " / ", their lines by "; "; `marks` are those of the parts in order."""

    phrase: str
    paper: str
    typed: str
    marks: tuple[float, ...]
    rulings: Mapping[str, Any] = field(default_factory=dict)
    referred: bool = False

    def __str__(self) -> str:
        return f"{self.phrase}: {self.typed}"


CHAIN, LINES, PARTS, FAR = "within a line chain", "between lines", "between parts", "two parts back"
BLANK, UNIT, POWER = "the part between left blank", "an own value with an own unit", "an own value out by a power of ten"
MISUSED, GIVEN, ASSUMED = "a wrong own value used wrongly", "the given value used instead", "a missing answer and an assumed value"
BARE, ABSURD, EASIER = "no working shown", "unless absurd", "unless easier"
ABSURD_RULING, EASIER_RULING = {"follow_unless_absurd": True}, {"follow_unless_easier": True}
W1, E2 = "W = mg = 40 × 9.8 = 392 N", "E = Wh = 392 × 6.0 = 2352 J"
W1_SLIP = "W = mg = 40 × 9.8 = 372 N"

ROWS = (
    Row(CHAIN, "pump", "E = Pt = 2.5 × 12 × 40 = 30 × 40 = 1200 J", (4,)),
    Row(CHAIN, "pump", "P = IV = 2.5 × 12 = 36 W, E = 36 × 40 = 1440 J", (4,)),
    Row(CHAIN, "pump", "E = IVt = 2.5 × 12 × 40 = 36 × 40 = 1440 J", (3,)),
    Row(CHAIN, "pump", "P = IV = 2.5 × 12 = 36 W so E = Pt = 36 × 40 = 1400 J", (4,)),
    Row(LINES, "pump", "P = IV = 2.5 × 12 = 36 W; E = Pt = 36 × 40 = 1440 J", (4,)),
    Row(LINES, "pump", "P = IV = 2.5 × 12 = 36 W; E = Pt; = 36 × 40; = 1440 J", (4,)),
    Row(LINES, "pump", "P = IV = 2.5 × 12 = 36 W; E = Pt = 36 × 40 = 1340 J", (3,)),
    Row(LINES, "pump", "P = V/I = 12/2.5 = 4.8 W; E = Pt = 4.8 × 40 = 192 J", (1,)),
    Row(LINES, "pump", "P = V/I = 12/2.5 = 4.8 W; E = Pt = 4.8 × 40 = 192 J", (3,), {"follow_wrong_physics": True}),
    Row(PARTS, "winch", f"{W1_SLIP} / E = Wh = 372 × 6.0 = 2232 J / P = E/t = 2232/8.0 = 279 W", (2, 3, 3)),
    Row(PARTS, "winch", "W = 40 N / E = Wh = 40 × 6.0 = 240 J / P = E/t = 240/8.0 = 30 W", (0, 3, 3)),
    Row(PARTS, "winch", f"{W1_SLIP} / E = Wh = 372 × 6.0 = 2232 J / P = E/t = 2352/8.0 = 294 W", (2, 3, 3)),
    Row(PARTS, "winch", f"{W1_SLIP} / E = Wh = 372 × 6.0 = 2132 J / P = 2132/8.0 = 266.5 W", (2, 2, 3)),
    Row(PARTS, "winch", f"{W1_SLIP} / E = Wh = 372 × 6.0 = 2232 J / P = E/t = 2232/8.0 = 279 W", (2, 2, 2), {"follow_across_parts": False}),
    Row(FAR, "winch", f"{W1_SLIP} / E = Wh = 372 × 6.0 = 2232 J / P = Wh/t = 372 × 6.0/8.0 = 279 W", (2, 3, 3)),
    Row(FAR, "winch", f"{W1_SLIP} / {E2} / P = E/t = 2352/8.0 = 294 W", (2, 3, 3)),
    Row(FAR, "winch", f"{W1_SLIP} /  / P = Wh/t = 372 × 6.0/8.0 = 279 W", (2, 0, 3)),
    Row(FAR, "winch", f"{W1} / E = Wh = 392 × 6.0 = 2532 J / P = E/t = 2532/8.0 = 316.5 W", (3, 2, 3)),
    Row(BLANK, "winch", f"{W1} /  / E = Wh = 392 × 6.0 = 2352 J; P = E/t = 2352/8.0 = 294 W", (3, 0, 3)),
    Row(BLANK, "winch", f"{W1_SLIP} /  / E = Wh = 372 × 6.0 = 2232 J; P = E/t = 2232/8.0 = 279 W", (2, 0, 3)),
    Row(BLANK, "winch", f"{W1_SLIP} /  / 372 × 6.0 = 2232; 2232/8.0 = 279 W", (2, 0, 3)),
    Row(BLANK, "winch", f"{W1_SLIP} / E = Wh / P = E/t = 372 × 6.0/8.0 = 279 W", (2, 1, 3)),
    Row(BLANK, "winch", " /  / P = mgh/t = 40 × 9.8 × 6.0/8.0 = 294 W", (0, 0, 3)),
    Row(UNIT, "winch", "W = mg = 40 × 9.8 = 0.372 kN / E = Wh = 372 × 6.0 = 2.23 kJ / P = 2230/8.0 = 279 W", (2, 3, 3)),
    Row(UNIT, "winch", "W = mg = 40 × 9.8 = 0.372 kN / E = Wh = 0.372 × 6.0 = 2.23 kJ / P = 2.23/8.0 = 0.279 kW", (2, 3, 3)),
    Row(UNIT, "winch", "W = mg = 40 × 9.8 = 0.392 kN / E = Wh = 0.392 × 6.0 = 2.35 J / P = 2.35/8.0 = 0.294 W", (3, 2, 3)),
    Row(UNIT, "winch", f"{W1} / E = Wh = 392 × 6.0 = 2.45 kJ / P = E/t = 2450/8.0 = 306 W", (3, 2, 3)),
    Row(UNIT, "sled", "v = at = 3.0 × 0.50 = 120 cm/s / P = Fv = 40 × 1.2 = 48 W", (2, 3)),
    Row(POWER, "winch", "W = mg = 40 × 9.8 = 3920 N / E = Wh = 3920 × 6.0 = 23520 J / P = E/t = 23520/8.0 = 2940 W", (2, 3, 3)),
    Row(POWER, "winch", "W = mg = 40 × 9.8 = 3.92 kN / E = Wh = 3.92 × 6.0 = 23.5 kJ / P = E/t = 23.5/8.0 = 2.94 kW", (2, 3, 3)),
    Row(POWER, "winch", "W = mg = 40 × 9.8 = 3920 N /  / P = Wh/t = 3920 × 6.0/8.0 = 2940 W", (2, 0, 3)),
    Row(POWER, "winch", f"W = mg = 40 × 9.8 = 3920 N / {E2} / P = 2352/8.0 = 294 W", (2, 3, 3)),
    Row(MISUSED, "winch", f"{W1_SLIP} / E = W/h = 372/6.0 = 62 J / P = E/t = 62/8.0 = 7.75 W", (2, 0, 3)),
    Row(MISUSED, "winch", f"{W1_SLIP} / E = Wh = 372 × 6.0 = 2322 J / P = 2322/8.0 = 290 W", (2, 2, 3)),
    Row(MISUSED, "winch", f"{W1_SLIP} / E = Wh = 327 × 6.0 = 1962 J / P = 1962/8.0 = 245 W", (2, 1, 3)),
    Row(MISUSED, "winch", f"{W1_SLIP} / E = Wh = 372 × 6.0 = 2232 / P = E/t = 2232/8.0 = 279 W", (2, 2, 3)),
    Row(GIVEN, "drop", "v = √(2gh) = √(2 × 9.8 × 1.25) = 3.5 m/s / p = mv = 2.0 × 5.0 = 10 kg m/s", (1, 3)),
    Row(GIVEN, "drop", " / p = mv = 2.0 × 5.0 = 10 kg m/s", (0, 3)),
    Row(GIVEN, "drop", "v = √(2gh) = √(2 × 9.8 × 1.25) = 4.95 m/s / p = mv = 2.0 × 4.95 = 9.9 kg m/s", (2, 3)),
    Row(GIVEN, "drop", "v = √(2gh) = √(2 × 9.8 × 1.25) = 3.5 m/s / p = mv = 2.0 × 3.5 = 7.0 kg m/s", (1, 3)),
    Row(GIVEN, "drop", "v = √(2gh) = √(2 × 9.8 × 1.25) = 3.5 m/s / p = mv = 2.0 × 3.5 = 7.0 kg m/s", (1, 2), {"follow_shown": False}),
    Row(ASSUMED, "winch", " / assume W = 400 N; E = Wh = 400 × 6.0 = 2400 J / P = E/t = 2400/8.0 = 300 W", (0, 3, 3)),
    Row(ASSUMED, "winch", " / Let W = 400 N, then E = Wh = 400 × 6.0 = 2400 J / P = 2400/8.0 = 300 W", (0, 3, 3)),
    Row(ASSUMED, "winch", " / assume W = 500 N; E = Wh = 500 × 6.0 = 3000 J / P = 3000/8.0 = 375 W", (0, 2, 3), {"follow_assumed": False}),
    Row(ASSUMED, "winch", " / E = Wh = 500 × 6.0 = 3000 J / P = 3000/8.0 = 375 W", (0, 1, 3)),
    Row(BARE, "winch", f"{W1_SLIP} / 2232 J / 279 W", (2, 3, 3)),
    Row(BARE, "winch", f"{W1_SLIP} / E = 2232 J / P = 279 W", (2, 3, 3)),
    Row(BARE, "winch", f"{W1_SLIP} / E = 2132 J / P = 279 W", (2, 0, 3)),
    Row(BARE, "winch", f"{W1_SLIP} / E = 2232 / P = 279", (2, 2, 2)),
    Row(BARE, "winch", f"{W1_SLIP} / E = 2232 J / P = E/t = 279 W", (2, 0, 3), {"follow_unworked": False}),
    Row(ABSURD, "probe", "v = s/t = 6.0 × 10⁸/4.0 = 1.5 × 10⁹ m/s / d = vT = 1.5 × 10⁹ × 10 = 1.5 × 10¹⁰ m", (2, 2), ABSURD_RULING),
    Row(ABSURD, "probe", "v = s/t = 6.0 × 10⁸/4.0 = 1.5 × 10⁹ m/s / d = vT = 1.5 × 10⁹ × 10 = 1.5 × 10¹⁰ m", (2, 3)),
    Row(ABSURD, "probe", "v = s/t = 6.0 × 10⁸/4.0 = 1.4 × 10⁸ m/s / d = vT = 1.4 × 10⁸ × 10 = 1.4 × 10⁹ m", (2, 3), ABSURD_RULING),
    Row(ABSURD, "probe", "v = st = 6.0 × 10⁸ × 4.0 = 2.4 × 10⁹ m/s / d = 2.4 × 10¹⁰ m", (0, 0), ABSURD_RULING),
    Row(EASIER, "sled", "v = at = 3.0 × 0.50 = 1.0 m/s / P = Fv = 40 × 1.0 = 40 W", (2, 2), EASIER_RULING, True),
    Row(EASIER, "sled", "v = at = 3.0 × 0.50 = 1.0 m/s / P = Fv = 40 × 1.0 = 40 W", (2, 3)),
    Row(EASIER, "sled", "v = at = 3.0 × 0.50 = 1.2 m/s / P = Fv = 40 × 1.2 = 48 W", (2, 3), EASIER_RULING),
    Row(EASIER, "sled", "v = at = 3.0 × 0.50 = 1.0 m/s / P = Fv = 40 × 1.5 = 60 W", (2, 3), EASIER_RULING),
)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_followed(row: Row) -> None:
    paper = build_paper({"paper": {"title": "followed", "rulings": dict(row.rulings)}, "part": PAPERS[row.paper]})
    texts = row.typed.split(" / ")
    typed = {p.name: tuple(t for t in text.strip().split("; ") if t) for p, text in zip(paper.parts, texts, strict=True)}
    results = mark_candidate(paper, typed)
    assert tuple(r.mark for r in results) == row.marks, [f"{r.part} {a.point}: {a.reason}" for r in results for a in r.awards]
    assert any(r.referred for r in results) == row.referred


def test_every_shape_has_four_rows() -> None:
    assert min(Counter(r.phrase for r in ROWS).values()) >= 4
