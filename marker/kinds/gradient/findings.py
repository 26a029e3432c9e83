"""One finding per kind of marking point of a gradient part: earned or not, why, on which lines."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from marker.kinds.fault_texts import fault
from marker.kinds.figures import figures_fault
from marker.kinds.gradient.claims import Claim, in_table_units, unit_is, wanted_value
from marker.kinds.gradient.evidence import (
    Evidence,
    follows,
    gradients_in_range,
    heading_left_out,
    in_range,
    is_right,
    shift_from_own,
    taken_as_it_stands,
)
from marker.kinds.gradient.extremes import uncertainty, worst_line
from marker.kinds.gradient.onward import award_of, earned_by
from marker.kinds.gradient.relation import Standing
from marker.kinds.gradient.slopes import Slope, Way
from marker.kinds.gradient.wanted import GRADIENT, INTERCEPT
from marker.kinds.marking import Finding, lost
from marker.kinds.typed_numbers import close, holds_number, letters, power_of_ten_between, unit_text

_OTHERWISE = "another expression of the gradient"
_TURNED = "the other axis may have been meant as vertical, and the answer is right"
_FITTED = re.compile(r"\b(?:least.squares?|regression|linest|linreg|best.?fit|line of fit|trend.?line|calculator|spreadsheet)\b")
_SLOPE_FAULTS: Mapping[Way, str] = MappingProxyType(
    {
        Way.INVERTED: "gradient-inverted",
        Way.ONE_POINT: "gradient-one-point",
        Way.ONE_POINT_INVERTED: "gradient-one-point",
        Way.OFF_LINE: "point-off-line",
        Way.MISMATCHED: "points-mismatched",
        Way.MISREAD: "reading-miscopied",
        Way.SIGN: "gradient-sign",
    }
)


def method(e: Evidence) -> Finding:
    """Looks for a quotient of two points on the line (or a point and the origin), a fitted line, or a right result that implies one."""
    if e.right_slopes:
        return _apart(e, max(e.right_slopes, key=lambda s: s.apart or 0.0))
    if e.at_once:
        reason = "A quotient of the differences of two points, taken at once for the quantity wanted."
        return Finding(earned=True, reason=reason, lines=(e.at_once[0].line,))
    wrong = [s for s in e.working.slopes if s.way in _SLOPE_FAULTS]
    if wrong and wrong[-1].way is Way.SIGN:
        found = fault("gradient-sign", wrong[-1].line)
        return Finding(earned=True, reason="Differences of two points on the line.", lines=(wrong[-1].line,), faults=(found,))
    if wrong:
        return _wrong_method(e, wrong[-1])
    right = gradients_in_range(e)
    fitted = [line.number for line in e.lines if not line.withdrawn and _FITTED.search((line.words or line.text).lower())]
    if fitted and e.working.of(GRADIENT):
        return Finding(earned=True, reason="The gradient of a fitted line is quoted.", lines=(fitted[0],))
    if right:
        return Finding(earned=True, reason="Implied by the right gradient.", lines=(right[0].line,), implied=True)
    return _from_answer(e, "No two points, and no gradient that would imply them.")


def _apart(e: Evidence, slope: Slope) -> Finding:
    """A right quotient, held to the distance the scheme asks for."""
    share = "" if slope.apart is None else f"{100 * slope.apart:.0f} %"
    if slope.apart is not None and e.part.spec.apart is not None and slope.apart < e.part.spec.apart - 1e-9:
        close_by = fault("points-close", slope.line, apart=share)
        return lost(close_by)
    return Finding(earned=True, reason="Change of y over change of x for points on the line.", lines=(slope.line,))


def _wrong_method(e: Evidence, slope: Slope) -> Finding:
    found = fault(_SLOPE_FAULTS[slope.way], slope.line, x=e.part.x.symbol, y=e.part.y.symbol)
    if e.other_axis:
        return Finding(earned=True, reason="Two points on the line.", lines=(slope.line,), faults=(found,), doubt=_TURNED)
    if slope.way is Way.INVERTED and slope.of_points_shown and e.exchange_followed:
        return Finding(earned=True, reason="Two points on the line; their quotient is upside down.", lines=(slope.line,), faults=(found,))
    if slope.way is Way.MISREAD and e.exchange_followed:
        return Finding(earned=True, reason="Two points; one number of them is misread.", lines=(slope.line,), faults=(found,))
    return lost(found)


def gradient(e: Evidence) -> Finding:
    """Looks for a value in the accepted range; a right answer worked straight from a quotient implies it."""
    right, claims = gradients_in_range(e), e.working.of(GRADIENT)
    if right:
        later = [c for c in claims if c.order > right[-1].order and _contradicts(e, c)]
        if later:
            found = fault("two-answers", later[-1].line)
            return Finding(earned=False, reason="A right gradient is contradicted by another.", lines=(later[-1].line,), faults=(found,))
        return Finding(earned=True, reason="Gradient in the accepted range.", lines=(right[0].line,))
    sizes = [c for c in claims if _size_only(e, c)] if not any(c.named for c in claims) else []
    if sizes and _used_with_sign(e):
        return Finding(earned=True, reason="Its size is given, and its sign used in what follows.", lines=(sizes[0].line,))
    if claims and _size_only(e, claims[-1]) and e.part.spec.either_sign:
        return Finding(earned=True, reason="Its size is in the accepted range; the sign need not be given.", lines=(claims[-1].line,))
    if claims and _size_only(e, claims[-1]):
        doubt = "the gradient is negative and its size alone is given; some let that stand"
        return lost(fault("gradient-sign", claims[-1].line), doubt=doubt)
    if claims and heading_left_out(e, in_table_units(e.part, claims[-1].shown)) and any(k == "answer" for k, _ in e.part.points):
        reason = "Right but for the power of ten of an axis, which the answer needs."
        return Finding(earned=True, reason=reason, lines=(claims[-1].line,))
    if claims:
        return _wrong_value(e, claims[-1])
    if e.answer is not None and is_right(e, e.answer) and (e.right_slopes or e.at_once):
        return Finding(earned=True, reason="Implied by the answer, which is worked from it at once.", lines=(e.answer.line,))
    if e.working.slopes:
        return Finding(earned=False, reason="The quotient is not worked out.", lines=(e.working.slopes[-1].line,))
    return _from_answer(e, "No gradient is given.")


def _contradicts(e: Evidence, claim: Claim) -> bool:
    """True for another number called the gradient, or got from another quotient; its size alone is no other number."""
    if not claim.named and not any(s.side.chain == claim.shown.side.chain for s in e.working.slopes):
        return False
    value, right = in_table_units(e.part, claim.shown), e.part.line.gradient
    return power_of_ten_between(abs(value), abs(right), slack=0.15) is None


def _size_only(e: Evidence, claim: Claim) -> bool:
    """True for the right size of a falling line's gradient without its sign."""
    low, high = e.part.gradient_range
    return high < 0 and in_range(-in_table_units(e.part, claim.shown), low, high)


