"""Typed unit text as a unit: "N kg^-1", "Nkg-1", "m/s/s", "metres per second", "J/mol·K".

Typed units are ambiguous, so a scan gives every sensible unit with a cost (0 for plain SI writing) and notes a marker may show.
Text is in the alphabet of marker.reading.clean: superscripts are ^(2), the micro sign is μ, dots are ·. A test holds the table to pint.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from marker.expression import Unit
from marker.physics.unit_table import Note, Spelling, UnitTable, case_key, unit_table

_SUPERSCRIPT = str.maketrans("0123456789-./", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻·⁄")
_MOST_ATOMS = 8
_LARGEST_POWER = 12


class UnitScan(NamedTuple):
    """A unit found in a text: where it ends, how far from plain writing it is, and what to remark on."""

    end: int
    unit: Unit
    cost: float = 0.0
    notes: tuple[Note, ...] = ()


def base_units() -> Mapping[str, Unit]:
    """Every spelling that stands alone, for tests and the notation page: symbol -> unit."""
    return {key: entry.unit for key, entry in unit_table().spellings.items()}


def is_unit_word(word: str) -> bool:
    """True for a unit's name written out, such as "newtons", in any case; symbols do not count."""
    return word.lower() in unit_table().words


def is_unit_symbol(text: str) -> bool:
    """True for a spelling with letters as in the SI, or a loose one such as "amps"."""
    table = unit_table()
    return text in table.spellings or text in table.together


def is_usual_unit(text: str) -> bool:
    """True for a unit symbol that comes to mind at once: km, not the attosecond as."""
    table = unit_table()
    found = table.spellings.get(text)
    return text in table.together if found is None else found.cost < 0.5


# ---- scanning --------------------------------------------------------------------------------------------------------

_LETTERS = re.compile(r"(?:[A-Za-zΩμÅ]+)")
_POWER = re.compile(r"\s?\^\s?(?:\(\s*([+-]?\d+(?:[./]\d+)?)\s*\)|([+-]?\d+))")
_LOST = re.compile(r"(-\s?[1-4]|[2-4])(?![\d.,])")
_NEGATIVE = re.compile(r"\s?\^\s?\(?\s*-|-[1-4](?![\d.,])")
_WORD_INVERSE = re.compile(r" ?-1(?![\d.,]| ?[A-Za-z(])")  # 0.021 years-1
_SPACED_LOST = re.compile(r" (-[1-4])(?![\d.,])")
_WORD_POWER = re.compile(r"[ -]?\b(squared|cubed|sq|cubic)\b", re.IGNORECASE)
_WORD_BEFORE = re.compile(r"(square|sq\.?|cubic|cu\.?)[ -]", re.IGNORECASE)
_PER = re.compile(r"\s*(?:/|\bper\b)\s*", re.IGNORECASE)
_JOIN = re.compile(r"\s*[·.*]\s*|\s+|(?<=[a-z])-(?=[a-z])|(?=°)")
_DEGREE_SCALE = re.compile(r"[°º]\s?[CFRK](?![A-Za-z])|(?:deg|degrees?)\s?[CFcf](?![A-Za-z])")

_TOGETHER_NOTE = Note("unit-run-together", "unit symbols need a space or a dot between them")
_LOST_NOTE = Note("unit-lost-superscript", "the superscript of the unit is typed on the line")
_TWO_SOLIDI = Note("unit-two-solidi", "more than one solidus in a unit")
_RAISED_O = Note("unit-lost-superscript", "the letter o stands for the degree sign")
_CASE_NOTE = Note("unit-case", "capital and small letters of the unit symbol exchanged")
_PER_MILLI = Note("unit-ambiguous", "can be metre per second or per millisecond; SI writes m s⁻¹")

_Factor = tuple[Spelling, float]


@dataclass(frozen=True, slots=True)
class _Term:
    end: int
    factors: tuple[_Factor, ...]
    cost: float = 0.0
    notes: tuple[Note, ...] = ()


