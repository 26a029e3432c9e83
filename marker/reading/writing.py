"""An expression written out again: as plain text a person reads at once, and as presentation MathML."""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape

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
    UnitFactor,
    kept_on_tree,
)
from marker.reading.model import Reading

_RAISED = str.maketrans("0123456789-+.nx", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺·ⁿˣ")
_LOWERED = str.maketrans("0123456789+-aehijklmnoprstuvx", "₀₁₂₃₄₅₆₇₈₉₊₋ₐₑₕᵢⱼₖₗₘₙₒₚᵣₛₜᵤᵥₓ")
_SUM, _PRODUCT, _SIGN, _POWER, _ATOM = range(1, 6)
_MINUS = "\u2212"
_POWER_OF_TEN = re.compile(r"^\s*(.*?)\s*[×xX*·.]\s*10\s*(?:\^|\*\*)?\s*\(?\s*([+-]?\s*\d+)\s*\)?\s*$")
_E_NOTATION = re.compile(r"^\s*(.*?\d)\s?(?:[eE]|EXP)\s?\(?([+-]?\d+)\)?\s*$")
_TEN = re.compile(r"^10\s?\^?\s?\(?\s*([+-]?\s?\d+)\s*\)?$")


def _number_parts(number: Number) -> tuple[str, str]:
    """Digits and the power of ten, "" when there is none."""
    text = number.text.strip()
    if text.isascii() and "10" not in text and text.replace(".", "", 1).isdigit():
        return _digits(text), ""
    if number.half == 0.0:
        ten = _TEN.match(text)
        if ten is not None and number.value not in (10.0,) and _comes_to("1", ten.group(1), number.value):
            return "", ten.group(1).replace(" ", "")
    found = _E_NOTATION.match(text) or _POWER_OF_TEN.match(text)
    if found is not None and _comes_to(found.group(1), found.group(2), number.value):
        return _digits(found.group(1)), str(int(found.group(2).replace(" ", "")))
    lost = re.match(r"^(.*?\d)\s*[×xX*·]\s*10(-?\d+)$", text)
    if lost is not None and _comes_to(lost.group(1), lost.group(2), number.value):
        return _digits(lost.group(1)), lost.group(2)
    if "," in text:
        return (
            _digits(text)
            if abs(float(re.sub(r"[^\d.]", "", text) or 0) - number.value) < 1e-9 * abs(number.value)
            else text.replace(".", "").replace(",", ".")
        ), ""
    return _digits(text) if any(c.isdigit() for c in text) or text in "½¼¾⅓⅔∞" else f"{number.value:g}", ""


def _comes_to(digits: str, power: str, value: float) -> bool:
    """Whether figures and power of ten give the number's value: 3.105 is not 3 × 10⁵."""
    try:
        return abs(float(_digits(digits).replace(" ", "")) * 10.0 ** int(power.replace(" ", "")) - value) <= 1e-9 * abs(value)
    except (ValueError, OverflowError):
        return False


def _digits(text: str) -> str:
    text = text.replace("·", ".").replace("'", " ")
    if re.fullmatch(r"\d{1,3}(,\d{3})+(\.\d+)?", text) and not text.startswith("0"):
        return text.replace(",", " ")
    return text.replace(",", ".").replace("…", "").strip()


def write_number(number: Number) -> str:
    """1.85 × 10⁴, whatever way it was typed."""
    if number.value == 0.5 and number.half == 0.0:
        return "½"
    digits, power = _number_parts(number)
    if not power:
        return digits
    raised = "10" + power.translate(_RAISED)
    return raised if not digits else f"{digits} × {raised}"


def write_symbol(name: str) -> str:
    """v_0 as v₀, E_k as Eₖ; an index without raised or lowered letters stays after an underscore."""
    stem, mark, index = name.partition("_")
    if not mark:
        found = re.fullmatch(r"(Δ?[A-Za-zα-ωΑ-Ω])(\d{1,2})", name)
        if found is None:
            return name
        stem, index = found.group(1), found.group(2)
    if index == "half":
        return f"{stem}_½"
    primes = ""
    while index.endswith("'"):
        index, primes = index[:-1], primes + "'"
    lowered = index.translate(_LOWERED) if index.isalnum() and len(index) <= 2 else index
    if lowered != index and not re.search(r"[A-Za-z0-9]", lowered):
        return stem + lowered + primes
    return f"{stem}_{index}{primes}"


@kept_on_tree("_plain")
@lru_cache(maxsize=20_000)
def write_plain(node: Expr) -> str:
    """The expression on one line: R = V/I is written V/I, ½mv² with its ½ and ²."""
    return _plain(node)[0]


def _plain(node: Expr) -> tuple[str, int]:
    """(text, how tightly it holds together)."""
    match node:
        case Number():
            text = write_number(node)
            return text, _PRODUCT if "×" in text else _POWER if "10" in text and text[0] == "1" and text[-1] >= "⁰" else _ATOM
        case Symbol(name=name):
            return write_symbol(name), _ATOM
        case UnitFactor(unit=unit):
            return unit.name, _PRODUCT if " " in unit.name else _ATOM
        case Sum(terms=terms):
            return _plain_sum(terms), _SUM
        case Negative(inner=inner):
            return _MINUS + _held(inner, _PRODUCT), _SIGN
        case Product(factors=factors):
            return _plain_product(factors), _PRODUCT
        case Quotient(over=over, under=under):
            return f"{_held(over, _PRODUCT)}/{_held(under, _POWER)}", _PRODUCT
        case Power(base=base, exponent=exponent):
            return _plain_power(base, exponent), _POWER
        case Root(inner=inner, degree=degree) if degree > 4:
            return f"{_held(inner, _ATOM)}^(1/{degree})", _POWER
        case Root(inner=inner, degree=degree):
            sign = {2: "√", 3: "∛", 4: "∜"}[degree]
            text, hold = _plain(inner)
            return (sign + text if hold == _ATOM and isinstance(inner, Number | Symbol) else f"{sign}({text})"), _ATOM
        case Call(function="abs", inner=inner):
            return f"|{_plain(inner)[0]}|", _ATOM
        case Call(function=name, inner=inner):
            shown = _FUNCTIONS.get(name, name)
            text, hold = _plain(inner)
            return (f"{shown} {text}" if hold == _ATOM or _is_quantity(inner) else f"{shown}({text})"), _POWER if hold == _ATOM else _ATOM
        case PlusMinus(value=value, uncertainty=uncertainty):
            if isinstance(value, Number) and value.value == 0 and value.text == "0":
                return f"±{_held(uncertainty, _PRODUCT)}", _SIGN
            return f"{_held(value, _PRODUCT)} ± {_held(uncertainty, _PRODUCT)}", _SUM
    return "?", _ATOM


_FUNCTIONS = {"asin": "sin⁻¹", "acos": "cos⁻¹", "atan": "tan⁻¹", "log10": "log₁₀", "log2": "log₂"}


def _held(node: Expr, hold: int) -> str:
    text, own = _plain(node)
    return text if own >= hold and not (own == _SIGN and hold >= _PRODUCT and text.startswith(_MINUS) and hold > _SIGN) else f"({text})"


def _plain_sum(terms: tuple[Expr, ...]) -> str:
    out = _held(terms[0], _PRODUCT)
    for term in terms[1:]:
        if isinstance(term, Negative):
            out += f" {_MINUS} {_held(term.inner, _PRODUCT)}"
        else:
            out += f" + {_held(term, _PRODUCT)}"
    return out


def _plain_product(factors: tuple[Expr, ...]) -> str:
    if _is_quantity(Product(factors=factors)) and isinstance(factors[1], UnitFactor):
        space = "" if factors[1].unit.name in ("°", "′", "″") else " "
        return f"{_held(factors[0], _PRODUCT)}{space}{factors[1].unit.name}"
    parts = [_held(f, _POWER if not _is_quantity(f) else _PRODUCT) for f in factors]
    out = parts[0]
    for previous, node, text in zip(factors, factors[1:], parts[1:], strict=False):
        out += _between(previous, node, out, text) + text
    return out


def _is_quantity(node: Expr) -> bool:
    return (
        isinstance(node, Product)
        and len(node.factors) == 2
        and isinstance(node.factors[1], UnitFactor)
        and not isinstance(node.factors[0], UnitFactor)
    )


def _between(left: Expr, right: Expr, written: str, text: str) -> str:
    """Nothing between letters, a space before a function, a cross between numbers and quantities."""
    if any(isinstance(n, Symbol) and (" " in n.name or (len(n.name) > 3 and n.name.isalpha())) for n in (left, right)):
        return " × "
    if _figure(right) or _is_quantity(right) or _is_quantity(left) or isinstance(left, UnitFactor):
        return " × "
    if isinstance(right, UnitFactor):
        return " "
    if isinstance(left, Number) and left.half == 0.0 and write_number(left) == "½":
        return "" if not isinstance(right, Call) else " "
    if isinstance(left, Number) and (" " in written or written[-1:] in "⁰¹²³⁴⁵⁶⁷⁸⁹"):
        return " × "
    if isinstance(right, Call) and right.function != "abs":
        return " "
    if isinstance(left, Call) and left.function != "abs":
        return " "
    if isinstance(left, Symbol) and ((len(left.name) > 1 and not left.name[-1].isdigit()) or len(left.name) > 3):
        return " "
    if isinstance(right, Symbol) and len(right.name) > 1 and "_" not in right.name and not re.fullmatch(r"Δ?\w\d*", right.name):
        return " "
    return ""


def _figure(node: Expr) -> bool:
    """True when the text of the node begins with a figure."""
    while True:
        match node:
            case Number():
                return True
            case Power(base=inner) | Quotient(over=inner):
                node = inner
            case Product(factors=factors):
                node = factors[0]
            case _:
                return False


def _plain_power(base: Expr, exponent: Expr) -> str:
    raised = _raised(exponent)
    if isinstance(base, Call) and base.function in ("sin", "cos", "tan") and raised is not None:
        inner, hold = _plain(base.inner)
        return f"{base.function}{raised} {inner}" if hold == _ATOM or _is_quantity(base.inner) else f"{base.function}{raised}({inner})"
    text, hold = _plain(base)
    held = text if hold == _ATOM and not isinstance(base, Root) else f"({text})"
    if raised is not None:
        return held + raised
    return f"{held}^({_plain(exponent)[0]})"


def _raised(exponent: Expr) -> str | None:
    negative = isinstance(exponent, Negative)
    inner = exponent.inner if isinstance(exponent, Negative) else exponent
    if isinstance(inner, Number) and re.fullmatch(r"\d+(\.\d+)?", inner.text):
        return ("⁻" if negative else "") + inner.text.translate(_RAISED)
    if isinstance(inner, Symbol) and inner.name in ("n", "x"):
        return ("⁻" if negative else "") + inner.name.translate(_RAISED)
    return None


# ---- MathML ----------------------------------------------------------------------------------------------------------


@lru_cache(maxsize=20_000)
def write_mathml(node: Expr) -> str:
    """Presentation MathML of the expression, inside one <math> element."""
    return f'<math xmlns="http://www.w3.org/1998/Math/MathML">{_ml(node)}</math>'


def _row(*parts: str) -> str:
    return "<mrow>" + "".join(parts) + "</mrow>"


def _mo(sign: str) -> str:
    return f"<mo>{escape(sign)}</mo>"


def _ml(node: Expr) -> str:
    match node:
        case Number():
            return _ml_number(node)
        case Symbol(name=name):
            return _ml_symbol(name)
        case UnitFactor(unit=unit):
            return f'<mi mathvariant="normal">{escape(unit.name)}</mi>'
        case Sum(terms=terms):
            return _ml_sum(terms)
        case Negative(inner=inner):
            return _row(_mo(_MINUS), _ml_held(inner, _PRODUCT))
        case Product(factors=factors):
            return _ml_product(factors)
        case Quotient(over=over, under=under):
            return f"<mfrac>{_ml(over)}{_ml(under)}</mfrac>"
        case Power(base=base, exponent=exponent):
            return f"<msup>{_ml_held(base, _ATOM)}{_ml(exponent)}</msup>"
        case Root(inner=inner, degree=2):
            return f"<msqrt>{_ml(inner)}</msqrt>"
        case Root(inner=inner, degree=degree):
            return f"<mroot>{_ml(inner)}<mn>{degree}</mn></mroot>"
        case Call(function="abs", inner=inner):
            return _row(_mo("|"), _ml(inner), _mo("|"))
        case Call(function=name, inner=inner):
            return _row(_ml_function(name), "<mo>&#x2061;</mo>", _ml_held(inner, _ATOM))
        case PlusMinus(value=value, uncertainty=uncertainty):
            if isinstance(value, Number) and value.value == 0:
                return _row(_mo("±"), _ml(uncertainty))
            return _row(_ml(value), _mo("±"), _ml(uncertainty))
    return "<mtext>?</mtext>"


def _ml_held(node: Expr, hold: int) -> str:
    if (_is_quantity(node) and hold < _ATOM) or (isinstance(node, Quotient) and hold < _ATOM):
        return _ml(node)
    return _ml(node) if _plain(node)[1] >= hold else _row(_mo("("), _ml(node), _mo(")"))


def _ml_number(node: Number) -> str:
    if node.value == 0.5 and node.half == 0.0:
        return "<mfrac><mn>1</mn><mn>2</mn></mfrac>"
    digits, power = _number_parts(node)
    if not power:
        return f"<mn>{escape(digits)}</mn>"
    ten = f"<msup><mn>10</mn><mn>{escape(power.replace('-', _MINUS))}</mn></msup>"
    return ten if not digits else _row(f"<mn>{escape(digits)}</mn>", _mo("×"), ten)


def _ml_symbol(name: str) -> str:
    stem, mark, index = name.partition("_")
    if not mark:
        found = re.fullmatch(r"(Δ?[A-Za-zα-ωΑ-Ω])(\d{1,2})", name)
        if found is None:
            return f"<mi>{escape(name)}</mi>"
        stem, index = found.group(1), found.group(2)
    inner = f"<mn>{index}</mn>" if index.isdigit() else f"<mi>{escape(index.strip('()'))}</mi>"
    return f"<msub><mi>{escape(stem)}</mi>{inner}</msub>"


def _ml_function(name: str) -> str:
    if name in ("asin", "acos", "atan"):
        return f"<msup><mi>{name[1:]}</mi><mrow><mo>{_MINUS}</mo><mn>1</mn></mrow></msup>"
    if name in ("log10", "log2"):
        return f"<msub><mi>log</mi><mn>{name[3:]}</mn></msub>"
    return f"<mi>{escape(name)}</mi>"


def _ml_sum(terms: tuple[Expr, ...]) -> str:
    parts = [_ml_held(terms[0], _PRODUCT)]
    for term in terms[1:]:
        if isinstance(term, Negative):
            parts += [_mo(_MINUS), _ml_held(term.inner, _PRODUCT)]
        else:
            parts += [_mo("+"), _ml_held(term, _PRODUCT)]
    return _row(*parts)


def _ml_product(factors: tuple[Expr, ...]) -> str:
    parts: list[str] = []
    written = ""
    for index, node in enumerate(factors):
        if index:
            sign = _between(factors[index - 1], node, written, "")
            spaced = isinstance(node, Call) or (isinstance(node, UnitFactor) and node.unit.name not in ("°", "′", "″"))
            parts.append(_mo("×") if "×" in sign else '<mspace width="0.2em"/>' if spaced else "<mo>&#x2062;</mo>")
        written = _plain(node)[0]
        hold = _SUM + 1 if isinstance(node, Quotient) or _is_quantity(node) else _PRODUCT
        parts.append(_ml_held(node, hold))
    return _row(*parts)


def write_reading(reading: Reading) -> str:
    """A reading as one line of plain text."""
    parts = [write_plain(reading.sides[0])] if reading.sides else []
    for relation, side in zip(reading.relations, reading.sides[1:], strict=False):
        parts.extend((relation, write_plain(side)))
    text = " ".join(parts)
    return f"= {text}" if reading.opens else text + (" = ?" if reading.unfinished else "")
