"""What a response to an uncertainty part shows: uncertainties of each quantity, how they were combined, the final uncertainty.

Everything is found by worth: a number is the percentage of a quantity when it is that percentage (or fraction) at the
candidate's rounding, and combined uncertainties are told by the rule that gives them from the candidate's own ones.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from marker.expression import Expr, Number, PlusMinus, Power, Product, Quotient, Root, Sum, walk
from marker.judging.digits import exchanged, one_figure_off
from marker.kinds.sides import Shown, shown, sides
from marker.kinds.typed_numbers import close, halves, power_of_ten_between, the_number
from marker.kinds.uncertainty.compiled import RULES, Component, Mode, UncertaintyPart
from marker.physics.evaluate import same_dimensions
from marker.physics.uncertainty import Combining, combine
from marker.reading.model import Line

_WORDS: tuple[tuple[Combining, re.Pattern[str]], ...] = (
    (
        "root sum of squares",
        re.compile(r"quadrature|pythag|root of (?:the )?(?:sum|squares)|(?:squar|sum)[^.]{0,60}\broot\b|root[^.]{0,40}\bsquares?\b"),
    ),
    ("largest", re.compile(r"\b(?:largest|biggest|greatest|highest|bigger|larger|dominant|dominates|negligible|insignificant)\b")),
    ("sum", re.compile(r"\badd(?:ed|ing|s)?\b|\bsum of (?:the )?(?:percent|uncertaint|%)")),
)
_MOST_OWN = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Own:
    """An own uncertainty of one quantity, as a share (see Component): `right` when it is the true one at its rounding."""

    symbol: str
    share: float
    right: bool
    line: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Combination:
    """One combining of uncertainties. `rule` gives it; `root_missing` when the squares were added and no root taken;
    `typed` is a number, otherwise arithmetic; `own` from a wrong own share; `value` the share it states, in the space of shares;
    `absolute` when absolute uncertainties of different quantities were combined as they stand; `powerless` when a power was left out."""

    rule: Combining
    value: float
    line: int
    chain: int
    order: int
    typed: bool
    own: bool = False
    root_missing: bool = False
    absolute: bool = False
    percent: bool = False
    powerless: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """The response with all that was found in it. `words` are the rules named in words with their lines."""

    part: UncertaintyPart
    lines: Sequence[Line]
    values: tuple[Shown, ...]
    own: tuple[Own, ...]
    combinations: tuple[Combination, ...]
    words: tuple[tuple[Combining, int], ...]

    def own_of(self, symbol: str) -> tuple[Own, ...]:
        return tuple(o for o in self.own if o.symbol == symbol)


_NOTHING = Combination(rule="sum", value=0.0, line=0, chain=0, order=0, typed=False)


def gather(part: UncertaintyPart, lines: Sequence[Line]) -> Evidence:
    """Everything found in a response."""
    values = shown(sides(lines, part.units))
    own = tuple(_own(part, values))
    combinations = tuple(_combinations(part, values, own))
    return Evidence(part=part, lines=lines, values=values, own=own, combinations=combinations, words=tuple(_words(lines)))


def _words(lines: Sequence[Line]) -> Iterator[tuple[Combining, int]]:
    """The rules a line names in words; roots and squares outdo "add", which goes with both."""
    for line in lines:
        if line.withdrawn or not line.words:
            continue
        for rule, pattern in _WORDS:
            if pattern.search(line.words.lower()):
                yield rule, line.number
                break


def shares(part: UncertaintyPart, value: Shown) -> tuple[float, ...]:
    """What a value may be as a share: a fraction or a percentage, or for a sum an absolute uncertainty in SI."""
    if part.mode is Mode.ABSOLUTE:
        return absolutes(part, value)
    if value.percent:
        return (value.si,)
    if value.dimensions is not None and any(value.dimensions):
        return ()
    return (value.raw / 100.0, value.raw)


def absolutes(part: UncertaintyPart, value: Shown) -> tuple[float, ...]:
    """What a value may be as an absolute uncertainty of the result, in SI: by its unit, or bare in the result's unit."""
    if value.percent:
        return ()
    if value.dimensions is not None:
        return (value.si,) if same_dimensions(value.dimensions, part.result.dimensions) else ()
    return (value.raw * part.unit.scale,)