_STRETCH = re.compile(
    r"(?:[A-Za-zΩμÅ]+(?:-?[1-4](?![\d.,]))?|\s?\^\s?(?:\(\s*[+-]?\d+(?:[./]\d+)?\s*\)|[+-]?\d+)|[°º%'\"′″]"
    r"|[ ·./*-](?=[ A-Za-zΩμÅ°(/·])| (?=-[1-4](?![\d.,]))|-[1-4](?![\d.,])|\((?=[A-Za-zΩμÅ°])|\))*"
)


def scan(text: str, start: int = 0) -> tuple[UnitScan, ...]:
    """Units that begin at `start`, the longest and plainest first; () when there is none."""
    return tuple([UnitScan(start + f.end, f.unit, f.cost, f.notes) for f in scan_from(text, start)])


def scan_from(text: str, start: int) -> tuple[UnitScan, ...]:
    """The same with ends counted from `start`."""
    stretch = _STRETCH.match(text, start, start + 80)
    if stretch is None or stretch.end() == start:
        return ()
    key = stretch.group()
    if "(" not in key:
        key = key.partition(")")[0]
    shorter = key.rstrip(" ·./*-(")
    following = text[start + len(shorter) : start + len(shorter) + 1]
    return _scan(shorter + following if following and (following.isalnum() or following in "_^.,") else shorter)


@lru_cache(maxsize=8192)
def _scan(text: str) -> tuple[UnitScan, ...]:
    """Units at the beginning of the text."""
    found: dict[tuple[int, Unit], UnitScan] = {}
    for term in _chains(text, 0, 0):
        unit = _combine(term.factors)
        if not unit.name:
            continue  # m m⁻¹ cancels
        # a lone letter is taken for a rare unit with reluctance, less so in a compound
        alone = len(term.factors) == 1 and term.factors[0][1] == 1
        rare = sum(s.cost * (1.0 if alone or len(s.unit.name) > 1 else 0.2) for s, _ in term.factors)
        cost = term.cost + rare
        key = (term.end, unit)
        candidate = UnitScan(term.end, unit, round(cost, 3), tuple(dict.fromkeys(term.notes)))
        if key not in found or candidate.cost < found[key].cost:
            found[key] = candidate
    return tuple(sorted(found.values(), key=lambda u: (-u.end, u.cost)))[:12]


def _chains(text: str, at: int, depth: int) -> Iterator[_Term]:
    """A unit: terms joined by a dot or space, then divided by terms."""
    for head in _products(text, at, depth):
        yield head
        yield from _divisions(text, head, depth, 0)


def _divisions(text: str, head: _Term, depth: int, solidi: int) -> Iterator[_Term]:
    per = _PER.match(text, head.end)
    if per is None or solidi >= 3 or not head.factors:
        return
    after = per.end()
    if after < len(text) and text[after] == "(" and depth == 0:
        for inner in _chains(text, after + 1, 1):
            close = re.compile(r"\s*\)").match(text, inner.end)
            if close is not None:
                yield _under(head, inner, close.end(), solidi)
        return
    for below in _products(text, after, depth, below=True):
        whole = _under(head, below, below.end, solidi)
        yield whole
        yield from _divisions(text, whole, depth, solidi + 1)


def _under(head: _Term, below: _Term, end: int, solidi: int) -> _Term:
    factors = head.factors + tuple((s, -p) for s, p in below.factors)
    notes = head.notes + below.notes + ((_TWO_SOLIDI,) if solidi else ())
    return _Term(end, factors, head.cost + below.cost + 0.02 * solidi, notes)


def _products(text: str, at: int, depth: int, below: bool = False) -> Iterator[_Term]:
    for first in (*(_run_below(text, at) if below else ()), *_atoms(text, at)):
        yield first
        yield from _continued(text, first, below)


def _run_below(text: str, at: int) -> Iterator[_Term]:
    """W/mK: letters that are one unit elsewhere, and two below a solidus."""
    table, letters = unit_table(), _LETTERS.match(text, at)
    parts = None if letters is None else table.below.get(letters.group())
    if letters is not None and parts is not None:
        factors = tuple((table.spellings[p], 1.0) for p in parts.split())
        yield from _powers(text, letters.end(), factors, 0.0, (_TOGETHER_NOTE,))


