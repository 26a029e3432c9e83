"""Words and spreadsheet functions that stand for notation, put into notation before a line is cut.

74 halved 3.4 times         74×(1/2)^(3.4)
1/300 of a millimetre       (1/300) millimetre
change in lambda            Δlambda
POWER(7.0,2)                ((7.0)^(2))
7.8 meters per secund       7.8 meters per second
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from marker.physics import units
from marker.physics.misspelt import meant_unit
from marker.reading.clean import GREEK, Clean
from marker.reading.phrasebook import common_words, phrases
from marker.reading.symbols import Symbols, singular, words

_ANY = re.compile(r"alved|oubled|rebled|ripled|of an? |hange in|POWER\(|power\(|Power\(|\d\s?[A-Za-z]{4}", re.ASCII)
_TIMES_OVER = re.compile(
    r"(?<=[\w)°%])\s+(halved|doubled|trebled|tripled)(?![a-z])(?:\s+(?:(\d{1,4}(?:\.\d{1,6})?)|(once|twice|two|three|four|five|six|seven|eight|nine|ten))\b(?:\s+times\b)?)?",
    re.IGNORECASE,
)
_IN_ORDER = ("once", "twice", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_COUNTS = {word: str(n) for n, word in enumerate(_IN_ORDER, start=1)} | {"two": "2"}
_FACTORS = {"halved": "(1/2)", "doubled": "2", "trebled": "3", "tripled": "3"}
_PART_OF = re.compile(r"(?<![\w.])(\d{1,6}\s?/\s?\d{1,6})\s+of\s+an?\s+([a-z]{3,16})")
_CHANGE = re.compile(r"(?<![A-Za-z])(?:the\s+)?[Cc]hange in (?:the\s+)?(?=([A-Za-z]{1,7}|[α-ω])(?![A-Za-z]))")
_POWER = re.compile(r"(?<![A-Za-z])(?:POWER|Power|power)\(")
_UNIT_DUE = re.compile(r"\d\s?([A-Za-z]{4,16})(?![A-Za-z_^(])(?:(?:\s+per\s+|\s?/\s?)([A-Za-z]{4,16})(?![A-Za-z_^(]))?")

# what stands in the place start to end: text of ours, or a stretch of the line as it is
_Piece = str | tuple[int, int]
_Change = tuple[int, int, tuple[_Piece, ...]]


def reworded(clean: Clean, symbols: Symbols) -> Clean:
    """The line with such words as notation; each character keeps the typed columns it stands for. Never raises."""
    if not _ANY.search(clean.text):
        return clean
    changes = sorted(_changes(clean.text, symbols), key=lambda c: c[0])
    text: list[str] = []
    starts: list[int] = []
    ends: list[int] = []

    def keep(start: int, end: int) -> None:
        text.append(clean.text[start:end])
        starts.extend(clean.starts[start:end])
        ends.extend(clean.ends[start:end])

    done = 0
    for start, end, pieces in changes:
        if start < done:
            continue
        keep(done, start)
        for piece in pieces:
            if isinstance(piece, str):
                a, b = clean.place(start, end)
                text.append(piece)
                starts.extend([a] * len(piece))
                ends.extend([b] * len(piece))
            else:
                keep(*piece)
        done = end
    keep(done, len(clean.text))
    return Clean("".join(text), starts, ends)


def _changes(text: str, symbols: Symbols) -> Iterator[_Change]:
    yield from _halvings(text)
    for part in _PART_OF.finditer(text):
        if units.is_unit_word(part.group(2)):
            yield (*part.span(), ("(", part.span(1), ") ", part.span(2)))
    for change in _CHANGE.finditer(text):
        if len(change.group(1)) == 1 or change.group(1) in GREEK:
            yield (*change.span(), ("Δ",))
    yield from _spreadsheet(text)
    yield from _unit_names(text, symbols)


def _unit_names(text: str, symbols: Symbols) -> Iterator[_Change]:
    """Names of units with slips of the finger, after a number."""
    for found in _UNIT_DUE.finditer(text):
        for group in (1, 2):
            word = found.group(group)
            meant = None if word is None or _has_meaning(word, symbols) else meant_unit(word)
            if meant is not None:
                yield (*found.span(group), (meant,))


def _has_meaning(word: str, symbols: Symbols) -> bool:
    lower = word.lower()
    if lower in common_words() or lower in phrases() or singular(lower) in symbols.vocabulary or lower in words()["prose"]["not_units"]:
        return True
    return units.is_unit_symbol(word) or symbols.known_letters(word)


def _halvings(text: str) -> Iterator[_Change]:
    """ "halved 3.4 times", "doubled twice", "halved = " after a number or its unit."""
    for found in _TIMES_OVER.finditer(text):
        before = text[: found.start()]
        if not re.search(r"\d[\d.,]*(?:\s?[A-Za-zΩμ°%/]{1,9})?$", before[-30:]):
            continue
        factor = "×" + _FACTORS[found.group(1).lower()]
        if found.group(2):
            yield (*found.span(), (factor + "^(", found.span(2), ")"))
        elif found.group(3):
            yield (*found.span(), (f"{factor}^({_COUNTS[found.group(3).lower()]})",))
        else:
            yield (*found.span(), (factor,))


def _spreadsheet(text: str) -> Iterator[_Change]:
    """POWER(a,b)."""
    for found in _POWER.finditer(text):
        inside = _arguments(text, found.end())
        if inside is None:
            continue
        comma, close = inside
        yield (found.start(), found.end(), ("((",))
        yield (comma, comma + 1, (")^(",))
        yield (close, close + 1, ("))",))


def _arguments(text: str, start: int) -> tuple[int, int] | None:
    """Where the comma between two arguments stands, and the bracket that closes them; None when there are not two."""
    depth, commas = 1, list[int]()
    for index in range(start, len(text)):
        c = text[index]
        depth += (c == "(") - (c == ")")
        if depth == 0:
            return (commas[0], index) if len(commas) == 1 else None
        if c in ",;" and depth == 1:
            commas.append(index)
    return None
