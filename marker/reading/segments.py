"""Items to segments: the stretches of a line that are read as one statement each, and what the words around say of them.

Words in an operand's place stand for a quantity ("gradient = ", "mass × acceleration"); other words part the statements and are
kept as prose. Remarks in brackets, points of a graph and crossings-out are settled here too.
"""

from __future__ import annotations

from marker.physics import units
from marker.reading.clean import Clean
from marker.reading.headings import HEADING, QUANTITY, before_colon
from marker.reading.item import Item
from marker.reading.items import Scanner
from marker.reading.listing import begins_at, is_plain_value
from marker.reading.phrases import Phrases, ends_operand, is_root
from marker.reading.qualified import qualified
from marker.reading.remarks import settle_brackets
from marker.reading.segment import Prose, Segment, words_before
from marker.reading.sign_words import degree_after, sign_edge
from marker.reading.stretches import after_broken, brackets, is_number_word, is_one_symbol, leading_sign, with_relation
from marker.reading.symbols import Symbols
from marker.reading.tokens import Edge, Tok
from marker.reading.whole import all_mathematics


def pick_out(clean: Clean, symbols: Symbols, used: frozenset[str] = frozenset()) -> Prose:
    """Segments of a cleaned line, in order, and its words. Never raises."""
    whole = all_mathematics(clean.text, symbols)
    if whole is not None:
        return Prose([whole] if whole.end > whole.start else [], "")
    items = Scanner(clean, symbols, used).run()
    said = [(x.start, x.end, clean.text[x.start : x.end]) for x in items if x.kind in "wfnbx" or x.word]
    points = settle_brackets(items)
    picker = _Picker(clean, symbols, items)
    picker.run()
    words_before(picker.segments, said)
    spoken = " ".join(t for _, _, t in said if any(c.isalpha() for c in t)).lower()
    return Prose(picker.segments, spoken, picker.withdraws, points)


# ---- segments --------------------------------------------------------------------------------------------------------

_TRIMMED_SIGNS = frozenset(("×", "/", "+", "-", "±", "^", "^(2)", "^(3)"))


