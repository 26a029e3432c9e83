"""How the uncertainties of a part combine, in words, and what its question says of it."""

from __future__ import annotations

import re

from marker.kinds.uncertainty.compiled import Mode, UncertaintyPart
from marker.kinds.words import in_words
from marker.physics.uncertainty import Combining

_HOW: dict[Combining, str] = {
    "root sum of squares": "combined by the root of the sum of their squares",
    "sum": "added",
    "largest": "not added: the largest alone is taken",
}
_SQUARES = re.compile(r"\b(?:squares?|quadrature|pythagoras)\b", re.IGNORECASE)
_LARGEST = re.compile(r"\b(?:largest|greatest|biggest)\b[^.]{0,40}\b(?:uncertaint|percent|%)", re.IGNORECASE)
_ADDED = re.compile(r"\b(?:add(?:ed|ing)?|sum)\b[^.]{0,40}(?:\b(?:uncertaint|percent|them)|%)", re.IGNORECASE)


def combining_in_words(part: UncertaintyPart) -> str:
    """One sentence: which uncertainties combine, their powers, and the ruling's way of combining them."""
    names = [c.symbol for c in part.components]
    if part.mode is Mode.MIXED:
        what = f"the uncertainties that {in_words(names)} bring to {part.spec.find}"
    elif part.mode is Mode.ABSOLUTE:
        what = f"the absolute uncertainties of {in_words(names)}"
    else:
        raised = [f"{c.symbol} × {c.power:g}" for c in part.components if c.power != 1.0]
        what = f"the percentage uncertainties of {in_words(names)}" + (f" ({in_words(raised)})" if raised else "")
    if len(names) == 1:
        return f"From {what.replace('uncertainties', 'uncertainty')} comes that of {part.spec.find}."
    return f"{what[0].upper()}{what[1:]} are {_HOW[part.rule]} (ruling uncertainty_rule = {part.rule!r})."


def asked_in_the_stem(stem: str) -> Combining | None:
    """The way of combining the question names, None where it names none."""
    if _SQUARES.search(stem):
        return "root sum of squares"
    return "largest" if _LARGEST.search(stem) else "sum" if _ADDED.search(stem) else None
