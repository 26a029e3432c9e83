"""Greek letters spelt out in a scheme: theta, lambda_0 and DeltaT mean θ, λ_0 and ΔT wherever a scheme names a quantity."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

LETTERS: Mapping[str, str] = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "zeta": "ζ", "eta": "η", "theta": "θ", "kappa": "κ",
    "lambda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "rho": "ρ", "sigma": "σ", "tau": "τ", "phi": "φ", "chi": "χ", "psi": "ψ",
    "omega": "ω", "Gamma": "Γ", "Delta": "Δ", "Theta": "Θ", "Lambda": "Λ", "Sigma": "Σ", "Phi": "Φ", "Psi": "Ψ", "Omega": "Ω",
}  # fmt: skip

_NAMES = "|".join(sorted(LETTERS, key=len, reverse=True))
_WHOLE = re.compile(rf"(?<![A-Za-z])({_NAMES})(?=$|[^A-Za-z]|_)")
_BEFORE_A_LETTER = re.compile(r"(?<![A-Za-z])Delta[ _]?(?=[A-Za-zα-ω])")

# In a part of these kinds, keys whose value names quantities or is an expression in them, and tables whose keys name quantities.
_TEXTS = frozenset(
    {"find", "using", "also", "signed", "carry", "symbol", "from", "law", "of", "target", "also_target", "subject", "in_terms_of"}
)
_TABLES = frozenset({"given", "carry", "names", "data", "quantities"})
_KINDS = frozenset({"calculation", "gradient", "uncertainty", "proportion", "derivation", "rearrangement"})


def greek(text: str) -> str:
    """The expression or letter with the names of Greek letters written as the letters."""
    return _WHOLE.sub(lambda m: LETTERS[m.group(1)], _BEFORE_A_LETTER.sub("Δ", text))


def greek_keys(table: Mapping[str, Any]) -> dict[str, Any]:
    """A table of quantities with its keys in Greek letters."""
    return {greek(k): v for k, v in table.items()}


def greek_part(row: Mapping[str, Any]) -> dict[str, Any]:
    """A part as the file gives it, with the letters of its quantities in Greek. Parts of other kinds are left as they are."""
    if row.get("kind", "calculation") not in _KINDS:
        return dict(row)
    return {k: _value(k, v) for k, v in row.items()}


def _letters(text: str) -> str:
    """A letter or an equation in Greek letters; the name of a relationship of the sheets ("alpha decay") stays."""
    return greek(text) if "=" in text or " " not in text.strip() else text


def _value(key: str, value: Any) -> Any:
    if key in _TABLES and isinstance(value, dict):
        return {greek(k) if isinstance(k, str) else k: greek(v) if key == "carry" and isinstance(v, str) else v for k, v in value.items()}
    if key in _TEXTS:
        if isinstance(value, str):
            return _letters(value)
        if isinstance(value, list) and all(isinstance(v, str) for v in value):
            return [_letters(v) for v in value]
    if isinstance(value, dict):
        return {k: _value(k, v) for k, v in value.items()}
    if isinstance(value, list):
        return [_value("", v) if not isinstance(v, dict) else {k: _value(k, inner) for k, inner in v.items()} for v in value]
    return value
