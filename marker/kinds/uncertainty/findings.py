"""One finding per kind of marking point of an uncertainty part: earned or not, why, on which lines. What is stated is in `stated`."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from marker.kinds.fault_texts import fault
from marker.kinds.figures import figures_fault
from marker.kinds.marking import Finding, lost
from marker.kinds.typed_numbers import close
from marker.kinds.uncertainty import stated
from marker.kinds.uncertainty.compiled import Component, Mode
from marker.kinds.uncertainty.evidence import (
    Combination,
    Evidence,
    absolutes,
    half_share,
    is_datum,
    is_its_quotient,
    is_share,
)
from marker.kinds.uncertainty.final import Final, Standing, final, is_share_of_result, own_results

_FOLLOWING = (Standing.FOLLOWS, Standing.POWERLESS)
_EXTREMES = re.compile(r"\b(?:max(?:imum)?|min(?:imum)?|greatest|smallest|half the range|extremes?)\b")
_PERCENT = re.compile(r"%|per ?cent")


def is_sound(e: Evidence, c: Combination) -> bool:
    """True for a combining by the ruling's rule, of percentages with their powers."""
    return c.rule == e.part.rule and not c.absolute and not c.powerless


def last_combination(e: Evidence) -> Combination | None:
    """The combining that counts: the last typed or worked one, a right one of the same line before a wrong one."""
    if not e.combinations:
        return None
    right = [c for c in e.combinations if is_sound(e, c)]
    wrong = [c for c in e.combinations if c not in right]
    if right and wrong and wrong[-1].chain > right[-1].chain:
        return wrong[-1]
    return right[-1] if right else wrong[-1]


def wrong_rule(e: Evidence) -> Finding | None:
    """A wrong way of combining, which ends everything that depends on it; None when the way is right or not to be seen."""
    last, words, given = last_combination(e), [r for r, _ in e.words], final(e)
    rule = e.part.rule
    left_out = _costs(e, "combination")
    if left_out is not None:
        return left_out
    if last is not None and last.absolute:
        return lost(fault("absolute-uncertainties-combined", last.line))
    if last is not None and last.rule != rule:
        return _named_wrong(e, last.rule, last.line)
    if last is not None or power_left_out(e) is not None or rule == "largest":
        return None
    if given is not None and given.standing is Standing.LARGEST and e.own:
        return _named_wrong(e, "largest", given.line)
    worked = largest_taken(e)
    if worked is not None:
        return _named_wrong(e, "largest", worked)
    if words and rule not in words and (given is None or given.standing is not Standing.RIGHT):
        return _named_wrong(e, words[0], e.words[0][1])
    return None


def largest_taken(e: Evidence) -> int | None:
    """The line where the largest percentage alone is taken of the result, told from the ruling's by the arithmetic written."""
    if e.part.mode is Mode.ABSOLUTE or len(e.part.components) < 2:
        return None
    top = max(c.share for c in e.part.components)
    tops = [top, *(o.share for o in e.own if close(o.share, top, slack=0.02))]
    results = [abs(e.part.result.si), *own_results(e)]
    for shown in e.values:
        if shown.typed:
            continue
        for si in absolutes(e.part, shown) or (shown.si * (e.part.unit.scale if shown.percent else 1.0),):
            taken = any(close(abs(si), t * r, slack=0.004) for t in tops for r in results)
            right = any(close(abs(si), e.part.combined * r, slack=0.004) for r in results)
            if taken and not right:
                return shown.line
    return None


def power_left_out(e: Evidence) -> int | None:
    """The line where a percentage goes on without its power, 1.6 % of T for T²; None where that is not seen."""
    last, given = last_combination(e), final(e)
    if last is not None:
        return last.line if last.powerless else None
    return given.line if given is not None and given.standing is Standing.POWERLESS else None


def _costs(e: Evidence, kind: str) -> Finding | None:
    """The loss of the point that a power left out costs, where it is this one. Where powers have a point of their own, what comes after
    follows from the own percentages; in the combining itself it is a wrong way of combining."""
    line = power_left_out(e)
    kinds = [k for k, _ in e.part.points]
    if line is None or next((k for k in ("powers", "combination", "combined", "absolute") if k in kinds), "") != kind:
        return None
    raised = max(e.part.components, key=lambda c: abs(c.power - 1.0))
    return lost(fault("power-not-multiplied", line, symbol=raised.symbol, power=f"{raised.power:g}"))


