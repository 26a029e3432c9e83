"""Words of a line: phrases that mean a sign or a pause, names of quantities, prose, and letters that only look like words."""

from __future__ import annotations

import re

from marker.physics import units
from marker.reading.alphabet import GREEK
from marker.reading.item import Item
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
from marker.reading.symbols import FUNCTION_NAMES, Symbols, index_words, nearest, phrase_key, singular, words

RELATIONS = frozenset("=≈<>≤≥∝")
SIGNS = frozenset("+-×*·/±^√∛∜")

_SINE_OF_LETTER = re.compile(r"(?:sin|cos|tan)[abcirxyABC]")


class Spoken:
    """The part of the scanner that deals with words; what it needs of the rest is declared here.

    raw  the pieces as cut: (group, start, end, text);  lower  their texts in small letters
    """

    text: str
    symbols: Symbols
    used: frozenset[str]
    raw: list[tuple[str, int, int, str]]
    lower: list[str]
    items: list[Item]

    def _put(self, kind: str, start: int, end: int, payload: object = None, word: bool = False) -> None:
        self.items.append(Item(kind, start, end, self.text[start:end], payload, word))

    def _unit_after(self, i: int, end: int) -> int:
        """Takes the unit after a number or a bracket whole; the scanner does it."""
        raise NotImplementedError

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
        if name is not None and (name[1] > i + 1 or not self._tight(i) or self._clearly_named(text)):
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
            letter = len(following[3]) == 1 and (following[3] not in "aI" or following[3] in self.symbols.exact)  # two p over rho
            operator = following[0] == "word" and (self._operator_at(after) or following[3] in GREEK or following[3] == "π" or letter)
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
            return after != "word" or (before == "sign" and (left != "(" and self.raw[i - 1][3] != "("))  # (a trillion dollars)
        if i > 0 and self.raw[i - 1][3] in "+×*/":
            return True  # v = u + at a = 2.4
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
        if text == ")":
            return "number"
        return "sign" if text in SIGNS or text in RELATIONS or text == "(" else "end" if text in ",;.:?!" else "letters"

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
        if (tight or self._beside_relation(i)) and holds_function(text):
            return False
        capitals = sum(c.isupper() for c in text)
        return not (len(text) <= 5 and capitals and (capitals > 1 or text[0].islower()))

    def _clearly_named(self, text: str) -> bool:
        """speed^2, force/mass: a word of its own, whatever it is joined to; `mass` is no m × a × s × s, but `mgsin` may be letters."""
        name = text in self.symbols.vocabulary and text not in GREEK
        return len(text) > 3 and (name or not self.symbols.known_letters(text))

    def _beside_relation(self, i: int) -> bool:
        return any(0 <= k < len(self.raw) and self.raw[k][3] in RELATIONS for k in (i - 1, i + 1))

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
