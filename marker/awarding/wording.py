"""The sentences of awards, in an examiner's words."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from marker.expression import Symbol
from marker.judging.known_faults import known_faults
from marker.judging.model import Slip
from marker.physics.units import parse_unit
from marker.reading.writing import write_plain
from marker.scheme.compiled import Datum

LONGEST = 60
_LETTERS = re.compile(r"[^\W\d_]+")
_SPACES = re.compile(r"\\[,;:! ]")
_COMMANDS = re.compile(r"\\([A-Za-z]+)")
_SIGNS = {
    **{"times": "×", "cdot": "·", "div": "÷", "sqrt": "√", "approx": "≈", "degree": "°", "circ": "°"},
    **{name: f"{name} " for name in ("sin", "cos", "tan", "ln", "log")},
    **{"alpha": "α", "epsilon": "ε", "varepsilon": "ε", "eta": "η", "theta": "θ", "lambda": "λ", "mu": "μ", "pi": "π", "rho": "ρ"},
    **{"sigma": "σ", "tau": "τ", "phi": "φ", "varphi": "φ", "omega": "ω", "Omega": "Ω", "Delta": "Δ"},
}
_RAISED = re.compile(r"\^(-?\d+)")
_EXPONENT = re.compile(r"(\d)[eE]([+-]?\d{1,3})\b")
_SUPERSCRIPTS = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_ONE_NUMBER = re.compile(r"[-−]?\d*[.,]?\d+(?:[eE][-+−]?\d{1,3}|\s?[x×*]\s?10\s?\^?\(?[-−]?\d{1,3}\)?)?")
_NUMBERS = re.compile(r"\d+(?:[.,·]\d+)?")


def say(lines: Sequence[int]) -> str:
    """ "line 2", "lines 2 and 4"."""
    numbers = sorted(dict.fromkeys(n for n in lines if n))
    if not numbers:
        return "carried from an earlier part"
    if len(numbers) == 1:
        return f"line {numbers[0]}"
    return f"lines {', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"


def quoted(text: str) -> str:
    """The candidate's own characters in quotation marks: loose brackets at the ends left off, brackets left open closed."""
    plain = " ".join(_without_latex(text).split()).strip("$ ,;")
    while plain[:1] in _PAIRS and plain.count(plain[0]) > plain.count(_PAIRS[plain[0]]):
        plain = plain[1:].lstrip()
    while plain[-1:] in _PAIRS.values() and _left_open(plain) is None:
        plain = plain[:-1].rstrip(" \\")
    plain = _opened(plain)
    if len(plain) > LONGEST:
        return f"“{plain[: LONGEST - 1].rstrip()}…”"
    return f"“{plain}{_left_open(plain) or ''}”"


_PAIRS = {"(": ")", "[": "]", "{": "}"}


def _opened(text: str) -> str:
    """The text with brackets in front for those it closes and did not open: `44 + 10)/5` as `(44 + 10)/5`."""
    waiting, missing = 0, 0
    for sign in text:
        waiting += (sign == "(") - (sign == ")")
        if waiting < 0:
            waiting, missing = 0, missing + 1
    return "(" * missing + text


def _left_open(text: str) -> str | None:
    """The closing brackets a text lacks at its end; None where one is closed that was not opened."""
    waiting: list[str] = []
    for sign in text:
        if sign in _PAIRS:
            waiting.append(_PAIRS[sign])
        elif sign in _PAIRS.values() and (not waiting or waiting.pop() != sign):
            return None
    return "".join(reversed(waiting))


def _without_latex(text: str) -> str:
    """LaTeX as plain characters, also when only a piece of it is quoted: `V^2}{r` as `V^2/r`, `3.5\\,\\text{mol` as `3.5 mol`."""
    if "\\" not in text and "}{" not in text:
        return text
    plain = _SPACES.sub(" ", text).replace("}{", "/")
    return _COMMANDS.sub(lambda found: _SIGNS.get(found[1], ""), plain).replace("{", "").replace("}", "")


