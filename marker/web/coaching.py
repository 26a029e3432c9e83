"""Feedback on a line while practising: what was found, hints in three strengths, and the next step. Pure; knows no page."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from marker.marking import mark_response
from marker.reporting.faults import fault_words
from marker.reporting.feedback.model import LineView
from marker.reporting.feedback.view import part_view
from marker.reporting.feedback.wording import wording
from marker.resources import rubrics
from marker.results import Award, FaultFound, LineReport, PartResult
from marker.scheme.compiled import CompiledCalculation, Goal, Point
from marker.scheme.model_answer import in_figures, si_unit
from marker.scheme.paper import CompiledPart

LONGEST_LINE = 400
MOST_LINES = 30
STRONGEST = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """The lines of one attempt, judged. `lines` are for showing; `points` (name, worth, earned) in scheme order."""

    result: PartResult
    lines: tuple[LineView, ...]
    points: tuple[tuple[str, float, bool], ...]

    @property
    def complete(self) -> bool:
        return self.result.mark >= self.result.maximum


@dataclass(frozen=True, slots=True, kw_only=True)
class Hint:
    """One hint, or the next step itself. `strength` 1 to 3, 4 for the step; `line` is the step as it may be typed, "" in a hint."""

    strength: int
    text: str
    line: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """What to write next, the marking point that it leads to, and that point's place among all of them, from 0."""

    line: str
    award: Award
    place: int


def judged(part: CompiledPart, lines: Sequence[str]) -> Working:
    """The lines so far, each with how it was read and what was found."""
    result = mark_response(part, lines)
    words = wording()
    view = part_view(result, result.mark, True, "p", (), words)
    points = tuple((words.point(a.kind).name, a.maximum, a.mark >= a.maximum) for a in result.awards)
    return Working(result=result, lines=tuple(_said_again(line, result) for line in view.lines), points=points)


def _said_again(line: LineView, result: PartResult) -> LineView:
    """A fault is explained on every line that shows it; a sheet says it once, but here each line is an answer of its own."""
    if line.tone != "bad" or line.advice:
        return line
    found = [f for f in result.faults if f.sure and f.line == line.number]
    return replace(line, advice=tuple(dict.fromkeys(_sentence(f.student or f.teacher) for f in found)))


def fault_on_last(result: PartResult) -> FaultFound | None:
    """The sure fault that the last line shows."""
    last = len(result.lines)
    return next((f for f in result.faults if f.sure and f.line == last), None)


def next_step(part: CompiledPart, result: PartResult) -> Step | None:
    """The first line of the model answer that earns something the sound lines have not; None when nothing is left."""
    sound = [x.text for x in result.lines if x.verdict not in ("wrong", "unread", "withdrawn")]
    before = mark_response(part, sound)
    if before.mark >= before.maximum:
        return None
    model = part.kind.model(part.compiled)
    there = [_already(line, before) for line in mark_response(part, model).lines]
    for count in range(1, len(model) + 1):
        gained = _gained(before, mark_response(part, [*sound, *model[:count]]))
        if gained is None:
            continue
        for n in range(count):
            needed = n == count - 1 or _gained(before, mark_response(part, [*sound, *model[n + 1 : count]])) is None
            if needed and not there[n]:
                return Step(line=_tidy(model[n]), award=gained[0], place=gained[1])
    return None


def _already(line: LineReport, before: PartResult) -> bool:
    """True for a model line that the student has typed, in the same writing or the same reading."""
    same = [x for x in before.lines if x.text in (line.text, _tidy(line.text)) or (line.readings and x.readings == line.readings)]
    return bool(same)


def _gained(before: PartResult, after: PartResult) -> tuple[Award, int] | None:
    """The first point that is worth more afterwards, and its place among the points."""
    if after.mark <= before.mark:
        return None
    pairs = enumerate(zip(before.awards, after.awards, strict=False))
    return next(((b, n) for n, (a, b) in pairs if b.mark > a.mark), None)


_PADDED = re.compile(r"(?<![\d.])(\d+)(?:\.(\d*?)0+)(?![\d.])")


def _tidy(line: str) -> str:
    """Without the closing zeros that no person types: 27.6000 as 27.6."""

    def short(match: re.Match[str]) -> str:
        if len(match.group().replace(".", "").lstrip("0")) < 6:
            return match.group()
        return match.group(1) + (f".{match.group(2)}" if match.group(2) else "")

    return _PADDED.sub(short, line)