def half_share(part: UncertaintyPart, value: Shown, share: float) -> float:
    """Half the last place shown, in the space of shares, never more than half the share."""
    if not value.raw:
        return 0.0
    return min(abs(value.half_raw / value.raw * share), 0.5 * abs(share))


def is_share(part: UncertaintyPart, value: Shown, target: float, slack: float = 0.01) -> float | None:
    """The share a value states when it is the target at its rounding; None when it is not."""
    for share in shares(part, value):
        if share and close(share, target, half_share(part, value, share), slack):
            return share
    return None


def is_datum(part: UncertaintyPart, value: Shown) -> bool:
    """True for a number of the question: a value or an uncertainty as given."""
    if value.percent or not value.typed:
        return False
    data = [d for c in part.components for d in ((c.value, c.uncertainty) if not c.readings else ())]
    if value.dimensions is not None:
        return any(same_dimensions(value.dimensions, d.dimensions) and close(value.si, d.si, slack=1e-9) for d in data)
    return any(close(value.raw, d.raw, slack=1e-9) for d in data)


def _own(part: UncertaintyPart, values: Sequence[Shown]) -> Iterator[Own]:
    """Own uncertainties of the quantities: right ones by worth, wrong ones by the quotient they come from."""
    for component in part.components:
        slips = list(_slips(part, component, values))
        typed = [o for v in values if v.typed and (o := _right_own(part, component, v)) is not None]
        worked = [o for v in values if not v.typed and (o := _right_own(part, component, v)) is not None]
        if slips and not typed:
            yield from slips
        else:
            yield from (typed[:_MOST_OWN] or worked[:1])


def _right_own(part: UncertaintyPart, component: Component, value: Shown) -> Own | None:
    if part.mode is Mode.ABSOLUTE:
        targets: tuple[tuple[float, float], ...] = ((component.share, 1.0),)
    elif is_datum(part, value):
        return None
    else:
        targets = ((component.fraction, component.power), (component.share, 1.0))
    for target, factor in dict.fromkeys(targets):
        share = is_share(part, value, target)
        if share is not None:
            return Own(symbol=component.symbol, share=share * factor, right=True, line=value.line)
    return None


def _slips(part: UncertaintyPart, component: Component, values: Sequence[Shown]) -> Iterator[Own]:
    """A number given for uncertainty/value, perhaps times 100, that is not what the quotient comes to."""
    if part.mode is Mode.ABSOLUTE:
        return
    for value in values:
        if value.typed or value.expr != value.side.expr:
            continue
        if _miscopied_quotient(part, component, value):
            share = value.raw / 100.0 if value.raw > 0.2 else value.raw
            yield Own(symbol=component.symbol, share=share * component.power, right=False, line=value.line)
        if not is_its_quotient(component, value):
            continue
        later = [v for v in values if v.side.chain == value.side.chain and v.typed and v.side.place == value.side.place + 1]
        for number in later[:1]:
            if _right_own(part, component, number) is not None:
                continue
            share = number.si if number.percent else (number.raw / 100.0 if number.raw > 0.2 else number.raw)
            yield Own(symbol=component.symbol, share=share * component.power, right=False, line=number.line)


def is_its_quotient(component: Component, value: Shown) -> bool:
    """True for uncertainty/value of one quantity, numbers as given, with or without the 100."""
    if not any(close(value.raw, component.fraction * factor, slack=1e-6) for factor in (1.0, 100.0)):
        return False
    numbers = [n.value for n in walk(value.expr) if isinstance(n, Number)]
    return all(any(close(n, d.raw, slack=1e-9) for n in numbers) for d in (component.uncertainty, component.value))


