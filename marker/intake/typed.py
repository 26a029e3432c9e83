"""Text as a person typed it: cleaned of what nobody types, cut into lines, and numbers written back as text."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from decimal import Decimal

# Control characters nobody types (tab and the line ends are kept), and the two code points that are never characters.
_REMOVED = {code: None for code in (*range(0x00, 0x09), 0x0E, 0x0F, *range(0x10, 0x1C), 0x1F, *range(0x7F, 0x85), *range(0x86, 0xA0))}
_REMOVED |= {0xFEFF: None, 0xFFFE: None, 0xFFFF: None}


def clean(text: str) -> str:
    """The text without control characters; a lone half of a surrogate pair becomes U+FFFD."""
    if text.isascii() and text.isprintable():
        return text
    if any(0xD800 <= ord(c) <= 0xDFFF for c in text):
        text = text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")
    return text.translate(_REMOVED)


def typed_lines(text: str) -> tuple[str, ...]:
    """The lines of a response: cut at every kind of line end, without trailing space, blank lines left out."""
    return tuple(line for piece in clean(text).splitlines() if (line := piece.rstrip()) and line.strip())


def one_line(text: str) -> str:
    """A heading or a candidate's number on one line, spaces collapsed."""
    return " ".join(clean(text).split())


def number_text(value: float) -> str:
    """A numeric cell as a person would have typed it: 431.0 -> 431, 5e-05 -> 0.00005, 6.63e-34 -> 6.63E-34, 3e17 -> 3E17."""
    if value != value or value in (float("inf"), float("-inf")):
        return str(value)
    exact = Decimal(repr(float(value)))
    if exact == 0:
        return "0"
    if -7 <= exact.adjusted() < 15:
        plain = format(exact, "f")
        return plain.rstrip("0").rstrip(".") if "." in plain else plain
    mantissa = format(exact.scaleb(-exact.adjusted()), "f")
    return f"{mantissa.rstrip('0').rstrip('.') if '.' in mantissa else mantissa}E{exact.adjusted()}"


def value_text(value: object) -> str:
    """Any cell value as text: numbers as typed, dates in ISO 8601, TRUE and FALSE as a spreadsheet shows them."""
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, int | float):
        return number_text(value)
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    if isinstance(value, timedelta):
        return str(value)
    return "" if value is None else str(value)