def _used_with_sign(e: Evidence) -> bool:
    """True when the quantity wanted comes out right from the size of a gradient that is negative."""
    award = award_of(e.onward, "answer")
    return (award is not None and bool(award.mark)) or (e.answer is not None and is_right(e, e.answer))


def _wrong_value(e: Evidence, claim: Claim) -> Finding:
    value = in_table_units(e.part, claim.shown)
    if heading_left_out(e, value):
        return lost(fault("axis-power-left-out", claim.line))
    reason, code = "Gradient outside the accepted range.", ""
    same_chain = [s for s in e.right_slopes if s.side.chain == claim.shown.side.chain]
    if power_of_ten_between(value, e.part.line.gradient, slack=0.03) is not None:
        code = "power-of-ten"
    elif same_chain and close(value, same_chain[-1].value, claim.shown.half_raw, slack=0.0):
        code = "gradient-rounding"
    elif same_chain:
        return lost(fault("gradient-arithmetic", claim.line, value=f"{same_chain[-1].value:.3g}", typed=f"{value:.4g}"))
    faults = (fault(code, claim.line),) if code else ()
    return Finding(earned=False, reason=faults[0].teacher if faults else reason, lines=(claim.line,), faults=faults)


def intercept(e: Evidence) -> Finding:
    """Looks for an intercept in the accepted range, by its unit or in the table's."""
    scale = e.part.y.unit.scale
    for claim in e.working.of(INTERCEPT):
        values = (claim.shown.si / scale,) if unit_is(claim.shown, e.part.y.unit.dimensions) else (claim.shown.raw, claim.shown.raw / scale)
        if any(in_range(v, *e.part.intercept_range) for v in values):
            return Finding(earned=True, reason="Intercept in the accepted range.", lines=(claim.line,))
    if e.working.of(INTERCEPT):
        return Finding(earned=False, reason="Intercept outside the accepted range.", lines=(e.working.of(INTERCEPT)[-1].line,))
    needed = e.part.wanted is not None and INTERCEPT in letters(e.part.wanted.tree)
    return _from_answer(e, "No intercept is given.") if needed else Finding(earned=False, reason="No intercept is given.")


