"""The corpus of worked examples (../shared/corpus), when it is there: its lines, its numeric equalities, and changed lines."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any

from marker.expression import Expr, Symbol, has_unit, walk
from marker.physics.equality import Grade, equal
from marker.physics.evaluate import Unknown, evaluate, same_dimensions
from marker.reading import read_lines, write_plain
from marker.reading.model import Line, Reading, SymbolTable

FOLDER = Path(__file__).resolve().parents[3] / "shared" / "corpus"
EMPTY = SymbolTable()


@lru_cache(maxsize=1)
def examples() -> tuple[dict[str, Any], ...]:
    text = (FOLDER / "worked_examples.jsonl").read_text(encoding="utf-8")
    return tuple(json.loads(line) for line in text.splitlines())


@lru_cache(maxsize=1)
def exceptions() -> frozenset[tuple[str, str]]:
    text = (FOLDER / "numeric_exceptions.jsonl").read_text(encoding="utf-8")
    rows = [json.loads(line) for line in text.splitlines()]
    return frozenset((row["id"], row["text"]) for row in rows)


def plain_lines() -> Iterator[str]:
    for example in examples():
        for key in ("strategy", "lines"):
            yield from (x for x in example.get(key, ()) if isinstance(x, str))


def word_lines() -> Iterator[str]:
    for example in examples():
        for key in ("strategy", "lines"):
            yield from (x["text"] for x in example.get(key, ()) if not isinstance(x, str) and x["skip"] == "words")


@dataclass(frozen=True, slots=True)
class Step:
    """One numeric equality as read, the values of its sides in SI (as typed where a unit is left out), and whether it holds."""

    left: str
    right: str
    values: tuple[float, float]
    holds: bool


@dataclass(frozen=True, slots=True)
class Checked:
    """The numeric equalities of one line under the reading that makes most of them hold; `reading` is its rank, from 0."""

    example: str
    text: str
    reading: int
    pairs: int
    holding: int
    shown: tuple[str, ...]
    steps: tuple[Step, ...] = ()


def _steps(pairs: Sequence[tuple[Expr, Expr, str]]) -> tuple[Step, ...]:
    """Those that have a value."""
    found = []
    for pair in pairs:
        try:
            found.append(_step(*pair))
        except Unknown:
            continue
    return tuple(found)


def _step(left: Expr, right: Expr, relation: str) -> Step:
    a, b = evaluate(left), evaluate(right)
    values = (a.raw, b.raw) if has_unit(left) != has_unit(right) else (a.si, b.si)
    return Step(write_plain(left), write_plain(right), values, _holds(left, right, relation))


def numeric(node: Expr) -> bool:
    return all(n.name == "π" for n in walk(node) if isinstance(n, Symbol))


def _holds(left: Expr, right: Expr, relation: str) -> bool:
    """README of the corpus: value within 1.2 % or half a unit of the last place shown, and the same dimension.

    A value only said again is held to the places shown, one shown to five figures to 0.2 %.
    """
    found = equal(left, right, roughly=relation == "≈")
    if not found.holds or found.grade not in (Grade.EXACT, Grade.CLOSE):
        return False
    try:
        return same_dimensions(evaluate(left).dimensions, evaluate(right).dimensions)
    except Unknown:
        return False


def _pairs(reading: Reading, before: Expr | None) -> list[tuple[Expr, Expr, str]]:
    sides = list(reading.sides)
    relations = list(reading.relations)
    if reading.opens and before is not None:
        sides.insert(0, before)
        relations.insert(0, reading.opening or "=")
    found = zip(pairwise(sides), relations, strict=True)
    return [(*pair, relation) for pair, relation in found if relation in "=≈" and numeric(pair[0]) and numeric(pair[1])]


def check_line(example: str, line: Line, before: Expr | None) -> Checked | None:
    """None when the plainest reading has no numeric equality."""
    if not line.statements or not _pairs(line.statements[0].readings[0], before):
        return None
    wanted = len(_pairs(line.statements[0].readings[0], before))
    best: Checked | None = None
    for rank, reading in enumerate(line.statements[0].readings):
        pairs = _pairs(reading, before)
        holding = sum(_holds(*pair) for pair in pairs)
        found = Checked(example, line.text, rank, len(pairs), holding, tuple(write_plain(s) for s in reading.sides), _steps(pairs))
        if len(pairs) < wanted:
            continue  # a reading that takes a unit for a letter has less to hold
        if pairs and (best is None or holding - len(pairs) > best.holding - best.pairs):
            best = found
        if best is not None and best.holding == best.pairs:
            break
    return best


def check_example(example: dict[str, Any]) -> Iterator[Checked]:
    """Lines in order; one that opens is compared with the last side of the line before."""
    texts = [x if isinstance(x, str) else x["text"] for x in example["lines"]]
    before: Expr | None = None
    for raw, line in zip(example["lines"], read_lines(texts, EMPTY), strict=True):
        if isinstance(raw, str):
            found = check_line(example["id"], line, before)
            if found is not None:
                yield found
        before = line.statements[0].readings[0].sides[-1] if isinstance(raw, str) and line.statements else None


# ---- changed lines ---------------------------------------------------------------------------------------------------

_DIGIT = re.compile(r"\d")


def _digit(text: str, choose: random.Random) -> str | None:
    places = [m.start() for m in _DIGIT.finditer(text)]
    if not places:
        return None
    at = choose.choice(places)
    return text[:at] + choose.choice([d for d in "0123456789" if d != text[at]]) + text[at + 1 :]


def _swap(text: str, choose: random.Random, wanted: Sequence[tuple[str, str]]) -> str | None:
    places = [(m.start(), m.end(), new) for old, new in wanted for m in re.finditer(old, text)]
    if not places:
        return None
    start, end, new = choose.choice(places)
    return text[:start] + new + text[end:]


def change(text: str, choose: random.Random) -> str | None:
    """The line with one digit, sign, power or operation changed; None when it has no such place."""
    kind = choose.choice(("digit", "sign", "power", "operation"))
    if kind == "digit":
        return _digit(text, choose)
    if kind == "sign":
        return _swap(
            text,
            choose,
            ((r"(?<=[\d)\w] )\+(?= )", "-"), (r"(?<=[\d)\w] )-(?= )", "+"), (r"(?<=\^\()-(?=\d)", ""), (r"(?<=[=≈(] )-(?=\d)", "")),
        )
    if kind == "power":
        return _swap(text, choose, ((r"\^2(?!\d)", ""), (r"\^3(?!\d)", "^2"), (r"√(?=\()", ""), (r"(?<=× 10\^)(\d)(?!\d)", "7")))
    return _swap(
        text, choose, ((r"\)/\(", ")("), (r"\)\(", ")/("), (r" × (?!10\^)", " / "), (r"sin(?=[ (^])", "cos"), (r"cos(?=[ (^])", "sin"))
    )