def _continued(text: str, head: _Term, below: bool) -> Iterator[_Term]:
    if len(head.factors) >= _MOST_ATOMS:
        return
    join = _JOIN.match(text, head.end)
    tight = join is None and head.end < len(text) and text[head.end].isalpha() and text[head.end - 1] in ")1234"
    if join is None and not tight:
        return
    mark = "" if join is None else join.group().strip()
    cost = 0.0 if mark in ("·", "-", "") else 0.05
    notes = head.notes
    if tight:  # W/m²K, J kg⁻¹K⁻¹: the power ends one unit, the next begins without a space
        cost, notes = 0.05 if below or head.factors[-1][1] < 0 else 0.5, (*head.notes, _TOGETHER_NOTE)
    for following in _atoms(text, head.end if join is None else join.end()):
        if mark == "*" and following.factors[0][0].cost > 0.3:
            continue
        merged = _Term(following.end, head.factors + following.factors, head.cost + following.cost + cost, notes + following.notes)
        yield merged
        yield from _continued(text, merged, below)


def _atoms(text: str, at: int) -> Iterator[_Term]:
    """One unit with its power, or a run of symbols written together."""
    before = _WORD_BEFORE.match(text, at)
    if before is not None:
        power = 2.0 if before.group(1).lower().startswith("s") else 3.0
        for end, spelling in _spelled(text, before.end()):
            yield _Term(end, ((spelling, power),), 0.0, _note(spelling))
    for end, spelling in _spelled(text, at):
        # ms-1 is metre per second before it is per millisecond
        doubtful = 0.3 if _NEGATIVE.match(text, end) and _ends_in_second(text[at:end]) else 0.0
        notes = (_PER_MILLI,) if doubtful and text[at:end] == "ms" else _note(spelling)
        yield from _powers(text, end, ((spelling, 1.0),), doubtful, notes)
    letters = _LETTERS.match(text, at)
    if letters is not None and letters.end() - at > 1:
        yield from _runs(text, at, letters.end())


def _ends_in_second(run: str) -> bool:
    return len(run) > 1 and run[-1] == "s" and run[:-1] in unit_table().spellings


def _note(spelling: Spelling) -> tuple[Note, ...]:
    return () if spelling.note is None else (spelling.note,)


def _spelled(text: str, at: int) -> Iterator[tuple[int, Spelling]]:
    """Spellings that fill the letters at `at`."""
    table = unit_table()
    if at >= len(text):
        return
    if text[at] == "k" and text.startswith("kilo-", at):
        yield from _phrases(text, at, at + 4, table)
        return
    degrees = _DEGREE_SCALE.match(text, at)
    if degrees is not None:
        letter = degrees.group()[-1].upper()
        name = {"C": "°C", "F": "°F", "R": "°R", "K": "K"}[letter]
        yield degrees.end(), table.spellings[name]
        return
    if text[at] == "o" and not text[at + 1 : at + 2].isalnum():
        yield at + 1, Spelling(table.spellings["°"].unit, 0.1, _RAISED_O)
        return
    if text[at] in "°º%":
        yield at + 1, table.spellings["°" if text[at] in "°º" else "%"]
        return
    if text[at] in "'′\"″":
        double = text.startswith("''", at)
        yield at + 1 + double, table.spellings["″" if text[at] in '"″' or double else "′"]
        return
    letters = _LETTERS.match(text, at)
    if letters is None:
        return
    yield from _phrases(text, at, letters.end(), table)
    run = letters.group()
    if run in table.spellings:
        yield letters.end(), table.spellings[run]
    elif run.lower() in table.words:
        yield letters.end(), table.words[run.lower()]
    elif case_key(run) in table.folded and run not in table.together:
        entry = table.folded[case_key(run)]
        yield letters.end(), Spelling(entry.unit, entry.cost + 0.4, _CASE_NOTE)


_PHRASE = re.compile(r"[A-Za-z]+[ -][A-Za-z]+(?: [A-Za-z]+)?")


