"""Typed values, and what the numbers of a substitution come to."""

from __future__ import annotations

import math
from dataclasses import replace

from marker.expression import Call, Expr, Symbol, kept_on_tree, symbols, walk
from marker.judging.desk import Implied
from marker.judging.early import rounded_on_the_way
from marker.judging.leaves import is_numeric, is_unit, value_parts
from marker.judging.model import Slip, TypedValue
from marker.physics.evaluate import DEGREE, Unknown, absolute_temperature, evaluate
from marker.physics.system import Equation, near_root
from marker.scheme.compiled import CompiledCalculation

LOOSE = 0.012
ROUNDED = 0.06  # how far a value on the way, rounded to one figure, may lead astray


def typed_value(side: Expr, text: str) -> TypedValue | None:
    """A side that is just a value; None when it is not."""
    number, unit = value_parts(side)
    if number is None or is_unit(side):
        return None
    absolute = absolute_temperature(side)
    scale = unit.scale if unit else 1.0
    si = absolute if absolute is not None else number.value * scale
    return TypedValue(si=si, raw=number.value, half=number.half * abs(scale), number=number, unit=unit, text=text)


def nearly(value: float, target: float, half: float = 0.0) -> bool:
    """Within half a unit of the last place typed, or 1.2 %: the same number, rounding on the way allowed."""
    return abs(value - target) <= max(half * 1.0001, LOOSE * abs(target), 1e-12 * abs(target))


def closely(value: float, target: float, half: float) -> bool:
    """Within half a unit of the last place typed, or one part in two hundred."""
    return abs(value - target) <= max(half * 1.0001, 0.005 * abs(target))


def power_between(a: float, b: float) -> int | None:
    """k when a is b × 10^k to 1 %, k not 0; else None."""
    ratio = a / b if b else 0.0
    if not 0 < ratio < math.inf:
        return None
    k = round(math.log10(ratio))
    return k if k and abs(k) <= 12 and abs(ratio / 10.0**k - 1) < 0.012 else None


def implied_by(part: CompiledCalculation, equation: Equation, about: str) -> tuple[float, float, float | None] | None:
    """What the numbers of a substitution give for a quantity: (SI, plain numbers, in radian mode or None)."""
    left, right = equation
    if isinstance(right, Symbol) and not isinstance(left, Symbol):
        left, right = right, left
    if isinstance(left, Symbol) and is_numeric(right):
        return _direct(right)
    if not about or about not in part.system.base:
        return None
    names = (symbols(left) | symbols(right)) - {"π"}
    if names - {about} - part.system.base.keys():
        return None
    return _by_root(part, (left, right), about)


@kept_on_tree("_comes_to")
def _direct(side: Expr) -> tuple[float, float, float | None] | None:
    """What numbers come to: (SI, plain numbers, in radian mode or None where that is the same)."""
    try:
        value = evaluate(side)
    except Unknown:
        return None
    if not any(isinstance(n, Call) for n in walk(side)):
        return value.si, value.raw, None
    try:
        other: float | None = evaluate(side, radians=True).raw
    except Unknown:
        other = None
    if other is not None and math.isclose(other, value.raw, rel_tol=1e-9):
        other = None
    return value.si, value.raw, other


def _by_root(part: CompiledCalculation, equation: Equation, about: str) -> tuple[float, float, float | None] | None:
    """Solves a typed equation for its one open quantity, data letters at their given values."""
    base = part.system.base
    root = near_root(equation, about, base, base[about])
    if root is None:
        root = near_root(equation, about, base, 100.0 * base[about])
    if root is None:
        return None
    raw = root / DEGREE if about in part.angles else root
    return root, raw, None


