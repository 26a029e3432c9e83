"""From judgements on points to a result: awards, faults, line reports and, where it matters, a referral."""

from __future__ import annotations

import html
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marker.awarding.wording import say
from marker.frozen import frozen
from marker.kinds.base import PartSpec
from marker.kinds.meant import best_reading
from marker.reading import write_mathml, write_plain
from marker.reading.model import Line, Reading
from marker.results import Award, FaultFound, LineReport, Outcome, OwnValue, PartResult, Possibility, Referral


@frozen
class Finding:
    """What became of one point. `doubt` names another view a person must settle; `implied` is True when only a right answer shows it;
    `share` is the part of a point worth several marks that is earned, rounded down to whole marks."""

    earned: bool
    reason: str
    lines: tuple[int, ...] = ()
    faults: tuple[FaultFound, ...] = ()
    followed: bool = False
    implied: bool = False
    doubt: str = ""
    share: float = 1.0


def question_of(spec: PartSpec) -> str:
    """The question a part belongs to: as the scheme says, else the leading digits of its name ("2b" is of question 2), else its name."""
    digits = re.match(r"\d+", spec.name)
    return spec.question or (digits.group() if digits else spec.name)


def lost(found: FaultFound, reason: str = "", doubt: str = "") -> Finding:
    """A point not earned because of a fault; the fault's own wording is the reason unless another is given."""
    lines = () if found.line is None else (found.line,)
    return Finding(earned=False, reason=reason or found.teacher, lines=lines, faults=(found,), doubt=doubt)


_LINE_NAMED = re.compile(r"\bline(?:s\b| \d)", re.IGNORECASE)


def with_lines(reason: str, lines: Sequence[int]) -> str:
    """The sentence with the lines it rests on at its end, where it does not name them."""
    if not lines or _LINE_NAMED.search(reason) or not reason.endswith("."):
        return reason
    if reason.endswith(")."):
        return f"{reason[:-2]}; {say(lines)})."
    return f"{reason[:-1]} ({say(lines)})."


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """One point judged, with its worth. `doubt` says why a person should look; the other view gives the opposite mark."""

    point: str
    kind: str
    worth: float
    mark: float
    earned: bool
    reason: str
    lines: tuple[int, ...] = ()
    faults: tuple[FaultFound, ...] = ()
    followed: bool = False
    doubt: str = ""

    @property
    def award(self) -> Award:
        outcome = Outcome.REFERRED if self.doubt else Outcome.EARNED if self.earned else Outcome.NOT_EARNED
        return Award(
            point=self.point,
            kind=self.kind,
            mark=float(self.mark),
            maximum=self.worth,
            outcome=outcome,
            reason=with_lines(self.reason, self.lines),
            lines=self.lines,
            followed_through=self.followed,
            fault=self.faults[0].code if len(self.faults) == 1 and not self.earned else "",
        )


def judge(kind: str, worth: int, finding: Finding) -> Judgement:
    """A finding as the judgement of one point."""
    return Judgement(
        point=kind,
        kind=kind,
        worth=float(worth),
        mark=math.floor(worth * finding.share + 1e-9) if finding.earned else 0.0,
        earned=finding.earned,
        reason=finding.reason,
        lines=finding.lines,
        faults=finding.faults,
        followed=finding.followed,
        doubt=finding.doubt,
    )


def verdicts_of(findings: Sequence[Finding], valued: Sequence[int]) -> dict[int, tuple[str, str]]:
    """line number -> (verdict, note): what earned a point is right, what shows a fault is wrong, other numbers are values."""
    found: dict[int, tuple[str, str]] = {number: ("value", "") for number in valued}
    for finding in findings:
        if finding.earned and not finding.implied:
            for number in finding.lines:
                found[number] = ("follows" if finding.followed else "right", finding.reason)
    for finding in findings:
        for fault in finding.faults:
            if fault.line is not None:
                found[fault.line] = ("wrong", fault.teacher)
    return found


