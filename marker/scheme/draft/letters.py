"""The letters of a model answer: those given a value, and those of its equations without numbers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache

from marker.expression import Number, Symbol, UnitFactor, symbols, walk
from marker.reading.model import Line
from marker.scheme.lexicon import quantity_kinds

_SUBJECT = re.compile(r"(?:^|[=,;]|\band\b|\bso\b|\btherefore\b)\s*([A-Za-zΑ-Ωα-ω][A-Za-z]?(?:_\([\w,∥⊥]+\)|_[\w∥⊥]+)?'*)\s*(?==|≈)")
_NAMED = re.compile(r"Δ?([A-Z]{2,4})(?:_\([\w,]+\)|_\w+)?'*")
_MEASURED = re.compile(r"\d\d|\d\.\d|\d\s?[×x]\s?10|\d\s[A-Za-z]")
_TOKEN = re.compile(r"[A-Za-zΑ-Ωα-ω]+(?:_\([\w,]+\)|_\w+)?'*")
_FUNCTIONS = frozenset({"sin", "cos", "tan", "ln", "log", "exp", "sqrt", "and", "or", "so", "net", "pi", "is"})
_LONGEST_RUN = 4
_ANGLE = re.compile(r"°|\bdeg")


def letters_of(lines: Sequence[str], read: Sequence[Line]) -> tuple[tuple[str, ...], frozenset[str]]:
    """Letters that are given a value or an expression somewhere, or stand in an equation without numbers."""
    names: dict[str, None] = {}
    angles: set[str] = set()
    for line in read:
        for statement in line.statements:
            sides = statement.readings[0].sides
            for side in sides:
                if isinstance(side, Symbol) and side.name != "π":
                    names[side.name] = None
                    if any(_ANGLE.search(u.unit.name) for s in sides for u in walk(s) if isinstance(u, UnitFactor)) and len(sides) == 2:
                        angles.add(side.name)
                elif not any(isinstance(n, Number) and n.half and n.value not in (1, 2, 3, 4) for n in walk(side)):
                    names.update(dict.fromkeys(n for n in symbols(side) if n != "π"))
    for text in lines:
        names.update(dict.fromkeys(m.group(1) for m in _SUBJECT.finditer(text)))
        names.update(dict.fromkeys(m.group() for m in _NAMED.finditer(text) if m.group(1) in _named_letters()))
        if "=" in text and not _MEASURED.search(text):
            names.update(dict.fromkeys(_run_letters(text)))
    return tuple(names), frozenset(angles)


@cache
def _named_letters() -> frozenset[str]:
    """Quantities whose usual symbol is a word of capitals, such as KE."""
    return frozenset(x for k in quantity_kinds() for x in k.letters if len(x) > 1 and x.isalpha() and x.isupper())


def _run_letters(text: str) -> Iterator[str]:
    """Letters of an equation without measured numbers: mgh is m, g and h, and F/A is no unit there."""
    for found in _TOKEN.finditer(text):
        token = found.group()
        if token in _FUNCTIONS or len(token.split("_")[0]) > _LONGEST_RUN:
            continue
        stem, mark, index = token.partition("_")
        yield from (c for c in stem[:-1] if c.isalpha())
        yield stem[-1] + mark + index