def check_value(
    part: CompiledCalculation, symbol: str, typed: TypedValue, implied: Implied | None, line: int, *, about: bool = False
) -> tuple[tuple[Slip, ...], tuple[Slip, ...], bool]:
    """(faults inherited from the substitution, faults made in this very step, whether the value is the right one).

    about   the value stands after ≈: one figure of it may be all that is meant
    """
    truth = part.system.base[symbol]
    right = same_quantity(part, symbol, typed, truth)
    if implied is None:
        return (), (), right
    inherited = tuple(dict.fromkeys(implied.evidence.slips + implied.evidence.inherited))
    if part.either_sign and typed.si > 0 > implied.si and _matches(replace(typed, si=-typed.si, raw=-typed.raw), implied, False):
        return inherited, (), right or same_quantity(part, symbol, replace(typed, si=-typed.si, raw=-typed.raw), truth)
    if math.isnan(implied.si) or _matches(typed, implied, symbol in part.angles) or _rounded_off(typed, implied, 1 if about else 2):
        return inherited, (), right
    if right and not inherited:
        return (), (), right
    return inherited, (_step_slip(part, symbol, typed, implied, line),), right


def same_quantity(part: CompiledCalculation, symbol: str, typed: TypedValue, target: float) -> bool:
    """The typed value is the target, a bare angle taken in degrees and other bare numbers in SI."""
    if nearly(typed.si, target, typed.half):
        return True
    return (
        symbol in part.angles
        and typed.unit is None
        and nearly(typed.raw * DEGREE, target, typed.number.half * DEGREE if typed.number else 0.0)
    )


def _matches(typed: TypedValue, implied: Implied, angle: bool) -> bool:
    half = typed.number.half if typed.number else 0.0
    return nearly(typed.si, implied.si, typed.half) or nearly(typed.raw, implied.raw, half)


def _rounded_off(typed: TypedValue, implied: Implied, least: int) -> bool:
    """`1.87 × 10⁸ Pa ≈ 190 MPa`: a whole number whose noughts at the end only hold their place, rounded rightly before them."""
    number = typed.number
    figures = number.figures[0] if number is not None else 0
    if number is None or figures == number.figures[1] or figures < least:
        return False
    pairs = ((typed.si, implied.si), (typed.raw, implied.raw))
    return any(math.isclose(float(f"{meant:.{figures - 1}e}"), value, rel_tol=1e-9) for value, meant in pairs if math.isfinite(meant))


def _step_slip(part: CompiledCalculation, symbol: str, typed: TypedValue, implied: Implied, line: int) -> Slip:
    half = typed.number.half if typed.number else 0.0

    def slip(code: str, family: str = "arithmetic") -> Slip:
        return Slip(code=code, family=family, line=line, symbol=symbol, typed=typed.text, expected=f"{implied.raw:.4g}")

    if implied.radians is not None and nearly(typed.raw, implied.radians, half):
        return slip("calculator-mode")
    if symbol in part.angles and nearly(typed.raw, implied.si, half):
        return slip("calculator-mode")
    powers = power_between(typed.raw, implied.raw) or power_between(typed.si, implied.si)
    if powers and not _squared_exactly(typed.raw, implied.raw, half):
        return slip("power-of-ten", "conversion")
    if implied.raw > 0 and typed.raw > 0:
        if nearly(typed.raw, implied.raw**2, half):
            return slip("root-forgotten")
        if nearly(typed.raw**2, implied.raw, half):
            return slip("root-taken")
    if nearly(typed.raw, -implied.raw, half):
        return slip("sign")
    if implied.raw and abs(typed.raw / implied.raw - 1) < ROUNDED and _cut_on_the_way(part, typed, implied, half):
        return slip("rounded-early", "rounding")
    return slip("arithmetic")


def _cut_on_the_way(part: CompiledCalculation, typed: TypedValue, implied: Implied, half: float) -> bool:
    """The value comes out when one of the values on the way is cut to a few figures; granted where the way is not known."""
    stated = implied.evidence.stated
    if stated is None:
        return True
    values = {**part.system.base, **dict(implied.evidence.uses)}
    ratio = typed.raw / implied.raw
    return rounded_on_the_way(stated[1], values, ratio, abs(half / implied.raw) * 1.0001)


def _squared_exactly(typed: float, implied: float, half: float) -> bool:
    """The square of what the numbers give, to its last figure, which a power of ten times it is not: 98 for √98 = 9.9."""
    if typed * implied <= 0:
        return False
    ten = 10.0 ** round(math.log10(typed / implied)) * implied
    return abs(typed - implied**2) <= 0.2 * half and abs(typed - ten) > 0.2 * half + 1e-3 * typed
