"""Which idea a "not", "no" or "zero" denies.

not + verb or adjective   the first word after it that has an opposite, else the next idea: "not in the same path" denies same
no + noun                 the noun it stands before, or the describing word that has an opposite: "no closed path" denies closed
… is zero                 the idea just before it
A verb that only says something is there hands its denial on: "no current flows" and "the current does not flow" both deny current.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.kinds.written.model import Item, Role

_FENCES = frozenset(("and", "or", ",", "but", "with", "("))


def deny(items: Sequence[Item], polar: frozenset[str]) -> tuple[Item, ...]:
    """The items of one clause with the signs of what is denied turned round. Denying words stay, as they were."""
    row = list(items)
    denied: set[int] = set()
    for here, item in enumerate(items):
        target = _target(row, here, item.role, polar, denied)
        if target is not None:
            row[target] = replace(row[target], sign=-row[target].sign)
            denied.add(target)
        elif item.role is Role.PREDICATE:
            row[here] = replace(item, role=Role.MENTION, concept="nothing")
    return tuple(row)


def _target(row: Sequence[Item], here: int, role: Role, polar: frozenset[str], denied: set[int]) -> int | None:
    if role is Role.ADVERB:
        return _after_not(row, here, polar)
    if role is Role.ARTICLE:
        return _after_no(row, here, polar)
    if role is Role.PREDICATE:
        before = _before(row, here)
        return before if before is not None and before not in denied else None
    return None


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


def _after_no(row: Sequence[Item], here: int, polar: frozenset[str]) -> int | None:
    run: list[int] = []
    for n in range(here + 1, len(row)):
        item = row[n]
        if item.role is Role.MENTION:
            run.append(n)
        elif run or item.role not in (Role.FUNCTION, Role.LABEL):
            break
    for n in run:
        if row[n].concept in polar:
            return n
    return run[-1] if run else None


def _before(row: Sequence[Item], here: int) -> int | None:
    """The nearest idea before, not beyond an "and"; failing that the subject the clause began with ("… and it is zero")."""
    for n in range(here - 1, -1, -1):
        if row[n].role is Role.MENTION:
            return n
        if row[n].concept in _FENCES:
            break
    return next((n for n in range(here) if row[n].role is Role.MENTION), None)
