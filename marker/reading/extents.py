"""How far things reach in a token list: atoms, powers, runs written together, products, sums."""

from __future__ import annotations

from collections.abc import Sequence

from marker.reading.tokens import Tok

_STARTS = frozenset(("NUMBER", "SYMBOL", "UNIT", "LPAR", "BOPEN", "FUNC", "ROOT"))
_SIGNS = frozenset(("PLUS", "MINUS", "PM"))
_GREEK_ANGLES = frozenset("θφαβγδψϕ")


class View:
    """Extents in a token list: each method returns the index after the part that begins at i."""

    __slots__ = ("angles", "match", "tokens", "types")

    def __init__(self, tokens: Sequence[Tok], angles: frozenset[str]) -> None:
        self.tokens = tokens
        self.types = [t.type for t in tokens] + ["END"]
        self.angles = angles
        self.match = _matching(self.types)

    def atom(self, i: int) -> int:
        t = self.types[i]
        if t == "NUMBER":
            return i + 2 if self.types[i + 1] == "UNIT" else i + 1
        if t in ("LPAR", "BOPEN"):
            close = self.match.get(i, len(self.tokens) - 1)
            return close + 2 if t == "LPAR" and self.types[close + 1] == "UNIT" else close + 1
        if t in ("FUNC", "ROOT"):
            after = self.sign(i + 1)
            return self.atom(after) if self.types[after] == "LPAR" else self.power(after)
        return min(i + 1, len(self.tokens))

    def sign(self, i: int) -> int:
        while self.types[i] in _SIGNS:
            i += 1
        return i

    def power(self, i: int) -> int:
        if i >= len(self.tokens):
            return len(self.tokens)
        bare = self.types[i] in ("FUNC", "ROOT") and self.types[self.sign(i + 1)] != "LPAR"
        j = self.atom(i)
        while not bare and j < len(self.tokens) and self.types[j] == "POW":
            k = self.sign(j + 1)
            j = self.match.get(k, k) + 1
        return min(j, len(self.tokens))

    def run(self, i: int, stop: frozenset[str] = frozenset()) -> int:
        j = self.power(i)
        while self.types[j] in _STARTS and self.types[j] not in stop:
            j = self.power(j)
        return j

    def product(self, i: int, signs: frozenset[str] = frozenset(("TIMES", "SLASH"))) -> int:
        j = self.run(i)
        while self.types[j] in signs:
            j = self.run(self.sign(j + 1))
        return j

    def sum(self, i: int) -> int:
        j = self.product(i)
        while self.types[j] in ("PLUS", "MINUS"):
            j = self.product(self.sign(j + 1))
        return j

    def has_symbols(self, i: int, j: int) -> bool:
        return "SYMBOL" in self.types[i:j]

    def is_pi(self, i: int) -> bool:
        return self.types[i] == "SYMBOL" and self.tokens[i].value[0] == "π"

    def is_angle(self, i: int) -> bool:
        if self.types[i] != "SYMBOL":
            return False
        name = self.tokens[i].value[0]
        return name in self.angles or name[:1] in _GREEK_ANGLES


def _matching(types: Sequence[str]) -> dict[int, int]:
    stack: list[int] = []
    pairs: dict[int, int] = {}
    for index, t in enumerate(types):
        if t in ("LPAR", "BOPEN"):
            stack.append(index)
        elif t in ("RPAR", "BCLOSE") and stack:
            pairs[stack.pop()] = index
    return pairs