def sentence(text: str) -> str:
    """A clause as a sentence: a capital on its first word (not on a symbol or a quotation), a full stop at its end."""
    first = text.split(" ", 1)[0]
    if len(first) > 1 and first.isalpha() and first.islower() and first not in _SIGNS:
        text = text[:1].upper() + text[1:]
    elif text.startswith("a "):
        text = "A" + text[1:]
    return text if text.endswith(".") else f"{text}."


def clause(text: str) -> str:
    """A sentence as a clause within another: no full stop, a small letter on its first word."""
    first = text.split(" ", 1)[0]
    if first == "A" or (len(first) > 1 and first.isalpha() and first[1:].islower()):
        text = text[:1].lower() + text[1:]
    return text.rstrip(".")


def letter(name: str) -> str:
    """A quantity's letter as a person writes it: Eₖ, θ₂."""
    return write_plain(Symbol(name=name, known=True))


def letters(names: str) -> str:
    """Several letters with commas between them, as a person writes them."""
    return ", ".join(letter(name) for name in names.split(", "))


def printed(text: str) -> str:
    """A datum as the question would print it: 1.67 × 10⁻²⁷ kg, 4.18 kJ kg⁻¹ K⁻¹."""
    if text[:1] == "-":
        return f"−{printed(text[1:])}"
    raised = _RAISED.sub(lambda found: found[1].translate(_SUPERSCRIPTS), text)
    return _EXPONENT.sub(lambda found: f"{found[1]} × 10{str(int(found[2])).translate(_SUPERSCRIPTS)}", raised)


def missing_answer(symbol: str, last: str = "", line: int = 0) -> str:
    """No value of what is asked for; the value the working ends with, where there is one, and its line."""
    ends = f"; the working ends with {quoted(last)} ({say((line,))})" if last else ""
    return f"no value of {letter(symbol)} is given{ends}"


def unit_clause(state: str, typed: str) -> str:
    """Why a right number with this unit does not earn the answer."""
    return {
        "missing": f"{quoted(typed)} has no unit",
        "prefix": f"the number of {quoted(typed)} is right in another unit, so its power of ten is wrong",
        "case": f"the unit of {quoted(typed)} has capital and small letters exchanged",
    }.get(state, f"{quoted(typed)} has a unit of another quantity")


def form_clause(state: str, typed: str) -> str:
    """Why a right number written this way does not earn the answer."""
    return {
        "fraction": f"{quoted(typed)} is left as a fraction or root, not worked out",
        "recurring": f"{quoted(typed)} has endless figures; an answer stops at the figures it claims",
        "rounding": f"{quoted(typed)} is cut off where it should be rounded",
    }[state]


_WORDS: Mapping[str, str] = {
    "unconverted": "{expected} is put in as {typed}, not converted",
    "wrong-prefix": "{expected} is put in with the wrong prefix, as {typed}",
    "wrong-conversion": "{expected} is converted wrongly, to {typed}",
    "power-of-ten": "the power of ten of {typed} is wrong",
    "digits-exchanged": "{expected} is copied as {typed}",
    "copied-wrongly": "{expected} is copied as {typed}",
    "own-value-miscarried": "the candidate's own {expected} is carried on as {typed}",
    "another-datum": "{typed} is used for {symbol}, whose value it is not",
    "other-quantity": "{typed}, the value of another quantity, is used for {symbol}",
    "factor-left-out": "{other} is left out of {typed}",
    "values-exchanged": "the values of {symbol} and {other} are exchanged",
    "kelvin-added-to-difference": "273 is added to one temperature of a difference, {typed}",
    "other-g": "{typed} is not the value of g to be used",
    "wrong-relationship": "{typed} is not the relationship needed",
    "wrong-rearrangement-of-symbols": "the relationship is rearranged wrongly, to {typed}",
    "wrong-rearrangement-of-numbers": "{typed} is rearranged wrongly after the numbers were in",
    "calculator-mode": "{typed} comes from a calculator in the wrong angle mode",
    "arithmetic": "{typed} is an arithmetic slip",
    "root-forgotten": "the square root is not taken in {typed}",
    "last-reciprocal": "the last reciprocal is not taken in {typed}",
    "root-taken": "a square root is taken that is not there, in {typed}",
    "rounded-early": "{typed} comes from rounding too early",
    "sign": "the sign of {typed} is lost",
}
_SHORT: Mapping[str, str] = {
    "power-of-ten": "its power of ten is wrong",
    "wrong-relationship": "it does not follow from the working",
    "wrong-rearrangement-of-numbers": "the numbers are rearranged wrongly",
    "calculator-mode": "the calculator is in the wrong angle mode",
    "arithmetic": "an arithmetic slip",
    "root-forgotten": "the square root is not taken",
    "last-reciprocal": "the last reciprocal is not taken",
    "root-taken": "a square root is taken that is not there",
    "rounded-early": "rounded too early",
    "sign": "its sign is lost",
}


