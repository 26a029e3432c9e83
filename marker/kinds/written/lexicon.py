"""The words of physics English as data: rubrics/words.toml read once into plain tables of stems."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from marker.kinds.written.stem import stem
from marker.kinds.written.text import words
from marker.resources import rubrics

Stems = tuple[str, ...]
Meaning = tuple[str, int]
"""A concept and its sign: ("connect", -1) is "not connected"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RelationWords:
    """Wordings of one relation with {Y} and {X} in place of the quantities; `states` is how a reason names it."""

    states: str
    says: tuple[str, ...]
    not_enough: tuple[str, ...]
    contradicts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lexicon:
    """All tables. Phrases are tuples of stems.

    meanings    phrase -> concepts with signs ("faster" has two: speed and up)
    polar       concepts whose denial has a word of its own
    contraries  concept -> concepts that exclude it;  decisive  those that must be said though the question has said them too
                 kin  concept -> concepts near it that are not the same
    forms       stem -> (ending, stem it is read as): "separate" is "different", "separated" is not
    """

    function: frozenset[str]
    existence: frozenset[str]
    common: frozenset[str]
    weak: frozenset[str]
    telling: frozenset[str]
    quantities: frozenset[str]
    denial: Mapping[str, frozenset[Stems]]
    hedges: frozenset[Stems]
    blanks: frozenset[Stems]
    second_thoughts: frozenset[Stems]
    withdrawals: frozenset[Stems]
    meanings: Mapping[Stems, tuple[Meaning, ...]]
    polar: frozenset[str]
    contraries: Mapping[str, frozenset[str]]
    decisive: frozenset[str]
    kin: Mapping[str, frozenset[str]]
    forms: Mapping[str, tuple[str, str]]
    collisions: tuple[frozenset[str], ...]
    forward: frozenset[Stems]
    backward: frozenset[Stems]
    links: Mapping[Stems, str]
    subjects: frozenset[str]
    verbs: frozenset[str]
    symbols: Mapping[str, str]
    units: Mapping[str, str]
    relations: Mapping[str, RelationWords]


def phrase(text: str) -> Stems:
    """The stems of a phrase, punctuation left out."""
    return tuple(stem(w.text) for w in words([text]) if w.text.isalnum() or w.text in "∝×=→")


def phrases(texts: Iterable[str]) -> frozenset[Stems]:
    return frozenset(p for p in (phrase(t) for t in texts) if p)


@lru_cache(maxsize=1)
def lexicon() -> Lexicon:
    """The words shipped with the package."""
    return build(tomllib.loads((rubrics() / "words.toml").read_text(encoding="utf-8")))


def build(data: Mapping[str, Any]) -> Lexicon:
    """A Lexicon from the tables of words.toml."""
    denial, doubt = data["denial"], data["doubt"]
    meanings = _meanings(data)
    polar = {meanings[phrase(o["is"][0])][0][0] for o in data["opposite"]}
    return Lexicon(
        function=frozenset(data["plain"]["function"].split()),
        existence=frozenset(stem(w) for w in data["plain"]["existence"]),
        common=frozenset(stem(w) for w in data["plain"]["common"].split()),
        weak=frozenset(concept_of(phrase(w), meanings) for w in data["plain"]["weak"]),
        telling=frozenset(stem(w) for w in data["plain"]["telling"]),
        quantities=_quantities(data, meanings),
        denial={k: phrases(denial[k]) for k in ("adverbs", "articles", "predicates", "false_friends")},
        hedges=phrases(doubt["hedges"]),
        blanks=phrases(doubt["blank"]),
        second_thoughts=phrases(doubt["second_thoughts"]),
        withdrawals=phrases(doubt["withdrawals"]),
        meanings=meanings,
        polar=frozenset(polar | {"up", "down", "greater_than", "less_than"}),
        contraries=_contraries(data["contrary"]["sets"], meanings),
        decisive=frozenset(concept_of(phrase(w), meanings) for w in data["contrary"]["decisive"]),
        kin=_contraries(data["kin"]["sets"], meanings),
        forms={stem(k): (k[-2:], stem(v)) for k, v in data["form"].items()},
        collisions=tuple(frozenset(stem(w) for w in group) for group in data["collision"]["sets"]),
        forward=phrases(data["cause"]["forward"]),
        backward=phrases(data["cause"]["backward"]),
        links={p: kind for kind in ("plain", "backward", "forward") for p in phrases(data["clause"][kind])},
        subjects=frozenset(data["clause"]["subjects"]),
        verbs=frozenset(data["clause"]["verbs"]),
        symbols={k: concept_of(phrase(v), meanings) for k, v in data["symbols"].items()},
        units={k: concept_of(phrase(v), meanings) for k, v in data["units"].items()},
        relations={name: _relation(r) for name, r in data["relation"].items()},
    )


def _relation(data: Mapping[str, Any]) -> RelationWords:
    says, not_enough, contradicts = (tuple(data[k]) for k in ("says", "not_enough", "contradicts"))
    return RelationWords(states=data["states"], says=says, not_enough=not_enough, contradicts=contradicts)


def _quantities(data: Mapping[str, Any], meanings: Mapping[Stems, tuple[Meaning, ...]]) -> frozenset[str]:
    """What can go up and down: the listed names, and what symbols and units stand for."""
    names = (*data["quantities"]["names"], *data["symbols"].values(), *data["units"].values())
    return frozenset(concept_of(phrase(w), meanings) for w in names)


def _meanings(data: Mapping[str, Any]) -> dict[Stems, tuple[Meaning, ...]]:
    """Phrase -> concepts. Later tables give way to earlier ones: opposites, then change, then plain synonyms."""
    table: dict[Stems, tuple[Meaning, ...]] = {}
    for pair in data["opposite"]:
        name = "_".join(phrase(pair["is"][0]))
        for sign, side in ((1, pair["is"]), (-1, pair["not"])):
            for text in side:
                table.setdefault(phrase(text), ((name, sign),))
    for name in ("greater_than", "less_than", "up", "down", "steady", "twice", "half"):
        for text in data["change"][name]:
            table.setdefault(phrase(text), ((name, 1),))
    for name, texts in data["same"].items():
        for text in texts:
            table.setdefault(phrase(text), ((name, 1),))
    for word, (quantity, change) in data["change"]["comparatives"].items():
        table[phrase(word)] = ((concept_of(phrase(quantity), table), 1), (change, 1))
    return {k: v for k, v in table.items() if k}


def _contraries(sets: Iterable[Iterable[str]], meanings: Mapping[Stems, tuple[Meaning, ...]]) -> dict[str, frozenset[str]]:
    table: dict[str, set[str]] = {}
    for group in sets:
        names = [concept_of(phrase(text), meanings) for text in group]
        for name in names:
            table.setdefault(name, set()).update(n for n in names if n != name)
    return {k: frozenset(v) for k, v in table.items()}


def concept_of(stems: Stems, meanings: Mapping[Stems, tuple[Meaning, ...]]) -> str:
    """The first concept a phrase stands for; its own stems when it has no entry."""
    return meanings[stems][0][0] if stems in meanings else "_".join(stems)
