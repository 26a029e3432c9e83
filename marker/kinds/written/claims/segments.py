"""Tokens cut into segments, one statement each: at stops, at so, because, means, gives, ⇒, and at "and" between two statements."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.kinds.written.claims.tokens import Token

NAMING = frozenset(("thing", "act", "letters", "word", "number", "named way"))
SAYING = frozenset(("way", "named way", "compare", "act", "not", "no"))
_SUBJECTS = frozenset(("this", "it", "they", "he", "she"))
_OPERATORS = frozenset("×/+-÷*^∝")
_SERVING = frozenset(("act", "serv", "behav", "work", "know", "known"))
_EQUALITIES = frozenset("=≈~∝")


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """One statement. `opens` is the word it opens with: "join", "condition", "before" or ""; `sentence` counts from 0."""

    tokens: tuple[Token, ...]
    sentence: int
    opens: str = ""


def segments(row: Sequence[Token]) -> tuple[Segment, ...]:
    """The statements of a response in order; equations in letters only are left out."""
    found = (s for number, piece in enumerate(_sentences(row)) for s in _cut(piece, number))
    return tuple(s for s in found if s.tokens)


def _sentences(row: Sequence[Token]) -> list[list[Token]]:
    made: list[list[Token]] = [[]]
    for token in row:
        if token.kind == "stop":
            made.append([])
        else:
            made[-1].append(token)
    return [m for m in made if m]


def _cut(row: Sequence[Token], sentence: int) -> list[Segment]:
    plain = _without_formulas(row)
    made: list[Segment] = []
    here: list[Token] = []
    opens = ""
    for n, token in enumerate(plain):
        kind = _opening(plain, n, here)
        if kind is None and opens == "condition" and _main_begins(plain, n, here):
            made.append(Segment(tokens=tuple(here), sentence=sentence, opens=opens))
            here, opens = [token], ""
            continue
        if kind is None:
            here.append(token)
            continue
        made.append(Segment(tokens=tuple(here), sentence=sentence, opens=opens))
        here, opens = ([token], "") if kind == "follows" else ([], kind)
    made.append(Segment(tokens=tuple(here), sentence=sentence, opens=opens))
    return made


def _opening(row: Sequence[Token], n: int, here: Sequence[Token]) -> str | None:
    """How a new segment opens at this token; None when none does."""
    token = row[n]
    if token.kind == "join" and n and row[n - 1].text == "to":
        return None
    if _new_subject(row, n, here):
        return "follows"
    if token.text == "ther" and n + 1 < len(row) and row[n + 1].kind == "be" and any(t.kind in SAYING for t in here):
        return ""
    if token.kind in ("join", "condition", "before"):
        return None if token.kind == "condition" and _as_what(row, n) else token.kind
    if token.kind == "sign":
        if _equates(row, n):
            return None
        if token.text in "()":
            return "join" if _wordy(row, n) else None
        return "join" if token.text in ("→", "=", "≈", "~", "-") and not _is_value(row, n) else None
    if token.kind not in ("and", "comma"):
        return None
    after = row[n + 1 :]
    end = next((k for k, t in enumerate(after) if t.kind in ("and", "comma", "join", "condition")), len(after))
    says = any(t.kind in SAYING for t in here)
    return "" if says and (any(t.kind in SAYING for t in after[:end]) or token.kind == "comma") else None


def _new_subject(row: Sequence[Token], n: int, here: Sequence[Token]) -> bool:
    """A name with its own "is" after a whole statement: "if m is smaller | v is larger"."""
    whole = len(here) > 2 and here[-1].kind in ("way", "named way") and here[-2].kind == "be" and here[0].text != "ther"
    return whole and row[n].kind in ("thing", "letters") and n + 1 < len(row) and row[n + 1].kind == "be"


def _equates(row: Sequence[Token], n: int) -> bool:
    """True for an equals sign between two names in words: "drag = weight"."""
    beside = (*row[max(0, n - 1) : n], *row[n + 1 : n + 2])
    return row[n].text == "=" and len(beside) == 2 and all(t.kind in ("thing", "word") for t in beside)


def _main_begins(row: Sequence[Token], n: int, here: Sequence[Token]) -> bool:
    """Where a condition ends and its main statement begins: "if f is below the threshold | this is …", "as v rises | the drag rises"."""
    before = row[n - 1]
    if row[n].typed.lower() in _SUBJECTS and before.kind in NAMING and here:
        return True
    if not (row[n].kind in ("article", "pronoun") or row[n].text == "ther") or not any(t.kind in SAYING for t in here):
        return False
    subject = any(t.kind in NAMING for t in here[:-1])
    later = any(t.kind in SAYING for t in row[n + 1 : n + 8])
    return later and ((before.kind in NAMING and before.kind != "act") or (before.kind == "way" and "verb" in before.forms and subject))


def _as_what(row: Sequence[Token], n: int) -> bool:
    """ "Lost as heat": nothing is said after this "as"."""
    rest = row[n + 1 :]
    if row[n].text == "as" and n and row[n - 1].text in _SERVING:
        return True
    end = next((k for k, t in enumerate(rest) if t.kind in ("and", "comma", "join", "condition")), len(rest))
    return row[n].text == "as" and n > 0 and not any(t.kind in (*SAYING, "be", "pronoun") for t in rest[:end])


def _wordy(row: Sequence[Token], n: int) -> bool:
    """A bracket round words parts statements; one round numbers and letters does not."""
    opened = row[n].text == "("
    inside = row[n + 1 : n + 6] if opened else row[max(0, n - 5) : n]
    other = ")" if opened else "("
    stop = next((k for k, t in enumerate(inside if opened else reversed(inside)) if t.text == other), len(inside))
    part = inside[:stop] if opened else inside[len(inside) - stop :]
    return any(t.kind in (*SAYING, "thing", "word") for t in part)


def _is_value(row: Sequence[Token], n: int) -> bool:
    """True for an equals sign that says how large something is: "reading = 0", "T = constant"."""
    after = row[n + 1] if n + 1 < len(row) else None
    return row[n].text == "=" and after is not None and (after.kind == "no" or (after.kind == "way" and after.way == "steady"))


def _without_formulas(row: Sequence[Token]) -> list[Token]:
    """The sentence without equations: "V = Q/C" says nothing of what changes.

    Of one that is spoken of the left side stays: "I = P/V is small".
    """
    kept: list[Token] = []
    n = 0
    while n < len(row):
        for inside in (_plain, _named):
            end = n
            while end < len(row) and inside(row[end]):
                end += 1
            if _is_formula(row[n:end]):
                break
        else:
            kept.append(row[n])
            n += 1
            continue
        spoken_of = end < len(row) and row[end].kind in ("way", "be", "compare")
        object_of = bool(kept) and kept[-1].kind in ("compare", "preposition", "way")
        if spoken_of or object_of:
            kept.extend(t for t in row[n : n + 1] if t.kind in NAMING)
        n = end
    return kept


def _is_formula(span: Sequence[Token]) -> bool:
    """An equation with a letter in it, or of names with a sum, product or quotient."""
    if not any(t.kind == "sign" and t.text in _EQUALITIES for t in span[1:-1]):
        return False
    plain = all(_plain(t) for t in span)
    worked = any(t.kind == "sign" and t.text in "×/÷+" for t in span)
    return (plain and any(t.kind == "letters" for t in span) and not _is_value(span, 1)) or (
        worked and span[0].kind in ("thing", "letters")
    )


def _plain(token: Token) -> bool:
    return (
        token.kind in ("letters", "number")
        or (token.kind == "sign" and token.text in (*_OPERATORS, *_EQUALITIES, "(", ")"))
        or token.text == "0"
    )


def _named(token: Token) -> bool:
    return (_plain(token) and token.text not in "()") or token.kind == "thing" or token.text in ("of", "constant")
