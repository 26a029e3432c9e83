"""Mathematics picked out of prose.

The cleaned line is cut into items (numbers with their units, letters, signs, words). Words that mean a sign or a relation
become one; names of the part's quantities become their symbols; the rest parts the statements. What comes out are segments:
stretches of the line to be read as one statement, with the words that stood before them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from marker.expression import Number
from marker.physics import units
from marker.reading.clean import GREEK, Clean
from marker.reading.symbols import FUNCTION_NAMES, Symbols, key_of, nearest, phrase_key, singular, words
from marker.reading.tokens import Edge, Tok

RELATIONS = frozenset("=≈<>≤≥∝")
_SIGNS = frozenset("+-×*·/±^√∛∜")
_ITEM = re.compile(
    r"(?P<number>\d+(?:[.,·]\d+)*\u0307?|\.\d+|[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞∞])"
    r"|(?P<script>_(?:\{[^}]*\}|\([^)]*\)|[A-Za-z0-9∥⊥Α-ω]+))"
    r"|(?P<word>[A-Za-z]+(?:'(?:s|t|re|ve|ll|d|m)\b)?)"
    r"|(?P<space>\s+)"
    r"|(?P<other>.)",
    re.DOTALL,
)
_CHARGE = re.compile(r"[+-]\s?ve\b", re.IGNORECASE)


class Item:
    """A piece of the line.

    kind  m number, letter or unit; o sign; r relation; b break; w word; f word passed over; n quantity's name; x crossing-out; ( and )
    """

    __slots__ = ("end", "kind", "payload", "start", "text")

    def __init__(self, kind: str, start: int, end: int, text: str, payload: object = None) -> None:
        self.kind = kind
        self.start = start
        self.end = end
        self.text = text
        self.payload = payload

    def __repr__(self) -> str:
        return f"{self.kind}[{self.text}]"


@dataclass(slots=True)
class Segment:
    """Characters start to end of the cleaned text that make one statement, and what the words around say of it."""

    start: int
    end: int
    relations: tuple[tuple[int, int, str], ...] = ()
    overrides: dict[int, tuple[Edge, ...]] = field(default_factory=dict)
    before: str = ""
    alternative: bool = False
    final: bool = False
    tentative: bool = False
    unfinished: bool = False
    withdrawn: bool = False


@dataclass(slots=True)
class Prose:
    """What the words pass found. `withdraws` says which earlier lines go: "", "last" or "all"."""

    segments: list[Segment]
    words: str
    withdraws: str = ""
    points: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class _Phrase:
    words: tuple[str, ...]
    kind: str
    payload: str


@lru_cache(maxsize=1)
def _phrases() -> Mapping[str, tuple[_Phrase, ...]]:
    data = words()
    found: dict[str, list[_Phrase]] = {}

    def put(entries: Sequence[str], kind: str, payload: str) -> None:
        for entry in entries:
            parts = tuple(entry.split(" "))
            found.setdefault(parts[0], []).append(_Phrase(parts, kind, payload))

    for sign, entries in data["relations"].items():
        put(entries, "r", sign)
    for sign, entries in data["operators"].items():
        put(entries, "o", sign)
    put(data["breaks"]["and"], "b", "and")
    put(data["breaks"]["or"], "b", "or")
    put(data["breaks"]["final"], "b", "final")
    put(data["filler"]["words"], "f", "")
    put(data["withdrawn"]["before"], "x", "last")
    put(data["withdrawn"]["all"], "x", "all")
    for entry in data["withdrawn"]["this"]:
        put([entry], "x", "this")
    order = {"x": 0, "r": 1, "o": 2, "b": 3, "f": 4}
    return {
        first: tuple(sorted(group, key=lambda p: (-len(p.words), order[p.kind], p.payload != "this"))) for first, group in found.items()
    }


@lru_cache(maxsize=1)
def _usual_names() -> frozenset[str]:
    return frozenset(words()["symbols"]["usual"])


@lru_cache(maxsize=1)
def _common() -> frozenset[str]:
    return frozenset(words()["common"]["words"].split())


# ---- items -----------------------------------------------------------------------------------------------------------


class _Scanner:
    """Cuts a cleaned text into items."""

    def __init__(self, clean: Clean, symbols: Symbols, used: frozenset[str]) -> None:
        self.clean = clean
        self.text = clean.text
        self.symbols = symbols
        self.used = used
        self.raw = [(m.lastgroup or "", m.start(), m.end(), m.group()) for m in _ITEM.finditer(self.text) if m.lastgroup != "space"]
        self.lower = [r[3].lower() for r in self.raw]
        self.items: list[Item] = []

    def run(self) -> list[Item]:
        i = 0
        while i < len(self.raw):
            i = self._step(i)
        return self.items

    def _put(self, kind: str, start: int, end: int, payload: object = None) -> None:
        self.items.append(Item(kind, start, end, self.text[start:end], payload))

    def _step(self, i: int) -> int:
        group, start, end, text = self.raw[i]
        if group == "number":
            self._put("m", start, end)
            return self._unit_after(i, end)
        if group == "script":
            self._put("m", start, end)
            return i + 1
        if group == "word":
            return self._word(i)
        return self._mark(i, start, end, text)

    def _unit_after(self, i: int, end: int) -> int:
        """Takes the unit after a number or a bracket whole, so that its words are not taken for prose."""
        at = end + 1 if self.text[end : end + 1] == " " else end
        stop = self._unit_end(at)
        if stop is None:
            return i + 1
        self._put("m", at, stop, "unit")
        j = i + 1
        while j < len(self.raw) and self.raw[j][1] < stop:
            j += 1
        return j

    def _unit_end(self, at: int) -> int | None:
        text = self.text
        if at >= len(text) or not (text[at].isalpha() or text[at] in "°%'\""):
            return None
        ends = sorted({s.end for s in units.scan(text, at) if not (text[s.end - 1].isalpha() and text[s.end : s.end + 1].isalpha())}, reverse=True)
        for stop in ends:
            piece = text[at:stop]
            following = text[stop:].lstrip()[:1]
            last = re.split(r"[\s·./]", piece)[-1]
            single = piece == last and len(last) == 1
            if " " in piece and following in ("=", "^") and (last in self.symbols.exact or last in self.used):
                continue
            if text[stop : stop + 1] in ("_", "^") or (single and following == "^"):
                continue
            if single and following and (following.isalpha() and text[stop : stop + 1].isalpha()):
                continue
            return stop
        return None

    # ---- signs and punctuation ----

    def _mark(self, i: int, start: int, end: int, text: str) -> int:
        if text in RELATIONS:
            self._put("r", start, end, text)
        elif text in "()":
            self._put(text, start, end)
            if text == ")":
                return self._unit_after(i, end) if self._unit_word_after(end) else i + 1
        elif text == "-" and self._dash(i):
            self._put("b", start, end, "-")
        elif text in "+-" and _CHARGE.match(self.text, start):
            self._put("w", start, end)
        elif text in _SIGNS:
            self._put("o", start, end)
        elif text in "≀":
            self._put("x", start, end, "mark")
        elif text in ",;:?!⇒⇔∴∵\n":
            self._put("b", start, end, text)
        elif text == ".":
            self._full_stop(start, end)
        elif text == "…" and self.items and self.items[-1].kind == "m":
            self.items[-1].end = end
        elif text in "'|%°\u0307" or text.isalpha():
            self._put("m", start, end)
        elif text == '"':
            self._put("f", start, end)
        else:
            self._put("b", start, end, text)
        return i + 1

    def _unit_word_after(self, end: int) -> bool:
        return self.text[end : end + 1] == " " or self.text[end : end + 1].isalpha()

    def _full_stop(self, start: int, end: int) -> None:
        before, after = self.text[start - 1 : start], self.text[end : end + 1]
        if after.isdigit():
            self._put("m", start, end)
        elif after.isalpha() and before.isalpha():
            self._put("o" if len(self.text) < 40 and not before.islower() else "b", start, end, ".")
        else:
            self._put("b", start, end, ".")

    def _dash(self, i: int) -> bool:
        """A dash before prose, not a minus sign."""
        if i + 1 >= len(self.raw):
            return True
        group, start, _, text = self.raw[i + 1]
        if group != "word" or self.raw[i][2] == start and self.raw[i][1] > 0 and self.text[self.raw[i][1] - 1] != " ":
            return False
        if self._phrase(i + 1) is not None and self._phrase(i + 1)[0].kind in "xb":  # type: ignore[index]
            return True
        return self._is_prose(i + 1) and self._name(i + 1) is None and self.raw[i][2] < start

    # ---- words ----

    def _word(self, i: int) -> int:
        _, start, end, text = self.raw[i]
        phrase = self._phrase(i)
        if phrase is not None and phrase[0].kind == "x":
            return self._put_phrase(i, *phrase)
        name = self._name(i)
        if phrase is not None and (name is None or phrase[1] >= name[1]):
            if not self._letters_here(i, phrase[0]):
                return self._put_phrase(i, *phrase)
            if name is None:
                self._put("m", start, end)
                return i + 1
        if name is not None and (name[1] > i + 1 or not self._tight(i)):
            self._put("n", start, self.raw[name[1] - 1][2], (name[0], True))
            return name[1]
        if self._is_prose(i):
            self._put("w", start, end)
        else:
            self._put("m", start, end)
        return i + 1

    def _put_phrase(self, i: int, phrase: _Phrase, stop: int) -> int:
        start, end = self.raw[i][1], self.raw[stop - 1][2]
        self._put(phrase.kind, start, end, phrase.payload)
        if phrase.kind == "r":
            self.items[-1].text = "word"
        return stop

    def _phrase(self, i: int) -> tuple[_Phrase, int] | None:
        for phrase in _phrases().get(self.lower[i], ()):
            n = len(phrase.words)
            if self.lower[i : i + n] == list(phrase.words):
                return phrase, i + n
            if n > 1 and "'" not in phrase.words[-1] and self._spelled(i, phrase.words):
                return phrase, i + n
        return None

    def _spelled(self, i: int, wanted: tuple[str, ...]) -> bool:
        found = self.lower[i : i + len(wanted)]
        return [w.replace("'", "") for w in found] == [w.replace("'", "") for w in wanted]

    def _letters_here(self, i: int, phrase: _Phrase) -> bool:
        """A short word of prose that is letters here: v = u + at, F = m a, I = 3."""
        text = self.raw[i][3]
        if text in _usual_names() or (text in self.symbols.exact and not text.islower() and len(text) > 1):
            return True
        if len(phrase.words) > 1 or len(text) > 2 or "'" in text or phrase.kind == "r" and text.lower() in ("is", "it"):
            return False
        if self._tight(i) or (self.text[self.raw[i][1] - 1 : self.raw[i][1]] == "(" and self.text[self.raw[i][2] : self.raw[i][2] + 1] == ")"):
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
            return "word" if self._is_prose(i) or self._phrase(i) is not None and len(text) > 1 and self.lower[i] not in ("is", "so", "are") else "letters"
        if group == "number":
            return "number"
        return "sign" if text in _SIGNS or text in RELATIONS or text in "()" else "end" if text in ",;.:" else "letters"

    def _tight(self, i: int) -> bool:
        """Joined to a sign, number or bracket without a space."""
        _, start, end, _ = self.raw[i]
        before, after = self.text[start - 1 : start], self.text[end : end + 1]
        left = bool(before) and (before.isdigit() or before in "=+-*/×·^√)_≈'½" or (before.isalpha() and not before.isascii()))
        right = bool(after) and (after.isdigit() or after in "=+*/×·^_√½'" or (after.isalpha() and not after.isascii()))
        return left or right

    def _is_prose(self, i: int) -> bool:
        """True for a word that is no run of letters, function, Greek name or symbol."""
        text, lower = self.raw[i][3], self.lower[i]
        if text in self.symbols.exact or lower in FUNCTION_NAMES or text in GREEK or text in ("sqrt", "SQRT", "Sqrt", "rt", "cbrt"):
            return False
        if "'" in text:
            return True
        tight = self._tight(i)
        if len(text) == 1:
            return False
        if lower in _common() and not tight:
            return True
        if self.symbols.known_letters(text) or text in _usual_names():
            return False
        if len(text) <= 3:
            return lower in _common() and not text.isupper() and not tight
        if tight and self._attached_letters(text):
            return False
        capitals = sum(c.isupper() for c in text)
        return not (len(text) <= 5 and capitals and (capitals > 1 or text[0].islower()))

    def _attached_letters(self, text: str) -> bool:
        """BILsin in "BILsin52": letters then a function or Greek name."""
        for name in ("sin", "cos", "tan", "sqrt", "ln", "log", "pi", "theta"):
            if name in text and len(text) - len(name) <= 5:
                return True
        return False

    def _name(self, i: int) -> tuple[str, int] | None:
        """A quantity's name in words, longest first, and the index of the item after it: "angle of refraction", "angle 1"."""
        symbols = self.symbols
        if not symbols.phrases:
            return None
        first = singular(self.lower[i].replace("'s", ""))
        if first not in symbols.vocabulary and nearest(first, symbols.vocabulary) is None:
            return None
        longest = min(len(self.raw) - i, symbols.longest_phrase + 3)
        for count in range(longest, 0, -1):
            if any(r[0] != "word" for r in self.raw[i : i + count]):
                continue
            key = phrase_key(" ".join(self.lower[i : i + count]))
            if not key:
                continue
            spelled = tuple(w if w in symbols.vocabulary else nearest(w, symbols.vocabulary) or w for w in key)
            after = i + count
            if after < len(self.raw) and self.raw[after][0] == "number" and len(self.raw[after][3]) == 1:
                indexed = symbols.indexed.get((spelled[-1], self.raw[after][3]))
                if indexed is not None:
                    return indexed, after + 1
            if spelled in symbols.phrases and key[-1:] == spelled[-1:] or spelled in symbols.phrases:
                return symbols.phrases[spelled], after
        return None


