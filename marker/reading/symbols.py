"""The part's symbols made ready for reading: spellings as keys, names as phrases, and the names physics always has."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from marker.physics.units import parse_unit
from marker.reading.alphabet import GREEK
from marker.reading.clean import clean
from marker.reading.model import SymbolTable
from marker.resources import grammar

_STRIP = str.maketrans("", "", "_{}(), ")
_GREEK_NAME = re.compile("|".join(sorted((k for k in GREEK if len(k) > 2 or k in ("mu", "nu", "pi", "xi", "Pi")), key=len, reverse=True)))
_KELVIN = parse_unit("K")[0][0].dimensions
_EACH = frozenset(("one", "each", "every", "single", "any"))
_ARTICLES = frozenset(("the", "a", "an", "its", "his", "her", "their", "our", "my", "your"))


@lru_cache(maxsize=1)
def words() -> Mapping[str, Any]:
    """grammars/words.toml as it stands."""
    return tomllib.loads(grammar("words.toml"))


@lru_cache(maxsize=1)
def index_words() -> frozenset[str]:
    """Words that index a letter they are joined to: Vout, Rtotal."""
    return frozenset(words()["symbols"]["indices"])


@lru_cache(maxsize=8192)
def key_of(spelling: str) -> str:
    """Spelling without underscores, brackets and spaces, Greek names as letters: "theta_1", "θ1" and "θ₁" are one."""
    plain = clean(spelling).text
    if plain.isascii():
        stem, mark, index = plain.partition("_")
        if stem in GREEK:
            plain = GREEK[stem] + mark + index
        else:
            greek = _GREEK_NAME.match(plain)
            if greek is not None and not plain[greek.end() :][:1].isalpha():
                plain = GREEK[greek.group()] + plain[greek.end() :]
            elif plain.lower().startswith("delta") and len(plain) > 5:
                plain = "Δ" + key_of(plain[5:].lstrip("_ "))
    return plain.translate(_STRIP)


@dataclass(frozen=True, slots=True, eq=False)
class Symbols:
    """A symbol table ready for use.

    exact    key -> symbol          folded  lower-case key -> symbol, where only one can be meant
    phrases  words -> symbol        vocabulary  words of the phrases
    indexed  (word, index) -> symbol, for "angle 1"
    units    names of the units the quantities have
    celsius  a quantity is a temperature, and none has to do with charge
    angles   symbols that are angles;  by_index  "1" -> the angle with that index
    """

    exact: Mapping[str, str]
    folded: Mapping[str, str]
    phrases: Mapping[tuple[str, ...], str]
    vocabulary: frozenset[str]
    indexed: Mapping[tuple[str, str], str]
    angles: frozenset[str]
    by_index: Mapping[str, str]
    longest: int
    longest_phrase: int
    starts: frozenset[str]
    units: frozenset[str] = frozenset()
    celsius: bool = False

    def known_letters(self, letters: str) -> bool:
        """True when the letters can be cut into the part's own symbols, functions and Greek names."""
        return _cuttable(self, letters)


@lru_cache(maxsize=512)
def compiled(table: SymbolTable) -> Symbols:
    exact: dict[str, str] = {}
    phrases: dict[tuple[str, ...], str] = {}
    angles, by_index = set(), {}
    for entry in table.entries:
        exact.setdefault(key_of(entry.name), entry.name)
    for entry in table.entries:
        for spelling in entry.spellings:
            exact.setdefault(key_of(spelling), entry.name)
        for name in entry.names:
            if name in GREEK:  # a letter: beside another one it is a factor, where a name would only say what a value is of
                exact.setdefault(key_of(name), entry.name)
            else:
                phrases.setdefault(phrase_key(name), entry.name)
        if entry.angle:
            angles.add(entry.name)
            index = key_of(entry.name)[-1]
            if index.isdigit():
                by_index[index] = entry.name
    phrases.pop((), None)
    measured = [u for entry in table.entries if entry.unit for u, _ in parse_unit(entry.unit)[:1]]
    indexed = _indexed(table)
    return Symbols(
        exact=exact,
        folded=_folded(exact),
        phrases=phrases,
        vocabulary=frozenset(w for p in phrases for w in p),
        indexed=indexed,
        angles=frozenset(angles),
        by_index=by_index,
        longest=max((len(k) for k in exact), default=1),
        longest_phrase=max((len(p) for p in phrases), default=0),
        starts=frozenset(k[0] for k in exact if k),
        units=frozenset(u.name for u in measured),
        celsius=any(u.dimensions == _KELVIN for u in measured) and not any(u.dimensions[3] for u in measured),
    )


