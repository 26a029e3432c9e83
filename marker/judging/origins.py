"""A number the candidate found, and one explanation of a typed number: what judging traces numbers with."""

from __future__ import annotations

import math
from functools import lru_cache
from operator import attrgetter

from marker.expression import Expr, Hashed, Number, Symbol, hashed_once
from marker.frozen import frozen
from marker.judging.model import Slip


@hashed_once
@frozen
class OwnNumber(Hashed):
    """A value the candidate found: of a quantity, or of an expression in symbols (`stands_for`).

    slips    faults on the way to it;  line  where (0 when carried from another part)
    """

    stands_for: Expr
    si: float
    raw: float
    half: float
    line: int
    symbol: str = ""
    slips: tuple[Slip, ...] = ()
    right: bool = True
    carried: bool = False

    @property
    def scale(self) -> float:
        """Of the unit it is written in; 1 where that is the SI unit, or none is written."""
        ratio = self.si / self.raw if self.raw else 1.0
        return 1.0 if math.isclose(ratio, 1.0) else ratio


@frozen
class Source:
    """One explanation of a number: what it stands for, how far-fetched that is, and the fault it would be.

    value   what `symbol` would be in SI if the number were right, where that is not the number itself
    found   the quantity whose right value it is, found on the way and standing nowhere before; "" when none
    """

    cost: float
    stands_for: Expr
    symbol: str = ""
    slip: Slip | None = None
    own: OwnNumber | None = None
    unexplained: bool = False
    structural: bool = False
    value: float | None = None
    found: str = ""


@lru_cache(maxsize=2_000)
def letter(name: str) -> Symbol:
    return Symbol(name=name, known=True)


@lru_cache(maxsize=20_000)
def constant(value: float) -> Number:
    """A number of our own (a conversion, a factor), not one the candidate typed: it claims no figures and is not traced."""
    return Number(text=f"{value:g}", value=value, figures=(0, 0))


by_cost = attrgetter("cost")
