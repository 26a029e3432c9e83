"""What judging hands on: the evidence each line gives, in the order written."""

from __future__ import annotations

from enum import StrEnum

from marker.expression import Expr, Number, Unit
from marker.frozen import frozen


class Kind(StrEnum):
    """What a piece of evidence is."""

    RELATIONSHIP = "relationship"
    SUBSTITUTION = "substitution"
    VALUE = "value"
    ARITHMETIC = "arithmetic"
    DATUM = "datum"
    UNKNOWN = "unknown"


@frozen
class Slip:
    """A fault that a working line shows. `code` is a code of rubrics/faults.toml, `family` decides what it costs.

    family   "conversion", "copying", "arithmetic", "rounding", "relationship", "rearrangement", "other quantity", "swapped"
    typed, expected   the candidate's text and what would have been right there, as text
    """

    code: str
    family: str
    line: int
    symbol: str = ""
    typed: str = ""
    expected: str = ""


@frozen
class TypedValue:
    """A value as the candidate wrote it. `si` counts the unit; `half` is half a unit of its last place, in SI."""

    si: float
    raw: float
    half: float
    number: Number | None
    unit: Unit | None
    text: str
    form: str = "decimal"


@frozen
class Evidence:
    """One thing a line shows.

    about      the quantity it is about, "" when none could be told
    right      it follows from the relationships (with own values where it uses them)
    relations  indexes of the relationships it shows
    slips      faults seen in this very statement;  inherited  faults of own values it uses
    uses       symbols whose own (typed) values it uses, with the SI value used
    found      quantities found in the head on the way: their right values are put in and stand nowhere before
    implied    the value its numbers give for `about`, in SI and as plain numbers, when they give one
    tainted    it rests on a wrong relationship or rearrangement stated before
    symbolic   letters only, no data put in
    stated     the statement in symbols, after lifting its numbers
    """

    kind: Kind
    line: int
    text: str
    about: str = ""
    right: bool = True
    relations: frozenset[int] = frozenset()
    slips: tuple[Slip, ...] = ()
    inherited: tuple[Slip, ...] = ()
    uses: tuple[tuple[str, float], ...] = ()
    found: frozenset[str] = frozenset()
    implied: float | None = None
    implied_raw: float | None = None
    value: TypedValue | None = None
    tainted: bool = False
    symbolic: bool = False
    stated: tuple[Expr, Expr] | None = None
    alternative: bool = False
    final: bool = False
    tentative: bool = False
    columns: tuple[int, int] | None = None
    bare: bool = False
    note: str = ""


@frozen
class JudgedLine:
    """A line with its evidence, the reading chosen, and whether it could be read at all."""

    number: int
    text: str
    readings: tuple[str, ...] = ()
    mathml: str = ""
    assumptions: tuple[str, ...] = ()
    withdrawn: bool = False
    unread: tuple[str, ...] = ()
    remark: bool = False


@frozen
class JudgedScript:
    """All evidence of a response, in order, and its lines. `crossed` is the evidence of withdrawn lines."""

    evidence: tuple[Evidence, ...]
    lines: tuple[JudgedLine, ...]
    crossed: tuple[Evidence, ...] = ()
    words: str = ""
    doubts: tuple[str, ...] = ()
