"""The equations of a model answer that hold with its values, none of which follows from the others."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marker.expression import Expr, Sum, symbols
from marker.physics.evaluate import value_at
from marker.scheme.draft.sheet_match import sheet_of
from marker.scheme.draft.values import Value
from marker.scheme.draft.working import Written
from marker.scheme.sheets import SheetRelationship

_NEAR = 0.03


@dataclass(frozen=True, slots=True, kw_only=True)
class Equation:
    """An equation kept, with the row of the sheets it is, if any."""

    left: Expr
    right: Expr
    line: int
    row: SheetRelationship | None = None

    @property
    def letters(self) -> frozenset[str]:
        return (symbols(self.left) | symbols(self.right)) - {"π"}


def kept(written: Sequence[Written], values: Mapping[str, Value]) -> tuple[tuple[Equation, ...], tuple[Written, ...]]:
    """Equations that hold with the values, none of which follows from those before it (to first order, where the values are)."""
    env = {n: v.si for n, v in values.items()}
    dims = {n: v.dimensions for n, v in values.items()}
    chosen: list[Equation] = []
    out: list[Written] = []
    rows: list[dict[str, float]] = []
    for e in sorted(written, key=lambda e: (len(_unvalued(e, values)), e.line)):
        names = (symbols(e.left) | symbols(e.right)) - {"π"}
        if not names <= env.keys() or not agree(e, env):
            out.append(e)
            continue
        gradient = _gradient(e, env, sorted(names))
        if gradient is None or not _adds(rows, gradient):
            continue
        rows.append(gradient)
        chosen.append(Equation(left=e.left, right=e.right, line=e.line, row=sheet_of(e.left, e.right, env, dims)))
    return _without_loose_ends(chosen, values), tuple(out)


def _unvalued(e: Written, values: Mapping[str, Value]) -> frozenset[str]:
    """Letters of an equation that the model answer nowhere gives a value."""
    names = (symbols(e.left) | symbols(e.right)) - {"π"}
    return frozenset(n for n in names if n not in values or values[n].source == "between")


def _without_loose_ends(kept: Sequence[Equation], values: Mapping[str, Value]) -> tuple[Equation, ...]:
    """Leaves out, again and again, equations with a letter that has no value and stands in no other."""
    left = list(kept)
    while True:
        loose = [
            e for e in left if any(values[n].source == "between" and sum(n in other.letters for other in left) == 1 for n in e.letters)
        ]
        if not loose:
            return tuple(left)
        left.remove(loose[-1])


def agree(e: Written, env: Mapping[str, float], by: float = _NEAR) -> bool:
    a, b = value_at(e.left, env), value_at(e.right, env)
    if not (math.isfinite(a) and math.isfinite(b)):
        return False
    return abs(a - b) <= by * max(abs(a), abs(b), 0.3 * _largest(e, env))


def _largest(e: Written, env: Mapping[str, float]) -> float:
    """The largest term of an equation: a difference of two large terms is known no better than they are."""
    terms = [t for side in (e.left, e.right) for t in (side.terms if isinstance(side, Sum) else (side,))]
    found = [abs(v) for t in terms if math.isfinite(v := value_at(t, env))]
    return max(found, default=0.0)


def _gradient(e: Written, env: Mapping[str, float], names: Sequence[str]) -> dict[str, float] | None:
    """How much the equation's gap changes with each letter, per part of the letter; None where it has no slope."""
    out: dict[str, float] = {}
    scale = max(abs(value_at(e.left, env)), abs(value_at(e.right, env)), _largest(e, env)) or 1.0
    for name in names:
        step = 1e-5 * (abs(env[name]) or 1.0)
        up, down = ({**env, name: env[name] + s} for s in (step, -step))
        slope = (_gap(e, up) - _gap(e, down)) / (2e-5 * scale)
        if not math.isfinite(slope):
            return None
        out[name] = slope
    return out if any(abs(v) > 1e-9 for v in out.values()) else None


def _gap(e: Written, env: Mapping[str, float]) -> float:
    return value_at(e.left, env) - value_at(e.right, env)


def _adds(rows: Sequence[Mapping[str, float]], new: Mapping[str, float]) -> bool:
    """Whether a gradient is independent of those before it (values are rounded, so nearly dependent counts as dependent)."""
    names = sorted({n for r in (*rows, new) for n in r})
    matrix = [[r.get(n, 0.0) for n in names] for r in rows]
    vector = [new.get(n, 0.0) for n in names]
    basis: list[list[float]] = []
    for row in matrix:
        rest = _without(row, basis)
        length = math.sqrt(sum(x * x for x in rest))
        if length > 1e-6:
            basis.append([x / length for x in rest])
    length = math.sqrt(sum(x * x for x in vector)) or 1.0
    rest = _without([x / length for x in vector], basis)
    return math.sqrt(sum(x * x for x in rest)) > 0.05


def _without(vector: Sequence[float], basis: Sequence[Sequence[float]]) -> list[float]:
    rest = list(vector)
    for b in basis:
        along = sum(x * y for x, y in zip(rest, b, strict=True))
        rest = [x - along * y for x, y in zip(rest, b, strict=True)]
    return rest
