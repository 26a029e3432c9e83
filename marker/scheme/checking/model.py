"""What proving a scheme gives: remarks on how it is set, and trials of it with made-up responses."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from marker.errors import Problem


class Weight(StrEnum):
    """How much a remark matters."""

    FAILS = "mend"
    ADVICE = "advice"


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """Something about how a part is set: where, what was seen, and the mend. Only a remark that fails stops the scheme."""

    weight: Weight
    problem: Problem

    @property
    def fails(self) -> bool:
        return self.weight is Weight.FAILS


class Came(StrEnum):
    """How a trial came out."""

    AS_RULED = "as ruled"
    DIFFERS = "differs"
    HIDDEN = "same answer"
    REFERRED = "referred"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One made-up response and its mark.

    what      what was tried, in the teacher's words;  code  of a known fault, "" for a model answer, a blank or an answer alone
    lines     the response as typed;  expected  the mark it should get under the convention;  mark  the mark it got
    came      "same answer" where the fault leads to an answer that the scheme accepts as right, so that no mark can show it
    lost      points that were not earned
    """

    part: str
    what: str
    lines: tuple[str, ...]
    expected: float
    mark: float
    maximum: float
    came: Came
    code: str = ""
    lost: tuple[str, ...] = ()
    proves: bool = True

    @property
    def fails(self) -> bool:
        """True when the scheme should not be used before this is mended."""
        return self.proves and self.came in (Came.DIFFERS, Came.REFERRED)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartProof:
    """One part proved. `answer` is the answer worked out from the data, as a candidate would write it; `notes` say how the part is
    marked where its keys do not show it, and nothing needs doing about them."""

    part: str
    kind: str
    marks: float
    answer: str = ""
    remarks: tuple[Remark, ...] = ()
    trials: tuple[Trial, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def passes(self) -> bool:
        return not any(r.fails for r in self.remarks) and not any(t.fails for t in self.trials)


@dataclass(frozen=True, slots=True, kw_only=True)
class RulingSaid:
    """A ruling as a sentence; `value` and `others`, the options it does not take here, as they are typed in a scheme."""

    name: str
    says: str
    value: str
    others: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """A whole scheme proved. `passes` when nothing needs mending before a class is marked with it.

    rulings  those a paper most often differs in
    """

    title: str
    source: str
    convention: str
    maximum: float
    parts: tuple[PartProof, ...]
    rulings: tuple[RulingSaid, ...] = ()

    @property
    def passes(self) -> bool:
        return all(p.passes for p in self.parts)

    @property
    def trials(self) -> tuple[Trial, ...]:
        return tuple(t for p in self.parts for t in p.trials)

    @property
    def remarks(self) -> tuple[Remark, ...]:
        return tuple(r for p in self.parts for r in p.remarks)
