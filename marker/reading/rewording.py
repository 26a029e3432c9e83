"""Words and spreadsheet functions that stand for notation, put into notation before a line is cut.

74 halved 3.4 times         74×(1/2)^(3.4)
1/300 of a millimetre       (1/300) millimetre
change in lambda            Δlambda
P (out) = 12 W              P_{out} = 12 W
x(t) = 3t + 2               x = 3t + 2
^{14}C, C-14                C_{14}
POWER(7.0,2)                ((7.0)^(2))
7.8 meters per secund       7.8 meters per second
4.3 times 10^-19            4.3×10^-19
v² = u² becomes 0 = 9       v² = u² ; 0 = 9
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from marker.physics import units
from marker.physics.misspelt import meant_unit
from marker.reading.alphabet import GREEK
from marker.reading.clean import Clean
from marker.reading.model import Assumption
from marker.reading.nuclides import nuclides
from marker.reading.phrasebook import common_words, phrases
from marker.reading.symbols import Symbols, index_words, singular, words

_ANY = re.compile(
    r"alved|oubled|rebled|ripled|of an? |hange in|POWER\(|power\(|Power\(|\d\)?\s?[A-Za-z]{4}|nversely|quare of"
    r"|[A-Za-zα-ω]\s?\(\s?[a-z]{2,9}\s?\)|\d ?(?:KG ?|N ?)?[KC]?M(?![a-zA-LN-RT-Z])|sq(?:d|rd)?(?![A-Za-z0-9_])| m(?:ax|in)\s?[=≈]"
    r"|(?:down|creases|falls|off|drops|weaker) (?:with|as) |times (?:10|ten)|becomes|half ?(?:to|\^)|[a-z]{4}[23](?!\w)",
    re.ASCII,
)
_SPECIES = re.compile(
    r"<|[\w)]\.(?:[A-Za-zα-ωΔ√(]|\s|$)|[\w]\s?\(\s?[A-Za-zΩμ°%][^()=]{0,14}\)\s?=|[A-Za-z]\([a-z]{3}|\(\s?[tx0]\s?\)\s?=|(?<![\w)}'])[\^_]|[ie]\.\s?[eg]\.|\d\s?h[a-z]*\s?\d+\s?m|\d\s?m\s?\d|\s(?:and|&)\s\d|\d\sunits?\W"
    r"|(?:deg|°)[a-z]*\s?\d+(?:\.\d+)?\s?min|\d ?/ ?[A-Za-z]{3}|\d \(?1 ?/ ?[A-Za-zΩ]|[A-Za-z]-\d\d?|\d\s?/\s?-?\d{1,3}\s?[A-Zneβ]"
)
# x(t) = …, f(x) = …, v(0) = …: a function of what stands in the brackets, v(0) its first value
_OF_TIME = re.compile(r"(?:^|[;,:⇒]|\bso|\bthen)\s*((?:[A-Zabd-hj-z]|[α-ω])(?:_\{?\w{1,8}\}?)?)(\(\s?(?:t|0|(?<=[fgy]\()x)\s?\))(?=\s?=)")
_THAT_IS = re.compile(r"(?<![A-Za-z])(?:i\.\s?e\.|e\.\s?g\.)")
_MINUTES = re.compile(
    r"\d\s?h(?:rs?|ours?)?\s?\d{1,2}\s?(m)(?![A-Za-z^/])|\d\s?(?:deg|degrees|°)\s?\d{1,2}(?:\.\d{1,4})?\s?(min(?:s|utes)?)(?![A-Za-z])"
)
# 3m 54s, 2 hours and 15 minutes, 5 units m/s
_SECONDS = re.compile(r"(?:^|[=≈:]|\b(?:is|was|took|in))\s*\d{1,3}\s?(m)\s?\d{1,2}(?:\.\d{1,2})?\s?s(?:ecs?)?(?![A-Za-z^/-])")
_AND_MINUTES = re.compile(
    r"\d\s?(?:h|hrs?|hours?|min|mins|minutes?|°|deg|degrees)(\s(?:and|&)\s)\d{1,2}(?:\.\d{1,2})?\s?(?:m|s|min|mins|minutes?|secs?|seconds?|')(?![A-Za-z^/])"
)
_UNITS_ARE = re.compile(r"(?<=\d)\s(units?(?: of)?:?\s)(?=([A-Za-zΩμ°][A-Za-zΩμ°0-9^/()· -]{0,20}))")
_TIMES_OVER = re.compile(
    r"(?<=[\w)°%])\s+(halved|doubled|trebled|tripled)(?![a-z])(?:\s+(?:(\d{1,4}(?:\.\d{1,6})?)|(once|twice|two|three|four|five|six|seven|eight|nine|ten))\b(?:\s+times\b)?)?",
    re.IGNORECASE,
)
_IN_ORDER = ("once", "twice", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_COUNTS = {word: str(n) for n, word in enumerate(_IN_ORDER, start=1)} | {"two": "2"}
_FACTORS = {"halved": "(1/2)", "doubled": "2", "trebled": "3", "tripled": "3"}
_PART_OF = re.compile(r"(?<![\w.])(\d{1,6}\s?/\s?\d{1,6})\s+of\s+an?\s+([a-z]{3,16})")
_CHANGE = re.compile(r"(?<![A-Za-z])(?:the\s+)?[Cc]hange in (?:the\s+)?(?=([A-Za-z]{1,7}|[α-ω])(?![A-Za-z]))")
_PLACE = re.compile(r"(?<![A-Za-z\d.)_}])([A-Za-zα-ω])\(([a-z]{3,12}(?:[ -][a-z]{2,12})?)\)(?=\s?[=≈+)/*×-]|\s*$)")
# v (m/s) = 12, R(ohms) = 7.5/1.5 = 5.0: the unit stands with the letter, as at the head of a column, and belongs to the result
_HEADED = re.compile(r"\s*(?:Δ?[A-Za-zα-ω]\w{0,5})(\s?\(\s?([A-Za-zΩμ°%][A-Za-zΩμ°/^()·0-9 -]{0,14}?)\s?\))(?=\s?=[^;,]*\d\s*$)")
_NO_PLACE = frozenset(("force", "speed", "velocity", "energy", "mass", "time", "distance", "current", "voltage", "work", "power"))
_POWER = re.compile(r"(?<![A-Za-z])(?:POWER|Power|power)\(")
_FOR_EACH = re.compile(
    r"(?<=\d)(?:\s?/\s?(?P<word>[A-Za-z]{3,10})|\s\(?1\s?/\s?(?P<unit>[A-Za-zΩ]{1,10})\)?)(?=\s*(?:$|[;,=≈.)]))"
)
_WORD_2 = re.compile(r"(?<![A-Za-z\d])([A-Za-z]{4,12})([23])(?![\w.])")
_UNIT_DUE = re.compile(r"(?:\d|\^\(-?\d{1,3}\))\s?([A-Za-z]{4,16})(?![A-Za-z_^(])(?:(?:\s+per\s+|\s?/\s?)([A-Za-z]{4,16})(?![A-Za-z_^(]))?")

_PREFIXED = re.compile(r"(?<=\d)(\s?)(kilo|mega|giga|centi|milli|micro|nano|pico)[ -]([a-z]{3,14})(?![A-Za-z])", re.IGNORECASE)
_THING = r"((?:[a-z]{2,12} ){0,2}[a-z]{2,12}|[A-Za-z](?:_?\w{1,3})?)(?![A-Za-z])"
_SQUARE_OF = re.compile(r"(?<![A-Za-z])(?:the )?square of (?:the )?" + _THING)
_INVERSELY = re.compile(r"(?<![A-Za-z])(?:(?:is|are|varies|vary) )?inversely (?:(?:proportional|prop) to|as|with) (?:the )?")
_INVERSE_SQUARE = re.compile(
    r"(?<![A-Za-z])(?:goes down|decreases|falls off|falls|drops|gets weaker) (?:with|as) "
    r"(?:(?:the )?(?=" + _THING + r" ?(?:squared|\^\(?2))|(?=(?:the )?square of ))"
)

_SQ = re.compile(r"(?<=[\w)])\s?(?<![A-Za-z]{2})sq(?:d|rd)?(?![A-Za-z0-9_])(?!\.?\s?(?:root|[mck]?m\b|met|cent|mill|kilo|ft|feet))")
_METRES = re.compile(r"(?<=\d)\s?((?:KG ?|N ?)?[KC]?M(?: ?[/ ·]? ?[SH])?)(?![A-Za-zΩμ])")
_EXTREME = re.compile(r"(?<![A-Za-z])([A-Za-z]{1,3})\s(?=(?:max|min)\s?[=≈])")  # Ek max =, one name

_TIMES_TEN = re.compile(r"(?<=\d)\s+times\s+(?:10|ten)\s?(?:\^\s?|to the (?:power (?:of )?)?)(?=(\(?(?:minus |-)?)\d)")
_TIMES_LOST = re.compile(r"(?<=\d)\s+times\s+(?=10-?\d)")  # 6.63 times 10-34
# F = m.a, Ek = 0.5.m.v^2: a point between operands multiplies; no full stop, and no point of e.m.f.
_POINT = re.compile(r"(?<=[A-Za-zα-ω0-9)'])\.(?=(?:Δ?[A-Za-zα-ω](?:_\{?\w{1,6}\}?|\d)?|sin|cos|tan|sqrt)(?![A-Za-z])|[√(])")
_SUBJECT_AFTER = re.compile(r"\w{1,4}\s?=\s?([A-Za-z])?")
_ENDS_STATEMENT = re.compile(r"(?:[\d)]\s?[A-Za-zΩμ°]{1,4}|\d)$")
_ABBREVIATED = re.compile(
    r"(?<![A-Za-z])(?:e\.m\.f|p\.d|g\.p\.e|[kp]\.e|[ad]\.c|s\.h\.m|r\.m\.s|i\.e|e\.g|s\.f|d\.p)(?![A-Za-z])", re.IGNORECASE
)
# 106. km/h, 6 in. = 15.2 cm: a point that ends a number or a shortened unit, and no statement
_BARE_POINT = re.compile(r"(?<=\d)\.(?=\s[A-Za-zΩμ°][A-Za-zΩμ°/^()·0-9-]{0,12}(?:\s*(?:$|[,;)])|(?<=[/)\d])\s?=))")
_SHORTENED = re.compile(r"(?<=[\d)]\s)(?:in|ft|min|sec|hr|lb|oz|yd|mi)(\.)(?=\s*(?:$|[=)×*/+,;-]))")
_MEAN = re.compile(r"<\s?(?=[A-Za-zα-ω](?:_\{?\w{1,4}\}?)?\s?(?:\^\s?\(?2\)?)?\s?(>))")  # <c²>
_HALF_TO = re.compile(r"(?<![A-Za-z])(?:a |one )?half(?= ?(?:to the|\^))")
_BECOMES = re.compile(r"(?<==)([^=;]{2,80})\s(becomes)\s(?=[^=;]{1,80}=)")

# what stands in the place start to end: text of ours, or a stretch of the line as it is
_Piece = str | tuple[int, int]
_Change = tuple[int, int, tuple[_Piece, ...]]


def reworded(clean: Clean, symbols: Symbols) -> tuple[Clean, tuple[Assumption, ...]]:
    """The line with such words as notation, and remarks on slips of the finger; characters keep the typed columns they stand for.

    Never raises.
    """
    if not (_ANY.search(clean.text) or _SPECIES.search(clean.text)):
        return clean, ()
    slips = list(_unit_names(clean.text, symbols))
    with_names = (*_squared_words(clean.text, symbols), *_places(clean.text, symbols), *_headed(clean.text, symbols))
    with_names = (*with_names, *_for_each_unit(clean.text, symbols))
    changes = [*_changes(clean.text), *with_names, *slips]
    return _changed(clean, sorted(changes, key=lambda c: c[0])), tuple(_remark(clean, slip) for slip in slips)


def _squared_words(text: str, symbols: Symbols) -> Iterator[_Change]:
    """mass x speed2 / radius: a quantity's name and a lost superscript, where none has that index."""
    for found in _WORD_2.finditer(text):
        word = singular(found.group(1).lower())
        if word in symbols.vocabulary and (word, found.group(2)) not in symbols.indexed and (word, "1") not in symbols.indexed:
            yield (*found.span(2), ("^", found.span(2)))


