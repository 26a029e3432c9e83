"""What candidates call each direction asked: the scheme's names, the telling words of `of`, the sign of the charge, the order."""

from collections.abc import Iterable, Sequence

from marker.kinds.direction.events import events
from marker.kinds.direction.lexicon import Lexicon, Meaning
from marker.kinds.direction.plain import plain_phrase
from marker.kinds.direction.spec import AskSpec

_EMPTY = frozenset(
    [
        "of",
        "on",
        "in",
        "at",
        "to",
        "by",
        "from",
        "for",
        "with",
        "acting",
        "experienced",
        "due",
        "between",
        "inside",
        "outside",
        "near",
        "when",
        "as",
        "direction",
        "magnetic",
        "electric",
        "resultant",
        "initial",
        "one",
        "sense",
    ]
)
_SIGNS = {
    "positive": ("+", "positive", "positive charge", "positive ion", "positive particle", "positive one", "proton", "alpha", "positron"),
    "negative": ("-", "negative", "negative charge", "negative ion", "negative particle", "negative one", "electron"),
}
_ORDINALS = (
    ("first", "1st", "former"),
    ("second", "2nd", "latter"),
    ("third", "3rd"),
    ("fourth", "4th"),
    ("fifth", "5th"),
    ("sixth", "6th"),
)
_LABELS = (("i", "a", "1"), ("ii", "b", "2"), ("iii", "c", "3"), ("iv", "d", "4"), ("v", "e", "5"), ("vi", "f", "6"))
Phrase = tuple[str, ...]


def name_phrases(asks: Sequence[AskSpec], lexicon: Lexicon) -> list[tuple[Phrase, Meaning]]:
    """Phrases with the asks they name. The scheme's own win; a derived word that would fit two asks names neither."""
    own = [{_plain(name, lexicon) for name in ask.names} for ask in asks]
    derived = [set(_telling(ask, asks, lexicon)) | set(_of_charge(ask, asks, lexicon)) for ask in asks]
    if len(asks) > 1:
        for index, ordinals in enumerate(_ORDINALS[: len(asks)]):
            derived[index] |= {(word,) for word in ordinals if word not in ("former", "latter") or len(asks) == 2}
            derived[index] |= {phrase for label in _LABELS[index] for phrase in (("open", label, "close"), (label, "close"))}
    claimed = set().union(*own)
    pairs: list[tuple[Phrase, Meaning]] = []
    for index, (mine, more) in enumerate(zip(own, derived, strict=True)):
        others = [d for i, d in enumerate(derived) if i != index]
        telling = {p for p in more if p not in claimed and not any(p in other for other in others)}
        pairs.extend((phrase, Meaning(kind="ask", asks=(index,))) for phrase in sorted(mine | telling) if phrase)
    shared = {p for i, mine in enumerate(own) for j, other in enumerate(own) if i < j for p in mine & other}
    return [(p, m) for p, m in pairs if p not in shared] + _contrasts(asks, {p for p, _ in pairs}, lexicon)


def _plain(name: str, lexicon: Lexicon) -> Phrase:
    stripped = name.strip()
    if stripped in ("-", "−", "–"):
        return ("-",)
    return plain_phrase(stripped, lexicon)


def _telling(ask: AskSpec, asks: Sequence[AskSpec], lexicon: Lexicon) -> Iterable[Phrase]:
    """Words of `of` that no other ask has, alone and together; words that are directions themselves only together."""
    words = [w for w in plain_phrase(ask.of, lexicon) if w not in _EMPTY]
    elsewhere = {w for other in asks if other is not ask for w in plain_phrase(other.of, lexicon)}
    quantities = len(asks) > 1
    kept = [w for w in words if w not in elsewhere]
    for word in kept:
        known = lexicon.match((word,), 0)
        if known is None or known[1].kind == "letter" or (quantities and known[1].kind == "quantity"):
            yield (word,)
    if len(words) > 1 and kept:
        yield tuple(words)
        nouns = tuple(w for w in words if w != "force")
        if nouns and any(w in kept for w in nouns) and lexicon.match(nouns, 0) is None:
            yield nouns


def _of_charge(ask: AskSpec, asks: Sequence[AskSpec], lexicon: Lexicon) -> Iterable[Phrase]:
    if ask.charge not in _SIGNS or sum(other.charge == ask.charge for other in asks) > 1:
        return ()
    return [_plain(name, lexicon) for name in _SIGNS[ask.charge]]


def _contrasts(asks: Sequence[AskSpec], taken: set[Phrase], lexicon: Lexicon) -> list[tuple[Phrase, Meaning]]:
    """Words for charges that are not asked about speak of another case, or of the reason."""
    signs = {ask.charge for ask in asks if ask.charge in _SIGNS}
    others = [name for sign, names in _SIGNS.items() if sign not in signs for name in names if name not in "+-"]
    # "positive" and "negative" alone speak of charges only where charges are asked about
    phrases = [_plain(name, lexicon) for name in others if signs or name not in _SIGNS]
    return [(p, Meaning(kind="contrast")) for p in phrases if p not in taken]


def asked_quantities(asks: Sequence[AskSpec], rules: Iterable[str], lexicon: Lexicon) -> frozenset[str]:
    """The quantities whose direction is asked, by the rules and by the words of `of`."""
    found = {name for name in rules if name}
    for ask in asks:
        found |= {e.name for e in events((ask.of,), lexicon) if e.kind == "quantity"} if ask.rule == "given" else set()
    return frozenset(found)