def relationship(e: Evidence) -> Finding:
    """Looks for the relationship between gradient and wanted quantity, stated, or used on an own gradient."""
    found = _relationship(e)
    award = award_of(e.onward, "relationship")
    return earned_by(award) if award is not None and award.mark and (not found.earned or found.doubt) else found


def _relationship(e: Evidence) -> Finding:
    wanted = e.part.wanted
    assert wanted is not None
    true = [s for s in e.stated if s.standing is Standing.TRUE]
    false = [s for s in e.stated if s.standing is Standing.FALSE]
    if true:
        return Finding(earned=True, reason="Relationship with the gradient stated.", lines=(true[-1].line,))
    claim = e.answer
    if claim is not None and e.other_axis:
        return Finding(earned=True, reason="Right for the graph turned.", lines=(claim.line,), doubt=_TURNED)
    worked = _used_in_arithmetic(e, claim.shown.side.chain) if claim is not None else None
    if worked is not None and not false:
        return worked
    if claim is not None and (taken_as_it_stands(e, claim) or (false and not is_right(e, claim))):
        seen = "the gradient itself" if taken_as_it_stands(e, claim) else _OTHERWISE
        return lost(fault("relationship-to-gradient", claim.line, symbol=wanted.symbol, seen=seen))
    if false:
        found = fault("relationship-to-gradient", false[-1].line, symbol=wanted.symbol, seen=_OTHERWISE)
        doubt = "the answer is right although the relationship as written is not" if claim is not None and is_right(e, claim) else ""
        return lost(found, doubt=doubt)
    if e.at_once:
        return Finding(earned=True, reason="Used at once: the quotient is the quantity wanted.", lines=(e.at_once[0].line,))
    if claim is not None and e.own and shift_from_own(e, claim) is not None:
        return Finding(earned=True, reason="Used: the number follows from the gradient.", lines=(claim.line,))
    return _used_in_arithmetic(e) or _from_answer(e, "The gradient is not related to the quantity wanted.")


def _used_in_arithmetic(e: Evidence, chain: int | None = None) -> Finding | None:
    """A piece of arithmetic (of one statement, where that is given) that comes to what the own gradient gives, whatever came of it."""
    for own in e.own:
        expected = wanted_value(e.part, own)
        for value in e.working.values:
            if expected is None or value.typed or any(value.side == s.side for s in e.working.slopes):
                continue
            if chain is not None and value.side.chain != chain:
                continue
            held = holds_number(value.expr, own) or holds_number(value.expr, abs(own))
            if held and power_of_ten_between(value.raw, expected[1]) is not None:
                return Finding(earned=True, reason="Used on the own gradient.", lines=(value.line,))
    return None


def answer(e: Evidence) -> Finding:
    """Looks for the final value with its unit and figures; an own gradient is followed, but for one that is upside down."""
    if _left_negative(e):
        claim = e.answer
        assert claim is not None and e.part.wanted is not None
        return Finding(earned=False, reason=f"{e.part.wanted.symbol} is left negative, and it is positive.", lines=(claim.line,))
    found, award = _answer(e), award_of(e.onward, "answer")
    if award is not None and award.mark and not found.earned and not any(f.code == "two-answers" for f in found.faults):
        found = earned_by(award)
    if found.earned and found.followed and e.headed_slopes:
        claim = e.answer
        return lost(fault("axis-power-left-out", claim.line if claim is not None else None))
    if found.earned and found.followed and e.upside_down:
        return Finding(earned=False, reason="It follows from a gradient that is upside down.", lines=found.lines)
    return found


def _left_negative(e: Evidence) -> bool:
    """True for a negative number given for a quantity that is positive, as where the minus of "gradient = −r" is not used."""
    wanted = e.part.wanted
    return e.answer is not None and wanted is not None and e.answer.shown.raw < 0 < min(wanted.within)


