"""Where own values stop being followed: results that cannot be, values given to be shown, and questions made easier."""

from __future__ import annotations

from collections.abc import Iterator

from marker.expression import Call, Expr, Number, Power, Product, Quotient, Sum, Symbol, children, symbols, walk
from marker.judging.values import nearly
from marker.physics.evaluate import value_at
from marker.physics.system import Point
from marker.scheme.compiled import CompiledCalculation, Goal

NOTHING_LEFT = 1e-9


def outside(part: CompiledCalculation, goal: Goal, chosen: Point, value: float) -> bool:
    """An own value used, or the answer that follows from it, lies outside what the scheme calls sensible.

    Source: AP06, AP12 (a speed faster than light is not carried on); BPHO (until results become ridiculous).
    """
    ranges = {**part.sensible, **{g.find: g.sensible for g in part.goals if g.sensible is not None}}
    checked = {**chosen, goal.find: value}
    return any(not ranges[n][0] <= v <= ranges[n][1] for n, v in checked.items() if n in ranges)


def to_be_shown(part: CompiledCalculation) -> dict[str, float]:
    """Quantities the question itself gives a value of in a "show that", here or where they are carried from."""
    return {**part.shown, **{g.find: g.shown for g in part.goals if g.shown is not None}}


def replaces_shown(part: CompiledCalculation, chosen: Point) -> bool:
    """An own value stands in place of one to be shown, and is neither that nor the exact one. Source: common practice."""
    shown = to_be_shown(part)
    return any(not nearly(chosen[n], v) and not nearly(chosen[n], part.system.base[n]) for n, v in shown.items() if n in chosen)


def easier(part: CompiledCalculation, goal: Goal, env: Point) -> bool:
    """An operation of the derivation falls away with the own values in `env` that is there with the right ones.

    That is a factor or divisor that becomes 1, a term that becomes 0, a power or a trigonometric function of 0 or of
    a right angle. Source: CSM, SQAM (fewer marks where the question has become easier).
    """
    for step in part.system.steps:
        if not set(step.relations) & goal.relations:
            continue
        for tree in step.trees:
            if any(_idle(n, env) and not _idle(n, part.system.base) for n in _operations(tree)):
                return True
    return False


def _operations(tree: Expr) -> Iterator[Expr]:
    yield from (n for n in walk(tree) if children(n))


def _idle(node: Expr, env: Point) -> bool:
    """The operation does nothing here: times or over 1, plus 0, a function worth 0 or 1."""
    match node:
        case Product(factors=fs):
            return any(_worth(f, env, 1.0) or _worth(f, env, 0.0) for f in fs)
        case Quotient(over=a, under=b):
            return _worth(b, env, 1.0) or _worth(a, env, 0.0)
        case Sum(terms=ts):
            return any(_worth(t, env, 0.0) for t in ts)
        case Power(base=b):
            return _worth(b, env, 1.0) or _worth(b, env, 0.0)
        case Call():
            return _worth(node, env, 0.0) or _worth(node, env, 1.0)
    return False


def _worth(node: Expr, env: Point, value: float) -> bool:
    if isinstance(node, Number) or (isinstance(node, Symbol) and node.name == "π") or not symbols(node):
        return False
    found = value_at(node, env)
    return found == found and abs(abs(found) - value) < NOTHING_LEFT
