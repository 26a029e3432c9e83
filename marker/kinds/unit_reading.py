"""The units a response names, in prose or alone. All use of the unit table goes through `meanings`."""

import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product
from typing import Any

from marker.expression import Unit
from marker.kinds.choice_reading import choice_words
from marker.kinds.words import nearest
from marker.physics.units import is_unit_symbol, is_unit_word, parse_unit
from marker.reading.clean import clean
from marker.resources import grammar

_LONGEST, _MOST_LINES = 400, 20
_SEPARATORS = re.compile(r"[,;:!?\n]| or | OR | Or |(?<=\w)\. ")
_BRACKETS = re.compile(r"[()\[\]]")
_NUMBER = re.compile(r"^[0-9.]{1,12}\s*")
_AFTER_POWER = re.compile(r"(\^(?:\(-?\d{1,3}\)|-?\d{1,3}))(?=[A-Za-zΩμ])")
_CAPITALS = re.compile(r"[A-Z]+")
_MOST_RUNS = 4
_STRUCK = re.compile(r"~~[^~]{0,200}~~")


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """One unit named. `units` what it can mean, likeliest first; () for words that name none.

    case  True where capitals and small letters were exchanged;  another  True where, as typed, it is the symbol of some other unit
    """

    text: str
    line: int
    units: tuple[Unit, ...] = ()
    none: bool = False
    case: bool = False
    another: bool = False
    by_name: bool = False
    given_up: bool = False


@lru_cache(maxsize=1)
def unit_words() -> Mapping[str, Any]:
    return tomllib.loads(grammar("unit_words.toml"))


@lru_cache(maxsize=8192)
def meanings(text: str) -> tuple[tuple[Unit, bool], ...]:
    """(unit, written in the wrong case) for each thing a text can mean as a unit; () when it is none."""
    cleaned = _AFTER_POWER.sub(r"\1 ", clean(text).text.strip())
    if len(cleaned) > 60:
        return ()
    found = list(parse_unit(cleaned))
    over, slash, under = cleaned.partition("/")
    if slash and not set("/()") & set(under):
        # "J/kg K" and "N/Am" are often meant with all of it below the line
        apart = " ".join(under.strip()) if len(under.strip()) <= 3 and all(is_unit_symbol(c) for c in under.strip()) else under
        found += parse_unit(f"{over}/({under})") if apart != under else ()
        found += parse_unit(f"{over}/({apart})")
    kept = [(unit, notes) for unit, notes in found if len(cleaned) > 1 or cleaned.lower() == unit.name.lower()]
    return tuple((unit, any(n.code == "unit-case" for n in notes)) for unit, notes in kept)


@lru_cache(maxsize=1)
def _names() -> frozenset[str]:
    """Names of units in one word, with their plurals, for mending slips of spelling."""
    units = tomllib.loads(grammar("units.toml"))["units"]
    names = {str(name) for entry in units.values() for name in entry.get("names", ())}
    return frozenset(w for name in names for w in (name, f"{name}s") if len(w) >= 4 and w.isalpha())


def _mended(text: str) -> str:
    """The text with slips in the names of units mended."""
    words = []
    for word in text.split():
        near = nearest(word.lower(), _names(), frozenset()) if word.isalpha() and not is_unit_word(word.lower()) else frozenset()
        stems = {n.removesuffix("s") for n in near}
        words.append(sorted(near)[0] if len(stems) == 1 else word)
    return " ".join(words)


def units_named(lines: Sequence[str]) -> tuple[Named, ...]:
    """What the response names, in order; what was crossed out or taken back is marked so."""
    found: list[Named] = []
    for number, line in enumerate(lines[:_MOST_LINES], start=1):
        later = any(n.units for after in lines[number:_MOST_LINES] for n in _in_text(after[:_LONGEST], number))
        text = line[:_LONGEST]
        for struck in _STRUCK.findall(text):
            found += [_given_up(n) for n in _in_text(struck.strip("~"), number)]
        found += _line(_STRUCK.sub(" ", text), number, later)
    return tuple(found)


def _line(text: str, number: int, later: bool) -> list[Named]:
    """The units of a line; those before "no," or "scrap that" are given up where others follow, there or on a `later` line."""
    words = choice_words()["second_thoughts"] | choice_words()["withdrawals"]
    marks = [
        m for m in re.finditer(r"[A-Za-z]+", text) if m.group().lower() in words or (m.group().lower() == "no" and text[m.end() :].strip())
    ]
    if not marks or _says_none(text):
        return _in_text(text, number)
    before, after = _in_text(text[: marks[-1].start()], number), _in_text(text[marks[-1].end() :], number)
    outright = any(m.group().lower() in choice_words()["withdrawals"] for m in marks)
    return [_given_up(n) for n in before] + after if outright or later or any(n.units for n in after) else before + after


def _given_up(named: Named) -> Named:
    return replace(named, given_up=True)


def _says_none(text: str) -> bool:
    plain = " " + re.sub(r"[^a-z ]", "", text.lower()) + " "
    return any(f" {phrase} " in plain for phrase in unit_words()["none"])


