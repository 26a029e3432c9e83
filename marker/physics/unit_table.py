"""The table of units: grammars/units.toml turned once into spellings, words and prefixed symbols. Nothing here imports pint."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from marker.expression import NO_DIMENSIONS, Dimensions, Unit
from marker.resources import grammar

_BASE = ("m", "kg", "s", "A", "K", "mol", "cd", "rad")


@dataclass(frozen=True, slots=True)
class Note:
    """Why a unit's writing departs from the SI Brochure, section 5, or what was assumed. `code` is stable."""

    code: str
    text: str


@dataclass(frozen=True, slots=True)
class Spelling:
    unit: Unit
    cost: float = 0.0
    note: Note | None = None
    word: bool = False


@dataclass(frozen=True, slots=True)
class UnitTable:
    """spellings  exact symbols and loose spellings;  words  lower-case names;  folded  lower-case symbol -> the only unit it can be.

    together  runs of symbols with nothing between them;  below  runs that are one unit elsewhere and two after a solidus
    kept_apart  symbol -> units of its size that it does not stand for
    """

    spellings: Mapping[str, Spelling]
    words: Mapping[str, Spelling]
    folded: Mapping[str, Spelling]
    together: Mapping[str, str]
    below: Mapping[str, str]
    kept_apart: Mapping[str, tuple[str, ...]]


def _number(text: str) -> float:
    """A product or quotient of plain numbers, as in "2*3.14/60"."""
    value, sign = 1.0, "*"
    for part in re.split(r"([*/])", text):
        if part in "*/":
            sign = part
        else:
            value = value * float(part) if sign == "*" else value / float(part)
    return value


def _dimensions(text: str) -> Dimensions:
    exponents = dict.fromkeys(_BASE, 0.0)
    for part in text.split():
        name, _, power = part.partition("^")
        exponents[name] += float(power or 1)
    return tuple(exponents[b] for b in _BASE)  # type: ignore[return-value]


@lru_cache(maxsize=1)
def unit_table() -> UnitTable:
    data = tomllib.loads(grammar("units.toml"))
    prefixes: dict[str, float] = data["prefixes"]
    prefix_names: dict[str, str] = data["prefix_names"]
    spellings: dict[str, Spelling] = {}
    words: dict[str, Spelling] = {}
    for entry in data["units"].values():
        _add_unit(entry, prefixes, prefix_names, spellings, words)
    for counted in data["counted"]["words"]:
        for name in (counted, counted + "s"):
            words.setdefault(name, Spelling(Unit(name=counted, scale=1.0, dimensions=NO_DIMENSIONS), 0.2, None, True))
    folded = _folded(spellings)
    apart = {typed: tuple(asked) for typed, asked in data["kept_apart"].items()}
    return UnitTable(spellings, words, folded, data["together"], data["below"], apart)


def kept_apart(typed: str, asked: str) -> bool:
    """The joule for a moment, the hertz for an activity, the sievert for an absorbed dose; with a prefix on either too."""
    table = unit_table().kept_apart
    return any(asked.endswith(a) and len(asked) - len(a) <= 1 for name in (typed, typed[1:]) for a in table.get(name, ()))


def _add_unit(
    entry: Mapping[str, object],
    prefixes: Mapping[str, float],
    prefix_names: Mapping[str, str],
    spellings: dict[str, Spelling],
    words: dict[str, Spelling],
) -> None:
    symbols, names = list(entry["symbols"]), list(entry["names"])  # type: ignore[call-overload]
    loose = list(entry.get("loose", ()))  # type: ignore[call-overload]
    scale, dimensions = _number(str(entry["scale"])), _dimensions(str(entry["dimensions"]))
    rare, offset = float(entry.get("rare", 0.0)), float(entry.get("offset", 0.0))  # type: ignore[arg-type]
    canonical = str(entry.get("canonical") or symbols[0])
    unit = Unit(name=canonical, scale=scale, dimensions=dimensions, offset=offset)
    for symbol in symbols:
        spellings[symbol] = Spelling(unit, rare)
    for spelling in loose:
        meant = _loose_unit(spelling, unit, prefixes)
        note = Note("unit-spelling", f"“{spelling}” is written {meant.name} in SI")
        spellings[spelling] = Spelling(meant, rare + 0.6 if len(spelling) == 1 else 0.1, note)
    plurals = [*entry.get("plurals", ()), *(n + "s" for n in names)]  # type: ignore[misc]
    for name in [*names, *plurals]:
        words[name] = Spelling(unit, 0.0, None, True)
    allowed = entry["prefixes"]
    usual = str(entry.get("usual", "")) if allowed == "all" else "".join(allowed)  # type: ignore[arg-type]
    chosen = [] if allowed == "none" else list(prefixes) if allowed == "all" else list(allowed)  # type: ignore[call-overload]
    for prefix in chosen:
        factor = prefixes[prefix]
        shown = "μ" if prefix == "u" else prefix
        prefixed = Unit(name=shown + canonical, scale=scale * factor, dimensions=dimensions)
        unusual = 0.0 if shown in usual else 0.7
        for symbol in [*symbols, *(x for x in loose if x == "R")]:
            spellings.setdefault(prefix + symbol, Spelling(prefixed, unusual + (0.8 if symbol == "R" else 0.0)))
        for name in [*names, *plurals]:  # kohm, MOhm, kNewtons
            note = Note("unit-spelling", f"“{prefix + name}” is written {prefixed.name} in SI")
            spellings.setdefault(prefix + name, Spelling(prefixed, 0.2, note))
        for long, short in prefix_names.items():
            if short == prefix:
                for name in [*names, *plurals, *(x for x in loose if x in ("amp", "amps", "sec", "secs"))]:
                    words.setdefault(f"{long}-{name}", Spelling(prefixed, 0.0, None, True))
                    words.setdefault(long + name, Spelling(prefixed, 0.0, None, True))


def _loose_unit(spelling: str, unit: Unit, prefixes: Mapping[str, float]) -> Unit:
    """A loose spelling may carry its own prefix, as "kpa" and "Mev" do."""
    if len(spelling.replace(" ", "")) == 3 and spelling[0] in "kKMG" and unit.name in ("Pa", "eV"):
        prefix = "k" if spelling[0] in "kK" else spelling[0]
        return Unit(name=prefix + unit.name, scale=unit.scale * prefixes[prefix], dimensions=unit.dimensions)
    return unit


def _folded(spellings: Mapping[str, Spelling]) -> Mapping[str, Spelling]:
    """Wrong case is accepted where only one unit can be meant (conventions file 3.1: m/M, k/K, s/S cannot)."""
    found: dict[str, set[tuple[float, Dimensions]]] = {}
    usual: dict[str, Spelling] = {}
    for spelling, entry in spellings.items():
        if entry.cost >= 0.4 and len(spelling) > 1:
            continue
        key = case_key(spelling)
        found.setdefault(key, set()).add((entry.unit.scale, entry.unit.dimensions))
        usual.setdefault(key, entry)
    return {key: usual[key] for key, meanings in found.items() if len(meanings) == 1 and len(key) > 1}


def case_key(text: str) -> str:
    """Small letters, but for a first m or M, which milli and mega keep apart."""
    return text[:1] + text[1:].lower() if text[:1] in "mM" else text.lower()
