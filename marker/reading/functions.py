"""Functions and roots among the letters: sin, cos², sin^-1, log_10, e^, sqrt, with or without their argument."""

from __future__ import annotations

import re

from marker.expression import Number
from marker.reading.alphabet import GREEK
from marker.reading.area import Area
from marker.reading.model import Assumption
from marker.reading.symbols import FUNCTION_NAMES, INVERSE, words
from marker.reading.tokens import Edge, Tok

_FUNCTION_POWER = re.compile(r"\s?\^\s?\(?\s*(-?\d)(?:\s*\))?|(-1)(?=[\s(\dA-Za-z.]|[^\W\d_])|\s-1(?=\s*\()|(2)(?=\s*[(θφαβ])")
_TRIGONOMETRIC = frozenset(("sin", "cos", "tan", "sine", "cosine", "tangent"))
_E_RAISED = re.compile(r"e\s?\^")
_E_LOST = re.compile(r"e-[\w(.]")
_LOG_BASE = re.compile(r"_?\{?\(?(10|2|e)\)?\}?(?=[\s(])")
Names = tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]  # functions and roots, Greek names, usual names


def _named_by_letter() -> dict[str, Names]:
    """First letter -> (functions and roots, Greek names, usual names of quantities), each longest first."""
    functions = {n for name in FUNCTION_NAMES for n in (name, name.upper(), name.title())} - {"Asin", "Acos", "Atan"}  # A cos ωt
    functions |= {"sqrt", "SQRT", "Sqrt", "root", "rt", "cbrt"}
    groups = (functions, {k for k in GREEK if k not in ("Alpha", "Beta", "Pi", "Mu", "Nu")} | {"pie"}, set(words()["symbols"]["usual"]))
    letters = {name[0] for group in groups for name in group} | {"e"}
    ordered = [sorted(group, key=len, reverse=True) for group in groups]
    return {c: tuple(tuple(n for n in group if n[0] == c) for group in ordered) for c in letters}  # type: ignore[misc]


_NAMES = _named_by_letter()


class Functions:
    """Edges of functions and roots, and what all edges are made with."""

    __slots__ = ("_ends", "_starts", "area", "limit")

    def __init__(self, area: Area) -> None:
        self.area = area
        self.limit = area.text[: area.end]
        self._starts = area.starts
        self._ends = area.ends

    def tok(self, type: str, value: object, start: int, end: int) -> Tok:
        if end > start:
            return Tok(type, value, self._starts[start], self._ends[end - 1])
        a, b = self.place(start, end)
        return Tok(type, value, a, b)

    def place(self, start: int, end: int) -> tuple[int, int]:
        start = min(start, len(self._starts) - 1)
        return self._starts[start], self._ends[end - 1 if end > start else start]

    def note(self, code: str, text: str, start: int, end: int) -> Assumption:
        return Assumption(code=code, text=text, at=self.place(start, end))

    def _names(self, at: int) -> Names | None:
        """What names can begin at this letter; None where it stands by itself."""
        c, following = self.limit[at], self.limit[at + 1 : at + 2]
        return _NAMES.get(c) if c == "e" or following == "." or following.isalpha() else None

    def _functions(self, at: int, names: tuple[str, ...]) -> list[Edge]:
        """Functions and roots among the names that begin with this letter, longest first."""
        text, found = self.limit, []
        for name in names:
            if not text.startswith(name, at):
                continue
            lower, end = name.lower(), at + len(name)
            if lower == "sqrt":
                return [Edge(at, end, "F", (self.tok("ROOT", 2, at, end),))]
            if lower in ("root", "rt", "cbrt"):
                if not text[end : end + 1].isalpha():
                    found.append(Edge(at, end, "F", (self.tok("ROOT", 3 if lower == "cbrt" else 2, at, end),)))
            elif not self._names_a_symbol(name, at):
                found += self._function(at, name)
            break
        if text[at] == "e":
            raised = _E_RAISED.match(text, at)
            known = "e" in self.area.symbols.exact
            if raised is not None:
                found.append(Edge(at, raised.end(), "F", (self.tok("FUNC", ("exp", None), at, raised.end()),), 0.3 if known else 0.0))
            elif _E_LOST.match(text, at):
                note = self.note("lost-power", "e to the power of what follows", at, at + 1)
                found.append(Edge(at, at + 1, "F", (self.tok("FUNC", ("exp", None), at, at + 1),), 0.7 if known else 0.1, note))
        return found

    def _names_a_symbol(self, name: str, at: int) -> bool:
        return name in self.area.symbols.exact and self.limit[at + len(name) : at + len(name) + 1] not in "("

    def _function(self, at: int, name: str) -> list[Edge]:
        end = at + len(name)
        function = FUNCTION_NAMES[name.lower()]
        if name.lower() == "log":
            base = _LOG_BASE.match(self.limit, end)
            if base is not None:
                function = {"10": "log10", "2": "log2", "e": "ln"}[base.group(1)]
                return [Edge(at, base.end(), "F", (self.tok("FUNC", (function, None), at, base.end()),))]
        if name.lower() in _TRIGONOMETRIC and not self.limit[end:].strip():
            return [self._without_argument(at, end, function)]
        power = _FUNCTION_POWER.match(self.limit, end)
        if power is None:
            return [Edge(at, end, "F", (self.tok("FUNC", (function, None), at, end),))]
        return self._function_with_power(at, end, function, power)

    def _without_argument(self, at: int, end: int, function: str) -> Edge:
        """sin = 0.59: the angle is left out; the part's own when it has just one."""
        angles = self.area.symbols.angles
        value = (next(iter(angles)), True) if len(angles) == 1 else ("θ", False)
        note = self.note("argument-missing", f"{function} of {value[0]}, which is left out", at, end)
        toks = (self.tok("FUNC", (function, None), at, end), self.tok("SYMBOL", value, end, end))
        return Edge(at, end, "S", toks, 0.3, note)

    def _function_with_power(self, at: int, end: int, function: str, power: re.Match[str]) -> list[Edge]:
        exponent = int(power.group(1) or power.group(2) or power.group(3) or -1)
        written = power.group(1) is not None
        plain = Edge(at, end, "F", (self.tok("FUNC", (function, None), at, end),), 0.8)
        if exponent == -1 and function in INVERSE:
            note = None if written else self.note("lost-power", f"inverse {function}", at, power.end())
            inverse = Edge(at, power.end(), "F", (self.tok("FUNC", (INVERSE[function], None), at, power.end()),), 0.0, note)
            if written:
                return [inverse]
            return [inverse, plain]
        node = Number(text=str(exponent), value=float(exponent), at=self.place(end, power.end()))
        if written:
            return [Edge(at, power.end(), "F", (self.tok("FUNC", (function, node), at, power.end()),))]
        note = self.note("lost-power", f"{function} squared", at, power.end())
        squared = Edge(at, power.end(), "F", (self.tok("FUNC", (function, node), at, power.end()),), 0.9, note)
        return [squared, Edge(at, end, "F", (self.tok("FUNC", (function, None), at, end),))]
