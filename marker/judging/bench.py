"""What every step of judging a statement has at hand: the desk, the statement and the reading tried."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from marker.expression import Expr, Symbol, symbols
from marker.judging.desk import Desk
from marker.judging.lifting import Lifted, Lifter, lifter_of
from marker.judging.model import Evidence, Kind, Slip, TypedValue
from marker.judging.origins import OwnNumber
from marker.physics.system import Equation
from marker.reading.model import Reading, Statement

# What a wrong line costs a reading when several readings are tried.
WRONG_RELATIONSHIP, WRONG_SUBSTITUTION, WRONG_ARITHMETIC, UNKNOWN_COST = 3.0, 3.0, 1.0, 3.2
WRONG_UNIT = 0.5
NOT_RECOGNISED = 0.4


@dataclass(slots=True, kw_only=True)
class Bench:
    """The desk (a fork, when several readings are tried), the statement, the reading tried, and the typed text of its sides.

    most   wrongs on the desk with which a reading is out of the running, so that judging it may stop
    ahead  the value that stands alone on the next line, or the numbers that it begins with, where it has no letters
    """

    desk: Desk
    statement: Statement
    reading: Reading
    text: tuple[str, ...]
    most: float = math.inf
    ahead: Expr | None = None
    end: int | None = None
    awaited: Expr | None = None
    subject: Expr | None = None
    former: Expr | None = None
    lifter: Lifter | None = None
    knows: tuple[int, int] = (0, 0)

    def _add(self, kind: Kind, i: int, **fields: object) -> Evidence:
        at = self.reading.sides[i].at if i < len(self.reading.sides) else None
        evidence = Evidence(
            kind=kind,
            line=self.statement.line,
            text=self.text[i],
            alternative=self.statement.alternative,
            final=self.statement.final,
            tentative=self.statement.tentative,
            columns=at,
            **fields,  # type: ignore[arg-type]
        )
        self.desk.add(evidence)
        return evidence

    def _about(self, equation: Equation) -> str:
        """The quantity a statement is about: a lone letter, else the one that is not given, else the one sought."""
        part = self.desk.part
        for side in equation:
            if isinstance(side, Symbol) and side.name not in part.data:
                return side.name
        names = (symbols(equation[0]) | symbols(equation[1])) - {"π"}
        unknown = sorted(n for n in names if n not in part.data)
        if len(unknown) == 1:
            return unknown[0]
        goals = [g.find for g in part.goals if g.find in unknown]
        if goals:
            return goals[0]
        return next((s.name for s in equation if isinstance(s, Symbol)), "")

    def _lifter_now(self) -> Lifter:
        """Where numbers may come from, the own values found so far among it. Own values and pieces are only added to."""
        desk, knows = self.desk, (len(self.desk.own), len(self.desk.pieces))
        if self.lifter is None or self.knows != knows:
            self.lifter, self.knows = lifter_of(desk.part, tuple(desk.own), desk.foreign, tuple(desk.pieces)), knows
        return self.lifter

    def _bare(self, sides: Sequence[Expr], indexes: Sequence[int], head: str = "") -> None:
        """Numbers without any letter; the walk along the chain does this."""
        raise NotImplementedError


def own_number(
    stands_for: Expr, typed: TypedValue, line: int, *, symbol: str = "", slips: tuple[Slip, ...] = (), right: bool = True
) -> OwnNumber:
    return OwnNumber(
        stands_for=stands_for,
        si=typed.si,
        raw=typed.raw,
        half=typed.half,
        line=line,
        symbol=symbol,
        slips=tuple(dict.fromkeys(slips)),
        right=right,
    )


def uses_of(lifted: Lifted) -> tuple[tuple[str, float], ...]:
    found = [(o.symbol, o.si) for o in lifted.own if o.symbol]
    return tuple(dict.fromkeys((*found, *lifted.miscopied)))


def key_of(tree: Expr) -> str:
    """A name under which the value of an expression in letters is remembered."""
    return tree.name if isinstance(tree, Symbol) else f"={hash(tree)}"