def _places(text: str, symbols: Symbols) -> Iterator[_Change]:
    """U(summit), F(cable): a word in brackets tells one quantity of a letter from another; no unit, no quantity's name, no remark."""
    for found in _PLACE.finditer(text):
        letter, word = found.group(1), found.group(2)
        first = word.partition(" ")[0]
        unit = units.is_unit_word(word) or units.is_unit_symbol(word) or units.is_unit_word(singular(word))
        if unit or letter in symbols.exact or singular(first) in symbols.vocabulary or first in _NO_PLACE or first in phrases():
            continue
        yield (found.start(2) - 1, found.end(2) + 1, ("_{", re.sub(r"[ -]", "", word), "}"))


def _headed(text: str, symbols: Symbols) -> Iterator[_Change]:
    """v (m/s) = 12 as v = 12 m/s."""
    found = _HEADED.match(text)
    if found is None:
        return
    unit = found.group(2)
    scan = next(iter(units.scan(unit)), None)
    alone = len(unit) == 1 and (unit in symbols.exact or not found.group(1).startswith(" "))
    if scan is None or scan.end < len(unit) or alone or symbols.known_letters(unit):
        return
    end = len(text.rstrip())
    yield (*found.span(1), ())
    yield (end, end, (" ", found.span(2)))


