"""Faults of the expression itself: a quotient upside down, a square or a ½ left out, a reciprocal forgotten.

Every rule takes one node and gives what that node may become; `everywhere` uses it on each node in turn.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from functools import partial

from marker.expression import Call, Expr, Negative, Number, Power, Product, Quotient, Root, Sum, Symbol, put, symbols
from marker.judging.known_faults import Transform
from marker.judging.transforms.trees import (
    ONE,
    assemble,
    everywhere,
    factors,
    is_one,
    negated,
    numeric,
    product,
    quotient,
    read_factor,
    squared,
    total,
)


def _has_letters(node: Expr) -> bool:
    return bool(symbols(node) - {"π"})


def invert(node: Expr) -> Iterator[Expr]:
    """a/b becomes b/a. A pure number such as ½ stays as it is."""
    if isinstance(node, Quotient) and numeric(node) is None:
        yield quotient(node.under, node.over)


def invert_number(node: Expr) -> Iterator[Expr]:
    """The same for an expression of numbers only."""
    if isinstance(node, Quotient):
        yield quotient(node.under, node.over)


def product_for_quotient(node: Expr) -> Iterator[Expr]:
    if isinstance(node, Quotient) and not is_one(node.over):
        yield product((node.over, node.under))


def quotient_for_product(node: Expr) -> Iterator[Expr]:
    """One factor goes under the others, or the others under it."""
    if not isinstance(node, Product):
        return
    for place, factor in enumerate(node.factors):
        rest = product((*node.factors[:place], *node.factors[place + 1 :]))
        if numeric(factor) is None and numeric(rest) is None:
            yield quotient(rest, factor)
            yield quotient(factor, rest)


def drop_power(node: Expr) -> Iterator[Expr]:
    if isinstance(node, Power) and numeric(node.base) is None and (numeric(node.exponent) or 0) > 0:
        yield node.base


def lower_power(node: Expr) -> Iterator[Expr]:
    """A quotient's powers of letters one too low, where one of them is under it: k/d² becomes k/d, I d²/D² becomes I d/D."""
    if not isinstance(node, Product | Quotient):
        return
    parts = factors(node)
    if not any(sign < 0 and _lowered(f) != f for f, sign in parts):
        return
    for place, (factor, sign) in enumerate(parts):
        if sign < 0 and _lowered(factor) != factor:
            yield assemble((_lowered(f) if i == place else f, s) for i, (f, s) in enumerate(parts))
    yield assemble((_lowered(f), s) for f, s in parts)


def _lowered(node: Expr) -> Expr:
    """A power of letters with an exponent one less; anything else as it is."""
    exponent = numeric(node.exponent) if isinstance(node, Power) and numeric(node.base) is None else None
    if not isinstance(node, Power) or exponent is None or exponent < 2:
        return node
    less = exponent - 1
    return node.base if less == 1 else Power(base=node.base, exponent=Number(text=f"{less:g}", value=less))


def one_for_mean(node: Expr) -> Iterator[Expr]:
    """½(u + v) becomes u or v."""
    if not isinstance(node, Product | Quotient):
        return
    parts = factors(node)
    halves = {i for i, (f, sign) in enumerate(parts) if numeric(f) == (0.5 if sign > 0 else 2.0)}
    for place, (factor, sign) in enumerate(parts):
        if halves and sign > 0 and isinstance(factor, Sum) and len(factor.terms) == 2:
            rest = [pair for i, pair in enumerate(parts) if i not in (place, min(halves))]
            yield from (assemble([(term, 1), *rest]) for term in factor.terms)


def power_whole(node: Expr) -> Iterator[Expr]:
    """½mv² becomes (½mv)²."""
    if not isinstance(node, Product):
        return
    for place, factor in enumerate(node.factors):
        if isinstance(factor, Power):
            whole = Product(factors=(*node.factors[:place], factor.base, *node.factors[place + 1 :]))
            yield Power(base=whole, exponent=factor.exponent)


def drop_root(node: Expr) -> Iterator[Expr]:
    if isinstance(node, Root):
        yield node.inner
    elif isinstance(node, Power) and _is_half(node.exponent):
        yield node.base


def _is_half(exponent: Expr) -> bool:
    value = numeric(exponent)
    return value is not None and math.isclose(value, 0.5)


def add_root(node: Expr) -> Iterator[Expr]:
    yield Root(inner=node)


