"""The name of a fault: a row of rubrics/faults.toml that makes the candidate's wrong line from the right one.

A fault is named only when a working line agrees with it. Where several rows make the same line they are all
given, as what it may be; where none does, the general fault stands.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from string import Formatter

from marker.expression import Symbol
from marker.judging.known_faults import KnownFault
from marker.judging.model import Evidence, Slip
from marker.judging.suspects import by_code, of_expression, right_expressions, suspects, told_apart
from marker.reading.writing import write_plain
from marker.results import FaultFound
from marker.scheme.compiled import CompiledCalculation, Datum

MOST_NAMES = 3


def named(part: CompiledCalculation, slip: Slip, evidence: Sequence[Evidence]) -> tuple[FaultFound, ...]:
    """A fault as it is told to the teacher and to the student; more than one when they cannot be told apart."""
    rows = by_code()
    here = next((e for e in evidence if slip in e.slips), None) or _result(slip, evidence)
    codes = told_apart(part, suspects(part, slip, here)) or (slip.code,)
    alone = here is None or (here.bare and not here.slips)
    guess = alone and slip.family == "conversion" and slip.symbol not in part.data
    return tuple(_told(part, slip, rows.get(code), code, sure=len(codes) == 1 and not guess) for code in codes[:MOST_NAMES])


def named_in_letters(part: CompiledCalculation, slip: Slip, e: Evidence, right: str = "") -> tuple[FaultFound, ...]:
    """A fault of an equation in letters: the known rows that make it from a right expression, whichever way it was come by.

    right   what should stand there, for a fault that no row makes
    """
    rows = by_code()
    found = of_expression(part, e)
    codes = told_apart(part, tuple(found)) or (slip.code,)
    about = e.stated[0].name if e.stated is not None and isinstance(e.stated[0], Symbol) else ""
    told = {code: f"{about} = {write_plain(tree)}" for code, tree in found.items()}
    return tuple(_told(part, slip, rows.get(code), code, sure=len(codes) == 1, right=told.get(code, right)) for code in codes[:MOST_NAMES])


def _result(slip: Slip, evidence: Sequence[Evidence]) -> Evidence | None:
    """The value a fault of the final answer was found on."""
    return next((e for e in reversed(evidence) if e.value is not None and e.line == slip.line and e.text == slip.typed), None)


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
    right = next(right_expressions(part, about), None)
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
