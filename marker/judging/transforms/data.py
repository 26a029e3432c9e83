"""Faults of a value that goes in: not converted, copied wrongly, another quantity's, the wrong constant."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from itertools import combinations

from marker.expression import ANGLE, Call, Dimensions, Expr, Negative, Number, Product, Symbol, Unit, UnitFactor, put, rebuild, symbols
from marker.expression import children as inner_of
from marker.judging.known_faults import Transform
from marker.judging.transforms.figures import exchanged, one_off
from marker.judging.transforms.givens import Givens, bare, data_in, dimensions_of, has_dimensions, with_number
from marker.judging.transforms.trees import everywhere, numeric, plain_number, product, quotient, read_factor
from marker.physics.evaluate import same_dimensions, value_at
from marker.scheme.compiled import Datum
from marker.scheme.lexicon import constants

_LENGTH: Dimensions = (1, 0, 0, 0, 0, 0, 0, 0)
_TEMPERATURE: Dimensions = (0, 0, 0, 0, 1, 0, 0, 0)
DIMENSIONS: Mapping[str, Dimensions] = {
    "length": _LENGTH,
    "area": (2, 0, 0, 0, 0, 0, 0, 0),
    "volume": (3, 0, 0, 0, 0, 0, 0, 0),
    "time": (0, 0, 1, 0, 0, 0, 0, 0),
    "speed": (1, 0, -1, 0, 0, 0, 0, 0),
    "energy": (2, 1, -2, 0, 0, 0, 0, 0),
}
_LITRES = ("l", "L", "litre", "ml", "mL", "cl", "cL", "dl", "dL")
Wrong = Callable[[Expr, Datum, Givens, Transform], Iterator[Expr]]


def _unconverted(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    if not datum.needs_conversion or datum.unit is None or datum.unit.name == "%" or datum.unit.offset:
        return
    wanted = DIMENSIONS.get(transform.get("dimension", ""))
    if wanted is None or (has_dimensions(node, datum, givens, wanted) and _is_factor(1 / datum.unit.scale, transform)):
        yield bare(datum.raw)


def _is_factor(ratio: float, transform: Transform) -> bool:
    """The ratio, wrong over right, is one of the row's `factors`, to a figure or two (1.6e-19)."""
    factors = [numeric(read_factor(text)) or 1.0 for text in transform.get("factors", ())]
    return not factors or any(abs(ratio / f - 1) < 0.01 for f in factors)


