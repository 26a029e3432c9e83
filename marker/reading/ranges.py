"""A range of values in an answer's place: F = 3 to 5 N, between 3 and 5 N, 2.0–2.5 s. It is no difference and no single value.

A dash without spaces round it is a range where it rises; with spaces only after a word, "R is 3 – 5 Ω".
A hyphen between numbers is a minus sign, since a difference is typed so, but
where it stands for all of a value with its unit and rises: t = 2.0-2.5 s.
"""

from __future__ import annotations

import re

from marker.physics import units
from marker.reading.clean import Clean

_NUMBER = r"\d{1,9}(?:\.\d{1,9})?(?:\s?[×x]\s?10\s?\^\s?\(?-?\d{1,3}\)?)?"
_UNIT = r"(?:\s?[A-Za-zΩμ°%][A-Za-z0-9Ωμ°%/^()·-]{0,12})?"
_RANGE = re.compile(
    r"(?:^|[=≈:]|\b(?:is|was|are|be))\s*(?:(?:about|roughly|somewhere)\s)?"
    rf"(?P<range>(?:between\s+(?P<a>{_NUMBER}){_UNIT}\s+and\s+(?P<b>{_NUMBER})|(?P<c>{_NUMBER})(?P<in>{_UNIT})\s+to\s+(?P<d>{_NUMBER})"
    rf"|(?P<e>{_NUMBER})\s?-\s?(?P<f>{_NUMBER})(?!\s?[-+*/×x^(]))(?P<unit>{_UNIT}))\s*(?=$|[.,;])"
)
_HYPHEN = re.compile(r"\d-\d")
_CHANGE = re.compile(r"Δ|delta|change|differ")
_SAID = re.compile(r"\s*(?:is|was|are|be)\b")
WHY = "a range of values, and no single value"


def ranges(body: Clean, typed: str) -> list[tuple[int, int]]:
    """Columns of the cleaned text that hold a range. Never raises."""
    text = body.text
    if not ("–" in typed or "—" in typed or " to " in text or "between" in text or _HYPHEN.search(text)):
        return []
    return [found.span("range") for found in _RANGE.finditer(text) if _is_range(found, body, typed)]


def _is_range(found: re.Match[str], body: Clean, typed: str) -> bool:
    if any(unit.strip() and not units.parse_unit(unit.strip()) for unit in (found["unit"] or "", found["in"] or "")):
        return False
    if found["e"] is None:
        return True
    dash = body.place(*(found.end("e") + n for n in _dash(body.text, found.end("e"))))[0]
    apart = body.text[found.end("e")] == " "
    if not _rises(found["e"], found["f"]):
        return False
    subject = body.text[: found.start("range")].strip(" =≈:")
    value = bool(subject) and bool((found["unit"] or "").strip()) and _CHANGE.search(subject) is None
    if apart:  # R is 3 – 5 Ω; but 3 - 5 with a hyphen is a difference
        return typed[dash : dash + 1] in ("–", "—") and _alike(found["e"], found["f"]) and _SAID.search(found.group()) is not None
    return typed[dash : dash + 1] == "–" or (value and _alike(found["e"], found["f"]))


def _dash(text: str, at: int) -> tuple[int, int]:
    """Where the dash stands after the first number, as an offset and the one after it."""
    offset = 1 if text[at : at + 1] == " " else 0
    return offset, offset + 1


def _alike(low: str, high: str) -> bool:
    """As many decimals, and of one size: 2.0 and 2.5, 10 and 15."""
    return len(low.partition(".")[2]) == len(high.partition(".")[2]) and float(high) <= 10 * float(low)


def _rises(low: str, high: str) -> bool:
    """Plain numbers, the second the larger."""
    return low.replace(".", "").isdigit() and high.replace(".", "").isdigit() and float(low) < float(high)


def masked(body: Clean, spans: list[tuple[int, int]]) -> Clean:
    """The text with the ranges blank."""
    text = body.text
    for start, end in spans:
        text = text[:start] + " " * (end - start) + text[end:]
    return Clean(text, body.starts, body.ends)
