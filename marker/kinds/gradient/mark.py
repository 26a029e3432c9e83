"""One response to a gradient part, marked."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from typing import Protocol

from marker.kinds.base import Carried, Kind
from marker.kinds.gradient.claims import Working, in_table_units, working
from marker.kinds.gradient.compiled import GradientPart, compile_gradient
from marker.kinds.gradient.evidence import Evidence, follows, is_right
from marker.kinds.gradient.findings import FINDERS
from marker.kinds.gradient.onward import judged_onward
from marker.kinds.gradient.relation import stated
from marker.kinds.gradient.slopes import Slope, Way
from marker.kinds.gradient.spec import GradientSpec
from marker.kinds.gradient.turned import says_turned, turned, without_inverse
from marker.kinds.gradient.wanted import GRADIENT, Wanted
from marker.kinds.marking import judge, line_reports, part_result, verdicts_of
from marker.physics.regression import gradient_uncertainty
from marker.physics.rounding import plain, round_to_figures
from marker.reading import read_lines, write_plain
from marker.results import OwnValue, PartResult
from marker.scheme.convention import Convention


class HasSheet(Protocol):
    """What a paper shows its parts: the data sheet, letter -> accepted values."""

    @property
    def sheet(self) -> Mapping[str, Sequence[str]]: ...


_TIMES_AFTER = re.compile(r"(?:(?<=gradient )|(?<=slope )|(?<=grad ))x(?= )")
_NAMED = re.compile(r"(?i)\b(?:gradient|slope|grad)\b")
_SHARES = {"half": "0.5 ×", "twice": "2 ×", "double": "2 ×", "a third": "1/3 ×", "a quarter": "0.25 ×"}
_SHARE_OF_IT = re.compile(rf"(?i)(?<==)\s?(?P<share>{'|'.join(_SHARES)})(?: of)? (?:it|that|this)\b")
_EXPONENT = re.compile(r"(?<=\d)e(?P<power>[+-]?\d{1,3})\b")
_TIMES_BEFORE = re.compile(r"(?<= )x(?= (?:gradient|slope|grad)\b)")


def mark_gradient(part: GradientPart, lines: Sequence[str], carried: Carried) -> PartResult:
    """Points, faults and line reports of one response. Pure; any text may come in."""
    written = as_written(lines)
    read = read_lines(written, part.table)
    found = working(part, read)
    other = _turned(part, found, lines)
    if other is not None:
        part, written = other, tuple(map(without_inverse, written))
        read = read_lines(written, part.table)
        found = working(part, read)
    own = _own(part, found)
    onward = judged_onward(part, written, found, own)
    evidence = Evidence(part=part, lines=read, working=found, stated=stated(part, read, own), own=own, onward=onward)
    findings = tuple((kind, worth, FINDERS[kind](evidence)) for kind, worth in part.points)
    judgements = tuple(judge(*finding) for finding in findings)
    verdicts = verdicts_of([f for _, _, f in findings], [v.line for v in found.values])
    return part_result(
        name=part.spec.name,
        maximum=part.spec.marks,
        judgements=judgements,
        lines=line_reports(read, verdicts, lines),
        read=read,
        own=_own_values(evidence),
        notes=part.notes,
    )


def _turned(part: GradientPart, found: Working, lines: Sequence[str]) -> GradientPart | None:
    """The graph with its axes exchanged, where all quotients are of that graph and the candidate says so."""
    quotients = [s for s in found.slopes if s.way is not Way.OTHER]
    if not quotients or not all(s.inverted for s in quotients) or not says_turned(part, lines):
        return None
    return turned(part)


def as_written(lines: Sequence[str]) -> tuple[str, ...]:
    """The lines with times signs for x between words, and with "half of it" as half the gradient where that is the last thing named."""
    out, named = [], False
    for line in lines:
        pieces = _NAMED.split(line)
        if named or len(pieces) > 1:
            head = line if named else line[len(pieces[0]) :]
            line = line[: len(line) - len(head)] + _SHARE_OF_IT.sub(_share_of_gradient, head)
        named = named or len(pieces) > 1
        out.append(with_times(line))
    return tuple(out)


def _share_of_gradient(found: re.Match[str]) -> str:
    return f" {_SHARES[found['share'].lower()]} gradient"


def with_times(line: str) -> str:
    """The line with the x of "gradient x A" or "A x slope" as a times sign, so that it is not taken for a letter."""
    return _TIMES_BEFORE.sub("×", _TIMES_AFTER.sub("×", line))


def _own(part: GradientPart, found: Working) -> tuple[float, ...]:
    """Gradients the candidate has, in the table's units: numbers given for it and quotients worked; with the line's sign where the
    size alone is given."""
    given = [in_table_units(part, c.shown) for c in found.of(GRADIENT)]
    worked = [s.value for s in found.slopes if s.side.subject == GRADIENT or not (s.inverted or _of_one_point(part, s))]
    at_once = [1.0 / s.value for s in found.slopes if s.way is Way.INVERTED and s.value and not given]
    own = [v for v in (*given, *worked, *at_once) if v]
    own = [v for i, v in enumerate(own) if not any(_moved(v, before) for before in own[:i])]
    sizes = [-v for v in own if v * part.line.gradient < 0]
    return tuple(dict.fromkeys((*own, *sizes)))


def _of_one_point(part: GradientPart, slope: Slope) -> bool:
    """True for the quotient of a single reading that is called the quantity wanted: R = V/I for a line that misses the origin is no
    gradient of it."""
    return slope.way is Way.ONE_POINT and part.wanted is not None and slope.side.subject == part.wanted.symbol


def _moved(value: float, before: float) -> bool:
    """The same figures with another power of ten: put into another unit wrongly, and no gradient of its own."""
    ratio = value / before if before else 0.0
    power = round(math.log10(ratio)) if ratio > 0 else 0
    return power != 0 and math.isclose(ratio, 10.0**power, rel_tol=0.01)


def _own_values(evidence: Evidence) -> tuple[OwnValue, ...]:
    """The candidate's answer, for later parts."""
    claim, wanted = evidence.answer, evidence.part.wanted
    if claim is None or wanted is None:
        return ()
    right = is_right(evidence, claim)
    si = claim.shown.si if claim.shown.dimensions is not None else claim.shown.raw * wanted.unit.scale
    typed = f"{claim.shown.raw:g}"
    return (OwnValue(symbol=wanted.symbol, value=si, typed=typed, unit=wanted.unit.text, right=right or follows(evidence, claim)),)


