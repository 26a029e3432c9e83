"""Which idea a "not", "no" or "zero" denies.

not + verb or adjective   the first word after it that has an opposite, else the next idea: "not in the same path" denies same
no + noun                 the noun with what describes it, or only the describing word that has an opposite: "no closed path" denies closed
… is zero                 the quantity before it, else the idea just before, with what describes it
A verb that only says something is there hands its denial on: "no current flows" and "the current does not flow" both deny current.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.kinds.written.model import Item, Role

_FENCES = frozenset(("and", "or", ",", "but", "with", "("))


def deny(items: Sequence[Item], polar: frozenset[str], quantities: frozenset[str]) -> tuple[Item, ...]:
    """The items of one clause with the signs of what is denied turned round. Denying words stay, as they were."""
    row = list(items)
    denied: set[int] = set()
    for here, item in enumerate(items):
        targets = [n for n in _targets(row, here, item.role, polar, quantities) if item.role is not Role.PREDICATE or n not in denied]
        for n in targets:
            row[n] = replace(row[n], sign=-row[n].sign)
        denied.update(targets)
        if not targets and item.role is Role.PREDICATE:
            row[here] = replace(item, role=Role.MENTION, concept="nothing")
    return tuple(row)


def _targets(row: Sequence[Item], here: int, role: Role, polar: frozenset[str], quantities: frozenset[str]) -> tuple[int, ...]:
    if role is Role.ADVERB:
        target = _after_not(row, here, polar)
        return () if target is None else (target,)
    if role is Role.ARTICLE:
        return _after_no(row, here, polar)
    if role is Role.PREDICATE:
        target = _quantity_before(row, here, quantities)
        target = _before(row, here) if target is None else target
        return () if target is None else _described(row, target, polar)
    return ()


def _described(row: Sequence[Item], head: int, polar: frozenset[str]) -> tuple[int, ...]:
    """A noun and the describing words right before it: "the resultant force"."""
    first = head
    while first > 0 and row[first - 1].role is Role.MENTION and row[first - 1].concept not in polar:
        first -= 1
    return tuple(range(first, head + 1))


def _after_not(row: Sequence[Item], here: int, polar: frozenset[str]) -> int | None:
    reach: list[int] = []
    for n in range(here + 1, len(row)):
        item = row[n]
        if item.existence and not reach:
            return _before(row, here)
        if item.role is Role.ADVERB or (item.concept in _FENCES and item.role in (Role.FUNCTION, Role.SIGN) and reach):
            break
        if item.role is Role.MENTION:
            reach.append(n)
    for n in reach[:4]:
        if row[n].concept in polar:
            return n
    if reach:
        return reach[0]
    return _before(row, here)


def _after_no(row: Sequence[Item], here: int, polar: frozenset[str]) -> tuple[int, ...]:
    run: list[int] = []
    for n in range(here + 1, len(row)):
        item = row[n]
        if item.role is Role.MENTION:
            run.append(n)
        elif run or item.role not in (Role.FUNCTION, Role.LABEL):
            break
    return next(((n,) for n in run if row[n].concept in polar), tuple(run))


def _quantity_before(row: Sequence[Item], here: int, quantities: frozenset[str]) -> int | None:
    """The nearest quantity before, not beyond an "and": in "the energy of the ball is zero" the energy, not the ball."""
    for n in range(here - 1, -1, -1):
        if row[n].role is Role.MENTION and row[n].concept in quantities:
            return n
        if row[n].concept in _FENCES:
            return None
    return None


def _before(row: Sequence[Item], here: int) -> int | None:
    """The nearest idea before, not beyond an "and"; failing that the subject the clause began with ("… and it is zero")."""
    for n in range(here - 1, -1, -1):
        if row[n].role is Role.MENTION:
            return n
        if row[n].concept in _FENCES:
            break
    return next((n for n in range(here) if row[n].role is Role.MENTION), None)
