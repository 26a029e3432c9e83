"""The words of grammars/directions.toml, and a part's own, as one table of phrases with their meanings."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from marker.kinds.direction.vectors import AXES, FRAMES, ORIGIN, ZERO, Direction, pointing, scaled, turning
from marker.resources import grammar

NO_SENSE = Direction(vector=ORIGIN)  # an axis is named and not which way along it


@dataclass(frozen=True, slots=True, kw_only=True)
class Meaning:
    """What a phrase says. `kind` is one of the event kinds of events.py.

    options  directions it can mean;  asks  numbers of the asks it names;  name  the quantity, place or relative it names
    """

    kind: str
    options: tuple[Direction, ...] = ()
    asks: tuple[int, ...] = ()
    name: str = ""


Phrases = Mapping[str, tuple[tuple[tuple[str, ...], Meaning], ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lexicon:
    """The words of one part.

    phrases  first word -> (words, meaning), longest first;  same  spelling -> plain word;  symbols  sign -> plain word
    letters  symbol as typed -> quantity
    steer  the steering phrases by kind;  vocabulary  words a slip is mended to, never from `real` ones
    filler  words that say nothing after a name;  minus_names  "-" names something asked
    """

    frame: str
    same: Mapping[str, str]
    dropped: frozenset[str]
    phrases: Phrases
    vocabulary: frozenset[str]
    real: frozenset[str]
    filler: frozenset[str]
    letters: Mapping[str, str]
    symbols: Mapping[str, str]
    steer: Mapping[str, tuple[tuple[str, ...], ...]]
    minus_names: bool = False

    def match(self, words: tuple[str, ...], start: int) -> tuple[int, Meaning] | None:
        """The longest phrase that begins at `start`: how many words it takes, and its meaning."""
        for phrase, meaning in self.phrases.get(words[start], ()):
            if words[start : start + len(phrase)] == phrase:
                return len(phrase), meaning
        return None


@lru_cache(maxsize=4)
def base_lexicon(frame: str) -> Lexicon:
    """The words every part knows in one frame."""
    table = tomllib.loads(grammar("directions.toml"))
    same = {spelling: word for word, spellings in table["same"].items() for spelling in spellings}
    pairs = [*_directions(table, frame), *_axes(), *_others(table)]
    if frame == "compass":
        pairs += [((letter,), Meaning(kind="letter", options=(pointing(FRAMES[frame][name]),))) for letter, name in _COMPASS.items()]
    return Lexicon(
        frame=frame,
        same=same,
        dropped=frozenset(table["dropped"]["words"]),
        phrases=_by_first(pairs),
        vocabulary=_vocabulary(pairs, same),
        real=frozenset(table["real"]["words"].split()),
        filler=frozenset(table["filler"]["words"].split()),
        letters=dict(table["letters"]),
        symbols={sign: word for word, signs in table["symbols"].items() for sign in signs},
        steer={kind: tuple(tuple(p.split()) for p in phrases) for kind, phrases in table["steer"].items()},
    )


_COMPASS = {"n": "north", "s": "south", "e": "east", "w": "west"}
_COMPASS_PAIRS = {"ne": "northeast", "nw": "northwest", "se": "southeast", "sw": "southwest"}


def _directions(table: Mapping[str, Any], frame: str) -> Iterable[tuple[tuple[str, ...], Meaning]]:
    vectors = FRAMES[frame]
    for key, phrases in table["direction"].items():
        if key == "zero":
            meaning = Meaning(kind="direction", options=(ZERO,))
        elif key in ("clockwise", "anticlockwise"):
            meaning = Meaning(kind="direction", options=(turning(scaled(AXES["z"], 1.0 if key == "anticlockwise" else -1.0)),))
        else:
            here = pointing(vectors[key])
            meaning = Meaning(kind="direction", options=(replace(here, coarse="_" in key and not key.startswith("page")),))
        yield from ((tuple(p.split()), meaning) for p in phrases)
    for key, phrases in table["weak"].items():
        yield from ((tuple(p.split()), Meaning(kind="direction", options=(pointing(vectors[key]),), name="weak")) for p in phrases)
    for pair, key in _COMPASS_PAIRS.items():
        yield (pair,), Meaning(kind="direction", options=(pointing(vectors[key]),))
    for key, phrases in table["relative"].items():
        yield from ((tuple(p.split()), Meaning(kind="relative", name=key)) for p in phrases)


def _axes() -> Iterable[tuple[tuple[str, ...], Meaning]]:
    """ "+ x", "negative y", "minus z direction", "- k hat"; an axis without a sign may mean its positive sense."""
    letters = {**AXES, "i": AXES["x"], "j": AXES["y"], "k": AXES["z"]}
    for letter, vector in letters.items():
        for words, sign in ((("+",), 1.0), (("positive",), 1.0), (("-",), -1.0), (("negative",), -1.0)):
            meaning = Meaning(kind="direction", options=(pointing(scaled(vector, sign)),))
            yield (*words, letter), meaning
            yield (*words, "direction", "of", letter), meaning
            yield (*words, "along", letter), meaning
            yield (letter, "direction", *words), meaning
            yield (letter, "axis", *words), meaning
            yield ("along", *words, letter), meaning
            if words[0].isalpha():
                yield (letter, *words), meaning
        plus = Meaning(kind="direction", options=(pointing(vector),))
        yield (letter, "hat"), plus
        if letter in AXES:
            unsigned = Meaning(kind="direction", options=(pointing(vector), NO_SENSE))
            yield from (((letter, "direction"), unsigned), ((letter, "axis"), unsigned), (("along", letter), unsigned))
    for symbol, key in (("§left", "left"), ("§up", "up"), ("§down", "down")):
        yield (symbol,), Meaning(kind="direction", options=(pointing(FRAMES["page"][key]),))
    yield ("§right",), Meaning(kind="arrow", options=(pointing(AXES["x"]),))
    for symbol, key in (
        ("§dot", "out"),
        ("§cross", "in"),
        ("§up_left", "up_left"),
        ("§up_right", "up_right"),
        ("§down_left", "down_left"),
        ("§down_right", "down_right"),
    ):
        yield (symbol,), Meaning(kind="direction", options=(replace(pointing(FRAMES["page"][key]), coarse="_" in key),))
    # one letter alone may be the answer: "R", "x"
    for letter, options in (
        ("l", ("left",)),
        ("r", ("right",)),
        ("x", ("in", "right")),
        ("×", ("in",)),
        ("•", ("out",)),
        ("^", ("page_up",)),
    ):
        yield (letter,), Meaning(kind="letter", options=tuple(pointing(FRAMES["page"][o]) for o in options))
    for word, key in (("in", "in"), ("into", "in"), ("out", "out")):
        yield (word,), Meaning(kind="bare", options=(pointing(FRAMES["page"][key]),))
    for letter in ("y", "z"):
        yield (letter,), Meaning(kind="letter", options=(pointing(AXES[letter]), NO_SENSE))


def _others(table: Mapping[str, Any]) -> Iterable[tuple[tuple[str, ...], Meaning]]:
    for kind, phrases in table["steer"].items():
        yield from ((tuple(p.split()), Meaning(kind=kind)) for p in phrases)
    for name, phrases in table["quantity"].items():
        kind = "moving" if name in ("moving", "flowing") else "quantity"
        yield from ((tuple(p.split()), Meaning(kind=kind, name=name)) for p in phrases)
    for kind, section in (("vague", "vague"), ("passed", "passed"), ("view", "view"), ("place", "place")):
        yield from ((tuple(p.split()), Meaning(kind=kind)) for p in table[section]["phrases"])
    yield from (((*p.split(),), Meaning(kind="looking")) for p in table["view"]["looking"])


def _by_first(pairs: Iterable[tuple[tuple[str, ...], Meaning]]) -> Phrases:
    table: dict[str, dict[tuple[str, ...], Meaning]] = {}
    for words, meaning in pairs:
        table.setdefault(words[0], {})[words] = meaning
    return {first: tuple(sorted(found.items(), key=lambda item: -len(item[0]))) for first, found in table.items()}


def _vocabulary(pairs: Iterable[tuple[tuple[str, ...], Meaning]], same: Mapping[str, str]) -> frozenset[str]:
    words = {word for phrase, _ in pairs for word in phrase} | set(same) | set(same.values())
    return frozenset(w for w in words if len(w) >= 4 and w.isalpha())


def extended(base: Lexicon, own: Iterable[tuple[tuple[str, ...], Meaning]], minus_names: bool) -> Lexicon:
    """The lexicon with a part's own phrases, which win over equal ones of the base."""
    pairs = [(words, meaning) for found in base.phrases.values() for words, meaning in found]
    own = [(words, meaning) for words, meaning in own if words]
    return replace(
        base,
        phrases=_by_first([*pairs, *own]),
        vocabulary=base.vocabulary | _vocabulary(own, {}),
        minus_names=minus_names,
    )
