"""What a typed number may be with a fault of copying or converting."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from marker.expression import Expr, Product, Quotient, Sum, Unit, symbols
from marker.judging.digits import exchanged, one_figure_off, power_of_ten
from marker.judging.given import OTHER_G, is_usual_g, printed_scales, shown_in_units
from marker.judging.leaves import Leaf
from marker.judging.model import Slip, TypedValue
from marker.judging.origins import OwnNumber, Source, constant, letter
from marker.physics.evaluate import value_at
from marker.scheme.compiled import CompiledCalculation, Datum


def slip_of(part: CompiledCalculation, code: str, family: str, leaf: Leaf, symbol: str, line: int) -> Slip:
    """A fault in the number put in for a quantity."""
    datum = part.data.get(symbol)
    return Slip(code=code, family=family, line=line, symbol=symbol, typed=leaf.number.text, expected=datum.text if datum else "")


@lru_cache(maxsize=20_000)
def miscopied(part: CompiledCalculation, leaf: Leaf, line: int) -> tuple[Source, ...]:
    """A datum miscopied or not converted, or a quantity of the part without the conversion that the data need."""
    found = [s for symbol, datum in part.data.items() for s in _miscopied(part, leaf, symbol, datum, line)]
    for symbol, _ in shown_in_units(part, leaf):
        slip = slip_of(part, "unconverted", "conversion", leaf, symbol, line)
        found.append(Source(cost=1.5, stands_for=letter(symbol), symbol=symbol, slip=slip, value=leaf.raw))
    for symbol, value in part.system.base.items():
        if symbol in part.data or leaf.unit is not None or not value:
            continue
        if any(leaf.raw_close(value / scale) for scale in printed_scales(part, symbol)):
            slip = slip_of(part, "unconverted", "conversion", leaf, symbol, line)
            found.append(Source(cost=1.7, stands_for=letter(symbol), symbol=symbol, slip=slip))
    return tuple(found)


def _miscopied(part: CompiledCalculation, leaf: Leaf, symbol: str, datum: Datum, line: int) -> Iterator[Source]:
    def source(cost: float, code: str, family: str) -> Source:
        return Source(cost=cost, stands_for=letter(symbol), symbol=symbol, slip=slip_of(part, code, family, leaf, symbol, line))

    if datum.needs_conversion and leaf.unit is None and leaf.raw_close(datum.raw):
        yield source(1.5, "unconverted", "conversion")
        return
    if datum.needs_conversion and leaf.unit is None and datum.raw < 0 and leaf.raw_close(-datum.raw):  # the 48 of −48 °C
        turned = Product(factors=(constant(-1.0), letter(symbol)))
        yield replace(source(1.5, "unconverted", "conversion"), stands_for=turned, value=-leaf.raw)
    if symbol == "g" and leaf.raw in OTHER_G and is_usual_g(datum):
        ruling = part.convention.other_g
        family = {"answer mark": "conversion", "substitution": "copying"}.get(ruling, "accepted")
        yield source(1.4, "other-g", family)
        return
    unit = leaf.unit
    if unit is not None and datum.unit is not None and unit.scale != datum.unit.scale and leaf.raw == datum.raw:
        yield source(1.6, "wrong-prefix", "conversion" if datum.needs_conversion else "copying")
    if math.isclose(leaf.si, -datum.si, rel_tol=1e-9) and datum.si:
        yield source(1.8, "sign", "copying")
        return
    if unit is None and datum.unit is not None and datum.unit.offset and datum.raw < 0 and leaf.raw_close(-datum.raw):
        celsius = Sum(terms=(letter(symbol), constant(-datum.unit.offset)))
        yield replace(source(1.8, "sign", "copying"), stands_for=celsius, value=leaf.raw * datum.unit.scale + datum.unit.offset)
        return
    for against in dict.fromkeys((datum.si, datum.raw)):
        if against and power_of_ten(leaf.si / against) is not None:
            free = datum.needs_conversion or datum.has_power_of_ten
            yield source(2.0, "power-of-ten", "conversion" if free else "digit place")
            return
    typed = leaf.number.text
    for right in dict.fromkeys((datum.number.text, f"{datum.si:.10g}")):
        if exchanged(typed, right) or one_figure_off(typed, right):
            code, cost = ("digits-exchanged", 2.2) if exchanged(typed, right) else ("copied-wrongly", 2.6)
            yield replace(source(cost, code, "copying"), value=_as_printed(leaf, datum))
            if unit is None and datum.unit is not None and datum.needs_conversion and not datum.unit.offset:
                yield _in_printed_unit(source(cost + 0.1, code, "copying"), datum.unit, leaf)
            return


def _as_printed(leaf: Leaf, datum: Datum) -> float | None:
    """What the number is in SI when it stands in the unit the datum is printed in; None where it has another size or unit."""
    unit = datum.unit
    if leaf.unit is not None or unit is None or unit.offset or not datum.raw or not 0.1 < abs(leaf.raw / datum.raw) < 10:
        return None
    return leaf.raw * unit.scale


def _in_printed_unit(source: Source, unit: Unit, leaf: Leaf) -> Source:
    """The same fault in a number left in the unit it is printed in, as all of a sum may be."""
    tree = Quotient(over=source.stands_for, under=constant(unit.scale))
    return replace(source, stands_for=tree, value=leaf.raw * unit.scale)


FACTORS = frozenset({10.0, 24.0, 60.0, 100.0, 365.0, 1000.0, 3600.0, 1e4, 1e6, 86400.0})  # that school conversions multiply or divide by


def half_converted(part: CompiledCalculation, leaf: Leaf, beside: frozenset[float], line: int) -> Iterator[Source]:
    """`9.5 × 60` for 9.5 h, `62500/100` for 62500 cm²: the printed number beside a factor that is not its unit's.

    beside  the other numbers of the statement
    """
    for factor in sorted(beside & FACTORS) if leaf.unit is None else ():
        for symbol, datum in part.data.items():
            unit = datum.unit
            if not datum.needs_conversion or unit is None or unit.offset or not leaf.raw_close(datum.raw):
                continue
            for turned in (factor, 1 / factor):
                if not math.isclose(turned, unit.scale):
                    slip = replace(slip_of(part, "wrong-conversion", "conversion", leaf, symbol, line), typed="")
                    tree = Quotient(over=letter(symbol), under=constant(turned))
                    yield Source(cost=1.9, stands_for=tree, symbol=symbol, slip=slip, value=leaf.raw * turned)


def wrongly_converted(part: CompiledCalculation, tree: Expr, typed: TypedValue, line: int) -> Slip | None:
    """The fault of `9.5 × 60 = 570` for 9.5 h: a multiple of one datum that needs converting, and not the datum."""
    name = next(iter(symbols(tree)), "")
    datum = part.data.get(name)
    if datum is None or symbols(tree) != {name} or not datum.needs_conversion or datum.unit is None or datum.unit.offset:
        return None
    ratio, again = (value_at(tree, {name: k * datum.si}) / (k * datum.si) for k in (1.0, 2.0))
    factor = max(ratio, 1 / ratio) if ratio > 0 else 1.0
    if not math.isclose(ratio, again) or not any(math.isclose(factor, f) for f in FACTORS):
        return None
    return Slip(code="wrong-conversion", family="conversion", line=line, symbol=name, typed=typed.text, expected=datum.text)


def own_miscopied(leaf: Leaf, own: OwnNumber, line: int) -> Iterator[Source]:
    if not own.raw or leaf.number.figures[1] < 2:
        return
    text, right = leaf.number.text, f"{own.raw:.10g}"
    slip = None
    if power_of_ten(leaf.si / own.si if own.si else 0.0) is not None:
        slip = ("power-of-ten", "conversion")
    elif exchanged(text, right) or (one_figure_off(text, right) and len(text) > 2):
        slip = ("own-value-miscarried", "copying")
    if slip:
        fault = Slip(code=slip[0], family=slip[1], line=line, symbol=own.symbol, typed=text, expected=right)
        yield Source(cost=2.8, stands_for=own.stands_for, symbol=own.symbol, slip=fault, own=own)
