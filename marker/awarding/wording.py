"""The sentences of awards, in an examiner's words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from marker.judging.model import Slip
from marker.scheme.compiled import Datum


def say(lines: Sequence[int]) -> str:
    """ "line 2", "lines 2 and 4"."""
    numbers = sorted(dict.fromkeys(n for n in lines if n))
    if not numbers:
        return "carried from an earlier part"
    if len(numbers) == 1:
        return f"line {numbers[0]}"
    return f"lines {', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"


def missing_answer(symbol: str) -> str:
    return f"no value of {symbol} is given"


def unit_sentence(state: str, typed: str) -> str:
    """Why a right number with this unit does not earn the answer."""
    if state == "missing":
        return f"{typed!r}: the unit is missing"
    if state == "prefix":
        return f"{typed!r}: the number is right in another unit, so the power of ten is wrong"
    return f"{typed!r}: the unit is not one for this quantity"


_WORDS: Mapping[str, str] = {
    "unconverted": "{expected} put in as {typed}, not converted",
    "wrong-prefix": "{expected} put in with the wrong prefix, as {typed}",
    "wrong-conversion": "{expected} converted wrongly, as {typed}",
    "power-of-ten": "wrong power of ten: {typed}",
    "digits-exchanged": "{expected} copied as {typed}",
    "copied-wrongly": "{expected} copied as {typed}",
    "own-value-miscarried": "own value {expected} carried as {typed}",
    "another-datum": "{typed} put in the place of {symbol}",
    "other-quantity": "{typed} is another quantity, put in the place of {symbol}",
    "values-exchanged": "the values of {typed} and {expected} are exchanged",
    "wrong-relationship": "wrong relationship: {typed}",
    "wrong-rearrangement-of-symbols": "rearranged wrongly in symbols: {typed}",
    "wrong-rearrangement-of-numbers": "rearranged wrongly after the numbers were in: {typed}",
    "calculator-mode": "calculator in the wrong angle mode: {typed}",
    "arithmetic": "arithmetic slip: {typed}",
    "root-forgotten": "square root not taken: {typed}",
    "root-taken": "square root taken where there is none: {typed}",
    "rounded-early": "rounded too early: {typed}",
    "sign": "sign lost: {typed}",
}


def slip_words(slip: Slip, data: Mapping[str, Datum]) -> str:
    """What went wrong, as a clause, with its line."""
    pattern = _WORDS.get(slip.code, slip.code.replace("-", " ") + ": {typed}")
    datum = data.get(slip.symbol)
    expected = slip.expected or (datum.text if datum else "")
    words = pattern.format(typed=slip.typed or "this", expected=expected or slip.symbol or "a value", symbol=slip.symbol or "it")
    return f"{words} ({say((slip.line,))})"
