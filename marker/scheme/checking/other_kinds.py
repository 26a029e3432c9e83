"""Parts that are not calculations proved as far as their kind goes: the model answer earns all, typed in several ways; a blank nothing."""

from __future__ import annotations

from collections.abc import Iterator

from marker.marking import NOTHING_CARRIED, mark_response
from marker.scheme.checking.model import Came, Trial
from marker.scheme.paper import CompiledPart

_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
_SIGNS = {"×": "*", "−": "-", "Ω": "ohm", "µ": "u", "μ": "u", "θ": "theta", "π": "pi", "½": "1/2", "√": "sqrt", "·": "*", "Δ": "delta "}


def other_trials(part: CompiledPart) -> Iterator[Trial]:
    """Model answer as it stands, typed on a plain keyboard, and in capitals or small letters; then a blank."""
    lines = tuple(part.kind.model(part.compiled))
    ways = {"model answer": lines, "model answer, plain keyboard": tuple(map(plain_keyboard, lines))}
    if part.spec.kind in ("written", "direction", "choice", "true or false"):
        ways["model answer, in capitals"] = tuple(x.upper() for x in lines)
        ways["model answer, in small letters"] = tuple(x.lower() for x in lines)
        ways["model answer, on one line"] = ("; ".join(lines),)
    for what, typed in ways.items():
        yield trial(part, what, typed, part.marks)
    yield trial(part, "blank", (), 0.0)


def plain_keyboard(text: str) -> str:
    """The line as a keyboard without raised figures and signs gives it."""
    out: list[str] = []
    raised = False
    for c in text:
        plain = c.translate(_RAISED)
        if plain != c and not raised:
            out.append("^")
        raised = plain != c
        out.append(plain if raised else _SIGNS.get(c, c))
    return "".join(out)


def trial(part: CompiledPart, what: str, lines: tuple[str, ...], expected: float) -> Trial:
    """One response marked, held to the mark it should get."""
    result = mark_response(part, lines, NOTHING_CARRIED)
    came = Came.AS_RULED if result.mark == expected else Came.DIFFERS
    if result.referral is not None and lines:
        came = Came.REFERRED
    return Trial(
        part=part.name,
        what=what,
        lines=lines,
        expected=expected,
        mark=result.mark,
        maximum=part.marks,
        came=came,
        lost=tuple(a.point for a in result.awards if a.mark < a.maximum),
    )
