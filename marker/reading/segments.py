"""Items to segments: the stretches of a line that are read as one statement each, and what the words around say of them.

Words in an operand's place stand for a quantity ("gradient = ", "mass × acceleration"); other words part the statements and are
kept as prose. Remarks in brackets, points of a graph and crossings-out are settled here too.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise

from marker.expression import Number
from marker.reading.clean import Clean
from marker.reading.items import Item, Scanner, never_prose
from marker.reading.model import Assumption
from marker.reading.symbols import FUNCTION_NAMES, Symbols, key_of, words
from marker.reading.tokens import Edge, Tok


@dataclass(slots=True)
class Segment:
    """Characters start to end of the cleaned text that make one statement.

    relations   (start, end, sign) of each relation inside it
    overrides   where a word or phrase stands: the edges that stand for it
    broken      words cut it off inside a bracket
    leads       where the sign stands with which it goes on from the value before, -1 when it does not
    """

    start: int
    end: int
    relations: tuple[tuple[int, int, str], ...] = ()
    overrides: dict[int, tuple[Edge, ...]] = field(default_factory=dict)
    before: str = ""
    label: str = ""
    alternative: bool = False
    final: bool = False
    tentative: bool = False
    unfinished: bool = False
    withdrawn: bool = False
    broken: bool = False
    leads: int = -1


@dataclass(slots=True)
class Prose:
    """What was found in a line. withdraws  which earlier lines go: "", "last" or "all";  points  spans of pairs such as (20, 7.4)."""

    segments: list[Segment]
    words: str
    withdraws: str = ""
    points: tuple[tuple[int, int], ...] = ()


def pick_out(clean: Clean, symbols: Symbols, used: frozenset[str] = frozenset()) -> Prose:
    """Segments of a cleaned line, in order, and its words. Never raises."""
    whole = _all_mathematics(clean.text, symbols)
    if whole is not None:
        return Prose([whole] if whole.end > whole.start else [], "")
    items = Scanner(clean, symbols, used).run()
    said = [(x.start, x.end, clean.text[x.start : x.end]) for x in items if x.kind in "wfnbx" or x.word]
    points = _brackets(items)
    picker = _Picker(clean, symbols, items)
    picker.run()
    _words_before(picker.segments, said)
    spoken = " ".join(t for _, _, t in said if any(c.isalpha() for c in t)).lower()
    return Prose(picker.segments, spoken, picker.withdraws, points)


# a mark that can part statements, name a percentage or be more than it seems; a letter after a value, as in a list of data
_PARTS = re.compile(
    r"\s{3}|\s\([ivx]{1,4}\)|[;:?!,\"⇒⇔∴∵≀≠@#&~\u0307\n]|\.(?!\d)|(?<!\d)\.(?=\d)|(?<![\d)\s])\s?%|^\s*[×*·/^)%+]|^\s*[xX]\s\d|[×*/+^=≈-]\s*$|[=≈]\s*[-+]?[\d.][^=≈+/(]*\s[^\W\d_][\w'{}]{0,8}\s?[=≈]"
    r"|[=≈].*[\w)%°]\s[\w.{}]{1,8}=\S|(?:sqrt|root|rt)\s?="
)
# the letter before the first relation stands alone before a later one: F = ma  F = 6
_AGAIN = re.compile(r"^\s*([^\W\d_][\w{}]{0,6})\s?=.*[\w)%°]\s\1\s?=")
_RUN = re.compile(r"(?<![A-Za-z_])[A-Za-z]{2,}")
_RELATION = re.compile("[=≈<>≤≥∝]")


def _all_mathematics(text: str, symbols: Symbols) -> Segment | None:
    """The line as one segment when nothing in it can be a word or part it; most lines of working are such. None when in doubt."""
    if _PARTS.search(text) is not None:
        return None
    for run in _RUN.findall(text):
        if not never_prose(run, symbols):
            return None
    relations = []
    bracketed = "(" in text
    for found in _RELATION.finditer(text):
        if bracketed:
            before = text[: found.start()]
            if before.count("(") != before.count(")"):
                return None
        relations.append((found.start(), found.end(), found.group()))
    if len(relations) > 1 and _AGAIN.search(text) is not None:
        return None
    if any(not text[a[1] : b[0]].strip() for a, b in pairwise(relations)):
        return None
    start, end = len(text) - len(text.lstrip()), len(text.rstrip())
    if end > start and not any(c.isdigit() for c in text) and "½" not in text and not relations and " " in text.strip():
        return None
    return Segment(start=start, end=end, relations=tuple(relations))


def _words_before(segments: list[Segment], said: list[tuple[int, int, str]]) -> None:
    previous = 0
    for segment in segments:
        between = [t for start, end, t in said if start >= previous and end <= segment.start and any(c.isalpha() for c in t)]
        segment.before = " ".join(between).lower()
        previous = segment.end


# ---- brackets --------------------------------------------------------------------------------------------------------


def _brackets(items: list[Item]) -> tuple[tuple[int, int], ...]:
    """Settles bracketed remarks, conditions and points; changes the items in place and returns the spans of points (20, 7.4)."""
    points = []
    stack: list[int] = []
    for index, item in enumerate(items):
        if item.kind == "(":
            stack.append(index)
        elif item.kind == ")" and stack:
            start = stack.pop()
            inner = items[start + 1 : index]
            before = items[start - 1] if start else None
            if _is_point(inner, before):
                points.append((items[start].start, item.end))
                for x in items[start : index + 1]:
                    x.kind, x.payload = "b", "point"
            elif any(x.kind == "r" and not x.word for x in inner) or any(x.kind == "b" and x.payload in (",", ";") for x in inner):
                items[start].kind, items[start].payload = "b", "("
                item.kind, item.payload = "b", ")"
            elif inner and all(x.kind in "wfnbr" for x in inner) and any(x.kind == "w" for x in inner):
                _remark(items, start, index, before)
            elif inner and inner[0].kind in "wb" and before is not None and before.kind in "mn)" and not any(x.kind == "o" for x in inner):
                items[start].kind, items[start].payload = "b", "("
                item.kind, item.payload = "b", ")"
    return tuple(points)


def _is_point(inner: list[Item], before: Item | None) -> bool:
    if before is not None and before.kind in "mn)or":
        return False
    commas = [x for x in inner if x.kind == "b" and x.payload == ","]
    if len(commas) == 1:
        return len(inner) > 2 and all(x.is_value or x in commas or x.text == "-" for x in inner)
    return len(inner) == 1 and inner[0].kind == "m" and re.fullmatch(r"\d+(\.\d+)?,\d+(\.\d+)?", inner[0].text) is not None


def _remark(items: list[Item], start: int, end: int, before: Item | None) -> None:
    """Words in brackets after an operand are a remark; where an operand is due they name a quantity."""
    if before is None or before.kind not in "mn)wb":
        return
    for x in items[start : end + 1]:
        if x.kind in "wfnr":
            x.kind, x.payload = "w", None
    items[start].kind, items[start].payload = "b", "("
    items[end].kind, items[end].payload = "b", ")"


# ---- segments --------------------------------------------------------------------------------------------------------

_TRIMMED_SIGNS = frozenset(("×", "/", "+", "-", "±", "^"))


@lru_cache(maxsize=4)
def _prose_words(kind: str) -> frozenset[str]:
    """Lists of grammars/words.toml: "not_names", words that keep a phrase from naming a quantity, and "prepositions"."""
    return frozenset(words()["prose"][kind])


class _Picker:
    """Turns items into segments."""

    def __init__(self, clean: Clean, symbols: Symbols, items: list[Item]) -> None:
        self.clean = clean
        self.symbols = symbols
        self.items = items
        self.segments: list[Segment] = []
        self.stretch: list[Item] = []
        self.overrides: dict[int, tuple[Edge, ...]] = {}
        self.alternative = self.final = self.tentative = False
        self.withdraws = ""
        self.label = ""
        self.joined: tuple[int, int] | None = None
        self.open_brackets = 0
        self.marking = self.withdraw_next = self.skip_relation = False
        self.spoken_since = False
        self.has_prose = any(x.kind in "wx" for x in items)

    def run(self) -> None:
        i = 0
        while i < len(self.items):
            i = self._step(i)
        self._flush()

    def _step(self, i: int) -> int:
        item = self.items[i]
        if item.kind in "wn":
            return self._phrase(i)
        if item.kind == "j":
            return i + 1
        if item.kind == "f":
            self._filler(i, item)
        elif item.kind == "b":
            self._break(i, item)
        elif item.kind == "x":
            self._crossing_out(i, item)
        elif item.kind == "r":
            self._relation(item)
        elif item.kind == "o" and item.word:
            self._operator(item)
        else:
            self.stretch.append(item)
        return i + 1

    # ---- signs and relations ----

    def _relation(self, item: Item) -> None:
        if item.word:
            self.tentative = True
            if item.text.lower().startswith(("equal", "to be")) and self._made():
                self._split_at_relation()
        else:
            self._split_after_word()
            self._split_list(item)
        last = self.stretch[-1] if self.stretch else None
        if last is not None and last.kind == "r":
            # "is about", "= approximately": one relation
            last.payload = item.payload if item.payload != "=" else last.payload
            self._skip(item)
            return
        self.stretch.append(item)

    def _made(self) -> bool:
        """ "… and that makes v² equal to 57": what was made begins a new statement."""
        return any(
            x.kind == "r" and x.word and any(w in x.text.lower() for w in ("make", "making", "give", "giving")) for x in self.stretch
        )

    def _split_at_relation(self) -> None:
        last = max(k for k, x in enumerate(self.stretch) if x.kind == "r")
        kept, moved = self.stretch[:last], self.stretch[last + 1 :]
        if moved:
            self.stretch = kept
            self._flush()
            self.stretch = moved

    def _split_after_word(self) -> None:
        """ "which makes R = 5.6": the relation in words only leads over to the statement R = 5.6."""
        relations = [k for k, x in enumerate(self.stretch) if x.kind == "r"]
        if not relations or not self.stretch[relations[-1]].word:
            return
        after = self.stretch[relations[-1] + 1 :]
        if after and _is_one_symbol(after):
            self.stretch = self.stretch[: relations[-1]]
            self._flush()
            self.stretch = after

    def _split_list(self, relation: Item) -> None:
        """u = 2.4 a = 0.85: a new statement begins at the letter before the next relation.

        It does when a plain value stands before that letter, when the letter is the first statement's own subject, or when the
        letter is joined to the relation and set off by a space (s=ut v=3).
        """
        relations = [k for k, x in enumerate(self.stretch) if x.kind == "r"]
        if not relations or not self.stretch:
            return
        tail = self.stretch[relations[-1] + 1 :]
        cut = _last_chunk(tail)
        if cut == 0 or self.clean.text[tail[cut].start - 1] != " " or not _ends_operand(tail[cut - 1]):
            return
        value, chunk = tail[:cut], tail[cut:]
        joined = chunk[-1].end == relation.start and self.clean.text[relation.end : relation.end + 1].strip() != ""
        symbol = _is_one_symbol(chunk)
        subject = self.stretch[: relations[0]]
        again = symbol and _is_one_symbol(subject) and subject[0].text == chunk[0].text and not value[-1].text[-1:].isdigit()
        number = len(chunk) == 1 and chunk[0].is_value and chunk[0].payload != "unit"
        in_subject = (
            symbol and len(chunk) == 1 and any(x.kind == "m" and x.text.startswith(chunk[0].text) for x in subject) and len(subject) > 0
        )
        again = again or (in_subject and len(relations) == 1 and not value[-1].text[-1:].isdigit())
        if chunk[0].kind == "n" and isinstance(chunk[0].payload, tuple) and not chunk[0].payload[1]:
            return  # 3 half lives = 74/8: words of the candidate's own after a number
        if (symbol and self._is_plain_value(value)) or again or (joined and (symbol or number)):
            self.stretch = self.stretch[: relations[-1] + 1 + cut]
            self._flush()
            self.stretch = chunk

    def _is_plain_value(self, items: list[Item]) -> bool:
        """A number, perhaps with a power of ten, and perhaps its unit."""
        if items and items[-1].payload == "unit":
            items = items[:-1]
        return bool(items) and _NUMBER_ALONE.fullmatch(self.clean.text[items[0].start : items[-1].end]) is not None

    def _operator(self, item: Item) -> None:
        """A sign in words."""
        self.tentative = True
        edge = self._sign_edge(item, str(item.payload))
        last = self.stretch[-1] if self.stretch else None
        if edge.kind == "N" and last is not None and _ends_operand(last):
            self._flush()
        self.overrides[item.start] = (edge,)
        self.stretch.append(item)

    def _sign_edge(self, item: Item, sign: str) -> Edge:
        place = self.clean.place(item.start, item.end)

        def tok(type: str, value: object) -> Tok:
            return Tok(type, value, place[0], place[1])

        if sign in ("×", "/", "+", "-", "±"):
            kind = {"×": "TIMES", "/": "SLASH", "+": "PLUS", "-": "MINUS", "±": "PM"}[sign]
            return Edge(item.start, item.end, "B", (tok(kind, sign),))
        if sign == "^":
            return Edge(item.start, item.end, "P", (tok("POW", sign),))
        if sign in ("^(2)", "^(3)"):
            return Edge(item.start, item.end, "P", (tok("POW", "^"), tok("NUMBER", _exact(sign[2]))), last="C")
        if sign in ("√", "∛"):
            return Edge(item.start, item.end, "F", (tok("ROOT", 2 if sign == "√" else 3),))
        parts = {"(1/2)": 0.5, "(1/3)": 1 / 3, "(1/4)": 0.25, "2×": 2.0}
        for text, value in parts.items():
            if sign.startswith(text):
                number = tok("NUMBER", Number(text=item.text, value=value, figures=(1, 15)))
                if sign.endswith("×"):
                    return Edge(item.start, item.end, "N", (number, tok("TIMES", "×")), last="B")
                return Edge(item.start, item.end, "N", (number,))
        if sign.isdigit():
            return Edge(item.start, item.end, "N", (tok("NUMBER", _exact(sign)),))
        return Edge(item.start, item.end, "F", (tok("FUNC", (sign.strip(), None)),))

    # ---- words ----

    def _filler(self, i: int, item: Item) -> None:
        last = self.stretch[-1] if self.stretch else None
        text = item.text.lower()
        if text == "of" and last is not None and last.text.lower().endswith(("%", "percent", "per cent")):
            a, b = self.clean.place(item.start, item.end)
            self.overrides[item.start] = (Edge(item.start, item.end, "B", (Tok("TIMES", "of", a, b),)),)
            self.stretch.append(item)
            return
        self._skip(item)
        if last is not None and _ends_operand(last) and text not in ("of", '"'):
            self._flush()
            self.spoken_since = True

    def _skip(self, item: Item) -> None:
        self.overrides[item.start] = (Edge(item.start, item.end, "K", ()),)

    def _phrase(self, i: int) -> int:
        """A run of words and names: a quantity where an operand is due, else prose."""
        j = self._phrase_end(i)
        run = self.items[i:j]
        before = self.stretch[-1] if self.stretch else None
        after = self.items[j] if j < len(self.items) else None
        if before is not None and self._multiplies(before, after):
            before = None  # 3 half lives = 16 y
        if before is not None and _ends_operand(before):
            if self._index_word(before, run):
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
        a, b = self.clean.place(first, end)
        edges = [Edge(first, end, "S", (Tok("SYMBOL", (symbol, known), a, b),))]
        if known and any(x.kind == "w" for x in run):
            edges.append(self._own_quantity(run))
        self.overrides[first] = tuple(e for e in edges if e.start == first)
        self.stretch.append(Item("n", first, end, self.clean.text[first:end], (symbol, known)))
        self.tentative = self.tentative or any(x.kind == "w" for x in run)
        return j

    def _own_quantity(self, run: list[Item]) -> Edge:
        """ "time to the top" may be the part's time, or one the candidate brings in."""
        first = next(x for x in run if x.kind in "wn")
        last = next(x for x in reversed(run) if x.kind in "wn")
        start, end = first.start, last.end
        if first.kind == "w":
            start = next((x.start for x in run if x.kind == "n"), start)
        a, b = self.clean.place(start, end)
        name = " ".join(self.clean.text[first.start : end].lower().split())
        note = Assumption(code="own-quantity", text=f"“{name}” is a quantity of the candidate's own", at=(a, b))
        return Edge(start, end, "S", (Tok("SYMBOL", (name, False), a, b),), 0.6, note)

    def _multiplies(self, before: Item, after: Item | None) -> bool:
        """A bare number before the words of a quantity, and a typed relation after them."""
        number = before.is_value and before.payload != "unit" and (len(self.stretch) == 1 or self.stretch[-2].kind in "or(")
        return number and after is not None and after.kind == "r" and not after.word

    def _has_value(self, run: list[Item], j: int) -> bool:
        """ "has a radius of 2.0 mm": the name, and of for the relation."""
        last = self.items[j - 1]
        following = self.items[j + 1] if j + 1 < len(self.items) else None
        if last.kind != "n" or following is None or not following.is_value or self.items[j].text.lower() != "of":
            return False
        symbol, known, first = _symbol_of(last)
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
            self.items[k].kind in "wnf" or (self.items[k].kind == "b" and self.items[k].text.lower() in _prose_words("prepositions"))
        ):
            k += 1
        if k > j and k < len(self.items) and self.items[k].kind in "r)" and self.items[k - 1].kind in "wn":
            return k
        while j > i + 1 and self.items[j - 1].kind == "f":
            j -= 1
        return j

    def _index_word(self, before: Item, run: list[Item]) -> bool:
        """R total: the word is the letter's index."""
        if len(run) != 1 or before.kind != "m" or before.payload == "unit" or not before.text.isalpha() or len(before.text) > 2:
            return False
        word = run[0].text.lower()
        if word not in words()["symbols"]["indices"]:
            return False
        self._join_index(before, before.start, run[0].end, before.text, word)
        return True

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
        if before is not None and before.kind == "m" and not _ends_operand(before):
            if others:
                return None
            before = Item("o", before.start, before.end, before.text)  # a function or root waits for its operand
        if (before is not None and before.kind not in "or(") or (after is not None and after.kind not in "orbx)"):
            if names and not others and before is not None and before.kind == "o" and after is not None and after.kind == "m":
                return _symbol_of(names[-1])
            if (before is None or before.kind in "or(") and after is not None and after.kind == "m" and len(run) == 1 and not names:
                return self._leading_index(run[0], after)
            return None
        if not self._related(before, after):
            return None
        if names and not others:
            return _symbol_of(names[0] if len(names) > 1 and run[0] is not names[-1] and any(x.kind == "b" for x in run) else names[-1])
        if any(x.text.lower() in _prose_words("not_names") for x in others):
            return None
        if others[0].text.lower() in ("percentage", "percent", "%") and len(names) == 1:
            return ("%" + str(names[0].payload[0]), False, others[0].start)  # type: ignore[index]
        if names and len(content) <= 6:
            return _symbol_of(names[0])
        return self._label(run, content)

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
        name = " ".join(self.clean.text[kept[0].start : kept[-1].end].lower().split())
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

    # ---- breaks ----

    def _break(self, i: int, item: Item) -> None:
        payload = item.payload
        if payload == "?":
            self._flush(unfinished=bool(self.stretch) and self.stretch[-1].kind == "r")
            return
        if payload == "," and self._goes_on(i):
            return
        self._flush()
        if isinstance(payload, tuple):
            self.label = payload[1]
            return
        if payload == "or":
            self.alternative = True
        if payload == "final":
            self._final(i)
        if item.text[:1].isalpha() and item.text.lower() not in ("and", "which"):
            self.spoken_since = True

    def _goes_on(self, i: int) -> bool:
        """A comma before a sign in words: "2.4, divided by 0.85"."""
        following = self.items[i + 1] if i + 1 < len(self.items) else None
        if following is None or following.kind != "o" or not following.word or following.payload not in ("×", "/", "+", "-"):
            return False
        relations = [k for k, x in enumerate(self.stretch) if x.kind == "r"]
        if relations and self._is_plain_value(self.stretch[relations[-1] + 1 :]):
            return False  # t = 0.67 s, times 2 = 1.34 s
        self._skip(self.items[i])
        return bool(self.stretch)

    def _final(self, i: int) -> None:
        """ "Ans: 5 N" labels what follows, "5 N final answer" what stands before."""
        following = [x for x in self.items[i + 1 :] if not (x.kind == "f" or (x.kind == "b" and x.payload in (":", "-", ",")))][:1]
        if following and following[0].kind in "mor(n":
            self.final = True
            self.skip_relation = following[0].kind == "r"
        elif self.segments:
            self.segments[-1].final = True

    def _crossing_out(self, i: int, item: Item) -> None:
        self._flush()
        if item.payload == "mark":
            self.marking = not self.marking
            return
        self.spoken_since = True
        for segment in self.segments:
            segment.withdrawn = True
        if item.payload == "all":
            self.withdraws = "all"
        elif self.segments:
            return
        elif item.payload == "this" and any(x.kind == "m" for x in self.items[i + 1 :]):
            self.withdraw_next = True
        elif self.withdraws == "":
            self.withdraws = "last"

    # ---- finishing a segment ----

    def _flush(self, unfinished: bool = False, cut: bool = False) -> None:
        """Ends the stretch. cut  by words that stand in the middle of it: what is open in brackets then cannot be read."""
        items, self.stretch = self.stretch, []
        leads = _leading_sign(items, "x" not in self.symbols.exact)
        if leads >= 0 and items[0].word and self.spoken_since and not any(x.kind == "r" for x in items):
            leads = -1  # "the activity has been divided by 3.4"
        items = self._trimmed(items, cut)
        depth = sum(x.kind == "(" for x in items) - sum(x.kind == ")" for x in items)
        broken = (cut and depth > 0) or self.open_brackets > 0 > depth
        self.open_brackets = max(0, self.open_brackets + depth) if cut or self.open_brackets else 0
        if not items or not self._worth_reading(items):
            self.spoken_since = self.spoken_since or bool(items)
            return
        self.segments.append(
            Segment(
                start=items[0].start,
                end=items[-1].end,
                relations=tuple((x.start, x.end, str(x.payload)) for x in items if x.kind == "r"),
                overrides=self.overrides,
                label=self.label,
                alternative=self.alternative,
                final=self.final,
                tentative=self.tentative,
                unfinished=unfinished or items[-1].kind == "r",
                withdrawn=self.marking or self.withdraw_next,
                broken=broken,
                leads=leads,
            )
        )
        self.overrides = {}
        self.label = ""
        self.alternative = self.final = self.tentative = self.spoken_since = False

    def _trimmed(self, items: list[Item], cut: bool) -> list[Item]:
        """Without signs, relations, functions and open brackets that prose left at either end."""
        while cut and items and items[-1].kind == "m" and not _ends_operand(items[-1]):
            items = items[:-1]
        while items and (items[-1].kind == "(" or (items[0].kind == ")" and len(items) > 1)):
            items = items[:-1] if items[-1].kind == "(" else items[1:]
        while items and (
            items[-1].kind in "ro" and items[-1].word and items[-1].payload not in ("^(2)", "^(3)") and not _is_number(items[-1])
        ):
            items = items[:-1]
        while items and items[0].kind == "o" and (items[0].payload in _TRIMMED_SIGNS - {"-", "±"} or items[0].text in "×*·/"):
            items = items[1:]
        if self.skip_relation and items and items[0].kind == "r":
            items, self.skip_relation = items[1:], False
        first = next((k for k, x in enumerate(items) if x.kind == "r"), None)
        if first and all((x.kind == "o" and x.word and not _is_number(x)) or x.text.lower() in _ROOTS for x in items[:first]):
            items = items[first + 1 :]
        later = any(x.kind == "r" for x in items[1:])
        if items and items[0].kind == "r" and items[0].word and (self.spoken_since or not self.segments or later):
            items = items[1:]
        return items

    def _worth_reading(self, items: list[Item]) -> bool:
        """A number, a relation with something mathematical, or signs between letters; lone letters only on a line of their own."""
        if any(x.kind == "m" and any(c.isdigit() or c in "½¼¾∞" for c in x.text) for x in items):
            return True
        relations = [x for x in items if x.kind == "r"]
        sign = any(x.kind == "o" for x in items)
        operands = sum(x.kind in "mn" for x in items)
        if operands and any(not x.word for x in relations):
            return True
        if relations and (operands > 1 or (operands and any(_is_number(x) for x in items))):
            return sign or any(x.kind == "m" for x in items) or any(_is_number(x) for x in items)
        if sign and operands > 1:
            return True
        return operands > 0 and not self.has_prose and not self.spoken_since and all(x.kind in "mo()" for x in items)


