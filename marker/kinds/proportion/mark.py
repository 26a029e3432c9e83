"""One response to a proportion part, marked."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from types import MappingProxyType

from marker.expression import Expr
from marker.kinds.base import Carried, Kind
from marker.kinds.fault_texts import fault
from marker.kinds.marking import Finding, judge, line_reports, lost, part_result, verdicts_of
from marker.kinds.meant import best_reading, statements
from marker.kinds.proportion.compiled import WRITTEN, ProportionPart, ProportionSpec, compile_proportion
from marker.kinds.proportion.factors import Compared, compared
from marker.kinds.proportion.trials import Trial, trials_of
from marker.kinds.sides import shown, sides
from marker.kinds.typed_numbers import close, letters
from marker.kinds.words import is_blank
from marker.physics.evaluate import Unknown, compiled
from marker.physics.graphs import power_of, spread_of
from marker.physics.rounding import plain, round_to_figures
from marker.reading import read_lines
from marker.reading.model import Line
from marker.results import PartResult

_SAID: Mapping[str, re.Pattern[str]] = MappingProxyType(
    {
        "inverse square": re.compile(r"inverse.square|inversely proportional to (?:the )?(?:square|\w+ squared)"),
        "inverse": re.compile(r"\binverse(?:ly)?\b|\breciprocal\b"),
        "square": re.compile(r"\bsquared?\b"),
        "root": re.compile(r"\b(?:square )?root\b"),
        "exponential": re.compile(r"\bexponential(?:ly)?\b|\bconstant (?:ratio|factor)\b"),
        "direct": re.compile(r"\bproportional\b|\bproportion(?:ality)?\b"),
    }
)
_SAME = re.compile(
    r"\b(?:constant|same|equal|agree|identical|roughly|approximately|supports?|confirms?|verif\w+|valid|true|holds?|obey(?:s|ed)?|yes|proved)\b"
)
_NOT = re.compile(
    r"\b(?:not|isn.?t|aren.?t|doesn.?t|don.?t|no|never|neither|cannot|can.?t|varies|vary|different|changes|changing|fails?|false)\b"
)


def mark_proportion(part: ProportionPart, lines: Sequence[str], carried: Carried) -> PartResult:
    """Points, faults and line reports of one response. Pure; any text may come in."""
    read = read_lines(tuple(lines), part.table)
    values = shown(sides(read))
    trials = tuple(trials_of(part, values))
    factors = compared(part, read, values) if part.spec.relation != "exponential" else ()
    blank = Finding(earned=False, reason="Nothing is written.") if is_blank(lines) else None
    findings = tuple(
        (kind, worth, blank or (_ratios(part, trials, factors) if kind == "ratios" else _conclusion(part, trials, factors, read)))
        for kind, worth in part.points
    )
    return part_result(
        name=part.spec.name,
        maximum=part.spec.marks,
        judgements=tuple(judge(*f) for f in findings),
        lines=line_reports(read, verdicts_of([f for _, _, f in findings], [v.line for v in values])),
        read=read,
    )


def _ratios(part: ProportionPart, trials: Sequence[Trial], factors: Sequence[Compared]) -> Finding:
    """Looks for enough readings tested, each rightly worked out, or compared by factors that the table bears out."""
    asked = [t for t in trials if t.relation == part.spec.relation]
    borne_out = {i: c for c in factors for i in c.readings}
    right: dict[int, Trial | Compared] = {**borne_out, **{t.reading: t for t in asked if t.right}}
    lines = tuple(sorted({t.line for t in right.values()}))
    if len(right) >= part.spec.needs:
        done = "compared" if borne_out and not any(t.right for t in asked) else f"tested by {part.test}"
        return Finding(earned=True, reason=f"{len(right)} readings {done}.", lines=lines)
    worth = next(w for k, w in part.points if k == "ratios")
    if worth > 1 and len(right) == part.spec.needs - 1 and len(right) > 1:
        few = fault("too-few-ratios", lines[0], count=len(right), needed=part.spec.needs)
        reason = f"Right for {len(right)} readings of the {part.spec.needs} needed."
        return Finding(earned=True, reason=reason, lines=lines, faults=(few,), share=(worth - 1) / worth)
    slips = [t for t in asked if not t.right]
    unlike = next((c for c in factors if not c.readings), None)
    if unlike is not None and not slips and not right:
        seen = f"{part.x.symbol} × {unlike.x:g} with {part.y.symbol} × {unlike.y:g} is borne out by no two readings."
        return Finding(earned=False, reason=seen, lines=(unlike.line,))
    if slips:
        return lost(fault("ratio-arithmetic", slips[0].line, typed=slips[0].typed, expression=part.test))
    others = [t for t in trials if t.relation != part.spec.relation]
    if others and not right:
        other = WRITTEN[others[0].relation].format(x=part.x.symbol, y=part.y.symbol)
        return lost(fault("wrong-test", others[0].line, seen=other, wanted=part.spec.relation, right=part.test))
    few = fault("too-few-ratios", lines[0] if lines else None, count=len(right), needed=part.spec.needs)
    return lost(few)


def _conclusion(part: ProportionPart, trials: Sequence[Trial], factors: Sequence[Compared], lines: Sequence[Line]) -> Finding:
    """Looks for a conclusion that agrees with the candidate's own numbers, of which there must be two."""
    said = list(_said(part, lines))
    if not said:
        return Finding(earned=False, reason="No conclusion is drawn.")
    verdict, line = said[-1]
    own = {t.reading: t.value for t in trials if t.relation == part.spec.relation}
    if len(own) < 2 and not factors:
        return Finding(earned=False, reason="The conclusion has no numbers to rest on.", lines=(line,))
    wrong = [t for t in trials if t.relation == part.spec.relation and not t.right]
    truth = spread_of(tuple(own.values())).within(part.spec.tolerance) if len(own) > 1 else all(_in_proportion(part, c) for c in factors)
    doubt = "the conclusion is put in two ways that do not agree" if len({v for v, _ in said}) > 1 else ""
    if verdict != truth:
        return lost(fault("conclusion-against-numbers", line), doubt=doubt)
    followed = bool(wrong) and truth != part.holds
    return Finding(earned=True, reason="The conclusion agrees with the numbers.", lines=(line,), followed=followed, doubt=doubt)


