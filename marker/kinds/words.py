"""Text helpers that kinds of short answer share: words with their places, spelling tolerance, limits."""

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from marker.results import LineReport

LONGEST_LINE = 1000
MOST_LINES = 40

_TOKEN = re.compile(r"\\[A-Za-z]+|[^\W\d_]+(?:['’`][^\W\d_]+)*|\d+(?:[.,]\d+)*|~~|->|=>|-->|<-|[^\w\s]|_")
_BLANK = frozenset("-–—.?/~_ \t*…x")
_PASSES = frozenset(
    {
        "idk",
        "dunno",
        "pass",
        "na",
        "n/a",
        "no idea",
        "none given",
        "don't know",
        "dont know",
        "do not know",
        "i dont know",
        "i don't know",
        "i do not know",
        "not sure",
        "no clue",
        "?",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Token:
    """One word, number or sign as typed. `text` is in lower case without apostrophes; columns count from 0, end excluded.

    spaced    white space or the start of the line stands before it;  line  from 1
    """

    text: str
    typed: str
    line: int
    start: int
    end: int
    spaced: bool


def tokens(lines: Sequence[str]) -> tuple[Token, ...]:
    """The words and signs of a response in order, within the limits of length."""
    found: list[Token] = []
    for number, line in enumerate(lines[:MOST_LINES], start=1):
        before = 0
        for match in _TOKEN.finditer(line[:LONGEST_LINE]):
            typed = match.group()
            text = _plain(typed)
            if text:
                found.append(
                    Token(
                        text=text,
                        typed=typed,
                        line=number,
                        start=match.start(),
                        end=match.end(),
                        spaced=match.start() > before or before == 0,
                    )
                )
            before = match.end()
    return tuple(found)


def _plain(typed: str) -> str:
    text = unicodedata.normalize("NFKC", typed) if typed.isalpha() and typed not in ("º", "ª") else typed
    text = text.lower().replace("’", "'").replace("`", "'")
    if len(text) > 1 and "'" in text:
        text = text.removesuffix("'s").replace("'", "")
    return text


def too_long(lines: Sequence[str]) -> bool:
    """True when some of the response lies beyond what is read."""
    return len(lines) > MOST_LINES or any(len(line) > LONGEST_LINE for line in lines)


def is_blank(lines: Sequence[str]) -> bool:
    """True for an empty response, a dash or another filler, and for "don't know" alone."""
    text = " ".join(lines).strip().lower().replace("’", "'")
    if not text or (len(text) <= 5 and all(c in _BLANK - {"x"} for c in text)):
        return True
    return text.strip(" .!?") in _PASSES


@lru_cache(maxsize=50_000)
def nearest(word: str, vocabulary: frozenset[str], real: frozenset[str]) -> frozenset[str]:
    """The words of the vocabulary that `word` is most nearly a slip of; empty when there is none.

    One slip (a letter missing, extra, wrong, or two exchanged) in a word of four letters or more, two from nine letters on.
    The first letter must be right, or exchanged with the second. A word of `real` is never taken for another.
    """
    if word in vocabulary:
        return frozenset((word,))
    if not 4 <= len(word) <= 24 or not word.isalpha() or word in real:
        return frozenset()
    allowed = 2 if len(word) >= 9 else 1
    best: dict[int, set[str]] = {}
    for known in vocabulary:
        if len(known) >= 4 and abs(len(known) - len(word)) <= allowed and _starts_alike(word, known):
            best.setdefault(_slips(word, known, allowed), set()).add(known)
    fewest = min(best, default=allowed + 1)
    return frozenset(best[fewest]) if fewest <= allowed else frozenset()


def _starts_alike(word: str, known: str) -> bool:
    return word[0] == known[0] or (word[0] == known[1] and word[1] == known[0])


def _slips(a: str, b: str, limit: int) -> int:
    """Restricted Damerau-Levenshtein distance, or limit + 1 when it is larger (Damerau 1964; Wagner & Fischer 1974)."""
    before: list[int] = []
    row = list(range(len(b) + 1))
    for i, x in enumerate(a, start=1):
        after = [i]
        for j, y in enumerate(b, start=1):
            cost = min(row[j] + 1, after[j - 1] + 1, row[j - 1] + (x != y))
            if i > 1 and j > 1 and x == b[j - 2] and a[i - 2] == y:
                cost = min(cost, before[j - 2] + 1)
            after.append(cost)
        if min(after) > limit:
            return limit + 1
        before, row = row, after
    return row[-1]


def line_reports(
    lines: Sequence[str], verdicts: dict[int, tuple[str, str, tuple[str, ...]]], unread: frozenset[int] = frozenset()
) -> tuple[LineReport, ...]:
    """A report for every typed line. `verdicts` gives line number -> (verdict, note, readings); the others are remarks, or unread."""
    reports = []
    for number, text in enumerate(lines, start=1):
        verdict, note, readings = verdicts.get(number, ("unread" if number in unread else "remark", "", ()))
        reports.append(LineReport(number=number, text=text, verdict=verdict, note=note, readings=readings))
    return tuple(reports)


def in_words(items: Sequence[str], joiner: str = "and") -> str:
    """ "a", "a and b", "a, b and c"."""
    if len(items) <= 1:
        return "".join(items)
    return f"{', '.join(items[:-1])} {joiner} {items[-1]}"
