"""A response as a row of events: directions, names of what is asked, and the words that steer between them.

Text -> tokens (marker.kinds.words) -> plain words (`plain`) -> events (longest phrases).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from marker.kinds.direction.lexicon import Lexicon, Meaning
from marker.kinds.direction.plain import BREAKS, Word, plain_words
from marker.kinds.direction.vectors import Direction, pointing


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One thing said. `kind` is a kind of Meaning, a name of BREAKS, "newline", "number", or "word" for any other word."""

    kind: str
    text: str
    line: int
    start: int
    end: int
    options: tuple[Direction, ...] = ()
    asks: tuple[int, ...] = ()
    name: str = ""
    sign: float = 1.0
    weak: bool = False


def events(lines: Sequence[str], lexicon: Lexicon) -> tuple[Event, ...]:
    """What the response says, in order."""
    words = plain_words(lines, lexicon)
    texts = tuple(w.text for w in words)
    found: list[Event] = []
    at = 0
    while at < len(words):
        numbers = _vector(words, at)
        if numbers is not None:
            taken, direction = numbers
            found.append(_event(words, at, taken, Meaning(kind="direction", options=(direction,))))
            at += taken
            continue
        hit = lexicon.match(texts, at)
        taken, meaning = hit if hit is not None else (1, _single(words[at], lexicon))
        found.append(_event(words, at, taken, meaning))
        at += taken
    return tuple(_letters(found))


def _single(word: Word, lexicon: Lexicon) -> Meaning:
    if word.text in BREAKS.values() or word.text in ("newline", "dash"):
        return Meaning(kind=word.text)
    if word.text[0].isdecimal():
        return Meaning(kind="number", name=word.text)
    if word.typed in lexicon.letters:
        return Meaning(kind="symbol", name=lexicon.letters[word.typed])
    return Meaning(kind="and" if word.text == "+" else "word")


def _event(words: tuple[Word, ...], at: int, taken: int, meaning: Meaning) -> Event:
    first, last = words[at], words[at + taken - 1]
    text = " ".join(w.typed for w in words[at : at + taken])
    end = last.end if last.line == first.line else first.end
    return Event(
        kind=meaning.kind,
        text=text,
        line=first.line,
        start=first.start,
        end=end,
        options=meaning.options,
        asks=meaning.asks,
        name=meaning.name,
        weak=meaning.name == "weak",
    )


def _vector(words: tuple[Word, ...], at: int) -> tuple[int, Direction] | None:
    """ "(0, -1, 0)": how many words it takes, and the direction."""
    if words[at].text != "open":
        return None
    numbers: list[float] = []
    sign = 1.0
    for index in range(at + 1, min(at + 12, len(words))):
        text = words[index].text
        if text in ("dash", "-"):
            sign = -1.0
        elif text == "close":
            return (index - at + 1, pointing((numbers[0], numbers[1], numbers[2]))) if len(numbers) == 3 and any(numbers) else None
        elif text[0].isdecimal() and len(text) < 8 and text.replace(".", "", 1).isdecimal():
            numbers.append(sign * float(text))
            sign = 1.0
        elif text != "comma":
            return None
    return None


_EDGE = {
    "newline",
    "comma",
    "stop",
    "colon",
    "dash",
    "open",
    "close",
    "and",
    "equals",
    "ask",
    "slash",
    "quantity",
    "so",
    "or",
    "second_thoughts",
    "separate",
}


def _letters(found: list[Event]) -> list[Event]:
    """One-letter answers and arrows: a direction where they stand alone, else a word, or a sign that something follows."""
    out: list[Event] = []
    for index, event in enumerate(found):
        before = found[index - 1].kind if index else "newline"
        after = found[index + 1].kind if index + 1 < len(found) else "newline"
        if event.kind == "letter":
            alone = before in _EDGE and after in _EDGE and not (event.text in "•*·" and (before, after) == ("newline", "ask"))
            said = (
                alone
                or (event.text in ("L", "R") and before in ("word", "moving", "to") and after in _EDGE)
                or (event.text in ("N", "S", "E", "W") and before != "quantity" and after != "equals")
            )
            out.append(replace(event, kind="direction" if said else "word"))
        elif event.kind == "bare":
            out.append(replace(event, kind="direction" if after in _EDGE - {"quantity"} else "word"))
        elif event.kind == "symbol":
            # "I" is the candidate more often than the current
            out.append(replace(event, kind="quantity" if event.text != "I" or _says_where(found, index + 1) else "word"))
        elif event.kind == "arrow":
            out.append(replace(event, kind="direction" if _arrow_is_answer(found, index, before, after) else "so"))
        else:
            out.append(event)
    return out


def _says_where(found: list[Event], index: int) -> bool:
    """True when a direction, or a sign that one follows, comes next."""
    if index >= len(found):
        return False
    return found[index].kind in ("direction", "equals", "colon", "arrow") or found[index].text.lower() in ("is", "points", "flows")


def _arrow_is_answer(found: list[Event], index: int, before: str, after: str) -> bool:
    """True for an arrow that is a direction itself, False for one that leads on to the next thing said."""
    if after == "ask":
        return before in ("ask", "colon", "equals", "quantity")
    if after in ("direction", "arrow"):
        return not any(c.isalnum() for c in found[index + 1].text)
    return after in _EDGE - {"quantity"}
