"""Which responses are alike, so that one decision settles them all."""

from __future__ import annotations

import hashlib
import json
from typing import Any

from marker.results import LineReport, PartResult


def alike_key(result: PartResult) -> str:
    """The same 32 hexadecimal digits for responses to a part with the same readings, values and possible marks.

    Spelling of the working does not count where it was read ("R=V/I", "R = V / I"); prose is compared without case and spacing.
    What a mark was followed through from does: the candidate's own values and every point's mark are part of it.
    """
    referral = result.referral
    facts: list[Any] = [
        result.part,
        result.maximum,
        result.mark,
        [[_said(line), line.verdict] for line in result.lines],
        [[a.point, a.mark, a.outcome.value] for a in result.awards],
        [[o.symbol, f"{o.value:.6g}", o.unit] for o in result.own],
        [] if referral is None else [p.mark for p in referral.possibilities],
    ]
    return hashlib.sha256(json.dumps(facts).encode()).hexdigest()[:32]


def _said(line: LineReport) -> list[str]:
    if line.readings and any(line.readings):
        return list(line.readings)
    return [" ".join(line.text.casefold().split()).rstrip(" .")]