def part_result(
    *,
    name: str,
    maximum: float,
    judgements: Sequence[Judgement],
    lines: tuple[LineReport, ...],
    read: Sequence[Line],
    own: tuple[OwnValue, ...] = (),
    notes: tuple[str, ...] = (),
) -> PartResult:
    """The points added up; referred when a judgement is in doubt, or when an unread line could still earn what is missing."""
    mark = float(sum(j.mark for j in judgements))
    faults: dict[tuple[str, int | None], FaultFound] = {}
    for judgement in judgements:
        for found in judgement.faults:
            faults.setdefault((found.code, found.line), found)
    return PartResult(
        part=name,
        mark=mark,
        maximum=float(maximum),
        awards=tuple(j.award for j in judgements),
        faults=tuple(faults.values()),
        lines=lines,
        referral=_referral(judgements, read, mark, float(maximum)),
        own=own,
        notes=notes,
    )


def _referral(judgements: Sequence[Judgement], read: Sequence[Line], mark: float, maximum: float) -> Referral | None:
    doubts = [j for j in judgements if j.doubt]
    if doubts:
        other = mark + sum(-j.mark if j.earned else j.worth for j in doubts)
        reason = "; ".join(dict.fromkeys(j.doubt for j in doubts))
        return Referral(
            reason=reason[0].upper() + reason[1:] + ".",
            possibilities=(Possibility(text="As marked here.", mark=mark), Possibility(text="By the other view.", mark=other)),
        )
    unread = [line.number for line in read if line.unread and not line.withdrawn]
    if unread and mark < maximum:
        where = ", ".join(map(str, unread))
        return Referral(
            reason=f"Line {where} could not be read, and marks may hang on it.",
            possibilities=(
                Possibility(text="The unread writing shows nothing more.", mark=mark),
                Possibility(text="It shows all that is missing.", mark=maximum),
            ),
        )
    return None


def line_reports(read: Sequence[Line], verdicts: Mapping[int, tuple[str, str]], typed: Sequence[str] = ()) -> tuple[LineReport, ...]:
    """A report for every typed line; one without a verdict is withdrawn, unread or a remark. `typed` where reading saw other text."""
    texts = {line.number: typed[line.number - 1] if line.number <= len(typed) else line.text for line in read}
    return tuple(_report(line, texts[line.number], verdicts.get(line.number)) for line in read)


def _report(line: Line, text: str, verdict: tuple[str, str] | None) -> LineReport:
    readings = tuple(best_reading(s) for s in line.statements)
    written, mathml = tuple(map(_written, readings)), "".join(map(_mathml, readings))
    found, columns = verdict or ("unused" if line.statements else "remark", ""), None
    if line.withdrawn:
        found = ("withdrawn", "")
    elif line.unread and (verdict is None or verdict[0] == "value"):
        first = line.unread[0]
        found, columns = ("unread", first.why), (first.at[0] + 1, first.at[1] + 1)
    return LineReport(number=line.number, text=text, readings=written, verdict=found[0], note=found[1], columns=columns, mathml=mathml)


def _written(reading: Reading) -> str:
    """A reading in plain signs."""
    sides = [write_plain(side) for side in reading.sides]
    return " ".join([sides[0], *(f"{sign} {side}" for sign, side in zip(reading.relations, sides[1:], strict=False))])


def _mathml(reading: Reading) -> str:
    """A reading as one <math> element."""
    parts = [_inside(write_mathml(side)) for side in reading.sides]
    signs = ["", *(f"<mo>{html.escape(sign)}</mo>" for sign in reading.relations)]
    inner = "".join(sign + part for sign, part in zip(signs, parts, strict=False))
    return f'<math xmlns="http://www.w3.org/1998/Math/MathML" display="block"><mrow>{inner}</mrow></math>'


def _inside(element: str) -> str:
    """What stands inside one element."""
    return element[element.index(">") + 1 : element.rindex("</")]
