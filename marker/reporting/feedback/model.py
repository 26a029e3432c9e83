"""What a feedback sheet shows, decided before any page is drawn: the templates only lay it out."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class LineView:
    """One typed line. `before`, `spot`, `after` are its text around the characters in question; `tone` is good, bad, open or plain."""

    number: int
    before: str
    spot: str
    after: str
    sign: str
    verdict: str
    tone: str
    mathml: str = ""
    reading: str = ""
    earned: tuple[str, ...] = ()
    advice: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PartView:
    """One part. `state` is "full", "some", "none", "blank" or "open"; `advice` are sentences on what went wrong in no one line."""

    name: str
    anchor: str
    mark: str
    maximum: str
    state: str
    state_text: str
    lines: tuple[LineView, ...]
    messages: tuple[str, ...] = ()
    advice: tuple[str, ...] = ()
    next_step: str = ""
    solution: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PractiseView:
    """One thing to practise, and the parts (name, anchor) where it came up."""

    name: str
    practise: str
    parts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetView:
    """The feedback of one candidate over the paper."""

    candidate: str
    anchor: str
    group: str
    title: str
    mark: str
    maximum: str
    waiting: bool
    parts: tuple[PartView, ...]
    practise: tuple[PractiseView, ...]
    practise_text: str
    remarks: tuple[str, ...]