def _for_each_unit(text: str, symbols: Symbols) -> Iterator[_Change]:
    """0.056 /year, 0.056 1/year, 12 (1/s): a number for each unit, the unit alone below the line."""
    for found in _FOR_EACH.finditer(text):
        word = found.group("word") or found.group("unit")
        known = symbols.known_letters(word) or singular(word.lower()) in symbols.vocabulary
        if not known and (units.is_unit_word(word) or (found.group("unit") and units.is_unit_symbol(word))):
            yield (*found.span(), (f" {word}^-1",))


def _remark(clean: Clean, slip: _Change) -> Assumption:
    start, end, pieces = slip
    return Assumption(code="unit-spelling", text=f"“{clean.text[start:end].strip()}” is taken for {pieces[-1]}", at=clean.place(start, end))


def _changed(clean: Clean, changes: Sequence[_Change]) -> Clean:
    text: list[str] = []
    starts: list[int] = []
    ends: list[int] = []

    def keep(start: int, end: int) -> None:
        text.append(clean.text[start:end])
        starts.extend(clean.starts[start:end])
        ends.extend(clean.ends[start:end])

    done = 0
    for start, end, pieces in changes:
        if start < done:
            continue
        keep(done, start)
        for piece in pieces:
            if isinstance(piece, str):
                a, b = clean.place(start, end)
                text.append(piece)
                starts.extend([a] * len(piece))
                ends.extend([b] * len(piece))
            else:
                keep(*piece)
        done = end
    keep(done, len(clean.text))
    return Clean("".join(text), starts, ends)


