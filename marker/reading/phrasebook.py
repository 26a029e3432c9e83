"""Words and phrases that mean a sign, a relation, a pause or a crossing-out: grammars/words.toml made ready for the scanner."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from marker.physics import units
from marker.reading.alphabet import GREEK
from marker.reading.symbols import FUNCTION_NAMES, Symbols, index_words, singular, words

# Greek names that stand inside a run of letters, as in "rtheta"
GREEK_INSIDE = ("theta", "omega", "lambda", "alpha", "sigma")


@dataclass(frozen=True, slots=True)
class Phrase:
    words: tuple[str, ...]
    kind: str
    payload: str


@lru_cache(maxsize=1)
def phrases() -> Mapping[str, tuple[Phrase, ...]]:
    """First word -> phrases that begin with it, longest first."""
    data = words()
    found: dict[str, list[Phrase]] = {}

    def put(entries: Sequence[str], kind: str, payload: str) -> None:
        for entry in entries:
            parts = tuple(entry.split(" "))
            found.setdefault(parts[0], []).append(Phrase(parts, kind, payload))

    for sign, entries in data["relations"].items():
        put(entries, "r", sign)
    for sign, entries in data["operators"].items():
        put(entries, "o", sign)
    for name in ("and", "or", "final"):
        put(data["breaks"][name], "b", name)
    put(data["filler"]["words"], "f", "")
    put(data["names"]["prose"], "w", "")
    put(data["withdrawn"]["before"], "x", "last")
    put(data["withdrawn"]["all"], "x", "all")
    put(data["withdrawn"]["this"], "x", "this")
    for verb in data["withdrawn"]["verbs"]:
        put([_with_object(verb, word) for word in data["withdrawn"]["objects"]], "x", "last")
        put([_with_object(verb, word) for word in data["withdrawn"]["all_objects"]], "x", "all")
    order = {"x": 0, "w": 0, "r": 1, "o": 2, "b": 3, "f": 4}
    ranked = {first: sorted(group, key=lambda p: (-len(p.words), order[p.kind], p.payload != "this")) for first, group in found.items()}
    return {first: tuple(group) for first, group in ranked.items()}


def _with_object(verb: str, what: str) -> str:
    """cross out, that -> cross that out."""
    first, _, particle = verb.partition(" ")
    return f"{first} {what} {particle}".strip()


@lru_cache(maxsize=1)
def bare_verbs() -> frozenset[str]:
    """Verbs that cross something out only where nothing follows: not "ignore friction"."""
    return frozenset(words()["withdrawn"]["verbs"])


@lru_cache(maxsize=1)
def usual_names() -> frozenset[str]:
    return frozenset(words()["symbols"]["usual"])


@lru_cache(maxsize=1)
def asides() -> frozenset[str]:
    """Short words that are no letters of physics wherever they stand: lol, qed."""
    return frozenset(words()["prose"]["asides"])


@lru_cache(maxsize=1)
def leading_index_words() -> frozenset[str]:
    """Words that index the letter after them: net F, total R."""
    return frozenset(words()["symbols"]["leading_indices"])


@lru_cache(maxsize=1)
def common_words() -> frozenset[str]:
    return frozenset(words()["common"]["words"].split())


_INSIDE = re.compile("sin|cos|tan|ln|log|sqrt|theta|pi")
_MOST_AROUND = 5


@lru_cache(maxsize=4096)
def holds_function(run: str) -> bool:
    """True for letters joined to signs that are a product with a function, mgsin or ucosa, and no word with one inside: distance."""
    lower = run.lower()
    if len(run) - 2 > _MOST_AROUND + 5 or (len(lower) > 3 and (lower in common_words() or lower in phrases())):
        return False
    return any(_cut_at(run, m.group(), m.start(), m.end()) for m in _INSIDE.finditer(run))


def _cut_at(run: str, name: str, start: int, end: int) -> bool:
    """What stands before is a few letters; after a function its argument is a letter or a Greek name."""
    after = run[end:]
    if name in ("sqrt", "theta"):
        return len(run) - len(name) <= _MOST_AROUND
    if name == "pi":
        return start <= 1 and len(after) <= 3
    if after and after not in GREEK and len(after) > 1 and not after[0].isupper() and after not in ("wt", "kx"):
        return False
    return start <= (2 if len(after) == 1 and after.islower() else 3) or any(g in run[:start] for g in GREEK_INSIDE)


@lru_cache(maxsize=8192)
def never_prose(run: str, symbols: Symbols) -> bool:
    """True for letters that are no word whatever stands around them: F_net's net aside, sin, kg, mgh, KE."""
    lower = run.lower()
    if lower in asides():
        return False
    if run in ("sin", "cos", "tan", "ln", "log") or run in usual_names() or (run in symbols.exact and not run.islower()):
        return True
    if lower in phrases() or lower in common_words() or lower in index_words() or singular(lower) in symbols.vocabulary:
        return False
    if lower in FUNCTION_NAMES or run in GREEK or lower == "sqrt":
        return True
    if any(name in run and len(run) - len(name) <= 3 for name in GREEK_INSIDE):
        return True
    return len(run) <= 3 or run[1:] in index_words() or units.is_unit_symbol(run) or symbols.known_letters(run)
