"""kind = "estimate": a reasonable size for a quantity, within so many powers of ten or a stated range, with its unit."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from pydantic import Field

from marker.expression import NO_DIMENSIONS, Dimensions
from marker.kinds.base import Carried, Kind, PartSpec
from marker.kinds.short import Judged, capital, fault, refuse, result_of, where
from marker.kinds.typed_values import Typed, Worth, rivals, values_in
from marker.kinds.words import in_words, is_blank, line_reports
from marker.physics.evaluate import same_dimensions
from marker.reading import read_quantity
from marker.results import FaultFound, LineReport, OwnValue, PartResult
from marker.scheme.convention import Convention


class EstimateSpec(PartSpec):
    """Keys of kind = "estimate".

    of        the quantity estimated
    about     a good value with its unit ("70 kg"), and `powers`: how many powers of ten up or down are accepted
    accept    instead, the lowest and highest value accepted
    exponent  a bare whole number that is the power of ten ("5" for 10^5): "accepted", "refused", or "refer"
    symbol    letter under which later parts may carry the candidate's own value
    """

    kind: Literal["estimate"] = "estimate"
    of: str = Field(min_length=1)
    about: str = ""
    powers: float = Field(default=1.0, gt=0, le=6)
    accept: list[str] = Field(default_factory=list)
    exponent: Literal["accepted", "refused", "refer"] = "refer"
    symbol: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CompiledEstimate:
    """low, high in SI; `scale` of the scheme's unit, by which a bare number is taken; `sample` a value that earns full marks."""

    name: str
    marks: int
    of: str
    low: float
    high: float
    unit: str
    scale: float
    dimensions: Dimensions
    sample: str
    exponent: str
    symbol: str
    convention: Convention


def compile_estimate(spec: EstimateSpec, convention: Convention) -> CompiledEstimate:
    """Raises SchemeError with the key and the mend."""
    convention = convention.with_rulings(spec.rulings)
    if bool(spec.about) == bool(spec.accept) or (spec.accept and len(spec.accept) != 2):
        refuse(
            spec, "accept", "neither or both of about and accept", "one of them", 'Write about = "70 kg", or accept = ["50 kg", "120 kg"].'
        )
    key = "about" if spec.about else "accept"
    texts = [spec.about] if spec.about else spec.accept
    read = []
    for text in texts:
        try:
            read.append(read_quantity(text))
        except ValueError as error:
            refuse(spec, key, str(error), "a value with its unit", 'Write it as "70 kg".')
    ends = [q.si for q in read]
    low, high = (ends[0] / 10**spec.powers, ends[0] * 10**spec.powers) if spec.about else (ends[0], ends[-1])
    dimensions = [NO_DIMENSIONS if q.unit is None else q.unit.dimensions for q in read]
    if low <= 0 or high <= low or not same_dimensions(dimensions[0], dimensions[-1]):
        refuse(
            spec, key, f"{' to '.join(texts)}", "two positive values of one kind, the lower first", 'Write accept = ["50 kg", "120 kg"].'
        )
    unit = read[0].unit
    middle = math.sqrt(low * high) / (unit.scale if unit is not None else 1.0)
    return CompiledEstimate(
        name=spec.name,
        marks=spec.marks,
        of=spec.of,
        low=low,
        high=high,
        unit="" if unit is None else unit.name,
        scale=1.0 if unit is None else unit.scale,
        dimensions=dimensions[0],
        sample=spec.about or f"{middle:.2g} {'' if unit is None else unit.name}".strip(),
        exponent=spec.exponent,
        symbol=spec.symbol,
        convention=convention,
    )


# ---- judging ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """One value judged: its size and its unit, None where a person must decide; `why` a clause for each."""

    typed: Typed
    size: bool | None
    unit: bool
    why: str
    unit_why: str
    way: Worth
    faults: tuple[FaultFound, ...] = ()


