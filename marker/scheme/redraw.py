"""A typed quantity with another number: as many figures, the same form and unit. And a question's text with numbers replaced."""

from __future__ import annotations

import re
from collections.abc import Mapping

_NUMBER = re.compile(r"\d{1,3}(?:[ \u2009\u202f]\d{3})+(?:[.·]\d+)?|\d+(?:[.·]\d+)?")
_POWER = re.compile(r"\s*(?:[×x*·]\s*10|[eE][-+−]?\d)")


def typed_number(text: str) -> str:
    """The first number as typed, without a power of ten: "2.40" of "2.40 × 10^5 Pa", "18 500" of "18 500 J"; "" for none."""
    found = _NUMBER.search(text)
    return found.group() if found else ""


def value_of(number: str) -> float:
    """A typed number's value."""
    return float(re.sub(r"[ \u2009\u202f]", "", number).replace("·", "."))


def has_power(text: str) -> bool:
    """True when a power of ten follows the number."""
    found = _NUMBER.search(text)
    return found is not None and _POWER.match(text, found.end()) is not None


def renumbered(text: str, value: float) -> str:
    """The quantity with `value` for its number, written like the old one.

    A decimal keeps its significant figures, a whole number its closing zeros; a number before a power of ten stays from 1 to 10.
    """
    found = _NUMBER.search(text)
    if found is None:
        return text
    return text[: found.start()] + _written(found.group(), value, has_power(text)) + text[found.end() :]


def _written(old: str, value: float, power: bool) -> str:
    plain = re.sub(r"[ \u2009\u202f]", "", old)
    if power:
        value = min(max(value, 1.0), 9.9)
    if "." in plain or "·" in plain:
        new = _to_figures(value, _figures(plain))
        return new.replace(".", "·") if "·" in plain else new
    zeros = len(plain) - len(plain.rstrip("0"))
    step = 10**zeros
    new = str(max(step, round(value / step) * step))
    return _grouped(new, old) if plain != old else new


def _figures(plain: str) -> int:
    return max(1, len(plain.replace(".", "").replace("·", "").lstrip("0")))


def _to_figures(value: float, figures: int) -> str:
    """So many significant figures, always in plain notation: 0.085, 12.0."""
    mantissa, exponent = f"{value:.{figures - 1}e}".split("e")
    places = figures - 1 - int(exponent)
    return f"{float(f'{mantissa}e{exponent}'):.{max(places, 0)}f}"


def _grouped(new: str, old: str) -> str:
    gap = next(c for c in old if not c.isdigit())
    return f"{int(new):,}".replace(",", gap)


def numbers_in(text: str) -> tuple[str, ...]:
    """Every number of a text as typed, those inside a word ("R1", "10^5") left out."""
    return tuple(m.group() for m in _NUMBER.finditer(text) if _free(text, m))


def _free(text: str, match: re.Match[str]) -> bool:
    before = text[match.start() - 1] if match.start() else " "
    return not (before.isalnum() or before in "_^.")


def replaced(text: str, new: Mapping[str, str]) -> str:
    """The text with numbers exchanged: typed number -> number to stand there; all at once, so that none is replaced twice."""
    out, done = [], 0
    for match in _NUMBER.finditer(text):
        if match.group() in new and _free(text, match):
            out.append(text[done : match.start()] + new[match.group()])
            done = match.end()
    return "".join(out) + text[done:]
