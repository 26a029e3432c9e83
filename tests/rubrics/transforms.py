"""The transforms of the fault table carried out in the simplest way, on plain notation and on numbers.

Every function gives all results its kind can have; a test looks for the worked case's own among them.
"""

import ast
import math
from collections.abc import Callable, Iterator, Mapping
from copy import deepcopy
from typing import Any

from .files import REAL, constants
from .plain import evaluate, parse

Rule = Callable[[ast.expr, Mapping[str, Any]], Iterator[ast.expr]]


def wrong_expressions(expression: str, transform: Mapping[str, Any]) -> tuple[str, ...]:
    """Expressions the transform makes of one, each change at one place. Empty for kinds that are not about expressions."""
    rule = RULES.get(transform["kind"])
    if rule is None:
        return ()
    return tuple(ast.unparse(changed) for changed in _everywhere(parse(expression), rule, transform))


def _everywhere(node: ast.expr, rule: Rule, transform: Mapping[str, Any]) -> Iterator[ast.expr]:
    """The node with the rule used on it, or on one node inside it."""
    yield from rule(node, transform)
    for name, inner in ast.iter_fields(node):
        if name == "func":
            continue
        for place, child in enumerate(inner) if isinstance(inner, list) else [(None, inner)]:
            if isinstance(child, ast.expr):
                for changed in _everywhere(child, rule, transform):
                    copy = deepcopy(node)
                    if place is None:
                        setattr(copy, name, changed)
                    else:
                        getattr(copy, name)[place] = changed
                    yield copy


def _binary(left: ast.expr, op: ast.operator, right: ast.expr) -> ast.expr:
    return ast.BinOp(left=left, op=op, right=right)


def _of(node: ast.expr, op: type[ast.operator]) -> tuple[ast.expr, ast.expr] | None:
    return (node.left, node.right) if isinstance(node, ast.BinOp) and isinstance(node.op, op) else None


def _call(node: ast.expr, *names: str) -> ast.expr | None:
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in names:
        return node.args[0]
    return None


