"""What follows from the gradient, judged as the calculation it is: the gradient is a value carried into it, and an own one is followed."""

from __future__ import annotations

from collections.abc import Sequence

from marker.awarding.calculation import mark_calculation
from marker.kinds.gradient.carrying import LINE
from marker.kinds.gradient.claims import Working
from marker.kinds.gradient.compiled import GradientPart
from marker.kinds.gradient.wanted import GRADIENT, INTERCEPT
from marker.kinds.gradient.worked import without_working
from marker.kinds.marking import Finding
from marker.reading.model import Line
from marker.results import Award, OwnValue, PartResult


def judged_onward(part: GradientPart, lines: Sequence[str], found: Working, own: Sequence[float]) -> PartResult | None:
    """The response marked as a calculation from the own gradient and intercept; None where there is no such calculation."""
    if part.onward is None:
        return None
    carried = {f"{LINE}.{GRADIENT}#{i}": _own(GRADIENT, v * part.scale, v) for i, v in enumerate(own)}
    scale = part.y.unit.scale
    for i, claim in enumerate(found.of(INTERCEPT)):
        si = claim.shown.si if claim.shown.dimensions is not None else claim.shown.raw * scale
        carried[f"{LINE}.{INTERCEPT}#{i}"] = _own(INTERCEPT, si, claim.shown.raw)

    def change(read: tuple[Line, ...]) -> tuple[Line, ...]:
        return without_working(part, read)

    return mark_calculation(part.onward, lines, carried, change)


def _own(symbol: str, si: float, typed: float) -> OwnValue:
    return OwnValue(symbol=symbol, value=si, typed=f"{typed:.6g}")


def award_of(result: PartResult | None, kind: str) -> Award | None:
    """The award of a point of the calculation, where nothing in it waits for a person."""
    if result is None or result.referred:
        return None
    return next((a for a in result.awards if a.kind == kind), None)


def earned_by(award: Award) -> Finding:
    """A point earned in the calculation, as a finding."""
    return Finding(earned=True, reason=award.reason, lines=award.lines, followed=award.followed_through)