# ---- segments --------------------------------------------------------------------------------------------------------


def pick_out(clean: Clean, symbols: Symbols, used: frozenset[str] = frozenset()) -> Prose:
    """Segments of a cleaned line, in order, and its words. Never raises."""
    scanner = _Scanner(clean, symbols, used)
    items = scanner.run()
    points = _brackets(items)
    return _Picker(clean, symbols, items).run(points)


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
            if _is_point(inner):
                points.append((items[start].start, item.end))
                for x in items[start : index + 1]:
                    x.kind, x.payload = "b", "point"
            elif any(x.kind == "r" and x.text != "word" for x in inner) or any(x.kind == "b" and x.payload in (",", ";") for x in inner):
                items[start].kind, items[start].payload = "b", "("
                item.kind, item.payload = "b", ")"
            elif inner and all(x.kind in "wfnbr" for x in inner) and any(x.kind == "w" for x in inner):
                _remark(items, start, index)
    return tuple(points)


def _is_point(inner: list[Item]) -> bool:
    commas = [x for x in inner if x.kind == "b" and x.payload == ","]
    if len(commas) == 1:
        return all(x.kind == "m" and (x.payload == "unit" or x.text[0].isdigit() or x.text[0] == ".") or x in commas or x.text == "-" for x in inner)
    return len(inner) == 1 and inner[0].kind == "m" and re.fullmatch(r"\d+(\.\d+)?,\d+(\.\d+)?", inner[0].text) is not None and "." in inner[0].text


