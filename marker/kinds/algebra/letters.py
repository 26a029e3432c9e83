"""A part without data made ready: its relationships, and values drawn for its letters so that statements can be probed."""

from __future__ import annotations

import math
import random
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, islice, product

from pydantic import Field

from marker.expression import Dimensions, Symbol
from marker.judging.families import stem
from marker.kinds.algebra.solved import under_one_root
from marker.kinds.base import PartSpec, Texts
from marker.kinds.marking import question_of
from marker.physics.system import Relation, System, Unsolvable, agrees, solved_system
from marker.reading import read_quantity
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.calculation import CalculationPart
from marker.scheme.compiled import CompiledCalculation, Datum, Goal
from marker.scheme.convention import Convention
from marker.scheme.lexicon import quantity_kinds
from marker.scheme.part_data import datum_of
from marker.scheme.part_relations import angles_inside, letters_of, relation_of
from marker.scheme.part_table import table_of
from marker.scheme.surroundings import problem

LONGEST_LETTER = 3
_OF_GRAPHS = frozenset({"gradient", "slope", "intercept"})  # what m and c are on a graph and in no formula
MOST_CHOICES = 24
DRAWS = 6


class LettersSpec(PartSpec):
    """Keys of a part worked in letters.

    using    the relationships it starts from: equations, or names from the relationship sheets
    also     definitions that may be used without being stated ("p = m*v")
    names    symbol -> words or other letters candidates may use for it
    given    a value that makes a special case: θ = "90°", u = "0 m/s"
    """

    using: Texts = Field(min_length=1)
    also: Texts = Field(default_factory=list)
    names: dict[str, Texts] = Field(default_factory=dict)
    given: dict[str, str] = Field(default_factory=dict)


def in_letters(spec: LettersSpec, subject: str, further: Sequence[str], convention: Convention) -> CompiledCalculation:
    """The part as judging wants it, with invented values of its letters and no datum but a special case.

    subject   the letter sought;  further  equations whose letters belong to the part though they are no start of it
    Raises SchemeError with the key and the mend.
    """
    where = f"part {spec.name}"
    plain = CalculationPart(
        name=spec.name, marks=spec.marks, stem=spec.stem, find=subject, using=spec.using, also=spec.also, names=spec.names, given=spec.given
    )
    letters = letters_of(plain, [*spec.using, *further], spec.also)
    table = SymbolTable(tuple(SymbolEntry(name=n) for n in letters))
    starts = [relation_of(t, table, where, "using") for t in spec.using]
    relations = [*starts, *(relation_of(t, table, where, "also", True) for t in spec.also)]
    for text in further:
        _only_known(relation_of(text, table, where, "target"), relations, where)
    data = {s: datum_of(s, t, where) for s, t in spec.given.items()}
    angles = angles_inside(relations) | {s for s, t in spec.given.items() if _is_angle(t)}
    relations, system = _independent(relations, len(starts), data, subject, frozenset(angles), where)
    plain = plain.model_copy(update={"names": _with_words(spec.names, system.base)})
    dimensions = _one_kind_each(system)
    everything = frozenset(range(len(relations)))
    goal = Goal(
        find=subject,
        value=system.base[subject],
        accept=None,
        figures=3,
        shown=None,
        shown_text="",
        unit=None,
        points=(),
        relations=everything,
    )
    return CompiledCalculation(
        name=spec.name,
        question=question_of(spec),
        marks=float(spec.marks),
        convention=convention,
        table=table_of(plain, system, data, dict.fromkeys(system.base), frozenset(angles), {}),
        system=system,
        data=data,
        goals=(goal,),
        carry={},
        dimensions=dimensions,
        units=dict.fromkeys(system.base),
        angles=frozenset(angles),
        helpers=frozenset(range(len(starts), len(relations))),
        stem=spec.stem,
    )


def _with_words(names: Mapping[str, list[str]], letters: Iterable[str]) -> dict[str, list[str]]:
    """The scheme's names with the words physics has for each letter, those that only one letter of the part could mean:
    "current = √(power/resistance)". What the letters stand for is not known here, so every use of a letter counts."""
    taken = {word.casefold() for given in names.values() for word in given}
    owners: dict[str, set[str]] = {}
    for name in letters:
        for kind in quantity_kinds():
            if name in kind.letters:
                for word in (w for w in kind.words if not _OF_GRAPHS & set(w.split())):
                    owners.setdefault(word, set()).add(name)
    found = {name: list(given) for name, given in names.items()}
    for word, by in owners.items():
        if len(by) == 1 and len(word) > LONGEST_LETTER and word.casefold() not in taken:
            found.setdefault(next(iter(by)), []).append(word)
    return found


def _is_angle(text: str) -> bool:
    unit = read_quantity(text).unit
    return unit is not None and bool(unit.dimensions[7])


def _only_known(target: Relation, relations: Sequence[Relation], where: str) -> None:
    known = frozenset[str]().union(*(r.letters for r in relations))
    loose = sorted(target.letters - known)
    if loose:
        raise problem(
            where,
            "target",
            f"{', '.join(loose)} stands in no relationship of using",
            f"letters of {', '.join(sorted(known))}",
            "Add the relationship that brings it in.",
        )


