"""Typed lines as a row of tokens: spelling mended, phrases of the thesaurus found, letters read as what they stand for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from marker.frozen import frozen
from marker.kinds.written.claims.thesaurus import Entry, Sense, root, thesaurus
from marker.kinds.written.claims.units import UNITS, without_units
from marker.kinds.written.lexicon import lexicon
from marker.kinds.written.second_thoughts import withdraw
from marker.kinds.written.spelling import distance, mend, slips_allowed
from marker.kinds.written.text import Sort, Word, words

_ARTICLES = frozenset(("the", "a", "an", "its", "their", "this", "that", "these", "those", "his", "her"))
_SOUNDS = (("ph", "f"), ("igh", "i"), ("ck", "k"), ("kn", "n"), ("wr", "r"), ("sh", "t"), ("c", "k"))


@frozen
class Token:
    """One word or phrase. `kind` as in the thesaurus, or "article", "and", "comma", "stop", "number", "sign", "letters", "light", "word".

    senses  families with signs;  known  it is a word of the question, the scheme or physics, or a common one
    """

    kind: str
    senses: tuple[Sense, ...] = ()
    way: str = ""
    forms: frozenset[str] = frozenset()
    text: str
    typed: str
    line: int
    at: tuple[int, int]
    known: bool = True
    rivals: tuple[str, ...] = ()

    @property
    def concept(self) -> str:
        return self.senses[0][0] if self.senses else self.text


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Speech:
    """What one part's words are: `own` phrases of the scheme's terms, `used` families the question and the scheme speak of.

    right  stems that need no mending;  terms  those a misspelling may be mended to
    """

    own: Mapping[str, tuple[tuple[tuple[str, ...], Entry], ...]]
    letters: Mapping[str, tuple[str, ...]]
    used: frozenset[str]
    right: frozenset[str]
    terms: tuple[str, ...]


@frozen(kw_only=False)
class _Stemmed:
    word: Word
    stem: str
    known: bool
    rivals: tuple[str, ...] = ()


@lru_cache(maxsize=20_000)
def tokens(lines: tuple[str, ...], speech: Speech) -> tuple[Token, ...]:
    """A response as tokens, each by itself, without what the candidate took back. Never raises."""
    row = [_spelt(w, speech) for w in _grouped(without_units(withdraw(words(lines)).words))]
    found: list[Token] = []
    here = 0
    while here < len(row):
        token, used = _token(row, here, speech)
        found.append(token)
        here += used
    return tuple(found)


def _grouped(row: Sequence[Word]) -> list[Word]:
    """Letters of a product brought together: I, squared, R is I2R; h × f is hf."""
    groups = thesaurus().groups
    made: list[Word] = []
    here = 0
    while here < len(row):
        for length in (5, 4, 3, 2):
            span = row[here : here + length]
            text = "".join(_plain(w) for w in span)
            if len(span) == length and text in groups and span[0].line == span[-1].line and any(len(w.typed) == 1 for w in span):
                made.append(replace(span[0], text=text, typed=text, at=(span[0].at[0], span[-1].at[1]), sort=Sort.WORD))
                here += length
                break
        else:
            made.append(row[here])
            here += 1
    return made


def _plain(word: Word) -> str:
    return {"squared": "2", "×": ""}.get(word.text, word.typed)


def _spelt(word: Word, speech: Speech) -> _Stemmed:
    if word.sort is not Sort.WORD:
        return _Stemmed(word, word.text, True)
    plain = root(word.text)
    if (lesser := _comparative(word.text)) is not None:
        return _Stemmed(word, lesser, True)
    if plain in speech.right or word.text in speech.right or len(word.text) < 4 or word.typed in thesaurus().groups:
        return _Stemmed(word, plain, True)
    if any(plain.endswith(e) and plain[: -len(e)] in speech.used for e in ("i", "ier", "iest", "y")):
        return _Stemmed(word, plain, True)
    if plain.startswith("re") and len(plain) > 5 and plain[2:] in speech.right:
        return _Stemmed(word, plain[2:], True)
    for prefix in ("un", "non", "dis"):
        if plain.startswith(prefix) and plain[len(prefix) :] in speech.right and len(plain) > len(prefix) + 3:
            return _Stemmed(word, plain, True)
    meant, rivals = _meant(plain, speech)
    if meant is None and not rivals and word.text != plain:
        meant, rivals = _meant(word.text, speech)
    return _Stemmed(word, meant or plain, meant is not None, rivals)


def _comparative(text: str) -> str | None:
    """ "Fastest" as "faster", where that is a word of change or degree; None for other words."""
    if len(text) < 6 or not text.endswith("est"):
        return None
    lesser = root(text[:-2] + "r")
    return lesser if any(len(p) == 1 for p, e in thesaurus().phrases.get(lesser, ()) if e.kind in ("way", "named way")) else None


@lru_cache(maxsize=50_000)
def _meant(word: str, speech: Speech) -> tuple[str | None, tuple[str, ...]]:
    """The known word a misspelling stands for, by its letters or else by its sound."""
    found = mend(word, speech.terms, lexicon().collisions)
    if found.word is not None or found.rivals:
        return found.word, found.rivals
    sound, most = _sound(word), slips_allowed(len(word))
    near = sorted((distance(sound, _sound(t), most), t) for t in speech.terms if abs(len(t) - len(word)) <= 3)
    best = [t for d, t in near if near and d == near[0][0] <= most]
    return (best[0], ()) if len(best) == 1 and len(word) > 3 else (None, ())


@lru_cache(maxsize=50_000)
def _sound(word: str) -> str:
    for letters, plain in _SOUNDS:
        word = word.replace(letters, plain)
    return word


def _token(row: Sequence[_Stemmed], here: int, speech: Speech) -> tuple[Token, int]:
    start = row[here]
    if plain := _mark(start):
        return plain, 1
    if group := thesaurus().groups.get(start.word.typed):
        own = next((e.senses for p, e in speech.own.get(start.stem, ()) if len(p) == 1), ())
        return _make((start,), "letters", tuple(dict.fromkeys((*own, *((c, 1) for c in group))))), 1
    stems = tuple(s.stem for s in row[here : here + 8])
    for table in (speech.own, thesaurus().phrases):
        for phrase, entry in table.get(stems[0], ()):
            if stems[: len(phrase)] == phrase and not _letter(start, len(phrase), speech):
                return _stopping(_made(row[here : here + len(phrase)], entry), row[here + len(phrase) :]), len(phrase)
    return _word(row, here, speech), 1


def _stopping(token: Token, rest: Sequence[_Stemmed]) -> Token:
    """ "Stops accelerating" denies what follows; "stops the light" does not."""
    gerund = bool(rest) and rest[0].word.text.endswith("ing") and rest[0].word.text not in ("ring", "string", "spring", "wing")
    return replace(token, kind="not", senses=()) if gerund and token.text in ("stop", "keep from") else token


def _letter(start: _Stemmed, length: int, speech: Speech) -> bool:
    """True for a single capital or Greek letter that stands for a quantity: "I", not "i"."""
    return length == 1 and len(start.word.typed) == 1 and start.word.typed in speech.letters and start.word.typed not in ("a", "A", "i")


def _mark(start: _Stemmed) -> Token | None:
    word = start.word
    kinds = {Sort.STOP: "stop", Sort.COMMA: "comma"}
    if word.sort in kinds:
        return _make((start,), kinds[word.sort])
    if word.text == "and" or word.text == "or":
        return _make((start,), "and")
    return None


def _make(span: Sequence[_Stemmed], kind: str, senses: tuple[Sense, ...] = ()) -> Token:
    first, last = span[0].word, span[-1].word
    return Token(
        kind=kind,
        senses=senses,
        text=" ".join(s.stem for s in span),
        typed=" ".join(s.word.typed for n, s in enumerate(span) if n == 0 or s.word.at != span[n - 1].word.at),
        line=first.line,
        at=(first.at[0], last.at[1] if last.line == first.line else first.at[1]),
        known=all(s.known for s in span),
        rivals=next((s.rivals for s in span if s.rivals), ()),
    )


def _made(span: Sequence[_Stemmed], entry: Entry) -> Token:
    made = _make(span, entry.kind, entry.senses)
    text = span[0].word.text
    if entry.kind in ("pronoun", "preposition", "join") and len(span) == 1 and text in _ARTICLES:
        made = replace(made, kind="pronoun" if entry.kind == "pronoun" and text not in _ARTICLES else "article")
    return replace(made, way=entry.way, forms=entry.forms)


def _word(row: Sequence[_Stemmed], here: int, speech: Speech) -> Token:
    """A letter, a number, a sign, a little word, or a word that stands for itself."""
    start = row[here]
    word = start.word
    if word.text in _ARTICLES and not (word.text == "a" and _stands_alone(row, here)):
        return _make((start,), "article")
    if word.sort is Sort.NUMBER:
        text = word.text.rstrip("0").rstrip(".") if "." in word.text else word.text
        return _make((start,), "number", ((f"n:{text}", 1),))
    if word.sort is not Sort.WORD and not word.text.isalpha():
        return _make((start,), "sign")
    if word.text in UNITS and here and row[here - 1].word.sort is Sort.NUMBER and row[here - 1].word.line == word.line:
        return _make((start,), "unit")
    if (meant := _stands_for(word, row, here, speech)) is not None:
        return _make((start,), "letters", ((meant, 1),))
    known = thesaurus()
    if start.stem in known.light or word.text in lexicon().function:
        return _make((start,), "light", ((start.stem, 1),))
    return _make((start,), "word", ((start.stem, 1),))


def _stands_alone(row: Sequence[_Stemmed], here: int) -> bool:
    after = row[here + 1].word if here + 1 < len(row) else None
    return after is not None and after.text in ("=", "∝")


def _stands_for(word: Word, row: Sequence[_Stemmed], here: int, speech: Speech) -> str | None:
    """The quantity a letter stands for: one the question or the scheme speaks of, else the usual one."""
    if len(word.text) > 1 and not (len(word.typed) == 2 and word.typed[0] in "Δδ"):
        return None
    typed = word.typed[-1] if word.typed[0] != "\\" else word.text
    meanings = speech.letters.get(typed, ())
    before = row[here - 1].word if here else None
    unit = before is not None and before.sort is Sort.NUMBER and before.line == word.line and before.at[1] + 1 >= word.at[0]
    spoken_of = typed != "i" or any(
        w is not None and w.text in "<>=" for w in (before, row[here + 1].word if here + 1 < len(row) else None)
    )
    if not meanings or unit or not spoken_of:
        return None
    return next((m for m in meanings if m in speech.used), meanings[0])
