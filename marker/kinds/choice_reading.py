"""Which letters a candidate chooses: "B", "(b) because …", "not A, so C", "A no wait B", "A and D"."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from marker.kinds.words import Token, tokens
from marker.resources import grammar

_STOPS = frozenset(".,;:()[]!?/|=-–—&+\"'“”")
_ENDS = frozenset(".;!?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """One letter as it stands: chosen, refused ("not B"), talked about, or given up."""

    letter: str
    line: int
    at: int
    refused: bool = False
    aside: bool = False
    given_up: bool = False

    @property
    def stands(self) -> bool:
        return not (self.refused or self.aside or self.given_up)


@lru_cache(maxsize=1)
def choice_words() -> Mapping[str, frozenset[str]]:
    """The lists of grammars/choices.toml outside [truth]."""
    table = tomllib.loads(grammar("choices.toml"))
    return {key: frozenset(words) for key, words in table.items() if isinstance(words, list)}


def letters_chosen(lines: Sequence[str], keys: frozenset[str]) -> tuple[Chosen, ...]:
    """Every letter in order with how it stands. `keys` are the option letters in upper case (or digits)."""
    row = tokens(lines)
    found: list[Chosen] = []
    state = _State()
    for index in range(len(row)):
        state.step(row, index)
        for letter in _letters_at(row, index, keys):
            found.append(state.chosen(row, index, letter))
    return _given_up(tuple(found), row)


@dataclass(slots=True)
class _State:
    """Where the pass has got to: inside a reason, inside ~~crossed out~~, after a refused letter."""

    reason: bool = False
    struck: bool = False
    refusing: bool = False

    def step(self, row: tuple[Token, ...], index: int) -> None:
        words, text = choice_words(), row[index].text
        new_line = index > 0 and row[index - 1].line != row[index].line
        if new_line or text in _ENDS or text in words["conclusion"]:
            self.reason = False
        if text in words["reason"] and not (text == "as" and index + 1 < len(row) and row[index + 1].text == "well"):
            self.reason = True
        if text == "~~":
            self.struck = not self.struck

    def chosen(self, row: tuple[Token, ...], index: int, letter: str) -> Chosen:
        words = choice_words()
        before = [t.text for t in row[max(0, index - 3) : index] if t.line == row[index].line]
        after = [t.text for t in row[index + 1 : index + 5] if t.line == row[index].line]
        refused = bool(before) and (
            before[-1] in words["denial"] or (before[-1] in ("option", "the", "be") and bool(set(before[:-1]) & words["denial"]))
        )
        refused = refused or any(w in words["refusal"] for w in after[:3] if after[0] in words["about"] | words["refusal"])
        refused = refused or (self.refusing and bool(before) and before[-1] in ("or", "nor"))
        self.refusing = refused
        about = bool(after) and after[0] in words["about"] and not set(after[1:4]) & words["assent"]
        return Chosen(
            letter=letter,
            line=row[index].line,
            at=index,
            refused=refused,
            aside=self.reason or about,
            given_up=self.struck,
        )


def _letters_at(row: tuple[Token, ...], index: int, keys: frozenset[str]) -> tuple[str, ...]:
    """The option letters a token stands for: one, several run together ("AC"), or none."""
    token = row[index]
    typed = token.typed
    if len(token.text) == 1 and token.text.upper() in keys:
        return (token.text.upper(),) if _is_letter(row, index) else ()
    together = 1 < len(typed) <= len(keys) and typed.isupper() and all(c in keys for c in typed) and len(set(typed)) == len(typed)
    alone = all(t.text in _STOPS for t in row if t is not token)
    return tuple(typed) if together and alone else ()


def _is_letter(row: tuple[Token, ...], index: int) -> bool:
    """True for a letter that names an option, False for an article, a pronoun, a symbol or a number in prose."""
    words, token = choice_words(), row[index]
    before = row[index - 1] if index and row[index - 1].line == token.line else None
    after = row[index + 1] if index + 1 < len(row) and row[index + 1].line == token.line else None
    closed = after is None or after.text in _STOPS or after.text == "~~" or _leads_on(after.text)
    opened = before is None or before.text in _STOPS or before.text == "~~" or before.text in words["introducing"]
    if token.typed in ("A", "I") or token.typed.isdigit():
        # an article or a pronoun goes on in prose: "A larger force", "I think"
        return closed and (opened or after is None or after.text in _STOPS)
    if token.typed.isupper():
        glued = (before is not None and not token.spaced and before.text.isalnum()) or (
            after is not None and after.text in "=×*^" and before is None
        )
        return not glued
    return opened and (closed or (before is None and after is not None and after.text[0].isdigit()))


def _leads_on(word: str) -> bool:
    words = choice_words()
    return any(
        word in words[key]
        for key in ("reason", "joining", "either", "denial", "about", "second_thoughts", "withdrawals", "conclusion", "refusal")
    )


def _given_up(found: tuple[Chosen, ...], row: tuple[Token, ...]) -> tuple[Chosen, ...]:
    """Letters before a change of mind are given up where a chosen letter comes after it, and outright where scrapped."""
    words = choice_words()
    changes = [i for i, t in enumerate(row) if t.text in words["second_thoughts"] or (t.text == "no" and _bare_no(row, i))]
    scrapped = [i for i, t in enumerate(row) if t.text in words["withdrawals"]]
    standing = [c.at for c in found if c.stands]
    cut = max((i for i in [*changes, *scrapped] if any(at > i for at in standing)), default=-1)
    cut = max([cut, *scrapped])
    return tuple(replace(c, given_up=True) if c.at < cut and not c.given_up else c for c in found)


def _bare_no(row: tuple[Token, ...], index: int) -> bool:
    """True for "no" before a stop, a letter or "its": a change of mind, not "no force"."""
    after = row[index + 1] if index + 1 < len(row) else None
    return after is not None and (after.text in _STOPS or len(after.text) == 1 or after.text in ("its", "it", "wait", "sorry"))
