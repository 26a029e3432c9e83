"""The cleaned line cut into items: numbers with their units, letters, signs, brackets, words.

A word that means a sign, a relation, a pause or a crossing-out is found here (grammars/words.toml), and so is the name of
one of the part's quantities. Whether a word of prose stands for a quantity is decided in marker.reading.segments.
"""

from __future__ import annotations

import re

from marker.physics import units
from marker.reading.clean import Clean
from marker.reading.item import Item
from marker.reading.numbers import MULTIPLIER
from marker.reading.phrasebook import common_words
from marker.reading.spoken import RELATIONS, SIGNS, Spoken
from marker.reading.symbols import Symbols, key_of

_DECIMAL_COMMA = re.compile(r"\d,\d")
_ITEM = re.compile(
    r"(?P<number>\d+(?:[.,·]\d+)*\u0307?(?:(?<=\d) ?rec(?:urring)?\b)?|\.\d+|[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞∞])"
    r"|(?P<script>_(?:\{[^}]*\}|\([^)]*\)|[A-Za-z0-9∥⊥Α-ω]+))"
    r"|(?P<word>[A-Za-z]+(?:'(?:s|t|re|ve|ll|d|m)\b)?)"
    r"|(?P<space>\s+)"
    r"|(?P<other>.)",
    re.DOTALL,
)
_CHARGE = re.compile(r"[+-]\s?ve\b", re.IGNORECASE)
_PERCENT_LABEL = re.compile(
    r"%\s?(?:(?:of|in|for|uncertainty|unc|uncert|error|err|change)\b\s*){0,3}(Δ?[^\W\d_](?:_?\{?\w{1,4}\}?)?|Δ?[^\W\d_]\d?)\s*(?==|≈|is\b)"
)
_DOTTED = re.compile(r"(?:p\.\s?d|e\.\s?m\.\s?f|g\.\s?p\.\s?e|[kp]\.\s?e)(?:\.|\b)", re.IGNORECASE)
_INNER_LABEL = re.compile(r"\(\s?([ivx]{1,4}|[IVX]{1,4}|[a-h])\s?\)\s*[:.]?(?=\s\s?[A-Za-z\dπ½√])|([ivx]{1,4}|[a-h])\)(?=\s)")
_FIGURES = re.compile(r"\d\s?(?:s\.?\s?f\.?|d\.?\s?p\.?|sig\w*\.?\s?fig\w*|decimal\s?places?)(?![A-Za-z])", re.IGNORECASE)
_INDEX_THEN_RELATION = re.compile(r"\d{1,2}\s?=")
_VALUE_ONLY = re.compile(r"[=≈]\s*-?[\d.,]+(?:\s?[xX×*·]\s?10\s?\^?\s?\(?\s?-?\d+\)?)?\s*$")
_OWN_SUBJECT = re.compile(r"\s*([^\W\d_][\w]*)\s?=")
_TIMES_TEN = re.compile(r"\.\s*10\s?\^")
_DATUM = re.compile(r"[^\W\d_]\w?\s?=\s?[-.\d]")
_LAST_NUMBER = re.compile(r"[\d.,]+\s*$")
_FIRST_VALUE = re.compile(
    r"\s*=\s*([-\d.,]+)(?:\s?[xX×*·]\s?10\s?\^?\s?\(?-?\d+\)?|[eE][-+]?\d+)?(?:\s?([^\W\d_][^\s=,;]{0,8}))?(?=[\s=,;]|$)(?!\s*(?:[×*·/+^(-]|[xX]\s*\d))"
)
_ALIKE = 0.05
_LETTER_AND_UNIT = frozenset("VNRJ")  # quantity and unit of one letter


_JOINING = frozenset("=≈≃<>≤≥∝+−-±*×·/÷^")


