"""The relationships of a part, from equations or from the sheets, and the letters they hold."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from difflib import get_close_matches

from marker.expression import Symbol
from marker.physics.system import Relation
from marker.reading import read_relation
from marker.reading.model import SymbolTable
from marker.reading.writing import write_plain
from marker.scheme.calculation import CalculationPart
from marker.scheme.sheets import by_name
from marker.scheme.surroundings import problem

_WORD = re.compile(r"[^\W\d][\w']*")


_FUNCTIONS = frozenset(
    {"sin", "cos", "tan", "asin", "acos", "atan", "sqrt", "ln", "log", "log10", "exp", "pi", "arcsin", "arccos", "arctan"}
)


def letters_of(spec: CalculationPart, using: Iterable[str], also: Iterable[str]) -> tuple[str, ...]:
    """The part's own symbols: given, carried, sought, and any word of more than one letter in its equations."""
    names = [*spec.given, *spec.carry, *spec.names, *(s.find for s in spec.steps())]
    for text in (*using, *also):
        row = by_name().get(text.casefold())
        if row is not None:
            names.extend((*row.quantities, *row.constants))
        elif "=" in text:
            names.extend(w for w in _WORD.findall(text) if w not in _FUNCTIONS)
    return tuple(dict.fromkeys(n for n in names if n and n not in ("pi", "π")))


def first_letter(text: str) -> str:
    """The first symbol of an equation, functions and π passed by; "" when it has none."""
    return next((w for w in _WORD.findall(text) if w not in _FUNCTIONS and w != "π"), "")


def relation_of(text: str, table: SymbolTable, where: str, key: str, helper: bool = False) -> Relation:
    row = by_name().get(text.casefold())
    equation = row.equation if row is not None else text
    if row is None and "=" not in text:
        near = get_close_matches(text.casefold(), by_name(), n=3)
        mend = f"Did you mean {' or '.join(repr(n) for n in near)}?" if near else 'Write it as an equation, such as "V = I*R".'
        raise problem(where, key, f"{text!r} is neither an equation nor a relationship of the sheets", mend=mend)
    try:
        reading = read_relation(equation, table)
    except ValueError as error:
        raise problem(where, key, f"{text!r} could not be read: {error}", mend="Write products with * and powers with ^.") from error
    if len(reading.sides) != 2:
        raise problem(where, key, f"{text!r} has {len(reading.sides)} sides", "one equals sign")
    left, right = reading.sides
    shown = f"{write_plain(left)} = {write_plain(right)}"
    return Relation(name=equation if row is None else row.equation, left=left, right=right, helper=helper, shown=shown)


def is_angle_text(text: str) -> bool:
    return "°" in text or "deg" in text or text.rstrip().endswith("rad")


def angles_inside(relations: Sequence[Relation]) -> frozenset[str]:
    """Letters that stand alone inside sin, cos or tan."""
    from marker.expression import Call, walk

    found = set()
    for relation in relations:
        for node in (*walk(relation.left), *walk(relation.right)):
            if isinstance(node, Call) and node.function in ("sin", "cos", "tan") and isinstance(node.inner, Symbol):
                found.add(node.inner.name)
    return frozenset(found)
