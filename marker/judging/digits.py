"""How a miscopied number is like the one it should be."""

from __future__ import annotations

import math


def digits_of(text: str) -> str:
    """The figures of a typed number without sign, point, leading zeros or power of ten."""
    mantissa = text.replace("×", "x").split("x")[0].lower().split("e")[0]
    return "".join(c for c in mantissa if c.isdigit()).lstrip("0")


def power_of_ten(ratio: float) -> int | None:
    """k when the ratio is 10^k, k a whole number other than 0 and within ±12; else None."""
    if ratio <= 0 or not math.isfinite(ratio):
        return None
    k = round(math.log10(ratio))
    if k == 0 or abs(k) > 12:
        return None
    return k if math.isclose(ratio, 10.0**k, rel_tol=1e-6) else None


def exchanged(typed: str, right: str) -> bool:
    """The same figures in another order, two of them changed about (26.7 for 27.6, 402 for 420)."""
    a, b = digits_of(typed), digits_of(right)
    if len(a) != len(b):
        width = max(len(a), len(b))
        a, b = a.ljust(width, "0"), b.ljust(width, "0")
    if a == b or sorted(a) != sorted(b):
        return False
    return sum(x != y for x, y in zip(a, b, strict=True)) == 2


def one_figure_off(typed: str, right: str) -> bool:
    """One figure differs, is missing or is doubled, in numbers of at least two figures."""
    a, b = digits_of(typed), digits_of(right)
    if a == b or min(len(a), len(b)) < 2:
        return False
    if len(a) == len(b):
        return sum(x != y for x, y in zip(a, b, strict=True)) == 1
    if abs(len(a) - len(b)) != 1:
        return False
    longer, shorter = (a, b) if len(a) > len(b) else (b, a)
    return len(shorter) > 1 and any(longer[:i] + longer[i + 1 :] == shorter for i in range(len(longer)))