def _changes(text: str) -> Iterator[_Change]:
    yield from _halvings(text)
    for part in _PART_OF.finditer(text):
        if units.is_unit_word(part.group(2)):
            yield (*part.span(), ("(", part.span(1), ") ", part.span(2)))
    for change in _CHANGE.finditer(text):
        if len(change.group(1)) == 1 or change.group(1) in GREEK:
            yield (*change.span(), ("Δ",))
    yield from _spreadsheet(text)
    yield from _in_capitals(text)
    for square in _SQ.finditer(text):
        yield (*square.span(), ("^2",))
    yield from _proportions(text)
    yield from _points(text)
    for mean in _MEAN.finditer(text):
        yield (*mean.span(), ())
        yield (*mean.span(1), ())
    for point in _BARE_POINT.finditer(text):
        if units.scan(text, point.end() + 1):
            yield (*point.span(), ())
    for point in _SHORTENED.finditer(text):
        yield (*point.span(1), ())
    yield from nuclides(text)
    for found in _OF_TIME.finditer(text):
        yield (*found.span(2), ("_{0}",) if found.group(2).strip("( )") == "0" else ())
    for found in _THAT_IS.finditer(text):
        yield (*found.span(), (found.group()[0], found.group()[-2]))
    for found in _MINUTES.finditer(text):
        yield (*found.span(1 if found.group(1) else 2), ("min" if found.group(1) else "'",))
    for found in _SECONDS.finditer(text):
        yield (*found.span(1), ("min",))
    for found in _AND_MINUTES.finditer(text):
        yield (*found.span(1), (" ",))
    for found in _UNITS_ARE.finditer(text):
        if units.scan(text, found.start(2)):
            yield (*found.span(1), ())
    for found in _index_in_brackets().finditer(text):
        yield (*found.span(), ("_{", found.span(1), "}"))
    for found in _EXTREME.finditer(text):
        yield (*found.span(), (found.span(1),))
    for found in _TIMES_TEN.finditer(text):
        yield (*found.span(), ("×10^",))
    for found in _TIMES_LOST.finditer(text):
        yield (*found.span(), ("×",))
    for found in _HALF_TO.finditer(text):
        yield (*found.span(), ("(1/2)",))
    for found in _BECOMES.finditer(text):
        yield (*found.span(2), (";",))