def mark_estimate(part: CompiledEstimate, lines: Sequence[str], carried: Carried) -> PartResult:
    """Marks the value offered last, or several under the ruling for two answers. Nothing is carried into an estimate."""
    found, _ = values_in(() if is_blank(lines) else lines)
    offered = rivals(found)
    if not offered and part.convention.crossed_out != "never":
        offered = tuple(v for v in found if v.withdrawn)[-1:]
    views = [_view(part, v) for v in offered]
    points = _points(part, views, lines)
    numbers = {n.line for n in found}
    unread = frozenset(
        n for n, text in enumerate(lines, start=1) if text.strip() and not views and not is_blank(lines) and n not in numbers
    )
    return result_of(part.name, part.marks, points, _reports(part, lines, found, views, unread), own=_own(part, views))


def _own(part: CompiledEstimate, views: Sequence[_View]) -> tuple[OwnValue, ...]:
    if not part.symbol or len(views) != 1:
        return ()
    view = views[0]
    value = view.way.si if view.way.unit else view.way.raw * part.scale
    return (OwnValue(symbol=part.symbol, value=value, typed=view.typed.text, unit=part.unit, right=bool(view.size)),)


def _view(part: CompiledEstimate, typed: Typed) -> _View:
    """The plainest reading that lies within the range, else the plainest."""
    way = next((w for w in typed.ways if _inside(part, w) is not False), typed.ways[0])
    size = _inside(part, way)
    text = f"“{typed.text.strip()}”"
    unit_right = not part.unit or (way.unit and same_dimensions(way.dimensions, part.dimensions))
    unit_why = "" if unit_right else f"{text} has no unit" if not way.unit else f"the unit of {text} is not one of the {part.of}"
    faults: list[FaultFound] = []
    if not unit_right:
        code = "unit-absent" if not way.unit else "unit-of-another-quantity"
        faults.append(fault(code, typed.line, said=text, of=part.of, unit=part.unit))
    if size is False and _is_exponent(part, way) and part.exponent != "refused":
        size = True if part.exponent == "accepted" else None
        return _View(typed=typed, size=size, unit=True, why=f"{text} may be meant as the power of ten", unit_why="", way=way)
    if size is False:
        faults.append(_off(part, typed, way))
    standing = {True: "a reasonable value", None: "only partly within the accepted range", False: "outside the accepted range"}[size]
    why = f"{text} is {standing} for the {part.of}"
    return _View(typed=typed, size=size, unit=unit_right, why=why, unit_why=unit_why, way=way, faults=tuple(faults))


def _si(part: CompiledEstimate, way: Worth) -> tuple[float, ...]:
    """The value, or both ends of a range, in SI; a bare number, or one with another quantity's unit, by its digits."""
    fits = way.unit and same_dimensions(way.dimensions, part.dimensions)
    ends = [(way.si, way.raw), *([] if way.upper is None else [way.upper])]
    return tuple(si if fits else raw * part.scale for si, raw in ends)


def _inside(part: CompiledEstimate, way: Worth) -> bool | None:
    inside = [part.low * (1 - 1e-9) <= v <= part.high * (1 + 1e-9) for v in _si(part, way)]
    return True if all(inside) else None if any(inside) else False


def _is_exponent(part: CompiledEstimate, way: Worth) -> bool:
    """True for a bare whole number n with 10^n within the range."""
    return not way.unit and way.raw == int(way.raw) and abs(way.raw) < 100 and part.low <= 10.0**way.raw * part.scale <= part.high


def _off(part: CompiledEstimate, typed: Typed, way: Worth) -> FaultFound:
    value = abs(_si(part, way)[0]) or 1e-300
    way_off, factor = ("large", value / part.high) if value > part.high else ("small", part.low / value)
    rounded = f"{factor:.0f}" if factor < 1000 else f"10^{math.log10(factor):.0f}"
    return fault("size-off", typed.line, factor=rounded if rounded != "1" else "some", way=way_off)


