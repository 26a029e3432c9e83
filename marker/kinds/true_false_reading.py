"""What is said of a statement: true or false, and the words put in place of the wrong ones."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from marker.kinds.words import Token, nearest, tokens
from marker.resources import grammar
from marker.scheme.convention import Convention

Phrase = tuple[str, ...]
# these open a correction as often as a change of mind: "should be perpendicular", "perpendicular instead"
_ALSO_PLAIN = frozenset(("should", "instead", "rather", "mean"))


@dataclass(frozen=True, slots=True, kw_only=True)
class CompiledTruth:
    """Phrases are in plain words; `vocabulary` are the words a slip is mended to, `real` those it never is mended from."""

    name: str
    marks: int
    answer: bool
    statement: Phrase
    correction: tuple[Phrase, ...]
    refused: tuple[Phrase, ...]
    first_correction: str
    each: bool
    vocabulary: frozenset[str]
    real: frozenset[str]
    convention: Convention


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What was said: verdicts in order as (is true, line); corrections accepted and refused; other words of substance."""

    verdicts: tuple[tuple[bool, int], ...] = ()
    right: tuple[tuple[str, int], ...] = ()
    wrong: tuple[tuple[str, int], ...] = ()
    others: tuple[str, ...] = ()


@lru_cache(maxsize=1)
def truth_words() -> Mapping[str, frozenset[str]]:
    table = tomllib.loads(grammar("choices.toml"))
    lists = {key: frozenset(words) for key, words in table["truth"].items()}
    return {**lists, "second_thoughts": frozenset(table["second_thoughts"]), "withdrawals": frozenset(table["withdrawals"])}


def plain_phrase(text: str) -> Phrase:
    return tuple(t.text for t in tokens((text,)) if t.text.isalnum())


def read_truth(part: CompiledTruth, lines: Sequence[str]) -> Said:
    """Verdicts and corrections, with slips of spelling mended."""
    row = [t for t in tokens(lines) if t.text.isalnum() or t.text in "✓✔✗✘×" or t.text == "~~"]
    texts = [_mended(t.text, part) for t in row]
    row, texts = _without_given_up(row, texts)
    right, wrong, used = _corrections(part, row, texts)
    verdicts: list[tuple[bool, int]] = []
    others: list[str] = []
    for index, (token, text) in enumerate(zip(row, texts, strict=True)):
        if index in used:
            continue
        verdict = _verdict(texts, index)
        if verdict is not None:
            verdicts.append((verdict, token.line))
        elif text not in truth_words()["plain"] | truth_words()["turning"] and text not in part.statement and len(text) > 1:
            others.append(text)
    return Said(verdicts=tuple(verdicts), right=right, wrong=wrong, others=tuple(others))


def _mended(text: str, part: CompiledTruth) -> str:
    close = nearest(text, part.vocabulary, part.real)
    return next(iter(close)) if len(close) == 1 else text


def _without_given_up(row: list[Token], texts: list[str]) -> tuple[list[Token], list[str]]:
    """What stands after a change of mind, and outside ~~crossed out~~."""
    struck = False
    kept: list[int] = []
    for index, text in enumerate(texts):
        if text == "~~":
            struck = not struck
        elif not struck:
            kept.append(index)
    kept = kept or [i for i, t in enumerate(texts) if t != "~~"]
    turning = truth_words()["second_thoughts"] | truth_words()["withdrawals"]
    changes = [n for n, i in enumerate(kept) if texts[i] in turning - _ALSO_PLAIN]
    for change in reversed(changes):
        after = kept[change + 1 :]
        if any(_verdict([texts[i] for i in after], n) is not None for n in range(len(after))):
            kept = after
            break
    return [row[i] for i in kept], [texts[i] for i in kept]


def _verdict(texts: Sequence[str], index: int) -> bool | None:
    """True or false where the word is a verdict, turned by "not"; None for another word."""
    words, text = truth_words(), texts[index]
    if text in ("correct", "right", "no", "n", "y", "t", "f", "x", "yes") and index > 2:
        return None  # further on these are words of a sentence
    if text not in words["true"] and text not in words["false"]:
        return None
    turned = bool(set(texts[max(0, index - 2) : index]) & words["turning"])
    return (text in words["true"]) != turned


def _corrections(
    part: CompiledTruth, row: Sequence[Token], texts: Sequence[str]
) -> tuple[tuple[tuple[str, int], ...], tuple[tuple[str, int], ...], set[int]]:
    """Accepted and refused phrases found, longest first, those after "not" left out; and the places they take."""
    used: set[int] = set()
    found: dict[bool, list[tuple[str, int]]] = {True: [], False: []}
    phrases = [(p, True) for p in part.correction] + [(p, False) for p in part.refused]
    for phrase, accepted in sorted(phrases, key=lambda item: -len(item[0])):
        for at in range(len(texts) - len(phrase) + 1):
            place = set(range(at, at + len(phrase)))
            if tuple(texts[at : at + len(phrase)]) != phrase or place & used:
                continue
            used |= place
            denied = _denied(texts, at)
            if denied == accepted or not denied:
                found[accepted and not denied].append((" ".join(phrase), row[at].line))
    return tuple(found[True]), tuple(found[False]), used


def _denied(texts: Sequence[str], at: int) -> bool:
    """True after "not", "than", "instead of", "from", "replace", with an article between at most."""
    back = at - 1
    if back >= 0 and texts[back] in ("the", "a", "an", "to", "word"):
        back -= 1
    return back >= 0 and texts[back] in ("not", "isnt", "than", "of", "from", "replace", "replaced", "change", "changed")