def _is_one(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and node.value == 1


def _invert(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if pair := _of(node, ast.Div):
        yield _binary(pair[1], ast.Div(), pair[0])


def _product_for_quotient(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if pair := _of(node, ast.Div):
        yield _binary(pair[0], ast.Mult(), pair[1])


def _quotient_for_product(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if pair := _of(node, ast.Mult):
        yield _binary(pair[0], ast.Div(), pair[1])
        yield _binary(pair[1], ast.Div(), pair[0])


def _drop_power(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if pair := _of(node, ast.Pow):
        yield pair[0]


def _lower_power(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if pair := _of(node, ast.Pow):
        yield _binary(pair[0], ast.Pow(), _binary(pair[1], ast.Sub(), ast.Constant(1)))


def _one_for_mean(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if (outer := _of(node, ast.Mult)) and _number(outer[0]) == 0.5 and (pair := _of(outer[1], ast.Add)):
        yield from pair
    elif outer and (inner := _of(outer[0], ast.Mult)) and _number(inner[0]) == 0.5 and (pair := _of(inner[1], ast.Add)):
        yield from (_binary(term, ast.Mult(), outer[1]) for term in pair)


def _power_whole(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if (product := _of(node, ast.Mult)) and (power := _of(product[1], ast.Pow)):
        yield _binary(_binary(product[0], ast.Mult(), power[0]), ast.Pow(), power[1])


def _drop_root(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if inner := _call(node, "sqrt"):
        yield inner


def _add_root(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    yield ast.Call(func=ast.Name("sqrt"), args=[node], keywords=[])


def _invert_under_root(node: ast.expr, transform: Mapping[str, Any]) -> Iterator[ast.expr]:
    if inner := _call(node, "sqrt"):
        yield from (ast.Call(func=ast.Name("sqrt"), args=[n], keywords=[]) for n in _everywhere(inner, _invert, transform))


def _factors(node: ast.expr, exponent: int = 1) -> Iterator[tuple[ast.expr, int]]:
    """Factors of products and quotients, each with 1 or -1."""
    for op, sign in ((ast.Mult, 1), (ast.Div, -1)):
        if pair := _of(node, op):
            yield from _factors(pair[0], exponent)
            yield from _factors(pair[1], sign * exponent)
            return
    yield node, exponent


def _number(node: ast.expr) -> float | None:
    return (
        None if any(isinstance(n, ast.Name) and n.id not in REAL for n in ast.walk(node)) else float(evaluate(ast.unparse(node), {}, REAL))
    )


def _drop_factor(node: ast.expr, transform: Mapping[str, Any]) -> Iterator[ast.expr]:
    numbers = [(value, sign) for f, sign in _factors(node) if (value := _number(f)) is not None]
    whole = math.prod(value**sign for value, sign in numbers)
    for factor in transform["factors"]:
        if factor == "function":
            yield from _without(node, lambda f: _call(f, "sin", "cos", "tan") is not None)
        elif numbers and math.isclose(whole, evaluate(factor, {}, REAL)):
            yield _binary(node, ast.Div(), parse(factor))


def _add_factor(node: ast.expr, transform: Mapping[str, Any]) -> Iterator[ast.expr]:
    yield from (_binary(node, ast.Mult(), parse(factor)) for factor in transform["factors"])


def _drop_symbol(node: ast.expr, transform: Mapping[str, Any]) -> Iterator[ast.expr]:
    yield from _without(node, lambda f: isinstance(f, ast.Name) and f.id == transform["symbol"])


def _without(node: ast.expr, leave_out: Callable[[ast.expr], bool]) -> Iterator[ast.expr]:
    for op in (ast.Mult, ast.Div):
        if (pair := _of(node, op)) and leave_out(pair[1]):
            yield pair[0]


def _swap_function(node: ast.expr, transform: Mapping[str, Any]) -> Iterator[ast.expr]:
    for a, b in (*transform["pairs"], *(p[::-1] for p in transform["pairs"])):
        if inner := _call(node, a):
            yield ast.Call(func=ast.Name(b), args=[inner], keywords=[])


def _last_reciprocal(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if (pair := _of(node, ast.Div)) and _is_one(pair[0]):
        yield pair[1]


def _terms(node: ast.expr) -> list[ast.expr]:
    pair = _of(node, ast.Add)
    return [*_terms(pair[0]), *_terms(pair[1])] if pair else [node]


def _total(terms: list[ast.expr]) -> ast.expr:
    whole = terms[0]
    for term in terms[1:]:
        whole = _binary(whole, ast.Add(), term)
    return whole


def _series_for_parallel(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if (pair := _of(node, ast.Div)) and _is_one(pair[0]) and len(_terms(pair[1])) > 1:
        unders = [_of(term, ast.Div) for term in _terms(pair[1])]
        yield _total([under[1] for under in unders if under])


def _reciprocal_of_sum(node: ast.expr, transform: Mapping[str, Any]) -> Iterator[ast.expr]:
    yield from (_binary(ast.Constant(1), ast.Div(), whole) for whole in _series_for_parallel(node, transform))


def _sum_for_root(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if inner := _call(node, "sqrt"):
        squares = [_of(term, ast.Pow) for term in _terms(inner)]
        yield _total([square[0] for square in squares if square])


def _one_point(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if (pair := _of(node, ast.Div)) and (up := _of(pair[0], ast.Sub)) and (along := _of(pair[1], ast.Sub)):
        yield _binary(up[0], ast.Div(), along[0])
        yield _binary(up[1], ast.Div(), along[1])


def _linear_decay(node: ast.expr, transform: Mapping[str, Any]) -> Iterator[ast.expr]:
    if (pair := _of(node, ast.Mult)) and _of(pair[1], ast.Pow):
        yield _binary(pair[0], ast.Div(), parse(transform["divisor"]))


def _unbracket(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if (pair := _of(node, ast.Div)) and (under := _of(pair[1], ast.Mult)):
        yield _binary(_binary(pair[0], ast.Div(), under[0]), ast.Mult(), under[1])


def _divide_last_term(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if (pair := _of(node, ast.Div)) and (whole := _of(pair[0], ast.Add)):
        yield _binary(whole[0], ast.Add(), _binary(whole[1], ast.Div(), pair[1]))


def _largest(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    yield from _terms(node) if _of(node, ast.Add) else ()


def _drop_exponent_factor(node: ast.expr, _: Mapping[str, Any]) -> Iterator[ast.expr]:
    if (pair := _of(node, ast.Mult)) and isinstance(pair[0], ast.Constant):
        yield pair[1]


def _rearranged(node: ast.expr, transform: Mapping[str, Any]) -> Iterator[ast.expr]:
    for rule in (_invert, _product_for_quotient, _quotient_for_product):
        yield from rule(node, transform)


RULES: Mapping[str, Rule] = {
    "invert": _invert,
    "product-for-quotient": _product_for_quotient,
    "quotient-for-product": _quotient_for_product,
    "drop-power": _drop_power,
    "ignore-power": _drop_power,
    "lower-power": _lower_power,
    "one-for-mean": _one_for_mean,
    "power-whole": _power_whole,
    "drop-root": _drop_root,
    "add-root": _add_root,
    "invert-under-root": _invert_under_root,
    "drop-factor": _drop_factor,
    "add-factor": _add_factor,
    "drop-symbol": _drop_symbol,
    "swap-function": _swap_function,
    "last-reciprocal": _last_reciprocal,
    "series-for-parallel": _series_for_parallel,
    "reciprocal-of-sum": _reciprocal_of_sum,
    "sum-for-root-sum-squares": _sum_for_root,
    "one-point-gradient": _one_point,
    "linear-decay": _linear_decay,
    "unbracket": _unbracket,
    "divide-last-term": _divide_last_term,
    "largest-for-sum": _largest,
    "drop-exponent-factor": _drop_exponent_factor,
    "rearrange-symbols": _rearranged,
    "rearrange-numbers": _rearranged,
}


def explains(transform: Mapping[str, Any], right: float, wrong: float) -> bool:
    """True when the transform can turn the one value of a datum into the other."""
    kind, ratio = transform["kind"], wrong / right
    factors = [evaluate(f, {"g": 9.8}, REAL) for f in transform.get("factors", []) if f != "function"]
    match kind:
        case "unconverted" | "scale-datum" | "move-point" | "scale-value" | "put-for" if factors:
            return any(math.isclose(ratio, f, rel_tol=2e-3) for f in factors)
        case "wrong-power-conversion":
            return any(math.isclose(ratio, f) for f in (1e2, 1e3, 1e4, 1e6))
        case "celsius-for-kelvin" | "offset-subtracted" | "offset-added":
            return round(abs(wrong - right)) in ((546,) if kind == "offset-subtracted" else (273,))
        case "angle-mode":
            return math.isclose(ratio, 180 / math.pi) or math.isclose(ratio, math.pi / 180)
        case "exchange-digits":
            return _digits(right) != _digits(wrong) and sorted(_digits(right)) == sorted(_digits(wrong))
        case "change-digit" | "own-value-changed":
            return len(_digits(right)) == len(_digits(wrong)) and right != wrong
        case "percent-as-number":
            return math.isclose(ratio, 100)
        case "reciprocal-datum":
            return math.isclose(right * wrong, 1)
        case "constant-value":
            return any(float(v) == wrong for v in transform["values"])
        case "another-constant":
            values = {s: [float(v) for v in (c["value"], *c["accepted"])] for s, c in constants().items()}
            pairs = [*transform["pairs"], *(p[::-1] for p in transform["pairs"])]
            return any(right in values[a] and wrong in values[b] for a, b in pairs)
        case "flip-sign":
            return wrong == -right
        case "round-early":
            return any(math.isclose(wrong, float(f"{right:.{n}g}")) for n in transform["figures"])
        case "unconverted" | "wrong-factor" | "another-datum" | "other-quantity" | "swap-data" | "put-for":
            return right != wrong
    return False


def _digits(value: float) -> str:
    return f"{value:.10g}".replace(".", "").replace("-", "")
