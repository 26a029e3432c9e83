"""The conventions that come with the package: each marks the published resistor table its own way, and says where its rulings come from.

The typed rows are those of the table (conventions file 1.2). The marks are what the rulings of each convention make of them, worked out
by hand from the rulings' sources; "half marks" has the published column of the older edition (from memory, H2013).
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

import pytest

from marker import build_paper
from marker.marking import mark_response
from marker.resources import rubrics
from marker.scheme.convention import Convention
from marker.scheme.paper import CompiledPart, load_convention
from tests.awarding.parts import mark
from tests.awarding.test_resistor_table import RESISTOR, TABLE

TEN = [{"kind": "relationship", "marks": 3}, {"kind": "substitution", "marks": 3}, {"kind": "answer", "marks": 4}]
PARTS: Mapping[str, Mapping[str, Any]] = {
    "positive three-mark": {"marks": 3},
    "compensatory": {"marks": 3},
    "method and accuracy": {"marks": 3},
    "slips deducted": {"marks": 10, "points": TEN},
    "answer first": {"marks": 3},
    "unit point": {"marks": 4},
    "half marks": {"marks": 2},
}
# Marks of rows 1 to 15.
MARKS: Mapping[str, tuple[float, ...]] = {
    "positive three-mark": (3, 3, 2, 0, 0, 2, 1, 1, 2, 2, 1, 1, 0, 2, 1),
    # row 12: a power of ten costs one mark (OCR15MS)
    "compensatory": (3, 3, 2, 0, 0, 2, 1, 1, 2, 2, 1, 2, 0, 2, 1),
    # rows 2, 3: a method must be seen (CIE01); row 15: rearranging costs the accuracy
    "method and accuracy": (3, 0, 0, 0, 0, 2, 1, 1, 2, 2, 1, 1, 0, 2, 2),
    # a slip 1 (rows 3, 6, 10, 14), a blunder 3 (rows 13, 15), both (row 11), a misread and a slip (row 12); left out: its points
    "slips deducted": (10, 10, 9, 0, 0, 9, 3, 3, 6, 9, 6, 8, 7, 9, 7),
    # rows 11 to 13: the answer is right, the working is not looked at (IBS)
    "answer first": (3, 3, 2, 0, 0, 2, 1, 1, 2, 2, 3, 3, 3, 2, 1),
    # rows 2, 3: working is expected (APW); rows 6, 14: the unit is right all the same (AP09)
    "unit point": (4, 0, 0, 0, 0, 3, 1, 1, 2, 2, 1, 1, 0, 3, 1),
    # the /2 column of the table
    "half marks": (2, 2, 1.5, 0, 0, 1.5, 0.5, 0.5, 1, 1, 0.5, 0.5, 0, 1.5, 0.5),
}


@lru_cache
def part(convention: str) -> CompiledPart:
    row = {"name": "a", **RESISTOR, **PARTS[convention]}
    return build_paper({"paper": {"title": "resistor", "convention": convention}, "part": [row]}).parts[0]


@pytest.mark.parametrize("convention", MARKS)
@pytest.mark.parametrize("row", TABLE, ids=str)
def test_resistor_table(convention: str, row: Any) -> None:
    result = mark(part(convention), row.typed)
    assert result.mark == MARKS[convention][row.number - 1], [a.reason for a in result.awards]


@pytest.mark.parametrize("convention", MARKS)
def test_model_answer_earns_full_marks_and_a_blank_none(convention: str) -> None:
    made = part(convention)
    assert mark_response(made, made.kind.model(made.compiled)).mark == made.marks
    assert mark_response(made, ()).mark == 0


# --- the files --------------------------------------------------------------------------------------

FILES = sorted((f for f in (rubrics() / "conventions").iterdir() if f.name.endswith(".toml")), key=lambda f: f.name)
PUBLISHED = """
    BA7377 AH2018 AH2022 N5-2019 H2013 H2017 US-N5 SQAM LITH CIE01 CIE22 OCR15 OCR15MS OCR16 OCR18 OCR19 OCRB OCRM AQA-P AQA-AM AQA-GM
    AQA06 EDX10 EDX11 EDXG IB02 IB03 IB16 IBM IBM2 CSM IBS AP06 AP09 AP12 APW CCEA BPHO IE11 IE14 SCI MSH MNA GUM
"""
KEYS = frozenset(PUBLISHED.split())


def test_every_ready_convention_is_in_the_table() -> None:
    assert {tomllib.loads(f.read_text(encoding="utf-8"))["name"] for f in FILES} == set(MARKS)


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.name)
def test_it_loads_by_its_name_and_by_its_file_name(file: Any) -> None:
    name = tomllib.loads(file.read_text(encoding="utf-8"))["name"]
    made = load_convention(name)
    assert isinstance(made, Convention) and made.name == name and made.source
    assert load_convention(file.name.removesuffix(".toml")) == made


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.name)
def test_every_ruling_names_its_source(file: Any) -> None:
    lines = file.read_text(encoding="utf-8").partition("[rulings]")[2].strip().splitlines()
    assert lines
    for line in lines:
        ruling, _, comment = line.rpartition("# ")
        assert re.match(r"\w+ = ", ruling), line
        sources = [s.strip() for s in comment.split(",")]
        assert sources and all(s in KEYS or s in ("from memory", "common practice") for s in sources), line