def _wrong_power(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    """mm² changed by the factor of mm, cm³ by that of cm (or of mm², for mm³)."""
    unit = datum.unit
    if unit is None or unit.scale == 1.0 or unit.name in _LITRES:
        return
    wanted = DIMENSIONS.get(transform.get("dimension", ""))
    if wanted is not None and not has_dimensions(node, datum, givens, wanted):
        return
    power = dimensions_of(node, datum, givens)[0]
    if power in (2, 3) and same_dimensions(dimensions_of(node, datum, givens), (power, 0, 0, 0, 0, 0, 0, 0)):
        factor = unit.scale ** (1 / power)
        for k in range(1, int(power)):
            yield bare(datum.raw * factor**k)


def _scaled(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    if transform["kind"] == "scale-datum" and not (datum.needs_conversion and datum.unit is not None and not datum.unit.offset):
        return
    wanted = transform.get("quantity")
    if wanted and isinstance(node, Symbol) and not givens.is_a(node.name, wanted):
        return
    for text in transform["factors"]:
        factor = numeric(read_factor(text)) or 1.0
        yield with_number(datum, datum.raw * factor)


def _move_point(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    if not datum.constant and datum.raw and not datum.has_power_of_ten:
        yield from _scaled(node, datum, givens, transform)


def _celsius(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    if datum.unit is not None and datum.unit.offset:
        yield bare(datum.raw)


def _offset_added(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    """273 added to a difference of temperatures (a datum in K or °C that is a difference)."""
    if has_dimensions(node, datum, givens, _TEMPERATURE) and not (datum.unit is not None and datum.unit.offset):
        yield from (bare(datum.si + offset) for offset in (273.0, 273.15))


def _offset_subtracted(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    if datum.unit is not None and datum.unit.offset:
        yield from (bare(datum.raw - offset) for offset in (273.0, 273.15))


def _exchange_digits(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    if not datum.constant:
        yield from (with_number(datum, value, text) for value, text in exchanged(datum.number))


def _change_digit(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    if not datum.constant:
        yield from (with_number(datum, value, text) for value, text in one_off(datum.number))


def _wrong_factor(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    """Converted by 100 or 10 or 1000 for 60, or one power of ten too many or too few."""
    unit = datum.unit
    if unit is None or unit.offset or not datum.needs_conversion or unit.name == "%":
        return
    for scale in _near_scales(unit):
        yield bare(datum.raw * scale)


def _near_scales(unit: Unit) -> Iterator[float]:
    if unit.scale in (60.0, 3600.0):
        yield from (s for s in (10.0, 60.0, 100.0, 1000.0, 3600.0) if s != unit.scale)
    else:
        yield from (unit.scale * f for f in (10.0, 0.1, 100.0, 0.01))
    yield 1 / unit.scale


def _percent(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    if datum.unit is not None and datum.unit.name == "%":
        yield bare(datum.raw)
    elif datum.unit is None and 0 < datum.raw < 1 and isinstance(node, Symbol) and "efficiency" in givens.kinds.get(node.name, ()):
        yield bare(datum.raw * 100)


def _reciprocal(node: Expr, datum: Datum, givens: Givens, transform: Transform) -> Iterator[Expr]:
    if datum.unit is not None and abs(sum(datum.unit.dimensions[:7])) == 1 and abs(datum.unit.dimensions[0]) == 1:
        yield quotient(plain_number(1.0), node)


_OF_ONE_VALUE: Mapping[str, Wrong] = {
    "unconverted": _unconverted,
    "wrong-power-conversion": _wrong_power,
    "scale-datum": _scaled,
    "move-point": _move_point,
    "celsius-for-kelvin": _celsius,
    "offset-added": _offset_added,
    "offset-subtracted": _offset_subtracted,
    "exchange-digits": _exchange_digits,
    "change-digit": _change_digit,
    "wrong-factor": _wrong_factor,
    "percent-as-number": _percent,
    "reciprocal-datum": _reciprocal,
}


def _replaced(tree: Expr, old: Expr, new: Expr) -> Expr:
    """The tree with one of its nodes, wherever it stands, replaced."""
    if tree == old:
        return new
    inner = inner_of(tree)
    return rebuild(tree, tuple(_replaced(i, old, new) for i in inner)) if inner else tree


def _one_value(transform: Transform, expression: Expr, givens: Givens) -> Iterator[Expr]:
    wrong = _OF_ONE_VALUE[transform["kind"]]
    found = [(node, tuple(wrong(node, datum, givens, transform))) for node, datum in data_in(expression, givens)]
    for node, changes in found:
        yield from (_replaced(expression, node, change) for change in changes)
    able = [(node, changes[0]) for node, changes in found if len(changes) == 1]
    if len(able) > 1:
        whole = expression
        for node, change in able:
            whole = _replaced(whole, node, change)
        yield whole


def _put_for(transform: Transform, expression: Expr, givens: Givens) -> Iterator[Expr]:
    """One quantity for another: times the factor that relates them, or the letter of the other where the part has one."""
    put_name, instead = transform["put"], transform["instead_of"]
    here = sorted(symbols(expression) - {"π"})
    others = [n for n in givens.data if givens.kinds and givens.is_a(n, put_name)]
    for name in here:
        if not givens.is_a(name, instead):
            continue
        for text in transform.get("factors", ()):
            yield put(expression, {name: product((read_factor(text), Symbol(name=name, known=True)))})
        if not transform.get("factors"):
            yield from (put(expression, {name: Symbol(name=o, known=True)}) for o in others if o != name)


def _another(transform: Transform, expression: Expr, givens: Givens) -> Iterator[Expr]:
    """Another value of the part in a value's place: of the same dimensions, or of others."""
    alike = transform["kind"] == "another-datum"
    for name in sorted(symbols(expression) & givens.data.keys()):
        for other in sorted(givens.data.keys() - {name}):
            same = same_dimensions(*(_dims(n, givens) for n in (name, other)))
            if same == alike and not givens.data[other].constant:
                yield put(expression, {name: Symbol(name=other, known=True)})


def _dims(name: str, givens: Givens) -> Dimensions:
    return dimensions_of(Symbol(name=name), givens.data[name], givens)


def _swap(transform: Transform, expression: Expr, givens: Givens) -> Iterator[Expr]:
    for a, b in combinations(sorted(symbols(expression) & givens.data.keys()), 2):
        if not givens.data[a].constant and not givens.data[b].constant:
            yield put(expression, {a: Symbol(name=b, known=True), b: Symbol(name=a, known=True)})


def _constant_value(transform: Transform, expression: Expr, givens: Givens) -> Iterator[Expr]:
    symbol = transform["symbol"]
    if symbol in symbols(expression):
        for text in transform["values"]:
            yield put(expression, {symbol: Number(text=text, value=float(text))})


def _another_constant(transform: Transform, expression: Expr, givens: Givens) -> Iterator[Expr]:
    values = {c.symbol: c.values[0] for c in constants()}
    for a, b in (*transform["pairs"], *(p[::-1] for p in transform["pairs"])):
        datum = givens.data.get(a)
        given = datum is None or datum.constant or (a in values and abs(datum.si / float(values[a]) - 1) < 0.01)
        if a in symbols(expression) and b in values and given:
            yield put(expression, {a: Number(text=values[b], value=float(values[b]))})


def _angle_mode(transform: Transform, expression: Expr, givens: Givens) -> Iterator[Expr]:
    """sin 30° worked out as the sine of 30 radians; an inverse function read in the other unit."""
    ratio = 180 / math.pi

    def rule(node: Expr) -> Iterator[Expr]:
        if isinstance(node, Call) and node.function in ("sin", "cos", "tan"):
            yield Call(function=node.function, inner=_in_radians(node.inner, givens, ratio))
        elif isinstance(node, Call) and node.function in ("asin", "acos", "atan"):
            yield product((plain_number(ratio), node))

    yield from everywhere(expression, rule)


def _in_radians(inner: Expr, givens: Givens, ratio: float) -> Expr:
    """The angle's number of degrees taken for radians, as a tree whose value in SI is that number."""
    value = value_at(inner, givens.values)
    if symbols(inner) - {"π"} or not math.isfinite(value):
        return product((plain_number(ratio), inner))
    degrees = value * (ratio if _has_degrees(inner) else 1.0)
    return Product(factors=(Number(text=f"{degrees:.10g}", value=degrees), _RADIAN))


def _has_degrees(inner: Expr) -> bool:
    return any(d.unit is not None and d.unit.dimensions[7] for _, d in data_in(inner, Givens()))


def _flip_value(transform: Transform, expression: Expr, givens: Givens) -> Iterator[Expr]:
    """A value that may be negative with the opposite sign."""
    for name in sorted(symbols(expression) & givens.data.keys()):
        if givens.data[name].si < 0:
            yield put(expression, {name: Negative(inner=Symbol(name=name, known=True))})


_RADIAN = UnitFactor(unit=Unit(name="rad", scale=1.0, dimensions=ANGLE))
_OF_SEVERAL: Mapping[str, Callable[[Transform, Expr, Givens], Iterator[Expr]]] = {
    "put-for": _put_for,
    "another-datum": _another,
    "other-quantity": _another,
    "swap-data": _swap,
    "constant-value": _constant_value,
    "another-constant": _another_constant,
    "angle-mode": _angle_mode,
    "flip-sign": _flip_value,
}


def wrong_data(transform: Transform, expression: Expr, givens: Givens) -> Iterator[Expr]:
    """The expression with a wrong value put in: the value as a number, or another letter."""
    kind = transform["kind"]
    if kind in _OF_ONE_VALUE:
        yield from _one_value(transform, expression, givens)
    elif kind in _OF_SEVERAL:
        yield from _OF_SEVERAL[kind](transform, expression, givens)
