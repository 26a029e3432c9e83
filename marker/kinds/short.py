"""From judged points to a result, for kinds of short answer. A point in doubt gets its lowest mark for the time being."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from typing import NoReturn

from marker.errors import Problem, SchemeError
from marker.kinds.base import PartSpec
from marker.resources import rubrics
from marker.results import Award, FaultFound, LineReport, Outcome, OwnValue, PartResult, Possibility, Referral


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One marking point.

    marks   what it may be worth: one mark when that is settled, else the possible ones, each with a clause that says how
    doubt   why a person should look; "" when it is settled
    """

    point: str
    kind: str
    maximum: float
    marks: Mapping[float, str] | float
    reason: str
    lines: tuple[int, ...] = ()
    doubt: str = ""
    faults: tuple[FaultFound, ...] = ()

    @property
    def possible(self) -> tuple[tuple[float, str], ...]:
        if isinstance(self.marks, Mapping):
            return tuple(sorted(self.marks.items()))
        return ((float(self.marks), ""),)

    @property
    def award(self) -> Award:
        mark = self.possible[0][0]
        settled = len(self.possible) == 1
        outcome = Outcome.REFERRED if not settled else Outcome.EARNED if mark > 0 else Outcome.NOT_EARNED
        code = self.faults[0].code if len(self.faults) == 1 and mark < self.maximum else ""
        return Award(
            point=self.point,
            kind=self.kind,
            mark=mark,
            maximum=self.maximum,
            outcome=outcome,
            reason=self.reason,
            lines=self.lines,
            fault=code,
        )


def result_of(
    name: str, maximum: float, points: Sequence[Judged], lines: tuple[LineReport, ...], own: tuple[OwnValue, ...] = ()
) -> PartResult:
    """The points added up, and referred when the mark hangs on what is in doubt."""
    awards = tuple(p.award for p in points)
    faults = {(f.code, f.line): f for p in points for f in p.faults}
    return PartResult(
        part=name,
        mark=sum(a.mark for a in awards),
        maximum=float(maximum),
        awards=awards,
        faults=tuple(faults.values()),
        lines=lines,
        referral=_referral(points),
        own=own,
    )


def _referral(points: Sequence[Judged]) -> Referral | None:
    open_points = [p for p in points if len(p.possible) > 1]
    if not open_points:
        return None
    settled = sum(p.possible[0][0] for p in points if len(p.possible) == 1)
    ways: dict[float, list[str]] = {}
    for way in product(*(p.possible for p in open_points[:6])):
        clause = "; ".join(text for _, text in way if text)
        ways.setdefault(settled + sum(mark for mark, _ in way), []).append(clause)
    reason = "; ".join(dict.fromkeys(p.doubt for p in open_points if p.doubt))
    possibilities = tuple(Possibility(text=" or ".join(dict.fromkeys(texts)), mark=mark) for mark, texts in sorted(ways.items()))
    return Referral(reason=f"{reason[:1].upper()}{reason[1:]}.", possibilities=possibilities)


def where(lines: Sequence[int]) -> str:
    """ "Line 1: ", "Lines 1 and 3: ", or nothing."""
    numbers = [str(n) for n in sorted(set(lines))]
    if not numbers:
        return ""
    listed = numbers[0] if len(numbers) == 1 else ", ".join(numbers[:-1]) + " and " + numbers[-1]
    return f"Line{'s' if len(numbers) > 1 else ''} {listed}: "


def capital(text: str) -> str:
    """The sentence with a capital, unless it begins with a letter that stands for a quantity: v = 2πr/T keeps its v."""
    word = text.split(maxsplit=1)[0] if text.strip() else ""
    return text[:1].upper() + text[1:] if word.rstrip(",;:").isalpha() and (len(word) > 1 or word == "a") else text


def refuse(spec: PartSpec, key: str, seen: str, expected: str, mend: str) -> NoReturn:
    """Raises SchemeError with one problem of a part."""
    raise SchemeError(Problem(where=f"part {spec.name}, {key}", seen=seen, expected=expected, mend=mend))


@lru_cache(maxsize=1)
def _texts() -> Mapping[str, Mapping[str, str]]:
    found: Mapping[str, Mapping[str, str]] = tomllib.loads((rubrics() / "faults" / "short.toml").read_text(encoding="utf-8"))
    return found


def fault(code: str, line: int | None, *, sure: bool = True, **values: str) -> FaultFound:
    """A fault of rubrics/faults/short.toml with its places filled in."""
    entry = _texts()[code]
    return FaultFound(
        code=code, line=line, teacher=entry["teacher"].format_map(values), student=entry["student"].format_map(values), sure=sure
    )
