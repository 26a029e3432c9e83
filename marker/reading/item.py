"""One piece of a cleaned line."""

from __future__ import annotations


class Item:
    """A piece of the line.

    kind  m number, letter or unit; o sign; r relation; b break; w word; f word passed over; n quantity's name; x crossing-out; ( and );
          k a remark passed over; j a piece of what stands before it
    word  True for a sign or relation written as a word
    """

    __slots__ = ("end", "kind", "payload", "start", "text", "word")

    def __init__(self, kind: str, start: int, end: int, text: str, payload: object = None, word: bool = False) -> None:
        self.kind = kind
        self.start = start
        self.end = end
        self.text = text
        self.payload = payload
        self.word = word

    def __repr__(self) -> str:
        return f"{self.kind}[{self.text}]"

    @property
    def is_value(self) -> bool:
        """A number or a unit."""
        return self.kind == "m" and (self.payload == "unit" or self.text[:1].isdigit() or self.text[:1] in ".½¼¾")