def powers(e: Evidence) -> Finding:
    """Looks for the percentage of every raised quantity times its power, by itself or inside the combining; a right result implies it."""
    left_out, last = _costs(e, "powers"), last_combination(e)
    if left_out is not None:
        return left_out
    if last is not None and last.absolute:
        reason = "No percentage is multiplied by its power: absolute uncertainties were combined."
        return Finding(earned=False, reason=reason, lines=(last.line,))
    raised = [c for c in e.part.components if c.power != 1.0]
    shown = [_raised_line(e, c) for c in raised]
    if all(line is not None for line in shown):
        return Finding(earned=True, reason="Multiplied by its power.", lines=tuple(sorted({x for x in shown if x is not None})))
    if last is not None and is_sound(e, last):
        return Finding(earned=True, reason="Implied by the combined uncertainty.", lines=(last.line,), implied=True)
    missing = [f"{c.symbol} by {c.power:g}" for c, line in zip(raised, shown, strict=True) if line is None]
    return _from_final(e, f"Not multiplied by its power: the percentage of {' and of '.join(missing)}.")


def _raised_line(e: Evidence, component: Component) -> int | None:
    """Where a percentage times its power is written, from the right percentage or an own one."""
    targets = (component.share, *(o.share for o in e.own_of(component.symbol)))
    here = (v for v in e.values if not is_datum(e.part, v) and any(is_share(e.part, v, t) is not None for t in targets))
    return next((v.line for v in here), None)


def _named_wrong(e: Evidence, used: str, line: int) -> Finding:
    code = {"sum": "uncertainties-added", "largest": "uncertainty-largest-only"}.get(used, "uncertainties-squared")
    return lost(fault(code, line, rule=_rule_name(e)))


def _rule_name(e: Evidence) -> str:
    return {"root sum of squares": "root of the sum of squares", "sum": "straight sum", "largest": "largest one alone"}[e.part.rule]


def percentages(e: Evidence) -> Finding:
    """Looks for the percentage or fractional uncertainty of every quantity; a right combination implies them."""
    last = last_combination(e)
    if last is not None and last.absolute:
        return Finding(earned=False, reason="No percentage uncertainties: absolute ones were combined as they stand.", lines=(last.line,))
    missing, wrong = [], []
    for component in e.part.components:
        own = e.own_of(component.symbol)
        if not own:
            missing.append(component.symbol)
        elif not own[-1].right:
            wrong.append(own[-1])
    if wrong:
        faults = tuple(fault("percentage-arithmetic", o.line, symbol=o.symbol) for o in wrong)
        return Finding(earned=False, reason=faults[0].teacher, lines=tuple(o.line for o in wrong), faults=faults)
    if not missing:
        lines = tuple(sorted({o.line for o in e.own}))
        return Finding(earned=True, reason="Uncertainty of each quantity as a percentage or fraction.", lines=lines)
    if last is not None and last.rule == e.part.rule and not last.own:
        return Finding(earned=True, reason="Implied by the combined uncertainty.", lines=(last.line,), implied=True)
    return _from_final(e, f"No percentage uncertainty of {' and '.join(missing)}.")


def combination(e: Evidence) -> Finding:
    """Looks for the ruling's way of combining, in numbers or in words; a right final uncertainty implies it."""
    wrong = wrong_rule(e)
    if wrong is not None:
        return wrong
    last = last_combination(e)
    if last is not None:
        shown = [c for c in e.combinations if is_sound(e, c) or c.powerless]
        if all(c.root_missing for c in shown) and not _right_final(e):
            return _without_root(e, shown[-1])
        return Finding(earned=True, reason=f"Combined by the {_rule_name(e)}.", lines=(last.line,))
    in_words = [line for rule, line in e.words if rule == e.part.rule]
    if in_words:
        return Finding(earned=True, reason=f"Combined by the {_rule_name(e)}, in words.", lines=(in_words[0],))
    if e.part.mode is Mode.ABSOLUTE and not _right_final(e):
        shares = [v for v in e.values if any(is_its_quotient(c, v) for c in e.part.components)]
        if shares:
            return lost(fault("percentages-of-a-sum", shares[0].line))
    return _from_final(e, "The uncertainties are not combined.")


