"""A marked class test in a scenario of our own: the cable lift of a hillside greenhouse. 24 candidates, 12 parts.

Every number is drawn from a fixed sequence, so that two runs give the same class test. Nothing here checks physics: it is
only something realistic for the workbook, the records and the feedback sheets to show.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from marker.reporting.paper import MarkedPaper
from marker.results import Award, FaultFound, LineReport, Outcome, OwnValue, PartResult, Possibility, Referral


@dataclass(frozen=True)
class Invented:
    """One part: its lines when right, and the line a faulty response has instead, with the fault."""

    name: str
    lines: tuple[str, ...]
    read: tuple[str, ...]
    wrong: str
    code: str
    teacher: str
    student: str


PARTS = (
    Invented("1a", ("F = mg", "F = 62 × 9.8", "F = 608 N"), ("F = m·g", "F = 62×9.8", "F = 608 N"), "F = 62/9.8 = 6.3 N",
             "inverted-quotient", "62 is divided by 9.8 where it should be multiplied.",
             "You divided 62 by 9.8. Weight is mass times g, so multiply."),
    Invented("1b", ("W = Fd", "W = 608 × 14", "W = 8512 J"), ("W = F·d", "W = 608×14", "W = 8512 J"), "W = 608 × 140 = 85120 J",
             "power-of-ten", "140 is ten times the distance given (14 m).", "You used 140. The lift rises 14 m."),
    Invented("1c", ("P = W/t", "P = 8512/25", "P = 340 W"), ("P = W/t", "P = 8512/25", "P = 340 W"), "P = 8512/25 = 340",
             "unit-missing", "The answer has no unit.", "Your number is right. It still needs its unit, the watt."),
    Invented("2a", ("P=IV so I=P/V", "I=340/230=1.48A"), ("P = I·V;  I = P/V", "I = 340/230 = 1.48 A"), "I=230/340=0.68A",
             "inverted-quotient", "230 is divided by 340; the quotient is upside down.",
             "You divided 230 by 340. Current is power divided by voltage: the other way round."),
    Invented("2b", ("R = V/I", "= 230/1.48", "= 155 ohm"), ("R = V/I", "R = 230/1.48", "R = 155 Ω"), "= 230/1.48 = 340",
             "arithmetic", "230/1.48 is 155, not 340.", "230 ÷ 1.48 is not 340. Work it out again."),
    Invented("2c", ("E = Pt", "E = 340 x 1500", "E = 5.1e5 J"), ("E = P·t", "E = 340×1500", "E = 5.1×10⁵ J"), "E = 340 x 25 = 8500 J",
             "time-unconverted", "25 minutes are not converted to seconds.", "You used 25. The time is 25 minutes, which is 1500 s."),
    Invented("3a", ("v² = u² + 2as", "v² = 0 + 2 × 0.42 × 3.0", "v = 1.6 m/s"), ("v² = u² + 2·a·s", "v² = 0 + 2×0.42×3.0", "v = 1.6 m/s"),
             "v = 2 × 0.42 × 3.0 = 2.5 m/s", "root-forgotten", "2.5 is v², the root is not taken.",
             "2.5 is v squared. Take its square root to get v."),
    Invented("3b", ("Ek = ½mv²", "Ek = 0.5 × 62 × 1.6²", "Ek = 79 J"), ("E_k = ½·m·v²", "E_k = 0.5×62×1.6²", "E_k = 79 J"),
             "Ek = 0.5 × 62 × 1.6 = 50 J", "square-omitted", "1.6 is not squared.", "You left out the square: v² means 1.6 × 1.6."),
    Invented("3c", ("F = ma", "T − mg = ma", "T = 62(9.8 + 0.42) = 634 N"), ("F = m·a", "T − m·g = m·a", "T = 62×(9.8 + 0.42) = 634 N"),
             "T = 62 × 0.42 = 26 N", "wrong-relationship", "The weight is left out of the resultant.",
             "Two forces act on the lift. You have used only one of them."),
    Invented("4a", ("gradient = (37.0−7.4)/(100−20) = 0.37",), ("gradient = (37.0−7.4)/(100−20) = 0.37",), "gradient = 37.0/100 = 0.37",
             "gradient-one-point", "One point is used where the line does not pass through the origin.",
             "A gradient needs two points on the line. You used one."),
    Invented("4b", ("k = 1/gradient = 1/0.37 = 2.7 N/mm",), ("k = 1/gradient = 1/0.37 = 2.7 N mm⁻¹",), "k = 0.37",
             "last-reciprocal", "The gradient is 1/k; the last reciprocal is not taken.", "0.37 is 1/k. One more step: k is 1 ÷ 0.37."),
    Invented("5", ("The current in the coil makes a magnetic field,", "so there is a force on the coil upwards."), ("", ""),
             "It goes up because of magnetism.", "", "", ""),
)  # fmt: skip
MAXIMA = (3, 3, 3, 3, 3, 4, 3, 3, 4, 2, 2, 3)
REASON = "The last line can be read as 340 W or as 340 times W; only the first earns the answer mark."


def marked_paper(candidates: int = 24, half_marks: bool = False) -> MarkedPaper:
    draw = Random("greenhouse lift")
    names = tuple(f"c{n:02d}" for n in range(1, candidates + 1))
    results = {}
    for n, name in enumerate(names):
        skill = 0.35 + 0.6 * n / max(candidates - 1, 1)
        for part, maximum in zip(PARTS, MAXIMA, strict=True):
            results[name, part.name] = _result(part, maximum, draw, skill)
    return MarkedPaper(
        title="Class test: the greenhouse lift",
        scheme_file="greenhouse-lift.toml",
        scheme_sha256="9f2c" * 16,
        responses_file="greenhouse-lift.csv",
        responses_sha256="41d7" * 16,
        convention="positive three-mark",
        rulings=(
            ("answer_only", "unless show", "positive three-mark"),
            ("unit_fault", "answer mark", "positive three-mark"),
            ("significant_figures", "under 1, over 2, reference least datum, scope part", "positive three-mark"),
            ("conversion_fault", "answer mark", "this paper"),
            ("g_values", "9.8, 9.81", "positive three-mark"),
            ("half_marks", "yes" if half_marks else "no", "positive three-mark"),
        ),
        version="0.1.0",
        when="2 March, 16:40",
        parts=tuple((p.name, float(m)) for p, m in zip(PARTS, MAXIMA, strict=True)),
        candidates=names,
        groups={name: "7P" if n % 2 else "7Q" for n, name in enumerate(names)},
        results=results,
        half_marks=half_marks,
        notes=('greenhouse-lift.csv, row 9, column "candidate": responses without a candidate. This row was not marked.',),
    )


def _result(part: Invented, maximum: int, draw: Random, skill: float) -> PartResult:
    luck = draw.random()
    if luck > skill + 0.42:
        return PartResult(part=part.name, mark=0, maximum=maximum, awards=_awards(part, maximum, 0, ()), notes=("no response",))
    good = luck < skill
    lines = part.lines if good else (*part.lines[:1], part.wrong)
    reports = tuple(_line(part, n, text, good) for n, text in enumerate(lines, start=1))
    mark = maximum if good else max(maximum - 2, 0)
    faults = (FaultFound(code=part.code, line=len(lines), teacher=part.teacher, student=part.student),) if part.code and not good else ()
    referral = None
    if draw.random() < 0.05 or (part.name == "5" and not good):
        referral = Referral(
            reason=REASON if part.code else "The response names a cause and leaves it open whether the field or the force is meant.",
            possibilities=(
                Possibility(text="The last line is the answer with its unit", mark=min(maximum, mark + 1)),
                Possibility(text="The last line is an unfinished product", mark=mark),
            ),
        )
    own = (OwnValue(symbol="F", value=608.0, typed="608", unit="N", right=good),)
    return PartResult(part=part.name, mark=mark, maximum=maximum, awards=_awards(part, maximum, mark, reports), faults=faults,
                      lines=reports, referral=referral, own=own)  # fmt: skip


def _line(part: Invented, number: int, text: str, good: bool) -> LineReport:
    read = part.read[number - 1] if number <= len(part.read) and text == part.lines[number - 1] else text
    if not read:
        return LineReport(number=number, text=text, verdict="remark")
    wrong = text == part.wrong
    left, _, right = read.partition("=")
    mathml = f"<math><mi>{left.strip()}</mi><mo>=</mo><mtext>{right.strip()}</mtext></math>"
    return LineReport(number=number, text=text, readings=(read,), verdict="wrong" if wrong else "right", mathml=mathml)


def _awards(part: Invented, maximum: int, mark: int, lines: tuple[LineReport, ...]) -> tuple[Award, ...]:
    names = ("relationship", "substitution", "answer", "unit")[:maximum] if part.code else ("field", "force", "direction")[:maximum]
    last = len(lines)
    return tuple(
        Award(
            point=name,
            kind=name if part.code else "statement",
            mark=1.0 if n <= mark else 0.0,
            maximum=1.0,
            outcome=Outcome.EARNED if n <= mark else Outcome.NOT_EARNED,
            reason=f"The {name} is given." if n <= mark else (f"The {name} is not right." if lines else "Nothing was typed."),
            lines=(min(n, last),) if lines else (),
        )
        for n, name in enumerate(names, start=1)
    )
