"""Blind codes of scripts, made from the draw number and the candidate number.

The same draw gives the same codes, so that marks come back without a list that could go astray. Codes have no letters or figures that
are easily taken for others, and none that a spreadsheet takes for a number. They hide the candidate from a marker who does not look;
they are no secret from somebody with the class list and the draw number.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping

from marker.moderation.model import refuse_one
from marker.reporting.workbook.pen import cell_text

LETTERS = "ACDFGHJKLMNPQRTUVWXY"
FIGURES = "34679"


def code_for(draw: int, candidate: str) -> str:
    """Four letters and three figures."""
    number = int.from_bytes(hashlib.sha256(f"{draw}|code|{candidate}".encode()).digest()[:12], "big")
    signs = []
    for alphabet in (LETTERS,) * 4 + (FIGURES,) * 3:
        number, place = divmod(number, len(alphabet))
        signs.append(alphabet[place])
    return "".join(signs)


def codes(draw: int, candidates: Iterable[str]) -> Mapping[str, str]:
    """Code -> candidate. Raises WorkbookError when two candidates have one code in this draw (rare: about one draw in 3000 for 100)."""
    found: dict[str, str] = {}
    for candidate in candidates:
        other = found.setdefault(code_for(draw, candidate), candidate)
        if other != candidate:
            refuse_one(f"draw {draw}", f"candidates {other} and {candidate} would have the same code", mend="Use another draw number.")
    return found


def text_digest(text: str) -> str:
    """Short digest of a response as a cell holds it, the same after a spreadsheet program has changed line ends, spaces and escapes.

    (In a workbook "_x0041_" stands for the letter A, ECMA-376 part 1, 22.9.2.19: some programs write it so, some read it so.)
    """
    read = re.sub(r"_x([0-9A-Fa-f]{4})_", lambda found: chr(int(found[1], 16)), cell_text(text))
    return hashlib.sha256(" ".join(read.split()).encode("utf-8", "replace")).hexdigest()[:12]