def _miscopied_quotient(part: UncertaintyPart, component: Component, value: Shown) -> bool:
    """True for uncertainty/value with one of the two copied wrongly, its figures exchanged or one of them another."""
    if not isinstance(value.expr, Quotient | Product) or _right_own(part, component, value) is not None:
        return False
    numbers = [n for n in walk(value.expr) if isinstance(n, Number) and n.value != 100]
    if len(numbers) != 2 or not any(isinstance(n, Quotient) for n in walk(value.expr)):
        return False
    same = [close(n.value, d.raw, slack=1e-9) for n, d in zip(numbers, (component.uncertainty, component.value), strict=True)]
    given = f"{(component.value if same[0] else component.uncertainty).raw:.10g}"
    other = numbers[1 if same[0] else 0].text
    return sum(same) == 1 and (exchanged(other, given) or one_figure_off(other, given))


def own_sets(part: UncertaintyPart, own: Sequence[Own]) -> Iterator[tuple[tuple[float, ...], bool]]:
    """Every choice of one share per quantity, true or own, with whether all of them are right; the true ones first."""
    yield tuple(c.share for c in part.components), True
    choices = [[(o.share, o.right) for o in own if o.symbol == c.symbol] or [(c.share, True)] for c in part.components]
    for picked in itertools.islice(itertools.product(*choices), 64):
        yield tuple(p[0] for p in picked), all(p[1] for p in picked)


def _combinations(part: UncertaintyPart, values: Sequence[Shown], own: Sequence[Own]) -> Iterator[Combination]:
    if len(part.components) < 2:
        return
    sets = list(own_sets(part, own))
    standing = {v.side.chain for v in values if _of_data(part, v) and any(True for _ in _as_they_stand(part, v, _NOTHING))}
    for order, value in enumerate(values):
        if value.side.chain in standing:
            if _of_data(part, value):
                here = Combination(rule=part.rule, value=0.0, line=value.line, chain=value.side.chain, order=order, typed=value.typed)
                yield from _as_they_stand(part, value, here)
            continue
        if not value.percent and _of_another_kind(value):
            continue
        if value.typed and (is_datum(part, value) or any(_right_own(part, c, value) for c in part.components)):
            continue
        if not value.typed and not (_combines(value.expr) and _of_its_numbers(part, value)):
            continue
        yield from _combination(part, value, order, sets)


def _of_another_kind(value: Shown) -> bool:
    """Numbers that no share can be: the 2.73 of (2.73 ± 0.04) × 10⁵ N, the 4 of πd²/4."""
    if any(isinstance(n, PlusMinus) for n in walk(value.side.expr)):
        return True
    number = the_number(value.expr)
    return number is not None and value.expr != value.side.expr and number.figures[1] == 1 and number.value in (2.0, 3.0, 4.0)


def _of_its_numbers(part: UncertaintyPart, value: Shown) -> bool:
    """In a sum, True only for arithmetic on the uncertainties themselves; percentages may be rounded, so there anything passes."""
    if part.mode is not Mode.ABSOLUTE:
        return True
    numbers = [n.value for n in walk(value.expr) if isinstance(n, Number)]
    return all(any(power_of_ten_between(n, c.uncertainty.raw, slack=1e-9) is not None for n in numbers) for c in part.components)


def _of_data(part: UncertaintyPart, value: Shown) -> bool:
    """True for arithmetic on the absolute uncertainties of all quantities and on no value of one: 0.5 + 0.3, not 0.5/46 + 0.3/10.4."""
    if value.typed or part.mode is not Mode.PERCENTAGES:
        return False
    numbers = [n.value for n in walk(value.expr) if isinstance(n, Number)]
    whole = all(any(close(n, c.uncertainty.raw, slack=1e-9) for n in numbers) for c in part.components)
    return whole and not any(close(n, c.value.raw, slack=1e-9) for n in numbers for c in part.components)


