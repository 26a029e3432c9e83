"""Which rows of rubrics/faults.toml make the candidate's wrong line from the right one: of an expression, a value put in, a result.

What is asked is always a line: the expression in letters, the number that went into it, or the value that came out of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

from marker.expression import Expr, Symbol, symbols
from marker.judging.known_faults import KnownFault, kinds_of_transform, known_faults
from marker.judging.lifting import near
from marker.judging.model import Evidence, Kind, Slip
from marker.judging.transforms import apply, givens_of
from marker.judging.values import nearly
from marker.physics.evaluate import Unknown, evaluate, value_at
from marker.scheme.compiled import CompiledCalculation

GENERAL = frozenset({"wrong-relationship", "arithmetic", "wrong-rearrangement-of-symbols", "wrong-rearrangement-of-numbers"})
# faults of a value put in that may be one of a more special kind
PUT_IN = frozenset({"unconverted", "power-of-ten", "copied-wrongly", "another-datum", "other-quantity", "wrong-conversion", "wrong-prefix"})
SPECIAL_KINDS = frozenset(
    {"wrong-power-conversion", "scale-datum", "percent-as-number", "celsius-for-kelvin", "put-for", "another-constant", "reciprocal-datum"}
)
WITHOUT_LETTERS = frozenset({"offset-added", "offset-subtracted", "reciprocal-datum"})
CLOSE = 2e-3


@lru_cache(maxsize=1)
def by_code() -> Mapping[str, KnownFault]:
    return {row.code: row for row in known_faults()}


def suspects(part: CompiledCalculation, slip: Slip, e: Evidence | None) -> tuple[str, ...]:
    """Codes of the rows that fit a fault better than its own code does; none where its own code says all there is to say."""
    used = _used(slip, e)
    if slip.code in PUT_IN and used is not None and slip.symbol in part.system.base:
        return tuple(_of_value_put_in(part, slip.symbol, used))
    if slip.code in ("power-of-ten", "rounded-early"):
        return tuple(_of_result(part, slip, e))
    if slip.code not in GENERAL or e is None:
        return ()
    if slip.code == "arithmetic":
        return tuple(_of_value(part, e))
    return () if slip.code.startswith("wrong-rearrangement") else tuple(of_expression(part, e))


def told_apart(part: CompiledCalculation, codes: Sequence[str]) -> tuple[str, ...]:
    """Of rows that make the same line: those the question speaks of, those that are not a wider case of another, each error once."""
    rows = by_code()
    found = [c for c in dict.fromkeys(codes) if c in rows]
    found = [c for c in found if rows[c].context and fits(part, rows[c])] or found
    wider = {other for c in found for other in rows[c].over}
    kept, numbers = [], set[int]()
    for code in (c for c in found if c not in wider):
        number = rows[code].number
        if not number or number not in numbers:
            kept.append(code)
            numbers.add(number)
    return tuple(kept)


def fits(part: CompiledCalculation, row: KnownFault) -> bool:
    """The part holds the word that the row is about."""
    if not row.context:
        return True
    words = " ".join((*(n for e in part.table.entries for n in e.names), part.stem)).casefold()
    return row.context in words


def right_expressions(part: CompiledCalculation, name: str) -> Iterator[Expr]:
    """What a quantity is equal to: a relationship with it alone on the left, and what the system solves it as."""
    for relation in part.system.relations:
        if isinstance(relation.left, Symbol) and relation.left.name == name:
            yield relation.right
    for step in part.system.steps:
        for letter, tree in zip(step.letters, step.trees, strict=True):
            if letter == name:
                yield tree


# --- a value that goes in ---------------------------------------------------------------------------


def _of_value_put_in(part: CompiledCalculation, symbol: str, used: float) -> Iterator[str]:
    """Rows that make the value used of the right one: another prefix, another constant, the diameter for the radius."""
    sources = (Symbol(name=symbol, known=True), *(() if symbol in part.data else right_expressions(part, symbol)))
    givens = givens_of(part)
    for row in known_faults():
        special = row.kind in SPECIAL_KINDS or (row.kind == "unconverted" and "dimension" in row.transform)
        if special and fits(part, row):
            made = (t for right in sources for t in apply(row.transform, right, givens))
            if any(_close(value_at(t, part.system.base), used) for t in made):
                yield row.code


def _used(slip: Slip, e: Evidence | None) -> float | None:
    """The value that was put in for the quantity the fault is about."""
    if e is None:
        return None
    if e.kind is Kind.DATUM and e.value is not None:
        return e.value.si
    return dict(e.uses).get(slip.symbol)


def _close(value: float | None, target: float) -> bool:
    return value is not None and value == value and abs(value - target) <= CLOSE * abs(target)


# --- a value that comes out -------------------------------------------------------------------------


def _of_result(part: CompiledCalculation, slip: Slip, e: Evidence | None) -> Iterator[str]:
    """A result ten times out may be the key of the power of ten; one rounded on the way, rounded to a single figure."""
    yield slip.code
    if slip.code == "rounded-early":
        uses = e.uses if e is not None else ()
        row = by_code()["rounded-to-one-figure"]
        givens = givens_of(part)
        for symbol, value in uses:
            lone = Symbol(name=symbol, known=True)
            if any(_close(value_at(t, part.system.base), value) for t in apply(row.transform, lone, givens)):
                yield row.code
        return
    if e is None or e.value is None or not any(d.has_power_of_ten for d in part.data.values()):
        return
    truth = part.system.base.get(e.about)
    if truth and any(abs(e.value.si / truth / f - 1) < 0.012 for f in (10.0, 0.1)):
        yield "exponent-key-doubled"


def _of_value(part: CompiledCalculation, e: Evidence) -> Iterator[str]:
    """Codes of the rows that turn the value of the working into the one typed."""
    if e.value is None or not e.about or e.about not in part.system.base:
        return
    typed = e.value
    for code, values in _wrong_values(part, e.about):
        if any(nearly(typed.si, v, typed.half) and abs(typed.si / v - 1) < 0.006 for v in values):
            yield code


@lru_cache(maxsize=512)
def _wrong_values(part: CompiledCalculation, name: str) -> tuple[tuple[str, tuple[float, ...]], ...]:
    """For each right expression of a quantity and each fault of a value: what it makes of the value."""
    givens, kinds = givens_of(part), kinds_of_transform()
    rows = [r for r in known_faults() if r.family in ("arithmetic", "rounding") and r.code not in GENERAL and fits(part, r)]
    found = []
    for right in right_expressions(part, name):
        for row in (r for r in rows if kinds.get(r.kind) != "writing"):
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


# --- an expression ----------------------------------------------------------------------------------


def of_expression(part: CompiledCalculation, e: Evidence) -> dict[str, Expr]:
    """Codes of the rows that turn a right expression for the quantity into the one written, each with that expression."""
    found: dict[str, Expr] = {}
    for code, right in _of_expression(part, e) if e.stated is not None else ():
        found.setdefault(code, right)
    return found


def _of_expression(part: CompiledCalculation, e: Evidence) -> Iterator[tuple[str, Expr]]:
    assert e.stated is not None
    points = part.system.points(part.system.everything) or ()
    subject, wrong = e.stated
    if not isinstance(subject, Symbol) or not points or not symbols(wrong):
        return
    written = [value_at(wrong, p) for p in points]
    for right in right_expressions(part, subject.name):
        for code, trees in _wrong_forms(part, right):
            if any(near([value_at(t, p) for p in points], written) for t in trees):
                yield code, right
        if e.kind is Kind.SUBSTITUTION and e.implied is not None:
            yield from ((code, right) for code in _of_numbers(part, right, e.implied))


def _of_numbers(part: CompiledCalculation, right: Expr, implied: float) -> Iterator[str]:
    """Values changed before they go in (273 added to a difference), which leave no letter of their own in the line."""
    givens = givens_of(part)
    for row in known_faults():
        made = apply(row.transform, right, givens) if row.kind in WITHOUT_LETTERS and fits(part, row) else ()
        if any(_close(_value(tree, part), implied) for tree in made):
            yield row.code


@lru_cache(maxsize=512)
def _wrong_forms(part: CompiledCalculation, right: Expr) -> tuple[tuple[str, tuple[Expr, ...]], ...]:
    """For each fault that changes an expression: what it makes of this one."""
    givens, kinds = givens_of(part), kinds_of_transform()
    found = []
    for row in known_faults():
        if kinds.get(row.kind) == "expression" and row.code not in GENERAL and fits(part, row):
            trees = tuple(apply(row.transform, right, givens))
            if trees:
                found.append((row.code, trees))
    return tuple(found)