def _remark(items: list[Item], start: int, end: int) -> None:
    """Words in brackets: a quantity named in words where an operand is due, else a remark."""
    before = items[start - 1] if start else None
    if before is not None and (before.kind in "mn)" or before.kind in "wb"):
        for x in items[start : end + 1]:
            x.kind, x.payload = ("w", None) if x.kind in "wfnr" else ("b", x.payload)
        items[start].kind, items[start].payload = "b", "("
        items[end].kind, items[end].payload = "b", ")"


_NOT_NAMES = frozenset(
    """there this that these those it which who whom what why how whether i we you they he she looks look seems seem know dont don't do does did can can't cannot could should would will wont won't
    may might must shall has have had go goes going went come comes came need needs no yes ok okay maybe perhaps because very too more less than like still even really because stay takes take took""".split()
)


class _Picker:
    """Turns items into segments."""

    def __init__(self, clean: Clean, symbols: Symbols, items: list[Item]) -> None:
        self.clean = clean
        self.symbols = symbols
        self.items = items
        self.segments: list[Segment] = []
        self.run_items: list[Item] = []
        self.overrides: dict[int, tuple[Edge, ...]] = {}
        self.words: list[str] = []
        self.pending: list[str] = []
        self.alternative = self.final = self.tentative = False
        self.withdraws = ""
        self.marking = False
        self.prose = any(x.kind in "wx" for x in items)
        self.withdraw_next = False

    def run(self, points: tuple[tuple[int, int], ...]) -> Prose:
        i = 0
        while i < len(self.items):
            i = self._step(i)
        self._flush()
        return Prose(self.segments, " ".join(self.words).lower(), self.withdraws, points)

    def _step(self, i: int) -> int:
        item = self.items[i]
        if item.kind in "wn":
            return self._phrase(i)
        if item.kind == "f":
            return self._filler(i)
        if item.kind == "b":
            return self._break(i)
        if item.kind == "x":
            return self._crossing_out(i)
        if item.kind == "r":
            self._relation(item)
        elif item.kind == "o" and item.payload is not None:
            self._operator(item)
        else:
            self._take(item)
        return i + 1

    def _take(self, item: Item) -> None:
        self.run_items.append(item)

    # ---- signs and relations in words ----

    def _relation(self, item: Item) -> None:
        if item.text == "word":
            self.tentative = True
        else:
            self._split_list()
        last = self.run_items[-1] if self.run_items else None
        if last is not None and last.kind == "r":
            # "is about", "= approximately": one relation
            if item.payload != "=":
                last.payload = item.payload
            self._skip(item)
            return
        self.run_items.append(item)

    def _split_list(self) -> None:
        """u = 2.4 a = 0.85: a new datum begins at a letter after a value."""
        items = self.run_items
        relations = [k for k, x in enumerate(items) if x.kind == "r"]
        if len(relations) != 1:
            return
        tail = items[relations[0] + 1 :]
        cut = self._name_at_end(tail)
        if cut is None or cut == 0:
            return
        value, name = tail[:cut], tail[cut:]
        if not all(x.kind == "m" and (x.payload == "unit" or x.text[:1].isdigit() or x.text[:1] == ".") or x.text in "-+" for x in value):
            return
        if self.clean.text[name[0].start - 1] != " ":
            return
        self.run_items = items[: relations[0] + 1 + cut]
        self._flush()
        self.run_items = list(name)

    def _name_at_end(self, tail: list[Item]) -> int | None:
        """Index in the tail where the lone symbol before the new relation begins."""
        k = len(tail)
        while k > 0 and tail[k - 1].kind == "m" and tail[k - 1].payload != "unit" and (k == len(tail) or tail[k].start == tail[k - 1].end):
            k -= 1
        if k == len(tail) or not tail[k].text[:1].isalpha():
            if tail and tail[-1].kind == "n":
                return len(tail) - 1
            return None
        return k

    def _operator(self, item: Item) -> None:
        """A sign in words."""
        self.tentative = True
        sign = str(item.payload)
        edge = self._sign_edge(item, sign)
        if edge is None:
            self.run_items.append(item)
            return
        last = self.run_items[-1] if self.run_items else None
        if edge.kind in "NF" and last is not None and last.kind in "mn)" and sign not in ("√", "∛"):
            self._flush()
        self.overrides[item.start] = (edge,)
        self.run_items.append(item)

    def _sign_edge(self, item: Item, sign: str) -> Edge | None:
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
        if sign.endswith("×"):
            value = {"(1/2)×": 0.5, "(1/3)×": 1 / 3, "(1/4)×": 0.25, "2×": 2.0}[sign]
            number = Number(text=item.text, value=value, figures=(1, 15))
            return Edge(item.start, item.end, "N", (tok("NUMBER", number), tok("TIMES", "×")), last="B")
        if sign.isdigit():
            return Edge(item.start, item.end, "N", (tok("NUMBER", _exact(sign)),))
        if sign.endswith(" "):
            return Edge(item.start, item.end, "F", (tok("FUNC", (sign.strip(), None)),))
        return None

    # ---- words ----

    def _filler(self, i: int) -> int:
        item = self.items[i]
        text = item.text.lower()
        last = self.run_items[-1] if self.run_items else None
        if text == "of" and last is not None and last.text.lower().endswith(("%", "percent", "per cent")):
            self._put_times(item)
            return i + 1
        self._skip(item)
        if last is not None and last.kind in "mn)" and text != "of":
            self._flush()
        self.pending.append(item.text)
        self.words.append(item.text)
        return i + 1

    def _put_times(self, item: Item) -> None:
        a, b = self.clean.place(item.start, item.end)
        self.overrides[item.start] = (Edge(item.start, item.end, "B", (Tok("TIMES", "of", a, b),)),)
        self.run_items.append(item)

    def _skip(self, item: Item) -> None:
        self.overrides[item.start] = (Edge(item.start, item.end, "K", ()),)

    def _phrase(self, i: int) -> int:
        """A run of words and names: a quantity where an operand is due, else prose."""
        j = i
        while j < len(self.items) and (self.items[j].kind in "wn" or (self.items[j].kind == "f" and self._more_words(j))):
            j += 1
        run = self.items[i:j]
        before = self.run_items[-1] if self.run_items else None
        after = self.items[j] if j < len(self.items) else None
        if before is not None and before.kind in "mn)":
            if self._index_word(before, run):
                return j
            self._flush()
            before = None
        name = self._named(run, before, after)
        if name is None:
            self._prose(run)
            return j
        if name == "skip":
            self._prose(run)
            return j
        start = run[0].start
        symbol, known, first = name
        for x in run:
            if x.start < first:
                self.pending.append(x.text)
        self.words.append(self.clean.text[start : run[-1].end])
        a, b = self.clean.place(first, run[-1].end)
        edge = Edge(first, run[-1].end, "S", (Tok("SYMBOL", (symbol, known), a, b),))
        self.overrides[first] = (edge,)
        self.run_items.append(Item("n", first, run[-1].end, self.clean.text[first : run[-1].end]))
        if any(x.kind == "w" for x in run):
            self.tentative = True
        return j

    def _more_words(self, j: int) -> bool:
        """True when a word passed over stands between words."""
        k = j
        while k < len(self.items) and self.items[k].kind == "f":
            k += 1
        return k < len(self.items) and self.items[k].kind in "wn"

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
        edge = Edge(start, end, "S", (Tok("SYMBOL", value, a, b),), 0.0 if name else 0.3)
        self.overrides[start] = (edge,)
        item.start, item.end, item.text, item.kind = start, end, self.clean.text[start:end], "n"

    def _named(self, run: list[Item], before: Item | None, after: Item | None) -> tuple[str, bool, int] | str | None:
        """(symbol, known, where it begins) for words that stand for a quantity."""
        content = [x for x in run if x.kind != "f"]
        names = [x for x in content if x.kind == "n"]
        others = [x for x in content if x.kind == "w"]
        if after is not None and after.kind == "m" and names and not others:
            # "mass m = 3": the name introduces its letter
            return "skip" if before is None or before.kind != "o" else (str(names[-1].payload[0]), True, names[-1].start)  # type: ignore[index]
        if before is not None and before.kind not in "or(" or after is not None and after.kind not in "orbx)":
            leading = self._leading_index(run, after)
            return leading
        if names and not others:
            return (str(names[-1].payload[0]), True, names[-1].start) if self._related(before, after) else None  # type: ignore[index]
        if any(x.text.lower() in _NOT_NAMES for x in others) or not self._related(before, after, bool(names)):
            return None
        if len(names) == 1 and len(content) <= 6:
            return str(names[0].payload[0]), True, names[0].start  # type: ignore[index]
        return self._label(run, content)

    def _leading_index(self, run: list[Item], after: Item | None) -> tuple[str, bool, int] | str | None:
        """net F: the word is the index of the letter after it."""
        if len(run) == 1 and after is not None and after.kind == "m" and run[0].text.lower() in words()["symbols"]["leading_indices"] and after.text[0].isalpha() and len(after.text) == 1:
            return "skip"
        return None

    def _label(self, run: list[Item], content: list[Item]) -> tuple[str, bool, int] | None:
        """Words of the candidate's own for a quantity: gradient, volume of stack."""
        kept = content
        if len(kept) > 5:
            articles = [k for k, x in enumerate(run) if x.kind == "f" and x.text.lower() in ("the", "a", "an", "its")]
            tail = run[articles[-1] + 1 :] if articles else []
            kept = [x for x in tail if x.kind != "f"]
            if not kept or len(kept) > 4:
                return None
        if any(x.kind == "w" and not x.text[:1].isalpha() for x in kept):
            return None
        name = " ".join(self.clean.text[kept[0].start : kept[-1].end].lower().split())
        return (name, False, kept[0].start)

    def _related(self, before: Item | None, after: Item | None, named: bool = True) -> bool:
        """True when a sign or relation that is no mere word stands beside, or a relation in words has a number on its other side."""
        for item in (before, after):
            if item is None:
                continue
            if item.kind == "o" or (item.kind == "r" and item.text != "word"):
                return True
            if item.kind == "(" or (item.kind == ")" and before is not None):
                return True
            if item.kind == "r" and self._mathematics_near(item):
                return True
        return False

    def _mathematics_near(self, relation: Item) -> bool:
        k = self.items.index(relation)
        for x in self.items[k + 1 :]:
            if x.kind in "bx":
                break
            if x.kind in "mo(":
                return True
        return any(x.kind in "mo" for x in self.run_items)

    def _prose(self, run: list[Item]) -> None:
        if self.run_items:
            self._flush()
        for x in run:
            self.words.append(x.text)
            self.pending.append(x.text)

    # ---- breaks ----

    def _break(self, i: int) -> int:
        item = self.items[i]
        payload = item.payload
        if payload == "?":
            self._question()
            return i + 1
        if payload == ":" and not self.run_items:
            self.pending.append(":")
        self._flush()
        if payload == "or":
            self.alternative = True
        if payload == "final":
            self._final(i)
        if isinstance(payload, str) and item.text.isascii() and item.text.strip().isalpha() or payload in ("and", "or", "final"):
            self.words.append(item.text)
            self.pending.append(item.text)
        if payload in (".", "\n"):
            self.pending.clear()
        return i + 1

    def _final(self, i: int) -> None:
        following = self.items[i + 1 :]
        while following and (following[0].kind == "f" or following[0].kind == "b" and following[0].payload in (":", "-", ",")):
            following = following[1:]
        if following and following[0].kind in "mor(n":
            self.final = True
            if following[0].kind == "r":
                self._skip_leading = True
        elif self.segments:
            self.segments[-1].final = True

    _skip_leading = False

    def _question(self) -> None:
        """A question mark after a relation: v = ?"""
        if self.run_items and self.run_items[-1].kind == "r":
            self._flush(unfinished=True)
        else:
            self._flush()

    def _crossing_out(self, i: int) -> int:
        item = self.items[i]
        if item.payload == "mark":
            self._flush()
            self.marking = not self.marking
            return i + 1
        self.words.append(item.text)
        self._flush()
        if self.segments and item.payload != "all":
            for segment in self.segments:
                segment.withdrawn = True
        elif item.payload == "this" and any(x.kind == "m" for x in self.items[i + 1 :]):
            self.withdraw_next = True
        elif item.payload == "all":
            for segment in self.segments:
                segment.withdrawn = True
            self.withdraws = "all"
        elif self.withdraws == "":
            self.withdraws = "last"
        return i + 1

    def _flush(self, unfinished: bool = False) -> None:
        items = self.run_items
        self.run_items = []
        while items and (items[-1].kind == "r" and items[-1].text == "word" or items[-1].kind == "o" and items[-1].payload is not None or items[-1].kind == "f"):
            self._dropped(items.pop())
        while items and (items[0].kind == "o" and (items[0].payload in ("×", "/", "+", "^", "^(2)", "^(3)") or items[0].text in "×*·/^")):
            self._dropped(items.pop(0))
        if self._skip_leading and items and items[0].kind == "r":
            items.pop(0)
            self._skip_leading = False
        while items and items[0].kind == "r" and items[0].text == "word" and len(items) > 1 and self.segments == [] and not self.pending:
            items.pop(0)
        if items and items[0].kind == "r" and items[0].text == "word" and not self._continues():
            self._dropped(items.pop(0))
        if not items or not self._worth_reading(items):
            for x in items:
                self._dropped(x)
            return
        self.segments.append(
            Segment(
                start=items[0].start,
                end=items[-1].end,
                relations=tuple((x.start, x.end, str(x.payload)) for x in items if x.kind == "r"),
                overrides=self.overrides,
                before=" ".join(self.pending).lower(),
                alternative=self.alternative,
                final=self.final,
                tentative=self.tentative,
                unfinished=unfinished or items[-1].kind == "r",
                withdrawn=self.marking or self.withdraw_next,
            )
        )
        self.overrides = {}
        self.pending = []
        self.alternative = self.final = self.tentative = False

    def _continues(self) -> bool:
        """A relation in words goes on from the statement before it only when nothing was said in between."""
        return bool(self.segments) and all(w.lower() in ("and", ",", "which") for w in self.pending)

    def _dropped(self, item: Item) -> None:
        self.words.append(self.clean.text[item.start : item.end])
        self.pending.append(self.clean.text[item.start : item.end])

    def _worth_reading(self, items: list[Item]) -> bool:
        """A number, a relation with something mathematical, or signs between letters; lone letters only on a line of their own."""
        if any(x.kind == "m" and any(c.isdigit() or c in "½¼¾∞" for c in x.text) for x in items):
            return True
        relation = any(x.kind == "r" for x in items)
        sign = any(x.kind == "o" for x in items)
        operands = sum(x.kind in "mn" for x in items)
        typed = any(x.kind == "r" and x.text != "word" for x in items)
        if typed and operands:
            return True
        if relation and (sign or operands > 1):
            return True
        if sign and operands > 1:
            return True
        return operands > 0 and not self.prose and not self.pending and all(x.kind in "mo()" for x in items)


def _exact(digits: str) -> Number:
    return Number(text=digits, value=float(digits), figures=(1, 15))