def _in_text(text: str, number: int) -> list[Named]:
    """Whole, then in pieces: the first that is a unit."""
    if not text.strip():
        return []
    whole = _named(text, number)
    if whole is not None:
        return [whole]
    if _says_none(text):
        return [Named(text=text.strip(), line=number, none=True)]
    pieces = [p for p in _SEPARATORS.split(text) if p.strip()]
    if len(pieces) == 1 and _BRACKETS.search(text):
        pieces = [p for p in _BRACKETS.split(text) if p.strip()]
    if len(pieces) == 1:
        return _in_prose(text, number)
    return [named for piece in pieces for named in _in_text(piece, number)]


def _named(text: str, number: int) -> Named | None:
    """The piece as one unit, with the words round it and a number before it passed over."""
    for candidate in _cores(text):
        found = meanings(candidate)
        if found:
            words = [w for w in re.findall(r"[A-Za-z]{3,}", candidate) if is_unit_word(w.lower())]
            return Named(
                text=candidate,
                line=number,
                units=tuple(u for u, _ in found),
                case=found[0][1] or _loose_case(candidate, found[0][0]),
                by_name=bool(words),
            )
    for candidate in _cores(text):
        for variant in dict.fromkeys((candidate.upper(), candidate.capitalize(), candidate.lower())):
            found = meanings(variant) if len(candidate) <= 12 and candidate.lower() not in unit_words()["plain"] else ()
            if found:
                return Named(text=candidate, line=number, units=tuple(u for u, _ in found), case=True)
    for candidate in _cores(text):
        shouted = tuple(u for variant in _lowered(candidate) for u, _ in meanings(variant))
        if shouted:
            return Named(text=candidate, line=number, units=tuple(dict.fromkeys(shouted)), case=True)
    for candidate in _cores(text):
        mended = _mended(candidate)
        if mended != candidate and (found := meanings(mended)):
            return Named(text=candidate, line=number, units=tuple(u for u, _ in found), by_name=True)
    return None


def _lowered(typed: str) -> tuple[str, ...]:
    """Symbols typed all in capitals, each as it stands or in small letters: "N/A M" may be N/A m, "KG M/S" kg m/s."""
    runs = _CAPITALS.findall(typed)
    if not 2 <= len(runs) <= _MOST_RUNS or any(c.islower() for c in typed) or any(len(r) > 3 for r in runs):
        return ()
    choices = [[v for v in (run, run.lower(), run.capitalize()) if is_unit_symbol(v)] for run in runs]
    if not all(choices):
        return ()
    gaps = _CAPITALS.split(typed)
    return tuple("".join(g + r for g, r in zip(gaps, (*row, ""), strict=True)) for row in product(*(dict.fromkeys(c) for c in choices)))


def _loose_case(typed: str, unit: Unit) -> bool:
    """True for "hz" and "pa": the symbol but for its capitals."""
    return typed != unit.name and typed.lower() == unit.name.lower()


def _cores(text: str) -> list[str]:
    """The text without surrounding words, likeliest first."""
    stripped = _NUMBER.sub("", text.strip().strip("\"'“”.=-–—? ").strip())
    parts = [stripped]
    for copula in (" is ", " are ", " in ", "=", ":"):
        before, found, after = stripped.rpartition(copula)
        if found:
            parts += [after, before]
    cores = []
    for part in parts:
        words = part.strip().split()
        if 1 < len(words) <= 6 and not any(is_unit_word(w.lower()) for w in words):
            cores.append(" ".join(words).strip(" .,"))  # "A s" has no article
        while words and words[0].lower().strip(".,") in unit_words()["plain"] and len(words) > 1:
            words = words[1:]
        while len(words) > 1 and words[-1].lower().strip(".,") in unit_words()["plain"]:
            words = words[:-1]
        core = " ".join(words).strip(" .,")
        if core and core.lower() not in unit_words()["plain"]:
            cores.append(core)
    return list(dict.fromkeys(cores))


def _in_prose(text: str, number: int) -> list[Named]:
    """Units among other words: the longest runs of words that are one, if they hold a unit's name or a capital symbol."""
    words = text.split()[:40]
    found: list[Named] = []
    at = 0
    while at < len(words):
        for end in range(min(len(words), at + 8), at, -1):
            run = " ".join(words[at:end]).strip(".,!?")
            if _plainly_a_unit(words[at:end]) and (named := _whole(run, number)) is not None:
                found.append(named)
                at = end - 1
                break
        at += 1
    return found or [Named(text=text.strip(), line=number)]


def _plainly_a_unit(words: Sequence[str]) -> bool:
    first = words[0].strip(".,!?()")
    return (
        any(is_unit_word(w.lower().strip(".,!?()")) for w in words)
        if first.islower()
        else bool(first) and (len(first) <= 3 or is_unit_word(first.lower()) or "/" in first)
    )


def _whole(run: str, number: int) -> Named | None:
    found = meanings(run)
    if not found:
        return None
    by_name = any(is_unit_word(w.lower()) for w in re.findall(r"[A-Za-z]{3,}", run))
    return Named(text=run, line=number, units=tuple(u for u, _ in found), case=found[0][1], by_name=by_name)
