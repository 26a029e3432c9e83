"""One response to an uncertainty part, marked."""

from __future__ import annotations

import re
from collections.abc import Sequence

from marker.kinds.base import Carried, Kind
from marker.kinds.marking import judge, line_reports, part_result, verdicts_of
from marker.kinds.uncertainty.compiled import Mode, UncertaintyPart, compile_uncertainty
from marker.kinds.uncertainty.evidence import Evidence, gather
from marker.kinds.uncertainty.final import Standing, final
from marker.kinds.uncertainty.findings import FINDERS
from marker.kinds.uncertainty.spec import UncertaintySpec
from marker.physics.rounding import plain, round_to_figures
from marker.physics.uncertainty import matched
from marker.reading import read_lines
from marker.results import OwnValue, PartResult

_RUN_ON = re.compile(r"(?<=%)of(?=\d)")
_PARTED = re.compile(r"(?<=%)[ ](?=\d[\d.,]*[ ]?%|(?!(?:of|x|and|or|in|to|on|times)\b)[A-Za-zΔδ]\w{0,11}[ ]?[:=]?[ ]?\d)")
_LABEL = re.compile(r"(?<![\d.)}])(?<![\d.)}] )\\?%(?= ?\\?[A-Za-zΔδ])")


def mark_uncertainty(part: UncertaintyPart, lines: Sequence[str], carried: Carried) -> PartResult:
    """Points, faults and line reports of one response. Pure; any text may come in."""
    read = read_lines(tuple(map(without_labels, lines)), part.table)
    evidence = gather(part, read)
    findings = tuple((kind, worth, FINDERS[kind](evidence)) for kind, worth in part.points)
    verdicts = verdicts_of([f for _, _, f in findings], [v.line for v in evidence.values])
    return part_result(
        name=part.spec.name,
        maximum=part.spec.marks,
        judgements=tuple(judge(*f) for f in findings),
        lines=line_reports(read, verdicts, lines),
        read=read,
        own=_own_values(evidence),
    )


def without_labels(line: str) -> str:
    """The line with a % that stands before a letter ("%s = 1.1 %", "% Δv") blanked out, and "%of" and "m 0.8% V 1.6%" parted; columns
    stay."""
    return _PARTED.sub(";", _LABEL.sub(lambda match: " " * len(match.group()), _RUN_ON.sub(" ×", line)))


def _own_values(evidence: Evidence) -> tuple[OwnValue, ...]:
    given = final(evidence)
    if given is None or given.shown.percent:
        return ()
    part = evidence.part
    si = given.shown.si if given.shown.dimensions is not None else given.shown.raw * part.unit.scale
    right = given.standing in (Standing.RIGHT, Standing.FOLLOWS)
    return (OwnValue(symbol=f"Δ{part.spec.find}", value=si, typed=f"{given.shown.raw:g}", unit=part.unit.text, right=right),)


def model_uncertainty(part: UncertaintyPart) -> tuple[str, ...]:
    """Lines of an answer that earns every mark."""
    lines: list[str] = []
    for component in part.components:
        if component.readings:
            unit = part.unit.text
            lines.append(f"mean = {_short(component.value.raw, 3)} {unit}".rstrip())
            lines.append(f"random uncertainty = {_short(component.uncertainty.raw, 2)} {unit}".rstrip())
    if part.mode is not Mode.ABSOLUTE and len(part.components) > 1:
        for c in part.components:
            lines.append(f"{_short(c.uncertainty.raw, 2)}/{c.value.raw:g} = {_short(100 * c.fraction, 3)} %")
    if len(part.components) > 1:
        lines.append(_combining(part))
    if part.spec.ask == "absolute":
        places = round_to_figures(part.absolute / part.unit.scale, min(part.figures + 1, 2))
        value = matched(part.result.si / part.unit.scale, places)
        lines.append(f"{part.spec.find} = ({plain(value)} ± {plain(places)}) {part.unit.text}".rstrip())
    if any(kind == "comparison" for kind, _ in part.points):
        lines.append(_comparing(part))
    return tuple(lines)


def _comparing(part: UncertaintyPart) -> str:
    assert part.accepted is not None
    within = abs(part.result.si - part.accepted.si) <= part.absolute
    return "The accepted value lies within the uncertainty." if within else "The accepted value lies outside the uncertainty."


def _combining(part: UncertaintyPart) -> str:
    """The line that combines, in percentages or in the result's unit."""
    scale, sign = (1.0 / part.unit.scale, part.unit.text) if part.mode is Mode.ABSOLUTE else (100.0, "%")
    shares = [_short(c.share * scale, 3) for c in part.components]
    total = part.absolute * scale if part.mode is Mode.ABSOLUTE else part.combined * scale
    if part.mode is Mode.MIXED:
        return f"combined = {_short(total, 3)} %"
    if part.rule == "sum":
        return f"{' + '.join(shares)} = {_short(total, 3)} {sign}".rstrip()
    if part.rule == "largest":
        return f"the largest is {_short(total, 3)} {sign}, use that".rstrip()
    squares = " + ".join(f"{s}^2" for s in shares)
    return f"√({squares}) = {_short(total, 3)} {sign}".rstrip()


def _short(value: float, figures: int) -> str:
    return plain(round_to_figures(value, figures))


KIND = Kind(name="uncertainty", spec=UncertaintySpec, compile=compile_uncertainty, mark=mark_uncertainty, model=model_uncertainty)