class Scanner(Spoken):
    """Cuts a cleaned text into items."""

    def __init__(self, clean: Clean, symbols: Symbols, used: frozenset[str]) -> None:
        self.clean = clean
        self.text = clean.text
        self.symbols = symbols
        self.used = used
        found = [(m.lastgroup or "", m.start(), m.end(), m.group()) for m in _ITEM.finditer(self.text)]
        # a wide gap parts what stands on either side, unless a sign there joins them
        self.raw = [("other", a, b, "\n") if g == "space" else (g, a, b, t) for g, a, b, t in found if g != "space" or self._parts(a, b)]
        self.lower = [r[3].lower() for r in self.raw]
        self.items: list[Item] = []

    def _parts(self, start: int, end: int) -> bool:
        """A gap of three spaces or more with no relation or operation beside it."""
        return end - start > 2 and not {self.text[start - 1 : start], self.text[end : end + 1]} & _JOINING

    def run(self) -> list[Item]:
        i = 0
        while i < len(self.raw):
            i = self._step(i)
        return self.items

    def _step(self, i: int) -> int:
        group, start, end, text = self.raw[i]
        if text in "(ivxabcdefghIVX" or text.lower() in ("ii", "iii", "iv", "vi"):
            label = self._label(start)
            if label is not None:
                self._put("b", start, label.end(), ("label", (label.group(1) or label.group(2)).lower()))
                return self._index_at(i + 1, label.end())
        if group == "word":
            dotted = _DOTTED.match(self.text, start)
            if dotted is not None:
                self._put("n", start, dotted.end(), self._dotted(dotted.group()))
                return self._index_at(i + 1, dotted.end())
            return self._word(i)
        if group == "other":
            return self._mark(i, start, end, text)
        if group == "number":
            return self._number(i, start, end)
        self._put("m", start, end)
        return i + 1

    def _dotted(self, typed: str) -> tuple[str, bool]:
        """p.d., e.m.f., k.e., the part's own where it has them."""
        plain = typed.replace(".", "").replace(" ", "").lower()
        plain = plain.upper() if plain.endswith("e") else plain
        known = self.symbols.exact.get(plain) or self.symbols.phrases.get((plain,))
        return (known, True) if known is not None else (plain, False)

    def _label(self, start: int) -> re.Match[str] | None:
        """ "(ii)" after a space, "b)" after a pause, inside a line."""
        before = self.items[-1] if self.items else None
        if before is None:
            return None
        found = _INNER_LABEL.match(self.text, start)
        if found is None or (found.group(2) is not None and before.kind != "b"):
            return None
        return found if before.kind in "b)mwx" and self.text[start - 1 : start] in (" ", ";", ",") else None

    def _number(self, i: int, start: int, end: int) -> int:
        figures = _FIGURES.match(self.text, start)
        if figures is not None:
            self._put("w", start, figures.end())
            return self._index_at(i + 1, figures.end())
        word = MULTIPLIER.match(self.text, end)
        if word is not None:
            self._put("m", start, word.end())
            return self._unit_after(self._index_at(i + 1, word.end()) - 1, word.end())
        self._put("m", start, end)
        before = self.text[start - 1 : start]
        exponent = before in ("e", "E") and self.text[start - 2 : start - 1].isdigit()
        lettered = before.isalpha() and before not in "xX" and not exponent
        index = before == "_" or (before == "^" and self.text[start - 3 : start - 1] != "10") or lettered
        return i + 1 if index else self._unit_after(i, end)

    # ---- units ----

    def _unit_after(self, i: int, end: int) -> int:
        """Takes the unit after a number or a bracket whole, so that its words are not taken for prose."""
        at = end + 1 if self.text[end : end + 1] == " " else end
        stop = self._unit_end(at, spaced=at > end)
        if stop is None:
            return i + 1
        self._put("m", at, stop, "unit")
        return self._index_at(i + 1, stop)

    def _index_at(self, i: int, stop: int) -> int:
        while i < len(self.raw) and self.raw[i][1] < stop:
            i += 1
        return i

    def _unit_end(self, at: int, spaced: bool) -> int | None:
        text = self.text
        if at >= len(text) or not (text[at].isalpha() or text[at] in "°%'\""):
            return None
        ends = {at + s.end for s in units.scan_from(text, at)}
        ends = {e for e in ends if not (text[e - 1].isalpha() and text[e : e + 1].isalpha())}
        return next((stop for stop in sorted(ends, reverse=True) if self._is_unit(at, stop, spaced)), None)

    def _is_unit(self, at: int, stop: int, spaced: bool) -> bool:
        """False where the last letters of the would-be unit belong to what follows, or are a word."""
        text = self.text
        last = re.split(r"[\s·./]", text[at:stop])[-1]
        following = text[stop : stop + 40].lstrip()
        if _INDEX_THEN_RELATION.match(text, stop):
            return False  # u1 = 1.4 after a number
        if following[:1] == "=" and " " in text[at:stop] and _same_quantity(text, at, stop):
            return True
        if following[:1] == "=" and spaced and last in self.symbols.exact and len(last) > 1 and _VALUE_ONLY.search(text, 0, at):
            return False
        if text[stop : stop + 1] in ("_", "^") or following[:1] == "^":
            return False
        alone, single = last == text[at:stop], len(last) == 1 and last.isalpha()
        indexed = last[:1].isalpha() and last[1:].isdigit()
        per = text[stop - len(last) - 1 : stop - len(last)] == "/"  # miles/hour
        if last.lower() in common_words() and not per and (not alone or last in ("as", "am", "at")):
            return False
        if last == "in" and following[:1].isdigit():
            return False
        if alone and single and spaced and following[:1] == "=" and re.search(rf"(?:sin|cos|tan) ?\(?{re.escape(last)}(?!\w)", text[:at]):
            return False  # sinC = 1/1.5 C = 42
        if single and following[:1] in ("=", "≈") and (last in self.symbols.exact or last in self.used):
            subject = _OWN_SUBJECT.match(text)
            own = subject is not None and subject.group(1) == last  # V = … = 8.3 V = …
            return alone and ((own and last in _LETTER_AND_UNIT) or not (spaced and (own or _VALUE_ONLY.search(text, 0, at))))
        if single and not alone and following[:1] == "=" and text[stop - 2] == " " and len(_DATUM.findall(text)) > 2:
            return _FIRST_VALUE.match(text, stop) is None  # a = 0.85 m/s2 s = 3.6 m in a list of data
        if (single or indexed) and alone and spaced and following[:1] == "=" and self._listed(at, stop):
            return False
        if last.lower() in ("over", "times", "plus", "minus"):
            return False
        return not (single and following[:1].isalpha() and text[stop : stop + 1].isalpha())

    def _listed(self, at: int, stop: int) -> bool:
        """In a list of data, letter = number more than once, the letter at `at` begins the next one: u = 2.4 a = 0.85 s = 3.6.

        Not where the value before it is the same in another unit: t = 9.5 h = 34200 s.
        """
        if len(_DATUM.findall(self.text)) < 2:
            return False
        letter, following = self.text[at:stop], _FIRST_VALUE.match(self.text, stop)
        if _VALUE_ONLY.search(self.text, 0, at) is None:  # T = 2π root l/g 2.3 = 6.28 root l/9.8 l = 1.3 m
            return following is not None and re.search(rf"(?:[(√+×*-]|root|sqrt)\s?{letter}(?!\w)", self.text[:at]) is not None
        before = _LAST_NUMBER.search(self.text, 0, at)
        return following is not None and not _another_unit(before.group() if before else "", letter, *following.groups())

    # ---- signs and punctuation ----

    def _mark(self, i: int, start: int, end: int, text: str) -> int:
        if text in RELATIONS:
            self._put("r", start, end, text)
        elif text in "()":
            self._put(text, start, end)
            if text == ")" and (self.text[end : end + 1] == " " or self.text[end : end + 1].isalpha()):
                return self._unit_after(i, end)
        elif text == "%":
            return self._percent(i, start, end)
        elif text in "+-":
            self._plus_or_minus(i, start, end, text)
        elif text in SIGNS:
            self._put("o", start, end)
        elif text == "≀":
            self._put("x", start, end, "mark")
        elif text == ":" and self._divides(i, start):
            self._put("o", start, end, "/", word=True)
        elif text in ",;:?!⇒⇔∴∵\n":
            self._put("b", start, end, text)
        elif text == ".":
            self._full_stop(start, end)
        elif text == "…" and self.items and self.items[-1].is_value and self.items[-1].payload != "unit":
            self.items[-1].end = end
        elif text in "'|°∥⊥\u0307" or text.isalpha():
            self._put("m", start, end)
        elif text == '"':
            self._put("f", start, end)
        else:
            self._put("b", start, end, text)
        return i + 1

    def _plus_or_minus(self, i: int, start: int, end: int, text: str) -> None:
        if text == "-" and self._dash(i):
            self._put("b", start, end, "-")
        elif _CHARGE.match(self.text, start):
            self._put("w", start, end)
        else:
            self._put("o", start, end)

    def _divides(self, i: int, start: int) -> bool:
        """p = 4120 : 0.312, a ratio after a relation; in a hand with decimal commas also F = W : s, where it is the usual sign."""
        following = self.raw[i + 1] if i + 1 < len(self.raw) else None
        if following is None or self.text[start - 1 : start] != " ":
            return False
        usual = _DECIMAL_COMMA.search(self.text) is not None and self.text[start + 1 : start + 2] == " "
        if not (following[0] == "number" or following[3] == "(" or (usual and following[3][:1].isalpha() and len(following[3]) <= 2)):
            return False
        k = len(self.items) - 1
        if k < 0 or not (self.items[k].is_value or self.items[k].kind == ")" or (usual and self.items[k].kind == "m")):
            return False
        if following[3][:1].isalpha() and self.items[k].is_value and self.items[k - 1].text != "^":
            return False  # m = 58 : v = 3,4; but v^2 : r
        while k >= 0 and self.items[k].kind in "mo)(n":
            k -= 1
        return self.items[k].kind == "r" if k >= 0 else usual

    def _percent(self, i: int, start: int, end: int) -> int:
        """% after a number is a unit; before a letter, or words and a letter, it names that quantity's percentage: "% in s = "."""
        before = self.items[-1] if self.items else None
        label = _PERCENT_LABEL.match(self.text, start) if before is None or before.kind in "bxwf(" else None
        if label is not None:
            symbol = label.group(1).lstrip("Δ") or label.group(1)
            name = self.symbols.exact.get(key_of(symbol), symbol)
            self._put("n", start, label.end(1), ("%" + name, False))
            return self._index_at(i + 1, label.end(1))
        self._put("m" if before is not None and before.kind in "m)n" else "w", start, end)
        return i + 1

    def _full_stop(self, start: int, end: int) -> None:
        before, after = self.text[start - 1 : start], self.text[end : end + 1]
        if after.isdigit() and not before.isalpha():
            self._put("m", start, end)
        elif _TIMES_TEN.match(self.text, start):
            self._put("o", start, end)
        else:
            self._put("b", start, end, ".")

    def _dash(self, i: int) -> bool:
        """A dash before prose, not a minus sign."""
        if i + 1 >= len(self.raw):
            return True
        group, start, _, _ = self.raw[i + 1]
        if group != "word" or (self.raw[i][2] == start and self.raw[i][1] > 0 and self.text[self.raw[i][1] - 1] != " "):
            return False
        phrase = self._phrase(i + 1)
        if phrase is not None and phrase[0].kind in "xb" and not self._letters_here(i + 1, phrase[0]):
            return True
        return self._is_prose(i + 1) and self._name(i + 1) is None and self.raw[i][2] < start


def _same_quantity(text: str, at: int, stop: int) -> bool:
    """W = 5 N m = 5 J: the unit is whole, since what follows is a value of the same quantity."""
    value = _FIRST_VALUE.match(text, stop)
    start = -1 if value is None else value.start(2)
    meant = units.parse_unit(text[at:stop])
    return start > 0 and bool(meant) and any(s.unit.dimensions == meant[0][0].dimensions for s in units.scan(text, start))


def _another_unit(number: str, unit: str, other: str, other_unit: str | None) -> bool:
    """9.5 h = 34200 s, rightly converted or wrongly; years are only believed where they are right."""
    meant, others = units.parse_unit(unit), units.parse_unit(other_unit) if other_unit else ()
    if not meant or not others or meant[0][0].dimensions != others[0][0].dimensions:
        return False
    if unit != "a":
        return True
    a, b = (float(re.sub("[^0-9.]", "", n.replace(",", ".")) or 0) for n in (number, other))
    return abs(a * meant[0][0].scale - b * others[0][0].scale) <= _ALIKE * abs(b * others[0][0].scale)
