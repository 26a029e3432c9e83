"""The scheme files of this repository, and one that uses everything a worksheet must keep."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
FILES = tuple(
    sorted(
        f for folder in ("tests", "rubrics/demo") for f in (ROOT / folder).rglob("*.toml") if "[[part]]" in f.read_text(encoding="utf-8")
    )
)


def name_of(file: Path) -> str:
    return str(file.relative_to(ROOT))


EVERYTHING = """
[paper]
title = "= Harbour crane, \\"late\\" shift"
convention = "positive three-mark"
data = { g = ["9.81 N/kg", "9.8 N/kg"], c = "3.00e8 m/s" }
[paper.rulings]
transcription_slip = "substitution mark, followed"
rounding_tolerance = 0.01
significant_figures = { under = 0, over = 3 }
half_marks = true

[[part]]
name = "1"
marks = 4
question = "1"
stem = "+ A crate\\nof 45 kg; find the power – at 0.80 m/s."
given = { m = "45 kg", v = "0.80 m/s", eta = "80 %" }
find = "P"
unit = "W"
using = ["W = m*g", "eta = W*v/P"]
also = ["T = W"]
names = { P = ["input power", "p"], W = ["-weight"] }
signed = ["T"]
either_sign = false
figures = 2
accept = ["430 W", "450 W"]
answer = "440 W"
[[part.route]]
name = "by energy"
using = ["E = m*g*h"]
also = []
points = [{ kind = "answer", marks = 4 }]

[[part]]
name = "2"
marks = 5
rulings = { unit_fault = "none" }
given = { d = "3.8 m", T = "2.6 s" }
carry = { m = "1" }
[[part.step]]
find = "v"
label = "i"
marks = 2
show = "4.6 m/s"
points = [
  { kind = "relationship", of = "v = pi*d/T", type = "M" },
  { kind = "substitution", of = ["v = pi*d/T", "d = 2*r"], needs = ["relationship"] },
]
[[part.step]]
find = "F"
marks = 3

[[part]]
name = "3"
kind = "written"
marks = 2
terms = { photon = ["quantum", "packet"] }
[[part.idea]]
name = "energy too small"
says = ["each photon has too little energy"]
any = [["photon", "quantum"], ["energy"]]
[[part.idea]]
name = "one photon"
marks = 1
says = ["one electron, one photon"]

[[part]]
name = "4"
kind = "choice"
marks = 1
options = ["volt", "ampere", "ohm"]
key = "B"

[[part]]
name = "5"
kind = "gradient"
marks = 2
table = { x = { symbol = "L", unit = "m", values = [0.25, 0.5, 1] }, y = { symbol = "R", values = ["0.62", "1.22", "2.45"] } }
points = ["method", "gradient"]
tolerance = 1e-2
"""


def everything() -> dict[str, Any]:
    return tomllib.loads(EVERYTHING)