def _one_kind_each(system: System) -> dict[str, Dimensions | None]:
    """A dimension of its own for each letter and its numbered fellows, so that none is taken for another of its kind."""
    stems = {s: i for i, s in enumerate(dict.fromkeys(stem(n) for n in system.base))}
    return {n: (100.0 + stems[stem(n)], *(0.0,) * 7) for n in system.base}


# ---- values ------------------------------------------------------------------------------------------------------------


def _independent(
    relations: list[Relation], starts: int, data: Mapping[str, Datum], subject: str, angles: frozenset[str], where: str
) -> tuple[list[Relation], System]:
    """The relationships and their values, without definitions that say nothing the others do not say: v = ωr beside v = 2πr/T and
    ω = 2π/T. What they say stays true."""
    system = _with_values(relations, data, subject, angles, where)
    if system is not None:
        return relations, system
    letters = frozenset[str]().union(*(r.letters for r in relations))
    spare = range(starts, len(relations))
    for gone in (g for size in (1, 2) for g in combinations(spare, size)):
        kept = [r for i, r in enumerate(relations) if i not in gone]
        if frozenset[str]().union(*(r.letters for r in kept)) != letters:
            continue
        system = _with_values(kept, data, subject, angles, where)
        if system is not None and all(system.support(relations[i].equation) is not None for i in gone):
            return kept, system
    raise problem(where, "using", *_at_odds(relations, starts, data, subject, angles, where))


def _at_odds(
    relations: Sequence[Relation], starts: int, data: Mapping[str, Datum], subject: str, angles: frozenset[str], where: str
) -> tuple[str, str, str]:
    """(seen, expected, mend) where the relationships have no values: one says what the others say, or they contradict each other."""
    for index in reversed(range(starts)):
        rest = [r for i, r in enumerate(relations) if i != index]
        if not any(subject in r.letters for r in rest):
            continue
        system = _with_values(rest, data, subject, angles, where)
        if system is not None and system.support(relations[index].equation) is not None:
            shown = relations[index].shown
            mend = f"Leave {shown} out of using; it counts as true all the same."
            return f"{shown} follows from the others", "starting relationships of which none follows from the others", mend
    return "these relationships cannot all hold together", "", "Check the equations, one by one."


def _with_values(
    relations: Sequence[Relation], data: Mapping[str, Datum], subject: str, angles: frozenset[str], where: str
) -> System | None:
    """The relationships with values for their letters: all of them positive where that can be, so that roots and signs are plain.
    None where they have none, or where one follows from the others."""
    letters = frozenset[str]().union(*(r.letters for r in relations))
    if subject not in letters:
        raise problem(where, "using", f"{subject} stands in none of the relationships", mend="Add the one that brings it in.")
    fixed = {s: d.si for s, d in data.items()}
    rng = random.Random(" ".join(r.name for r in relations))
    spare: System | None = None
    for found in islice(_dependent(relations, subject, letters - fixed.keys()), MOST_CHOICES):
        free = sorted(letters - fixed.keys() - found)
        for _ in range(DRAWS):
            drawn = {n: rng.uniform(0.3, 1.1) if n in angles else rng.uniform(0.6, 2.4) for n in free}
            system = _solved(relations, {**fixed, **drawn}, angles, letters)
            if system is None:
                continue
            if all(v > 0 for n, v in system.base.items() if n not in fixed):
                return system
            spare = spare or system
    return spare


def _dependent(relations: Sequence[Relation], subject: str, letters: frozenset[str]) -> Iterator[frozenset[str]]:
    """Choices of one letter of each relationship that the others fix, the likeliest first; a relationship too many has none."""
    options = [_likeliest(r, r.letters & letters, subject) for r in relations]
    most = min(len(relations), len(letters))
    chosen = (frozenset(c) for c in product(*(o or [""] for o in options)) if "" not in c and subject in c)
    yield from (c for c in islice(chosen, 2_000) if len(c) == most)


def _likeliest(relation: Relation, letters: frozenset[str], subject: str) -> list[str]:
    """The subject first, then the letter the relationship is solved for."""
    return sorted(letters, key=lambda n: (n != subject, relation.left != Symbol(name=n, known=True), n))


def _solved(relations: Sequence[Relation], values: Mapping[str, float], angles: frozenset[str], letters: frozenset[str]) -> System | None:
    try:
        system = solved_system(relations, values, angles=angles, wanted=letters)
    except Unsolvable:
        return None
    good = all(math.isfinite(v) and (v or n in values) for n, v in system.base.items())
    if not good or not all(agrees(r.equation, system.base) for r in relations):
        return None
    return _plainly_written(system) if system.points(system.everything) else None


def _plainly_written(system: System) -> System:
    """Closed forms with one root over the whole, √(2E/m), where they are the same as √2·√(E/m)."""
    steps = tuple(replace(s, trees=tuple(under_one_root(t, system.base) for t in s.trees)) for s in system.steps)
    return replace(system, steps=steps)