def _phrases(text: str, at: int, end: int, table: UnitTable) -> Iterator[tuple[int, Spelling]]:
    """Units of two or three words: mm Hg, light year, degrees Celsius."""
    if end >= len(text) or text[end] not in " -":
        return
    phrase = _PHRASE.match(text, at)
    while phrase is not None:
        words = phrase.group()
        if words in table.spellings:
            yield phrase.end(), table.spellings[words]
            return
        if words.lower() in table.words:
            yield phrase.end(), table.words[words.lower()]
            return
        shorter = max(words.rfind(" "), words.rfind("-"))
        phrase = _PHRASE.match(text, at, at + shorter) if shorter > 0 else None
        if phrase is not None and phrase.end() <= end:
            return


def _powers(text: str, end: int, factors: tuple[_Factor, ...], cost: float, notes: tuple[Note, ...]) -> Iterator[_Term]:
    """The last factor raised to whatever power is typed after it, superscript lost or not."""
    spelling = factors[-1][0]
    written = _POWER.match(text, end)
    if written is not None and abs(_exponent(written.group(1) or written.group(2))) > _LARGEST_POWER:
        return
    if written is not None:
        yield _Term(written.end(), (*factors[:-1], (spelling, _exponent(written.group(1) or written.group(2)))), cost, notes)
        return
    if spelling.unit.name in ("%", "°", "′", "″", "°C", "°F"):
        yield _Term(end, factors, cost, notes)
        return
    word = _WORD_POWER.match(text, end)
    if word is not None and word.group(1).lower() in ("squared", "cubed"):
        yield _Term(word.end(), (*factors[:-1], (spelling, 2.0 if word.group(1).lower() == "squared" else 3.0)), cost, notes)
        return
    lost = _LOST.match(text, end) or _SPACED_LOST.match(text, end)
    if lost is None or (spelling.word and _WORD_INVERSE.match(text, end) is None):
        yield _Term(end, factors, cost, notes)
        return
    power = float(lost.group(1).replace(" ", ""))
    yield _Term(lost.end(), (*factors[:-1], (spelling, power)), cost + 0.1, (*notes, _LOST_NOTE))
    if text[lost.start()] in "- ":
        yield _Term(end, factors, cost + 0.5, notes)


def _exponent(text: str) -> float:
    over, _, under = text.partition("/")
    return float(over) / float(under) if under and float(under) else float(over)


def _runs(text: str, at: int, end: int) -> Iterator[_Term]:
    """Symbols typed with nothing between: Nm, kWh, and, before a power, ms-1, Nkg-1, JK-1."""
    table = unit_table()
    run = text[at:end]
    if run in table.together:
        parts = table.together[run].split()
        factors = tuple((table.spellings[p], 1.0) for p in parts)
        yield from _powers(text, end, factors, 0.1, (_TOGETHER_NOTE,))
        return
    power = _POWER.match(text, end) or _LOST.match(text, end)
    if power is None:
        return
    negative = "-" in power.group()
    for cut in _cuts(run):
        if len(cut) < 2 or len(cut) > 3 or len(set(cut)) < len(cut) or (run in table.spellings and cut[-1] != "s"):
            continue
        factors = tuple((table.spellings[p], 1.0) for p in cut)
        # m s⁻¹ before per millisecond: a speed is what school physics asks for
        ambiguous = run in table.spellings
        cost = 0.05 * (len(cut) - 1) + (0.0 if negative else 0.3)
        cost += 0.3 if negative and any(_ends_in_second(piece) for piece in cut) else 0.0
        notes = (_TOGETHER_NOTE, _PER_MILLI) if ambiguous and run == "ms" else (_TOGETHER_NOTE,)
        tails = _powers(text, end, factors, cost, notes)
        for tail in tails:
            yield from _more(text, tail)


def _more(text: str, head: _Term) -> Iterator[_Term]:
    """Nkg-1s-1: another run straight after the power."""
    yield head
    if head.end >= len(text) or not _LETTERS.match(text, head.end):
        return
    for following in _atoms(text, head.end):
        merged = _Term(following.end, head.factors + following.factors, head.cost + following.cost, head.notes + following.notes)
        yield merged


