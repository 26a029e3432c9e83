"""The findings on what is stated: the value, value ± uncertainty, the mean and its random uncertainty, the conclusion drawn."""

from __future__ import annotations

import math
import re

from marker.expression import Number
from marker.kinds.fault_texts import fault
from marker.kinds.marking import Finding, lost
from marker.kinds.sides import Shown
from marker.kinds.typed_numbers import close, the_number
from marker.kinds.uncertainty.evidence import Evidence, absolutes, half_share, stated_pairs
from marker.kinds.uncertainty.final import Standing, final, own_results
from marker.physics.uncertainty import agrees

_AGREES = re.compile(r"\b(?:agrees?|consistent|within|compatible|lies in|overlaps?|matches|yes|does include|includes)\b")
_DISAGREES = re.compile(r"\b(?:disagrees?|inconsistent|outside|incompatible|no|not|doesn.?t|isn.?t|don.?t|beyond|does not|fails?)\b")


def value(e: Evidence) -> Finding:
    """Looks for the value of the result."""
    for shown in reversed(e.values):
        if shown.typed and any(close(si, e.part.result.si, half_share(e.part, shown, si), 0.005) for si in absolutes(e.part, shown)):
            return Finding(earned=True, reason="Value of the result.", lines=(shown.line,))
    return Finding(earned=False, reason="The value of the result is not given.")


def statement(e: Evidence) -> Finding:
    """Looks for value ± uncertainty to the same decimal place, the uncertainty being right or the candidate's own."""
    for left, right, line in reversed(list(stated_pairs(e.part, e.lines))):
        first, second = the_number(left), the_number(right)
        if first is None or second is None or not own_results(e):
            continue
        followed = _is_own_uncertainty(e, second, line)
        if followed is None:
            continue
        if not math.isclose(first.half, second.half, rel_tol=1e-6):
            return lost(fault("places-unmatched", line))
        return Finding(earned=True, reason="Value and uncertainty to the same decimal place.", lines=(line,), followed=followed)
    return Finding(earned=False, reason="The result is not written as value ± uncertainty.")


def _is_own_uncertainty(e: Evidence, number: Number, line: int) -> bool | None:
    """False when a stated uncertainty is right, True when it is an own one found before, None when it is neither."""
    given = final(e)
    if given is not None and given.standing in (Standing.RIGHT, Standing.FOLLOWS):
        return given.standing is Standing.FOLLOWS
    before = [v for v in e.values if v.typed and v.line < line and close(v.raw, number.value, number.half, 1e-6)]
    return True if before else None


def mean(e: Evidence) -> Finding:
    """Looks for the mean of the readings, at its rounding."""
    for component in e.part.components:
        if component.readings:
            for shown in e.values:
                if shown.typed and _is_quantity(e, shown, component.value.si, component.value.raw):
                    return Finding(earned=True, reason="Mean of the readings.", lines=(shown.line,))
    return Finding(earned=False, reason="The mean of the readings is not given.")


def random(e: Evidence) -> Finding:
    """Looks for (largest − smallest)/number of readings, at its rounding."""
    for component in e.part.components:
        if component.readings:
            for shown in reversed(e.values):
                if shown.typed and _is_quantity(e, shown, component.uncertainty.si, component.uncertainty.raw):
                    return Finding(earned=True, reason="Random uncertainty of the mean.", lines=(shown.line,))
    return Finding(earned=False, reason="The random uncertainty is not right.")


def _is_quantity(e: Evidence, shown: Shown, si: float, raw: float) -> bool:
    here, target = (shown.si, si) if shown.dimensions is not None else (shown.raw, raw)
    return close(here, target, half_share(e.part, shown, here), 0.005)


def comparison(e: Evidence) -> Finding:
    """Looks for a conclusion about the accepted value that agrees with the numbers, own ones if need be."""
    assert e.part.accepted is not None
    given, results = final(e), own_results(e)
    spread = given.shown.si if given is not None and given.shown.dimensions is not None else e.part.absolute
    result = results[-1] if results else e.part.result.si
    truth = agrees(result, spread, e.part.accepted.si)
    said: list[tuple[bool, int]] = []
    for line in e.lines:
        words = (line.words or "").lower()
        if line.withdrawn or not words:
            continue
        if _DISAGREES.search(words):
            said.append((False, line.number))
        elif _AGREES.search(words):
            said.append((True, line.number))
    if not said:
        return Finding(earned=False, reason="No comparison with the accepted value.")
    verdict, number = said[-1]
    doubt = "the words for and against do not point one way" if len({v for v, _ in said}) > 1 else ""
    reason = "The conclusion agrees with the numbers." if verdict == truth else "The conclusion does not agree with the numbers."
    faults = () if verdict == truth else (fault("conclusion-against-numbers", number),)
    return Finding(earned=verdict == truth, reason=reason, lines=(number,), doubt=doubt, faults=faults)
