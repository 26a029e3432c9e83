"""What is known while a response is read line by line: own values, what was stated, what is in doubt."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from marker.expression import Dimensions, Expr
from marker.judging.letters import Letters
from marker.judging.model import Evidence, Kind, Slip
from marker.judging.origins import OwnNumber
from marker.scheme.compiled import CompiledCalculation

MOST_BEGUN = 2_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Implied:
    """What a substitution comes to: its value in SI and as plain numbers, and in radian mode when that differs."""

    si: float
    raw: float
    radians: float | None
    evidence: Evidence


@dataclass(slots=True, kw_only=True, eq=False)
class Desk:
    """The state of one reading of one response. `fork` copies it, so that a reading can be tried and dropped; a desk that
    was forked does not change any more. It is equal to itself alone.

    head      what the last chain was about, for a line that begins with "=";  awaiting  the same, where its value is still to come
    pieces    values of pieces of the expressions written so far: of exp(-0.131 × 18) in 74 × exp(-0.131 × 18)
    """

    part: CompiledCalculation
    letters: Letters
    own: list[OwnNumber] = field(default_factory=list)
    pieces: list[OwnNumber] = field(default_factory=list)
    evidence: list[Evidence] = field(default_factory=list)
    head: Expr | None = None
    awaiting: Expr | None = None
    implied: dict[str, Implied] = field(default_factory=dict)
    taints: dict[str, Slip] = field(default_factory=dict)
    stated: frozenset[int] = frozenset()
    foreign: tuple[tuple[float, Dimensions | None], ...] = ()
    wrongs: float = 0.0

    def fork(self) -> Desk:
        return Desk(
            part=self.part,
            letters=self.letters,
            own=list(self.own),
            pieces=list(self.pieces),
            evidence=list(self.evidence),
            head=self.head,
            awaiting=self.awaiting,
            implied=dict(self.implied),
            taints=dict(self.taints),
            stated=self.stated,
            foreign=self.foreign,
            wrongs=self.wrongs,
        )

    def add(self, evidence: Evidence) -> None:
        """Notes a piece of evidence and what follows from it for what comes after."""
        self.evidence.append(evidence)
        if evidence.kind in (Kind.RELATIONSHIP, Kind.SUBSTITUTION) and evidence.right and not evidence.tainted:
            self.stated = self.stated | evidence.relations

    def taint(self, symbol: str) -> tuple[Slip, ...]:
        slip = self.taints.get(symbol)
        return (slip,) if slip is not None else ()


@lru_cache(maxsize=MOST_BEGUN)
def first_desk(
    part: CompiledCalculation, letters: Letters, own: tuple[OwnNumber, ...], foreign: tuple[tuple[float, Dimensions | None], ...]
) -> Desk:
    """Where a response begins: the same desk for all that begin with the same letters and values, as most of a class do."""
    return Desk(part=part, letters=letters, own=list(own), foreign=foreign)


def unknown_letters(part: CompiledCalculation, names: frozenset[str]) -> frozenset[str]:
    return frozenset(n for n in names if n not in part.system.base and n != "π")


def goal_symbols(part: CompiledCalculation) -> tuple[str, ...]:
    return tuple(g.find for g in part.goals)