@lru_cache(maxsize=1024)
def _cuts(run: str) -> tuple[tuple[str, ...], ...]:
    """Ways to cut a run of letters into unit symbols, fewest and longest first."""
    table = unit_table()
    if not run:
        return ((),)
    found: list[tuple[str, ...]] = []
    for length in range(min(len(run), 4), 0, -1):
        head = run[:length]
        entry = table.spellings.get(head)
        rare = length == 1 and entry is not None and entry.cost >= 0.3  # mu² of a part with a speed u is no metre times dalton
        if entry is not None and not rare and entry.note is None and entry.cost < 0.6 and " " not in head:
            found += [(head, *rest) for rest in _cuts(run[length:])]
    return tuple(sorted(found, key=lambda c: (sum(table.spellings[p].cost for p in c), len(c))))[:6]


# ---- putting together -----------------------------------------------------------------------------------------------


def _combine(factors: tuple[_Factor, ...]) -> Unit:
    factors = _gathered(factors)
    if len(factors) == 1 and factors[0][1] == 1:
        return factors[0][0].unit
    scale, dimensions = 1.0, [0.0] * 8
    for spelling, power in factors:
        scale *= spelling.unit.scale**power
        for index, exponent in enumerate(spelling.unit.dimensions):
            dimensions[index] += exponent * power
    return Unit(name=_name(factors), scale=scale, dimensions=tuple(dimensions))  # type: ignore[arg-type]


def _gathered(factors: tuple[_Factor, ...]) -> tuple[_Factor, ...]:
    """m s⁻¹ s⁻¹ as m s⁻²."""
    if len(factors) < 2:
        return factors
    powers: dict[str, _Factor] = {}
    for spelling, power in factors:
        name = spelling.unit.name
        powers[name] = (spelling, power + (powers[name][1] if name in powers else 0.0))
    return tuple(f for f in powers.values() if f[1])


def _name(factors: tuple[_Factor, ...]) -> str:
    """kg m s⁻²: symbols with a space between, powers raised."""
    parts = []
    for spelling, power in factors:
        name = spelling.unit.name
        text = f"{power:g}"
        parts.append(name if power == 1 else (f"({name})" if " " in name or "^" in name else name) + text.translate(_SUPERSCRIPT))
    return " ".join(parts)


_SPREAD = str.maketrans(
    {"µ": "μ", "−": "-", "–": "-", "⋅": "·", "∙": "·", "•": "·", "Ω": "Ω", "º": "°", "\u00a0": " ", "\u2009": " ", "\u202f": " "}
)
_RAISED = re.compile("[⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺]+")
_LOWER = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺", "0123456789-+")


def _cleaned(text: str) -> str:
    return _RAISED.sub(lambda m: "^(" + m.group().translate(_LOWER) + ")", text.translate(_SPREAD)).strip()


@lru_cache(maxsize=4096)
def parse_unit(text: str) -> tuple[tuple[Unit, tuple[Note, ...]], ...]:
    """Units the whole text can mean, likeliest first, each with notes on its writing; () when it is none.

    "ms-1" gives m s⁻¹ (noted as ambiguous) and then per millisecond.
    """
    cleaned = _cleaned(text)
    if cleaned.startswith("(") and cleaned.endswith(")") and "(" not in cleaned[1:]:
        cleaned = cleaned[1:-1].strip()
    if len(cleaned) > 60 or not cleaned:
        return ()
    per = re.match(r"(?:1\s*/|/|per\b)\s*", cleaned)
    rest = cleaned[per.end() :] if per else cleaned
    whole = [s for s in _scan(rest) if s.end == len(rest) or rest[s.end :] == "."]
    whole.sort(key=lambda s: s.cost)
    if per:
        return tuple((_inverse(s.unit), s.notes) for s in whole)
    return tuple((s.unit, s.notes) for s in whole)


def _inverse(unit: Unit) -> Unit:
    name = f"1/({unit.name})" if " " in unit.name or unit.name[-1] in "⁰¹²³⁴⁵⁶⁷⁸⁹" else unit.name + "⁻¹"
    return Unit(name=name, scale=1 / unit.scale, dimensions=tuple(-d for d in unit.dimensions))  # type: ignore[arg-type]


def unit_named(text: str) -> Unit:
    """The likeliest unit of a scheme's text. Raises ValueError that names the text and the mend."""
    found = parse_unit(text)
    if not found:
        raise ValueError(f"“{text}” is not a unit. Write it in SI symbols, such as m/s, N m or kg/m^3")
    return found[0][0]
