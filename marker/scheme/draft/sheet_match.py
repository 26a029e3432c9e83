"""The relationship of the sheets that an equation is, whatever letters it is written in."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from marker.expression import NO_DIMENSIONS, Dimensions, Expr, Number, put, symbols
from marker.physics.evaluate import Unknown, compiled, same_dimensions
from marker.physics.system import agrees, near_root
from marker.reading import read_relation
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.lexicon import constants, quantity_kinds, unit_dimensions
from marker.scheme.sheets import SheetRelationship, sheet_relationships

_MOST_TRIES = 240
_PROBES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetForm:
    """A row of a sheet with its equation read: letters -> dimensions (None where the row says nothing)."""

    row: SheetRelationship
    left: Expr
    right: Expr
    letters: Mapping[str, Dimensions | None]


@cache
def _forms() -> Mapping[int, tuple[SheetForm, ...]]:
    """Sheet relationships by how many letters they have."""
    kinds = {k.name: k.dimensions for k in quantity_kinds()}
    units = {c.symbol: unit_dimensions(c.unit) for c in constants()}
    out: dict[int, list[SheetForm]] = {}
    for row in sheet_relationships():
        names = {**{s: kinds.get(q) for s, q in row.quantities.items()}, **{s: units.get(s) for s in row.constants}}
        try:
            reading = read_relation(row.equation, SymbolTable(tuple(SymbolEntry(name=n) for n in names)))
        except ValueError:
            continue
        if len(reading.sides) == 2:
            form = SheetForm(row=row, left=reading.sides[0], right=reading.sides[1], letters=names)
            out.setdefault(len(names), []).append(form)
    return {n: tuple(forms) for n, forms in out.items()}


def sheet_of(left: Expr, right: Expr, values: Mapping[str, float], dimensions: Mapping[str, Dimensions | None]) -> SheetRelationship | None:
    """The sheet relationship that an equation is, rearranged or not, in whatever letters; None when it is none.

    values      a value in SI of each letter, at which (about) the equation holds;  dimensions  of letters where known
    """
    every = sorted((symbols(left) | symbols(right)) - {"π"})
    if not 1 < len(every) <= 10 or any(n not in values for n in every):
        return None
    found = _matched((left, right), every, values, dimensions)
    if found is None and any(values[n] == 0 for n in every):
        nought: dict[str, Expr] = {n: Number(text="0", value=0.0) for n in every if values[n] == 0}
        rest = [n for n in every if n not in nought]
        found = _matched((put(left, nought), put(right, nought)), rest, values, dimensions) if len(rest) > 1 else None
    return found


def _matched(
    equation: tuple[Expr, Expr], letters: list[str], values: Mapping[str, float], dimensions: Mapping[str, Dimensions | None]
) -> SheetRelationship | None:
    """The row an equation is, its letters all counted."""
    probes = tuple(_probes(equation, letters, values))
    if len(probes) < _PROBES:
        return None
    best: tuple[int, SheetRelationship] | None = None
    for form in _forms().get(len(letters), ()):
        for mapping in _mappings(form, letters, dimensions):
            if all(_holds(form, mapping, p) for p in probes):
                alike = sum(2 * (s == n) + (s[:1] == n[:1]) for s, n in mapping.items())
                if best is None or alike > best[0]:
                    best = (alike, form.row)
                break
    return None if best is None else best[1]


def _probes(equation: tuple[Expr, Expr], letters: list[str], values: Mapping[str, float]) -> Iterator[dict[str, float]]:
    """Points near the values at which the equation holds exactly."""
    rng = random.Random(",".join(letters))
    for _ in range(4 * _PROBES):
        point = {n: (values[n] or rng.uniform(0.5, 2.0)) * rng.uniform(0.8, 1.25) for n in letters}
        for name in letters:
            root = near_root(equation, name, point, point[name])
            if root is not None and root and 0.02 < abs(root / point[name]) < 50:
                yield {**point, name: root}
                break


def _mappings(form: SheetForm, letters: list[str], dimensions: Mapping[str, Dimensions | None]) -> Iterator[dict[str, str]]:
    """Ways to give the sheet's letters the equation's, of one kind each; like letters first. At most 240."""
    wanted = sorted(form.letters, key=lambda s: (s not in letters, s))
    count = 0

    def place(index: int, chosen: dict[str, str]) -> Iterator[dict[str, str]]:
        nonlocal count
        if count >= _MOST_TRIES:
            return
        if index == len(wanted):
            count += 1
            yield dict(chosen)
            return
        symbol = wanted[index]
        free = sorted((n for n in letters if n not in chosen.values()), key=lambda n: (n != symbol, n[:1] != symbol[:1], n))
        for name in free:
            if _of_one_kind(form.letters[symbol], dimensions.get(name), name):
                yield from place(index + 1, {**chosen, symbol: name})

    yield from place(0, {})


@cache
def _usual(letter: str) -> tuple[Dimensions, ...]:
    """What a letter may usually be."""
    stem = letter.partition("_")[0].rstrip("0123456789'")
    found = [k.dimensions or NO_DIMENSIONS for k in quantity_kinds() if letter in k.letters or stem in k.letters]
    found += [d for c in constants() if letter in (c.symbol, *c.letters) and (d := unit_dimensions(c.unit)) is not None]
    return tuple(dict.fromkeys(found))


def _of_one_kind(a: Dimensions | None, b: Dimensions | None, letter: str = "") -> bool:
    """Whether a letter of those dimensions may stand for the sheet's; one without a unit goes by what it usually is."""
    if b is None:
        usual = _usual(letter) if letter else ()
        return (
            not usual or (a is not None and any(same_dimensions(a, u) for u in usual)) or (a is None and any(not any(u[:7]) for u in usual))
        )
    return same_dimensions(a, b) if a is not None else not any(b[:7])


