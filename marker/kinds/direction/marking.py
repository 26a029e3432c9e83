"""One response to a direction part, marked."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from marker.kinds.base import Carried
from marker.kinds.direction.claims import Response, understood
from marker.kinds.direction.combine import combined
from marker.kinds.direction.compiling import CompiledDirection
from marker.kinds.direction.events import events
from marker.kinds.direction.faults import faults
from marker.kinds.direction.findings import Finding, find
from marker.kinds.direction.vectors import named
from marker.kinds.words import in_words, is_blank, line_reports
from marker.results import Award, FaultFound, LineReport, Outcome, PartResult, Possibility, Referral

_SIGNS_ONLY = ("comma", "stop", "newline", "colon", "slash", "dash", "open", "close", "equals", "strike")


def mark_direction(part: CompiledDirection, lines: Sequence[str], carried: Carried) -> PartResult:
    """Marks the typed lines. Nothing is carried into a direction, so `carried` is not read."""
    if is_blank(lines):
        response = Response(standing={}, given_up={}, blank=True)
    else:
        row = combined(events(lines, part.lexicon), part.setting)
        nothing = all(e.kind in _SIGNS_ONLY for e in row)
        response = replace(understood(row, len(part.asks), part.setting, lines, part.lexicon.filler), blank=nothing)
    found = [find(part, index, response) for index in range(len(part.asks))]
    shown = faults(part, found, response)
    awards = _each(part, found) if part.each else (_all(part, found, shown),)
    return PartResult(
        part=part.name,
        mark=sum(a.mark for a in awards),
        maximum=part.marks,
        awards=awards,
        faults=shown,
        lines=_reports(part, lines, response, found),
        referral=_referral(part, found),
    )


def model_direction(part: CompiledDirection) -> tuple[str, ...]:
    """A line for each direction asked."""
    return tuple(f"{ask.of}: {named(ask.expected, part.frame)}" for ask in part.asks)


def _outcome(possible: set[bool]) -> Outcome:
    if possible == {True}:
        return Outcome.EARNED
    return Outcome.REFERRED if len(possible) > 1 else Outcome.NOT_EARNED


def _sentence(found: Sequence[Finding]) -> str:
    lines = sorted({n for f in found for n in f.lines})
    where = f"Line{'s' if len(lines) > 1 else ''} {in_words([str(n) for n in lines])}: " if lines else ""
    text = "; ".join(dict.fromkeys(f.because for f in found))
    return where + (text if where else text[:1].upper() + text[1:]) + "."


def _all(part: CompiledDirection, found: Sequence[Finding], shown: Sequence[FaultFound]) -> Award:
    """Every direction right, or nothing."""
    possible = {all(way) for way in product(*(f.possible for f in found))}
    wrong = [f for f in found if f.possible == (False,)]
    telling = wrong if possible == {False} else found
    lines = tuple(sorted({n for f in found for n in f.lines}))
    mark = float(part.marks) if possible == {True} else 0.0
    point = part.asks[0].of if len(part.asks) == 1 else "directions"
    return Award(
        point=point,
        kind="direction",
        mark=mark,
        maximum=float(part.marks),
        outcome=_outcome(possible),
        reason=_sentence(telling),
        lines=lines,
        fault=shown[0].code if len(shown) == 1 and mark == 0.0 else "",
    )


def _each(part: CompiledDirection, found: Sequence[Finding]) -> tuple[Award, ...]:
    """A mark for each direction."""
    return tuple(
        Award(
            point=ask.of, kind="direction", mark=ask.marks if finding.possible == (True,) else 0.0, maximum=ask.marks,
            outcome=_outcome(set(finding.possible)), reason=_sentence([finding]), lines=finding.lines,
        )
        for ask, finding in zip(part.asks, found, strict=True)
    )  # fmt: skip


def _total(part: CompiledDirection, way: Sequence[bool]) -> float:
    if part.each:
        return sum(ask.marks for ask, right in zip(part.asks, way, strict=True) if right)
    return float(part.marks) if all(way) else 0.0


def _referral(part: CompiledDirection, found: Sequence[Finding]) -> Referral | None:
    """A referral when the mark hangs on what could not be told."""
    ways = {way: _total(part, way) for way in product(*(f.possible for f in found))}
    if len(set(ways.values())) < 2:
        return None
    doubts = tuple(dict.fromkeys(f.doubt for f in found if len(f.possible) > 1))
    reason = "; ".join(d for d in doubts if d)
    return Referral(
        reason=reason[:1].upper() + reason[1:] + ".",
        possibilities=tuple(
            Possibility(text=_way_text(part, found, way), mark=mark) for way, mark in sorted(ways.items(), key=lambda item: item[1])
        ),
    )


def _way_text(part: CompiledDirection, found: Sequence[Finding], way: Sequence[bool]) -> str:
    parts = [
        f"the {ask.of} is {'taken as' if right else 'not taken as'} {named(ask.expected, part.frame)}"
        for ask, finding, right in zip(part.asks, found, way, strict=True)
        if len(finding.possible) > 1
    ]
    return in_words(parts)


def _reports(part: CompiledDirection, lines: Sequence[str], response: Response, found: Sequence[Finding]) -> tuple[LineReport, ...]:
    """Every typed line with what was read in it."""
    verdicts: dict[int, tuple[str, str, tuple[str, ...]]] = {}
    for number in range(1, len(lines) + 1):
        report = _line(part, number, response, found)
        if report is not None:
            verdicts[number] = report
    nothing = any(f.doubt and not f.lines for f in found)
    unread = frozenset(n for n, text in enumerate(lines, start=1) if text.strip() and nothing and n not in verdicts)
    return line_reports(lines, verdicts, unread)


def _line(part: CompiledDirection, number: int, response: Response, found: Sequence[Finding]) -> tuple[str, str, tuple[str, ...]] | None:
    readings: list[str] = []
    rights: set[bool] = set()
    open_here = False
    for index, ask in enumerate(part.asks):
        here = [m for m in response.standing.get(index, ()) if m.line == number]
        readings += [f"{ask.of}: {named(m.options[0], part.frame)}" for m in here if m.options]
        if here:
            rights |= set(found[index].possible)
            open_here = open_here or len(found[index].possible) > 1
    if rights:
        verdict = "unread" if open_here else "right" if rights == {True} else "wrong"
        note = "; ".join(f.doubt if len(f.possible) > 1 else f.because for f in found if number in f.lines)
        return verdict, note, tuple(dict.fromkeys(readings))
    gone = [m for mentions in response.given_up.values() for m in mentions if m.line == number]
    if gone:
        return "withdrawn", "taken back by the candidate", ()
    return ("remark", "said of something else in the question", ()) if any(m.line == number for m in response.asides) else None
