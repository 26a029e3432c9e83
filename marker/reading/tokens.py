"""Tokens, and the edges of the lattice they are chosen from."""

from __future__ import annotations

from typing import Any

from marker.reading.model import Assumption


class Tok:
    """One token for the grammar. `value` is what it stands for; start and end are columns of the typed line."""

    __slots__ = ("end", "start", "type", "value")
    # what lark reads from the last token when the text ends
    start_pos = end_pos = line = column = end_line = end_column = 0

    def __init__(self, type: str, value: Any, start: int, end: int) -> None:
        self.type = type
        self.value = value
        self.start = start
        self.end = end

    def __repr__(self) -> str:
        return f"{self.type}:{self.value}"


class Edge:
    """A way to read the characters up to `end`: its tokens, its cost, and what it assumes.

    kind    N number, S symbol, U unit, F function or root, B sign between operands, P power sign, O and C brackets, K nothing
    last    kind of the last token, where it differs from the first: "half" begins like a number and ends like a sign
    choice  (text, meaning): the same text must get the same meaning throughout a statement
    """

    __slots__ = ("choice", "cost", "end", "kind", "last", "note", "start", "toks", "wide")

    def __init__(
        self,
        start: int,
        end: int,
        kind: str,
        toks: tuple[Tok, ...],
        cost: float = 0.0,
        note: Assumption | None = None,
        choice: tuple[str, str] | None = None,
        wide: bool = False,
        last: str = "",
    ) -> None:
        self.start = start
        self.end = end
        self.kind = kind
        self.last = last or kind
        self.toks = toks
        self.cost = cost
        self.note = note
        self.choice = choice
        self.wide = wide

    def __repr__(self) -> str:
        return f"<{self.kind} {self.toks} {self.cost}>"
