"""What "not", "no", "none", "before reaching" and "stops … from" deny in a segment."""

from __future__ import annotations

from collections.abc import Sequence

from marker.kinds.written.claims.binding import acted, right_names
from marker.kinds.written.claims.model import families
from marker.kinds.written.claims.segments import NAMING, Segment
from marker.kinds.written.claims.thesaurus import thesaurus
from marker.kinds.written.claims.tokens import Token

_PASSED_OVER = frozenset(("article", "be", "light", "pronoun", "not", "way", "no"))


def denials(segment: Segment) -> tuple[set[int], list[str]]:
    """Places of what is denied in a segment, and the names of which it is only said that there are none."""
    row = segment.tokens
    denied: set[int] = set()
    bare: list[str] = []
    says = [n for n, t in enumerate(row) if t.kind in ("act", "way", "named way", "compare")]
    if segment.opens == "before" and says:
        denied ^= {says[0]}
    for n, token in enumerate(row):
        if token.kind == "act" and token.text in thesaurus().keeping_from:
            denied ^= {k for k in says if k > n and row[k].kind == "act" and any(t.text == "from" for t in row[n:k])}
        if token.kind == "not":
            target = _goes_with(row, next((k for k in says if n < k), None), says)
            if target is not None and _flip_near(row, n, target):
                denied ^= {target}
            else:
                bare += _after_or_before(row, n)
        elif token.kind == "no":
            target = _denied_by_no(row, n, says)
            if target is not None:
                denied ^= {target}
            else:
                bare += _after_or_before(row, n)
    return denied, bare


def _goes_with(row: Sequence[Token], target: int | None, says: Sequence[int]) -> int | None:
    """ "Do not vibrate more" denies that it is more, not that they vibrate."""
    if target is None or row[target].kind != "act":
        return target
    later = next((k for k in says if k > target), None)
    if later is None or row[later].kind not in ("way", "named way") or right_names(row, later):
        return target
    return later if row[target].senses[0][0] in acted(row, later) or row[later].kind == "named way" else target


def _flip_near(row: Sequence[Token], here: int, target: int) -> bool:
    return target - here <= 6


def _denied_by_no(row: Sequence[Token], here: int, says: Sequence[int]) -> int | None:
    """What "no", "none" or "nothing" denies: the action it is the subject or object of."""
    acts = [k for k in says if row[k].kind == "act"]
    if here + 1 in says and row[here + 1].kind == "way":
        return here + 1
    after = next((k for k in acts if k > here), None)
    before = next((k for k in reversed(acts) if k < here), None)
    if row[here].text in ("0", "zero", "nil", "nought", "0.0") and here and row[here - 1].kind in (*NAMING, "be", "sign"):
        return None
    if before is not None and here - before <= 3:
        return before
    if after is not None and (_has_verb_form(row, after) or all(t.kind in NAMING for t in row[here + 1 : after])):
        return after
    return None


def _has_verb_form(row: Sequence[Token], n: int) -> bool:
    """An action told by a verb; one at the end of a run of names is a noun: "no interference", but "none is absorbed"."""
    if n + 1 < len(row) or row[n - 1].kind == "be" or row[n].typed.lower().endswith(("ed", "en", "es")):
        return True
    return row[n - 1].kind in ("thing", "letters", "no") and row[n].typed.lower().endswith("s")


def _after_or_before(row: Sequence[Token], here: int) -> list[str]:
    """The names right after a denial ("no current"), else those before it ("the reading is zero")."""
    after: list[str] = []
    for token in row[here + 1 :]:
        if token.kind in NAMING:
            after += [s for s, _ in token.senses]
        elif after or token.kind not in _PASSED_OVER:
            break
    return after or list(families(row[:here]))
