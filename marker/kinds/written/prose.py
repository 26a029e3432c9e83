"""Typed lines read as clauses of ideas: words mended, phrases recognised, denials put on what they deny."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from marker.frozen import frozen
from marker.kinds.written.change import bind, inherit
from marker.kinds.written.denial import deny
from marker.kinds.written.lexicon import Meaning, Stems
from marker.kinds.written.model import Clause, Item, Prose, Role
from marker.kinds.written.second_thoughts import withdraw
from marker.kinds.written.stem import stem
from marker.kinds.written.text import Sort, Word, overlong, words
from marker.kinds.written.vocabulary import Vocabulary, spelling

_FORMULA = frozenset("=∝×/<>≈≤≥")
_NO_NOUN = frozenset(("to", "when", "with", "for", "at", "and", "if", "because", "so", "or"))
_DENIALS = {"adverbs": Role.ADVERB, "articles": Role.ARTICLE, "predicates": Role.PREDICATE}


@frozen(kw_only=False)
class _Stemmed:
    word: Word
    stem: str
    known: bool
    mended: bool
    rivals: tuple[str, ...]


@lru_cache(maxsize=20_000)
def read(lines: tuple[str, ...], known: Vocabulary) -> Prose:
    """A response as clauses. Never raises, whatever the text."""
    row = withdraw(words(lines))
    stemmed = tuple(_stem(w, known) for w in row.words)
    clauses = _clauses(stemmed, known)
    bound = (replace(c, items=bind(deny(c.items, known.lexicon.polar, known.quantities), known.quantities)) for c in clauses)
    return Prose(
        clauses=inherit(bound, known.quantities),
        lines=lines,
        blank=_blank(stemmed, known),
        withdrawn=row.withdrawn,
        overlong=overlong(lines),
    )


def _stem(word: Word, known: Vocabulary) -> _Stemmed:
    found = _spelt(word, known)
    ending, other = known.lexicon.forms.get(found.stem, ("", ""))
    return replace(found, stem=other) if ending and word.text.endswith((ending, "ly")) else found


def _spelt(word: Word, known: Vocabulary) -> _Stemmed:
    if word.sort is not Sort.WORD:
        return _Stemmed(word, word.text, True, False, ())
    plain = stem(word.text)
    if plain in known.known or word.text in known.lexicon.function or len(plain) < 3:
        return _Stemmed(word, plain, True, False, ())
    for prefix in ("un", "non", "dis"):
        if plain.startswith(prefix) and plain[len(prefix) :] in known.known and len(plain) > len(prefix) + 3:
            return _Stemmed(word, plain, True, False, ())
    meant = spelling(plain, known)
    if meant.word is None and not meant.rivals and word.text != plain:
        # A slip may have made an ending of what is none: funtion.
        meant = spelling(word.text, known)
    return _Stemmed(word, meant.word or plain, meant.word is not None, meant.word is not None, meant.rivals)


def _blank(row: Sequence[_Stemmed], known: Vocabulary) -> bool:
    """True for no words at all, and for "I do not know" and its like with hardly a word beside it."""
    stems = tuple(s.stem for s in row if s.word.sort in (Sort.WORD, Sort.NUMBER) or s.word.text == "∝")
    if not stems or stems in known.lexicon.blanks:
        return True
    shorter = stems[1:] if stems[0] in ("i", "sorry", "because", "becaus") else stems
    if shorter in known.lexicon.blanks:
        return True
    opening = max((len(b) for b in known.lexicon.blanks if len(b) > 1 and shorter[: len(b)] == b), default=0)
    rest = [s for s in shorter[opening:] if s not in known.lexicon.function]
    return opening > 0 and len(rest) <= 2


def _clauses(row: Sequence[_Stemmed], known: Vocabulary) -> list[Clause]:
    """Cut at stops and at words such as but, because, so, when."""
    clauses: list[Clause] = []
    items: list[Item] = []
    sentence, link, hedged, here = 0, "", False, 0

    def end() -> None:
        nonlocal items, hedged
        if items:
            clauses.append(Clause(items=tuple(items), sentence=sentence, link=link, hedged=hedged))
        items = []

    while here < len(row):
        if row[here].word.sort is Sort.STOP:
            end()
            link, hedged = "", False
            sentence, here = sentence + 1, here + 1
            continue
        stems = tuple(s.stem for s in row[here : here + 6])
        if opener := _opens(stems, row, here, known) or _new_subject(row, here, items, known):
            end()
            link, here = opener[0], here + opener[1]
            continue
        if (length := _longest(known.lexicon.hedges, stems)) and not _longest_meaning(stems, known)[1] > length:
            hedged = True
        new, used = _items(row, here, stems, known)
        items.extend(new)
        here += used
    end()
    return [replace(c, hedged=any(o.hedged for o in clauses if o.sentence == c.sentence)) for c in clauses]


def _opens(stems: Stems, row: Sequence[_Stemmed], here: int, known: Vocabulary) -> tuple[str, int] | None:
    """Kind of link and words used, when a new clause opens here."""
    for length in (3, 2, 1):
        if (kind := known.lexicon.links.get(stems[:length])) is None or len(stems) < length:
            continue
        if stems[0] == "as" and (stems[1:2] in (("wel",), ("a",), ("far",), ("long",)) or _compares(row, here)):
            return None
        return kind, length
    return None


def _new_subject(row: Sequence[_Stemmed], here: int, items: Sequence[Item], known: Vocabulary) -> tuple[str, int] | None:
    """A comma or "and" before a new statement: "resistance falls and the lamp is brighter", "more turns, a weaker magnet"."""
    word, after = row[here].word, row[here + 1 : here + 9]
    if not items or not after:
        return None
    if word.sort is Sort.COMMA:
        follows = after[0].word
        inside_list = items[-1].role is Role.LABEL or follows.sort is Sort.NUMBER or len(follows.text) == 1
        return None if inside_list and follows.text not in ("a", "i") else ("", 1)
    lexicon = known.lexicon
    if word.text != "and" or after[0].word.text not in lexicon.subjects or any(i.concept in ("between", "both") for i in items):
        return None
    ahead = []
    for s in after:
        if s.word.sort in (Sort.STOP, Sort.COMMA) or s.word.text == "and":
            break
        ahead.append(s.word.text)
    said = any(i.stems in lexicon.verbs or i.typed.lower() in lexicon.verbs or i.existence or i.role is Role.ADVERB for i in items)
    return ("", 1) if said and lexicon.verbs & set(ahead) else None


def _compares(row: Sequence[_Stemmed], here: int) -> bool:
    """True for the second half of "the same … as" and "as … as"."""
    return any(s.stem in ("sam", "same", "as", "such") for s in row[max(0, here - 5) : here])


def _longest(table: frozenset[Stems], stems: Stems) -> int:
    return next((n for n in range(len(stems), 0, -1) if stems[:n] in table), 0)


def _longest_meaning(stems: Stems, known: Vocabulary) -> tuple[tuple[Meaning, ...], int]:
    for phrase, meaning in known.meanings.get(stems[0], ()):
        if stems[: len(phrase)] == phrase:
            return meaning, len(phrase)
    return (), 0


def _items(row: Sequence[_Stemmed], here: int, stems: Stems, known: Vocabulary) -> tuple[list[Item], int]:
    """The items that begin at `here` and how many words they take."""
    start, denial = row[here], known.lexicon.denial
    if friend := _longest(denial["false_friends"], stems):
        return [_item(row, here, friend, Role.MENTION, "_".join(stems[:friend]))], friend
    meaning, used = _longest_meaning(stems, known)
    refusals = {role: _longest(denial[kind], stems) for kind, role in _DENIALS.items()}
    if max(refusals.values()) > used or (used == 0 and max(refusals.values())):
        role, length = _refusal(refusals, row, here)
        return [_item(row, here, length, role, stems[0])], length
    if symbols := _symbols(row, here, known):
        return symbols, 1
    if used:
        over = start.word.text == "∝" and [s.word.text for s in row[here + 1 : here + 3]] == ["1", "/"]
        named = (*meaning, ("inverse", 1)) if over else meaning
        return [_item(row, here, used, Role.MENTION, name, sign) for name, sign in named], used
    if start.word.text == "=" and _of_words(row, here):
        return [_item(row, here, 1, Role.MENTION, "sam")], 1
    return [_single(start, row, here, known)], 1


def _of_words(row: Sequence[_Stemmed], here: int) -> bool:
    """True for an equals sign between words: "drag = weight"; in a formula of letters it stays a sign."""
    beside = (*row[max(0, here - 1) : here], *row[here + 1 : here + 2])
    return len(beside) == 2 and all(s.word.sort is Sort.WORD and len(s.word.text) > 2 and s.stem != "constant" for s in beside)


def _refusal(lengths: dict[Role, int], row: Sequence[_Stemmed], here: int) -> tuple[Role, int]:
    """Zero and nothing stand before a noun ("zero mass") or after one ("the mass is zero")."""
    article, predicate = lengths[Role.ARTICLE], lengths[Role.PREDICATE]
    if article and article == predicate and article >= lengths[Role.ADVERB]:
        after = next(iter(row[here + article : here + article + 1]), None)
        word = row[here].word.text
        before_noun = after is not None and after.word.sort is Sort.WORD and after.stem not in _NO_NOUN
        to_do = after is not None and after.stem == "to" and word == "nothing"
        return (Role.ARTICLE if before_noun or to_do else Role.PREDICATE), article
    role = max(lengths, key=lambda r: lengths[r])
    return role, lengths[role]


def _symbols(row: Sequence[_Stemmed], here: int, known: Vocabulary) -> list[Item]:
    """Letters of a formula ("V = km") and units after a number, as the quantities they stand for."""
    word = row[here].word
    before = row[here - 1].word if here else None
    after = row[here + 1].word if here + 1 < len(row) else None
    units = known.units
    if before is not None and before.sort is Sort.NUMBER and word.typed in units and before.line == word.line:
        return [_item(row, here, 1, Role.MENTION, units[word.typed])]
    if before is not None and before.text == "to" and word.typed in known.letters and word.typed not in ("a", "I") and len(word.typed) == 1:
        return [_item(row, here, 1, Role.MENTION, known.letters[word.typed])]
    if word.sort is not Sort.WORD or not any(w is not None and w.text in _FORMULA for w in (before, after)):
        return []
    if word.typed in known.letters:
        return [_item(row, here, 1, Role.MENTION, known.letters[word.typed])]
    if len(word.typed) == 1:
        return [_item(row, here, 1, Role.MENTION, "constant" if word.typed in "kcCK" else word.typed)]
    if len(word.typed) <= 4 and row[here].stem not in known.known and any(c in known.letters for c in word.typed):
        return [_item(row, here, 1, Role.MENTION, known.letters.get(c, "constant")) for c in word.typed]
    return []


def _single(start: _Stemmed, row: Sequence[_Stemmed], here: int, known: Vocabulary) -> Item:
    word = start.word
    if word.sort is Sort.NUMBER:
        text = word.text.rstrip("0").rstrip(".") if "." in word.text else word.text
        return _item(row, here, 1, Role.LABEL, text or "0")
    if word.sort is not Sort.WORD:
        return _item(row, here, 1, Role.SIGN, word.text)
    if len(word.text) == 1 and _is_label(row, here, known):
        return _item(row, here, 1, Role.LABEL, word.text.upper())
    for prefix in ("un", "non", "dis"):
        rest = start.stem.removeprefix(prefix)
        if rest != start.stem and len(rest) > 3 and rest in known.known and (rest,) in {p for p, _ in known.meanings.get(rest, ())}:
            (name, sign), *_ = _longest_meaning((rest,), known)[0]
            return _item(row, here, 1, Role.MENTION, name, -sign)
    if start.stem in known.lexicon.existence:
        return replace(_item(row, here, 1, Role.FUNCTION, start.stem), existence=True)
    if word.text in known.lexicon.function or start.stem in known.lexicon.function or len(word.text) == 1:
        return _item(row, here, 1, Role.FUNCTION, start.stem)
    return _item(row, here, 1, Role.MENTION, start.stem)


def _is_label(row: Sequence[_Stemmed], here: int, known: Vocabulary) -> bool:
    """A letter that names a thing: "bulb a", "a and c", "switch Y"; the article a and the pronoun I are not."""
    word = row[here].word
    if word.text not in ("a", "i"):
        return word.typed.isupper() or word.text not in ("s", "t", "d", "m", "n", "o")
    if here and row[here - 1].stem in known.labelled:
        return True
    after = row[here + 1] if here + 1 < len(row) else None
    if word.text == "i" or (after is not None and after.word.sort is Sort.WORD and after.word.text not in known.lexicon.function):
        return False
    if after is not None and after.word.text in ("and", ",", "or") and here + 2 < len(row) and _letter(row[here + 2].word):
        return True
    if here > 1 and row[here - 1].word.text in ("and", ",", "or") and _letter(row[here - 2].word):
        return True
    return word.typed == "A" and bool(known.labelled) and after is not None


def _letter(word: Word) -> bool:
    return word.sort is Sort.WORD and len(word.text) == 1


def _item(row: Sequence[_Stemmed], here: int, length: int, role: Role, concept: str, sign: int = 1) -> Item:
    span = row[here : here + length]
    first, last = span[0].word, span[-1].word
    return Item(
        role=role,
        concept=concept,
        sign=sign,
        stems=" ".join(s.stem for s in span),
        typed=" ".join(s.word.typed for s in span),
        line=first.line,
        at=(first.at[0], last.at[1] if last.line == first.line else first.at[1]),
        known=all(s.known for s in span),
        mended=any(s.mended for s in span),
        rivals=next((s.rivals for s in span if s.rivals), ()),
    )
