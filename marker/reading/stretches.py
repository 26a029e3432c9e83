"""What a stretch of items is: one symbol, a plain value, a number in words; and how it begins and ends."""

from __future__ import annotations

import re
from itertools import pairwise

from marker.reading.item import Item
from marker.reading.phrases import ends_operand, is_root
from marker.reading.whole import LETTER_THEN_VALUE


def with_relation(items: list[Item], text: str) -> list[Item]:
    """λ 6.63x10^-34/(…), KE 240 J: a letter, a gap and a number that is no index, with the sign between left out."""
    if len(items) < 2 or any(x.kind == "r" for x in items) or not _value_ahead(items, text):
        return items
    k = next((k for k in range(1, len(items)) if items[k].start > items[k - 1].end), 0)
    if k == 0 or items[k].start - items[k - 1].end != 1 or not is_one_symbol(items[:k]):
        return items
    return [*items[:k], Item("r", items[k - 1].end, items[k].start, " ", "="), *items[k:]]


def _value_ahead(items: list[Item], text: str) -> bool:
    """The first number after the letter has a point, a power of ten or a unit."""
    found = LETTER_THEN_VALUE.match(text, items[0].start, items[-1].end)
    return found is not None and (found.group(1) is not None or any(x.payload == "unit" and x.start >= found.end() for x in items[:4]))


def brackets(items: list[Item]) -> tuple[int, int]:
    """How far below nought the count of open brackets gets, and what it ends at."""
    depth = least = 0
    for x in items:
        depth += (x.kind == "(") - (x.kind == ")")
        least = min(least, depth)
    return least, depth


def after_broken(items: list[Item]) -> list[Item]:
    """What stands after the first relation behind a bracket that words have broken; [] when nothing whole does."""
    for k, x in enumerate(items[:-1]):
        if x.kind == "r" and brackets(items[:k]) != (0, 0) and brackets(items[k + 1 :]) == (0, 0):
            return items[k + 1 :]
    return []


def leading_sign(items: list[Item], crosses: bool) -> int:
    """Where the sign stands that a stretch begins with, before a number; -1 when there is none. crosses  an x can only multiply."""
    if len(items) < 2 or not (items[1].is_value or items[1].text in "(π√" or is_root(items[1].text)):
        return -1
    first = items[0]
    sign = first.kind == "o" and (str(first.payload) in ("×", "/", "+", "-") if first.word else first.text in "×*·/+")
    apart = first.end < items[1].start or "." in items[1].text  # x 9.81, x9.81; x2 may be a letter with its index
    return first.start if sign or (crosses and first.text in ("x", "X") and apart) else -1


NUMBER_ALONE = re.compile(r"[-+±]?\s?[\d.,]+(?:\s?[xX×*·]\s?10\s?\^?\s?\(?\s?-?\d+\s?\)?|[eE][-+]?\d+)?")


def typed_text(items: list[Item]) -> str:
    return "".join(x.text for x in items)


def last_chunk(items: list[Item]) -> int:
    """Index where the items at the end that are joined without a space begin."""
    k = len(items)
    while (
        k > 0 and items[k - 1].kind in "mn" and items[k - 1].payload != "unit" and (k == len(items) or items[k].start == items[k - 1].end)
    ):
        k -= 1
    return k if k < len(items) else 0


def is_one_symbol(items: list[Item]) -> bool:
    """A letter or name with its index, nothing else."""
    if not items or not all(x.kind in "mn" and x.payload != "unit" for x in items):
        return False
    joined = all(a.end == b.start for a, b in pairwise(items))
    return joined and (items[0].kind == "n" or items[0].text[:1].isalpha()) and ends_operand(items[0])


def is_number_word(item: Item) -> bool:
    """A number in words: one, half (of something)."""
    return item.kind == "o" and item.word and (str(item.payload).isdigit() or str(item.payload) in ("(1/2)", "(1/3)", "(1/4)"))
