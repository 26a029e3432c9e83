"""Words that stand for a quantity, and words that do not.

"force on the wire is", "gradient =", "mass × acceleration": in an operand's place words name a quantity of the part, or one of the
candidate's own. Elsewhere they are prose and end the stretch.
"""

from __future__ import annotations

import re
from functools import lru_cache

from marker.physics import units
from marker.reading.clean import Clean
from marker.reading.item import Item
from marker.reading.model import Assumption
from marker.reading.symbols import FUNCTION_NAMES, Symbols, key_of, words
from marker.reading.tokens import Edge, Tok

_ROOTS = frozenset(("sqrt", "root", "rt", "cbrt"))


def is_root(text: str) -> bool:
    """A word for a root; Rt is a total resistance."""
    return text.lower() in _ROOTS and text != "Rt"


@lru_cache(maxsize=4)
def prose_words(kind: str) -> frozenset[str]:
    """Lists of grammars/words.toml: "not_names", words that keep a phrase from naming a quantity, and "prepositions"."""
    return frozenset(words()["prose"][kind])


def ends_operand(item: Item) -> bool:
    """True when an operand ends here; a function or root still waits for its own."""
    return item.kind in "n)" or (item.kind == "m" and item.text.lower() not in FUNCTION_NAMES and not is_root(item.text))


def symbol_of(item: Item) -> tuple[str, bool, int]:
    payload = item.payload
    assert isinstance(payload, tuple)
    return str(payload[0]), bool(payload[1]), item.start


def _in_small_letters(text: str) -> str:
    """The words of a name; letters that stand for something, as in "volts on Y", keep their size."""
    first, *others = text.split()
    return " ".join([first.lower(), *(w if len(w) <= 2 else w.lower() for w in others)])


