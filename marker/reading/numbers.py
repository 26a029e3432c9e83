"""Numbers as typed: 1.85 × 10^4, 6.63x10-34, 2.4E5, 27,6, 1·5, 1 234.5, 3 1/2, ½, 0.3 recurring.

Each way to read the digits at a place is a candidate with a cost; a power of ten is part of its number.
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from marker.expression import Number

_MOST_DIGITS = 40
_LARGEST_EXPONENT = 300
LARGEST_POWER = 35  # of ten, in quantities of school physics


class NumberStyle(NamedTuple):
    """How the line, and the response around it, writes numbers.

    decimal_point, decimal_comma  some number of it has a decimal point / comma beyond doubt
    cross                         it multiplies with × x or *, so a raised dot may be a decimal point
    lost                          it has no superscripts, although it should: 10-34, mv2
    bare                          it has no superscripts, and nothing that shows a lost one
    first                         the number is all there is on the first side: 0.802 = 3.62 + 2a × 54
    """

    decimal_point: bool = False
    decimal_comma: bool = False
    cross: bool = False
    lost: bool = False
    bare: bool = False
    first: bool = False


PLAIN_STYLE = NumberStyle()
LOST_STYLE = NumberStyle(lost=True)
BARE_STYLE = NumberStyle(bare=True)


class NumberScan(NamedTuple):
    """One reading of the digits: Number, or a base with a power when a superscript was lost (4.592 for 4.59²).

    choice  "power" or "plain" where × 104 may be × 10⁴: a statement makes the same choice throughout
    """

    end: int
    number: Number
    cost: float = 0.0
    code: str = ""
    text: str = ""
    power: int = 0
    choice: str = ""


class _Mantissa(NamedTuple):
    """Digits before a power of ten: where they end, and what was assumed."""

    end: int
    digits: str
    cost: float = 0.0
    code: str = ""
    text: str = ""
    exact: float | None = None


_PLAIN = re.compile(r"\d+(?:\.\d+)?|\.\d+")
# a number that nothing after it can change: the end, a sign, a bracket, a letter that begins no exponent, power or large number
_UNDISTURBED = re.compile(r"(\d{1,20}(?:\.\d{1,20})?)(?:$|[)/+=%°Ω<>|]| ?[)/+=(Ω]| ?(?!times )[A-DF-SU-WYZa-df-qsu-wyzμ°](?!\w*llion)| -)")
_LOST_SQUARE = re.compile(r"\.\d+[23]$")
ENDS_IN_POWER = re.compile(r"[1-9]\d+2(?![\d.])|\d?[.,]\d*\d[23](?!\d)")
_LOST_WHOLE_SQUARE = re.compile(r"[1-9]\d+2")
_THOUSANDS = re.compile(r"\d{1,3}(?:,\d{3})+(?![\d])(?:\.\d+)?(?!,\d)")
_DOTTED_THOUSANDS = re.compile(r"\d{1,3}(?:\.\d{3})+,\d+(?![\d.])")
_SPACED = re.compile(r"\d{1,3}(?: \d{3})+(?:\.\d+)?(?![\d])|\d{1,3}(?:'\d{3})+(?:\.\d+)?(?![\d])")
_COMMA = re.compile(r"\d+,\d+(?![\d.]|,\d)")
_RAISED = re.compile(r"\d+·\d+(?![\d.·,]|\s?\^)")
_GLYPHS = frozenset("¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞")
_GLYPH = re.compile(r"(\d+)?\s?([¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])")
_MIXED = re.compile(r"(\d+)\s+(\d{1,2})/(\d{1,2})(?![\d.,/^])")
_MIXED_UNDER = frozenset((2, 3, 4, 5, 6, 8, 10, 16, 32))
_RECURRING = re.compile(r"(\d{0,20}\.\d{0,20}?)((?:\d\u0307){1,12}\d{0,12}\u0307?)|(\d*\.\d+)\s?(?:recurring|rec\b)")
_TRAIL = re.compile(r"\s?…")
_TEN = r"\s*[×xX*·.]\s*10"
_EXPONENT = r"\s?\^\s?(?:\(\s*([+-]?\s?\d+)\s*\)|((?:minus |negative |[+-]\s?)?\d+)(?:(?:th|st|nd|rd)\b)?(?![\d.]))"
_POWER_OF_TEN = re.compile(_TEN + _EXPONENT)
_E_NOTATION = re.compile(r"\s?(?:[eE]|EXP|exp|×?\s?EE)\s?(?:\(\s*([+-]?\d+)\s*\)|([+-]?\d+)(?![\d.]))")
_LOST_MINUS = re.compile(_TEN + r"\s?(-\s?\d{1,2})(?![\d.,])")
_LOST_POWER = re.compile(r"\s*[×xX*·]\s*10( ?\d{1,2})(?![\d.,])")
_BARE_TEN = re.compile("10" + _EXPONENT)
_LEVEL = re.compile(r"\s?/\s?[12]0(?![\d.])")  # 10^94/10, a level in decibels
_BARE_LOST = re.compile(r"10(-\d{1,2})(?![\d.,])")


MULTIPLIER = re.compile(r"\s?(thousand|million|billion|trillion)\b", re.IGNORECASE)
_WORTH = {"thousand": 3, "million": 6, "billion": 9, "trillion": 12}


_UNITS = "one two three four five six seven eight nine"
_TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty"
_WORDS = {word: n for n, word in enumerate((_UNITS + " " + _TEENS).split(" "), start=1)} | {"thirty": 30}
_SPOKEN_POWER = re.compile(  # 2.12 times 10 to the minus 19, 3 x ten to the power of eight
    r"\s?(?:[×xX*·]|times|multiplied by)\s?(?:10|ten)\s?(?:raised )?to the (?:power (?:of )?)?(minus |negative |-\s?)?"
    rf"(\d{{1,2}}(?:th|st|nd|rd)?|(?:(?:twenty|thirty)[ -]?)?(?:{'|'.join(sorted(_WORDS, key=len, reverse=True))}))\b",
    re.IGNORECASE,
)


def is_number_start(text: str, at: int) -> bool:
    c = text[at]
    return c.isdigit() or (c == "." and text[at + 1 : at + 2].isdigit()) or c in "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞∞"


def scan_numbers(text: str, at: int, style: NumberStyle) -> list[NumberScan]:
    """Numbers that begin at `at`, in no order; never raises."""
    if text[at] == "∞":
        return [NumberScan(at + 1, Number(text="∞", value=math.inf))]
    plain = _UNDISTURBED.match(text, at)
    if plain is not None and not text.startswith("10^", at) and not (
        style.lost or _LOST_SQUARE.search(plain.group(1)) or (style.bare and _LOST_WHOLE_SQUARE.fullmatch(plain.group(1)))
    ):
        return [NumberScan(plain.end(1), _as_typed(plain.group(1)))]
    found: list[NumberScan] = []
    if text.startswith("10", at):
        bare = _BARE_TEN.match(text, at)
        if bare is not None:
            exponent = bare.group(1) or bare.group(2)
            if not (len(exponent) <= 3 and exponent.isdigit() and int(exponent) > LARGEST_POWER and _LEVEL.match(text, bare.end())):
                return _bare_ten(text, at, bare.end(), exponent, 0.0, "")
        lost = _BARE_LOST.match(text, at)
        if lost is not None:
            found += _bare_ten(text, at, lost.end(), lost.group(1), 2.0, "lost-power")
    for mantissa in _mantissas(text, at, style):
        found += _with_power(text, at, mantissa, style)
    return found


@lru_cache(maxsize=4096)
def _as_typed(digits: str) -> Number:
    """A number without power of ten, sign or doubt."""
    return _scan(digits, 0, len(digits), _Mantissa(len(digits), digits), 0).number


def _bare_ten(text: str, at: int, end: int, exponent: str, cost: float, code: str) -> list[NumberScan]:
    power = _power(exponent)
    if abs(power) > _LARGEST_EXPONENT:
        return []
    number = Number(text=text[at:end], value=10.0**power)
    return [NumberScan(end, number, cost, code, f"10 to the power {power}" if code else "")]


def _mantissas(text: str, at: int, style: NumberStyle) -> list[_Mantissa]:
    """Ways to read the digits before any power of ten."""
    plain = _PLAIN.match(text, at)
    end = at if plain is None else plain.end()
    following = text[end : end + 1]
    if following and (following in _GLYPHS or (following == " " and text[end + 1 : end + 2] in _GLYPHS)):
        glyph = _GLYPH.match(text, at)
        if glyph is not None:
            value = unicodedata.numeric(glyph.group(2)) + float(glyph.group(1) or 0)
            return [_Mantissa(glyph.end(), text[at : glyph.end()], exact=value)]
    if plain is None:
        return []
    digits = plain.group()
    if end - at > _MOST_DIGITS:
        return [_Mantissa(end, digits[:_MOST_DIGITS])]
    if following and following in "\u0307 r" and "." in digits:
        recurring = _RECURRING.match(text, at)
        if recurring is not None:
            return [_recurring(recurring)]
    if following == "" or following not in ",'·. …":
        return [_Mantissa(end, digits)]
    found = _special(text, at, end, following, style)
    trailing = _TRAIL.match(text, end)
    if trailing is not None:
        return [_Mantissa(trailing.end(), digits, code="ellipsis", text="the dots after the number are passed over")]
    if not found or found[0].cost > 0 or following == "·":
        # the plain digits stand too, the sign after them being a product or a separator
        cost = 0.0 if not found else 1.5 if found[0].cost == 0 else 0.0
        if following == "·" and found:
            cost = 0.0 if found[0].cost else 0.3
        found.append(_Mantissa(end, digits, cost))
    return found


def _special(text: str, at: int, end: int, following: str, style: NumberStyle) -> list[_Mantissa]:
    """Commas, spaces, apostrophes and raised dots inside a number."""
    found: list[_Mantissa] = []
    if following == ",":
        found += _with_comma(text, at, style)
    if following in " '" and text[end + 1 : end + 2].isdigit():
        spaced = _SPACED.match(text, at)
        mixed = _MIXED.match(text, at) if following == " " else None
        if spaced is not None:
            found.append(_Mantissa(spaced.end(), re.sub("[ ']", "", spaced.group()), 0.0, "digit-groups", "digits in groups of three"))
        elif mixed is not None and int(mixed.group(3)) in _MIXED_UNDER and int(mixed.group(2)) < int(mixed.group(3)):
            value = int(mixed.group(1)) + int(mixed.group(2)) / int(mixed.group(3))
            found.append(_Mantissa(mixed.end(), mixed.group(), 0.0, "mixed-number", "a whole number and a fraction", value))
    if following == "·":
        raised = _RAISED.match(text, at)
        power = end - at == 1 and text[at - 1 : at] == "^"  # (2π/3.6)^2·42
        if raised is not None and not power:
            settled = style.decimal_point or style.decimal_comma
            few = len(raised.group().partition("·")[2]) <= 2
            cost = 1.0 if settled else 0.0 if style.cross or few else 0.4
            found.append(
                _Mantissa(raised.end(), raised.group().replace("·", "."), cost, "raised-point", "the raised dot is a decimal point")
            )
    return found


def _with_comma(text: str, at: int, style: NumberStyle) -> list[_Mantissa]:
    dotted = _DOTTED_THOUSANDS.match(text, at)
    if dotted is not None:
        digits = dotted.group().replace(".", "").replace(",", ".")
        return [_Mantissa(dotted.end(), digits, 0.0, "decimal-comma", "the comma is a decimal point")]
    thousands, comma = _THOUSANDS.match(text, at), _COMMA.match(text, at)
    found: list[_Mantissa] = []
    grouped = thousands is not None and not thousands.group().startswith("0")
    if grouped and thousands is not None:
        cost = 0.8 if style.decimal_comma and not style.decimal_point else 0.0
        found.append(_Mantissa(thousands.end(), thousands.group().replace(",", ""), cost, "thousands", "the comma parts thousands"))
    if comma is not None:
        cost = 1.0 if grouped and not (style.decimal_comma and not style.decimal_point) else 0.0
        cost += 0.8 if style.decimal_point and not grouped else 0.0
        found.append(_Mantissa(comma.end(), comma.group().replace(",", "."), cost, "decimal-comma", "the comma is a decimal point"))
    return sorted(found, key=lambda m: m.cost)


def _recurring(found: re.Match[str]) -> _Mantissa:
    if found.group(3) is not None:
        fixed, repeat = found.group(3)[:-1], found.group(3)[-1]
    else:
        fixed, repeat = found.group(1), found.group(2).replace("\u0307", "")
    places = len(fixed.partition(".")[2])
    value = float(fixed + "0" if fixed.endswith(".") else fixed or 0) + int(repeat) / (10 ** len(repeat) - 1) / 10**places
    return _Mantissa(found.end(), found.group(), 0.0, "recurring", "recurring decimal", value)


def _with_power(text: str, at: int, m: _Mantissa, style: NumberStyle) -> list[NumberScan]:
    """The mantissa with the power of ten that follows it, and without where that is in doubt."""
    here = m.end
    word = MULTIPLIER.match(text, here)
    if word is not None:
        return [_scan(text, at, word.end(), m, _WORTH[word.group(1).lower()])]
    c = text[here : here + 1]
    if c == " ":
        c = text[here + 1 : here + 2]
    if c != "" and c in "×xX*·tTmM":
        spoken = _SPOKEN_POWER.match(text, here)
        if spoken is not None:
            power = _in_figures(spoken.group(2).lower())
            power = -power if spoken.group(1) else power
            return [_in_signs(_scan(text, at, spoken.end(), m, power), text[at:here], power)]
    if c == "" or c not in "×xX*·.eE ":
        return [_scan(text, at, here, m, 0), *_lost_square(text, at, m, style)]
    written = _POWER_OF_TEN.match(text, here) or _E_NOTATION.match(text, here)
    if written is not None and not (written.group().lstrip()[0] in "." and "." not in m.digits and text[here] != " "):
        power = _power(written.group(1) or written.group(2))
        if abs(power) <= _LARGEST_EXPONENT and re.search("[a-z]", written.group().lstrip(" xXeE×*·.PO")):
            return [_in_signs(_scan(text, at, written.end(), m, power), text[at:here], power)]
        if abs(power) <= _LARGEST_EXPONENT:
            # 16e-25/15.5 is a power of e where superscripts are lost
            doubtful = style.lost and text.startswith("e-", here)
            return [_scan(text, at, written.end(), m, power), *([_scan(text, at, here, m, 0, 0.5)] if doubtful else [])]
    minus = _LOST_MINUS.match(text, here)
    if minus is not None:
        power = int(minus.group(1).replace(" ", ""))
        note = f"× 10 to the power {power}"
        spaced = 0.6 if " " in minus.group(1) else 0.0  # 10 - 4; but in 10 -4 the space is all that is left of the superscript
        folded = _scan(text, at, minus.end(), m, power, 0.3 + spaced, "lost-power", note)
        return [folded._replace(choice="power"), _scan(text, at, here, m, 0, 1.2 - spaced)._replace(choice="plain")]
    lost = _LOST_POWER.match(text, here)
    if lost is not None and not lost.group(1).strip().startswith("0"):
        power, apart = int(lost.group(1)), lost.group(1).startswith(" ")
        standard = 1 <= _size(m) < 10 and ("." in m.digits or len(m.digits) == 1)
        usual = style.lost or apart or (standard and ("." in m.digits or power > 9))
        note = f"× 10 to the power {power}"
        folded = _scan(text, at, lost.end(), m, power, 0.4 if usual else 1.2, "lost-power", note)
        return [folded._replace(choice="power"), _scan(text, at, here, m, 0, 0.8 if usual else 0.0)._replace(choice="plain")]
    return [_scan(text, at, here, m, 0), *_lost_square(text, at, m, style)]


def _power(exponent: str) -> int:
    """-19 of "-19", "- 19" and "minus 19"."""
    return int(re.sub(r"minus|negative", "-", exponent).replace(" ", ""))


def _in_signs(found: NumberScan, mantissa: str, power: int) -> NumberScan:
    """The number as it would be written with signs in place of words."""
    return found._replace(number=replace(found.number, text=f"{mantissa.strip()} × 10^{power}"))


def _in_figures(spoken: str) -> int:
    """34 of "34", "34th" and "thirty-four"."""
    if spoken[0].isdigit():
        return int(spoken.rstrip("thsndr"))
    return sum(_WORDS[word] for word in re.findall(r"twenty|thirty(?!ee)|[a-z]+", spoken))


def _size(m: _Mantissa) -> float:
    return m.exact if m.exact is not None else float(m.digits)


def _lost_square(text: str, at: int, m: _Mantissa, style: NumberStyle) -> list[NumberScan]:
    """4.592 for 4.59², and 212 for 21² where the response has lost its superscripts: a number that ends in 2 or 3, and dear."""
    if m.exact is not None or m.code not in ("", "decimal-comma") or m.digits[-1] not in "23":
        return []
    whole, point, places = m.digits.partition(".")
    if (len(places) < 2) if point else (not (style.lost or style.bare) or len(whole) < 3 or m.digits[-1] == "3"):
        return []
    shorter = _Mantissa(m.end - 1, m.digits[:-1])
    power = int(m.digits[-1])
    base = _scan(text, at, m.end - 1, shorter, 0)
    cost = 1.3 if style.lost else 2.0 if style.bare else 3.0
    return [NumberScan(m.end, base.number, cost, "lost-power", f"{m.digits[:-1]} to the power {power}", power)]


def _scan(text: str, at: int, end: int, m: _Mantissa, power: int, cost: float = 0.0, code: str = "", note: str = "") -> NumberScan:
    typed = text[at:end]
    if m.exact is not None:
        number = Number(text=typed, value=_scaled(m.exact, power), half=0.0, figures=(1, 15))
    else:
        places = len(m.digits.partition(".")[2])
        half = 0.5 * 10.0 ** max(-300, power - places)
        value = _value(m.digits, power)
        number = Number(text=typed, value=value, half=half, figures=_figures(m.digits))
    return NumberScan(end, number, m.cost + cost, code or m.code, note or m.text)


def _value(digits: str, power: int) -> float:
    value = float(f"{digits}e{power}")
    return value if math.isfinite(value) else 1e300


def _scaled(value: float, power: int) -> float:
    return value * 10.0**power if value < 1e6 else value


def _figures(digits: str) -> tuple[int, int]:
    """(least, most) significant figures: trailing zeros of a whole number may or may not count."""
    whole, point, places = digits.partition(".")
    shown = (whole + places).lstrip("0")
    if not shown:
        zeros = max(1, len(places))
        return (zeros, zeros)
    if point:
        return (len(shown), len(shown))
    return (max(1, len(shown.rstrip("0"))), len(shown))
