"""A calculation part as marking instructions: working with the marks where they fall, answers, points, other methods."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count

from marker.expression import Expr, Symbol
from marker.reading import write_mathml, write_plain
from marker.reading.writing import write_symbol
from marker.scheme.calculation import CalculationPart
from marker.scheme.checking.solution import Said, in_figures, solution, typed_number, value_line
from marker.scheme.compiled import CompiledCalculation, Goal, Point
from marker.scheme.paper import CompiledPart
from marker.scheme.show.model import AnswerView, LineView, PartView, PointView, RouteView

TYPES = {
    "M": "must be seen",
    "dM": "must be seen, depends on an earlier M",
    "A": "answer, depends on the method",
    "B": "seen, stands alone",
    "C": "seen or implied by later right work",
}


def calculation_view(part: CompiledPart) -> PartView:
    """The whole part. The compiled part says what is right; the spec, what the teacher wrote."""
    made, spec = part.compiled, part.spec
    assert isinstance(made, CompiledCalculation) and isinstance(spec, CalculationPart)
    labels = [f"{n}" for _, n in zip((p for g in made.goals for p in g.points), count(1), strict=False)]
    return PartView(
        name=part.name,
        kind="calculation",
        marks=f"{part.marks:g}",
        stem=spec.stem,
        given=_given(made, spec),
        lines=working(made, labels),
        answers=tuple(_answer(made, g, i) for i, g in enumerate(made.goals)),
        points=tuple(_point(made, p, label) for p, label in zip((p for g in made.goals for p in g.points), labels, strict=True)),
        routes=tuple(RouteView(name=r.route_name, lines=working(r, None)) for r in made.routes if r.route_name != "the other sign"),
        guidance=tuple(_guidance(made, spec)),
    )


def _given(made: CompiledCalculation, spec: CalculationPart) -> tuple[tuple[str, str], ...]:
    given = [(s, d.text) for s, d in made.data.items() if s in spec.given]
    return tuple((write_mathml(Symbol(name=s, known=True)), text) for s, text in given)


def working(made: CompiledCalculation, labels: Sequence[str] | None) -> tuple[LineView, ...]:
    """The solution line by line. `labels` number the points, which are set against the line that earns them; None for none."""
    said = solution(made)
    earned: dict[int, list[tuple[str, str]]] = {}
    if labels is not None:
        numbered = iter(labels)
        for index, goal in enumerate(made.goals):
            for point in goal.points:
                label = next(numbered)
                earned.setdefault(_line_of(point, goal, index, said), []).append((label, f"{point.marks:g}"))
    return tuple(
        LineView(text=" = ".join(write_plain(s) for s in line.sides), mathml=typeset(line.sides), points=tuple(earned.get(n, ())))
        for n, line in enumerate(said)
    )


def _line_of(point: Point, goal: Goal, index: int, said: Sequence[Said]) -> int:
    """The line of the solution that earns a point."""
    answer = max((n for n, s in enumerate(said) if s.role == "value" and s.about == goal.find), default=len(said) - 1)
    if point.kind in ("relationship", "substitution"):
        role = "relation" if point.kind == "relationship" else "substitution"
        found = [n for n, s in enumerate(said) if s.role == role and s.relation in point.relations]
        if point.kind == "substitution" and goal.shown is not None:
            return answer
        return (found[0] if point.kind == "relationship" else found[-1]) if found else answer
    if point.kind == "value":
        return max((n for n, s in enumerate(said) if s.role == "value" and s.about == point.quantity), default=answer)
    return answer


def typeset(sides: Sequence[Expr]) -> str:
    """Sides joined by equals signs in one <math> element."""
    inner = "<mo>=</mo>".join(write_mathml(s).split(">", 1)[1].rsplit("<", 1)[0] for s in sides)
    return f'<math xmlns="http://www.w3.org/1998/Math/MathML" displaystyle="true"><mrow>{inner}</mrow></math>'


def _answer(made: CompiledCalculation, goal: Goal, index: int) -> AnswerView:
    line = value_line(made, goal.find, goal.value, index)
    window = made.convention.significant_figures
    reference = goal.figures if window.reference == "least datum" else window.fixed
    least = max(1, reference - window.under)
    figures = f"{least} or more" if window.over is None or window.over > 9 else f"{least} to {reference + window.over}"
    return AnswerView(
        symbol=write_symbol(goal.find),
        value=write_plain(line.sides[1]),
        mathml=typeset(line.sides),
        accepted=_accepted(goal),
        figures="" if goal.shown is not None else f"{figures} significant figures",
        label=goal.label,
    )


def _accepted(goal: Goal) -> str:
    if goal.shown is not None:
        return f"{goal.shown_text} is to be shown"
    if goal.accept is None:
        return ""
    scale, offset = (goal.unit.scale, goal.unit.offset) if goal.unit else (1.0, 0.0)
    low, high = sorted((goal.accept[0] / scale - offset, goal.accept[1] / scale - offset))
    unit = goal.unit.name if goal.unit else ""
    space = "" if unit == "°" or not unit else " "
    return f"{_plain(low)} to {_plain(high)}{space}{unit}"


def _plain(value: float) -> str:
    """A bound of a range, to four figures at most."""
    if not value:
        return "0"
    text = in_figures(value, 3) if float(f"{value:.2e}") == float(f"{value:.3e}") else in_figures(value, 4)
    return write_plain(typed_number(text, value)).replace("-", "−")


def _point(made: CompiledCalculation, point: Point, label: str) -> PointView:
    return PointView(
        label=label,
        what=_what(made, point),
        marks=f"{point.marks:g}",
        type=TYPES.get(point.type, point.type),
        needs=", ".join(point.needs),
    )


def _what(made: CompiledCalculation, point: Point) -> str:
    relations = ", ".join(_equation(made, r) for r in sorted(point.relations))
    match point.kind:
        case "relationship":
            return f"relationship: {relations}"
        case "substitution":
            return f"values substituted in {relations}" if relations else "values substituted"
        case "value":
            return f"value of {write_symbol(point.quantity)}"
        case "answer":
            return "final answer" + (" with its unit" if made.convention.unit_fault == "answer mark" else "")
    return point.kind


def _equation(made: CompiledCalculation, index: int) -> str:
    return " = ".join(write_plain(side) for side in made.system.relations[index].equation)


def _guidance(made: CompiledCalculation, spec: CalculationPart) -> list[str]:
    """What else a marker should know of the part, in sentences."""
    out = [f"{write_symbol(s)} is carried from part {part}: the candidate's own value is followed." for s, (part, _) in made.carry.items()]
    if made.either_sign:
        out.append("The answer is right with or without its minus sign.")
    for symbol, datum in made.data.items():
        if datum.constant and datum.others:
            values = ", ".join(f"{v:g}" for v in dict.fromkeys((datum.raw, *datum.others)))
            out.append(
                f"{write_symbol(symbol)}: {values} {datum.unit.name if datum.unit else ''} are accepted.".replace(
                    " are accepted", " accepted"
                )
            )
    for symbol, names in spec.names.items():
        out.append(f"{write_symbol(symbol)} may be called {_list(names)}.")
    for goal in made.goals:
        for case in goal.special:
            out.append(f"Special case, worth {case.marks:g}: {case.because or 'a common wrong route'}.")
    return out


def _list(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
