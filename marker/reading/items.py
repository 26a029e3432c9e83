"""The cleaned line cut into items: numbers with their units, letters, signs, brackets, words.

A word that means a sign, a relation, a pause or a crossing-out is found here (grammars/words.toml), and so is the name of
one of the part's quantities. Whether a word of prose stands for a quantity is decided in marker.reading.segments.
"""

from __future__ import annotations

import re

from marker.physics import units
from marker.reading.clean import GREEK, Clean
from marker.reading.numbers import MULTIPLIER
from marker.reading.phrasebook import (
    GREEK_INSIDE,
    Phrase,
    asides,
    bare_verbs,
    common_words,
    holds_function,
    leading_index_words,
    phrases,
    usual_names,
)
from marker.reading.symbols import FUNCTION_NAMES, Symbols, index_words, key_of, nearest, phrase_key, singular, words

RELATIONS = frozenset("=≈<>≤≥∝")
_SIGNS = frozenset("+-×*·/±^√∛∜")
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
_DOTTED = re.compile(r"p\.\s?d(?:\.|\b)|e\.\s?m\.\s?f(?:\.|\b)", re.IGNORECASE)
_INNER_LABEL = re.compile(r"\(\s?([ivx]{1,4}|[IVX]{1,4}|[a-h])\s?\)\s*[:.]?(?=\s\s?[A-Za-z\dπ½√])|([ivx]{1,4}|[a-h])\)(?=\s)")
_SINE_OF_LETTER = re.compile(r"(?:sin|cos|tan)[abcirxyABC]")
_FIGURES = re.compile(r"\d\s?(?:s\.?\s?f\.?|d\.?\s?p\.?|sig\w*\.?\s?fig\w*|decimal\s?places?)(?![A-Za-z])", re.IGNORECASE)
_INDEX_THEN_RELATION = re.compile(r"\d{1,2}\s?=")
_VALUE_ONLY = re.compile(r"[=≈]\s*-?[\d.,]+(?:\s?[xX×*·]\s?10\s?\^?\s?\(?\s?-?\d+\)?)?\s*$")
_OWN_SUBJECT = re.compile(r"\s*([^\W\d_][\w]*)\s?=")
_TIMES_TEN = re.compile(r"\.\s*10\s?\^")


class Item:
    """A piece of the line.

    kind  m number, letter or unit; o sign; r relation; b break; w word; f word passed over; n quantity's name; x crossing-out; ( and );
          k a remark passed over; j a piece of what stands before it
    word  True for a sign or relation written as a word
    """

    __slots__ = ("end", "kind", "payload", "start", "text", "word")

    def __init__(self, kind: str, start: int, end: int, text: str, payload: object = None, word: bool = False) -> None:
        self.kind = kind
        self.start = start
        self.end = end
        self.text = text
        self.payload = payload
        self.word = word

    def __repr__(self) -> str:
        return f"{self.kind}[{self.text}]"

    @property
    def is_value(self) -> bool:
        """A number or a unit."""
        return self.kind == "m" and (self.payload == "unit" or self.text[:1].isdigit() or self.text[:1] in ".½¼¾")


_JOINING = frozenset("=≈≃<>≤≥∝+−-±*×·/÷^")


