"""The name of a fault: a row of rubrics/faults.toml that makes the candidate's wrong line from the right one.

A fault is named only when a working line agrees with it. Where several rows make the same line they are all
given, as what it may be; where none does, the general fault stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from string import Formatter

from marker.expression import NO_DIMENSIONS, Expr, Symbol, symbols
from marker.judging.known_faults import KnownFault, kinds_of_transform, known_faults
from marker.judging.lifting import near
from marker.judging.model import Evidence, Slip
from marker.judging.transforms import apply, givens_of
from marker.judging.values import nearly
from marker.physics.evaluate import Unknown, evaluate, same_dimensions, value_at
from marker.reading.writing import write_plain
from marker.results import FaultFound
from marker.scheme.compiled import CompiledCalculation, Datum

MOST_NAMES = 3
_GENERAL = frozenset({"wrong-relationship", "arithmetic", "wrong-rearrangement-of-symbols", "wrong-rearrangement-of-numbers"})


def named(part: CompiledCalculation, slip: Slip, evidence: Sequence[Evidence]) -> tuple[FaultFound, ...]:
    """A fault as it is told to the teacher and to the student; more than one when they cannot be told apart."""
    rows = _by_code()
    here = next((e for e in evidence if slip in e.slips), None)
    codes = _told_apart(_specific(part, slip, here)) or (slip.code,)
    return tuple(_told(part, slip, rows.get(code), code, sure=len(codes) == 1) for code in codes[:MOST_NAMES])


def named_in_letters(part: CompiledCalculation, slip: Slip, e: Evidence, right: str = "") -> tuple[FaultFound, ...]:
    """A fault of an equation in letters: the known rows that make it from a right expression, whichever way it was come by.

    right   what should stand there, for a fault that no row makes
    """
    rows = _by_code()
    found = dict(_of_expression(part, e)) if e.stated is not None else {}
    codes = _told_apart(tuple(found)) or (slip.code,)
    about = e.stated[0].name if e.stated is not None and isinstance(e.stated[0], Symbol) else ""
    told = {code: f"{about} = {write_plain(tree)}" for code, tree in found.items()}
    return tuple(_told(part, slip, rows.get(code), code, sure=len(codes) == 1, right=told.get(code, right)) for code in codes[:MOST_NAMES])


@lru_cache(maxsize=1)
def _by_code() -> Mapping[str, KnownFault]:
    return {row.code: row for row in known_faults()}


def _specific(part: CompiledCalculation, slip: Slip, e: Evidence | None) -> tuple[str, ...]:
    if slip.code == "unconverted":
        return _conversion(part, slip)
    if slip.code not in _GENERAL or e is None:
        return ()
    if slip.code == "arithmetic":
        return tuple(_of_value(part, e))
    return tuple(dict(_of_expression(part, e))) if e.stated is not None and not slip.code.startswith("wrong-rearrangement") else ()


def _told_apart(codes: Sequence[str]) -> tuple[str, ...]:
    """Of rows that are one error seen from two sides (the same number in the list), the first."""
    rows, kept, numbers = _by_code(), [], set()
    for code in codes:
        number = rows[code].number if code in rows else 0
        if not number or number not in numbers:
            kept.append(code)
            numbers.add(number)
    return tuple(kept)


def _fits(part: CompiledCalculation, row: KnownFault) -> bool:
    """The part holds the word that the row is about."""
    if not row.context:
        return True
    words = " ".join((*(n for e in part.table.entries for n in e.names), part.stem)).casefold()
    return row.context in words


def _conversion(part: CompiledCalculation, slip: Slip) -> tuple[str, ...]:
    """What kind of unit was left as it was: a temperature, a time, a length."""
    datum = part.data.get(slip.symbol)
    if datum is None or datum.unit is None:
        return ()
    if datum.unit.offset:
        return ("celsius-for-kelvin",)
    for code, dimensions in _KINDS_OF_UNIT.items():
        if same_dimensions(datum.unit.dimensions, dimensions):
            return (code,)
    return ()


_KINDS_OF_UNIT = {
    "length-unconverted": (1.0, *NO_DIMENSIONS[1:]),
    "time-unconverted": (0.0, 0.0, 1.0, *NO_DIMENSIONS[3:]),
    "speed-unconverted": (1.0, 0.0, -1.0, *NO_DIMENSIONS[3:]),
}


def _of_expression(part: CompiledCalculation, e: Evidence) -> Iterator[tuple[str, Expr]]:
    """Codes of the rows that turn a right expression for the quantity into the one written, each with that expression."""
    assert e.stated is not None
    points = part.system.points(part.system.everything) or ()
    subject, wrong = e.stated
    if not isinstance(subject, Symbol) or not points or not symbols(wrong):
        return
    written = [value_at(wrong, p) for p in points]
    seen: set[str] = set()
    for right in _right_expressions(part, subject.name):
        for code, trees in _wrong_forms(id(part), right, part):
            if code not in seen and any(near([value_at(t, p) for p in points], written) for t in trees):
                seen.add(code)
                yield code, right


def _right_expressions(part: CompiledCalculation, name: str) -> Iterator[Expr]:
    for relation in part.system.relations:
        if isinstance(relation.left, Symbol) and relation.left.name == name:
            yield relation.right
    for step in part.system.steps:
        for letter, tree in zip(step.letters, step.trees, strict=True):
            if letter == name:
                yield tree


@lru_cache(maxsize=512)
def _wrong_forms(key: int, right: Expr, part: CompiledCalculation) -> tuple[tuple[str, tuple[Expr, ...]], ...]:
    """For each fault that changes an expression: what it makes of this one."""
    givens, kinds = givens_of(part), kinds_of_transform()
    found = []
    for row in known_faults():
        if kinds.get(row.kind) == "expression" and row.code not in _GENERAL and _fits(part, row):
            trees = tuple(apply(row.transform, right, givens))
            if trees:
                found.append((row.code, trees))
    return tuple(found)


def _of_value(part: CompiledCalculation, e: Evidence) -> Iterator[str]:
    """Codes of the rows that turn the value of the working into the one typed."""
    if e.value is None or not e.about or e.about not in part.system.base:
        return
    typed = e.value
    seen: set[str] = set()
    for code, values in _wrong_values(part, e.about):
        if code not in seen and any(nearly(typed.si, v, typed.half) and abs(typed.si / v - 1) < 0.006 for v in values):
            seen.add(code)
            yield code


@lru_cache(maxsize=512)
def _wrong_values(part: CompiledCalculation, name: str) -> tuple[tuple[str, tuple[float, ...]], ...]:
    """For each right expression of a quantity and each fault of a value: what it makes of the value."""
    givens, kinds = givens_of(part), kinds_of_transform()
    rows = [
        row
        for row in known_faults()
        if row.family in ("arithmetic", "rounding") and row.code not in _GENERAL and kinds.get(row.kind) != "writing" and _fits(part, row)
    ]
    found = []
    for right in _right_expressions(part, name):
        for row in rows:
            values = (_value(tree, part) for tree in apply(row.transform, right, givens))
            found.append((row.code, tuple(v for v in values if v is not None)))
    return tuple(found)


def _value(tree: Expr, part: CompiledCalculation) -> float | None:
    value = value_at(tree, part.system.base)
    if value == value and value:
        return value
    try:
        return evaluate(tree).si or None
    except Unknown:
        return None


# --- the words ------------------------------------------------------------------------------------


def _told(part: CompiledCalculation, slip: Slip, row: KnownFault | None, code: str, *, sure: bool, right: str | None = None) -> FaultFound:
    line = slip.line or None
    if row is None:
        words = code.replace("-", " ")
        return FaultFound(code=code, line=line, teacher=words, student=words[:1].upper() + words[1:] + ".", sure=sure)
    values = _places(part, slip)
    if right is not None:
        values["right"] = right
    teacher = _filled(row.teacher, values) or row.name
    student = _filled(row.student, values) or row.plain or row.name
    return FaultFound(code=code, line=line, teacher=teacher, student=student, sure=sure)


def _filled(text: str, values: Mapping[str, str]) -> str:
    """The text with its places filled; "" when one has no value."""
    names = {name for _, name, _, _ in Formatter().parse(text) if name}
    return text.format_map(values) if all(values.get(n) for n in names) else ""


def _places(part: CompiledCalculation, slip: Slip) -> dict[str, str]:
    datum = part.data.get(slip.symbol)
    about = slip.symbol if slip.symbol in part.system.base else (part.goals[-1].find if part.goals else "")
    quantity = next((e.names[0] for e in part.table.entries if e.name == about and e.names), about)
    right = next(_right_expressions(part, about), None)
    return {
        "typed": slip.typed,
        "wrong": slip.typed,
        "datum": datum.text if datum else "",
        "expected": _in_si(datum, part) if datum else slip.expected,
        "quantity": quantity,
        "right": f"{about} = {write_plain(right)}" if right is not None else "",
        "unit": next((g.unit.name for g in part.goals if g.find == about and g.unit), ""),
    }


def _in_si(datum: Datum, part: CompiledCalculation) -> str:
    from marker.scheme.model_answer import in_figures, si_unit

    if not datum.needs_conversion:
        return datum.text
    further = 1 if datum.unit is not None and datum.unit.offset else 0  # 32 °C is 305 K
    return f"{in_figures(datum.si, max(2, datum.number.figures[1]) + further)} {si_unit(part, datum.symbol)}".strip()