def _in_proportion(part: ProportionPart, c: Compared) -> bool:
    """True where y changes by the factor that the proportion gives it: four times for x doubled and y ∝ x²."""
    power = power_of(part.spec.relation)
    return power is not None and close(c.y, c.x**power, slack=part.spec.tolerance)


def _said(part: ProportionPart, lines: Sequence[Line]) -> Iterator[tuple[bool, int]]:
    """(holds or not, line) for each conclusion in words or with ∝."""
    for statement in statements(lines):
        reading = best_reading(statement)
        if "∝" in reading.relations and len(reading.sides) == 2:
            holds = _proportional(part, reading.sides)
            if holds is not None:
                yield holds, statement.line
    for line in lines:
        words = line.words.lower()
        if line.withdrawn or not words:
            continue
        named = next((r for r, pattern in _SAID.items() if pattern.search(words)), None)
        denied = bool(_NOT.search(words))
        if (named is not None and _means(part, named, words)) or (named is None and _SAME.search(words)):
            yield not denied, line.number


def _means(part: ProportionPart, named: str, words: str) -> bool:
    """True when the proportion named is the one asked for; "proportional to the square" names both."""
    if named == part.spec.relation:
        return True
    return part.spec.relation == "direct" and named == "exponential" and "constant ratio" in words


def _proportional(part: ProportionPart, pair: Sequence[Expr]) -> bool | None:
    """Whether y ∝ … or x ∝ … states the proportion asked for; None when it is about something else."""
    left, right = pair[0], pair[1]
    power = power_of(part.spec.relation)
    if power is None or letters(left) | letters(right) != {part.x.symbol, part.y.symbol}:
        return None
    try:
        ratios = []
        for x in (0.7, 1.9, 3.1):
            point = {part.x.symbol: x, part.y.symbol: x**power}
            ratios.append(compiled(left)(point) / compiled(right)(point))
    except (KeyError, ValueError, ZeroDivisionError, OverflowError, Unknown):
        return None
    return True if spread_of(tuple(ratios)).within(1e-6) else None


def model_proportion(part: ProportionPart) -> tuple[str, ...]:
    """Lines of an answer that earns every mark."""
    lines = []
    pairs = list(zip(part.x.values, part.y.values, strict=True))
    if part.spec.relation == "exponential":
        ordered = sorted(pairs)
        tests = [(f"{d:g}/{b:g}", d / b) for (_, b), (_, d) in pairwise(ordered)]
    else:
        forms = {"direct": "{y:g}/{x:g}", "inverse": "{y:g} × {x:g}", "square": "{y:g}/{x:g}^2", "inverse square": "{y:g} × {x:g}^2"}
        form = forms.get(part.spec.relation, "{y:g}/√({x:g})")
        tests = [(form.format(x=x, y=y), c) for (x, y), c in zip(pairs, part.constant.values, strict=True)]
    lines = [f"{text} = {plain(round_to_figures(value, 4))}" for text, value in tests]
    word = {"direct": "directly proportional", "inverse": "inversely proportional", "exponential": "a constant ratio, exponential"}
    named = word.get(part.spec.relation, f"{part.spec.relation} proportion".replace("root", "square root"))
    lines.append(f"The values are the same within uncertainty: {named}." if part.holds else f"The values are not constant: not {named}.")
    return tuple(lines)


KIND = Kind(name="proportion", spec=ProportionSpec, compile=compile_proportion, mark=mark_proportion, model=model_proportion)
