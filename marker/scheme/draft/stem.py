"""The values a question gives in its text: every number with a unit, where it stands and the words before it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from marker.expression import Dimensions, Number, Unit
from marker.physics import units
from marker.physics.evaluate import same_dimensions
from marker.reading import read_quantity

_NUMBER = re.compile(r"(?<![\w.^])[-−]?\d+(?:,\d{3})*(?:\.\d+)?(?:\s?[×x*]\s?10\s?\^?\s?\(?[-−]?\d+\)?|[eE][-+]?\d+)?")
_NOT_UNITS = frozenset({"a", "in", "at", "as", "am", "are", "to", "min.", "t", "h", "d", "y"})
_COMPOUND = re.compile(r"\bper\b|squared|cubed|[-−]\d|\^|²|³|⁻")
_LONGEST = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """A value of the question: as written, in SI, and where. `before` is up to six words in front of it, in lower case."""

    text: str
    si: float
    raw: float
    number: Number
    unit: Unit | None
    at: tuple[int, int]
    before: str = ""

    @property
    def dimensions(self) -> Dimensions | None:
        return self.unit.dimensions if self.unit is not None else None


@lru_cache(maxsize=512)
def values_given(stem: str) -> tuple[Given, ...]:
    """Every value in the text of a question, in order. A number without a unit is kept too, with unit None."""
    found: list[Given] = []
    text = stem[:_LONGEST]
    for match in _NUMBER.finditer(text):
        value = _value(text, match)
        if value is not None:
            found.append(value)
    return tuple(found)


def _value(text: str, match: re.Match[str]) -> Given | None:
    number_text = match.group().replace(",", "") if re.search(r",\d{3}", match.group()) else match.group()
    unit_text, end = _unit_after(text, match.end())
    written = f"{number_text.strip()} {unit_text}".strip() if unit_text != "°" else f"{number_text.strip()}°"
    try:
        quantity = read_quantity(written.replace("−", "-"))
    except ValueError:
        return None
    before = " ".join(re.findall(r"[^\W\d_]+", text[max(0, match.start() - 80) : match.start()].lower())[-6:])
    return Given(
        text=written,
        si=quantity.si,
        raw=quantity.number.value,
        number=quantity.number,
        unit=quantity.unit,
        at=(match.start(), end),
        before=before,
    )


def _unit_after(text: str, start: int) -> tuple[str, int]:
    """The unit right after a number, also after a hyphen ("a 60.0-kg skier")."""
    at = start
    while at < len(text) and text[at] in " \u00a0-":
        if at - start >= 2:
            return "", start
        at += 1
    for found in units.scan(text, at):
        unit = text[at : found.end]
        if unit and _is_unit_text(unit, text, found.end):
            return unit, found.end
    return "", start


def _is_unit_text(unit: str, text: str, end: int) -> bool:
    """Not a word of the sentence: "3 in a row" is no length, and "0.75 m/s in the river" no metre inch a second."""
    words = unit.split()
    symbols = re.findall(r"[^\W\d_]+", unit)
    if len(words) > 1 and not _COMPOUND.search(unit) and (set(symbols[1:]) & _NOT_UNITS or not all(map(units.is_unit_symbol, symbols))):
        return False
    return not (words[-1] in _NOT_UNITS and text[end : end + 1] == " " and _word_follows(text, end))


def _word_follows(text: str, at: int) -> bool:
    """A word in small letters: "3 in a row" is no length."""
    return re.match(r" [a-z]{1,3} [a-z]", text[at:]) is not None


def same_value(given: Given, si: float, dimensions: Dimensions | None, half: float = 0.0) -> bool:
    """Whether a value of the working is this one of the question, whatever unit it was written in."""
    if given.unit is not None and dimensions is not None and not same_dimensions(given.unit.dimensions, dimensions):
        return False
    scale = abs(given.si / given.raw) if given.raw else 1.0
    return abs(abs(given.si) - abs(si)) <= max(half, 1e-6 * abs(si), 0.5 * given.number.half * scale)


def at_rest(stem: str) -> bool:
    """Whether something starts or stops: a speed of nought that is given in words."""
    return re.search(r"\b(?:rest|stationary|standstill|stops?|dropped|released)\b", stem.lower()) is not None