def _points(part: CompiledEstimate, views: Sequence[_View], lines: Sequence[str]) -> list[Judged]:
    """One point; or two where the unit has a mark of its own."""
    ruling = part.convention.unit_fault
    alone = part.marks == 1 and not (ruling == "separate mark" and part.convention.half_marks)
    unit_worth = 0.0 if not part.unit or ruling == "none" or alone else 0.5 if part.marks == 1 else 1.0
    if not views:
        blank = is_blank(lines)
        doubt = "" if blank else "no value could be read"
        return [_judged(part, "estimate", float(part.marks), False if blank else None, doubt or "no value is given", (), doubt, ())]
    size, why, doubt = _size(part, views)
    numbers = tuple(sorted({v.typed.line for v in views}))
    unit_right = all(v.unit for v in views)
    unit_why = next((v.unit_why for v in views if not v.unit), "the unit is right")
    faults = tuple({f.code: f for v in views for f in v.faults}.values())
    if not unit_worth:
        counts = bool(part.unit) and ruling != "none"
        right = False if size is not False and counts and not unit_right else size
        clause = f"{why}, but {unit_why}" if counts and not unit_right and size is not False else why
        return [_judged(part, "estimate", float(part.marks), right, clause, numbers, doubt if right is None else "", faults)]
    wrong_size = tuple(f for f in faults if f.code == "size-off")
    return [
        _judged(part, "size", part.marks - unit_worth, size, why, numbers, doubt, wrong_size),
        _judged(part, "unit", unit_worth, unit_right, unit_why, numbers, "", tuple(f for f in faults if f not in wrong_size)),
    ]


def _size(part: CompiledEstimate, views: Sequence[_View]) -> tuple[bool | None, str, str]:
    """(right or open, why, doubt) under the ruling for two answers; several reasonable values agree."""
    sizes = [v.size for v in views]
    if len(views) == 1 or all(s is True for s in sizes):
        doubt = views[0].why if sizes[0] is None else ""
        return sizes[0], "; ".join(v.why for v in views), doubt
    text = in_words([f"“{v.typed.text.strip()}”" for v in views])
    everything = False if False in sizes else None
    best = True if True in sizes else None if None in sizes else False
    right = {"first": sizes[0], "last": sizes[-1], "best": best}.get(part.convention.two_answers, everything)
    why = f"{text} are both offered, and not all are within the accepted range for the {part.of}"
    return right, why, why if right is None else ""


def _judged(
    part: CompiledEstimate,
    point: str,
    worth: float,
    right: bool | None,
    why: str,
    numbers: tuple[int, ...],
    doubt: str,
    faults: tuple[FaultFound, ...],
) -> Judged:
    return Judged(
        point=point,
        kind="estimate",
        maximum=worth,
        marks={0.0: "not accepted", worth: "accepted"} if right is None else worth * right,
        reason=f"{where(numbers)}{why if numbers else capital(why)}.",
        lines=numbers,
        doubt=doubt,
        faults=faults if right is False else (),
    )


def _reports(
    part: CompiledEstimate, lines: Sequence[str], found: Sequence[Typed], views: Sequence[_View], unread: frozenset[int]
) -> tuple[LineReport, ...]:
    verdicts: dict[int, tuple[str, str, tuple[str, ...]]] = {}
    for value in found:
        verdicts[value.line] = ("withdrawn" if value.withdrawn else "value", "", (value.ways[0].text,))
    for view in views:
        verdict = "unread" if view.size is None else "right" if view.size and view.unit else "wrong"
        verdicts[view.typed.line] = (verdict, view.unit_why, (view.way.text,))
    return line_reports(lines, verdicts, unread)


def model_estimate(part: CompiledEstimate) -> tuple[str, ...]:
    return (part.sample,)


def answer_accepted(part: CompiledEstimate) -> str:
    """The range accepted, "20 J to 400 J"."""
    ends = [f"{end / part.scale:.4g} {part.unit}".strip() for end in (part.low, part.high)]
    return " to ".join(ends)


KIND = Kind(
    name="estimate", spec=EstimateSpec, compile=compile_estimate, mark=mark_estimate, model=model_estimate, answer=answer_accepted
)
