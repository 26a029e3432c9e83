"""The words of one part: general families, the scheme's own terms, and every word that question and scheme use."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from marker.kinds.written.claims.thesaurus import Entry, Phrase, root, spoken, thesaurus
from marker.kinds.written.claims.tokens import Speech
from marker.kinds.written.lexicon import lexicon
from marker.kinds.written.text import Sort, words

_SHORTEST = 4


def speech(texts: Iterable[str], terms: Mapping[str, Iterable[str]]) -> Speech:
    """How the words of a part are understood. texts: all of question and scheme; terms: name -> other words for it."""
    general, known = thesaurus(), lexicon()
    own, letters = _own(terms)
    typed = [w for t in texts for w in words([t]) if w.sort is Sort.WORD]
    used = {root(w.text) for w in typed}
    right = general.stems | known.common | known.function | {root(f) for f in known.function} | used | {s for p in own for s in p}
    spelt = general.stems | {s for p in own for s in p} | {u for u in used if u not in known.function}
    own = _apart(used) | own
    return Speech(
        own=_by_first(own),
        letters={**general.letters, **letters},
        used=_families(used, own),
        right=frozenset(right),
        terms=tuple(sorted(t for t in spelt if len(t) >= _SHORTEST and t.isalpha())),
    )


def _apart(used: set[str]) -> dict[Phrase, Entry]:
    """Words told apart because the part uses both: velocity, where it speaks of the speed too."""
    found: dict[Phrase, Entry] = {}
    for name, (*own, beside) in thesaurus().apart.items():
        if {root(own[0]), root(beside)} <= used:
            found.update({spoken(w): Entry(kind="thing", senses=((name, 1),)) for w in own})
    return found


def _own(terms: Mapping[str, Iterable[str]]) -> tuple[dict[Phrase, Entry], dict[str, tuple[str, ...]]]:
    table: dict[Phrase, Entry] = {}
    letters: dict[str, tuple[str, ...]] = {}
    for name, others in terms.items():
        entry = _entry(spoken(name))
        for text in (name, *others):
            if len(text) == 1:
                letters[text] = (entry.senses[0][0],)
            elif spoken(text):
                table[spoken(text)] = entry
    return table, letters


def _entry(phrase: Phrase) -> Entry:
    """What a term is: a thing or an action of the family it belongs to, a thing of its own when it has none."""
    found = dict(thesaurus().phrases.get(phrase[0], ())) if phrase else {}
    entry = found.get(phrase)
    return entry if entry is not None and entry.kind in ("thing", "act") else Entry(kind="thing", senses=(("_".join(phrase), 1),))


def _families(used: set[str], own: Mapping[Phrase, Entry]) -> frozenset[str]:
    """Families all of whose words in some phrase the part uses."""
    general = (pair for group in thesaurus().phrases.values() for pair in group)
    found = {s for phrase, entry in general if set(phrase) <= used for s, _ in entry.senses}
    return frozenset(found | {e.senses[0][0] for e in own.values()})


def _by_first(table: Mapping[Phrase, Entry]) -> dict[str, tuple[tuple[Phrase, Entry], ...]]:
    grouped: dict[str, list[tuple[Phrase, Entry]]] = {}
    for phrase, entry in table.items():
        grouped.setdefault(phrase[0], []).append((phrase, entry))
    return {first: tuple(sorted(group, key=lambda g: -len(g[0]))) for first, group in grouped.items()}
