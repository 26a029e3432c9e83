"""A number the candidate found, and one explanation of a typed number: what judging traces numbers with."""

from __future__ import annotations

from dataclasses import dataclass
from operator import attrgetter

from marker.expression import Expr, Number, Symbol
from marker.judging.model import Slip


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnNumber:
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One explanation of a number: what it stands for, how far-fetched that is, and the fault it would be."""

    cost: float
    stands_for: Expr
    symbol: str = ""
    slip: Slip | None = None
    own: OwnNumber | None = None
    unexplained: bool = False
    structural: bool = False


def letter(name: str) -> Symbol:
    return Symbol(name=name, known=True)


def constant(value: float) -> Number:
    """A number of our own (a conversion, a factor), not one the candidate typed: it claims no figures and is not traced."""
    return Number(text=f"{value:g}", value=value, figures=(0, 0))


by_cost = attrgetter("cost")
