"""Typed lines cut into words, numbers and signs, each with its place, in one plain alphabet.

Nothing is interpreted here beyond typing habits: isn^t, isn"t and isnt are "is not"; ∝ and \\propto are one sign.
"""

import re
from collections.abc import Iterator, Sequence
from enum import Enum, auto

from marker.frozen import frozen

MOST_LINES = 60
LONGEST_LINE = 2_000
MOST_WORDS = 600


class Sort(Enum):
    WORD = auto()
    NUMBER = auto()
    SIGN = auto()
    STOP = auto()
    COMMA = auto()


@frozen(kw_only=False)
class Word:
    """One word, number or sign. `text` is in lower case; `typed` as it stood; `at` columns from 0 in line `line` (from 1)."""

    text: str
    typed: str
    sort: Sort
    line: int
    at: tuple[int, int]


# Alternatives that start with different characters and repeat one class only: matching is linear.
_TOKEN = re.compile(
    r"(?P<latex>\\[A-Za-z]{1,20})"
    r"|(?P<origin>\(\s?0\s?[,;]\s?0\s?\))"
    r"|(?P<number>\d{1,15}(?:[.·]\d{1,15})?)"
    r"|(?P<short>(?:[A-Za-z]\.){2,4})"
    r"|(?P<power>[²³]|\^[23](?!\d))"
    r"|(?P<word>[^\W\d_²³]{1,40}(?:['’‘`^\"´][^\W\d_]{1,3}(?![^\W\d_]))?)"
    r"|(?P<arrow><?[-=]{1,2}>|[→⇒⟹⟶↦])"
    r"|(?P<strike>~~)"
    r"|(?P<stop>[.;!?]+)"
    r"|(?P<comma>,)"
    r"|(?P<sign>[:∝=≈<>≤≥+*/×÷·∙⋅∴∵%°()&$–—\-−^|↑↓])"
)
_QUOTES = "'’‘`^\"´"
_LATEX = {
    "\\propto": "∝", "\\times": "×", "\\cdot": "×", "\\rightarrow": "→", "\\to": "→", "\\Rightarrow": "→", "\\implies": "→",
    "\\therefore": "∴", "\\because": "∵", "\\lambda": "λ", "\\theta": "θ", "\\Omega": "Ω", "\\mu": "µ", "\\Delta": "Δ",
    "\\phi": "φ", "\\varphi": "φ", "\\Phi": "Φ", "\\alpha": "α", "\\beta": "β", "\\gamma": "γ", "\\nu": "ν", "\\rho": "ρ",
    "\\epsilon": "ε", "\\varepsilon": "ε", "\\omega": "ω", "\\pi": "π", "\\lt": "<", "\\gt": ">", "\\uparrow": "increases",
    "\\downarrow": "decreases", "\\approx": "≈",
}  # fmt: skip
_SIGNS = {"−": "-", "–": "-", "—": "-", "*": "×", "·": "×", "∙": "×", "⋅": "×", "&": "and", "÷": "/", "∵": "because", "∴": "therefore",
          "↑": "increases", "↓": "decreases"}  # fmt: skip
_SMALL = str.maketrans("ₐₑₕᵢⱼₖₗₘₙₒₚᵣₛₜᵤᵥₓ₀₁₂₃₄₅₆₇₈₉", "aehijklmnoprstuvx0123456789")
_NUMBERS = {w: str(n) for n, w in enumerate(["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"], 1)}
_NOT_RUN_TOGETHER = frozenset(
    [
        "isnt",
        "arent",
        "arnt",
        "wasnt",
        "werent",
        "dont",
        "doesnt",
        "didnt",
        "wont",
        "cant",
        "couldnt",
        "wouldnt",
        "shouldnt",
        "hasnt",
        "havent",
        "hadnt",
        "aint",
        "mustnt",
        "neednt",
    ]
)


def words(lines: Sequence[str]) -> tuple[Word, ...]:
    """All words of a response in order. A line end is a STOP. Overlong responses are cut at fixed limits."""
    found: list[Word] = []
    for number, line in enumerate(lines[:MOST_LINES], 1):
        for match in _TOKEN.finditer(line[:LONGEST_LINE].translate(_SMALL)):
            found.extend(_read(match, number))
            if len(found) > MOST_WORDS:
                return tuple(found)
        if found and found[-1].sort is not Sort.STOP:
            found.append(Word("\n", "", Sort.STOP, number, (len(line), len(line))))
    return tuple(found)


def overlong(lines: Sequence[str]) -> bool:
    """True when a response goes beyond what `words` reads."""
    return len(lines) > MOST_LINES or any(len(x) > LONGEST_LINE for x in lines) or len(words(lines)) > MOST_WORDS


def _read(match: re.Match[str], line: int) -> Iterator[Word]:
    typed, at = match.group(), match.span()

    def word(text: str, sort: Sort = Sort.WORD) -> Word:
        return Word(text, typed, sort, line, at)

    match match.lastgroup:
        case "word":
            for part in _contraction(typed):
                yield word(_NUMBERS[part], Sort.NUMBER) if part in _NUMBERS else word(part)
        case "number":
            yield word(typed.replace("·", "."), Sort.NUMBER)
        case "short":
            yield word(typed.replace(".", "").lower())
        case "power":
            yield word("squared" if typed[-1] in "²2" else "cubed")
        case "origin":
            yield word("origin")
        case "latex":
            if typed in _LATEX:
                yield word(_LATEX[typed], Sort.WORD if len(_LATEX[typed]) > 1 else Sort.SIGN)
        case "arrow":
            yield word("→", Sort.SIGN)
        case "strike":
            yield word("~~", Sort.SIGN)
        case "stop":
            yield word(typed[0], Sort.STOP)
        case "comma":
            yield word(",", Sort.COMMA)
        case _:
            plain = _SIGNS.get(typed, typed)
            if plain not in "$^|:":
                yield word(plain, Sort.WORD if plain.isalpha() and len(plain) > 1 else Sort.SIGN)


def _contraction(typed: str) -> tuple[str, ...]:
    """ "isn't" is "is", "not"; "it's" is "it"; "dont" is "do", "not"."""
    lower = typed.lower()
    if lower in _NOT_RUN_TOGETHER:
        return (_base(lower[:-2]), "not")
    for quote in _QUOTES:
        if quote in lower:
            head, _, tail = lower.partition(quote)
            if tail == "t" and head.endswith("n"):
                return (_base(head), "not")
            return (head,)
    return ("can", "not") if lower == "cannot" else (lower,)


def _base(head: str) -> str:
    head = head.removesuffix("n") if head not in {"can", "won", "ain"} else head
    return {"wo": "will", "won": "will", "ai": "is", "ain": "is", "ca": "can", "ar": "are"}.get(head, head)
