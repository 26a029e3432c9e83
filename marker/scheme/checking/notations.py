"""One solution in five notations, as different candidates type it.

unicode      V²/R, 2.62 × 10⁵, θ, √(2gh), m s⁻¹
keyboard     V^2/R, 2.62*10^5, theta, sqrt(2*g*h), m/s
x            V2/R, 2.62x10^5, superscripts of letters lost, ms-1
typesetting  \\frac{V^{2}}{R}, 2.62 \\times 10^{5}, \\theta, \\sqrt{2gh}
words        potential difference = current * resistance, then =SQRT(2*9.81*5) as in a spreadsheet
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from marker.expression import (
    Call,
    Expr,
    Negative,
    Number,
    PlusMinus,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    Unit,
    UnitFactor,
    symbols,
)
from marker.reading import write_plain
from marker.reading.model import SymbolTable
from marker.scheme.checking.solution import Said

_SUM, _PRODUCT, _SIGN, _POWER, _ATOM = range(1, 6)
_GREEK = {
    "α": "alpha", "β": "beta", "γ": "gamma", "δ": "delta", "ε": "epsilon", "ζ": "zeta", "η": "eta", "θ": "theta", "κ": "kappa",
    "λ": "lambda",
    "μ": "mu", "ν": "nu", "π": "pi", "ρ": "rho", "σ": "sigma", "τ": "tau", "φ": "phi", "χ": "chi", "ψ": "psi", "ω": "omega", "Δ": "Delta",
    "Σ": "Sigma", "Φ": "Phi", "Ψ": "Psi", "Ω": "Omega",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Notation:
    """How one kind of candidate types: signs, powers, roots, fractions, letters, numbers and units."""

    name: str
    times: str
    power: Callable[[str, str, bool], str]
    root: Callable[[str, int], str]
    quotient: Callable[[str, str], str] | None
    letter: Callable[[str], str]
    number: Callable[[str, str], str]
    unit: Callable[[Unit], str]
    functions: Mapping[str, str]


def in_notation(said: Said, notation: Notation, table: SymbolTable) -> str:
    """One line of a solution typed in a notation."""
    return (notation.name == "unicode" and _unicode(said)) or _line(said, notation, table)


def _unicode(said: Said) -> str:
    return " = ".join(write_plain(s) for s in said.sides)


def _line(said: Said, notation: Notation, table: SymbolTable) -> str:
    writer = notation
    if notation.name == "words" and said.role == "relation":
        writer = _in_words(notation, table, symbols(said.sides[0]) | symbols(said.sides[-1]))
    text = " = ".join(write(side, writer) for side in said.sides)
    if notation.name == "words" and said.role == "value":
        return f"so {text}"
    return text


def _in_words(notation: Notation, table: SymbolTable, used: frozenset[str]) -> Notation:
    """Letters written as their names, where every letter of the line has one of its own."""
    names = {e.name: e.names[0] for e in table.entries if e.names and e.name in used}
    plain = all(n in names or n == "π" for n in used) and len(set(names.values())) == len(names)
    if not plain:
        return notation
    return replace(notation, letter=lambda name: names.get(name, _spelt(name)))


# --- writing a tree ------------------------------------------------------------------------------


def write(node: Expr, notation: Notation) -> str:
    """An expression in a notation."""
    return _write(node, notation)[0]


def _write(node: Expr, n: Notation) -> tuple[str, int]:
    match node:
        case Number():
            return _number(node, n)
        case Symbol(name=name):
            return n.letter(name), _ATOM
        case UnitFactor(unit=unit):
            return n.unit(unit), _ATOM
        case Sum(terms=terms):
            return _sum(terms, n), _SUM
        case Negative(inner=inner):
            return "-" + _held(inner, _POWER, n), _SIGN
        case Product(factors=factors):
            return _product(factors, n), _PRODUCT
        case Quotient(over=over, under=under):
            if n.quotient is not None:
                return n.quotient(_write(over, n)[0], _write(under, n)[0]), _ATOM
            return f"{_held(over, _PRODUCT, n)}/{_held(under, _POWER, n)}", _PRODUCT
        case Power(base=base, exponent=exponent):
            return n.power(_held(base, _ATOM, n), _write(exponent, n)[0], isinstance(base, Symbol)), _POWER
        case Root(inner=inner, degree=degree):
            return n.root(_write(inner, n)[0], degree), _ATOM
        case Call(function="abs", inner=inner):
            return f"|{_write(inner, n)[0]}|", _ATOM
        case Call(function=name, inner=inner):
            return f"{n.functions.get(name, name)}({_write(inner, n)[0]})", _ATOM
        case PlusMinus(value=value, uncertainty=uncertainty):
            return f"{_held(value, _PRODUCT, n)} ± {_held(uncertainty, _PRODUCT, n)}", _SUM
    raise TypeError(type(node).__name__)


def _held(node: Expr, hold: int, n: Notation) -> str:
    text, own = _write(node, n)
    return text if own >= hold else f"({text})"


def _sum(terms: tuple[Expr, ...], n: Notation) -> str:
    out = _held(terms[0], _PRODUCT, n)
    for term in terms[1:]:
        sign, inner = (" - ", term.inner) if isinstance(term, Negative) else (" + ", term)
        out += sign + _held(inner, _PRODUCT, n)
    return out


def _product(factors: tuple[Expr, ...], n: Notation) -> str:
    if len(factors) == 2 and isinstance(factors[1], UnitFactor):
        space = "" if factors[1].unit.name == "°" and n.name in ("x", "unicode") else " "
        return f"{_write(factors[0], n)[0]}{space}{n.unit(factors[1].unit)}"
    return n.times.join(_held(f, _POWER, n) for f in factors)


def _number(number: Number, n: Notation) -> tuple[str, int]:
    if number.value == 0.5 and number.half == 0:
        return ("0.5", _ATOM) if n.quotient is None else (n.quotient("1", "2"), _ATOM)
    digits, _, power = number.text.replace("−", "-").partition("×")
    power = power.replace("10", "", 1).strip().strip("^").strip("()") if power else ""
    if not power:
        digits, _, power = digits.strip().lower().partition("e")
    digits = digits.strip()
    negative = digits.startswith("-")
    return n.number(digits, power), _PRODUCT if power else _SIGN if negative else _ATOM


# --- the five -------------------------------------------------------------------------------------


def _spelt(name: str) -> str:
    """θ_1 as theta_1, Δp as Deltap."""
    return "".join(_GREEK.get(c, c) for c in name)


def _typeset(name: str) -> str:
    stem, mark, index = name.partition("_")
    letters = re.sub(r" (?=$|[^A-Za-z])", "", "".join(f"\\{_GREEK[c]} " if c in _GREEK else c for c in stem))
    return f"{letters}_{{{index}}}" if mark else letters


def _plain_unit(unit: Unit) -> str:
    """m s⁻¹ as m s^-1, Ω as ohm, µ as u."""
    text = unit.name.translate(str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-"))
    text = re.sub(r"(?<=[A-Za-zΩ°µμ])(-?\d+)", r"^\1", text)
    for sign, word in (("°C", "degC"), ("°", "degrees"), ("kΩ", "kohm"), ("MΩ", "Mohm"), ("Ω", "ohm"), ("µ", "u"), ("μ", "u")):
        text = text.replace(sign, word)
    return text


def _run_unit(unit: Unit) -> str:
    """m s⁻¹ as ms-1."""
    text = unit.name.translate(str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-"))
    return text.replace("^", "")


def _typeset_unit(unit: Unit) -> str:
    text = _plain_unit(unit).replace("ohm", "\\Omega").replace("degrees", "^{\\circ}")
    if text.startswith("^{"):
        return text
    return "\\text{ " + re.sub(r"\^(-?\d+)", r"}^{\1}\\text{", text.replace(" ", "}\\text{ ")) + "}" if "\\" not in text else text


def _keyboard_power(base: str, exponent: str, letter: bool) -> str:
    return f"{base}^{exponent}" if exponent.isalnum() else f"{base}^({exponent})"


def _lost_power(base: str, exponent: str, letter: bool) -> str:
    """v² typed v2; a number or a bracket keeps its sign of a power, without which it would be another number."""
    if letter and exponent.isdigit() and not base[-1].isdigit():
        return base + exponent
    return _keyboard_power(base, exponent, letter)


def _plain_root(inner: str, degree: int) -> str:
    return f"sqrt({inner})" if degree == 2 else f"({inner})^(1/{degree})"


def _typeset_root(inner: str, degree: int) -> str:
    return f"\\sqrt{{{inner}}}" if degree == 2 else f"\\sqrt[{degree}]{{{inner}}}"


def _ten(sign: str, power: str) -> Callable[[str, str], str]:
    return lambda digits, exponent: digits if not exponent else f"{digits}{sign}{power.format(exponent)}"


UNICODE = Notation(
    name="unicode",
    times=" × ",
    power=_keyboard_power,
    root=_plain_root,
    quotient=None,
    letter=lambda name: name,
    number=_ten(" × 10^", "{}"),
    unit=lambda u: u.name,
    functions={},
)
KEYBOARD = Notation(
    name="keyboard",
    times="*",
    power=_keyboard_power,
    root=_plain_root,
    quotient=None,
    letter=_spelt,
    number=_ten("*10^", "{}"),
    unit=_plain_unit,
    functions={"log10": "log"},
)
CROSS = Notation(
    name="x",
    times=" x ",
    power=_lost_power,
    root=_plain_root,
    quotient=None,
    letter=lambda name: name.replace("_", ""),
    number=_ten(" x 10", "{}"),
    unit=_run_unit,
    functions={"log10": "log"},
)
TYPESETTING = Notation(
    name="typesetting",
    times=" \\times ",
    power=lambda base, exponent, letter: f"{base}^{{{exponent}}}",
    root=_typeset_root,
    quotient=lambda over, under: f"\\frac{{{over}}}{{{under}}}",
    letter=_typeset,
    number=_ten(" \\times ", "10^{{{}}}"),
    unit=_typeset_unit,
    functions={
        "sin": "\\sin", "cos": "\\cos", "tan": "\\tan", "ln": "\\ln", "log10": "\\log", "asin": "\\arcsin", "acos": "\\arccos",
        "atan": "\\arctan",
        "exp": "\\exp",
    },
)  # fmt: skip
WORDS = Notation(
    name="words",
    times="*",
    power=_keyboard_power,
    root=lambda inner, degree: f"SQRT({inner})" if degree == 2 else f"({inner})^(1/{degree})",
    quotient=None,
    letter=_spelt,
    number=_ten("E", "{}"),
    unit=_plain_unit,
    functions={name: name.upper() for name in ("sin", "cos", "tan", "ln", "log10", "exp", "asin", "acos", "atan")},
)
NOTATIONS = (UNICODE, KEYBOARD, CROSS, TYPESETTING, WORDS)
