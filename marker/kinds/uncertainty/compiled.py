"""An uncertainty part made ready: each quantity's share, how they combine, and the accepted ranges."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from marker.expression import Expr, Symbol
from marker.kinds.marking import question_of
from marker.kinds.meant import Units
from marker.kinds.scheme_quantities import UnitOf, quantity, refuse, relationship, unit_of, with_uncertainty
from marker.kinds.typed_numbers import letters
from marker.kinds.uncertainty.spec import Measured, PointKind, UncertaintySpec
from marker.physics.algebra import NotSolved, solve_for
from marker.physics.evaluate import Unknown, Value, evaluate
from marker.physics.rounding import last_place, significant_figures
from marker.physics.uncertainty import Combining, combine, mean, random_uncertainty, reading_uncertainty
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.convention import Convention

Range = tuple[float, float]
RULES: tuple[Combining, ...] = ("root sum of squares", "sum", "largest")


class Mode(StrEnum):
    """Which uncertainties combine: percentages of factors, absolute ones of terms, or neither simply."""

    PERCENTAGES = "percentages"
    ABSOLUTE = "absolute"
    MIXED = "mixed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Component:
    """One measured quantity. `fraction` its fractional uncertainty; `power` its power in the result (1 for a term);
    `share` its fraction times the power, or in a sum the absolute uncertainty it brings, in SI."""

    symbol: str
    value: Value
    uncertainty: Value
    fraction: float
    power: float
    share: float
    readings: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class UncertaintyPart:
    """What marking needs. `combined` is a fraction; `absolute` in SI; ranges likewise."""

    spec: UncertaintySpec
    convention: Convention
    components: tuple[Component, ...]
    mode: Mode
    result: Value
    unit: UnitOf
    combined: float
    combined_range: Range
    absolute: float
    absolute_range: Range
    figures: int
    table: SymbolTable
    points: tuple[tuple[PointKind, int], ...]
    accepted: Value | None

    @property
    def question(self) -> str:
        return question_of(self.spec)

    @property
    def rule(self) -> Combining:
        return self.convention.uncertainty_rule

    @property
    def units(self) -> Units:
        """The kinds of unit the part is about."""
        found = {d for c in self.components for d in (c.value.dimensions, c.uncertainty.dimensions) if d is not None}
        return frozenset((*found, self.unit.dimensions))

    def admissible(self, shares: tuple[float, ...]) -> tuple[float, ...]:
        """What the ruling allows the shares to combine to: once, and again with small components left out."""
        values = [combine(shares, self.rule)]
        if self.rule == "root sum of squares" and self.spec.drop_below_third:
            values.append(combine(shares, self.rule, drop_below_third=True))
        return tuple(dict.fromkeys(values))


def compile_uncertainty(spec: UncertaintySpec, convention: Convention) -> UncertaintyPart:
    """The part made ready. Raises SchemeError naming the key and the mend."""
    ruled, where = convention.with_rulings(spec.rulings), f"part {spec.name}"
    measured = {n: _measured(q, f"{where}, quantities.{n}") for n, q in spec.quantities.items()}
    given = {n: quantity(t, f"{where}, given.{n}").value for n, t in spec.given.items()}
    table = _table(spec, measured)
    tree = _tree(spec, table, {*measured, *given}, where)
    values = {**{n: m[0] for n, m in measured.items()}, **given}
    result = _result(tree, values, where)
    unit = unit_of(spec.unit, f"{where}, unit")
    mode, powers, slopes = _behaviour(tree, values, tuple(measured))
    components = tuple(_component(n, m, mode, powers[n], slopes[n]) for n, m in measured.items())
    absolutes = tuple(abs(slopes[n]) * m[1].si for n, m in measured.items())
    absolute = combine(absolutes, ruled.uncertainty_rule)
    fraction = absolute / abs(result.si) if result.si else math.nan
    combined = _range(spec.combined_within, fraction, spec.tolerance, 1.0, f"{where}, combined_within")
    within = _range(spec.within, absolute, spec.tolerance, unit.scale, f"{where}, within")
    return UncertaintyPart(
        spec=spec,
        convention=ruled,
        components=components,
        mode=mode,
        result=result,
        unit=unit,
        combined=fraction,
        combined_range=combined,
        absolute=absolute,
        absolute_range=within,
        figures=spec.figures or _least_figures(spec),
        table=table,
        points=_points(spec, mode, mode is Mode.PERCENTAGES and any(c.power != 1.0 for c in components), where),
        accepted=quantity(spec.accepted, f"{where}, accepted").value if spec.accepted else None,
    )


def _measured(typed: str | Measured, where: str) -> tuple[Value, Value, tuple[float, ...]]:
    """(value, uncertainty, readings)"""
    if isinstance(typed, str):
        both = with_uncertainty(typed, where)
        if both is None:
            refuse(where, repr(typed), expected="a value ± its uncertainty", mend='Write "(46.0 ± 0.5) m".')
        return both[0], both[1], ()
    if typed.readings:
        unit = unit_of(typed.unit, f"{where}.unit")
        readings = tuple(float(r) for r in typed.readings)
        centre, spread = mean(readings), random_uncertainty(readings)
        if typed.uncertainty:
            spread = quantity(typed.uncertainty, f"{where}.uncertainty").si / unit.scale
        return Value(centre * unit.scale, centre, unit.dimensions), Value(spread * unit.scale, spread, unit.dimensions), readings
    value = quantity(typed.value, f"{where}.value")
    if typed.scale is not None:
        division = quantity(typed.division, f"{where}.division") if typed.division else None
        size = division.si if division is not None else 10.0 ** last_place(value.number) * (value.si / value.raw if value.raw else 1.0)
        spread_si = reading_uncertainty(size, typed.scale)
        return value.value, Value(spread_si, spread_si * (value.raw / value.si if value.si else 1.0), value.dimensions), ()
    stated = quantity(typed.uncertainty, f"{where}.uncertainty")
    if stated.unit == "%":
        return value.value, Value(abs(value.si) * stated.si, abs(value.raw) * stated.si, value.dimensions), ()
    return value.value, stated.value, ()


def _table(spec: UncertaintySpec, measured: Mapping[str, object]) -> SymbolTable:
    entries = [SymbolEntry(name=spec.find, names=tuple(spec.names), unit=spec.unit)] if spec.find not in measured else []
    for name, typed in spec.quantities.items():
        words = tuple(typed.names) if isinstance(typed, Measured) else ()
        entries.append(SymbolEntry(name=name, names=words))
    entries += [SymbolEntry(name=n) for n in spec.given]
    entries += [SymbolEntry(name=f"Δ{n}") for n in dict.fromkeys((spec.find, *measured))]
    return SymbolTable(tuple(entries))


def _tree(spec: UncertaintySpec, table: SymbolTable, known: set[str], where: str) -> Expr:
    """The result in terms of the quantities."""
    if not spec.using:
        if spec.find in known:
            return Symbol(name=spec.find, known=True)
        mend = f"Say in using how {spec.find} is worked out."
        refuse(f"{where}, using", "nothing", expected="a relationship", mend=mend)
    left, right = relationship(spec.using, table, f"{where}, using")
    missing = (letters(left) | letters(right)) - known - {spec.find}
    if missing or spec.find not in letters(left) | letters(right):
        seen = f"{spec.using!r}" + (f" with {', '.join(sorted(missing))} unknown" if missing else f" without {spec.find}")
        refuse(f"{where}, using", seen, mend="List every other letter in quantities or given.")
    if isinstance(left, Symbol) and left.name == spec.find and spec.find not in letters(right):
        return right
    try:
        return solve_for((left, right), spec.find)[0]
    except NotSolved:
        refuse(f"{where}, using", repr(spec.using), expected=f"{spec.find} = …", mend=f"Write it as {spec.find} = …")


def _result(tree: Expr, values: Mapping[str, Value], where: str) -> Value:
    try:
        return evaluate(tree, values)
    except Unknown as error:
        refuse(f"{where}, using", str(error), expected="a value for these quantities")


def _behaviour(tree: Expr, values: Mapping[str, Value], names: tuple[str, ...]) -> tuple[Mode, dict[str, float], dict[str, float]]:
    """How the result depends on each quantity: as a product of powers, as a sum, or otherwise; powers, and slopes in SI."""
    at_values = _derivatives(tree, values, names)
    moved = {n: Value(v.si * (1.07 + 0.05 * i), v.raw * (1.07 + 0.05 * i), v.dimensions) for i, (n, v) in enumerate(values.items())}
    elsewhere = _derivatives(tree, moved, names)
    powers = {n: at_values[n][1] for n in names}
    slopes = {n: at_values[n][0] for n in names}
    if all(math.isclose(at_values[n][1], elsewhere[n][1], rel_tol=1e-5, abs_tol=1e-7) for n in names):
        return Mode.PERCENTAGES, {n: _tidy(p) for n, p in powers.items()}, slopes
    if all(math.isclose(at_values[n][0], elsewhere[n][0], rel_tol=1e-5, abs_tol=1e-12) for n in names):
        return Mode.ABSOLUTE, powers, slopes
    return Mode.MIXED, powers, slopes


def _tidy(power: float) -> float:
    """Powers come from differences; those of school relationships are whole or simple fractions."""
    near = round(power * 12) / 12
    return near if math.isclose(power, near, abs_tol=1e-5) else power


def _derivatives(tree: Expr, values: Mapping[str, Value], names: tuple[str, ...]) -> dict[str, tuple[float, float]]:
    """name -> (∂f/∂x in SI, x/f ∂f/∂x)"""
    found: dict[str, tuple[float, float]] = {}
    centre = evaluate(tree, values).si
    for name in names:
        here = values[name]
        step = abs(here.si) * 1e-5 or 1e-9
        up, down = (evaluate(tree, {**values, name: Value(here.si + sign * step, here.raw, here.dimensions)}).si for sign in (1.0, -1.0))
        slope = (up - down) / (2 * step)
        found[name] = (slope, slope * here.si / centre if centre else math.nan)
    return found


def _component(name: str, measured: tuple[Value, Value, tuple[float, ...]], mode: Mode, power: float, slope: float) -> Component:
    value, uncertainty, readings = measured
    fraction = abs(uncertainty.si / value.si) if value.si else math.nan
    share = abs(slope) * uncertainty.si if mode is Mode.ABSOLUTE else abs(power) * fraction
    return Component(symbol=name, value=value, uncertainty=uncertainty, fraction=fraction, power=abs(power), share=share, readings=readings)


def _range(typed: list[str] | None, value: float, tolerance: float, scale: float, where: str) -> Range:
    """Accepted range in SI: the one typed, else the value ± the tolerance. A typed range must hold the value."""
    if typed is None:
        return (value * (1 - tolerance), value * (1 + tolerance))
    ends = sorted(q.si if q.unit else q.raw * scale for q in (quantity(t, where) for t in typed))
    if not ends[0] * (1 - 1e-9) <= value <= ends[1] * (1 + 1e-9):
        seen = f"{' to '.join(typed)}, but the data give {value / scale:.4g}"
        mend = "Check the range and the ruling uncertainty_rule."
        refuse(where, seen, expected="a range that holds the value", mend=mend)
    return (ends[0], ends[1])


def _least_figures(spec: UncertaintySpec) -> int:
    """Figures of the least precise uncertainty given; one for readings."""
    found: list[int] = []
    for name, typed in spec.quantities.items():
        where = f"part {spec.name}, quantities.{name}"
        if isinstance(typed, Measured):
            text = quantity(typed.uncertainty, where).number if typed.uncertainty else ""
        else:
            both = with_uncertainty(typed, where)
            text = both[2] if both is not None else ""
        try:
            found.append(significant_figures(text)[1])
        except ValueError:
            found.append(1)
    return max(1, min(found))


_DEFAULT_POINTS: Mapping[tuple[Mode, int], tuple[PointKind, ...]] = {
    (Mode.PERCENTAGES, 4): ("percentages", "combination", "combined", "absolute"),
    (Mode.PERCENTAGES, 3): ("percentages", "combination", "absolute"),
    (Mode.PERCENTAGES, 2): ("combination", "absolute"),
    (Mode.ABSOLUTE, 2): ("combination", "absolute"),
    (Mode.MIXED, 2): ("combination", "absolute"),
}


def _points(spec: UncertaintySpec, mode: Mode, raised: bool, where: str) -> tuple[tuple[PointKind, int], ...]:
    kinds = tuple(spec.points) if spec.points else _defaults(spec, mode)
    worth = tuple(spec.worth) if spec.worth else (1,) * len(kinds)
    if not kinds or len(kinds) != len(worth) or sum(worth) != spec.marks:
        seen = f"{len(kinds)} points worth {sum(worth)} for {spec.marks} marks"
        mend = "List points, and worth where not one each."
        refuse(f"{where}, points", seen, expected="points that add up to the marks", mend=mend)
    if "comparison" in kinds and not spec.accepted:
        refuse(f"{where}, accepted", "nothing", expected="a value to compare with")
    if "powers" in kinds and not raised:
        mend = "Leave the point powers out: nothing is squared or under a root."
        refuse(f"{where}, points", "powers", expected="a relationship with a power other than 1", mend=mend)
    if mode is Mode.ABSOLUTE and "percentages" in kinds:
        mend = "Leave the point percentages out."
        refuse(f"{where}, points", "percentages of a sum or difference", expected="absolute uncertainties", mend=mend)
    return tuple(zip(kinds, worth, strict=True))


def _defaults(spec: UncertaintySpec, mode: Mode) -> tuple[PointKind, ...]:
    has_readings = any(isinstance(q, Measured) and q.readings for q in spec.quantities.values())
    readings: tuple[PointKind, ...] = ("mean", "random", "statement")
    if has_readings and not spec.using:
        return readings[: spec.marks]
    if spec.marks == 1:
        return ("combined",) if spec.ask == "percentage" else ("absolute",)
    asked: tuple[PointKind, ...] = ("percentages", "combination", "combined")
    if spec.ask == "percentage":
        return asked[-spec.marks :] if spec.marks <= 3 else ()
    return _DEFAULT_POINTS.get((mode, spec.marks), ())
