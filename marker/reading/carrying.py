"""A statement that begins with a sign goes on from the value before it:  6.60 ÷ 9.81 = 0.673, × 2 = 1.35   or a new line  /2 = 22.9 m

The value's text is put before the sign, so that what follows is read as anything else is; its characters keep their own places.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from marker.expression import Expr, Number, Product, UnitFactor
from marker.reading.clean import Clean
from marker.reading.model import Readings
from marker.reading.segment import Segment
from marker.reading.tokens import Edge

LEADS = re.compile(
    r"\s*(?:[×*/·xX+]\s?[\d.(π√]|(?:then\s+)?(?:times|divided by|multiplied by|over|plus|minus|add)\s+[\d.(π√])", re.IGNORECASE
)
# the last result, as a calculator's key has it: ans² = 12.25, Ans × 0.42
ANSWER = re.compile(r"\s*(ans)(?=\s?[\^²³×*·/÷+−xX-]|\s?\(?\d)(?!\s?-?\s?$)", re.IGNORECASE)
# a share of the value just found: 15 % of this = 4.2 J, half of it is 9 N. A pronoun followed by no value may be anything
_PART = r"(?:%|\bper\s?cent|(?<![\d./])\d[\d./]*|\bhalf|\bquarters?|\bthirds?|\bfifths?|\btenths?)"
SHARE_OF = re.compile(
    rf"{_PART}\s{{0,3}}(of\s{{1,3}}(?:this|that|it))\s{{0,3}}"
    r"(?:[=≈]|\b(?:is|gives|equals|makes|comes to)\b)\s{0,3}(?:about\s|roughly\s)?[-−]?[.\d]",
    re.IGNORECASE,
)
_TEN = r"(?:\s?[×xX*]\s?10\s?(?:\^\s?\(?[-−]?\d+\)?|[⁻⁰¹²³⁴-⁹]+|[-−]\d+))?"
_UNIT = r"(?:\s?(?!and\b|so\b|then\b|or\b)[A-Za-zΩ°%µ][\w⁻¹²³°/^·-]*)?"
_FOUND = re.compile(rf"(?:[=≈]|\b(?:is|gives|comes to)\b)\s?(\d+(?:\.\d+)?{_TEN}{_UNIT})(?=\s|[,;.]|$)")


@dataclass(frozen=True, slots=True)
class Value:
    """The cleaned text of a value, and the typed columns its characters stand for."""

    text: str
    starts: Sequence[int]
    ends: Sequence[int]


def is_value(node: Expr) -> bool:
    """True for a number with or without a unit, alone."""
    if isinstance(node, Product) and len(node.factors) == 2:
        return isinstance(node.factors[0], Number) and isinstance(node.factors[1], UnitFactor)
    return isinstance(node, Number)


def last_value(body: Clean, segment: Segment, found: Readings) -> Value | None:
    """What the statement comes to, as typed; None when it does not end in a value."""
    if not is_value(found[0].sides[-1]):
        return None
    start, end = segment.relations[-1][1] if segment.relations else segment.start, segment.end
    text = body.text[start:end]
    start += len(text) - len(text.lstrip())
    end -= len(text) - len(text.rstrip())
    return Value(body.text[start:end], body.starts[start:end], body.ends[start:end]) if end > start else None


def from_line_before(text: str, at: int) -> Value:
    """The value of an earlier line; on this one it has no place but where the sign stands."""
    return Value(text, [at] * len(text), [at] * len(text))


def with_answer(body: Clean, value: str) -> Clean:
    """The line with the value of the line before in the place of "ans" at its start, in brackets."""
    found = ANSWER.match(body.text) if value else None
    return body if found is None else _put(body, found.span(1), f"({value})")


def with_share(body: Clean, value: str) -> Clean:
    """The line with the value just found, on it or on the line before, in the place of "this" in "15 % of this = 4.2 J"."""
    share = SHARE_OF.search(body.text)
    if share is None:
        return body
    found = _FOUND.finditer(body.text, 0, share.start())
    here = [f.group(1).strip() for f in found if body.text[f.end() : share.start()].strip()]  # else it is the percentage itself
    last = here[-1] if here else value
    joined = "×" if body.text[: share.start(1)].rstrip()[-1:].isdigit() else "of"
    return _put(body, share.span(1), f"{joined} ({last})") if last else body


def _put(body: Clean, span: tuple[int, int], text: str) -> Clean:
    """The line with a piece of it replaced; the new text stands where the piece was typed."""
    start, end = span
    a, b = body.place(start, end)
    return Clean(
        body.text[:start] + text + body.text[end:],
        (*body.starts[:start], *[a] * len(text), *body.starts[end:]),
        (*body.ends[:start], *[b] * len(text), *body.ends[end:]),
    )


def go_on(body: Clean, segment: Segment, value: Value) -> tuple[Clean, Segment]:
    """The segment with the value before its sign, in a text of its own."""
    rest = slice(segment.leads, segment.end)
    kept = body.text[rest]
    clean = Clean(
        f"{value.text} {kept}",
        (*value.starts, body.starts[segment.leads], *body.starts[rest]),
        (*value.ends, body.starts[segment.leads], *body.ends[rest]),
    )
    shift = len(value.text) + 1 - segment.leads
    moved = replace(
        segment,
        start=0,
        end=len(clean.text),
        relations=tuple((a + shift, b + shift, sign) for a, b, sign in segment.relations),
        overrides={k + shift: tuple(_moved(e, shift) for e in edges) for k, edges in segment.overrides.items() if k >= segment.leads},
    )
    return clean, moved


def _moved(edge: Edge, shift: int) -> Edge:
    return Edge(edge.start + shift, edge.end + shift, edge.kind, edge.toks, edge.cost, edge.note, edge.choice, edge.wide, edge.last)
