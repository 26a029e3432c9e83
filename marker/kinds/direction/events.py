"""A response as a row of events: directions, names of what is asked, and the words that steer between them.

Text -> tokens (marker.kinds.words) -> plain words (one spelling each, signs and arrows settled) -> events (longest phrases).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from marker.kinds.direction.lexicon import Lexicon, Meaning
from marker.kinds.direction.vectors import Direction, pointing
from marker.kinds.words import Token, nearest, tokens

_PAIRED = {"\u0302": "hat", "ˆ": "hat"}
_HATS = {"î": "i", "ĵ": "j"}
_BREAKS = {
    ",": "comma",
    ";": "stop",
    ".": "stop",
    "!": "stop",
    ":": "colon",
    "(": "open",
    ")": "close",
    "[": "open",
    "]": "close",
    "/": "slash",
    "|": "slash",
    "~~": "strike",
    "=": "equals",
}
_DASHES = ("-", "−", "–", "—")
_PASSED_OVER = frozenset("$'\"“”‘’*_{}\\\ufe0f?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """One plain word with its place; `typed` as the candidate wrote it. Signs of stopping have the names of _BREAKS."""

    text: str
    typed: str
    line: int
    start: int
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One thing said. `kind` is a kind of Meaning, a name of _BREAKS, "newline", "number", or "word" for any other word."""

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


def plain_words(lines: Sequence[str], lexicon: Lexicon) -> tuple[Word, ...]:
    """The response in plain words, articles and hyphens passed over, a "newline" between lines."""
    row = tokens(lines)
    bullets = _bulleted(row)
    words: list[Word] = []
    for index, token in enumerate(row):
        before = row[index - 1] if index else None
        if before is not None and before.line != token.line:
            words.append(Word(text="newline", typed="", line=before.line, start=before.end, end=before.end))
        words.extend(_plain(row, index, lexicon, bullets))
    return tuple(words)


def _plain(row: tuple[Token, ...], index: int, lexicon: Lexicon, bullets: bool) -> list[Word]:
    token = row[index]
    if token.text in _HATS:
        return [_word(token, _HATS[token.text]), _word(token, "hat")]
    text = _settled(row, index, lexicon, bullets)
    if not text or text in lexicon.dropped or text in _PASSED_OVER or text.startswith("\\"):
        return []
    if text in _BREAKS:
        return [_word(token, _BREAKS[text])]
    text = lexicon.same.get(text, text)
    if len(text) >= 4 and text.isalpha() and text not in lexicon.vocabulary:
        close = {lexicon.same.get(word, word) for word in nearest(text, lexicon.vocabulary, lexicon.real)}
        text = next(iter(close)) if len(close) == 1 else text
    return [] if text in lexicon.dropped else [_word(token, text)]


def _settled(row: tuple[Token, ...], index: int, lexicon: Lexicon, bullets: bool) -> str:
    """The token with its sign, dash, arrow or stop settled; "" when it says nothing by itself."""
    text = row[index].text
    if text in _DASHES:
        return _dash(row, index, lexicon, bullets)
    if text == "+":
        return "positive" if _followed_by_ve(row, index) else "+"
    if text == "ve" and index and not row[index].spaced and row[index - 1].text in ("+", *_DASHES):
        return ""
    if text in (".", ",") and _inside_abbreviation(row, index):
        return ""
    return lexicon.symbols.get(text, _PAIRED.get(text, text))


def _followed_by_ve(row: tuple[Token, ...], index: int) -> bool:
    return index + 1 < len(row) and row[index + 1].text == "ve" and not row[index + 1].spaced


def _word(token: Token, text: str) -> Word:
    return Word(text=text, typed=token.typed, line=token.line, start=token.start, end=token.end)


def _inside_abbreviation(row: tuple[Token, ...], index: int) -> bool:
    """True for the stops of "i.e." and "e.g.", which end nothing."""
    before = row[index - 1] if index else None
    after = row[index + 1] if index + 1 < len(row) else None
    if before is None or row[index].spaced or len(before.text) != 1 or not before.text.isalpha():
        return False
    inner = after is not None and not after.spaced and after.line == before.line and len(after.text) == 1 and after.text.isalpha()
    outer = index > 2 and row[index - 2].text == "." and not row[index - 2].spaced
    return inner or outer


def _bulleted(row: tuple[Token, ...]) -> bool:
    """True when every line begins with a dash, and there are two or more: a list, not minus signs."""
    firsts = [t for i, t in enumerate(row) if i == 0 or row[i - 1].line != t.line]
    return len(firsts) > 1 and all(t.text in _DASHES for t in firsts)


def _dash(row: tuple[Token, ...], index: int, lexicon: Lexicon, bullets: bool) -> str:
    """A minus sign "-", a "dash" between thoughts, or nothing (a hyphen)."""
    token = row[index]
    before = row[index - 1] if index and row[index - 1].line == token.line else None
    after = row[index + 1] if index + 1 < len(row) and row[index + 1].line == token.line else None
    glued_after = after is not None and not after.spaced
    glued_before = before is not None and not token.spaced
    if after is None:
        named_last = lexicon.minus_names and before is not None and before.text in ("for", "on", "the", "if", "and")
        return "-" if named_last or (glued_before and before is not None and before.text == "(") else "dash"
    if glued_after and glued_before and before is not None and before.text.isalpha() and after.text.isalpha() and token.text != "—":
        return ""
    if glued_after and (after.text in ("x", "y", "z", "i", "j", "k", "ve") or after.text in ("î", "ĵ", "\\hat", "k\u0302")):
        return "negative" if after.text == "ve" else "-"
    if token.text in ("–", "—"):
        return "dash"
    starts = before is None or before.text in (",", ";", ".", "/", "and", "(", "&", "|", "the", "on", "for")
    if after.text in (":", ")", "=", "ion", "charge", "particle") and (starts or after.text != ")" or glued_before):
        return "-"
    if lexicon.minus_names and starts and not bullets and not _names_follow(row, index + 1, lexicon):
        return "-"
    return "dash"


def _names_follow(row: tuple[Token, ...], index: int, lexicon: Lexicon) -> bool:
    """True when the next word names something asked, so that the dash before it is a bullet."""
    text = lexicon.same.get(row[index].text, row[index].text)
    return any(meaning.kind == "ask" and phrase == (text,) for phrase, meaning in lexicon.phrases.get(text, ()))


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
    if word.text in _BREAKS.values() or word.text in ("newline", "dash"):
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