def _leading_sign(items: list[Item], crosses: bool) -> int:
    """Where the sign stands that a stretch begins with, before a number; -1 when there is none. crosses  an x can only multiply."""
    if len(items) < 2 or not (items[1].is_value or items[1].text in "(π√"):
        return -1
    first = items[0]
    sign = first.kind == "o" and (str(first.payload) in ("×", "/", "+", "-") if first.word else first.text in "×*·/+")
    return first.start if sign or (crosses and first.text in ("x", "X") and first.end < items[1].start) else -1


_NUMBER_ALONE = re.compile(r"[-+±]?\s?[\d.,]+(?:\s?[xX×*·]\s?10\s?\^?\s?\(?\s?-?\d+\s?\)?|[eE][-+]?\d+)?")


def _ends_operand(item: Item) -> bool:
    """True when an operand ends here; a function or root still waits for its own."""
    return item.kind in "n)" or (item.kind == "m" and item.text.lower() not in FUNCTION_NAMES and item.text.lower() not in _ROOTS)


_ROOTS = frozenset(("sqrt", "root", "rt", "cbrt"))


def _last_chunk(items: list[Item]) -> int:
    """Index where the items at the end that are joined without a space begin."""
    k = len(items)
    while (
        k > 0 and items[k - 1].kind in "mn" and items[k - 1].payload != "unit" and (k == len(items) or items[k].start == items[k - 1].end)
    ):
        k -= 1
    return k if k < len(items) else 0


def _is_one_symbol(items: list[Item]) -> bool:
    """A letter or name with its index, nothing else."""
    if not items or not all(x.kind in "mn" and x.payload != "unit" for x in items):
        return False
    joined = all(a.end == b.start for a, b in pairwise(items))
    return joined and (items[0].kind == "n" or items[0].text[:1].isalpha()) and _ends_operand(items[0])


def _symbol_of(item: Item) -> tuple[str, bool, int]:
    payload = item.payload
    assert isinstance(payload, tuple)
    return str(payload[0]), bool(payload[1]), item.start


def _is_number(item: Item) -> bool:
    """A number in words: one, half (of something)."""
    return item.kind == "o" and item.word and (str(item.payload).isdigit() or str(item.payload) in ("(1/2)", "(1/3)", "(1/4)"))


def _exact(digits: str) -> Number:
    return Number(text=digits, value=float(digits), figures=(1, 15))
