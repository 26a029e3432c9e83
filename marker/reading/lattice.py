"""Every place of a text with its possible tokens, each with a cost.

BILsinθ is cut by the part's symbols; "2.0 m" is two metres or two masses; v2 is v², v₂ or v·2; x multiplies or is a letter.
All of these are edges of one lattice; marker.reading.search walks it, cheapest first.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from marker.expression import Number
from marker.physics import units
from marker.reading.area import Area
from marker.reading.habits import INDEX, RAISED, SQUARED
from marker.reading.letters import Letters
from marker.reading.numbers import is_number_start, scan_numbers
from marker.reading.tokens import Edge, Tok

_DEAR = 1.3  # 4.592 for 4.59² is no habit
_SECOND = 0.4  # a coulomb where a temperature is given
_SPELT = 8.0  # a unit in the wrong case, of letters that are all quantities of the part
_OPERATORS: Mapping[str, str] = {"+": "PLUS", "-": "MINUS", "±": "PM", "×": "TIMES", "*": "TIMES", "·": "TIMES", "/": "SLASH"}
_SIGNS = {c: ("B", kind) for c, kind in _OPERATORS.items() if c != "±"} | {"(": ("O", "LPAR"), ")": ("C", "RPAR"), "^": ("P", "POW")}
_INDEX = re.compile(r"_(?:\{([^}]*)\}|\(([^)]*)\)|([A-Za-z0-9∥⊥Α-ω]+)|([+-]))")
_GOES_ON = re.compile(r"\s?(?:[×xX*·/+-]\s?[\d.(√]|/\s?[A-Za-z]|[(^√])")
_LONE_LETTER = re.compile(r"(?:^|[A-Za-zα-ω)] |[=+*×·(/-] ?)[A-Za-zα-ω] $")
_KILO = re.compile(r"(\d{1,3}(?:\.\d{1,3})?)k(?:(?<=\dk)(\d))?(?![A-Za-z0-9_^(])")
_CONCISE = re.compile(r"(\d+\.(\d+))\(([1-9]\d?)\)(?![\d(^])")
_DEGREE = re.compile(r"([34])(rd|th)? ?(?:√|(?:root(?: of)?|sqrt|rt)(?![A-Za-z]))", re.IGNORECASE)
_MAY_BE_RAISED = re.compile(r"[_\dt-]")
_LOST_ON_BRACKET = re.compile(r"(?:1/[234]|[234½⅓¼]|-[12])(?![\d.,])")
_HALF_BEFORE = re.compile(r"\((?:1/2|½|0?\.5)\)$")
_POWER_BEFORE = re.compile(r"(?:10\s?\^\s?\(?-?\d{1,2}\)?|\d[eE]-?\d{1,2}|10-\d{1,2})\s?$")  # a charge, and no temperature
_DECAYING = re.compile(r"(?:(t)|\d{1,4}(?:\.\d{1,4})?)\s?/\s?(?(1)[TtτhH]|\d)")
_DECIMAL = re.compile(r"\d{1,2}\.\d{1,4}(?![\d.,])")  # of a half taken so many times
_FRACTIONS = {"1/2": 0.5, "½": 0.5, "1/3": 1 / 3, "⅓": 1 / 3, "1/4": 0.25, "¼": 0.25}
_RAISED_FRACTIONS = "½⅓¼"
_ON_BRACKET = frozenset("1234-" + _RAISED_FRACTIONS)
_SMALL_UNITS = frozenset("vwnja")
_TRIG_BEFORE = re.compile(r"(?:sin|cos|tan)\s?\(?$")


class Lattice(Letters):
    """The edges of one area, made when a search gets there and kept for the searches after it.

    open  a search has come to a place where it had a choice
    """

    __slots__ = ("_bars", "_edges", "_units", "open")

    def __init__(self, area: Area) -> None:
        super().__init__(area)
        self.open = any(c in self.limit for c in _RAISED_FRACTIONS)  # after a bracket these are left to the full search
        self._edges: dict[int, list[Edge]] = {}
        self._units: dict[int, list[Edge]] = {}
        self._bars: dict[int, str] | None = None

    def edges(self, at: int) -> list[Edge]:
        """Edges but for units, whose cost depends on what stands before."""
        found = self._edges.get(at)
        if found is None:
            settled = self.area.overrides.get(at)
            found = self._edges[at] = list(settled) if settled is not None else self._made(at)
        return found

    def by_habit(self, habit: frozenset[str]) -> Lattice | None:
        """The lattice with only what a habit asks for; None where that is all there is at the places searched so far."""
        if all(len(_by_habit(edges, habit)) == len(edges) for edges in self._edges.values()):
            return None
        return _Habitual(self, habit)

    def plain_sign(self, at: int, c: str) -> Edge | None:
        """The one edge of a sign or bracket, where nothing else can be meant."""
        sign = _SIGNS.get(c)
        if sign is None or self.area.overrides or (c == ")" and _MAY_BE_RAISED.match(self.limit, at + 1)):
            return None
        return Edge(at, at + 1, sign[0], (Tok(sign[1], c, self._starts[at], self._ends[at]),))

    def unit_edges(self, at: int) -> list[Edge]:
        found = self._units.get(at)
        if found is None:
            found = [] if at in self.area.overrides else list(self._made_units(at))
            self._units[at] = found
        return found

    def first_unit(self, at: int) -> Edge | None:
        """The longest unit here, without making the others."""
        if at in self._units:
            return self._units[at][0] if self._units[at] else None
        return None if at in self.area.overrides else next(self._made_units(at), None)

    def _made(self, at: int) -> list[Edge]:
        c = self.limit[at]
        if c.isdigit():
            return self._numbers(at)
        if c.isalpha():
            return self.letters(at)
        if c == "(":
            return [Edge(at, at + 1, "O", (self.tok("LPAR", c, at, at + 1),))]
        if c == ")":
            closing = Edge(at, at + 1, "C", (self.tok("RPAR", c, at, at + 1),))
            following = self.limit[at + 1 : at + 2]
            if following == "t" or following.isdigit():
                decay = self._decay(at)
                closing.cost += 0.2 if decay and following == "t" else 0.0
                return [closing, *decay, *(self._bracket_power(at) if following in _ON_BRACKET else [])]
            if following in _ON_BRACKET:
                return [closing, *self._bracket_power(at)]
            return [closing] if following != "_" else [*self._bracket_index(at), closing]
        kind = _OPERATORS.get(c)
        if kind is not None:
            return [Edge(at, at + 1, "B", (self.tok(kind, c, at, at + 1),))] if c != "±" else self._plus_minus(at)
        if is_number_start(self.limit, at):
            return self._numbers(at)
        if c == "^":
            return [Edge(at, at + 1, "P", (self.tok("POW", c, at, at + 1),))]
        if c in "√∛∜":
            return [Edge(at, at + 1, "F", (self.tok("ROOT", {"√": 2, "∛": 3, "∜": 4}[c], at, at + 1),))]
        return self._bar(at) if c == "|" else []

    def _plus_minus(self, at: int) -> list[Edge]:
        """± between values, or before one, where it may be passed over: Δv = ±0.14."""
        sign = Edge(at, at + 1, "B", (self.tok("PM", "±", at, at + 1),))
        before = self.limit[self.area.start : at].rstrip()
        if before and before[-1] not in "=≈(":
            return [sign]
        sign.cost = 0.3
        note = self.note("either-sign", "the ± before the value is passed over", at, at + 1)
        return [Edge(at, at + 1, "K", (), 0.0, note), sign]

    # ---- numbers ----

    def _numbers(self, at: int) -> list[Edge]:
        scans = scan_numbers(self.limit, at, self.area.style)
        made = self._spaced_power(at)
        for scan in scans:
            if scan.power and not self.area.style.first and not self._worked_with(at, scan.end):
                continue  # 1.32 Pa is a result, and no square
            note = self.note(scan.code, scan.text, at, scan.end) if scan.code else None
            toks: tuple[Tok, ...] = (self.tok("NUMBER", scan.number, at, scan.end),)
            if scan.power:
                toks = (
                    self.tok("NUMBER", scan.number, at, scan.end - 1),
                    self.tok("POW", "^", scan.end - 1, scan.end - 1),
                    self.tok("NUMBER", Number(text=str(scan.power), value=scan.power), scan.end - 1, scan.end),
                )
            choice = ("× 10", scan.choice) if scan.choice else None
            made.append(Edge(at, scan.end, "N", toks, scan.cost, note, choice))
        following = self.limit[scans[0].end : scans[0].end + 1] if scans else ""
        if following == "k":
            made += self._kilo(at)
        elif following == "(":
            made += self._concise(at)
        made += self._degree(at) if self.limit[at] in "34" else []
        index = self._bare_index(at)
        for edge in made if index else ():
            edge.cost += 0.4  # the sine of one degree is not meant
        return index + made

    def _degree(self, at: int) -> list[Edge]:
        """3root(2P/A), 3√V: the figure before a root may be its degree, where it could not be typed smaller."""
        found = _DEGREE.match(self.limit, at)
        if found is None:
            return []
        end, degree = found.end(), found.group(1)
        note = self.note("root-degree", f"the {degree} before the root is its degree", at, end)
        return [Edge(at, end, "F", (self.tok("ROOT", int(degree), at, end),), 0.0 if found.group(2) else 0.9, note)]

    def _kilo(self, at: int) -> list[Edge]:
        """6.9k, 4k7: a resistance in thousands, as it is printed on circuits, where k is no quantity."""
        found = None if "k" in self.area.symbols.exact else _KILO.match(self.limit, at)
        if found is None:
            return []
        whole, after = found.groups()
        text = f"{whole}.{after}" if after else whole
        places = len(text.partition(".")[2])
        count = len(text.replace(".", "").lstrip("0"))
        number = Number(text=found.group(), value=1e3 * float(text), half=500 * 10.0**-places, figures=(count, count))
        note = self.note("thousands", f"“{found.group()}” is taken for {text} thousand", at, found.end())
        return [Edge(at, found.end(), "N", (self.tok("NUMBER", number, at, found.end()),), 0.2, note)]

    def _spaced_power(self, at: int) -> list[Edge]:
        """1/2 m v 2: a lost superscript that stands apart."""
        text, figure = self.limit, self.limit[at]
        if figure not in "23" or text[at - 1 : at] != " " or not _LONE_LETTER.search(text, max(0, at - 4), at):
            return []
        after = text[at + 1 : self.area.end].lstrip()[:1]
        if text[at + 1 : at + 2].isalnum() or after.isalnum() or after in (".", ",", "^", "(", "√", "×", "*"):
            return []
        number = self.tok("NUMBER", Number(text=figure, value=float(figure)), at, at + 1)
        note = self.note("lost-power", f"{text[at - 2]} to the power {figure}", at, at + 1)
        return [Edge(at, at + 1, "P", (self.tok("POW", "^", at, at), number), 0.5, note, last="C")]

    def _worked_with(self, at: int, end: int) -> bool:
        """True when a number is part of an expression, and not all there is on its side but for a unit."""
        before = self.limit[self.area.start : at].strip("-+ ")
        return bool(before) or _GOES_ON.match(self.limit, end) is not None

    def _concise(self, at: int) -> list[Edge]:
        """5.0(2) Ω: the figure in brackets is the uncertainty of the last figure; or a factor."""
        found = _CONCISE.match(self.limit, at)
        if found is None:
            return []
        places = len(found.group(2))
        number = Number(text=found.group(1), value=float(found.group(1)), half=0.5 * 10.0**-places, figures=(places + 1, places + 1))
        doubt = int(found.group(3)) * 10.0**-places
        uncertainty = Number(text=f"{doubt:.{places}f}", value=doubt, half=0.5 * 10.0**-places)
        end, middle = found.end(), found.end(2)
        toks = (
            self.tok("LPAR", "", at, at),
            self.tok("NUMBER", number, at, middle),
            self.tok("PM", "±", middle, middle + 1),
            self.tok("NUMBER", uncertainty, middle, end),
            self.tok("RPAR", "", end - 1, end),
        )
        note = self.note("concise-uncertainty", "the figure in brackets is the uncertainty in the last place", at, end)
        return [Edge(at, end, "N", toks, 0.4, note, last="C")]

    def _bare_index(self, at: int) -> list[Edge]:
        """sin1/sin2 where the part has θ1 and θ2: the figure stands for the angle."""
        name = self.area.symbols.by_index.get(self.limit[at])
        after = self.limit[at + 1 : at + 2]
        if name is None or after.isdigit() or after in (".", "°", ",") or not _TRIG_BEFORE.search(self.limit[max(0, at - 5) : at]):
            return []
        note = self.note("bare-index", f"“{self.limit[at]}” stands for {name}", at, at + 1)
        return [Edge(at, at + 1, "S", (self.tok("SYMBOL", (name, True), at, at + 1),), 0.0, note, ("sin" + self.limit[at], "index"))]

    # ---- bars ----

    def _bar(self, at: int) -> list[Edge]:
        if self._bars is None:
            self._bars, opening = {}, True
            for index in range(self.area.start, self.area.end):
                if self.limit[index] == "|" and index not in self.area.overrides:
                    self._bars[index] = "BOPEN" if opening else "BCLOSE"
                    opening = not opening
        kind = self._bars.get(at, "BOPEN")
        return [Edge(at, at + 1, "O" if kind == "BOPEN" else "C", (self.tok(kind, "|", at, at + 1),))]

    def _bracket_power(self, at: int) -> list[Edge]:
        """(2.0x10-3)2, (m/k)1/2, (1/9 + 1/15)-1, (1/2)2.28: the superscript of the bracket was lost."""
        found = _LOST_ON_BRACKET.match(self.limit, at + 1)
        if found is None and _HALF_BEFORE.search(self.limit, self.area.start, at + 1) is not None:
            found = _DECIMAL.match(self.limit, at + 1)
        if found is None:
            return []
        end, power = found.end(), found.group()
        value = _FRACTIONS[power] if power in _FRACTIONS else float(power)
        number = Number(text=power.lstrip("-"), value=abs(value), figures=(1, 15))
        toks = [self.tok("RPAR", ")", at, at + 1), self.tok("POW", "^", at + 1, at + 1)]
        toks += [self.tok("MINUS", "-", at + 1, at + 2)] if value < 0 else []
        toks.append(self.tok("NUMBER", number, end - 1, end))
        note = self.note("lost-power", f"the bracket to the power {power}", at, end)
        last = not self.limit[end : self.area.end].strip()
        doubt = 0.6 if power in "½⅓¼" or "." in power else 0.2 if value > 0 or (self.area.style.lost and last) else 1.5
        return [Edge(at, end, "C", tuple(toks), doubt, note)]

    def _decay(self, at: int) -> list[Edge]:
        """(1/2)t/T, (1/2)20.0/8.24: the fraction after the half was its superscript."""
        found = _DECAYING.match(self.limit, at + 1)
        if found is None or _HALF_BEFORE.search(self.limit, self.area.start, at + 1) is None:
            return []
        toks = (self.tok("RPAR", ")", at, at + 1), self.tok("POW", "^", at + 1, at + 1))
        note = self.note("lost-power", f"the half to the power {found.group().strip()}", at, found.end())
        return [Edge(at, at + 1, "P", toks, 0.0 if found.group(1) else 0.5, note)]

    def _small_unit(self, at: int) -> Edge:
        """3.2v for 3.2 V."""
        letter, area = self.limit[at], self.area
        note = self.note("unit-case", f"“{letter}” is taken for the unit {letter.upper()}", at, at + 1)
        cost = 1.2 if letter in area.symbols.exact or letter in area.used else 0.2
        unit = units.scan_from(letter.upper(), 0)[0].unit
        return Edge(at, at + 1, "U", (self.tok("UNIT", unit, at, at + 1),), cost, note)

    def _bracket_index(self, at: int) -> list[Edge]:
        """(v^2)_avg: the bracket closes and its index is passed over."""
        index = _INDEX.match(self.limit, at + 1)
        if index is None:
            return []
        note = self.note("index-of-bracket", f"the index “{index.group()[1:]}” of the bracket is passed over", at + 1, index.end())
        return [Edge(at, index.end(), "C", (self.tok("RPAR", ")", at, at + 1),), 0.0, note)]

    # ---- units ----

    def _made_units(self, at: int) -> Iterator[Edge]:
        text, area = self.limit, self.area
        if text.startswith(("sin", "cos", "tan"), at):
            return
        if text[at] in _SMALL_UNITS and not text[at + 1 : at + 2].isalnum() and text[at + 1 : at + 2] not in ("_", "^"):
            yield self._small_unit(at)
        for scan in units.scan_from(text, at):
            end = at + scan.end
            following = text[end : end + 1]
            if following in ("_", "^") or (following.isalpha() and text[end - 1].isalpha()):
                continue
            note = None
            if scan.notes:
                first = next((n for n in scan.notes if n.code == "unit-ambiguous"), scan.notes[0])
                note = self.note(first.code, first.text, at, end)
            if area.celsius and scan.unit.name == "C" and not _POWER_BEFORE.search(text, max(0, at - 12), at):
                yield self._celsius(at, end)
            spelt = note is not None and note.code == "unit-case" and end > at + 1 and self._spelt_by_letters(at, end)
            light = len(name := scan.unit.name.split()) > 1 and any(x == "c" or x[:2] in ("c²", "c³") for x in name)
            extra = _DEAR if light else _SPELT if spelt else _SECOND if area.celsius and scan.unit.name == "C" else 0.0
            yield Edge(at, end, "U", (self.tok("UNIT", scan.unit, at, end),), scan.cost + extra, note)

    def _celsius(self, at: int, end: int) -> Edge:
        """25 C for 25 °C."""
        note = self.note("unit-celsius", "“C” is taken for °C", at, end)
        return Edge(at, end, "U", (self.tok("UNIT", units.unit_named("°C"), at, end),), 0.0, note)

    def _spelt_by_letters(self, at: int, end: int) -> bool:
        """½ut with the quantities u and t is a product, whatever unit a change of capitals would make of it."""
        return all(c in self.area.symbols.exact for c in self.limit[at:end])


class _Habitual(Lattice):
    """A lattice seen with a habit."""

    __slots__ = ("_habit", "_whole")

    def __init__(self, whole: Lattice, habit: frozenset[str]) -> None:
        super().__init__(whole.area)
        self._whole, self._habit, self._units = whole, habit, whole._units

    def edges(self, at: int) -> list[Edge]:
        found = self._edges.get(at)
        if found is None:
            found = self._edges[at] = _by_habit(self._whole.edges(at), self._habit)
        return found


def _by_habit(edges: list[Edge], habit: frozenset[str]) -> list[Edge]:
    """Only the edges the habit asks for, where there are such."""
    if INDEX in habit:
        indexed = [e for e in edges if e.choice is not None and e.choice[1] == "index"]
        edges = indexed or edges
    if RAISED in habit:
        raised = [e for e in edges if e.note is not None and e.note.code == "lost-power" and (e.cost < _DEAR or SQUARED in habit)]
        if raised:
            return raised
    return edges
