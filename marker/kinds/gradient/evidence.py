"""What a response to a gradient part holds, and how its numbers stand: right, following from an own gradient, or not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from marker.kinds.gradient.claims import Claim, Working, in_table_units, unit_is, wanted_value
from marker.kinds.gradient.compiled import GradientPart
from marker.kinds.gradient.relation import Stated, is_identity, is_opposite, is_reciprocal
from marker.kinds.gradient.slopes import Slope, Way
from marker.kinds.gradient.wanted import GRADIENT, Wanted
from marker.kinds.typed_numbers import close, power_of_ten_between
from marker.reading.model import Line
from marker.results import PartResult

_NO_CREDIT = frozenset((Way.INVERTED, Way.ONE_POINT, Way.ONE_POINT_INVERTED, Way.MISMATCHED, Way.MISREAD))


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """The response with all that was found in it."""

    part: GradientPart
    lines: Sequence[Line]
    working: Working
    stated: tuple[Stated, ...]
    own: tuple[float, ...] = field(default=())
    onward: PartResult | None = None

    @property
    def right_slopes(self) -> tuple[Slope, ...]:
        return tuple(s for s in self.working.slopes if s.way is Way.RIGHT)

    @property
    def headed_slopes(self) -> tuple[Slope, ...]:
        """Right quotients of readings whose power of ten was left in the heading of an axis."""
        return tuple(s for s in self.right_slopes if s.headed is not None)

    @property
    def called_gradient(self) -> bool:
        """True when an inverted quotient is called the gradient."""
        named = {c.shown.side.chain for c in self.working.of(GRADIENT) if c.named}
        return any(s.inverted and (s.side.subject == GRADIENT or s.side.chain in named) for s in self.working.slopes)

    @property
    def exchange_followed(self) -> bool:
        """True when numbers of the two axes put in each other's place cost the gradient alone: as the paper rules for misread data, or
        where it follows wrong physics."""
        ruled = self.part.convention
        return ruled.follow_wrong_physics or ruled.transcription_slip == "substitution mark, followed"

    @property
    def upside_down(self) -> bool:
        """True when the only gradient is a change of x over a change of y, and the paper does not follow that."""
        if self.exchange_followed:
            return False
        quotients = self.working.slopes
        return any(s.inverted for s in quotients) and all(s.inverted for s in quotients) and not self.at_once and not self.other_axis

    @property
    def at_once(self) -> tuple[Slope, ...]:
        """Quotients that are the wanted quantity itself and are not called the gradient: change of x over change of y where it is the
        reciprocal, a difference taken the other way round where it has the opposite sign."""
        wanted = self.part.wanted
        if wanted is None or self.called_gradient:
            return ()
        way = Way.INVERTED if is_reciprocal(self.part, wanted) else Way.SIGN if is_opposite(self.part, wanted) else None
        return tuple(s for s in self.working.slopes if s.way is way and s.side.subject != GRADIENT)

    @property
    def other_axis(self) -> bool:
        """True when change of x over change of y is called the gradient and the answer is right: the graph may have been turned."""
        wanted = self.part.wanted
        if wanted is None or not is_reciprocal(self.part, wanted) or not self.called_gradient or self.right_slopes:
            return False
        return self.answer is not None and is_right(self, self.answer)

    @property
    def answer(self) -> Claim | None:
        """The last number given for the wanted quantity, one offered as another answer only where there is no other."""
        claims = self.working.of(self.part.wanted.symbol) if self.part.wanted is not None else ()
        settled = [c for c in claims if not c.shown.side.alternative]
        return settled[-1] if settled else claims[-1] if claims else None


def gradients_in_range(e: Evidence) -> tuple[Claim, ...]:
    """Right gradients, but for those a wrong quotient on the same line came to by coincidence."""
    low, high = e.part.gradient_range
    right = (c for c in e.working.of(GRADIENT) if in_range(in_table_units(e.part, c.shown), low, high))
    return tuple(c for c in right if not _by_coincidence(e, c))


def _by_coincidence(e: Evidence, claim: Claim) -> bool:
    ways = [s.way for s in e.working.slopes if s.side.chain == claim.shown.side.chain]
    return bool(ways) and all(w in _NO_CREDIT for w in ways)


def heading_left_out(e: Evidence, value: float) -> bool:
    """True for a gradient of the numbers without the power of ten in the heading of an axis, at its rounding."""
    frames = [s.headed for s in e.headed_slopes]
    return any(f is not None and in_range(value, *f.gradient_range) for f in frames)


def in_range(value: float, low: float, high: float) -> bool:
    """Ends included."""
    slack = 1e-9 * max(abs(low), abs(high))
    return low - slack <= value <= high + slack


def is_right(e: Evidence, claim: Claim) -> bool:
    """True when a number given for the wanted quantity is in the accepted range, in its own unit or, bare, in one that fits."""
    wanted = e.part.wanted
    assert wanted is not None
    return any(in_range(v, *wanted.within) for v in _si_readings(e, wanted, claim))


def _si_readings(e: Evidence, wanted: Wanted, claim: Claim) -> tuple[float, ...]:
    """What a claim may be in SI: by its unit; bare, in the unit asked for or in the unit the table's units give."""
    value = claim.shown
    if value.dimensions is not None:
        if unit_is(value, wanted.unit.dimensions):
            return (value.si,)
        return (value.raw * wanted.unit.scale, value.raw * _natural(e, wanted))
    return (value.raw * wanted.unit.scale, value.raw * _natural(e, wanted))


def _natural(e: Evidence, wanted: Wanted) -> float:
    """SI value of one unit of the wanted quantity as the table's own units give it (N/mm for a table in mm and N)."""
    value = wanted.from_line(e.part.gradient_value(e.part.line.gradient), e.part.intercept_value(e.part.line.intercept))
    return value.si / value.raw if value is not None and value.raw else wanted.unit.scale


def follows(e: Evidence, claim: Claim) -> bool:
    """True when the number follows from an own gradient, at any rounding of it."""
    wanted = e.part.wanted
    assert wanted is not None
    for own in e.own:
        expected = wanted_value(e.part, own)
        if expected is None:
            continue
        half = claim.shown.half_si if claim.shown.dimensions is not None else claim.shown.half_raw * wanted.unit.scale
        if any(close(v, expected[0], half, slack=0.01) for v in _si_readings(e, wanted, claim)):
            return True
    return False


def shift_from_own(e: Evidence, claim: Claim) -> int | None:
    """The power of ten between the number and what follows from an own gradient; None when it is no such multiple."""
    wanted = e.part.wanted
    assert wanted is not None
    found: list[int] = []
    for own in e.own or (e.part.line.gradient,):
        expected = wanted_value(e.part, own)
        if expected is not None:
            for value in _si_readings(e, wanted, claim):
                shift = power_of_ten_between(value, expected[0])
                found.extend(() if shift is None else (shift,))
    return min(found, key=abs) if found else None


def taken_as_it_stands(e: Evidence, claim: Claim) -> bool:
    """True when the wanted quantity was put equal to an own gradient though the relationship says otherwise."""
    wanted = e.part.wanted
    assert wanted is not None
    if is_identity(e.part, wanted) or shift_from_own(e, claim) == 0:
        return False
    owns = e.own or ((e.part.line.gradient,) if claim.named else ())
    for own in owns:
        if any(power_of_ten_between(v, own) is not None for v in (claim.shown.raw, claim.shown.si / e.part.scale)):
            return shift_from_own(e, claim) is None
    return False
