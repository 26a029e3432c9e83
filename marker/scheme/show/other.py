"""Parts of other kinds as marking instructions: the model answer, the points it earns, and what their scheme says besides."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel

from marker.kinds.uncertainty.compiled import UncertaintyPart
from marker.kinds.uncertainty.wording import combining_in_words
from marker.marking import mark_response
from marker.reading import read_relation, write_mathml
from marker.scheme.paper import CompiledPart
from marker.scheme.show.model import LineView, PartView, PointView

_COMMON = frozenset({"name", "kind", "marks", "question", "stem", "rulings", "points", "worth"})
_WORDS = {
    "gradient_within": "Gradient accepted", "intercept_within": "Intercept accepted", "combined_within": "Combined percentage accepted",
    "within": "Accepted", "accept": "Accepted", "about": "A good value", "powers": "Powers of ten either way", "key": "Right",
    "not_enough": "Not enough by itself", "contradicts": "Cancels it", "says": "Earned by words such as", "options": "Options",
    "leave_out": "Readings the line passes by", "tolerance": "Tolerance", "wanted": "Number asked for", "wrong": "Wrong in a list",
    "ignore": "Neutral in a list", "needs": "Ideas needed", "frame": "Directions of", "also": "Also right", "given": "Given",
    "quantities": "Measured", "then": "Then", "figures": "Significant figures", "any": "Terms needed", "relation": "Relation to be stated",
    "using": "From", "target": "To be shown", "also_target": "Also accepted", "in_terms_of": "In terms of",
    "both_roots": "Both roots asked for",
}  # fmt: skip


def other_view(part: CompiledPart) -> PartView:
    """Points are those that the model answer earns; further keys of the part are set out as guidance."""
    lines = tuple(part.kind.model(part.compiled))
    result = mark_response(part, lines)
    earned: dict[int, list[tuple[str, str]]] = {}
    for number, award in enumerate(result.awards, 1):
        if award.lines:
            earned.setdefault(award.lines[0], []).append((str(number), f"{award.maximum:g}"))
    return PartView(
        name=part.name,
        kind=part.spec.kind,
        marks=f"{part.marks:g}",
        stem=part.spec.stem,
        given=(),
        lines=tuple(LineView(text=t, mathml=_typeset(t), points=tuple(earned.get(n, ()))) for n, t in enumerate(lines, 1)),
        answers=(),
        points=tuple(PointView(label=str(n), what=a.point, marks=f"{a.maximum:g}", type=a.kind) for n, a in enumerate(result.awards, 1)),
        guidance=(*_guidance(part.spec), *_ruled(part)),
    )


def _ruled(part: CompiledPart) -> tuple[str, ...]:
    """What a ruling makes of the part that its keys do not say."""
    return (combining_in_words(part.compiled),) if isinstance(part.compiled, UncertaintyPart) else ()


def _typeset(line: str) -> str:
    """A line that is one plain relation is typeset; anything else stays a sentence."""
    if "=" not in line or len([w for w in line.split() if w.isalpha() and len(w) > 3]) > 1:
        return ""
    try:
        sides = read_relation(line).sides
    except ValueError:
        return ""
    inner = "<mo>=</mo>".join(write_mathml(s).split(">", 1)[1].rsplit("<", 1)[0] for s in sides)
    return f'<math xmlns="http://www.w3.org/1998/Math/MathML" displaystyle="true"><mrow>{inner}</mrow></math>'


def _guidance(spec: BaseModel) -> list[str]:
    out: list[str] = []
    for key, value in spec.model_dump(exclude_defaults=True).items():
        if key in _COMMON or value in (None, "", [], {}, ()):
            continue
        if key in ("idea", "ask") and isinstance(value, list | tuple):
            out.extend(_one(v) for v in value)
        elif key == "table":
            continue
        else:
            out.append(f"{_WORDS.get(key, key.replace('_', ' ').capitalize())}: {_said(value)}.")
    return out


def _one(value: Mapping[str, Any]) -> str:
    """One idea or direction: its name, then what belongs to it."""
    name = value.get("name") or value.get("of", "")
    rest = [
        f"{_WORDS.get(k, k.replace('_', ' ')).lower()} {_said(v)}"
        for k, v in value.items()
        if k not in ("name", "of") and v not in (None, "", [], {}, ())
    ]
    return f"{str(name).capitalize()}: {'; '.join(rest)}."


def _said(value: Any) -> str:
    if isinstance(value, Mapping):
        return "; ".join(f"{k}: {_said(v)}" for k, v in value.items() if v not in (None, "", [], {}))
    if isinstance(value, list | tuple):
        between = " to " if len(value) == 2 and all(isinstance(v, str) and any(c.isdigit() for c in v) for v in value) else ", "
        return between.join(_said(v) for v in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    words = isinstance(value, str) and " " in value and "=" not in value and not any(c.isdigit() for c in value)
    return f"“{value}”" if words else str(value)
