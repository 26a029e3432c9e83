"""Families of words as data: rubrics/thesaurus.toml, with the synonyms of words.toml behind it, as one table of phrases."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from marker.kinds.written.lexicon import lexicon
from marker.kinds.written.stem import stem
from marker.kinds.written.text import Sort, words
from marker.resources import rubrics

Phrase = tuple[str, ...]
Sense = tuple[str, int]
"""A family and its sign: ("pass", -1) is what stops, blocks and cannot get through say."""

_GRAMMAR = ("not_denial", "not", "no", "condition", "before", "than", "join", "preposition", "pronoun", "be")
_WAY_FORMS = ("adjective", "verb", "noun", "adverb")
_UNSAID = frozenset("$()[]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What a phrase is.

    kind    "way", "named way", "compare", "act", "thing", or the name of a list of [grammar]
    senses  its family with its sign, first, and what it says besides;  way  "up", "down", "steady", …;  forms  of a way
    """

    kind: str
    senses: tuple[Sense, ...] = ()
    way: str = ""
    forms: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Thesaurus:
    """phrases  first stem -> phrases that begin with it, longest first;  stems  every word of it

    being  forms of be that say that something comes to be, or goes on being;  apart  families of their own where a part speaks of both
    letters, groups  what a letter or a run of letters stands for;  light, weak, head_light  words that say little (stems)
    """

    phrases: Mapping[str, tuple[tuple[Phrase, Entry], ...]]
    stems: frozenset[str]
    letters: Mapping[str, tuple[str, ...]]
    groups: Mapping[str, tuple[str, ...]]
    light: frozenset[str]
    weak: frozenset[str]
    head_light: frozenset[str]
    level: Mapping[str, frozenset[str]]
    counting: frozenset[str]
    of_subject: frozenset[str]
    keeping_from: frozenset[str]
    being: Mapping[str, frozenset[str]]
    apart: Mapping[str, tuple[str, ...]]
    kin: Mapping[str, frozenset[str]]


def spoken(text: str) -> Phrase:
    """The stems of a phrase with its numbers and signs."""
    return tuple(root(w.text) for w in words([text]) if w.sort is not Sort.STOP and w.text not in _UNSAID)


def root(word: str) -> str:
    """A word without its ending, but for those whose ending is part of them: "spacing" is not "space"."""
    return word if word in _whole() else stem(word)


@lru_cache(maxsize=1)
def _data() -> Mapping[str, Any]:
    return tomllib.loads((rubrics() / "thesaurus.toml").read_text(encoding="utf-8"))


@lru_cache(maxsize=1)
def _whole() -> frozenset[str]:
    return frozenset(_data()["grammar"]["whole"])


@lru_cache(maxsize=1)
def thesaurus() -> Thesaurus:
    """The families shipped with the package."""
    data = _data()
    table: dict[Phrase, Entry] = {}
    for phrase, entry in _entries(data):
        known = table.get(phrase)
        if known is None:
            table[phrase] = entry
        elif known.kind == entry.kind == "way" and known.way == entry.way:
            table[phrase] = Entry(kind="way", way=known.way, forms=known.forms | entry.forms)
        elif known.kind == entry.kind == "act":
            table[phrase] = Entry(kind="act", senses=tuple(dict.fromkeys((*known.senses, *entry.senses))))
    table.pop((), None)
    grammar = data["grammar"]
    return Thesaurus(
        phrases=_by_first(table),
        stems=frozenset(s for p in table for s in p if s.isalpha()) | {s for w in grammar["light"] + grammar["weak"] for s in spoken(w)},
        letters={k: tuple(v) for k, v in data["letters"].items()},
        groups={k: tuple(v) for k, v in data["letter_groups"].items()},
        light=frozenset(stem(w) for w in grammar["light"]),
        weak=frozenset(stem(w) for w in grammar["weak"]),
        head_light=frozenset(stem(w) for w in grammar["head_light"]),
        level={way: _joined(data["level"][way]) for way in ("up", "down")},
        counting=_joined(data["level"]["counting"]),
        of_subject=_joined(data["level"]["of_subject"]),
        keeping_from=_joined(grammar["keeping_from"]),
        being={name: frozenset(forms) for name, forms in data["being"].items()},
        apart={name: tuple(texts) for name, texts in data["apart"].items()},
        kin=_kin(data["kin"]["groups"]),
    )


def _kin(groups: Iterable[Iterable[str]]) -> dict[str, frozenset[str]]:
    """Family -> the families that pupils use in its place, rightly or wrongly."""
    found: dict[str, frozenset[str]] = {}
    for group in map(frozenset, groups):
        found.update({name: found.get(name, frozenset()) | (group - {name}) for name in group})
    return found


def _joined(texts: Iterable[str]) -> frozenset[str]:
    return frozenset(" ".join(spoken(t)) for t in texts)


def _by_first(table: Mapping[Phrase, Entry]) -> dict[str, tuple[tuple[Phrase, Entry], ...]]:
    grouped: dict[str, list[tuple[Phrase, Entry]]] = {}
    for phrase, entry in table.items():
        grouped.setdefault(phrase[0], []).append((phrase, entry))
    return {first: tuple(sorted(group, key=lambda g: (-len(g[0]), g[0]))) for first, group in grouped.items()}


def _entries(data: Mapping[str, Any]) -> Iterator[tuple[Phrase, Entry]]:
    """Every phrase with its entry; where two are alike the earlier one stands."""
    for name in _GRAMMAR:
        yield from ((spoken(t), Entry(kind=name)) for t in data["grammar"][name])
    for way, quantities in data["named_way"].items():
        for quantity, texts in quantities.items():
            yield from _all(texts, Entry(kind="named way", senses=((quantity, 1),), way=way))
    for way, texts in data["compare"].items():
        yield from _all(texts, Entry(kind="compare", way=way))
    for way, forms in data["way"].items():
        for form in _WAY_FORMS:
            yield from _all(forms[form], Entry(kind="way", way=way, forms=frozenset((form,))))
    for name, family in data["act"].items():
        yield from _act(name, family)
    for name, texts in data["thing"].items():
        yield from _all(texts, Entry(kind="thing", senses=((name, 1),)))
    yield from _general()


def _all(texts: Iterable[str], entry: Entry) -> Iterator[tuple[Phrase, Entry]]:
    return ((spoken(t), entry) for t in texts)


def _act(name: str, family: Mapping[str, list[str]]) -> Iterator[tuple[Phrase, Entry]]:
    besides = tuple((s.removeprefix("-"), -1 if s.startswith("-") else 1) for s in family.get("so", ()))
    yield from _all(family["is"], Entry(kind="act", senses=((name, 1), *besides)))
    yield from _all(family.get("not", ()), Entry(kind="act", senses=((name, -1),)))


def _general() -> Iterator[tuple[Phrase, Entry]]:
    """The synonyms and opposites of words.toml."""
    known = lexicon()
    for phrase, meaning in known.meanings.items():
        if len(meaning) == 1 and meaning[0][0] not in ("up", "down", "steady", "twice", "half", "greater_than", "less_than"):
            concept, sign = meaning[0]
            yield phrase, Entry(kind="act" if concept in known.polar else "thing", senses=((concept, sign),))
