"""Which names a word of change belongs to: those after it ("reduces the current"), those before ("the current falls"), or an action."""

from __future__ import annotations

from collections.abc import Sequence

from marker.kinds.written.claims.segments import NAMING
from marker.kinds.written.claims.thesaurus import thesaurus
from marker.kinds.written.claims.tokens import Token


def right_names(row: Sequence[Token], n: int) -> list[str]:
    """What the names right after a word of change are about: the last of their first run; light ones pass it on."""
    run: list[Token] = []
    chain: list[list[Token]] = []
    here = n + 1
    while here < len(row):
        token = row[here]
        if token.kind in NAMING and token.kind != "number" and not _verb_like(row, here, n):
            run.append(token)
        elif run and token.kind == "preposition":
            chain.append(run)
            run = []
        elif token.kind in ("article", "number") or (token.kind == "preposition" and not chain and here == n + 1):
            if run:
                break
        elif run or chain or token.kind not in ("light", "article", "pronoun", "way"):
            break
        here += 1
    if run:
        chain.append(run)
    return _head(chain)


def _verb_like(row: Sequence[Token], here: int, n: int) -> bool:
    """An action after a name is its verb, not part of the name: "more electrons collide", "those with most energy leave"."""
    return (
        row[here].kind == "act"
        and any(t.text == "with" for t in row[max(0, n - 2) : n])
        and row[here - 1].kind == "thing"
    ) or (
        row[here].kind == "act"
        and here > n + 1
        and row[here - 1].kind in ("thing", "letters")
        and row[here].typed.lower().endswith(("ed", "s"))
    )


def _head(chain: Sequence[Sequence[Token]]) -> list[str]:
    light = thesaurus().head_light
    for run in chain:
        head = next((t for k, t in reversed(tuple(enumerate(run))) if t.text not in light and not _passes_on(run, k)), None)
        if head is not None:
            return [s for s, _ in head.senses]
    alone = chain[-1][-1] if chain else None
    return [s for s, _ in alone.senses] if alone is not None and alone.concept != "rate" else []


def _passes_on(run: Sequence[Token], k: int) -> bool:
    """A name that says only that it is counted or able: "ionising power" is about ionising."""
    able = run[k].concept in ("power", "abil", "effect", "strength") and k > 0 and run[k - 1].kind == "act"
    return able or run[k].concept in ("rate", "number", "take")


def left_names(row: Sequence[Token], n: int) -> list[str]:
    """What the names before a word of change are about: "the p.d. across the resistor falls" is about the p.d."""
    chain: list[list[Token]] = []
    run: list[Token] = []
    here = n - 1
    while here >= 0:
        token = row[here]
        if token.kind in NAMING and token.kind != "number":
            run.insert(0, token)
        elif token.kind == "preposition" or token.kind == "and":
            if token.text == "for" and row[n - 1].text == "to" and (run or chain):
                break
            if run:
                chain.insert(0, run)
            run = []
            if not chain and token.kind == "and":
                break
        elif token.kind == "article":
            if run:
                chain.insert(0, run)
                run = []
                if here == 0 or row[here - 1].kind != "preposition":
                    break
        elif token.kind in ("compare", "join") or (token.kind == "way" and (run or chain) and "verb" in token.forms):
            break
        here -= 1
    if run:
        chain.insert(0, run)
    return _head(chain) if chain else []


def takes_right(row: Sequence[Token], n: int, left: Sequence[str]) -> bool:
    """Whether a word of change takes what stands right of it: "a lower current", "lowers the current", "an increase in current".

    It does not where that has its own word of change after it: "as speed increases drag increases".
    """
    token = row[n]
    word = token.typed.lower()
    after = row[n + 1] if n + 1 < len(row) else None
    if after is None:
        return False
    if token.text in thesaurus().of_subject:
        return False
    if after.text == "of" and "adjective" in token.forms:
        return True
    if after.kind == "preposition":
        return "noun" in token.forms and after.text in ("in", "of") and not (left and row[n - 1].kind in NAMING)
    if left and "verb" in token.forms and not word.endswith("ing"):
        later = [k for k in range(n + 1, len(row)) if row[k].kind == "way"]
        if later and left_names(row, later[0]) and not right_names(row, later[0]):
            return False
    return True


def acted(row: Sequence[Token], n: int) -> list[str]:
    """The action an adverb goes with: "hit the walls more often"."""
    before = [k for k in range(n) if row[k].kind == "act"]
    plain = n == 0 or not any(t.kind == "be" for t in row[before[-1] if before else 0 : n])
    return [row[before[-1]].senses[0][0]] if before and plain and "verb" not in row[n].forms else []


def verb_before(row: Sequence[Token], n: int) -> list[str]:
    return [s for s, _ in row[n - 1].senses] if n and row[n - 1].kind == "act" else []
