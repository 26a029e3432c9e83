"""Which known word a misspelt one was meant to be, and when that cannot be told.

A word is mended only when one known word is clearly nearest. Where the slip lies between two terms of physics
(reflact: reflect or refract?) it is left undecided: most boards accept any spelling that has one meaning only.
"""

from collections.abc import Iterable
from dataclasses import dataclass

_LONGEST = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """`word` is the known word meant, None when none is near; `rivals` are the terms it lies between (two or more)."""

    word: str | None
    rivals: tuple[str, ...] = ()


def slips_allowed(length: int) -> int:
    """Letters that may be wrong in a word of that length; in one of three letters only when the first letter is right."""
    if length < 3:
        return 0
    return 1 if length < 7 else 2 if length < 12 else 3


def distance(a: str, b: str, most: int) -> int:
    """Letters put in, left out, changed or exchanged with a neighbour to turn a into b; most + 1 when it is more than `most`."""
    if abs(len(a) - len(b)) > most:
        return most + 1
    before: list[int] = []
    above = list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        row = [i]
        for j, y in enumerate(b, 1):
            cost = min(above[j] + 1, row[j - 1] + 1, above[j - 1] + (x != y))
            if i > 1 and j > 1 and x == b[j - 2] and a[i - 2] == y:
                cost = min(cost, before[j - 2] + 1)
            row.append(cost)
        if min(row) > most:
            return most + 1
        before, above = above, row
    return min(above[-1], most + 1)


def mend(word: str, known: Iterable[str], collisions: Iterable[frozenset[str]]) -> Mended:
    """The word of `known` that was meant. `word` itself must not be known."""
    allowed = slips_allowed(len(word))
    if not allowed or len(word) > _LONGEST:
        return Mended(word=None)
    near: dict[str, int] = {}
    for candidate in known:
        if len(candidate) > 2 and (d := distance(word, candidate, allowed)) <= allowed:
            # A wrong first letter is rare: it counts as a slip more.
            weight = d + (candidate[0] != word[0])
            if weight <= allowed:
                near[candidate] = weight
    if not near:
        return Mended(word=None)
    best = min(near.values())
    nearest = sorted(w for w, d in near.items() if d == best)
    for rivals in collisions:
        close = tuple(sorted(r for r in rivals if distance(word, r, best + 1) <= best + 1))
        if len(close) > 1 and set(close) & set(nearest):
            return Mended(word=None, rivals=close)
    return Mended(word=nearest[0]) if len(nearest) == 1 else Mended(word=_likest(word, nearest))


def _likest(word: str, nearest: list[str]) -> str | None:
    """Of equally near words the one that shares the longest beginning; None when two do."""
    shared = {w: _beginning(word, w) for w in nearest}
    top = [w for w in nearest if shared[w] == max(shared.values())]
    return top[0] if len(top) == 1 else None


def _beginning(a: str, b: str) -> int:
    count = 0
    for x, y in zip(a, b, strict=False):
        if x != y:
            break
        count += 1
    return count