def slip_clause(slip: Slip, data: Mapping[str, Datum], said: str = "") -> str:
    """What went wrong, as a clause without its line. `said` is text already quoted in the sentence."""
    if said and slip.code in _SHORT and (slip.typed == said or not slip.typed):
        return _SHORT[slip.code]
    datum = data.get(slip.symbol)
    symbol = letter(slip.symbol) if slip.symbol else "another"
    expected = printed(slip.expected or (datum.text if datum else "")) or (symbol if slip.symbol else "a value")
    if slip.code == "power-of-ten" and slip.family == "digit place":
        return f"{expected} is copied as {quoted(slip.typed)}, with its decimal point moved"
    if slip.code == "wrong-relationship" and only_value(slip.typed):
        return f"{quoted(slip.typed)} does not come from the relationship needed"
    if slip.code == "wrong-relationship" and _in_numbers(slip.typed):
        return f"{quoted(slip.typed)} is not the relationship with the values put in"
    if slip.code == "wrong-conversion" and not slip.typed:
        return f"{expected} is converted wrongly"
    if slip.code in ("copied-wrongly", "digits-exchanged") and slip.symbol and not (slip.expected or datum):
        return f"{quoted(slip.typed)} is used for {symbol}, whose value it is not"
    pattern = _WORDS.get(slip.code) or f"{_fault_name(slip.code)}, {{typed}}"
    typed = quoted(slip.typed) if slip.typed else "a value"
    other = letter(slip.expected) if slip.expected.isidentifier() else expected
    return pattern.format(typed=typed, expected=expected, symbol=symbol, other=other)


def _fault_name(code: str) -> str:
    """What the table of faults calls it; the words of its code where it has no row."""
    return next((row.name for row in known_faults() if row.code == code), code.replace("-", " "))


def _in_numbers(text: str) -> bool:
    """More numbers than letters and words: values put in, not a statement in symbols."""
    words = [w for w in _LETTERS.findall(text) if w not in ("x", "e", "E", "times", "sqrt")]
    return len(_NUMBERS.findall(text)) > len(words)


def only_value(text: str) -> bool:
    """One number, with a unit or without: a result, and no relationship in letters or numbers."""
    found = _ONE_NUMBER.match(text.strip())
    rest = text.strip()[found.end() :].strip() if found else "+"
    return not rest or (len(rest) < LONGEST and bool(parse_unit(rest)))


def came_from(slip: Slip, data: Mapping[str, Datum], typed: str) -> str:
    """Why a result is wrong, as a clause with its line, where another point has said what went wrong itself."""
    where = say((slip.line,))
    if slip.family in ("relationship", "rearrangement") and slip.typed != typed:
        return f"it comes from the wrong {slip.family} in {where}"
    if slip.family == "copying" and slip.expected and slip.typed and slip.code != "other-g":
        return f"it rests on {quoted(slip.typed)} in place of {printed(slip.expected)} ({where})"
    return slip_words(slip, data, typed)


def slip_words(slip: Slip, data: Mapping[str, Datum], said: str = "") -> str:
    """What went wrong, as a clause, with its line."""
    return f"{slip_clause(slip, data, said)} ({say((slip.line,))})"