def _combines(expr: Expr) -> bool:
    """True for arithmetic that could combine uncertainties: a root or a sum at its head, perhaps with a factor."""
    if isinstance(expr, Root | Sum):
        return True
    if isinstance(expr, Power):
        return isinstance(expr.base, Sum)
    if isinstance(expr, Product):
        return any(_combines(f) for f in expr.factors)
    return isinstance(expr, Quotient) and _combines(expr.over)


def _combination(part: UncertaintyPart, value: Shown, order: int, sets: Sequence[tuple[tuple[float, ...], bool]]) -> Iterator[Combination]:
    """What combining a value is, by the first rule and the first own shares that give it; the ruling's own rule is tried first."""
    chain, typed, percent = value.side.chain, value.typed, value.percent
    here = Combination(rule=part.rule, value=0.0, line=value.line, chain=chain, order=order, typed=typed, percent=percent)
    rules = sorted(RULES, key=lambda r: r != part.rule)
    for rule, (picked, right) in itertools.product(rules, sets):
        if rule == "largest" and not value.typed:
            continue
        targets = part.admissible(picked) if rule == part.rule else (combine(picked, rule),)
        share = next((s for t in targets if (s := is_share(part, value, t)) is not None), None)
        if share is not None:
            yield replace(here, rule=rule, value=share, own=not right)
            return
    bare = tuple(c.fraction for c in part.components)
    if part.mode is Mode.PERCENTAGES and any(c.power != 1.0 for c in part.components):
        share = is_share(part, value, combine(bare, part.rule), slack=0.015)
        if share is not None:
            yield replace(here, value=share, powerless=True)
            return
    yield from _root_missing(value, sets, here)
    yield from _as_they_stand(part, value, here)


def _root_missing(value: Shown, sets: Sequence[tuple[tuple[float, ...], bool]], here: Combination) -> Iterator[Combination]:
    for picked, right in sets:
        squares = math.fsum(s * s for s in picked)
        for size, share in ((squares, value.raw), (squares * 1e4, value.raw / 100.0)):
            if close(value.raw, size, min(value.half_raw, 0.5 * abs(value.raw)), 0.01):
                yield replace(here, rule="root sum of squares", value=share, own=not right, root_missing=True)
                return


def _as_they_stand(part: UncertaintyPart, value: Shown, here: Combination) -> Iterator[Combination]:
    """Absolute uncertainties of different quantities combined: arithmetic only, since a bare number may be so by coincidence."""
    if part.mode is not Mode.PERCENTAGES or value.typed:
        return
    plain = [c.uncertainty.raw for c in part.components]
    raised = [c.uncertainty.raw * c.power for c in part.components]
    for rule, sizes in itertools.product(RULES[:2], (plain, raised)):
        target = combine(sizes, rule)
        if close(value.raw, target, min(value.half_raw, 0.1 * target), 0.005) and not value.percent:
            yield replace(here, rule=rule, value=value.raw, absolute=True)
            return


def stated_pairs(part: UncertaintyPart, lines: Sequence[Line]) -> Iterator[tuple[Expr, Expr, int]]:
    """Every value ± uncertainty written, with its line."""
    for side in sides(lines, part.units):
        both = halves(side.expr)
        if both is not None:
            yield both[0], both[1], side.line


def names_result(part: UncertaintyPart, subject: str) -> bool:
    """True for the uncertainty of the result by its letter, by another letter with Δ, or by the word."""
    if subject.lower() in ("uncertainty", "error", "absolute uncertainty", "final uncertainty"):
        return True
    bare = subject.removeprefix("Δ").removeprefix("δ")
    return bare != subject and bare not in {c.symbol for c in part.components if c.symbol != part.spec.find}