def hint(part: CompiledPart, lines: Sequence[str], strength: int) -> Hint:
    """The hint of that strength for where the student is; at strength 4 the next step itself."""
    result = mark_response(part, lines)
    step = next_step(part, result)
    if strength > STRONGEST:
        return _the_step(step)
    unread = bool(result.lines) and result.lines[-1].verdict == "unread"
    if unread and strength < STRONGEST:
        return Hint(strength=strength, text=_texts()["unread"][_NAMES[strength]])
    fault = fault_on_last(result)
    if fault is not None and strength < STRONGEST:
        return Hint(strength=strength, text=_about_fault(fault, strength))
    if step is None:
        return Hint(strength=strength, text=_texts()["complete"]["text"])
    return Hint(strength=strength, text=_about_step(part, step, strength))


_NAMES = {1: "first", 2: "second", 3: "third"}


def _the_step(step: Step | None) -> Hint:
    if step is None:
        return Hint(strength=STRONGEST + 1, text=_texts()["complete"]["text"])
    return Hint(strength=STRONGEST + 1, text="", line=step.line)


def _about_fault(fault: FaultFound, strength: int) -> str:
    if strength == 1:
        faults = _texts()["faults"]
        return str(faults.get(fault_words(fault.code).family, faults["default"]))
    return _sentence(fault.student or fault.teacher)


def _sentence(text: str) -> str:
    said = text.strip()
    return said[:1].upper() + said[1:] + ("" if said.endswith((".", "?", "!")) else ".")


def _about_step(part: CompiledPart, step: Step, strength: int) -> str:
    steps = _texts()["steps"]
    facts = _facts(part, step)
    for kind in (step.award.kind, "default"):
        text = str(steps.get(kind, {}).get(_NAMES[strength], ""))
        needed = re.findall(r"\{(\w+)\}", text)
        if text and all(facts.get(n) for n in needed):
            return re.sub(r"\{(\w+)\}", lambda m: facts[m.group(1)], text)
    return str(steps["default"]["first"])


def _facts(part: CompiledPart, step: Step) -> dict[str, str]:
    facts = {"begins": begins(step.line), "point": wording().point(step.award.kind).name}
    if isinstance(part.compiled, CompiledCalculation):
        facts.update(_calculation_facts(part.compiled, step))
    return facts


def _calculation_facts(part: CompiledCalculation, step: Step) -> dict[str, str]:
    """Letters and values of the equation that the point is for, and what is to be found."""
    goal, point = _point_of(part, step)
    relations = sorted(point.relations) if point is not None and point.relations else sorted(goal.relations)
    letters = sorted(frozenset[str]().union(*(part.system.relations[i].letters for i in relations)) - {"π"}) if relations else []
    find = point.quantity if point is not None and point.quantity else goal.find
    unit = goal.unit.name if goal.unit is not None and find == goal.find else si_unit(part, find)
    known = [n for n in letters if n in part.data]
    return {
        "letters": _listed([_letter(n) for n in (known if step.award.kind == "substitution" else letters)]),
        "values": _listed([f"{_letter(n)} = {_value(part, n)}" for n in known]),
        "find": _letter(find),
        "unit": unit,
    }


def _point_of(part: CompiledCalculation, step: Step) -> tuple[Goal, Point | None]:
    """The goal and point of a step: by place where the names agree, since steps of one part may name their points alike."""
    points = [(g, p) for g in part.goals for p in g.points]
    if step.place < len(points) and points[step.place][1].name == step.award.point:
        return points[step.place]
    return next(((g, p) for g, p in points if p.name == step.award.point), (part.goals[0], None))


def _value(part: CompiledCalculation, name: str) -> str:
    datum = part.data[name]
    if not datum.needs_conversion:
        return datum.text
    return f"{in_figures(datum.si, max(datum.number.figures[1], 3))} {si_unit(part, name)}"


def _letter(name: str) -> str:
    return name.replace("_", "")


def _listed(items: Sequence[str]) -> str:
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} and {items[-1]}"


# a number, its power of ten, and a unit; the first figure that is not a zero is kept
_VALUE = re.compile(r"([-−]?[0.]*[1-9])[\d.]*(?: × 10\^[-−]?\d+)?(?: [^\d×*+=()][^×*+=()]*)?")


def begins(line: str) -> str:
    """A model line with its end left out: up to the equals sign, and the first figure of a value; of a sentence the first words."""
    left, sign, right = line.partition("=")
    if not sign:
        words = line.split()
        return " ".join(words[: max(1, len(words) // 2)]) + " …"
    value = _VALUE.fullmatch(right.strip())
    shown = f"{value.group(1)}…" if value else "…"
    return f"{left.strip()} = {shown}"


@lru_cache(maxsize=1)
def _texts() -> Mapping[str, Any]:
    found: Mapping[str, Any] = tomllib.loads((rubrics() / "hints.toml").read_text(encoding="utf-8"))
    return found
