"""A letter and words that say whose it is:  V across R1 = 4.5 V,  I through the lamp is 0.3 A,  v at B = 2.1 m/s.

The letter is first taken for the quantity it always is, then for one of the candidate's own, since two resistors have two voltages.
"""

from __future__ import annotations

from marker.reading.item import Item
from marker.reading.model import Assumption
from marker.reading.phrases import Phrases, ends_operand, prose_words
from marker.reading.symbols import FUNCTION_NAMES, key_of
from marker.reading.tokens import Edge, Tok

_MOST_WORDS = 6
_LONGEST_LETTER = 4
_OWN = ("", False)  # payload of a letter whose words make it a quantity of its own


def qualified(picker: Phrases, i: int) -> int:
    """Takes the words from item i on into the letter that ends the stretch; the index after them, i where they are none such."""
    end = _words_end(picker.items, i)
    letter = _last_letter(picker.stretch) if end > i else []
    if not letter:
        return i
    alone = len(letter) == len(picker.stretch)
    summed = end < len(picker.items) and picker.items[end].kind == "o"
    if not alone and not summed and not any(x.payload == _OWN for x in picker.stretch):
        return i  # F = kx at x = 3
    if not (summed or not alone or (end < len(picker.items) and picker.items[end].kind == "r")):
        return i
    start, stop = letter[0].start, picker.items[end - 1].end
    typed, (a, b) = picker.clean.text[start:stop], picker.clean.place(start, stop)
    note = Assumption(code="own-quantity", text=f"“{typed}” is a quantity of the candidate's own", at=(a, b))
    own = alone and not summed  # two such in a sum are no one quantity
    meanings = [(value, cost + (0.0 if own else 0.6), None) for value, cost in _meanings(picker, letter, picker.items[i:end])]
    edges = [
        Edge(start, stop, "S", (Tok("SYMBOL", value, a, b),), cost, text)
        for value, cost, text in (*meanings, ((typed, False), 0.6 if own else 0.0, note))
    ]
    picker.overrides[start] = tuple(sorted(edges, key=lambda e: e.cost))
    picker.stretch[-len(letter) :] = [Item("n", start, stop, typed, meanings[0][0] if own else _OWN)]
    return end


def _words_end(items: list[Item], i: int) -> int:
    """Where the words end that begin with a preposition of place and lead to a relation; i when they do not."""
    if items[i].text.lower() not in prose_words("places"):
        return i
    j = i + 1
    while j < len(items) and j - i <= _MOST_WORDS and _is_word(items[j]):
        j += 1
    ends = j == len(items) or items[j].kind in "rb" or (items[j].kind == "o" and not items[j].word)
    return j if j > i + 1 and ends else i


def _is_word(item: Item) -> bool:
    """A word, a name, or a letter with its index such as R1."""
    return item.kind in "wnf" or (item.kind == "m" and item.payload != "unit" and item.text.isalnum() and len(item.text) <= 2)


def _last_letter(stretch: list[Item]) -> list[Item]:
    """The items of the one letter, with an index or without, that the stretch ends in."""
    k = len(stretch)
    while k > 0 and stretch[k - 1].kind == "m" and (k == len(stretch) or stretch[k - 1].end == stretch[k].start):
        k -= 1
    letter = stretch[k:]
    if not letter or any(x.payload == "unit" for x in letter) or (k > 0 and stretch[k - 1].kind not in "or("):
        return []
    typed = "".join(x.text for x in letter)
    one = letter[0].text[:1].isalpha() and ends_operand(letter[0]) and typed.lower() not in FUNCTION_NAMES
    return letter if one and len(typed.replace("_", "")) <= _LONGEST_LETTER else []


def _meanings(picker: Phrases, letter: list[Item], words: list[Item]) -> list[tuple[tuple[str, bool], float]]:
    """What the letter can be, with costs: V_R1 or V_1 where the part has them and the words name R1, else the letter itself."""
    exact = picker.symbols.exact
    typed = "".join(x.text for x in letter)
    key, tail = key_of(typed), "".join(x.text for x in words if x.kind == "m")
    found: list[tuple[tuple[str, bool], float]] = []
    for longer in (key + tail, key + tail[1:]):
        if tail and longer in exact and longer != key:
            found.append(((exact[longer], True), 0.0))
            break
    index = typed[1:].strip("_{}()")
    shown = f"{typed[0]}_{index}" if "_" in typed or index.isdigit() else typed
    found.append(((exact.get(key, shown), key in exact), 0.3 if found else 0.0))
    return found