def _holds(form: SheetForm, mapping: Mapping[str, str], point: Mapping[str, float]) -> bool:
    return agrees((form.left, form.right), {s: point[n] for s, n in mapping.items()})


def found_by_value(
    find: float, dimensions: Dimensions | None, data: Mapping[str, tuple[float, Dimensions | None]]
) -> tuple[SheetRelationship, dict[str, str], str] | None:
    """A sheet relationship that gives a value from the data when the model answer names none: (row, its letters -> ours, letter sought).

    Only a relationship that uses every datum is taken, and only if no other does as well.
    """
    accepted = {c.symbol: float(c.values[0]) for c in constants()}
    hits: list[tuple[SheetRelationship, dict[str, str], str]] = []
    for count in range(2, 7):
        for form in _forms().get(count, ()):
            hit = _gives(form, find, dimensions, data, accepted)
            if hit is not None:
                hits.append((form.row, *hit))
    names = {h[0].name for h in hits}
    return hits[0] if len(names) == 1 else None


def _gives(
    form: SheetForm,
    find: float,
    dimensions: Dimensions | None,
    data: Mapping[str, tuple[float, Dimensions | None]],
    accepted: Mapping[str, float],
) -> tuple[dict[str, str], str] | None:
    fixed = {s: accepted[s] for s in form.row.constants if s in accepted}
    free = [s for s in form.letters if s not in fixed]
    if len(free) != len(data) + 1:
        return None
    kinds = {n: d for n, (_, d) in data.items()}
    for sought in free:
        if not _of_one_kind(form.letters[sought], dimensions):
            continue
        rest = SheetForm(row=form.row, left=form.left, right=form.right, letters={s: form.letters[s] for s in free if s != sought})
        for mapping in _mappings(rest, sorted(data), kinds):
            env = {**fixed, **{s: data[n][0] for s, n in mapping.items()}, sought: find}
            try:
                a, b = compiled(form.left)(env), compiled(form.right)(env)
            except (Unknown, ValueError, ZeroDivisionError, OverflowError, KeyError):
                continue
            if abs(a - b) <= 0.01 * max(abs(a), abs(b)):
                return mapping, sought
    return None
