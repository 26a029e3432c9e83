"""Where a new statement begins inside a stretch of mathematics: u = 2.4 a = 0.85, s = ut v = 3, E = ½CV² 5.4 = ½ × 325 × V².

Spaces round the sign of equality tell nothing: W=m g h=380 · 9.81 · 7.2 is one chain, however it is typed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from marker.reading.alphabet import GREEK
from marker.reading.item import Item
from marker.reading.phrases import ends_operand
from marker.reading.stretches import NUMBER_ALONE, is_one_symbol, last_chunk, typed_text
from marker.reading.symbols import FUNCTION_NAMES

_NUMBER = re.compile(
    r"(?<![\d.^_])(?<!\^[(-])(?<!\^\(-)(?:\d+(?:[.,]\d+)?|\.\d+|½|¼|⅓)"
    r"(?:\s?[×xX*·]\s?10\s?\^?\s?\(?[-−]?\d+\)?|[eE][-+]?\d+)?"
)
_FUNCTION = re.compile(r"sin|cos|tan|ln|log|sqrt|root")
_FOLLOWING = re.compile(r"[^=≈<>≤≥;]*")
_SPOKEN = re.compile(r"\b(?:over|divided by|pi)\b")
_LETTER = re.compile(r"[^\W\d_](?:_\{?\w+\}?|\d+)?")


def is_plain_value(items: Sequence[Item], text: str) -> bool:
    """A number, perhaps with a power of ten, and perhaps its unit."""
    if items and items[-1].payload == "unit":
        items = items[:-1]
    return bool(items) and NUMBER_ALONE.fullmatch(text[items[0].start : items[-1].end]) is not None


def begins_at(stretch: list[Item], relation: Item, text: str, letter_x: bool) -> int:
    """Index of the item in the stretch with which the relation's own statement begins; 0 when it goes on with what stands there.

    letter_x  x is a letter of the part's or the response's
    """
    relations = [k for k, x in enumerate(stretch) if x.kind == "r"]
    if not relations:
        return 0
    tail = stretch[relations[-1] + 1 :]
    cut = last_chunk(tail)
    if cut == 0 or text[tail[cut].start - 1] != " " or not ends_operand(tail[cut - 1]):
        return 0
    value, chunk = tail[:cut], tail[cut:]
    if _multiplied(value, chunk, letter_x):
        return 0
    if chunk[0].kind == "n" and isinstance(chunk[0].payload, tuple) and not chunk[0].payload[1]:
        return 0  # 3 half lives = 74/8: words of the candidate's own after a number
    subject = stretch[: relations[0]]
    parts = _number_apart(value, chunk)
    if is_one_symbol(chunk):
        parts = (
            is_plain_value(value, text)
            or (_subject_again(subject, value, chunk, len(relations)) and not _cancels(value, chunk, text[relation.end :]))
            or _letter_apart(value, chunk, text[relation.end :])
        )
    return relations[-1] + 1 + cut if parts else 0


def _multiplied(value: list[Item], chunk: list[Item], letter_x: bool) -> bool:
    """1.71^2 x 3.5=10.3 W, 896 x0.17=152, m x a=2150 x 4.1: an x before the last operand multiplies."""
    if value[-1].text in ("x", "X") and (chunk[0].is_value or not letter_x):
        return True
    return chunk[0].text in ("x", "X") and len(chunk) > 1 and chunk[1].is_value


def _subject_again(subject: list[Item], value: list[Item], chunk: list[Item], relations: int) -> bool:
    """F = ma F = 6, v² = 57 v = 7.5, sinC = 1/n C = 42: the first statement's own subject, or a letter of it."""
    letter = typed_text(chunk)
    if value[-1].text[-1:].isdigit():  # v = 0 + 9.8 × 3 v = 29.4
        numbers = not any(x.text[:1].isalpha() and x.text not in "xX" for x in value)
        return numbers and typed_text(subject) in (letter, *[name + letter for name in FUNCTION_NAMES])
    if is_one_symbol(subject) and typed_text(subject) == letter:
        return True
    begins = len(chunk) == 1 and any(x.kind == "m" and x.text.startswith(letter) for x in subject)
    return relations == 1 and (begins or typed_text(subject) in [name + letter for name in FUNCTION_NAMES])


def _number_apart(value: list[Item], chunk: list[Item]) -> bool:
    """E = 1/2 CV2 5.4 = …: a number after a letter, but for a lost superscript or an index."""
    number = len(chunk) == 1 and chunk[0].is_value and chunk[0].payload != "unit"
    last = value[last_chunk(value)]  # 113 560 000: figures in groups of three
    return number and len(chunk[0].text) > 1 and (last.kind == "n" or (last.text[:1].isalpha() and last.text.lower() not in FUNCTION_NAMES))


def _letter_apart(value: list[Item], chunk: list[Item], after: str) -> bool:
    """s = ut v = 3, v = u + at a = F/m; not m g h = 380 · 9.81 · 7.2, whose numbers are put in one for each letter."""
    if not any(x.kind == "n" or x.text[:1].isalpha() for x in value):
        return False
    factors = _factors(value)
    if typed_text(chunk) in factors:
        return not _cancels(value, chunk, after)
    following = _FOLLOWING.match(after)
    numbers = _NUMBER.findall(following.group()) if following is not None else []
    if len(numbers) > 1 and len(numbers) - 1 in (len(factors), len([x for x in value if x.kind in "mn"])):
        return False
    last = value[max((k + 1 for k, x in enumerate(value) if x.kind == "o"), default=0) :]
    spaced = any(a.end < b.start and a.kind in "mn" and b.kind in "mn" for a, b in pairwise(last))
    return not spaced and any(x.kind == "m" and len(x.text) > 1 and x.text.isalpha() and x.text not in GREEK for x in last)


def _cancels(value: list[Item], chunk: list[Item], after: str) -> bool:
    """2πmv/Bq v = 2πm/Bq: a letter over the solidus and again at the end, under it, and gone from what follows, which has the others."""
    letter = typed_text(chunk)
    under = max((k for k, x in enumerate(value) if x.payload == "/" or x.text in "/÷"), default=0)
    if not under or letter not in _factors(value[:under]) or letter in _factors(value[under + 1 :]):
        return False
    following = _FOLLOWING.match(after)
    plain = _SPOKEN.sub(lambda word: "π" if word.group() == "pi" else "/", following.group()) if following is not None else ""
    letters, others = set(_LETTER.findall(plain)), {f for f in _factors(value) if f[:1].isalpha()} - {letter}
    return letter not in letters and bool(others) and others <= letters


def _factors(value: list[Item]) -> list[str]:
    """The letters and numbers of a product, one by one."""
    value = [x for x in value if not (x.kind == "o" and x.word)]
    text = re.sub(r"\^\s?\(?-?\d+\)?", "", _FUNCTION.sub(" ", _typed_apart(value)))
    return [*_NUMBER.findall(text), *_LETTER.findall(text)]


def _typed_apart(items: list[Item]) -> str:
    """The text of the items, Greek names as one letter each, a space where there is a gap."""
    out = ""
    for k, x in enumerate(items):
        out += " " * (k > 0 and items[k - 1].end < x.start) + GREEK.get(x.text, x.text)
    return out
