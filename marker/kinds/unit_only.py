"""kind = "unit": "state the unit of …", by name or by symbol, with every equivalent of the same size accepted."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from pydantic import Field

from marker.awarding.wording import printed, quoted
from marker.expression import Unit
from marker.kinds.base import Carried, Kind, PartSpec
from marker.kinds.short import Judged, capital, fault, refuse, result_of, where
from marker.kinds.unit_reading import Named, meanings, unit_words, units_named
from marker.kinds.words import in_words, is_blank, line_reports, too_long
from marker.physics.evaluate import same_dimensions
from marker.results import FaultFound, LineReport, PartResult
from marker.scheme.convention import Convention

NO_UNIT = "none"


class UnitSpec(PartSpec):
    """Keys of kind = "unit".

    of       the quantity whose unit is asked;  unit  the unit, or "none"
    size     "exact": of the same size only (T, not mT); "any": multiples too
    form     "symbol" or "name" where the question asks for one of them
    also     further units accepted;  refused  units refused although they are equivalent
    """

    kind: Literal["unit"] = "unit"
    of: str = Field(min_length=1)
    unit: str = Field(min_length=1)
    size: Literal["exact", "any"] = "exact"
    form: Literal["any", "symbol", "name"] = "any"
    also: list[str] = Field(default_factory=list)
    refused: list[str] = Field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class CompiledUnit:
    """`unit` is None where the quantity has none."""

    name: str
    marks: int
    of: str
    unit: Unit | None
    typed: str
    any_size: bool
    form: str
    also: tuple[Unit, ...]
    refused: frozenset[str]
    convention: Convention


def compile_unit(spec: UnitSpec, convention: Convention) -> CompiledUnit:
    """Raises SchemeError with the key and the mend."""
    convention = convention.with_rulings(spec.rulings)
    unit = None if spec.unit.strip().lower() == NO_UNIT else _unit(spec, "unit", spec.unit)
    refused = {_unit(spec, "refused", text).name for text in spec.refused}
    also = tuple(_unit(spec, "also", text) for text in spec.also)
    if unit is not None:
        for group in unit_words()["distinct"]:
            refused |= set(group) - {unit.name, *(u.name for u in also)} if unit.name in group and _refuses(unit.name, group) else set()
    return CompiledUnit(
        name=spec.name,
        marks=spec.marks,
        of=spec.of,
        unit=unit,
        typed=spec.unit,
        any_size=spec.size == "any",
        form=spec.form,
        also=also,
        refused=frozenset(refused),
        convention=convention,
    )


def _refuses(name: str, group: Sequence[str]) -> bool:
    """A joule may be written N m; the moment of a force is never in joules."""
    return not (name == "J" and "N m" in group)


def _unit(spec: UnitSpec, key: str, text: str) -> Unit:
    found = meanings(text)
    if not found:
        refuse(spec, key, f'"{text}" is not a unit', 'a unit in SI symbols, or "none"', 'Write it as "T", "N m" or "kg m^-3".')
    return found[0][0]


# ---- judging ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """One unit named, judged. right None: a person must decide; `why` is a clause."""

    named: Named
    right: bool | None
    why: str
    fault: FaultFound | None = None


def mark_unit(part: CompiledUnit, lines: Sequence[str], carried: Carried) -> PartResult:
    """Marks the unit named. Nothing is carried into it."""
    named = () if is_blank(lines) and part.unit is not None else units_named(lines)
    standing = [n for n in named if not n.given_up]
    if not any(n.units or n.none for n in standing) and part.convention.crossed_out != "never":
        standing = [n for n in named if n.given_up and (n.units or n.none)][-1:] or standing
    views = [_view(part, n) for n in standing if n.units or n.none]
    point = _judge(part, views, standing, too_long(lines))
    return result_of(part.name, part.marks, [point], _reports(lines, views, named, point))


def _judge(part: CompiledUnit, views: Sequence[_View], standing: Sequence[Named], cut: bool) -> Judged:
    if not views:
        said = "; ".join(n.text for n in standing)
        if 0 < len(said) <= 2 and said.isalpha():
            return _point(part, False, f"“{said}” is not the symbol of a unit; the unit of the {part.of} is {part.typed}", (), ())
        if said:
            return _point(part, None, f"“{said[:60]}” could not be read as a unit", (), ())
        return _point(part, False, "no unit is given", (), ())
    distinct = _distinct(views)
    numbers = tuple(sorted({v.named.line for v in views}))
    if len(distinct) == 1 or all(v.right for v in distinct):
        view = next((v for v in distinct if v.right is None), distinct[0])
        faults = (view.fault,) if view.fault is not None else ()
        return _point(part, None if cut and view.right else view.right, view.why, numbers, faults)
    text = in_words([f"“{v.named.text}”" for v in distinct])
    rights = [v.right for v in distinct]
    ruling = part.convention.two_answers
    counted = {"first": rights[0], "last": rights[-1], "best": True if True in rights else None if None in rights else False}.get(
        ruling, _all(rights)
    )
    return _point(part, counted, f"{text} are both given", numbers, ())


def _all(rights: Sequence[bool | None]) -> bool | None:
    return False if False in rights else None if None in rights else True


def _distinct(views: Sequence[_View]) -> list[_View]:
    """Views of different units, in order; several right ones count as one."""
    kept: list[_View] = []
    for view in views:
        if not any(_same(view.named, k.named) or (view.right and k.right) for k in kept):
            kept.append(view)
    return kept


def _same(a: Named, b: Named) -> bool:
    return bool(a.units and b.units) and same_dimensions(a.units[0].dimensions, b.units[0].dimensions) and _close(a.units[0], b.units[0])


def _close(a: Unit, b: Unit) -> bool:
    return abs(a.scale - b.scale) <= 1e-9 * max(abs(a.scale), abs(b.scale)) and a.offset == b.offset


def _view(part: CompiledUnit, named: Named) -> _View:
    text, wanted = quoted(named.text), printed(part.typed)
    if part.unit is None:
        return _View(named=named, right=named.none, why=f"{text}: the {part.of} has no unit" + ("" if named.none else ", and one is given"))
    if named.none:
        return _View(named=named, right=False, why=f"{text}: the {part.of} has a unit, {wanted}")
    matching = [u for u in named.units if _accepted(part, u)]
    if matching:
        return _right_unit(part, named, text)
    alike = [u for u in named.units if same_dimensions(u.dimensions, part.unit.dimensions)]
    if alike and alike[0].name in part.refused:
        return _wrong(part, named, f"{text} is not used for the {part.of}; its unit is {wanted}", "unit-of-another-quantity")
    if alike:
        return _wrong(part, named, f"{text} is a unit of it of another size; the unit asked for is {wanted}", "unit-with-prefix")
    if _case_slip(part, named):
        why = f"{text} has capital and small letters exchanged, and as typed is the symbol of another unit; the unit is {wanted}"
        return _View(named=named, right=None, why=why, fault=fault("unit-symbol-case", named.line, unit=part.typed))
    return _wrong(part, named, f"{text} is not a unit of the {part.of}; its unit is {wanted}", "unit-of-another-quantity")


def _wrong(part: CompiledUnit, named: Named, why: str, code: str) -> _View:
    return _View(named=named, right=False, why=why, fault=fault(code, named.line, said=named.text, of=part.of, unit=part.typed))


def _right_unit(part: CompiledUnit, named: Named, text: str) -> _View:
    if (part.form == "symbol" and named.by_name) or (part.form == "name" and not named.by_name):
        return _View(named=named, right=False, why=f"{text} is the right unit; its {part.form} was asked for")
    if named.case and not part.convention.case_tolerant_units:
        why = f"{text} has capital and small letters exchanged; the unit is {printed(part.typed)}"
        return _View(named=named, right=False, why=why, fault=fault("unit-symbol-case", named.line, unit=part.typed))
    return _View(named=named, right=True, why=f"{text} is a unit of the {part.of}")


def _accepted(part: CompiledUnit, unit: Unit) -> bool:
    assert part.unit is not None  # asked only where there is a unit
    if unit.name in part.refused:
        return False
    if any(u == unit for u in part.also):
        return True
    return same_dimensions(unit.dimensions, part.unit.dimensions) and (part.any_size or _close(unit, part.unit))


def _case_slip(part: CompiledUnit, named: Named) -> bool:
    """True for "t" where T was wanted: the right letters in the wrong case, which make another unit."""
    variants = {named.text.upper(), named.text.capitalize(), named.text.lower(), named.text.swapcase()} - {named.text}
    return len(named.text) <= 6 and any(_accepted(part, unit) for variant in variants for unit, _ in meanings(variant)[:1])


def _point(part: CompiledUnit, right: bool | None, why: str, numbers: tuple[int, ...], faults: tuple[FaultFound, ...]) -> Judged:
    worth = float(part.marks)
    return Judged(
        point="unit",
        kind="unit",
        maximum=worth,
        marks={0.0: "not accepted", worth: "accepted"} if right is None else worth * right,
        reason=f"{where(numbers)}{why if numbers else capital(why)}.",
        lines=numbers,
        doubt=why if right is None else "",
        faults=faults,
    )


def _reports(lines: Sequence[str], views: Sequence[_View], named: Sequence[Named], point: Judged) -> tuple[LineReport, ...]:
    verdicts: dict[int, tuple[str, str, tuple[str, ...]]] = {n.line: ("withdrawn", "", ()) for n in named if n.given_up}
    for view in views:
        verdict = "unread" if view.right is None else "right" if view.right else "wrong"
        reading = view.named.units[0].name if view.named.units else "no unit"
        before = verdicts.get(view.named.line, ("", "", ()))
        worst = "wrong" if "wrong" in (before[0], verdict) else verdict
        verdicts[view.named.line] = (worst, "", (*before[2], reading))
    unread = frozenset(n.line for n in named if not n.units and not n.none and point.doubt)
    return line_reports(lines, verdicts, unread)


def model_unit(part: CompiledUnit) -> tuple[str, ...]:
    """The unit as the scheme has it, in the form asked for."""
    return ("no unit",) if part.unit is None else (part.typed,)


KIND = Kind(name="unit", spec=UnitSpec, compile=compile_unit, mark=mark_unit, model=model_unit)