class Scanner:
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

    def _put(self, kind: str, start: int, end: int, payload: object = None, word: bool = False) -> None:
        self.items.append(Item(kind, start, end, self.text[start:end], payload, word))

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
        """p.d. and e.m.f., the part's own where it has them."""
        plain = typed.replace(".", "").replace(" ", "").lower()
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
        if following[:1] == "=" and spaced and last in self.symbols.exact and len(last) > 1 and _VALUE_ONLY.search(text, 0, at):
            return False
        if text[stop : stop + 1] in ("_", "^") or following[:1] == "^":
            return False
        alone = last == text[at:stop]
        if last.lower() in common_words() and (not alone or last in ("as", "am", "at")):
            return False
        if last == "in" and following[:1].isdigit():
            return False
        single = len(last) == 1 and last.isalpha()
        if single and following[:1] in ("=", "≈") and (last in self.symbols.exact or last in self.used):
            subject = _OWN_SUBJECT.match(text)
            own = subject is not None and subject.group(1) == last  # V = … = 8.3 V = …
            return alone and (own or not (spaced and _VALUE_ONLY.search(text, 0, at)))
        if len(last) <= 2 and alone and spaced and text[stop : stop + 1] == "=" and self._listed():
            return False
        if last.lower() in ("over", "times", "plus", "minus"):
            return False
        return not (single and following[:1].isalpha() and text[stop : stop + 1].isalpha())

    def _listed(self) -> bool:
        """True for a list of data: letter = number, without signs, more than once."""
        return len(re.findall(r"[^\W\d_]\w?=[-.\d]", self.text)) > 1

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
        elif text in _SIGNS:
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
        if following[3][:1].isalpha() and self.items[k].is_value:
            return False  # m = 58 : v = 3,4
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
        elif _TIMES_TEN.match(self.text, start) or (after.isalpha() and before.isalpha() and len(self.text) < 40 and not before.islower()):
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

    # ---- words ----

    def _word(self, i: int) -> int:
        _, start, end, text = self.raw[i]
        phrase = self._phrase(i) if self.lower[i] != "per" else None
        if phrase is not None and phrase[0].kind == "x":
            return self._put_phrase(i, *phrase)
        name = self._name(i)
        if phrase is not None and (name is None or phrase[1] >= name[1]):
            if not self._letters_here(i, phrase[0]):
                return self._put_phrase(i, *phrase)
            if name is None:
                self._put("m", start, end)
                return i + 1
        if (
            self.lower[i] == "per"
            and self.items
            and self.items[-1].is_value
            and i + 1 < len(self.raw)
            and units.scan(self.text, self.raw[i + 1][1])
        ):
            self._put("o", start, end, "/", word=True)
            return self._unit_after(i, end)
        if self._counts(start, end, text):
            self._put("m", start, end, "unit")
            return i + 1
        if text in ("x", "X") and self._cross_between_words(i):
            self._put("o", start, end, "×", word=True)
            return i + 1
        if name is not None and (name[1] > i + 1 or not self._tight(i)):
            self._put("n", start, self.raw[name[1] - 1][2], (name[0], True))
            return name[1]
        index = (
            self.lower[i] in leading_index_words()
            and i + 1 < len(self.raw)
            and self.raw[i + 1][3].isalpha()
            and len(self.raw[i + 1][3]) == 1
        )
        self._put("w" if index or self._is_prose(i) else "m", start, end)
        return i + 1

    def _counts(self, start: int, end: int, text: str) -> bool:
        """ "(N molecules/m^3)": a unit in words after a letter, inside a formula."""
        before = self.items[-1] if self.items else None
        if before is None or before.kind != "m" or before.payload == "unit" or not before.text[:1].isalpha():
            return False
        return units.is_unit_word(text) and self.text[end : end + 1] in ("/", ")") and self.text[start - 1] == " "

    def _cross_between_words(self, i: int) -> bool:
        if not 0 < i < len(self.raw) - 1:
            return False
        before, after = self.raw[i - 1], self.raw[i + 1]
        words_round = [r[0] == "word" and len(r[3]) > 2 for r in (before, after)]
        if all(words_round):
            return True
        _, start, end, _ = self.raw[i]
        if "x" in self.symbols.exact or "x" in self.used or self.text[start - 1] != " " or self.text[end : end + 1] != " ":
            return False
        # 2 x acceleration, mass x 3, (0.5) x mass
        left = words_round[0] or before[0] == "number" or before[3] == ")"
        return any(words_round) and left and (words_round[1] or after[0] == "number" or after[3] == "(")

    def _put_phrase(self, i: int, phrase: Phrase, stop: int) -> int:
        start, end = self.raw[i][1], self.raw[stop - 1][2]
        if phrase.payload in ("(1/2)×", "(1/4)×", "(1/3)×", "2×") and stop < len(self.raw) and self.lower[stop] in ("x", "×", "*", "·"):
            self._put("o", start, end, phrase.payload[:-1], word=True)  # half x mass
            return stop
        if phrase.payload in ("(1/2)×", "(1/4)×", "(1/3)×"):
            unit = stop
            while unit < len(self.raw) and self.lower[unit] in ("a", "an", "of"):
                unit += 1
            if (
                unit < len(self.raw)
                and self.raw[unit][0] == "word"
                and units.is_unit_word(self.lower[unit])
                and self.lower[unit] != "second"
            ):
                self._put("o", start, end, phrase.payload[:-1], word=True)
                for skipped in range(stop, unit):
                    self._put("f", self.raw[skipped][1], self.raw[skipped][2], "joins")
                return self._unit_after(unit - 1, self.raw[unit][1])
        self._put(phrase.kind, start, end, phrase.payload, word=phrase.kind in "ro")
        return stop

    def _phrase(self, i: int) -> tuple[Phrase, int] | None:
        for phrase in phrases().get(self.lower[i], ()):
            n = len(phrase.words)
            found = tuple(w.replace("'", "") for w in self.lower[i : i + n])
            if found == tuple(w.replace("'", "") for w in phrase.words) and self._fits(i, phrase, i + n):
                return phrase, i + n
        return None

    def _fits(self, i: int, phrase: Phrase, after: int) -> bool:
        """Words that mean a sign only between the right neighbours."""
        payload = phrase.payload
        if phrase.kind != "o":
            if phrase.kind == "x" and len(phrase.words) == 1 and phrase.words[0] in bare_verbs():
                return after >= len(self.raw) or self.raw[after][0] not in ("word", "number")
            if phrase.kind == "x" and phrase.words == ("no",):
                mark = self.raw[after][3] if after < len(self.raw) else ""
                return bool(self.items) and mark in ("", ",", "-", ";", "…") and self.items[-1].kind in "rbm)"
            return not (phrase.words[0] == "that" and i > 0 and self.lower[i - 1] == "of")
        following = self.raw[after] if after < len(self.raw) else ("end", 0, 0, "")
        previous = self.items[-1] if self.items else None
        if payload == "^":
            return following[0] == "number" or following[3] in ("-", "minus") or (following[0] == "word" and len(following[3]) == 1)
        if payload.isdigit():
            operator = following[0] == "word" and (self._operator_at(after) or following[3] in GREEK or following[3] == "π")
            due = previous is not None and previous.kind in "or" and following[0] in ("end", "other")
            return operator or (due and (payload != "0" or (previous is not None and previous.kind == "r")))
        return True

    def _operator_at(self, i: int) -> bool:
        return any(p.kind == "o" and self.lower[i : i + len(p.words)] == list(p.words) for p in phrases().get(self.lower[i], ()))

    def _letters_here(self, i: int, phrase: Phrase) -> bool:
        """A short word of prose that is letters here: v = u + at, F = m a, I = 3."""
        text = self.raw[i][3]
        if text in usual_names() or (text in self.symbols.exact and not text.islower() and len(text) > 1):
            return True
        if text == "I" and i + 1 < len(self.raw) and self.lower[i + 1] in words()["prose"]["places"]:
            return True  # I through the lamp
        if len(phrase.words) > 1 or len(text) > 2 or "'" in text or text.lower() in ("is", "no", "so", "or"):
            return False
        left, right = self.text[self.raw[i][1] - 1 : self.raw[i][1]], self.text[self.raw[i][2] : self.raw[i][2] + 1]
        if self._tight(i) or (left == "(" and right == ")"):
            return True
        before, after = self._neighbour(i - 1), self._neighbour(i + 1)
        if len(text) == 1:
            return after != "word" or before == "sign"
        return before in ("sign", "number") and after in ("sign", "end")

    def _neighbour(self, i: int) -> str:
        if not 0 <= i < len(self.raw):
            return "end"
        group, _, _, text = self.raw[i]
        if group == "word":
            phrase = self._phrase(i)
            if phrase is not None and phrase[0].kind == "r":
                return "sign"
            if self._is_prose(i) or (len(text) > 1 and self.lower[i] not in ("is", "so", "are", "was") and text.lower() in phrases()):
                return "word"
            return "letters"
        if group == "number":
            return "number"
        return "sign" if text in _SIGNS or text in RELATIONS or text in "()" else "end" if text in ",;.:?!" else "letters"

    def _tight(self, i: int) -> bool:
        """Joined to a sign, number or bracket without a space."""
        _, start, end, _ = self.raw[i]
        before, after = self.text[start - 1 : start], self.text[end : end + 1]
        if before and (before.isdigit() or before in "=+-*/×·^√)_≈'½" or (before.isalpha() and not before.isascii())):
            return True
        return bool(after) and (after.isdigit() or after in "=+*/×·^_√½'" or (after.isalpha() and not after.isascii()))

    def _is_prose(self, i: int) -> bool:
        """True for a word that is no run of letters, function, Greek name or symbol."""
        text, lower = self.raw[i][3], self.lower[i]
        if lower in asides() and text not in self.symbols.exact:
            return True
        if (
            text in self.symbols.exact
            or text in usual_names()
            or lower in FUNCTION_NAMES
            or text in GREEK
            or lower in ("sqrt", "rt", "cbrt")
        ):
            return False
        if "'" in text:
            return True
        if len(text) == 1:
            return False
        tight = self._tight(i)
        if lower in common_words() and not tight:
            return not (text.isupper() and len(text) <= 3 and self.symbols.known_letters(text))
        if text[1:] in index_words() or _SINE_OF_LETTER.fullmatch(text):
            return False
        if self.symbols.known_letters(text) or (lower.startswith("delta") and len(text) <= 7):
            return False
        if len(text) <= 3:
            return False
        if any(name in text and len(text) - len(name) <= 3 for name in GREEK_INSIDE):
            return False
        if tight and holds_function(text):
            return False
        capitals = sum(c.isupper() for c in text)
        return not (len(text) <= 5 and capitals and (capitals > 1 or text[0].islower()))

    def _name(self, i: int) -> tuple[str, int] | None:
        """A quantity's name in words, longest first, and the index of the item after it: "angle of refraction", "angle 1"."""
        symbols = self.symbols
        if not symbols.phrases and not symbols.indexed:
            return None
        first = singular(self.lower[i].replace("'s", ""))
        if first not in symbols.vocabulary and nearest(first, symbols.vocabulary) is None:
            return None
        for count in range(min(len(self.raw) - i, symbols.longest_phrase + 3), 0, -1):
            if any(r[0] != "word" for r in self.raw[i : i + count]):
                continue
            key = phrase_key(" ".join(self.lower[i : i + count]))
            if not key or self.lower[i + count - 1] in ("the", "a", "an"):
                continue
            spelled = tuple(w if w in symbols.vocabulary else nearest(w, symbols.vocabulary) or w for w in key)
            after = i + count
            if after < len(self.raw) and self.raw[after][0] == "number" and len(self.raw[after][3]) == 1:
                indexed = symbols.indexed.get((spelled[-1], self.raw[after][3]))
                if indexed is not None:
                    return indexed, after + 1
            if spelled in symbols.phrases:
                return symbols.phrases[spelled], after
        return None
