"""A part while it is being drafted, and how its letters and equations are written in a scheme."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from marker.scheme.checking.notations import KEYBOARD, Notation, write
from marker.scheme.draft.choose import Segment
from marker.scheme.draft.equations import Equation
from marker.scheme.draft.model import DraftedPart

_SAFE = re.compile(r"[^\w']")
_PLAIN = Notation(
    name="scheme",
    times="*",
    power=KEYBOARD.power,
    root=KEYBOARD.root,
    quotient=None,
    letter=lambda name: safe_name(name),
    number=KEYBOARD.number,
    unit=KEYBOARD.unit,
    functions={},
)


@dataclass(slots=True, kw_only=True)
class Makings:
    """A part while it is being made. `sheet` are constants for the paper's data sheet."""

    name: str
    stem: str
    segment: Segment
    lines: tuple[str, ...]
    marks: int | None
    before: Sequence[DraftedPart]
    sheet: dict[str, str | list[str]]
    remarks: dict[str, list[str]] = field(default_factory=dict)

    def remark(self, key: str, text: str) -> None:
        said = self.remarks.setdefault(key, [])
        if text not in said:
            said.append(text)


def safe_name(name: str) -> str:
    """A letter as a scheme can name it: v_(0,y) is v_0y, a_∥ is a_par."""
    return _SAFE.sub("", name.replace("∥", "par").replace("⊥", "perp"))


def equation_text(e: Equation) -> str:
    return f"{write(e.left, _PLAIN)} = {write(e.right, _PLAIN)}"
