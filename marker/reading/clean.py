"""One alphabet for everything a candidate can type, with a map back to the typed columns.

    clean("½mv²")       text "½mv^(2)"
    clean(r"\\frac{V}{I}")  text "((V)/(I))"

Superscript runs become ^(…), subscript runs _{…}; LaTeX and linear equation text become the same plain notation;
minus signs, dots, slashes, quotes, arrows, Greek variants and full-width forms become one character each; vector
arrows, hats, ticks and invisible characters go. Nothing is decided here about meaning.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from functools import lru_cache

from marker.frozen import frozen
from marker.reading.alphabet import COMMANDS, DRESSING, FUNCTION_COMMANDS, GREEK, LOWERED, ONE_FOR_ONE, RAISED, SEVERAL_FOR_ONE
from marker.reading.half_life import INDEX, half_lives

_LATEX_COMMAND = re.compile(r"\\([A-Za-z]+|.)")
_DEEPEST = 40


@frozen(kw_only=False)
class Clean:
    """`text` in the one alphabet; character i stands for typed columns starts[i] up to ends[i]."""

    text: str
    starts: Sequence[int]
    ends: Sequence[int]

    def place(self, start: int, end: int) -> tuple[int, int]:
        """Typed columns of the cleaned span, end excluded."""
        if not self.starts:
            return (0, 0)
        if start >= len(self.starts):
            return (self.ends[-1], self.ends[-1])
        return (self.starts[start], max(self.ends[start], self.ends[max(start, min(end, len(self.ends)) - 1)]))

    def hull(self, start: int, end: int) -> tuple[int, int]:
        """The same where characters may stand in another order than typed: from the first column to the last."""
        if isinstance(self.starts, range) or start >= len(self.starts) or end <= start:
            return self.place(start, end)
        return min(self.starts[start:end]), max(self.ends[start:end])


class _Out:
    """Cleaned characters as they come, each with the typed columns it stands for."""

    __slots__ = ("characters", "ends", "starts")

    def __init__(self) -> None:
        self.characters: list[str] = []
        self.starts: list[int] = []
        self.ends: list[int] = []

    def put(self, text: str, start: int, end: int) -> None:
        for character in text:
            self.characters.append(character)
            self.starts.append(start)
            self.ends.append(end)

    def done(self, length: int) -> Clean:
        """All of it, no place beyond the end of the typed text."""
        return Clean("".join(self.characters), tuple([min(s, length) for s in self.starts]), tuple([min(e, length) for e in self.ends]))


def clean(text: str) -> Clean:
    """The text in the one alphabet. Never raises."""
    if not _NEEDS_WORK.search(text):
        plain = text.translate(_TRANSLATION)
        return _with_half_lives(Clean(plain, range(len(text)), range(1, len(text) + 1)))
    out = _Out()
    _run(text, 0, len(text), out, 0)
    return _with_half_lives(out.done(len(text)))


def _with_half_lives(found: Clean) -> Clean:
    """T½ and its kin with their index as a word."""
    places = half_lives(found.text) if "½" in found.text or "2" in found.text else []
    if not places:
        return found
    out, last = _Out(), 0
    for start, end in [*places, (len(found.text), len(found.text))]:
        for at in range(last, start):
            out.put(found.text[at], found.starts[at], found.ends[at])
        if start < len(found.text):
            out.put(INDEX, *found.place(start, end))
        last = end
    return out.done(found.ends[-1] if found.ends else 0)


_LONE = {c: meant for c, meant in ONE_FOR_ONE.items() if len(meant) == 1 and c not in "~`"}
_TRANSLATION = str.maketrans(_LONE)
_PLAIN = "\n -}" + "√×·±°≈≤≥∝∞≠⇒⇔∴∵∥⊥½¼¾…ħα-ωΑ-ΡΣ-Ω" + re.escape("".join(_LONE))
_LONE_SIGN = r"\^\s*[{(]?\s*[+-]\s*[})]?(?![\s\w({\\.√½])"  # e^-: the charge of a particle
# anything but one character for one: LaTeX, raised and lowered figures, arrows and signs typed in two or three characters
_NEEDS_WORK = re.compile(
    rf"[^{_PLAIN}]|[\\{{}}$`~]|\*\*|\.\.\.|\^\s?[o°º']|{_LONE_SIGN}|_\(|PI\(|RADIANS|DEGREES|->|=>|:=|==|<=|>=|!=|=~|\+/?-|\+\+|<-"
)
_SIGN_ALONE = re.compile(_LONE_SIGN)
_RAISED_DEGREE = re.compile(r"\^\s*\{?\s*(?:\\circ|\\degree|°|º|∘|˚|o(?![A-Za-z0-9]))\s*\}?")
_RAISED_PRIME = re.compile(r"\^\s*\{?\s*((?:\\prime\s*|')+)\}?")
_DIGRAPHS: Mapping[str, str] = {
    "**": "^", "...": "…", "-->": "⇒", "->": "⇒", "==>": "⇒", "=>": "⇒", ":=": "=", "===": "=", "==": "=", "<=": "≤", ">=": "≥", "!=": "≠",
    "~=": "≈", "=~": "≈", "+/-": "±", "+-": "±", "<->": "⇔", "~~": "≀",
}  # fmt: skip
_LONGEST_FIRST = sorted(_DIGRAPHS, key=len, reverse=True)
_DIGRAPH_START = frozenset(d[0] for d in _DIGRAPHS)


def _run(text: str, at: int, end: int, out: _Out, depth: int) -> None:
    while at < end:
        at = _step(text, at, end, out, depth)


def _step(text: str, at: int, end: int, out: _Out, depth: int) -> int:
    """Clean what stands at `at`; returns where to go on."""
    c = text[at]
    if c == "\\":
        return _command(text, at, end, out, depth)
    if c in RAISED or c in LOWERED:
        return _raised(text, at, end, out)
    if c in _DIGRAPH_START:
        for digraph in _LONGEST_FIRST:
            if text.startswith(digraph, at, end) and not (
                digraph == "+-" and text[at + 2 : at + 3].isdigit() and _after_operand(out) is False
            ):
                out.put(_DIGRAPHS[digraph], at, at + len(digraph))
                return at + len(digraph)
    if c in "^_" and at + 1 < end:
        return _script(text, at, end, out, depth)
    if c == "~":
        out.put("≈", at, at + 1)
        return at + 1
    if c == "〖":
        return _invisible(text, at, end, out, depth)
    if c in "PRD":
        sheet = _SHEET.match(text, at, end)
        if sheet is not None:
            out.put(_SHEET_NAMES[sheet.group()], at, sheet.end())
            return sheet.end()
    out.put(_letter(c), at, at + 1)
    return at + 1


_SHEET = re.compile(r"PI\(\)|RADIANS(?=\()|DEGREES(?=\()")
_SHEET_NAMES = {"PI()": "π", "RADIANS": "(1°)*", "DEGREES": ""}


def _invisible(text: str, at: int, end: int, out: _Out, depth: int) -> int:
    """〖…〗 of linear equation text: brackets unless what is inside is one word or number, or bracketed already."""
    level, close = 0, end
    for index in range(at, end):
        level += (text[index] == "〖") - (text[index] == "〗")
        if level == 0:
            close = index
            break
    inside = text[at + 1 : close]
    bare = inside.replace(".", "").isalnum() or (inside[:1] == "(" and _matching(text, at + 1, close) == close - 1)
    out.put("" if bare else "(", at, at + 1)
    if depth < _DEEPEST:
        _run(text, at + 1, close, out, depth + 1)
    out.put("" if bare else ")", close, min(close + 1, end))
    return min(close + 1, end)


def _after_operand(out: _Out) -> bool:
    last = next((x for x in reversed(out.characters) if x != " "), "")
    return bool(last) and (last.isalnum() or last in ")°%'")


@lru_cache(maxsize=2048)
def _letter(c: str) -> str:
    if c.isascii():
        return ONE_FOR_ONE.get(c, c)
    if c in ONE_FOR_ONE:
        return ONE_FOR_ONE[c]
    if c in SEVERAL_FOR_ONE:
        return SEVERAL_FOR_ONE[c]
    if c == "\u0307":
        return c  # a dot above a digit: recurring
    category = unicodedata.category(c)
    if category in ("Mn", "Me", "Cf", "Cc", "Co", "Cs"):
        return ""
    if category == "So":
        return " " if c not in "°" else c
    if category == "No" and unicodedata.decomposition(c).startswith("<fraction>"):
        return c
    plain = unicodedata.normalize("NFKD", c)
    plain = "".join(ONE_FOR_ONE.get(x, x) for x in plain if unicodedata.category(x) != "Mn")
    return plain if len(plain) <= 4 else c


_DEGREES: Mapping[str, str] = {"2": "√", "3": "∛", "4": "∜"}


_FIGURES_AFTER = re.compile(r"\d{1,2}(?![\d.,])")


def _raised(text: str, at: int, end: int, out: _Out) -> int:
    """A run of superscript or subscript characters."""
    table, opening, closing = (RAISED, "^(", ")") if text[at] in RAISED else (LOWERED, "_{", "}")
    stop = at
    while stop < end and (text[stop] in table or (text[stop] in "/⁄∕·˙⋅" and stop + 1 < end and text[stop + 1] in table)):
        stop += 1
    inside = "".join(table.get(x, "/" if x in "/⁄∕" else ".") for x in text[at:stop])
    if table is RAISED and not any(x.isalnum() for x in inside):
        figures = _FIGURES_AFTER.match(text, stop, end) if inside == "-" else None
        if figures is not None:  # 10⁻19: only the sign is raised
            out.put("^(", at, at + 1)
            for place in range(at, figures.end()):
                out.put(table.get(text[place], text[place]), place, place + 1)
            out.put(")", figures.end() - 1, figures.end())
            return figures.end()
        return stop  # a lone sign, as in e⁻: the charge of a particle, no power
    if table is RAISED and inside in _DEGREES and text[stop : stop + 1] == "√":
        out.put(_DEGREES[inside], at, stop + 1)  # ³√
        return stop + 1
    out.put(opening, at, at + 1)
    for offset, x in enumerate(inside):
        out.put(x, at + offset, at + offset + 1)
    out.put(closing, stop - 1, stop)
    return stop


_DRESSED_INDEX = re.compile(r"\\(?:text|mathrm|textrm|mathit|mathbf|textit|mathsf|operatorname|rm)\s?\{")


def _script(text: str, at: int, end: int, out: _Out, depth: int) -> int:
    """^ or _ and its argument: braces kept for a subscript, brackets for a power, a raised o or \\circ is a degree sign."""
    mark, following = text[at], text[at + 1]
    if mark == "^":
        degree = _RAISED_DEGREE.match(text, at, end)
        if degree is not None:
            out.put("°", at, degree.end())
            return degree.end()
        prime = _RAISED_PRIME.match(text, at, end)
        if prime is not None:
            out.put("'" * max(1, prime.group(1).count("'") + prime.group(1).count("prime")), at, prime.end())
            return prime.end()
        sign = _SIGN_ALONE.match(text, at, end)
        if sign is not None:
            return sign.end()
    if following == "{" or (following == "(" and mark == "_"):
        return _braced(text, at, at + 1, end, out, depth)
    dressed = _DRESSED_INDEX.match(text, at + 1, end) if mark == "_" else None
    if dressed is not None:
        return _braced(text, at, dressed.end() - 1, end, out, depth)
    out.put(mark, at, at + 1)
    if mark == "_" and following == "\\":
        command = _LATEX_COMMAND.match(text, at + 1, end)
        if command is not None and command.group(1) in GREEK:
            out.put("{" + GREEK[command.group(1)] + "}", at + 1, command.end())
            return command.end()
    return at + 1


def _braced(text: str, at: int, brace: int, end: int, out: _Out, depth: int) -> int:
    """The script whose mark is at `at` and whose argument stands in the brackets that open at `brace`."""
    close = _matching(text, brace, end)
    inner = _Out()
    if depth < _DEEPEST:
        _run(text, brace + 1, close, inner, depth + 1)
    opening, closing = ("^(", ")") if text[at] == "^" else ("_{", "}")
    out.put(opening, at, brace + 1)
    _copy(inner, out)
    out.put(closing, close, min(close + 1, end))
    return min(close + 1, end)


def _copy(inner: _Out, out: _Out) -> None:
    out.characters += inner.characters
    out.starts += inner.starts
    out.ends += inner.ends


def _matching(text: str, at: int, end: int) -> int:
    """Where the bracket at `at` closes; the end when it does not."""
    opening = text[at]
    closing = {"{": "}", "(": ")", "[": "]"}[opening]
    level = 0
    for index in range(at, end):
        if text[index] == opening:
            level += 1
        elif text[index] == closing:
            level -= 1
            if level == 0:
                return index
    return end


def _command(text: str, at: int, end: int, out: _Out, depth: int) -> int:
    r"""\frac{a}{b}, \sqrt{x}, \text{m}, \theta, \, and the rest; an unknown command keeps its name as a word."""
    found = _LATEX_COMMAND.match(text, at, end)
    if found is None:
        return at + 1
    name, after = found.group(1), found.end()
    if name in ("frac", "dfrac", "tfrac", "cfrac"):
        return _fraction(text, at, after, end, out, depth)
    if name == "sqrt":
        return _square_root(text, at, after, end, out, depth)
    if name in DRESSING:
        return _argument(text, after, end, out, depth, " " if name in ("text", "mathrm", "textrm", "operatorname") else "")
    if name in FUNCTION_COMMANDS:
        base = text[after : after + 1] in ("_", "^") and after < end  # \\log_{10}, \\sin^2
        out.put(" " + name + ("" if base else " "), at, after)
        return after
    if name == "\\":
        out.put(";", at, after)
        return after
    if name in COMMANDS:
        while name == "Delta" and after < end and text[after] == " ":  # \Delta L is one letter, ΔL
            after += 1
        out.put(COMMANDS[name], at, after)
        return after
    if not name.isalpha():
        sign = {"%": "%", "{": "(", "}": ")", "|": "|", "_": "_", "&": " ", "#": " ", "$": ""}.get(name, " ")
        if sign == " ":  # a thin space and the spaces typed round it are one
            while after < end and text[after] == " ":
                after += 1
            sign = "" if out.characters and out.characters[-1] == " " else " "
        out.put(sign, at, after)
        return after
    out.put(" " + name + " ", at, after)
    return after


def _argument(text: str, at: int, end: int, out: _Out, depth: int, around: str) -> int:
    """The braced argument of a command that only dresses text."""
    while at < end and text[at] == " ":
        at += 1
    if at >= end or text[at] != "{" or depth >= _DEEPEST:
        return at
    close = _matching(text, at, end)
    inside = at + 1
    if around:  # one space in all, however many were typed round the command: a wide gap would part what belongs together
        while inside < close and text[inside] == " ":
            inside += 1
        if not (out.characters and out.characters[-1] == " "):
            out.put(around, at, at + 1)
    _run(text, inside, close, out, depth + 1)
    after = min(close + 1, end)
    if after >= end or text[after] not in "^_":
        out.put(around, close, after)
    return after


def _group(text: str, at: int, end: int, out: _Out, depth: int) -> int:
    """One argument of \\frac or \\sqrt, put in brackets: {…}, or a single character."""
    while at < end and text[at] == " ":
        at += 1
    out.put("(", at, at + 1)
    if at < end and text[at] == "{" and depth < _DEEPEST:
        close = _matching(text, at, end)
        _run(text, at + 1, close, out, depth + 1)
        after = min(close + 1, end)
    elif at < end:
        after = _step(text, at, end, out, depth + 1) if depth < _DEEPEST else at + 1
    else:
        after = end
    out.put(")", max(at, after - 1), after)
    return after


def _fraction(text: str, at: int, after: int, end: int, out: _Out, depth: int) -> int:
    out.put("(", at, after)
    middle = _group(text, after, end, out, depth)
    out.put("/", middle, middle)
    last = _group(text, middle, end, out, depth)
    out.put(")", max(at, last - 1), last)
    return last


def _square_root(text: str, at: int, after: int, end: int, out: _Out, depth: int) -> int:
    degree = re.compile(r"\s*\[\s*(\d)\s*\]").match(text, after, end)
    sign = "√"
    if degree is not None:
        sign = _DEGREES.get(degree.group(1), "√")
        after = degree.end()
    out.put(sign, at, after)
    return _group(text, after, end, out, depth)
