"""Rounding, significant figures and decimal places of typed numbers.

Everything works on decimals made from the digits as written, so that 12.25 is a tie and 12.249999… is not.
An exact tie may go either way: ISO 80000-1 Annex B gives the even multiple (Rule A) and the larger magnitude (Rule B), schools
teach the second and laboratories often the first. The checks accept both.
"""

from decimal import ROUND_DOWN, ROUND_HALF_EVEN, ROUND_HALF_UP, Context, Decimal, InvalidOperation
from typing import Literal

Rule = Literal["half up", "half even"]
_MODES = {"half up": ROUND_HALF_UP, "half even": ROUND_HALF_EVEN}
_CONTEXT = Context(prec=400, Emax=9999, Emin=-9999)
_LONGEST = 60  # characters of a typed number
_WIDEST = 300  # powers of ten


def as_decimal(value: Decimal | str | float) -> Decimal:
    """The decimal of the digits as written; a float by its shortest digits. Raises ValueError when it is no number of sensible size."""
    text = repr(value) if isinstance(value, float) else str(value).strip()
    try:
        number = Decimal(text)
    except InvalidOperation:
        raise ValueError(f"not a number: {text[:40]!r}") from None
    if not number.is_finite() or len(text) > _LONGEST + 5 or (number and abs(number.adjusted()) > _WIDEST):
        raise ValueError(f"number out of range: {text[:40]!r}")
    return number


def round_to_place(value: Decimal | str | float, place: int, rule: Rule = "half up") -> Decimal:
    """Value rounded to the decimal place 10**place: place -2 gives hundredths, 3 gives thousands.

    "half up" takes a tie to the larger magnitude (Rule B), "half even" to the even multiple (Rule A).
    """
    return as_decimal(value).quantize(Decimal((0, (1,), place)), rounding=_MODES[rule], context=_CONTEXT)


def round_to_figures(value: Decimal | str | float, figures: int, rule: Rule = "half up") -> Decimal:
    """Value rounded to significant figures, which it then shows: 0.01363 to two figures is 0.014, 9.96 is 10. (as 1.0E+1)."""
    number = as_decimal(value)
    if not number:
        return number
    rounded = round_to_place(number, number.adjusted() - figures + 1, rule)
    if rounded.adjusted() > number.adjusted():
        rounded = round_to_place(rounded, rounded.adjusted() - figures + 1, rule)
    return rounded


def roundings(value: Decimal | str | float, place: int) -> tuple[Decimal, ...]:
    """Both admissible roundings to a place: one of them, or two at an exact tie."""
    up, even = round_to_place(value, place, "half up"), round_to_place(value, place, "half even")
    return (up,) if up == even else (up, even)


def rounds_to(value: Decimal | str | float, typed: str) -> bool:
    """True when the typed number is a right rounding of the value, at the typed number's last shown place or any place
    its trailing zeros leave open (300 may be to the nearest 1, 10 or 100). A tie is accepted either way."""
    shown = as_decimal(typed)
    return any(shown == r for place in possible_places(typed) for r in roundings(value, place))


def truncated(value: Decimal | str | float, typed: str) -> bool:
    """True when digits were cut off instead of rounded: 5.67 written 5.6."""
    if rounds_to(value, typed):
        return False
    cut = as_decimal(value).quantize(Decimal((0, (1,), last_place(typed))), rounding=ROUND_DOWN, context=_CONTEXT)
    return cut == as_decimal(typed)


def last_place(typed: str) -> int:
    """Power of ten of the last digit shown: -2 for 0.14, 0 for 300, 3 for 2.70e5."""
    exponent = as_decimal(typed).as_tuple().exponent
    assert isinstance(exponent, int)
    return exponent


def possible_places(typed: str) -> tuple[int, ...]:
    """Powers of ten to which the number may have been rounded: the last place shown, and for a whole number without a
    decimal point each place its trailing zeros leave open."""
    number, place = as_decimal(typed), last_place(typed)
    mantissa = typed.strip().lower().split("e")[0]
    if not number or "." in mantissa or place < 0:
        return (place,)
    digits = mantissa.lstrip("+-")
    zeros = len(digits) - len(digits.rstrip("0"))
    return tuple(range(place, place + zeros + 1))


def significant_figures(typed: str) -> tuple[int, int]:
    """(least, most) significant figures a typed number may claim: 0.0140 has (3, 3), 300 has (1, 3), 300. has (3, 3).

    Leading zeros never count; trailing zeros of a whole number are ambiguous (AS 2706). Nought counts as one figure.
    """
    number = as_decimal(typed)
    if not number:
        return (1, 1)
    places = possible_places(typed)
    return (number.adjusted() - places[-1] + 1, number.adjusted() - places[0] + 1)


def rounding_interval(typed: str) -> tuple[Decimal, Decimal]:
    """The values that round to the typed number at its last shown place: "4.42" gives 4.415 to 4.425."""
    number, half = as_decimal(typed), Decimal((0, (5,), last_place(typed) - 1))
    return (_CONTEXT.subtract(number, half), _CONTEXT.add(number, half))


def plain(number: Decimal) -> str:
    """The number without a power of ten where that shows no false figures and stays short; else 2.7 × 10³ as '2.7e3'."""
    exponent = number.as_tuple().exponent
    if isinstance(exponent, int) and exponent <= 0 and number.adjusted() > -6:
        return f"{number:f}"
    sign = "-" if number.is_signed() else ""
    digits = "".join(map(str, number.as_tuple().digits))
    if number.adjusted() in range(-5, 6) and len(digits) == 1:
        return f"{number:f}"
    mantissa = digits[0] + ("." + digits[1:] if len(digits) > 1 else "")
    return f"{sign}{mantissa}e{number.adjusted()}"
