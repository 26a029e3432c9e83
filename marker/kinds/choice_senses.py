"""An option in the candidate's own words: "frequency the same, wavelength gets longer" for "the frequency stays the same, the wavelength
increases". Two texts say the same when they name the same things in the same clauses with the same changes, and nothing else."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from functools import lru_cache

from marker.resources import grammar

_UNSAID = "unsaid"
_CLAUSE = "|"


@lru_cache(maxsize=1)
def _senses() -> tuple[Mapping[tuple[str, ...], str], int]:
    """(words of a phrase -> its sense, most words of a phrase), from [sense] of grammars/choices.toml."""
    table: Mapping[str, Sequence[str]] = tomllib.loads(grammar("choices.toml"))["sense"]
    phrases = {tuple(phrase.split()): sense for sense, listed in table.items() for phrase in listed}
    return phrases, max(map(len, phrases))


def sense_of(words: Sequence[str]) -> frozenset[tuple[str, ...]]:
    """The clauses of a text, each as what it names and the changes it states; a clause ends with its change."""
    phrases, longest = _senses()
    clauses: list[tuple[str, ...]] = []
    here: list[str] = []
    at = 0
    while at < len(words):
        size = next((n for n in range(min(longest, len(words) - at), 0, -1) if tuple(words[at : at + n]) in phrases), 0)
        sense = phrases[tuple(words[at : at + size])] if size else ""
        if not size:
            here.append(words[at])
        elif sense != _UNSAID:
            here.append(_CLAUSE + sense)
        if sense and sense != _UNSAID and len(here) > 1:
            clauses.append(tuple(sorted(here)))
            here = []
        at += size or 1
    return frozenset((*clauses, *([tuple(sorted(here))] if here else ())))


def option_in_words(options: Sequence[tuple[str, Sequence[str]]], said: Sequence[str]) -> str:
    """The letter of the one option that says the same as the candidate; "" where none does, or more than one."""
    wanted = sense_of(said)
    alike = [letter for letter, words in options if sense_of(words) == wanted]
    return alike[0] if wanted and len(alike) == 1 else ""
