"""Faults of a value that comes out: rounded early or wrongly, carried on wrongly, a power of ten or a root too many."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from marker.expression import Expr, Number, Root, put, symbols
from marker.judging.known_faults import Transform
from marker.judging.transforms.figures import exchanged, one_off, rounded
from marker.judging.transforms.givens import Givens
from marker.judging.transforms.trees import everywhere, plain_number, product, read_factor


def wrong_values(transform: Transform, expression: Expr, givens: Givens) -> Iterator[Expr]:
    """The expression with a value of its own wrong. Nothing for "other-value", which may be anything."""
    match transform["kind"]:
        case "add-root":
            yield Root(inner=expression)
        case "scale-value":
            yield from (product((read_factor(text), expression)) for text in transform["factors"])
        case "round-early":
            yield from _on_the_way(expression, givens, lambda n: ((rounded(n.value, k), "") for k in transform["figures"]))
        case "own-value-changed":
            yield from _on_the_way(expression, givens, lambda n: (*exchanged(n), *one_off(n)))
        case "round-wrongly":
            if isinstance(expression, Number) and expression.half:
                yield from (plain_number(expression.value + step * 2 * expression.half) for step in (-1, 1))


Changes = Callable[[Number], Iterable[tuple[float, str]]]


def _on_the_way(expression: Expr, givens: Givens, changes: Changes) -> Iterator[Expr]:
    """Each value found on the way changed; in an expression of numbers, each number."""
    names = sorted(symbols(expression) & (givens.values.keys() - givens.data.keys()))
    for name in names:
        number = _shown(givens.values[name])
        yield from (put(expression, {name: Number(text=text or f"{v:.6g}", value=v)}) for v, text in changes(number) if v != number.value)
    if symbols(expression) - {"π"}:
        return

    def rule(node: Expr) -> Iterator[Expr]:
        if isinstance(node, Number):
            yield from (Number(text=text or f"{v:.6g}", value=v) for v, text in changes(node) if v != node.value)

    yield from everywhere(expression, rule)


def _shown(value: float) -> Number:
    """A value as a candidate may carry it: four figures."""
    text = f"{value:.4g}"
    return Number(text=text, value=value)
