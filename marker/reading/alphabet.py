"""The one alphabet of cleaned text: what each typed character and LaTeX command becomes."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping

RAISED: Mapping[str, str] = dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁼⁽⁾ⁿⁱˣʸᵃᵇᵗ", "0123456789+-=()nixyabt", strict=True))
LOWERED: Mapping[str, str] = dict(zip("₀₁₂₃₄₅₆₇₈₉₊₋₌₍₎ₐₑₕᵢⱼₖₗₘₙₒₚᵣₛₜᵤᵥₓᵦᵧᵨᵩᵪ", "0123456789+-=()aehijklmnoprstuvxβγρφχ", strict=True))
ONE_FOR_ONE: dict[str, str] = {}


def _same(characters: str, meant: str) -> None:
    ONE_FOR_ONE.update(dict.fromkeys(characters, meant))


_same("−–—‒―﹣－‐‑", "-")
_same("✕✖⨯╳", "×")
_same("∗＊", "*")
_same("⋅∙•・‧●", "·")
_same("∕⁄÷", "/")
_same("º˚∘◦", "°")
_same("’‘′ʹ´`", "'")
_same("″”“", '"')
_same("≃≅∼～≐≒", "≈")
_same("⟹→⟶➔➜➝⟾⇨", "⇒")
_same("⟺⟷↔", "⇔")
_same("⩽≦", "≤")
_same("⩾≧", "≥")
_same("≡≔", "=")
_same("∆", "Δ")
_same("ϕ𝜙", "φ")
_same("ϑ", "θ")
_same("ϵ", "ε")
_same("ϱ", "ρ")
_same("µ", "μ")
_same("\u2126", "Ω")
_same("ℓ𝓁", "l")
_same("‖∣｜", "|")
_same("⟨⟩〈〉", " ")
_same("{[", "(")
_same("}]〗", ")")
_same("✓✔✗✘✅❌☑☒🗸", " ")
_same("\u00a0\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000\r\f\v", " ")
_same("\t", ";")
_same("\u200b\u200c\u200d\u2060\u2061\u2062\u2063\ufeff\u00ad$", "")
SEVERAL_FOR_ONE: Mapping[str, str] = {
    "℃": "°C", "℉": "°F", "Å": "Å", "\u212b": "Å", "㎏": "kg", "㎜": "mm", "㎝": "cm",
    "⩵": "=", "‰": "×10^(-3)",
}  # fmt: skip

_GREEK_NAMES = (
    *("alpha", "beta", "gamma", "delta", "epsilon", "zeta", "eta", "theta", "iota", "kappa", "lambda", "mu"),
    *("nu", "xi", "pi", "rho", "sigma", "tau", "upsilon", "phi", "chi", "psi", "omega"),
)
_GREEK = {n: unicodedata.lookup("GREEK SMALL LETTER " + ("LAMDA" if n == "lambda" else n.upper())) for n in _GREEK_NAMES}
GREEK: Mapping[str, str] = {
    **_GREEK,
    **{name.capitalize(): letter.upper() for name, letter in _GREEK.items()},
    "varepsilon": "ε",
    "vartheta": "θ",
    "varphi": "φ",
    "varrho": "ρ",
}
COMMANDS: Mapping[str, str] = {
    **GREEK,
    "times": "×", "cdot": "·", "cdotp": "·", "ast": "*", "div": "/", "pm": "±", "mp": "±", "circ": "°", "degree": "°", "degrees": "°",
    "approx": "≈", "simeq": "≈", "sim": "≈", "cong": "≈", "le": "≤", "leq": "≤", "ge": "≥", "geq": "≥", "lt": "<", "gt": ">",
    "propto": "∝", "neq": "≠", "ne": "≠", "equiv": "=", "infty": "∞", "ohm": "Ω", "hbar": "ħ", "ell": "l", "prime": "'",
    "therefore": "∴", "because": "∵", "Rightarrow": "⇒", "implies": "⇒", "to": "⇒", "rightarrow": "⇒", "Longrightarrow": "⇒", "iff": "⇔",
    "quad": " ", "qquad": " ", "left": "", "right": "", "big": "", "Big": "", "bigg": "", "Bigg": "", "displaystyle": "", "textstyle": "",
    "lvert": "|", "rvert": "|", "vert": "|", "mid": "|", "ldots": "…", "dots": "…", "cdots": "…", "parallel": "∥", "perp": "⊥",
    "langle": "", "rangle": "", "limits": "", "nolimits": "", "newline": ";", "cr": ";", "per": "/", "celsius": "°C",
}  # fmt: skip
FUNCTION_COMMANDS = frozenset(("sin", "cos", "tan", "arcsin", "arccos", "arctan", "sinh", "cosh", "tanh", "ln", "log", "exp"))
# commands that only dress their argument
DRESSING = frozenset(
    (
        *(
            "text",
            "mathrm",
            "mathit",
            "mathbf",
            "textrm",
            "textbf",
            "textit",
            "mathsf",
            "mathnormal",
            "operatorname",
            "rm",
            "it",
            "bf",
            "mbox",
        ),
        *("vec", "hat", "bar", "overline", "underline", "overrightarrow", "underbrace", "boldsymbol", "bm", "boxed", "fbox", "cancel"),
        *("SI", "si", "unit", "qty", "num", "ensuremath"),
    )
)