def model_gradient(part: GradientPart) -> tuple[str, ...]:
    """Lines of an answer that earns every mark: two points far apart, the gradient, the relationship, the answer."""
    x, y, line = part.x, part.y, part.line
    first, last = min(x.values), max(x.values)
    figures = part.figures + 1
    ys = [plain(round_to_figures(line.at(v), figures + 1)) for v in (first, last)]
    gradient = plain(round_to_figures(line.gradient, figures))
    unit = f" {_per(part)}" if _per(part) else ""
    lines = [f"gradient = ({ys[1]} - {ys[0]})/({last:g} - {first:g}) = {gradient}{unit}"]
    if any(kind == "intercept" for kind, _ in part.points):
        lines.append(f"intercept = {plain(round_to_figures(line.intercept, figures))} {y.unit.text}".rstrip())
    if part.extremes is not None and any(kind in ("worst line", "uncertainty") for kind, _ in part.points):
        steepest = part.extremes[1].gradient
        lines.append(f"gradient of the steepest line = {plain(round_to_figures(steepest, figures))}{unit}")
        lines.append(f"uncertainty in gradient = {plain(round_to_figures(gradient_uncertainty(part.extremes), 2))}{unit}")
    if part.wanted is not None:
        wanted = part.wanted
        value = wanted.from_line(part.gradient_value(line.gradient), part.intercept_value(line.intercept))
        assert value is not None
        lines.append(_relationship_line(wanted))
        lines.append(f"{wanted.symbol} = {plain(round_to_figures(value.si / wanted.unit.scale, figures))} {wanted.unit.text}".rstrip())
    return tuple(map(in_tens, lines))


def in_tens(line: str) -> str:
    """The line with 6.66e-34 as 6.66 × 10^-34."""
    return _EXPONENT.sub(lambda found: f" × 10^{int(found['power'])}", line)


def _relationship_line(wanted: Wanted) -> str:
    left, right = wanted.equation
    return f"{write_plain(left)} = {write_plain(right)}"


def _per(part: GradientPart) -> str:
    """The gradient's unit, written with one solidus."""
    y, x = part.y.unit.text, part.x.unit.text
    if not x:
        return y
    under = f"({x})" if any(c in x for c in " /·") else x
    return f"{y or '1'}/{under}"


def _compile_in_paper(spec: GradientSpec, convention: Convention, around: HasSheet) -> GradientPart:
    return compile_gradient(spec, convention, around.sheet)


KIND = Kind(
    name="gradient",
    spec=GradientSpec,
    compile=compile_gradient,
    mark=mark_gradient,
    model=model_gradient,
    compile_in_paper=_compile_in_paper,
)