def invert_under_root(node: Expr) -> Iterator[Expr]:
    if isinstance(node, Root):
        for rule in (invert, invert_factors):
            yield from (Root(inner=inner, degree=node.degree) for inner in everywhere(node.inner, rule))


def invert_factors(node: Expr) -> Iterator[Expr]:
    """(2h)/g becomes 2·(g/h): the letters change sides and the numbers stay."""
    if not isinstance(node, Quotient):
        return
    parts = factors(node)
    if any(numeric(f) is not None for f, _ in parts):
        yield assemble((f, s if numeric(f) is not None else -s) for f, s in parts)


def drop_factor(node: Expr, *, transform: Transform) -> Iterator[Expr]:
    """A number equal to one of the `factors` is left out, whether it is one factor or the product of all the numbers."""
    if not isinstance(node, Product | Quotient):
        return
    parts = factors(node)
    numbers = [(value**sign, place) for place, (f, sign) in enumerate(parts) if (value := numeric(f)) is not None]
    for text in transform["factors"]:
        if text == "function":
            leave = [{i} for i, (f, _) in enumerate(parts) if isinstance(f, Call) and f.function in ("sin", "cos", "tan")]
        else:
            leave = _equal_to(numeric(read_factor(text)) or 0.0, numbers)
        for gone in leave:
            if len(gone) < len(parts):
                yield assemble(pair for place, pair in enumerate(parts) if place not in gone)


def _equal_to(value: float, numbers: list[tuple[float, int]]) -> list[set[int]]:
    """Places of the numbers that are this value, alone or all together."""
    found = [{place} for v, place in numbers if math.isclose(v, value)]
    if len(numbers) > 1 and math.isclose(math.prod(v for v, _ in numbers), value):
        found.append({place for _, place in numbers})
    return found


def add_factor(node: Expr, *, transform: Transform) -> Iterator[Expr]:
    for text in transform["factors"]:
        yield product((read_factor(text), node))


def swap_function(node: Expr, *, transform: Transform) -> Iterator[Expr]:
    if isinstance(node, Call):
        for a, b in (*transform["pairs"], *(pair[::-1] for pair in transform["pairs"])):
            if node.function == a:
                yield Call(function=b, inner=node.inner)
            elif node.function == f"a{a}":
                yield Call(function=f"a{b}", inner=node.inner)


def drop_symbol(node: Expr, *, transform: Transform) -> Iterator[Expr]:
    if isinstance(node, Product | Quotient):
        parts = factors(node)
        kept = [(f, s) for f, s in parts if not (isinstance(f, Symbol) and f.name == transform["symbol"])]
        if kept and len(kept) < len(parts):
            yield assemble(kept)


def flip_sign(node: Expr) -> Iterator[Expr]:
    if isinstance(node, Sum):
        for place, term in enumerate(node.terms):
            yield Sum(terms=(*node.terms[:place], negated(term), *node.terms[place + 1 :]))


def parallel(node: Expr) -> tuple[Expr, ...] | None:
    """What is added by its reciprocals: x, y of 1/(1/x + 1/y), or of xy/(x + y)."""
    if not isinstance(node, Quotient) or not isinstance(node.under, Sum):
        return None
    terms = node.under.terms
    if is_one(node.over):
        unders = tuple(t.under for t in terms if isinstance(t, Quotient) and is_one(t.over))
        return unders if len(unders) == len(terms) else None
    if isinstance(node.over, Product) and set(node.over.factors) == set(terms) and len(terms) == 2:
        return terms
    return None


def last_reciprocal(node: Expr) -> Iterator[Expr]:
    inner = parallel(node)
    if inner is not None:
        yield total(quotient(ONE, x) for x in inner)
    elif isinstance(node, Quotient) and is_one(node.over):
        yield node.under


def series_for_parallel(node: Expr) -> Iterator[Expr]:
    inner = parallel(node)
    if inner is not None:
        yield total(inner)


def reciprocal_of_sum(node: Expr) -> Iterator[Expr]:
    inner = parallel(node)
    if inner is not None:
        yield quotient(ONE, total(inner))


def sum_for_root_of_squares(node: Expr) -> Iterator[Expr]:
    if isinstance(node, Root) and isinstance(node.inner, Sum):
        bases = []
        for term in node.inner.terms:
            inner = squared(term.inner if isinstance(term, Negative) else term)
            if inner is None:
                return
            bases.append(negated(inner) if isinstance(term, Negative) else inner)
        yield total(bases)


