"""Numbers copied or rounded wrongly: every neighbour a value may be mistaken for."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from marker.expression import Number


def split(number: Number) -> tuple[str, str]:
    """Figures with point and sign, and the rest of the text (a power of ten). A number without a usable text is written out."""
    text = number.text.strip()
    for mark in ("×", "x", "*", "e", "E"):
        head, found, tail = text.partition(mark)
        if found and _is_figures(head.strip()):
            return head.strip(), mark + tail
    if _is_figures(text):
        return text, ""
    return f"{number.value:.6g}".partition("e")[0], "e" + f"{number.value:.6g}".partition("e")[2] if "e" in f"{number.value:.6g}" else ""


def _is_figures(text: str) -> bool:
    return bool(text) and text.lstrip("+-−").replace(".", "", 1).isdigit()


def exchanged(number: Number) -> Iterator[tuple[float, str]]:
    """The value and its figures with two neighbouring ones exchanged: 7.5 gives 5.7."""
    figures, _ = split(number)
    places = [i for i, c in enumerate(figures) if c.isdigit()]
    for a, b in pairwise(places):
        if figures[a] != figures[b]:
            changed = list(figures)
            changed[a], changed[b] = changed[b], changed[a]
            yield from _scaled(number, figures, "".join(changed))


def one_off(number: Number) -> Iterator[tuple[float, str]]:
    """One figure changed, left out or doubled."""
    figures, _ = split(number)
    for i, c in enumerate(figures):
        if not c.isdigit():
            continue
        for other in "0123456789":
            if other != c:
                yield from _scaled(number, figures, figures[:i] + other + figures[i + 1 :])
        if sum(x.isdigit() for x in figures) > 1:
            yield from _scaled(number, figures, figures[:i] + figures[i + 1 :])
        yield from _scaled(number, figures, figures[:i] + c + figures[i:])


def _scaled(number: Number, figures: str, changed: str) -> Iterator[tuple[float, str]]:
    try:
        before, after = float(figures.replace("−", "-")), float(changed.replace("−", "-"))
    except ValueError:
        return
    if after and before and after != before:
        yield number.value * (after / before), "" if number.text.strip() != figures else changed


def rounded(value: float, figures: int) -> float:
    """To so many significant figures."""
    return float(f"{value:.{figures - 1}e}")
