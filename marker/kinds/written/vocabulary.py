"""The words one part knows: the general lexicon, the scheme's own terms, and every word the scheme uses."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from marker.kinds.written.lexicon import Lexicon, Meaning, Stems, concept_of, lexicon, phrase
from marker.kinds.written.spelling import Mended, mend
from marker.kinds.written.stem import stem
from marker.kinds.written.text import Sort, words


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Vocabulary:
    """How the words of one part are understood. Compared by identity: it is the key of the reading memo.

    meanings  first stem -> phrases that begin with it, longest first, with their concepts
    known     stems that are right as they stand;  terms  those a misspelling may be mended to
    labelled  concepts that are followed by a letter or number in the scheme, such as bulb A or terminal 1
    letters   letters the scheme uses for a quantity;  quantities  concepts that can go up and down
    """

    lexicon: Lexicon
    meanings: Mapping[str, tuple[tuple[Stems, tuple[Meaning, ...]], ...]]
    known: frozenset[str]
    terms: tuple[str, ...]
    labelled: frozenset[str]
    letters: Mapping[str, str]
    units: Mapping[str, str]
    quantities: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Named:
    """The scheme's own terms: their concepts, phrases and letters, and the general concepts that are these in this part."""

    concepts: tuple[str, ...]
    phrases: dict[Stems, tuple[Meaning, ...]]
    letters: dict[str, str]
    renamed: dict[str, str]


def _named(terms: Mapping[str, Iterable[str]], general: Lexicon) -> _Named:
    """Where a scheme says that voltage is the reading, all words, letters and units for voltage are the reading."""
    concepts, table, letters, renamed = [], dict[Stems, tuple[Meaning, ...]](), dict[str, str](), dict[str, str]()
    for name, others in terms.items():
        stems = phrase(name)
        if not stems:
            continue
        concept = concept_of(stems, general.meanings)
        concepts.append(concept)
        for text in (name, *others):
            known = general.meanings.get(phrase(text), ())
            if len(text) == 1:
                letters[text] = concept
            elif len(known) == 1 and known[0][1] > 0:
                renamed[known[0][0]] = concept
            if len(text) > 1 and phrase(text):
                table[phrase(text)] = ((concept, 1),)
    return _Named(concepts=tuple(concepts), phrases=table, letters=letters, renamed=renamed)


def vocabulary(texts: Iterable[str] = (), terms: Mapping[str, Iterable[str]] | None = None) -> Vocabulary:
    """A part's vocabulary from the texts of its scheme and its own terms (name -> other words for it)."""
    general = lexicon()
    named = _named(terms or {}, general)
    table = {p: tuple((named.renamed.get(c, c), sign) for c, sign in m) for p, m in general.meanings.items()} | named.phrases
    texts = tuple(texts)
    used = {stem(w.text) for t in texts for w in words([t]) if w.sort is Sort.WORD}
    of_terms = {s for p in table for s in p if s.isalpha()} | used
    rules = general.denial.values()
    grammar = {s for group in (*rules, general.hedges, general.forward, general.backward, general.withdrawals) for p in group for s in p}
    known = of_terms | grammar | general.common | {stem(f) for f in general.function} | general.existence
    return Vocabulary(
        lexicon=general,
        meanings=_by_first(table),
        known=frozenset(known),
        terms=tuple(sorted(t for t in of_terms | {"becaus"} if len(t) > (2 if t in used and t not in lexicon().function else 5))),
        labelled=_labelled(texts, table),
        letters={k: named.renamed.get(c, c) for k, c in general.symbols.items()} | named.letters,
        units={k: named.renamed.get(c, c) for k, c in general.units.items()},
        quantities=general.quantities | frozenset(named.concepts),
    )


def _by_first(table: Mapping[Stems, tuple[Meaning, ...]]) -> dict[str, tuple[tuple[Stems, tuple[Meaning, ...]], ...]]:
    grouped: dict[str, list[tuple[Stems, tuple[Meaning, ...]]]] = {}
    for stems, meaning in table.items():
        grouped.setdefault(stems[0], []).append((stems, meaning))
    return {first: tuple(sorted(group, key=lambda g: (-len(g[0]), g[0]))) for first, group in grouped.items()}


def _labelled(texts: Iterable[str], table: Mapping[Stems, tuple[Meaning, ...]]) -> frozenset[str]:
    """Stems followed somewhere in the scheme by one capital letter or a whole number."""
    found: set[str] = set()
    for text in texts:
        row = words([text])
        for here, after in pairwise(row):
            letter = len(after.typed) == 1 and after.typed.isupper()
            noun = here.sort is Sort.WORD and len(here.text) > 2 and here.text not in lexicon().function
            if noun and (letter or after.sort is Sort.NUMBER):
                found.add(stem(here.text))
    return frozenset(found)


@lru_cache(maxsize=50_000)
def spelling(word: str, known: Vocabulary) -> Mended:
    """What an unknown stem was meant to be."""
    return mend(word, known.terms, known.lexicon.collisions)