def _without_root(e: Evidence, shown: Combination) -> Finding:
    """Squares added and no root seen: the number may be the square of the answer, or the root may have been forgotten."""
    found = fault("root-not-taken", shown.line)
    in_words = any(rule == e.part.rule for rule, _ in e.words)
    doubt = "" if in_words else "the squares are added and no root is written; it may be a forgotten root or a wrong relationship"
    return Finding(earned=in_words, reason=found.teacher, lines=(shown.line,), faults=(found,), doubt=doubt)


def combined(e: Evidence) -> Finding:
    """Looks for the combined percentage or fraction; one that follows from own percentages earns it."""
    wrong = wrong_rule(e)
    if wrong is not None:
        return _resting_on(e, wrong, "combination")
    left_out = _costs(e, "combined")
    if left_out is not None:
        return left_out
    if power_left_out(e) is not None:
        return _on_own_percentages(e)
    typed = [c for c in e.combinations if c.typed and is_sound(e, c)]
    good = [c for c in typed if not c.root_missing]
    low, high = e.part.combined_range
    if good:
        last = good[-1]
        if last.own and not low <= last.value <= high:
            if not _follows_own(e):
                return Finding(earned=False, reason="Outside the accepted range.", lines=(last.line,))
            return Finding(earned=True, reason="Right on the own percentages.", lines=(last.line,), followed=True)
        if not last.own and not _reaches(e, last):
            return lost(fault("percentages-rounded-early", last.line))
        return _as_answer(e, last)
    if typed:
        return lost(fault("root-not-taken", typed[-1].line))
    if e.part.rule == "largest" and any(o.right for o in e.own):
        top = max(e.part.components, key=lambda c: c.share)
        if e.own_of(top.symbol) and (any(r == "largest" for r, _ in e.words) or _right_final(e)):
            return Finding(earned=True, reason="The largest percentage is the estimate.", lines=(e.own_of(top.symbol)[-1].line,))
    worked = [c for c in e.combinations if not c.typed and is_sound(e, c)]
    if worked and not _right_final(e):
        return lost(fault("arithmetic", worked[-1].line), "The combined uncertainty is not worked out rightly.")
    return _from_final(e, "No combined percentage uncertainty.")


def _resting_on(e: Evidence, wrong: Finding, *before: str) -> Finding:
    """A point lost to a wrong way of combining, named here where no point before it is for that."""
    if not any(kind in before for kind, _ in e.part.points):
        return wrong
    return Finding(earned=False, reason="It rests on a wrong combination.", lines=wrong.lines)


def _on_own_percentages(e: Evidence) -> Finding:
    """The combined percentage where a power was left out before: one that is worked out is followed."""
    typed = [c for c in e.combinations if c.typed and c.powerless]
    if not typed:
        return Finding(earned=False, reason="The combined uncertainty is not worked out.")
    always = e.part.spec.combined_follows
    if not _follows_own(e) or (always is None and e.part.rule == "sum"):
        return Finding(earned=False, reason="It leaves out the power.", lines=(typed[-1].line,))
    return Finding(earned=True, reason="Right on the own percentages.", lines=(typed[-1].line,), followed=True)


def _follows_own(e: Evidence) -> bool:
    """True where a combined percentage that is right on own percentages earns its point."""
    return e.part.convention.follow_within_part and e.part.spec.combined_follows is not False


def _reaches(e: Evidence, last: Combination) -> bool:
    """True when a combined uncertainty lies in the range the scheme gives, or its rounding reaches into it."""
    if e.part.spec.combined_within is None:
        return True
    given, (low, high) = e.values[last.order], e.part.combined_range
    half = half_share(e.part, given, last.value) * (1 + 1e-9)
    return low - half <= last.value <= high + half


def _as_answer(e: Evidence, last: Combination) -> Finding:
    """A combined uncertainty in its range; where the percentage is the answer itself, its sign and its figures belong to it."""
    earned = Finding(earned=True, reason="Combined uncertainty in the accepted range.", lines=(last.line,))
    if e.part.spec.ask != "percentage":
        return earned
    given = e.values[last.order]
    text = next((line.text.lower() for line in e.lines if line.number == last.line), "")
    if e.part.convention.unit_fault == "answer mark" and not last.percent and not _PERCENT.search(text):
        return lost(fault("fraction-for-percentage" if given.raw == last.value else "unit-missing", last.line))
    figures = figures_fault(given, e.part.figures, e.part.convention)
    return earned if figures is None else lost(figures)


