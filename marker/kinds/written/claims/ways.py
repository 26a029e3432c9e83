"""Changes, sizes and comparisons as claims: "low current", "reduces the current", "less than the work function"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.kinds.written.claims.binding import acted, left_names, right_names, takes_right, verb_before
from marker.kinds.written.claims.model import Claim, families
from marker.kinds.written.claims.segments import NAMING
from marker.kinds.written.claims.thesaurus import Sense, thesaurus
from marker.kinds.written.claims.tokens import Token


def comparison(base: Claim, row: Sequence[Token], n: int, denied: bool) -> Claim:
    left, right = frozenset(families(row[:n])) or base.carried, frozenset(families(row[n + 1 :]))
    way = row[n].way or "equal"
    if denied:
        way = "less" if row[n].text == "as much as" else {"less": "more", "more": "less", "equal": "unequal"}[way]
    return replace(base, kind="compare", way=way, left=left, right=right)


def compared(base: Claim, row: Sequence[Token]) -> Claim | None:
    """The comparison in "less energy than the work function"; None without one."""
    here = next((n for n, t in enumerate(row) if n and _is_than(row, n)), None)
    way = next((t.way for t in reversed(row[: here or 0]) if t.kind in ("way", "named way") and t.way in ("up", "down")), None)
    if here is None or way is None:
        return None
    left = frozenset(families(row[:here]))
    return replace(
        base, kind="compare", way={"up": "more", "down": "less"}[way], left=left | base.carried, right=frozenset(families(row[here + 1 :]))
    )


def _is_than(row: Sequence[Token], n: int) -> bool:
    return row[n].kind == "than"


def way_claim(base: Claim, row: Sequence[Token], n: int, denied: bool) -> Claim:
    """What is said to be or become more, less, the same, with what it is said of."""
    token = row[n]
    way = _denied_way(token) if denied else token.way
    if token.kind == "named way":
        return _named_way(base, row, n, way)
    counted = frozenset(("number",)) if token.text in thesaurus().counting or _counts(row) else frozenset()
    base = replace(base, words=base.words | counted)
    right = right_names(row, n)
    left = left_names(row, n)
    if left and "verb" in token.forms and n + 1 < len(row) and row[n + 1].kind == "named way":
        right = []
    if right and takes_right(row, n, left):
        heads = right
    elif n + 1 < len(row) and row[n + 1].text == "of" and "adjective" in token.forms:
        heads = []
    else:
        heads = acted(row, n) or left or right
    if any(t.kind == "act" and t.concept == "lose" for t in row) and token.kind == "way" and "lose" not in heads and _lost_of(row, heads):
        heads = [*heads, "lose"]
    alone = not heads and not any(t.kind in NAMING for t in row[:n])
    borrowed = not heads and not (alone and any(t.kind == "pronoun" for t in row))
    carried = base.carried_heads if alone else frozenset()
    return replace(base, kind="way", way=way, heads=frozenset(heads) or carried, carried_heads=carried, borrowed=borrowed)


def _lost_of(row: Sequence[Token], heads: Sequence[str]) -> bool:
    """Whether what is less or more is what is lost: "less power is lost", not "the current is less, so power is lost"."""
    lost = next(n for n, t in enumerate(row) if t.kind == "act" and t.concept == "lose")
    return any(t.concept in heads for t in row[max(0, lost - 3) : lost + 4])


def levels() -> frozenset[str]:
    level = thesaurus().level
    return level["up"] | level["down"]


def of_named_way(row: Sequence[Token], n: int) -> bool:
    """The second word of "heats up less"."""
    return n > 0 and row[n - 1].kind == "named way" and row[n].kind == "way" and n + 1 >= len(row) - 1 and not right_names(row, n)


def _named_way(base: Claim, row: Sequence[Token], n: int, way: str) -> Claim:
    """ "Faster", "heats up", or with its own word of degree "heats up less"."""
    quantity = row[n].senses[0][0]
    if quantity == "speed" and n and row[n - 1].kind == "way" and "verb" in row[n - 1].forms and (changed := left_names(row, n - 1)):
        return replace(base, kind="way", way=way, heads=frozenset(changed), words=base.words - {"speed"} | {"rate"})
    heads = {quantity, *verb_before(row, n)}
    if n + 1 < len(row) and of_named_way(row, n + 1):
        way, heads = row[n + 1].way, heads | ({"heat"} if quantity == "temperature" else set())
    return replace(base, kind="way", way=way, heads=frozenset(heads), named=frozenset((quantity,)))


def _counts(row: Sequence[Token]) -> bool:
    """Whether a number, a rate or a frequency of something is spoken of."""
    return any(t.text in thesaurus().counting and t.kind != "way" for t in row)


def _denied_way(token: Token) -> str:
    """What is not large is small; what is not larger need not be smaller."""
    for way, other in (("up", "down"), ("down", "up")):
        if token.way == way and token.text in thesaurus().level[way]:
            return other
    return {"steady": "changing", "changing": "steady"}.get(token.way, "not " + token.way)


def lost(base: Claim, row: Sequence[Token], n: int, senses: tuple[Sense, ...]) -> Claim:
    """ "Loses energy" and "energy is lost" are energy, down; gains, up."""
    name, sign = senses[0]
    way = {("lose", 1): "down", ("gain", 1): "up"}.get((name, sign), "not down" if name == "lose" else "not up")
    heads = right_names(row, n) or left_names(row, n)
    return replace(base, kind="way", way=way, heads=frozenset(heads) or base.carried_heads)
