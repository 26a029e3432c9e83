"""Which quantity a word of change belongs to: "the mass goes up", "a greater mass", "the mass and the reading both rise"."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from marker.kinds.written.model import Clause, Item, Role

_WAYS = {"up": 1, "twice": 1, "down": -1, "half": -1, "steady": 0}
_BOUND = frozenset(("up", "down", "steady"))
_COMPARES = {"up": "greater_than", "down": "less_than"}
COMPARISONS = frozenset(("greater_than", "less_than"))
_ADJECTIVES = frozenset(
    ["more", "greater", "larger", "bigger", "higher", "stronger", "less", "smaller", "lower", "fewer", "weaker", "extra", "additional"]
)
_BESIDE = frozenset(["the", "of", "in", "a", "an", "its", "this", "that", "their", "amount", "on", "any"])
_TOGETHER = frozenset(("and", ",", "both"))


def bind(items: Sequence[Item], quantities: frozenset[str]) -> tuple[Item, ...]:
    """The items of a clause, each word of change with the quantity it belongs to, and what stands before and after from, to and than."""
    found: dict[str, object] = {}
    row = list(items)
    compared = any(i.concept == "than" for i in items)
    for here, item in enumerate(items):
        if item.role is Role.MENTION and item.concept in _BOUND:
            names = _described(items, here) or _whose(items, here, quantities, found, "") or _noun_before(items, here)
            found.update(dict.fromkeys(names))
            comparison = _COMPARES.get(item.concept, item.concept) if compared else item.concept
            row[here] = replace(item, concept=comparison, of=names[0] if names else "")
        elif item.concept in COMPARISONS:
            names = _whose(items, here, quantities, {}, "") if here else ()
            row[here] = replace(item, of=(names or _noun_before(items, here) or ("",))[0])
    return _placed(row)


def inherit(clauses: Iterable[Clause], quantities: frozenset[str]) -> tuple[Clause, ...]:
    """Words of change without a quantity in their own clause take the subject before: "The current rises. Then it falls." """
    subject, made = "", []
    for clause in clauses:
        row = [replace(i, of=subject) if i.concept in _BOUND and not i.of else i for i in clause.items]
        subject = next((i.concept for i in row if i.role is Role.MENTION and i.concept in quantities), subject)
        made.append(replace(clause, items=tuple(row)))
    return tuple(made)


def _placed(items: Sequence[Item]) -> tuple[Item, ...]:
    """Which side of "from … to …" or of a comparison each idea stands on; "" where neither is in the clause."""
    words = {i.concept for i in items}
    if "from" in words:
        marks = {"from": "from", "to": "to"}
        side = ""
    elif words & {"than", *COMPARISONS}:
        marks = {"than": "after", **dict.fromkeys(COMPARISONS, "after")}
        side = "before"
    else:
        return tuple(items)
    row = []
    for item in items:
        # In "less energy than …" the sides part at "than", in "is below …" at the comparison itself.
        parts = item.concept in marks and not (item.concept in COMPARISONS and "than" in words)
        side = marks[item.concept] if parts else side
        row.append(replace(item, side=side) if item.role is Role.MENTION and item.concept not in COMPARISONS else item)
    return tuple(row)


def _described(items: Sequence[Item], here: int) -> tuple[str, ...]:
    """The noun an adjective stands before: "a weaker magnet", "more turns"."""
    after = items[here + 1] if here + 1 < len(items) else None
    if after is None or after.role is not Role.MENTION or after.concept in _BOUND:
        return ()
    return (after.concept,) if items[here].typed.lower() in _ADJECTIVES and after.at != items[here].at else ()


def _noun_before(items: Sequence[Item], here: int) -> tuple[str, ...]:
    """The nearest idea before, where no quantity is named: "the magnet is weaker"."""
    before = (i for i in reversed(items[:here]) if i.role is Role.MENTION and i.concept not in _BOUND)
    return tuple(i.concept for i in [next(before, None)] if i is not None)


def changes(clauses: Iterable[Clause], quantities: frozenset[str], implied: str = "") -> dict[str, tuple[int, Item]]:
    """Which way each quantity is said to go: +1, -1, 0 (steady). `implied` is what "it" stands for."""
    found: dict[str, tuple[int, Item]] = {}
    for clause in clauses:
        for here, item in enumerate(clause.items):
            if item.role is not Role.MENTION or item.concept not in _WAYS or (item.concept == "steady" and item.sign < 0):
                continue
            way = _WAYS[item.concept] if item.sign > 0 else 0
            for name in _whose(clause.items, here, quantities, found, implied):
                found.setdefault(name, (way, item))
        for name in _so_does(clause, quantities, found):
            found.setdefault(name, next(iter(found.values())))
    return found


def _whose(items: Sequence[Item], here: int, quantities: frozenset[str], found: Mapping[str, object], implied: str) -> tuple[str, ...]:
    """The quantities a word of change belongs to."""
    left = next((n for n in range(here - 1, -1, -1) if items[n].concept in quantities), None)
    right = next((n for n in range(here + 1, len(items)) if items[n].concept in quantities), None)
    word = items[here].typed.lower()
    describes = word in _ADJECTIVES or word.endswith("ing")
    if right is not None:
        between = {i.concept for i in items[here + 1 : right]}
        noun = here > 0 and items[here - 1].concept not in quantities and items[here + 1].concept in ("in", "of")
        if noun and between <= _BESIDE:
            return (items[right].concept,)
        open_left = left is None or items[left].concept in found or describes
        if between <= _BESIDE and (open_left or (describes and here == 0)):
            return (items[right].concept,)
        if left is not None and between & {"with", "proport", "proportional"}:
            return (items[left].concept, items[right].concept)
    if left is not None:
        return (items[left].concept, *_joined(items, left, quantities))
    if right is not None:
        return (items[right].concept,)
    others = [i for i in items if i.role is Role.MENTION and i.concept not in _WAYS]
    return (implied,) if implied and not others else ()


def _joined(items: Sequence[Item], left: int, quantities: frozenset[str]) -> tuple[str, ...]:
    """The other quantity in "the mass and the reading both increase"."""
    for n in range(left - 1, -1, -1):
        if items[n].concept in quantities:
            between = {i.concept for i in items[n + 1 : left]}
            return (items[n].concept,) if between & _TOGETHER and between <= _TOGETHER | _BESIDE else ()
    return ()


def _so_does(clause: Clause, quantities: frozenset[str], found: Mapping[str, object]) -> tuple[str, ...]:
    """The quantity of "so does the reading", "the reading does too"."""
    words = {i.typed.lower() for i in clause.items}
    changed = any(i.concept in _WAYS for i in clause.mentions)
    if not found or changed or not words & {"does", "do", "did", "will"} or any(i.sign < 0 for i in clause.mentions):
        return ()
    if clause.link != "forward" and not words & {"too", "also", "same", "so", "likewise"}:
        return ()
    return tuple(i.concept for i in clause.mentions if i.concept in quantities and i.concept not in found)
