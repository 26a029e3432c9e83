"""Faults in directions, named from what was said. On a bare answer several mistakes may be behind it, so most are only "may be"."""

import tomllib
from collections.abc import Mapping, Sequence
from functools import lru_cache

from marker.kinds.direction.claims import Response
from marker.kinds.direction.compiling import Asked, CompiledDirection
from marker.kinds.direction.findings import Finding
from marker.kinds.direction.vectors import ORIGIN, Direction, dot, named, reversed_direction
from marker.resources import rubrics
from marker.results import FaultFound

_NEEDS = {
    "force on a charge": "a charge that moves across the field",
    "force on a current": "a current that crosses the field",
    "induced current in a wire": "a wire that cuts across the field",
    "induced current in a loop": "a field through the loop that changes",
}
_MAGNETIC = ("force on a charge", "force on a current")


@lru_cache(maxsize=1)
def _texts() -> Mapping[str, Mapping[str, str]]:
    found: Mapping[str, Mapping[str, str]] = tomllib.loads((rubrics() / "faults" / "directions.toml").read_text(encoding="utf-8"))
    return found


def _fault(code: str, line: int | None, sure: bool = False, **values: str) -> FaultFound:
    entry = _texts()[code]
    return FaultFound(
        code=code, line=line, teacher=entry["teacher"].format_map(values), student=entry["student"].format_map(values), sure=sure
    )


def faults(part: CompiledDirection, found: Sequence[Finding], response: Response) -> tuple[FaultFound, ...]:
    """The faults of the directions that are surely not right, in the order asked; one code once."""
    pairs = [(ask, f) for ask, f in zip(part.asks, found, strict=True) if f.possible == (False,)]
    if not pairs or response.blank:
        return ()
    across = _across(part, found)
    if across is not None:
        return (across,)
    named_faults = [fault for ask, f in pairs if (fault := _one(part, ask, f, response)) is not None]
    return tuple({f.code: f for f in reversed(named_faults)}.values())[::-1]


def _across(part: CompiledDirection, found: Sequence[Finding]) -> FaultFound | None:
    """Faults that show in two answers taken together."""
    if len(found) != 2 or found[0].said is None or found[1].said is None:
        return None
    (first, second), (a, b) = part.asks, found
    line = a.lines[0] if a.lines else None
    opposite = first.expected.sort == "vector" and _same(first.expected, reversed_direction(second.expected))
    if opposite and _same(a.said, second.expected) and _same(b.said, first.expected):
        return _fault("directions-exchanged", line, sure=True)
    if (
        opposite
        and _same(a.said, b.said)
        and {first.charge, second.charge} == {"positive", "negative"}
        and (a.possible, b.possible).count((True,)) == 1
    ):
        return _fault("charge-sign-ignored", line)
    return None


def _same(a: Direction | None, b: Direction | None) -> bool:
    return a is not None and b is not None and a.sort == b.sort and dot(a.vector, b.vector) > 0.98


def _one(part: CompiledDirection, ask: Asked, finding: Finding, response: Response) -> FaultFound | None:
    line = finding.lines[0] if finding.lines else None
    example = (
        f"“{named(ask.expected, part.frame)}”"
        if ask.expected.sort == "zero"
        else "“up the page” or “into the page”"
        if part.frame == "page"
        else "“north” or “vertically down”"
    )
    if finding.conflict:
        return _fault("two-directions", line, sure=True)
    if finding.silent and response.vague:
        return _fault("no-sense-of-direction", line, sure=True, said=response.vague[0], example=example)
    if finding.silent and response.related:
        return _fault("only-relative", line, sure=True, example=example)
    if finding.said is None or finding.said.vector == ORIGIN:
        return None
    if ask.expected.sort == "zero":
        return _fault(
            "direction-where-none", line, sure=True, asked=ask.quantity, needs=_NEEDS.get(ask.rule, "what the question does not give")
        )
    if _same(finding.said, reversed_direction(ask.expected)):
        return _fault("direction-reversed", line)
    if finding.said.sort == "vector" and ask.rule in _MAGNETIC:
        for datum in ("field", "velocity", "current"):
            vector = part.setting.given.get(datum)
            if vector is not None and abs(dot(vector, finding.said.vector)) > 0.98:
                return _fault("direction-along-datum", line, sure=True, datum={"velocity": "motion"}.get(datum, datum))
    return None
