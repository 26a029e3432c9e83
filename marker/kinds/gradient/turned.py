"""The graph with its axes exchanged: the load against the extension, where the paper has the extension against the load.

It is a line of its own, with the readings, the range and the relationship that go with it, for a candidate who says so.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from marker.errors import SchemeError
from marker.kinds.gradient.axes import Axis
from marker.kinds.gradient.compiled import GradientPart, compile_gradient
from marker.kinds.gradient.spec import GradientSpec
from marker.kinds.gradient.wanted import INTERCEPT
from marker.kinds.typed_numbers import letters

_GRADIENT = re.compile(r"\bgradient\b")
_INVERSE = re.compile(r"(?i:\b(?:inverse|reciprocal|inverted)\s+(?=(?:gradient|slope|grad)\b))|\b1\s?/\s?(?=(?:gradient|slope|grad)\s*=)")


def turned(part: GradientPart) -> GradientPart | None:
    """The graph with its axes exchanged; None where what is asked of the line is not the same for both (an intercept, a worst line)."""
    spec, low, high = part.spec, *part.gradient_range
    asked = {kind for kind, _ in part.points} & {"intercept", "worst line", "uncertainty"}
    if spec.then is None or part.wanted is None or asked or INTERCEPT in letters(part.wanted.tree) or low * high <= 0:
        return None
    table = spec.table.model_copy(update={"x": spec.table.y, "y": spec.table.x})
    then = spec.then.model_copy(update={"from_": _GRADIENT.sub("(1/gradient)", spec.then.from_)})
    changed: dict[str, object] = {"table": table, "then": then, "gradient_within": [f"{1 / high:.6g}", f"{1 / low:.6g}"]}
    try:
        return compile_gradient(GradientSpec.model_copy(spec, update=changed), part.convention)
    except SchemeError:
        return None


def says_turned(part: GradientPart, lines: Sequence[str]) -> bool:
    """True where the candidate says that the axes are exchanged ("F against x"), or names the quotient the inverse gradient."""
    text = "\n".join(lines)[:20_000]
    if _INVERSE.search(text):
        return True
    against = rf"(?:{_called(part.x)})\s{{0,3}}(?:/\s?\S{{1,8}}\s)?(?:against|versus|vs\.?)\s{{1,3}}(?:the )?(?:{_called(part.y)})"
    return re.search(rf"(?<!\w){against}(?!\w)", text) is not None


def _called(axis: Axis) -> str:
    """A pattern for the letter of an axis or its name in either case."""
    words = [re.escape(axis.symbol)]
    if axis.name:
        words.append(f"(?i:{re.escape(axis.name)})")
    return "|".join(words)


def without_inverse(line: str) -> str:
    """The line with "inverse gradient" and "1/gradient =" as the gradient of the graph turned; columns stay."""
    return _INVERSE.sub(lambda match: " " * len(match.group()), line)
