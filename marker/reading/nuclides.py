"""Nuclides as typed: ^{238}_{92}U, 238/92 U, U-238. Each becomes its symbol with the mass number for an index, U_{238}; none is a power.

238/92 U is a nuclide only where the lower number is the element's; U-238 only where the mass number is one such an element can have.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from marker.reading.symbols import words

_ELEMENTS = str(words()["nuclides"]["elements"]).split()
_NUMBER = {name: z for z, name in enumerate(_ELEMENTS, start=1)}
_NAME = "|".join(sorted(_ELEMENTS, key=len, reverse=True))
_RAISED = re.compile(rf"(?<![\w)}}'])\^\s?\(?(\d{{1,3}})\)?\s?(?:_\s?\{{?(-?\d{{1,3}})\}}?)?\s?({_NAME}|[nepαβ])(?![a-z_])")
_LOWERED = re.compile(rf"(?<![\w)}}'])_\{{?(-?\d{{1,3}})\}}?\^\s?\(?(\d{{1,3}})\)?\s?({_NAME}|[nepαβ])(?![a-z_])")
_OVER = re.compile(rf"(?<![\w.)/])(\d{{1,3}})\s?/\s?(-?\d{{1,3}})\s?({_NAME}|[nepβ])(?![a-z_\d])")
_HYPHEN = re.compile(rf"(?<![\w)+*/^-])({_NAME})-(\d{{1,3}})(?![\d.,^(*/=]|\s?[=*/^])")
_BASE = re.compile(r"(?:[\d)}']|(?<![A-Za-z])[A-Za-zα-ω]) ?$")  # what a power could belong to
_PARTICLES = {"n": "0", "p": "1", "e": "-1", "β": "-1"}
_ABOUT_NUCLEI = re.compile(r"⇒|decay|half|isotope|nucle|nuclide|fission|fusion|radioact|emits|atom")

Piece = str | tuple[int, int]


def nuclides(text: str) -> Iterator[tuple[int, int, tuple[Piece, ...]]]:
    """(start, end, what stands in its place) of each nuclide in a cleaned line."""
    if not any(c.isdigit() for c in text):
        return
    for found in _RAISED.finditer(text):
        if not _BASE.search(text, max(0, found.start() - 8), found.start()):
            yield (*found.span(), _indexed(found, 3, 1))
    for found in _LOWERED.finditer(text):
        yield (*found.span(), _indexed(found, 3, 2))
    about = "=" not in text or _ABOUT_NUCLEI.search(text) is not None
    for found in _OVER.finditer(text) if about else ():
        name, lower = found.group(3), found.group(2)
        if lower == str(_NUMBER.get(name, _PARTICLES.get(name, ""))) and int(found.group(1)) >= int(lower):
            yield (*found.span(), _indexed(found, 3, 1))
    for found in _HYPHEN.finditer(text) if about else ():
        if _possible(found.group(1), int(found.group(2))):
            yield (*found.span(), _indexed(found, 1, 2))


def _indexed(found: re.Match[str], name: int, mass: int) -> tuple[Piece, ...]:
    return (found.span(name), "_{", found.span(mass), "}")


def _possible(name: str, mass: int) -> bool:
    """A mass number the element can have, between about 1.8 and 2.8 times its number of protons."""
    z = _NUMBER[name]
    return mass <= 3 if z == 1 else 1.45 * z + 0.5 <= mass <= 2.8 * z + 2
