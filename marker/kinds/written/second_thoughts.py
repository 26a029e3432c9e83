"""What the candidate took back: "inversely, no, directly proportional", "ignore that", ~~struck out~~.

Withdrawn words are left out of the reading; the candidate's last word counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.kinds.written.lexicon import lexicon
from marker.kinds.written.stem import stem
from marker.kinds.written.text import Sort, Word


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    words: tuple[Word, ...]
    withdrawn: int = 0


def withdraw(row: Sequence[Word]) -> Kept:
    """The words that stand, and how many were taken back."""
    kept: list[Word] = []
    here = withdrawn = 0
    while here < len(row):
        if row[here].text == "~~":
            end = next((n for n in range(here + 1, len(row)) if row[n].text == "~~"), None)
            withdrawn += 0 if end is None else end - here - 1
            here = here + 1 if end is None else end + 1
            continue
        if length := _whole_sentence(row, here):
            withdrawn += _drop_sentence(kept)
            here += length
            continue
        if _starts_over(row, here):
            withdrawn += _drop_sentence(kept)
            here += 1
            continue
        if length := _second_thought(row, here):
            withdrawn += _drop_word(kept)
            here += length
            continue
        kept.append(row[here])
        here += 1
    return Kept(words=tuple(kept), withdrawn=withdrawn)


def _whole_sentence(row: Sequence[Word], here: int) -> int:
    """Length of a sentence that only says to leave the one before out ("ignore that."), with its stop; 0 otherwise."""
    if here and row[here - 1].sort not in (Sort.STOP, Sort.COMMA):
        return 0
    end = next((n for n in range(here, min(here + 8, len(row))) if row[n].sort in (Sort.STOP, Sort.COMMA)), None)
    if end is None or end == here:
        return 0
    stems = tuple(stem(w.text) for w in row[here:end] if w.sort is Sort.WORD)
    return end - here + 1 if stems in lexicon().withdrawals else 0


def _starts_over(row: Sequence[Word], here: int) -> bool:
    """ "No the temperature is constant" after a statement takes it back; "no change" and "no, it is" after nothing do not."""
    if row[here].text != "no" or not here or row[here - 1].sort is not Sort.STOP or here + 1 >= len(row):
        return False
    return row[here + 1].text in ("the", "it", "they", "its", "because", "actually")


def _second_thought(row: Sequence[Word], here: int) -> int:
    """Length of ", no," or "sorry" and the like in mid-sentence, with its commas; 0 otherwise. Something must follow."""
    start = here
    opened = row[here].sort is Sort.COMMA or row[here].text in "-("
    start += opened
    for length in (3, 2, 1):
        stems = tuple(stem(w.text) for w in row[start : start + length])
        if len(stems) < length or stems not in lexicon().second_thoughts:
            continue
        after = start + length
        closed = after < len(row) and (row[after].sort is Sort.COMMA or row[after].text in "-)")
        plain_no = stems == ("no",)
        if here == 0 or row[here - 1].sort is Sort.STOP or not after + closed < len(row):
            return 0
        if row[after].sort is Sort.STOP or (plain_no and not (opened and closed)):
            return 0
        return after + closed - here
    return 0


def _drop_sentence(kept: list[Word]) -> int:
    """Take back the words up to the stop before; at a line's end the line itself."""
    count = 0
    while kept and kept[-1].sort is Sort.STOP:
        kept.pop()
    while kept and kept[-1].sort is not Sort.STOP:
        kept.pop()
        count += 1
    return count


def _drop_word(kept: list[Word]) -> int:
    """Take back the last word that carries sense."""
    function = lexicon().function
    while kept and kept[-1].sort is not Sort.STOP:
        if kept.pop().text not in function:
            return 1
    return 0
