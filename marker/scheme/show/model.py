"""What a document of marking instructions shows: plain texts and MathML, ready to be set on a page or in a worksheet."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class LineView:
    """One line of expected working: plain, typeset ("" for a sentence), and the points earned here as (label, marks)."""

    text: str
    mathml: str = ""
    points: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PointView:
    """One marking point: what it is for, its marks, its type in words, and what it depends on."""

    label: str
    what: str
    marks: str
    type: str = ""
    needs: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerView:
    """An answer: symbol and value, the range accepted, and the figures it may have."""

    symbol: str
    value: str
    mathml: str
    accepted: str = ""
    figures: str = ""
    label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteView:
    """Another method: its name and its working."""

    name: str
    lines: tuple[LineView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RulingView:
    """A ruling: its name, its value, what it decides, and whether it is replaced here."""

    name: str
    value: str
    meaning: str
    replaced: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PartView:
    """One part of the document. `given` are (MathML, text) of each datum; `guidance` further remarks in sentences."""

    name: str
    kind: str
    marks: str
    stem: str
    given: tuple[tuple[str, str], ...]
    lines: tuple[LineView, ...]
    answers: tuple[AnswerView, ...]
    points: tuple[PointView, ...]
    routes: tuple[RouteView, ...] = ()
    guidance: tuple[str, ...] = ()
    rulings: tuple[RulingView, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SchemeView:
    """The whole document."""

    title: str
    maximum: str
    convention: str
    source: str
    parts: tuple[PartView, ...]
    rulings: tuple[RulingView, ...]