class Phrases:
    """The part of the picker that deals with words; what it needs of the rest is declared here."""

    clean: Clean
    symbols: Symbols
    items: list[Item]
    stretch: list[Item]
    overrides: dict[int, tuple[Edge, ...]]
    tentative: bool
    spoken_since: bool
    joined: tuple[int, int] | None

    def _flush(self, unfinished: bool = False, cut: bool = False) -> None:
        """Ends the stretch; the picker does it."""
        raise NotImplementedError

    def _phrase(self, i: int) -> int:
        """A run of words and names: a quantity where an operand is due, else prose."""
        j = self._phrase_end(i)
        run = self.items[i:j]
        before = self.stretch[-1] if self.stretch else None
        after = self.items[j] if j < len(self.items) else None
        if before is not None and self._multiplies(before, run, after):
            before = None  # 3 half lives = 16 y
        if before is not None and ends_operand(before):
            if self._index_word(before, run):
                return j
            if self._counted(before, run, after):
                return j
            self._flush(cut=True)
            before = None
        if before is None and self._has_value(run, j):
            return j + 1
        name = self._named(run, before, after)
        if name is None:
            if self.stretch:
                self._flush(cut=True)
            self.spoken_since = True
            return j
        symbol, known, first = name
        end = run[-1].end if self.joined is None else self.joined[1]
        self.joined = None
        for x in run:
            if x.end <= first:  # words before the name: "= the initial speed"
                self.overrides[x.start] = (Edge(x.start, x.end, "K", ()),)
        a, b = self.clean.place(first, end)
        edges = [Edge(first, end, "S", (Tok("SYMBOL", (symbol, known), a, b),))]
        if known and any(x.kind in "wm" for x in run):
            edges.append(self._own_quantity(run))
        self.overrides[first] = tuple(e for e in edges if e.start == first)
        self.stretch.append(Item("n", first, end, self.clean.text[first:end], (symbol, known)))
        self.tentative = self.tentative or any(x.kind == "w" for x in run)
        return j

    def _counted(self, before: Item, run: list[Item], after: Item | None) -> bool:
        """4 divs × 5 ms, 20 waves / 4 s: a word that says what is counted, between a number and a sign."""
        counts = before.is_value and before.payload != "unit" and len(run) == 1 and run[0].kind == "w"
        if not counts or after is None or not (after.text in ("×", "*", "/", "÷", "x", "X") and (after.kind == "o" or after.kind == "m")):
            return False
        if (after.word and after.text not in ("x", "X")) or run[0].text.lower() in prose_words("not_names"):
            return False
        word = run[0]
        self.overrides[word.start] = (Edge(word.start, word.end, "K", ()),)
        return True

    def _own_quantity(self, run: list[Item]) -> Edge:
        """ "time to the top" may be the part's time, or one the candidate brings in."""
        first = next(x for x in run if x.kind in "wn")
        last = next(x for x in reversed(run) if x.kind in "wnm")
        start, end = first.start, last.end
        if first.kind == "w":
            start = next((x.start for x in run if x.kind == "n"), start)
        a, b = self.clean.place(start, end)
        name = _in_small_letters(self.clean.text[first.start : end])
        note = Assumption(code="own-quantity", text=f"“{name}” is a quantity of the candidate's own", at=(a, b))
        return Edge(start, end, "S", (Tok("SYMBOL", (name, False), a, b),), 0.6, note)

    def _multiplies(self, before: Item, run: list[Item], after: Item | None) -> bool:
        """A bare number before the words of a quantity, and a typed relation or, after one name, a sign behind them."""
        number = before.is_value and before.payload != "unit" and (len(self.stretch) == 1 or self.stretch[-2].kind in "or(")
        if number and after is not None and after.kind == "o":
            return len(run) == 1 and run[0].kind == "n"  # 1/2 mass × speed squared
        return number and after is not None and after.kind == "r" and not after.word

    def _has_value(self, run: list[Item], j: int) -> bool:
        """ "has a radius of 2.0 mm", "speed: 12 m/s": the name, and of or the colon for the relation."""
        last = self.items[j - 1]
        following = self.items[j + 1] if j + 1 < len(self.items) else None
        if last.kind != "n" or following is None or not following.is_value or self.items[j].text.lower() not in ("of", ":"):
            return False
        if self.items[j].text == ":" and len(run) > 1 and any(x.kind != "f" for x in run[:-1]):
            return False
        symbol, known, first = symbol_of(last)
        a, b = self.clean.place(first, last.end)
        self.overrides[first] = (Edge(first, last.end, "S", (Tok("SYMBOL", (symbol, known), a, b),)),)
        of = self.items[j]
        self.stretch += [Item("n", first, last.end, last.text), Item("r", of.start, of.end, of.text, "=", word=True)]
        self.tentative = True
        return True

    def _phrase_end(self, i: int) -> int:
        """The words of one phrase; prepositions are part of it when a relation follows: "the force on the wire is"."""
        j = i
        while j < len(self.items) and self.items[j].kind in "wnf":
            j += 1
        k = j
        while k < len(self.items) and (
            self.items[k].kind in "wnf" or (self.items[k].kind == "b" and self.items[k].text.lower() in prose_words("prepositions"))
        ):
            k += 1
        last = self.items[k - 1]
        sided = last.kind == "b" and last.text.lower() in ("before", "after")  # momentum before = momentum after
        sided = sided or (last.kind == "b" and last.text.lower() == "in" and k - i == 2)  # energy in =
        numbered = self._numbered_end(k)
        if numbered > k:
            return numbered
        ends = last.kind in "wn" or sided or last.text.lower() in ("it", "them")
        if k > j and ends and (self.items[k].kind in "r)" if k < len(self.items) else sided and bool(self.stretch)):
            return k
        while j > i + 1 and self.items[j - 1].kind == "f":
            j -= 1
        return j

    def _numbered_end(self, k: int) -> int:
        """Where a phrase ends that goes on with a letter or a figure: voltage across R2 =, let A = current of battery 1."""
        if k >= len(self.items) or self.items[k].kind != "m" or k == 0:
            return k
        before, end = self.items[k - 1], k + 1
        while end < len(self.items) and self.items[end].kind == "m" and self.items[end].start == self.items[end - 1].end:
            end += 1
        after = self.items[end] if end < len(self.items) else None
        letters = self.items[k].text.isalpha() and len(self.items[k].text) <= 2 and self.items[k].payload != "unit"
        if letters and before.text.lower() == "in" and units.is_unit_symbol(self.items[k].text):
            return k  # dose in Sv =
        if letters and before.kind in "bw" and before.text.lower() in prose_words("places") and after is not None:
            return end if after.kind == "r" and not after.word else k
        related = bool(self.stretch) and self.stretch[-1].kind == "r" and self.stretch[-1].payload == "="
        figure = re.fullmatch(r"[1-9]", self.items[k].text) is not None
        return end if figure and before.kind == "w" and related and (after is None or after.kind == "b") else k

    def _index_word(self, before: Item, run: list[Item]) -> bool:
        """R total: the word is the letter's index."""
        if len(run) != 1 or before.kind != "m" or before.payload == "unit" or not before.text.isalpha() or len(before.text) > 2:
            return False
        word = run[0].text.lower()
        if word not in words()["symbols"]["indices"]:
            return False
        self._join_index(before, before.start, run[0].end, before.text, word)
        return True

    def _index_before_relation(self, i: int) -> bool:
        """p before = 100: a word that parts statements elsewhere."""
        following = self.items[i + 1] if i + 1 < len(self.items) else None
        if following is None or following.kind != "r" or len(self.stretch) != 1:
            return False
        return self._index_word(self.stretch[0], [self.items[i]])

    def _join_index(self, item: Item, start: int, end: int, letter: str, word: str) -> None:
        name = self.symbols.exact.get(key_of(letter + word))
        a, b = self.clean.place(start, end)
        value = (name, True) if name is not None else (f"{letter}_{word}", False)
        self.overrides[start] = (Edge(start, end, "S", (Tok("SYMBOL", value, a, b),), 0.0 if name else 0.3),)
        item.start, item.end, item.text, item.kind = start, end, self.clean.text[start:end], "n"

    def _named(self, run: list[Item], before: Item | None, after: Item | None) -> tuple[str, bool, int] | None:
        """(symbol, known, where it begins) for words that stand for a quantity."""
        content = [x for x in run if x.kind not in "fb"]
        names = [x for x in content if x.kind == "n"]
        others = [x for x in content if x.kind == "w"]
        if before is not None and before.kind == "m" and not ends_operand(before):
            if others:
                return None
            before = Item("o", before.start, before.end, before.text)  # a function or root waits for its operand
        if (before is not None and before.kind not in "or(") or (after is not None and after.kind not in "orbx)"):
            if names and not others and before is not None and before.kind == "o" and after is not None and after.kind == "m":
                return symbol_of(names[-1])
            if (before is None or before.kind in "or(") and after is not None and after.kind == "m" and len(run) == 1 and not names:
                return self._leading_index(run[0], after)
            return None
        if not self._related(before, after):
            return None
        if names and not others:
            return symbol_of(names[0] if len(names) > 1 and run[0] is not names[-1] and any(x.kind == "b" for x in run) else names[-1])
        if any(x.text.lower() in prose_words("not_names") for x in others):
            return None
        ends = after is None or after.kind in "bx"
        constant = any(x.text.lower() in ("constant", "const", "same") for x in others)
        if before is not None and before.kind == "r" and before.word and ends and not names and not constant:
            return None  # "which is about right"
        if others[0].text.lower() in ("percentage", "percent", "%") and len(names) == 1:
            return ("%" + str(names[0].payload[0]), False, others[0].start)  # type: ignore[index]
        if names and len(content) <= 6 and not self._placed_by(run, names[0]):
            return symbol_of(names[0])
        return self._label(run, content)

    def _placed_by(self, run: list[Item], name: Item) -> bool:
        """force down slope: the quantity's name only says where another is."""
        k = run.index(name)
        nouns = [x for x in run[:k] if x.kind == "w" and x.text.lower() not in prose_words("slants")]
        return bool(nouns) and run[k - 1 - (run[k - 1].text.lower() in ("the", "a"))].text.lower() in prose_words("slants")

    def _leading_index(self, item: Item, after: Item) -> tuple[str, bool, int] | None:
        """net F: the word is the index of the letter after it."""
        word = item.text.lower()
        if word in words()["symbols"]["leading_indices"] and after.text.isalpha() and len(after.text) <= 2:
            script = self._script_of(after)
            end = after.end if script is None else script.end
            index = "" if script is None else script.text.strip("_{}()")
            a, b = self.clean.place(item.start, end)
            name = self.symbols.exact.get(key_of(after.text + word + index))
            value = (name, True) if name is not None else (f"{after.text}_{word}{index}", False)
            if script is not None:
                script.kind = "j"
            after.kind = "j"
            self.joined = (item.start, end)
            self.overrides[item.start] = (Edge(item.start, end, "S", (Tok("SYMBOL", value, a, b),), 0.0 if name else 0.3),)
            return (str(value[0]), bool(value[1]), item.start)
        return None

    def _script_of(self, letter: Item) -> Item | None:
        k = self.items.index(letter) + 1
        following = self.items[k] if k < len(self.items) else None
        return following if following is not None and following.start == letter.end and following.text.startswith("_") else None

    def _label(self, run: list[Item], content: list[Item]) -> tuple[str, bool, int] | None:
        """Words of the candidate's own for a quantity: gradient, volume of stack."""
        kept = content
        if len(kept) > 5:
            articles = [k for k, x in enumerate(run) if x.kind == "f" and x.text.lower() in ("the", "a", "an", "its")]
            kept = [x for x in run[articles[-1] + 1 :] if x.kind not in "fb"] if articles else []
            if not kept or len(kept) > 4:
                return None
        if not any(x.text[:1].isalpha() for x in kept):
            return None
        end = run[-1].end if run[-1].kind == "b" else kept[-1].end
        name = _in_small_letters(self.clean.text[kept[0].start : end])
        return (name, False, kept[0].start)

    def _related(self, before: Item | None, after: Item | None) -> bool:
        """True when a typed sign or relation stands beside, or one in words with mathematics in the same stretch."""
        for item in (before, after):
            if item is None:
                continue
            if item.kind in "or" and not item.word:
                return True
            if item.kind == "(" or (item.kind == ")" and before is not None):
                return True
            if item.kind in "or" and self._mathematics_near(item):
                return True
        return False

    def _mathematics_near(self, mark: Item) -> bool:
        """Figures, typed signs or both a sign and a relation in words between the breaks round `mark`."""
        k = self.items.index(mark)
        first = k
        while first > 0 and self.items[first - 1].kind not in "bx":
            first -= 1
        last = k
        while last < len(self.items) and self.items[last].kind not in "bx":
            last += 1
        near = self.items[first:last]
        if any(x.kind == "m" or (x.kind in "or" and not x.word) for x in near):
            return True
        kinds = {x.kind for x in near if x.word}
        return kinds == {"o", "r"} or any(x.word and str(x.payload) in "01234" for x in near if x.kind == "o")
