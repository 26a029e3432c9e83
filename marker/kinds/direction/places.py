"""Where the things of a question lie, so that "towards the magnet" and "away from the other wire" are directions."""

from collections.abc import Callable, Mapping, Sequence

from marker.errors import Problem
from marker.kinds.direction.lexicon import Lexicon, Meaning
from marker.kinds.direction.plain import plain_phrase
from marker.kinds.direction.spec import WAY_EXAMPLES, DirectionSpec, Way
from marker.kinds.direction.vectors import ORIGIN, Vector, pointing, scaled

Phrase = tuple[str, ...]
Places = Mapping[Phrase, Vector]


def place_vectors(
    spec: DirectionSpec, lexicon: Lexicon, read: Callable[[Way | None, Lexicon], Vector | None], problems: list[Problem]
) -> Places:
    """Place -> the direction it lies in, with the plates of an electric field; what cannot be read joins the problems."""
    found: dict[Phrase, Vector] = {}
    for phrase, way in spec.places.items():
        vector = read(way, lexicon)
        if vector is None or vector == ORIGIN:
            where = f"part {spec.name}, places, {phrase}"
            problems.append(
                Problem(where=where, seen=f'"{way}" is not one direction', expected=WAY_EXAMPLES, mend="Say on which side it lies.")
            )
            continue
        found[plain_phrase(phrase, lexicon)] = vector
        owner, owned, thing = phrase.partition("'s ")
        if owned:  # "magnet's north pole" is also the "north pole of the magnet"
            found[plain_phrase(f"{thing} of {owner}", lexicon)] = vector
    return {**_plates(spec, lexicon, read), **found}


def _plates(spec: DirectionSpec, lexicon: Lexicon, read: Callable[[Way | None, Lexicon], Vector | None]) -> Places:
    """An electric field points from the positive plate to the negative one."""
    fields = {read(ask.field, lexicon) for ask in spec.ask if ask.rule == "force in an electric field"}
    field = next(iter(fields)) if len(fields) == 1 else None
    if field is None or field == ORIGIN:
        return {}
    found: dict[Phrase, Vector] = {}
    for sign, symbol, vector in (("positive", "+", scaled(field, -1.0)), ("negative", "-", field)):
        found[(sign,)] = found[(symbol,)] = vector
        for noun in ("plate", "terminal", "side", "end", "charge plate"):
            found[(sign, *noun.split())] = found[(symbol, *noun.split())] = vector
    return found


def place_phrases(places: Places, lexicon: Lexicon) -> list[tuple[Phrase, Meaning]]:
    """The places alone, and with "towards" and "away from"."""
    pairs: list[tuple[Phrase, Meaning]] = []
    for words, vector in places.items():
        here = pointing(vector)
        pairs.append((words, Meaning(kind="place", options=(here,))))
        pairs += [((*steer, *words), Meaning(kind="direction", options=(here,))) for steer in lexicon.steer["toward"]]
        pairs += [
            ((*steer, *words), Meaning(kind="direction", options=(pointing(scaled(vector, -1.0)),))) for steer in lexicon.steer["away"]
        ]
    return pairs


def mutual_phrases(places: Places, own: Sequence[tuple[Phrase, Meaning]], asks: int, lexicon: Lexicon) -> list[tuple[Phrase, Meaning]]:
    """ "towards each other", where two things asked about are places for one another."""
    if asks != 2:
        return []
    seen: dict[int, Vector] = {}
    for phrase, meaning in own:
        if meaning.kind == "ask" and phrase in places:
            seen[1 - meaning.asks[0]] = places[phrase]
    if len(seen) < 2:
        return []
    pairs = []
    for kind, sign in (("attract", 1.0), ("repel", -1.0)):
        options = tuple(pointing(scaled(seen[i], sign)) for i in range(2))
        pairs += [(phrase, Meaning(kind="mutual", options=options)) for phrase in lexicon.steer[kind]]
    return pairs