def one_point_gradient(node: Expr) -> Iterator[Expr]:
    if isinstance(node, Quotient) and isinstance(node.over, Sum) and isinstance(node.under, Sum):
        for up, along in zip(node.over.terms, node.under.terms, strict=False):
            plain = (n.inner if isinstance(n, Negative) else n for n in (up, along))
            yield quotient(*plain)


def linear_decay(node: Expr, *, transform: Transform) -> Iterator[Expr]:
    """N₀(½)ⁿ becomes N₀/n or the like: `divisor` in n, the exponent."""
    if not isinstance(node, Product | Quotient):
        return
    parts = factors(node)
    for place, (factor, _) in enumerate(parts):
        if isinstance(factor, Power) and numeric(factor.base) is not None and _has_letters(factor.exponent):
            exponent = factor.exponent.inner if isinstance(factor.exponent, Negative) else factor.exponent
            divisor = put(read_factor(transform["divisor"]), {"n": exponent})
            rest = [pair for i, pair in enumerate(parts) if i != place]
            yield quotient(assemble(rest), divisor)


def unbracket(node: Expr) -> Iterator[Expr]:
    if isinstance(node, Quotient) and isinstance(node.under, Product):
        first, *rest = node.under.factors
        yield Product(factors=(Quotient(over=node.over, under=first), *rest))


def divide_last_term(node: Expr) -> Iterator[Expr]:
    if isinstance(node, Quotient) and isinstance(node.over, Sum):
        *first, last = node.over.terms
        turned = isinstance(last, Negative)
        divided = Quotient(over=last.inner if isinstance(last, Negative) else last, under=node.under)
        yield Sum(terms=(*first, negated(divided) if turned else divided))


def largest_for_sum(node: Expr) -> Iterator[Expr]:
    if isinstance(node, Sum):
        yield from node.terms
    elif isinstance(node, Root) and isinstance(node.inner, Sum):
        yield from (base for term in node.inner.terms if (base := squared(term)) is not None)


def drop_exponent_factor(node: Expr) -> Iterator[Expr]:
    if isinstance(node, Product) and isinstance(node.factors[0], Number):
        yield product(node.factors[1:])


def rearrange(node: Expr) -> Iterator[Expr]:
    """Solved by the wrong operation: a quotient or product turned, a sign not changed."""
    for rule in (invert, product_for_quotient, quotient_for_product, flip_sign):
        yield from rule(node)


PLAIN: Mapping[str, Callable[[Expr], Iterator[Expr]]] = {
    "invert": invert,
    "product-for-quotient": product_for_quotient,
    "quotient-for-product": quotient_for_product,
    "drop-power": drop_power,
    "ignore-power": drop_power,
    "lower-power": lower_power,
    "one-for-mean": one_for_mean,
    "power-whole": power_whole,
    "drop-root": drop_root,
    "invert-under-root": invert_under_root,
    "flip-sign": flip_sign,
    "last-reciprocal": last_reciprocal,
    "series-for-parallel": series_for_parallel,
    "reciprocal-of-sum": reciprocal_of_sum,
    "sum-for-root-sum-squares": sum_for_root_of_squares,
    "one-point-gradient": one_point_gradient,
    "unbracket": unbracket,
    "divide-last-term": divide_last_term,
    "largest-for-sum": largest_for_sum,
    "drop-exponent-factor": drop_exponent_factor,
    "rearrange-symbols": rearrange,
    "rearrange-numbers": rearrange,
}
WITH_TRANSFORM: Mapping[str, Callable[..., Iterator[Expr]]] = {
    "drop-factor": drop_factor,
    "swap-function": swap_function,
    "drop-symbol": drop_symbol,
    "linear-decay": linear_decay,
}
WHOLE: Mapping[str, Callable[..., Iterator[Expr]]] = {"add-factor": add_factor}


def wrong_expressions(transform: Transform, expression: Expr) -> Iterator[Expr]:
    """Each change of the expression at one place; nothing for kinds that change data or values."""
    kind = transform["kind"]
    if kind in PLAIN:
        rule = PLAIN[kind]
        if kind == "invert" and not _has_letters(expression):
            rule = invert_number
        yield from everywhere(expression, rule)
        if kind == "flip-sign":
            yield negated(expression)
    elif kind in WITH_TRANSFORM:
        yield from everywhere(expression, partial(WITH_TRANSFORM[kind], transform=transform))
    elif kind in WHOLE:
        yield from WHOLE[kind](expression, transform=transform)
