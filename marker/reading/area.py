"""The stretch of a cleaned text that is read as one side, with what is settled about it beforehand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

from marker.reading.numbers import NumberStyle
from marker.reading.symbols import Symbols
from marker.reading.tokens import Edge


class Area(NamedTuple):
    """What is read: characters start to end of a cleaned text, with what the words pass has already settled.

    starts, ends  typed columns of each character
    overrides  position -> edge that stands for a word or phrase there ("times", a quantity's name, a word to pass over)
    several    more than one number of the line has a letter straight after it, as quantities with units do
    used       letters the response uses as symbols elsewhere, which speaks against taking them for units here
    celsius    C after a number is a degree Celsius before it is a coulomb
    """

    text: str
    start: int
    end: int
    symbols: Symbols
    style: NumberStyle
    starts: Sequence[int]
    ends: Sequence[int]
    overrides: Mapping[int, tuple[Edge, ...]] = MappingProxyType({})
    used: frozenset[str] = frozenset()
    several: bool = False
    celsius: bool = False
