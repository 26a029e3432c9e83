"""The tables of the conventions file (../shared/trade/marking-conventions.md), cell by cell; absent where it is not beside the checkout."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

FILE = Path(__file__).resolve().parents[3] / "shared" / "trade" / "marking-conventions.md"
beside = pytest.mark.skipif(not FILE.exists(), reason="the conventions file is not beside this checkout")

_BRACKETS = re.compile(r"\[([^\[\]]+)\]")
_KEY = re.compile(r"[A-Z][A-Z0-9]+[A-Za-z0-9-]*")
_MARKS = re.compile(r"\d½?|½")
FROM = {"M": "from memory", "M?": "not certain", "C": "common practice"}


def section(number: str) -> str:
    """The text from one heading to the next."""
    after = FILE.read_text(encoding="utf-8").partition(f"### {number} ")[2]
    return re.split(r"\n(?:###? |---)", after)[0]


def table(number: str) -> list[list[str]]:
    """The cells of a section's first table, row by row, without its heading."""
    lines = [line for line in section(number).splitlines() if line.startswith("|")]
    rows = [[c.strip() for c in line.strip("|").split("|")] for line in lines]
    return [row for row in rows[2:] if len(row) == len(rows[0])]


def sources(cell: str) -> frozenset[str]:
    """The published keys a cell names, and what it says of the rest: from memory, not certain, common practice."""
    found: set[str] = set()
    for inside in _BRACKETS.findall(cell):
        for clause in re.split(r";", inside):
            head, sign, keys = clause.partition("P:")
            if sign:
                found.update(k[0] for k in (_KEY.findall(one) for one in keys.split(",")) if k)
            found.update(FROM[word] for word in re.findall(r"(?<![\w-])(M\?|M|C)(?![\w-])", clause if not sign else head))
    return frozenset(found)


def marks(cell: str) -> frozenset[float]:
    """The marks a cell names: "0–1", "2–3" both ends; none where it names none."""
    values = {m: float(m.replace("½", ".5") if m != "½" else "0.5") for m in _MARKS.findall(_BRACKETS.sub("", cell))}
    return frozenset(values.values())