def _folded(exact: Mapping[str, str]) -> Mapping[str, str]:
    found: dict[str, set[str]] = {}
    for key, name in exact.items():
        found.setdefault(key.lower(), set()).add(name)
    return {key: next(iter(names)) for key, names in found.items() if len(names) == 1}


def _indexed(table: SymbolTable) -> Mapping[tuple[str, str], str]:
    """("pressure", "1") -> p1 when p1 is called a pressure, or shares its letter with something that is."""
    found: dict[tuple[str, str], str] = {}
    for entry in table.entries:
        key = key_of(entry.name)
        if not key[-1:].isdigit():
            continue
        nouns = {w for name in entry.names for w in phrase_key(name) if w not in ("of", "in", "first", "second", "initial", "final")}
        nouns = {w for w in nouns if len(w) > 1}  # the n of "n of the prism" is a letter, and n1 a factor beside others
        nouns |= {p[0] for p in (phrase_key(n) for n in entry.names) if len(p) == 1}
        if entry.angle:
            nouns.add("angle")
        for noun in nouns:
            found.setdefault((noun, key[-1]), entry.name)
    return found


def phrase_key(text: str) -> tuple[str, ...]:
    """Words of a name without articles and plural endings: "the angles of refraction" -> (angle, of, refraction).

    "The energy of one photon", "of each photon" and "of a photon" are one name.
    """
    parts = re.findall(r"[a-z]+", text.lower().replace("'s", ""))
    kept = [w for n, w in enumerate(parts) if not (w in _EACH and n and parts[n - 1] == "of" and n + 1 < len(parts))]
    return tuple(singular(w) for w in kept if w not in _ARTICLES)


def singular(word: str) -> str:
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word


@lru_cache(maxsize=4096)
def _cuttable(symbols: Symbols, letters: str) -> bool:
    reach = [True] + [False] * len(letters)
    functions = FUNCTION_NAMES
    for start in range(len(letters)):
        if not reach[start]:
            continue
        for end in range(start + 1, min(len(letters), start + max(8, symbols.longest)) + 1):
            piece = letters[start:end]
            if piece in symbols.exact or piece in functions or piece in GREEK or piece in ("x", "X"):
                reach[end] = True
    return reach[-1]


def nearest(word: str, vocabulary: frozenset[str]) -> str | None:
    """The one word of the vocabulary a slip of the finger away (words of six letters or more)."""
    if len(word) < 6:
        return None
    close = [w for w in vocabulary if abs(len(w) - len(word)) <= 1 and len(w) >= 5 and one_slip(word, w)]
    return close[0] if len(close) == 1 else None


def one_slip(a: str, b: str) -> bool:
    """One letter changed, missing, added, or two neighbours exchanged."""
    if len(a) < len(b):
        a, b = b, a
    start = 0
    while start < len(b) and a[start] == b[start]:
        start += 1
    if len(a) > len(b):
        return a[start + 1 :] == b[start:]
    return a[start + 1 :] == b[start + 1 :] or (a[start : start + 2][::-1] == b[start : start + 2] and a[start + 2 :] == b[start + 2 :])


FUNCTION_NAMES: Mapping[str, str] = {
    "sin": "sin", "cos": "cos", "tan": "tan", "sine": "sin", "cosine": "cos", "tangent": "tan",
    "sinh": "sinh", "cosh": "cosh", "tanh": "tanh",
    "asin": "asin", "acos": "acos", "atan": "atan", "arcsin": "asin", "arccos": "acos", "arctan": "atan",
    "invsin": "asin", "invcos": "acos", "invtan": "atan", "sininv": "asin", "cosinv": "acos", "taninv": "atan",
    "ln": "ln", "log": "log10", "lg": "log10", "exp": "exp", "abs": "abs",
}  # fmt: skip
INVERSE: Mapping[str, str] = {"sin": "asin", "cos": "acos", "tan": "atan"}