@lru_cache(maxsize=1)
def _index_in_brackets() -> re.Pattern[str]:
    """P(out), v (max): the word in brackets is the letter's index."""
    names = "|".join(sorted(index_words(), key=len, reverse=True))
    return re.compile(rf"(?<=(?<![A-Za-z\d.)])(?<![\d.)] )[A-Za-zα-ωΔ])\s?\(\s?({names})\s?\)(?!\s?[\w(])")


def _in_capitals(text: str) -> Iterator[_Change]:
    """1.28 M/S^2 in a line without small letters: metres and seconds, for M is no unit."""
    if _METRES.search(text) is None or any(c.islower() and c != "x" for c in text):
        return
    for unit in _METRES.finditer(text):
        for letter in re.finditer(r"K?M|S|CM|KG|H", unit.group(1)):
            yield (unit.start(1) + letter.start(), unit.start(1) + letter.end(), (letter.group().lower(),))


def _points(text: str) -> Iterator[_Change]:
    """F = m.a, W = q.V: a point that multiplies, behind a relation."""
    first = min((text.find(c) for c in "=≈∝" if c in text), default=len(text))
    short = {at for found in _ABBREVIATED.finditer(text) for at in range(*found.span())}
    for point in _POINT.finditer(text, first):
        own = _SUBJECT_AFTER.match(text, point.end())
        if own is not None and (own.group(1) or _ENDS_STATEMENT.search(text, max(0, point.start() - 8), point.start())):
            continue  # F = 20 N.a = 4, v = s/t.s = vt: a full stop
        if point.start() not in short:
            yield (*point.span(), ("·",))


def _proportions(text: str) -> Iterator[_Change]:
    """Inversely proportional to, the square of."""
    for found in (*_INVERSELY.finditer(text), *_INVERSE_SQUARE.finditer(text)):
        yield (*found.span(), ("∝ 1/",))
    for square in _SQUARE_OF.finditer(text):
        yield (*square.span(), (square.span(1), " squared"))


def _unit_names(text: str, symbols: Symbols) -> Iterator[_Change]:
    """Names of units with slips of the finger, after a number; kilo ohms, which is one word."""
    for found in _PREFIXED.finditer(text):
        name = (found.group(2) + found.group(3)).lower()
        meant = name if units.is_unit_word(name) else meant_unit(name)
        if meant is not None:
            yield (*found.span(), (found.span(1), meant))
    for found in _UNIT_DUE.finditer(text):
        for group in (1, 2):
            word = found.group(group)
            meant = None if word is None or _has_meaning(word, symbols) else meant_unit(word)
            if meant is not None:
                yield (*found.span(group), (meant,))


def _has_meaning(word: str, symbols: Symbols) -> bool:
    lower = word.lower()
    if lower in common_words() or lower in phrases() or singular(lower) in symbols.vocabulary or lower in words()["prose"]["not_units"]:
        return True
    return units.is_unit_symbol(word) or symbols.known_letters(word)


def _halvings(text: str) -> Iterator[_Change]:
    """ "halved 3.4 times", "doubled twice", "halved = " after a number or its unit."""
    for found in _TIMES_OVER.finditer(text):
        before = text[: found.start()]
        if not re.search(r"\d[\d.,]*(?:\s?[A-Za-zΩμ°%/]{1,9})?$", before[-30:]):
            continue
        factor = "×" + _FACTORS[found.group(1).lower()]
        if found.group(2):
            yield (*found.span(), (factor + "^(", found.span(2), ")"))
        elif found.group(3):
            yield (*found.span(), (f"{factor}^({_COUNTS[found.group(3).lower()]})",))
        else:
            yield (*found.span(), (factor,))


def _spreadsheet(text: str) -> Iterator[_Change]:
    """POWER(a,b)."""
    for found in _POWER.finditer(text):
        inside = _arguments(text, found.end())
        if inside is None:
            continue
        comma, close = inside
        yield (found.start(), found.end(), ("((",))
        yield (comma, comma + 1, (")^(",))
        yield (close, close + 1, ("))",))


def _arguments(text: str, start: int) -> tuple[int, int] | None:
    """Where the comma between two arguments stands, and the bracket that closes them; None when there are not two."""
    depth, commas = 1, list[int]()
    for index in range(start, len(text)):
        c = text[index]
        depth += (c == "(") - (c == ")")
        if depth == 0:
            return (commas[0], index) if len(commas) == 1 else None
        if c in ",;" and depth == 1:
            commas.append(index)
    return None
