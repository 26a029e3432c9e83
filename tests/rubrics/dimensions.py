"""Unit texts and equations checked by pint, as a judge outside the package."""

import cmath
import re
from functools import lru_cache
from types import MappingProxyType
from typing import Any

import pint

from .files import unit_of
from .plain import evaluate, letters, sides

# Names pint takes for something else, or does not have.
PINT_NAMES = MappingProxyType({"Ω": "ohm", "dB": "dimensionless"})
# What "whatever is measured" stands for: any two units of different kinds would do.
MEASURED = MappingProxyType({"[x]": "second", "[y]": "metre"})


@lru_cache(maxsize=1)
def registry() -> Any:
    return pint.UnitRegistry()


@lru_cache(maxsize=512)
def unit(text: str) -> Any:
    """pint's unit for a unit text such as "J/(kg K)". Raises ValueError when pint does not know a name in it."""
    words = re.sub(r"\[[xy]\]", lambda m: MEASURED[m.group()], text)
    words = re.sub(r"[^\W\d]+", lambda m: PINT_NAMES.get(m.group(), m.group()), words)
    try:
        return registry().Unit(words.strip().replace(" ", "*").replace("^", "**"))
    except pint.UndefinedUnitError as unknown:
        raise ValueError(str(unknown)) from unknown


def _number(function: Any) -> Any:
    """A function that takes and gives plain numbers; pint refuses an argument with dimensions."""
    return lambda x: registry().Quantity(function(complex(registry().Quantity(x).to("dimensionless").magnitude)))


def _functions() -> dict[str, Any]:
    plain = {"sin": cmath.sin, "cos": cmath.cos, "tan": cmath.tan, "ln": cmath.log, "exp": cmath.exp, "log10": cmath.log10}
    return {"pi": cmath.pi, "sqrt": lambda x: x**0.5, **{name: _number(f) for name, f in plain.items()}}


def _exponents(value: Any) -> Any:
    """A dimensionless quantity as the number it is, so that it can be an exponent."""
    return value.to("dimensionless").magnitude if value.dimensionless else value


def balanced(relationship: dict[str, Any], equation: str | None = None) -> bool:
    """True when both sides have one dimension, no sum mixes two, and no function takes one."""
    text = equation or relationship["equation"]
    values = {
        name: _exponents(registry().Quantity(complex(1.25 + 0.125 * i), unit(unit_of(relationship, name))).to_base_units())
        for i, name in enumerate(sorted(letters(text)))
    }
    try:
        left, right = (registry().Quantity(evaluate(side, values, _functions())) for side in sides(text))
    except pint.DimensionalityError:
        return False
    return (left.magnitude == 0 or right.magnitude == 0) or bool(left.dimensionality == right.dimensionality)
