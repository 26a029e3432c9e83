"""How two quantities go together in a response: "as the mass goes up the reading rises", "V = km", "so", "because".

A scheme names a relation between Y and X, Y depending on X. What is found is FOUND, OPPOSITE (the other way about), or NONE.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum, auto

from marker.kinds.written.change import changes
from marker.kinds.written.model import Clause, Item, Prose, Role


class Link(Enum):
    FOUND = auto()
    OPPOSITE = auto()
    NONE = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Relation:
    """kind: "increases with", "decreases with", "proportional", "inverse", "equals", "because of", "zero with"."""

    kind: str
    y: str
    x: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    link: Link
    lines: tuple[int, ...] = ()
    words: str = ""


NOTHING = Found(link=Link.NONE)


def relate(prose: Prose, relation: Relation, stated: Mapping[str, int]) -> Found:
    """What the response says of the relation. `stated` holds changes the question itself states: quantity -> +1 or -1."""
    match relation.kind:
        case "increases with" | "decreases with":
            return _together(prose, relation, stated, 1 if relation.kind == "increases with" else -1)
        case "proportional" | "inverse":
            return _formula(prose, relation)
        case "equals":
            return _equals(prose, relation)
        case "because of":
            return _because(prose, relation)
        case "zero with":
            return _zero(prose, relation)
    return NOTHING


def _together(prose: Prose, relation: Relation, stated: Mapping[str, int], wanted: int) -> Found:
    quantities = frozenset((relation.y, relation.x))
    results: list[Found] = []
    for clauses in (*prose.sentences, prose.clauses):
        said = changes(clauses, quantities, relation.y)
        y = said.get(relation.y)
        x_way = said[relation.x][0] if relation.x in said else stated.get(relation.x)
        if y is None or x_way is None:
            continue
        evidence = [y[1], *([said[relation.x][1]] if relation.x in said else [])]
        link = Link.FOUND if y[0] * x_way == wanted else Link.OPPOSITE
        results.append(Found(link=link, lines=_lines(evidence), words=prose.quote([*evidence, *_named(clauses, relation)])))
    return _settle(results)


def _named(clauses: Iterable[Clause], relation: Relation) -> list[Item]:
    """The first mention of each quantity."""
    found = {i.concept: i for c in reversed(tuple(clauses)) for i in reversed(c.mentions) if i.concept in (relation.y, relation.x)}
    return list(found.values())


def _settle(results: Sequence[Found]) -> Found:
    """The other way about anywhere in the response is not made good by the right way elsewhere."""
    return next((r for r in results if r.link is Link.OPPOSITE), next(iter(results), NOTHING))


def _lines(items: Iterable[Item]) -> tuple[int, ...]:
    return tuple(sorted({i.line for i in items}))


def _formula(prose: Prose, relation: Relation) -> Found:
    """Y = k X or Y/X = k for proportional; Y = k/X or Y X = k for inverse."""
    results = []
    for clause in prose.clauses:
        for kind, items in _equations(clause, relation):
            link = Link.FOUND if kind == relation.kind else Link.OPPOSITE
            results.append(Found(link=link, lines=_lines(items), words=prose.quote(items)))
    return _settle(results)


def _equations(clause: Clause, relation: Relation) -> Iterable[tuple[str, Sequence[Item]]]:
    row = [i for i in clause.items if i.role is not Role.FUNCTION and not (i.concept == "inverse" and i.stems == "∝")]
    for here, item in enumerate(row):
        if item.stems not in ("=", "∝"):
            continue
        start = next((n + 1 for n in range(here - 1, -1, -1) if row[n].stems in ("=", "∝", ",")), 0)
        end = next((n for n in range(here + 1, len(row)) if row[n].stems in ("=", "∝", ",")), len(row))
        left, right = _powers(row[start:here], relation), _powers(row[here + 1 : end], relation)
        if left is None or right is None or not right or not left:
            continue
        y, x = left.get("y", 0) - right.get("y", 0), right.get("x", 0) - left.get("x", 0)
        proportional_to_number = item.stems == "∝" or left.get("k") or right.get("k")
        if y and proportional_to_number and abs(y) == abs(x) == 1:
            yield ("proportional" if x == y else "inverse"), row[start:end]


def _powers(side: Sequence[Item], relation: Relation) -> dict[str, int] | None:
    """Powers of y, x and other factors k in a product or quotient; None when it is something else."""
    found: dict[str, int] = {}
    sign = 1
    for item in side:
        if item.role is Role.SIGN:
            if item.concept not in "×/":
                return None
            sign = -1 if item.concept == "/" else sign
            continue
        if item.sign < 0:
            return None
        name = {relation.y: "y", relation.x: "x"}.get(item.concept, "k")
        if name == "k" and item.role is Role.MENTION and len(item.concept) > 1 and item.concept not in ("constant", "steady", "number"):
            return None
        found[name] = found.get(name, 0) + (sign if name != "k" else 1)
    return found


def _equals(prose: Prose, relation: Relation) -> Found:
    results = []
    for clause in prose.clauses:
        concepts = {i.concept for i in clause.mentions}
        if not {relation.y, relation.x} <= concepts:
            continue
        same = next((i for i in clause.mentions if i.concept == "sam"), None)
        sign = next((i for i in clause.items if i.role is Role.SIGN and i.concept == "="), None)
        unequal = next((i for i in clause.mentions if i.concept in ("up", "down") and i.sign > 0), None)
        item = same or sign or unequal
        if item is not None:
            link = Link.FOUND if (same and same.sign > 0) or (not same and sign) else Link.OPPOSITE
            results.append(Found(link=link, lines=(item.line,), words=prose.quote([item, *_named((clause,), relation)])))
    return _settle(results)


def _because(prose: Prose, relation: Relation) -> Found:
    """Y because X, X so Y, X causes Y."""
    results = []
    for sentence in prose.sentences:
        y = next((n for n, c in enumerate(sentence) if any(i.concept == relation.y for i in c.mentions)), None)
        x = next((n for n, c in enumerate(sentence) if any(i.concept == relation.x for i in c.mentions)), None)
        if y is None or x is None or y == x:
            continue
        later = sentence[max(x, y)]
        if not later.link or later.link == "plain":
            continue
        right = (later.link == "forward") == (y > x)
        items = [i for c in (sentence[x], sentence[y]) for i in c.mentions]
        results.append(Found(link=Link.FOUND if right else Link.OPPOSITE, lines=_lines(items), words=prose.quote(items)))
    return _settle(results)


def _zero(prose: Prose, relation: Relation) -> Found:
    """Both said to be zero: "no mass, no reading"."""
    for sentence in prose.sentences:
        zero = [i for c in sentence for i in c.mentions if i.sign < 0 and i.concept in (relation.y, relation.x)]
        if {i.concept for i in zero} >= {relation.y, relation.x}:
            return Found(link=Link.FOUND, lines=_lines(zero), words=prose.quote(zero))
    return NOTHING
