"""Relationships listed with none chosen, and relationships drawn as a triangle."""

from __future__ import annotations

import re
from collections.abc import Sequence

from marker.awarding.evidence import Case
from marker.expression import Expr, Number, Product, Quotient, Symbol, symbols, walk
from marker.judging.leaves import is_numeric
from marker.judging.model import Evidence, JudgedLine, Kind
from marker.scheme.compiled import CompiledCalculation, Point

_TRIANGLE = re.compile(r"triangle|[△▲∆Δ]", re.IGNORECASE)
_WORDS = re.compile(r"[^\W\d_]+(?:_\w+)?")


def only_listed(point: Point, case: Case, shown: Sequence[Evidence]) -> bool:
    """The relationship stands once among others in symbols, and no numbers are put into it.

    Source: from memory (none of several relationships chosen: no mark for one of them).
    """
    if case.convention.unselected_list:
        return False
    here = [e for e in shown if e.relations & point.relations]
    used = any(e.kind is Kind.SUBSTITUTION and (e.relations or e.about) for e in case.evidence)
    if used or len(here) != 1 or not here[0].symbolic:
        return False
    return any(_another(e, case) for e in case.evidence if e is not here[0])


def _another(e: Evidence, case: Case) -> bool:
    """An equation in symbols that is no relationship of the goal: of other quantities, or with letters the part does not have."""
    if e.stated is None or any(is_numeric(side) or _has_values(side) for side in e.stated):
        return False
    if e.tentative:
        return False
    if e.kind is Kind.UNKNOWN or (e.kind is Kind.DATUM and not e.about):
        return len(symbols(e.stated[0]) | symbols(e.stated[1])) > 1
    return e.kind is Kind.RELATIONSHIP and e.symbolic and e.right and bool(e.relations) and not e.relations & case.goal.relations


def _has_values(side: Expr) -> bool:
    """Numbers that are no factors or exponents of a formula."""
    return any(isinstance(n, Number) and n.value not in (0.5, 1.0, 2.0, 3.0, 4.0) for n in walk(side))


def triangles(part: CompiledCalculation, lines: Sequence[JudgedLine]) -> tuple[Evidence, ...]:
    """Evidence for each relationship a = b c whose letters stand in a line that speaks of a triangle."""
    found = []
    for line in lines:
        if line.withdrawn or not _TRIANGLE.search(line.text):
            continue
        letters = set(_WORDS.findall(line.text)) - {"triangle"}
        for index, relation in enumerate(part.system.relations):
            if len(relation.letters) == 3 and relation.letters <= letters and _is_product(part, index):
                found.append(
                    Evidence(kind=Kind.RELATIONSHIP, line=line.number, text=line.text, relations=frozenset({index}), symbolic=True)
                )
    return tuple(found)


def _is_product(part: CompiledCalculation, index: int) -> bool:
    """One letter is the product of two others, however it is written."""
    relation = part.system.relations[index]
    sides = (relation.left, relation.right)
    lone = any(isinstance(side, Symbol) for side in sides)
    other = next((side for side in sides if isinstance(side, Product | Quotient)), None)
    if not lone or other is None:
        return False
    parts = other.factors if isinstance(other, Product) else (other.over, other.under)
    return len(parts) == 2 and all(isinstance(p, Symbol) for p in parts)
