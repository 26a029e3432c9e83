"""The final uncertainty a candidate gives: which number it is, whether it is right, follows, or goes wrong in a known way."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from marker.kinds.sides import Shown
from marker.kinds.typed_numbers import close, halves, the_number
from marker.kinds.uncertainty.compiled import RULES, Mode
from marker.kinds.uncertainty.evidence import Combination, Evidence, absolutes, half_share, is_datum, names_result
from marker.physics.evaluate import same_dimensions
from marker.physics.uncertainty import combine


class Standing(StrEnum):
    RIGHT = "right"
    FOLLOWS = "follows"
    LARGEST = "the largest percentage of the value"
    POWERLESS = "the percentage of a quantity whose power was left out"
    WRONG_RULE = "another rule's percentage of the value"
    WRONG = "wrong"


@dataclass(frozen=True, slots=True, kw_only=True)
class Final:
    """The number given as the final uncertainty. `unit` True for a right unit, False for a wrong one (or %), None for none."""

    shown: Shown
    standing: Standing
    unit: bool | None

    @property
    def line(self) -> int:
        return self.shown.line


_MISCOPIED = 0.5
"""How far, as a share, a value said to be the result may lie from it where a datum was copied wrongly."""


def final(e: Evidence) -> Final | None:
    """The last number that is a right, following or typically wrong uncertainty; else the last that can only be one; else None."""
    candidates = [v for v in e.values if v.typed and not _is_other(e, v)]
    for standing, targets in _targets(e):
        hits = [v for v in candidates if any(_is(e, v, t) for t in targets)]
        if hits:
            best = _with_unit(e, hits)
            after = [v for v in candidates if _certain(e, v) and _order(e, v) > _order(e, hits[-1])]
            if standing in (Standing.RIGHT, Standing.FOLLOWS) and after and not any(_is(e, after[-1], t) for t in targets):
                continue
            return Final(shown=best, standing=standing, unit=_unit(e, best))
    sure = [v for v in candidates if _certain(e, v)]
    return Final(shown=sure[-1], standing=Standing.WRONG, unit=_unit(e, sure[-1])) if sure else None


def _order(e: Evidence, value: Shown) -> int:
    return next(i for i, v in enumerate(e.values) if v is value)


def _targets(e: Evidence) -> Iterator[tuple[Standing, list[tuple[float, float]]]]:
    """Ranges in SI, in the order they are tried: the accepted one, what follows from own values, typical faults."""
    part = e.part
    yield Standing.RIGHT, [part.absolute_range]
    size = abs(part.result.si)
    results = [size, *own_results(e)]
    right = [c for c in e.combinations if c.rule == part.rule and not c.absolute]
    yield Standing.FOLLOWS, [_about(f * r) for f in _following(e, right) for r in results]
    shares = [c.share for c in part.components]
    if part.mode is not Mode.ABSOLUTE:
        yield Standing.LARGEST, [_about(max(shares) * r) for r in results]
    if part.mode is Mode.PERCENTAGES and len(shares) == 1 and part.components[0].power != 1.0:
        yield Standing.POWERLESS, [_about(part.components[0].fraction * r) for r in results]
    wrong = [combine(shares, rule) for rule in RULES if rule != part.rule]
    factor = 1.0 if part.mode is Mode.ABSOLUTE else size
    yield Standing.WRONG_RULE, [_about(w * factor) for w in wrong]


def _following(e: Evidence, combinations: list[Combination]) -> list[float]:
    """Own combined uncertainties, as fractions; in a sum nothing is left to multiply."""
    return [] if e.part.mode is Mode.ABSOLUTE else [c.value for c in combinations]


def _about(value: float) -> tuple[float, float]:
    return (value * 0.985, value * 1.015)


def own_results(e: Evidence) -> tuple[float, ...]:
    """Values given for the result itself, in SI, when they are near it."""
    found = []
    for value in e.values:
        for si in absolutes(e.part, value):
            named = value.expr == value.side.expr and value.side.subject == e.part.spec.find and any(not o.right for o in e.own)
            if value.typed and close(si, e.part.result.si, _half(e, value, si), _MISCOPIED if named else 0.02):
                found.append(si)
    return tuple(dict.fromkeys(found))


def is_share_of_result(e: Evidence, value: Shown, share: float) -> bool:
    """True for the number that is this share of the result, or of an own value of it."""
    return any(_is(e, value, _about(share * r)) for r in (abs(e.part.result.si), *own_results(e)))


def _half(e: Evidence, value: Shown, si: float) -> float:
    """Half the last place shown; for a number that ends in noughts, of the last place it must claim: 1100 may be 1.1 × 10³."""
    number = the_number(value.expr)
    if number is None or not value.raw or number.figures[0] >= number.figures[1]:
        return half_share(e.part, value, si)
    place = math.floor(math.log10(abs(value.raw))) - number.figures[0] + 1
    return min(0.5 * 10.0**place / abs(value.raw), 0.5) * abs(si)


def _is(e: Evidence, value: Shown, target: tuple[float, float]) -> bool:
    """True when a number is in the range, or its rounding reaches into it."""
    readings = absolutes(e.part, value) or ((value.raw * e.part.unit.scale,) if value.percent else ())
    if value.dimensions is not None and not value.percent and not readings:
        readings = (value.raw * e.part.unit.scale,)
    low, high = target
    for si in readings:
        half = min(_half(e, value, si), 0.5 * abs(si))
        if low - half * (1 + 1e-9) <= abs(si) <= high + half * (1 + 1e-9):
            middle = (low + high) / 2
            if low <= abs(si) <= high or abs(abs(si) - middle) <= half * (1 + 1e-9) + 0.005 * middle:
                return True
    return False


def _is_other(e: Evidence, value: Shown) -> bool:
    """True for a number that is something else: a datum, the result's value, an uncertainty of a quantity or a combined percentage."""
    part = e.part
    if is_datum(part, value) and not names_result(part, value.side.subject) and not _of_result(e, value):
        return True
    order = _order(e, value)
    if any(c.order == order and not c.absolute for c in e.combinations) and part.mode is not Mode.ABSOLUTE:
        return True
    result = any(close(si, part.result.si, _half(e, value, si), 0.005) for si in absolutes(part, value))
    return result and not names_result(part, value.side.subject)


def _of_result(e: Evidence, value: Shown) -> bool:
    """True for the uncertainty of a written result ± uncertainty."""
    both = halves(value.side.expr)
    number = the_number(both[0]) if both is not None else None
    if both is None or number is None or value.expr != both[1]:
        return False
    return close(number.value * e.part.unit.scale, e.part.result.si, number.half * e.part.unit.scale, 0.02)


def _certain(e: Evidence, value: Shown) -> bool:
    """True for a number that can only be the final uncertainty: in the result's unit, or named so."""
    part = e.part
    if value.dimensions is not None and not value.percent and any(part.result.dimensions or ()):
        return same_dimensions(value.dimensions, part.result.dimensions)
    return names_result(part, value.side.subject) and not value.percent


def _with_unit(e: Evidence, hits: list[Shown]) -> Shown:
    """The last of the hits that carries the right unit, else the last."""
    return next((v for v in reversed(hits) if _unit(e, v)), hits[-1])


def _unit(e: Evidence, value: Shown) -> bool | None:
    if value.percent:
        return False
    if value.dimensions is None:
        return None
    return same_dimensions(value.dimensions, e.part.result.dimensions)