def _answer(e: Evidence) -> Finding:
    claim = e.answer
    if claim is None:
        return Finding(earned=False, reason="No value is given for the quantity wanted.")
    offered = _offered_twice(e, claim)
    if offered is not None:
        return offered
    true = relationship(e)
    if not true.earned and not true.doubt:
        return Finding(earned=False, reason="It rests on a wrong relationship.", lines=(claim.line,))
    right = is_right(e, claim)
    followed = not right and e.part.convention.follow_within_part and follows(e, claim)
    if not right and not followed:
        return _wrong_answer(e, claim)
    unit = unit_finding(e)
    if e.part.convention.unit_fault == "answer mark" and not unit.earned:
        return unit
    found = figures_fault(claim.shown, e.part.figures, e.part.convention)
    if found is not None:
        return lost(found)
    reason = "Right on the own gradient." if followed else "Right value with its unit."
    return Finding(earned=True, reason=reason, lines=(claim.line,), followed=followed, doubt=_TURNED if e.other_axis else "")


def _offered_twice(e: Evidence, last: Claim) -> Finding | None:
    """Two different values offered as the answer, under the ruling for them."""
    assert e.part.wanted is not None
    claims = e.working.of(e.part.wanted.symbol)
    if not any(c.shown.side.alternative for c in claims):
        return None
    rights = [is_right(e, c) for c in claims]
    ruling = e.part.convention.two_answers
    if all(rights) or not any(rights):
        return None
    found = fault("two-answers", last.line)
    if ruling == "best" or (ruling == "first" and rights[0]) or (ruling == "last" and rights[-1]):
        chosen = claims[rights.index(True)]
        reason = f"Two answers offered; the {ruling} one counts and is right."
        return Finding(earned=True, reason=reason, lines=(chosen.line,), faults=(found,))
    return lost(found)


def _wrong_answer(e: Evidence, claim: Claim) -> Finding:
    shift = shift_from_own(e, claim)
    found = fault("unconverted" if shift else "arithmetic", claim.line)
    earlier = [c for c in e.working.of(claim.of) if c.order < claim.order and is_right(e, c) and c.shown.dimensions is not None]
    doubt = "a right value with its unit stands before the last one" if earlier else ""
    return lost(found, doubt=doubt)


def unit_finding(e: Evidence) -> Finding:
    """Looks for a unit of the right kind on the answer, or on the gradient where that is all that is asked."""
    wanted = e.part.wanted
    claims = e.working.of(wanted.symbol) if wanted is not None else e.working.of(GRADIENT)
    dimensions = wanted.unit.dimensions if wanted is not None else e.part.dimensions
    if not claims:
        return Finding(earned=False, reason="No value to carry a unit.")
    last = claims[-1]
    alike = [c for c in claims if close(c.shown.raw, last.shown.raw, slack=0.02) or close(c.shown.si, last.shown.si, slack=0.02)]
    units = [unit_is(c.shown, dimensions) for c in alike]
    if False in units[-1:] or (True not in units and False in units):
        return lost(fault("unit-wrong", last.line, typed=unit_text(last.shown.expr)))
    if True in units or not any(dimensions):
        return Finding(earned=True, reason="Unit given.", lines=(last.line,))
    return lost(fault("unit-missing", last.line))


def _from_answer(e: Evidence, otherwise: str) -> Finding:
    """A point that nothing shows but a right answer."""
    claim = e.answer
    if claim is not None and is_right(e, claim) and not any(s.way in _SLOPE_FAULTS and s not in e.at_once for s in e.working.slopes):
        if e.part.convention.answer_only == "none":
            return Finding(earned=False, reason=f"{otherwise} A right answer alone does not earn it here.")
        return Finding(earned=True, reason="Implied by the right answer.", lines=(claim.line,), implied=True)
    return Finding(earned=False, reason=otherwise)


FINDERS: Mapping[str, Callable[[Evidence], Finding]] = MappingProxyType(
    {
        "method": method,
        "gradient": gradient,
        "unit": unit_finding,
        "intercept": intercept,
        "relationship": relationship,
        "answer": answer,
        "worst line": worst_line,
        "uncertainty": uncertainty,
    }
)