def _right_final(e: Evidence) -> bool:
    given = final(e)
    return given is not None and given.standing is Standing.RIGHT


def absolute(e: Evidence) -> Finding:
    """Looks for the absolute uncertainty with its unit and figures; an own combined percentage is followed."""
    wrong, given = wrong_rule(e), final(e)
    if wrong is not None:
        if given is not None and _follows_other_rule(e, given):
            return _written(e, given, followed=True)
        return _resting_on(e, wrong, "combination", "combined")
    left_out = _costs(e, "absolute")
    if left_out is not None:
        return left_out
    if given is None:
        stops = fault("percentage-for-absolute") if e.combinations and e.part.mode is not Mode.ABSOLUTE else None
        return Finding(earned=False, reason="The absolute uncertainty is not found.", faults=(stops,) if stops else ())
    if given.standing in _FOLLOWING and not e.part.convention.follow_within_part:
        return Finding(earned=False, reason="Outside the accepted range.", lines=(given.line,))
    if given.standing not in (Standing.RIGHT, *_FOLLOWING):
        return lost(fault("arithmetic", given.line), "Outside the accepted range.", doubt=_by_extremes(e))
    return _written(e, given)


def _follows_other_rule(e: Evidence, given: Final) -> bool:
    """True for the uncertainty that the root of the sum of squares gives where a straight sum is wanted and the scheme lets that pass:
    sound, though not the way asked for, and the point for the combined percentage has paid for it."""
    kinds, last = [k for k, _ in e.part.points], last_combination(e)
    if not (e.part.spec.rule_follows and e.part.convention.follow_within_part):
        return False
    if "combined" not in kinds or "combination" in kinds or last is None:
        return False
    if e.part.rule != "sum" or last.rule != "root sum of squares" or not last.typed or last.absolute or last.powerless or last.root_missing:
        return False
    return is_share_of_result(e, given.shown, last.value)


def _by_extremes(e: Evidence) -> str:
    """A doubt where the uncertainty was found from the greatest and the smallest value of the result, which no ruling names."""
    found = any(_EXTREMES.search((line.words or "").lower()) for line in e.lines if not line.withdrawn)
    return "found from the greatest and smallest possible values, a way the ruling does not name" if found else ""


def _written(e: Evidence, given: Final, followed: bool = False) -> Finding:
    """Unit and figures of a right number, or of one that is followed."""
    needs_unit = any(e.part.result.dimensions or ()) and e.part.convention.unit_fault == "answer mark"
    if needs_unit and given.unit is not True:
        code = "unit-missing" if given.unit is None else "percentage-for-absolute" if given.shown.percent else "unit-wrong"
        return lost(fault(code, given.line, typed="%" if given.shown.percent else ""))
    figures = figures_fault(given.shown, e.part.figures, e.part.convention)
    if figures is not None:
        return lost(figures)
    followed = followed or given.standing in _FOLLOWING
    reason = "Right on the own combined uncertainty." if followed else "Absolute uncertainty in the accepted range, with its unit."
    return Finding(earned=True, reason=reason, lines=(given.line,), followed=followed)


def _from_final(e: Evidence, otherwise: str) -> Finding:
    """A point that nothing shows but a right final uncertainty."""
    given = final(e)
    if given is not None and given.standing is Standing.RIGHT and wrong_rule(e) is None:
        if e.part.convention.answer_only == "none":
            return Finding(earned=False, reason=f"{otherwise} A right answer alone does not earn it here.")
        return Finding(earned=True, reason="Implied by the right uncertainty.", lines=(given.line,), implied=True)
    return Finding(earned=False, reason=otherwise)


FINDERS: Mapping[str, Callable[[Evidence], Finding]] = MappingProxyType(
    {
        "percentages": percentages,
        "powers": powers,
        "combination": combination,
        "combined": combined,
        "absolute": absolute,
        "value": stated.value,
        "statement": stated.statement,
        "mean": stated.mean,
        "random": stated.random,
        "comparison": stated.comparison,
    }
)
