"""The wording of faults in graphs and uncertainties: each code used is in the file, each in the file is used, each can be filled in."""

import re
from pathlib import Path

import pytest

from marker.kinds.fault_texts import codes, fault
from marker.reporting.faults import fault_words

KINDS = Path(__file__).resolve().parents[2] / "marker" / "kinds"
ROOMS = ("gradient", "proportion", "uncertainty")
PLACES = ("x", "y", "apart", "value", "typed", "symbol", "seen", "shown", "allowed", "rule", "power", "expression", "count")
FILLED = {name: "7" for name in (*PLACES, "needed", "wanted", "right")}


def _source() -> str:
    files = [KINDS / "figures.py", *(p for room in ROOMS for p in (KINDS / room).glob("*.py"))]
    return "\n".join(p.read_text(encoding="utf-8") for p in files)


def test_codes_used_are_the_codes_of_the_file() -> None:
    source = _source()
    called = set(re.findall(r'fault\(\s*"([a-z-]+)"', source))
    assert called
    assert called <= codes()
    assert {c for c in codes() if f'"{c}"' not in source} == set()


@pytest.mark.parametrize("code", sorted(codes()))
def test_each_wording_can_be_filled_in(code: str) -> None:
    found = fault(code, 3, **FILLED)
    assert found.line == 3
    assert not re.search(r"[{}]", found.teacher + found.student)
    assert fault_words(code).practise