class _Picker(Phrases):
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
        if item.kind in "wb" and (after := qualified(self, i)) > i:
            self.tentative = True
            return after
        if item.kind in "wn":
            return self._phrase(i)
        if item.kind == "j":
            return i + 1
        if item.kind == "k":
            self._skip(item)
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
            if item.is_value and self._begins_anew(i, item):
                self._flush()
            self.stretch.append(item)
        return i + 1

    def _begins_anew(self, i: int, item: Item) -> bool:
        """λ = 656 nm 300 lines per mm: a number after a unit and a space, but for 3 min 54 s."""
        last = self.stretch[-1] if self.stretch else None
        if (
            last is None
            or last.payload != "unit"
            or last.end == item.start
            or item.text in ("2", "3")
            or not any(x.kind == "r" for x in self.stretch)
        ):
            return False
        following = self.items[i + 1] if i + 1 < len(self.items) else None
        if following is None or following.payload != "unit":
            return True
        mixed = [units.parse_unit(x.text) for x in (last, following)]
        return not all(mixed) or mixed[0][0][0].dimensions != mixed[1][0][0].dimensions

    # ---- signs and relations ----

    def _relation(self, item: Item) -> None:
        if item.word:
            self.tentative = True
            if self._put_in():
                self.stretch = []
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

    def _put_in(self) -> bool:
        """ "315 for V gives 33.7 J": what is put in for a letter gives a value of something else."""
        if not is_one_symbol(self.stretch) or not self.segments:
            return False
        k = next((k for k, x in enumerate(self.items) if x is self.stretch[0]), 0)
        return k > 1 and self.items[k - 1].text.lower() in ("for", "in for") and self.items[k - 2].is_value

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
        letters = [x for x in after if x.kind == "m" and x.text[:1].isalpha() and x.payload != "unit" and x.text not in "xX"]
        quantities = [*letters, *(x for x in after if x.kind == "n")]
        leads_on = len(relations) > 1 and bool(quantities)
        if after and (is_one_symbol(after) or leads_on):
            self.stretch = self.stretch[: relations[-1]]
            moved = {k: edges for k, edges in self.overrides.items() if k >= after[0].start}
            self._flush()
            self.overrides.update(moved)
            self.stretch = after

    def _split_list(self, relation: Item) -> None:
        """u = 2.4 a = 0.85: a new statement may begin at the letter before the next relation."""
        cut = begins_at(self.stretch, relation, self.clean.text, "x" in self.symbols.exact)
        if cut:
            chunk = self.stretch[cut:]
            self.stretch = self.stretch[:cut]
            self._flush()
            self.stretch = chunk

    def _operator(self, item: Item) -> None:
        """A sign in words."""
        self.tentative = True
        edge = sign_edge(self.clean, item, str(item.payload))
        last = self.stretch[-1] if self.stretch else None
        if last is not None and last.kind == "r" and last.word and item.payload in ("×", "/"):
            self._flush(cut=True)  # "is shared by", with nothing to share
            return
        if edge.kind == "N" and last is not None and ends_operand(last):
            self._flush()
        self.overrides[item.start] = (*degree_after(self.clean, item, edge), edge)
        self.stretch.append(item)

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
        if last is not None and ends_operand(last) and text not in ("of", '"'):
            self._flush()
            self.spoken_since = True

    def _skip(self, item: Item) -> None:
        self.overrides[item.start] = (Edge(item.start, item.end, "K", ()),)

    # ---- breaks ----

    def _break(self, i: int, item: Item) -> None:
        payload = item.payload
        if payload == "?":
            self._flush(unfinished=bool(self.stretch) and self.stretch[-1].kind == "r")
            return
        if payload == "," and self._goes_on(i):
            return
        if payload == ":" and self._headed(i, item):
            return
        if item.text[:1].isalpha() and (self._index_before_relation(i) or self._names_by_itself(i, item)):
            return
        self._flush(cut=item.text[:1].isalpha() and brackets(self.stretch)[1] > 0)
        if isinstance(payload, tuple):
            self.label = payload[1]
            return
        if payload == "or":
            self.alternative = True
        if payload == "final":
            self._final(i)
        if item.text[:1].isalpha() and item.text.lower() not in ("and", "which"):
            self.spoken_since = True

    def _headed(self, i: int, colon: Item) -> bool:
        """Settles what stands before a colon; False when the colon only parts statements."""
        end = i + 1
        while end < len(self.items) and self.items[end].kind not in "bx":
            end += 1
        if len(self.stretch) == 1 and self.stretch[0].is_value and self._follows_word(self.stretch[0]):
            self.stretch = []  # step 1: …
            return True
        meant = before_colon(self.stretch, self.items[i + 1 : end], self.symbols)
        if meant == QUANTITY:
            self.stretch.append(Item("r", colon.start, colon.end, ":", "="))
        elif meant == HEADING and not self.segments:
            self.stretch = []
        else:
            return False
        return True

    def _names_by_itself(self, i: int, item: Item) -> bool:
        """in = 12.4 × 400: a word that parts statements elsewhere, alone before a typed relation."""
        following = self.items[i + 1] if i + 1 < len(self.items) else None
        led = following is not None and following.kind == "r" and not following.word and not self._follows_word(item)
        if not led or self.stretch or item.text.lower() not in ("in", "before", "after"):
            return False
        a, b = self.clean.place(item.start, item.end)
        self.overrides[item.start] = (Edge(item.start, item.end, "S", (Tok("SYMBOL", (item.text.lower(), False), a, b),)),)
        self.stretch.append(Item("n", item.start, item.end, item.text, (item.text.lower(), False)))
        return True

    def _follows_word(self, item: Item) -> bool:
        """True when a word of prose stands before the item."""
        k = next((k for k, x in enumerate(self.items) if x.start == item.start), 0)
        return k > 0 and self.items[k - 1].kind in "wf"

    def _goes_on(self, i: int) -> bool:
        """A comma before a sign in words: "2.4, divided by 0.85"."""
        following = self.items[i + 1] if i + 1 < len(self.items) else None
        if following is None or following.kind != "o" or not following.word or following.payload not in ("×", "/", "+", "-"):
            return False
        relations = [k for k, x in enumerate(self.stretch) if x.kind == "r"]
        if relations and is_plain_value(self.stretch[relations[-1] + 1 :], self.clean.text):
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
        leads = leading_sign(items, "x" not in self.symbols.exact)
        if leads >= 0 and items[0].word and not any(x.kind == "r" for x in items) and self._follows_word(items[0]):
            leads = -1  # "the activity has been divided by 3.4"
        least, _ = brackets(items)
        items = self._trimmed(items, cut)
        depth = brackets(items)[1]
        broken = (cut and depth > 0) or (self.open_brackets > 0 > least)
        self.open_brackets = max(0, self.open_brackets + depth) if cut or self.open_brackets else 0
        items = with_relation(items, self.clean.text)
        if broken and self.open_brackets == 0 and (rest := after_broken(items)):
            self._segment(items[: -len(rest) - 1], leads, unfinished=False, broken=True)
            items, broken, leads = rest, False, -1
        if not items or not self._worth_reading(items):
            self.spoken_since = self.spoken_since or bool(items)
            return
        self._segment(items, leads, unfinished, broken)
        self.overrides = {}
        self.label = ""
        self.alternative = self.final = self.tentative = self.spoken_since = False

    def _segment(self, items: list[Item], leads: int, unfinished: bool, broken: bool) -> None:
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

    def _trimmed(self, items: list[Item], cut: bool) -> list[Item]:
        """Without signs, relations, functions and open brackets that prose left at either end."""
        while cut and items and items[-1].kind == "m" and not ends_operand(items[-1]):
            items = items[:-1]
        while items and (items[-1].kind == "(" or (items[0].kind == ")" and len(items) > 1)):
            items = items[:-1] if items[-1].kind == "(" else items[1:]
        while items and (
            items[-1].kind in "ro" and items[-1].word and items[-1].payload not in ("^(2)", "^(3)") and not is_number_word(items[-1])
        ):
            items = items[:-1]
        while items and items[0].kind == "o" and (items[0].payload in _TRIMMED_SIGNS - {"-", "±"} or items[0].text in "×*·/"):
            dash = items[0].word and len(items) > 1 and items[1].text == "-"  # "hang on, squared - 0.20": the sign is a dash
            items = items[2:] if dash else items[1:]
        if self.skip_relation and items and items[0].kind == "r":
            items, self.skip_relation = items[1:], False
        first = next((k for k, x in enumerate(items) if x.kind == "r"), None)
        if first and all((x.kind == "o" and x.word and not is_number_word(x)) or is_root(x.text) for x in items[:first]):
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
        if relations and (operands > 1 or (operands and any(is_number_word(x) for x in items))):
            return sign or any(x.kind == "m" for x in items) or any(is_number_word(x) for x in items)
        if sign and operands > 1:
            return True
        return operands > 0 and not self.has_prose and not self.spoken_since and all(x.kind in "mo()" for x in items)
