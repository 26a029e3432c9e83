"""The values of a model answer's letters: data of the question, constants, and what is found."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from marker.expression import Dimensions, Symbol, Unit
from marker.physics.units import parse_unit
from marker.scheme.draft.stem import Given, same_value
from marker.scheme.draft.working import Assigned, Written
from marker.scheme.lexicon import constants, kinds_of, quantity_kinds

SAME = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """The value of a letter in a part: where it is from ("stem", "working", "sheet" for a constant, "found"), and its text.

    line  of the model answer where it was seen first
    """

    letter: str
    si: float
    unit: Unit | None
    text: str
    source: str
    line: int

    @property
    def dimensions(self) -> Dimensions | None:
        return self.unit.dimensions if self.unit is not None else None


def letter_values(assigned: Sequence[Assigned], written: Sequence[Written], given: Sequence[Given]) -> dict[str, Value]:
    """One value a letter. A value of the question is a datum however it came up; a value worked out is found."""
    out: dict[str, Value] = {}
    subjects: dict[str, int] = {}
    for e in written:
        if isinstance(e.left, Symbol):
            subjects.setdefault(e.left.name, e.line)
    for letter in dict.fromkeys(a.letter for a in assigned):
        mine = [a for a in assigned if a.letter == letter]
        valued = [a for a in mine if math.isfinite(a.si)]
        if valued:
            out[letter] = _value(letter, valued, len(valued) < len(mine), subjects, given)
    return out


def _value(letter: str, mine: Sequence[Assigned], towards: bool, subjects: Mapping[str, int], given: Sequence[Given]) -> Value:
    """The value of one letter from all that it is given. `towards`: it stands in working before it has a value."""
    best = _best(mine)
    if best.si == 0:
        return nought(letter, best.line, best.unit)
    constant = _constant(letter, mine, subjects)
    if constant is not None:
        return constant
    by_working = any(a.worked for a in mine)
    stem = in_stem(mine, given, letter) if not any(a.worked and not a.put_in for a in mine) or letter not in subjects else None
    if stem is None and not by_working:
        stem = in_stem(mine, given, letter)
    before = any(not a.worked and not a.put_in and a.line < subjects.get(letter, -1) for a in mine)
    worked = towards or by_working or (letter in subjects and not best.put_in and not before)
    if stem is not None and (letter not in subjects or not by_working):
        sign = -1 if best.si < 0 < stem.si else 1
        text = stem.text if sign > 0 else f"-{stem.text}"
        return Value(letter=letter, si=sign * stem.si, unit=stem.unit, text=text, source="stem", line=best.line)
    source = "found" if worked else "working"
    return Value(letter=letter, si=best.si, unit=best.unit, text=_text(best), source=source, line=best.line)


def nought(letter: str, line: int, unit: Unit | None = None) -> Value:
    """A start from rest, the origin: nought in the unit the letter usually has. It is given, never what is sought."""
    stem = letter.partition("_")[0].rstrip("0123456789'")
    if unit is None:
        kinds = [k for k in quantity_kinds() if letter in k.letters] or [k for k in quantity_kinds() if stem in k.letters]
        if kinds and len({k.dimensions for k in kinds}) == 1:
            unit = unit_of(kinds[0].unit)
    return Value(letter=letter, si=0.0, unit=unit, text=f"0 {unit.name}" if unit is not None else "0", source="working", line=line)


def _best(mine: Sequence[Assigned]) -> Assigned:
    """The value as finally stated: the last that is written out with its unit, before one seen only in a substitution."""
    stated = [a for a in mine if not a.put_in]
    with_unit = [a for a in stated if a.unit is not None]
    return (with_unit or stated or [a for a in mine if a.unit is not None] or list(mine))[-1]


def in_stem(mine: Sequence[Assigned], given: Sequence[Given], letter: str = "") -> Given | None:
    """The value of the question that a letter is given: with its unit, else the bare number in SI or as printed."""
    for a in mine:
        half = abs(a.number.half * (a.unit.scale if a.unit else 1.0))
        dims = a.unit.dimensions if a.unit is not None else None
        found = [g for g in given if (g.unit is None) == (a.unit is None) and same_value(g, a.si, dims, half)]
        if not found and a.unit is None:
            found = [g for g in given if g.unit is not None and (close(abs(g.si), abs(a.si), 2e-3) or abs(g.raw) == abs(a.number.value))]
        if found:
            return next((g for g in found if letter and g.dimensions and kinds_of(letter, g.dimensions)), found[0])
    return None


def _text(a: Assigned) -> str:
    number = a.number.text.replace("−", "-")
    if a.unit is None:
        return number
    if a.unit.name == "°":
        return f"{number}°"
    return f"{number} {a.unit.name}"


def _constant(letter: str, mine: Sequence[Assigned], subjects: Iterable[str]) -> Value | None:
    """A constant of the data sheet: its letter with one of its accepted values, never worked out here."""
    row = next((c for c in constants() if c.symbol == letter or letter in c.letters), None)
    if row is None or letter in subjects or any(a.worked for a in mine):
        return None
    a = _best(mine)
    if any(
        abs(abs(a.si) - float(v)) <= max(5e-3 * abs(float(v)), abs(a.number.half * (a.unit.scale if a.unit else 1.0))) for v in row.values
    ):
        text = _text(a).lstrip("-") if a.unit is not None else f"{a.number.text.lstrip('-')} {row.unit}".strip()
        return Value(letter=letter, si=abs(a.si), unit=a.unit or unit_of(row.unit), text=text, source="sheet", line=a.line)
    return None


def unit_of(text: str) -> Unit | None:
    found = parse_unit(text) if text else ()
    return found[0][0] if found else None


def close(a: float, b: float, by: float = SAME) -> bool:
    return abs(a - b) <= by * max(abs(a), abs(b))
