"""A response in plain words: one spelling each, signs, dashes and arrows settled, articles passed over."""

from collections.abc import Sequence
from dataclasses import dataclass

from marker.kinds.direction.lexicon import Lexicon
from marker.kinds.words import Token, nearest, tokens

_PAIRED = {"\u0302": "hat", "ˆ": "hat"}
_HATS = {"î": "i", "ĵ": "j"}
BREAKS = {
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
    """One plain word with its place; `typed` as the candidate wrote it. Signs of stopping have the names of BREAKS."""

    text: str
    typed: str
    line: int
    start: int
    end: int


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


def plain_phrase(phrase: str, lexicon: Lexicon) -> tuple[str, ...]:
    """A phrase of a scheme in the plain words that responses are read in."""
    return tuple(w.text for w in plain_words((phrase,), lexicon) if w.text not in ("newline", "dash"))


def _plain(row: tuple[Token, ...], index: int, lexicon: Lexicon, bullets: bool) -> list[Word]:
    token = row[index]
    if token.text in _HATS:
        return [_word(token, _HATS[token.text]), _word(token, "hat")]
    text = _settled(row, index, lexicon, bullets)
    if not text or text in lexicon.dropped or text in _PASSED_OVER or text.startswith("\\"):
        return []
    if text in BREAKS:
        return [_word(token, BREAKS[text])]
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
