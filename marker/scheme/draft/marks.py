"""A drafted part given its marks and ranges, compiled, and marked with its own model answer."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from marker.errors import SchemeError
from marker.marking import NOTHING_CARRIED, mark_response
from marker.scheme.checking.solution import in_figures
from marker.scheme.draft.makings import Makings, safe_name
from marker.scheme.draft.model import DraftedPart
from marker.scheme.draft.values import Value
from marker.scheme.paper import CompiledPart, Paper, build_paper


def compiled(spec: Mapping[str, Any], before: Sequence[DraftedPart], sheet: Mapping[str, Any], title: str, convention: str) -> Paper:
    """The scheme so far with this part at its end. Raises SchemeError."""
    paper: dict[str, Any] = {"title": title, "convention": convention}
    if sheet:
        paper["data"] = dict(sheet)
    return build_paper({"paper": paper, "part": [*(dict(p.spec) for p in before), dict(spec)]})


def with_marks(makings: Makings, spec: dict[str, Any], title: str, convention: str) -> tuple[dict[str, Any], CompiledPart | None]:
    """The part with the marks the convention gives it: one a relationship, one for the substitution, one for the answer."""
    sheet = {k: v for k, v in makings.sheet.items() if any(names_letter(k, t) for t in (*spec["using"], *spec.get("also", ())))}
    before = [p for p in makings.before if p.spec["name"] in {c.partition(".")[0] for c in spec.get("carry", {}).values()}]
    try:
        part = compiled(spec, before, {**_sheet_of(before, makings), **sheet}, title, convention).parts[-1]
    except SchemeError:
        return spec, None
    goals = part.compiled.goals
    worth = [max(1, len(g.relations - part.compiled.helpers)) + 2 for g in goals]
    asked = makings.marks
    if "step" in spec:
        spec = {**spec, "marks": sum(worth), "step": [{**s, "marks": w} for s, w in zip(spec["step"], worth, strict=True)]}
    else:
        spec = {**spec, "marks": worth[0]}
    if asked is not None and asked != spec["marks"]:
        spec = _asked_marks(makings, spec, asked, part)
    spec = _with_ranges(makings, spec, part)
    try:
        return spec, compiled(spec, before, {**_sheet_of(before, makings), **sheet}, title, convention).parts[-1]
    except SchemeError:
        return spec, None


def _sheet_of(before: Sequence[DraftedPart], makings: Makings) -> dict[str, Any]:
    texts = [t for p in before for t in (*p.spec["using"], *p.spec.get("also", ()))]
    return {k: v for k, v in makings.sheet.items() if any(names_letter(k, t) for t in texts)}


def names_letter(letter: str, text: str) -> bool:
    return re.search(rf"(?<![\w]){re.escape(letter)}(?![\w'])", text) is not None


def _asked_marks(makings: Makings, spec: dict[str, Any], asked: int, part: CompiledPart) -> dict[str, Any]:
    """The marks the question states: the usual pattern where they fit one, else points written out, as many as there are marks."""
    usual = spec["marks"]
    if "step" in spec or asked < 1:
        makings.remark("marks", f"The question states {asked} marks; the usual points come to {usual}.")
        return spec
    goal = part.compiled.goals[0]
    relations = sorted(goal.relations - part.compiled.helpers)
    if asked in (1, 2, len(relations) + 1):
        return {**spec, "marks": asked}
    names = [part.compiled.system.relations[r].name for r in relations]
    points: list[dict[str, Any]] = [{"kind": "relationship", "of": n} for n in names[: max(0, asked - 1)]]
    if asked > len(points) + 1:
        points.append({"kind": "substitution"})
    points.append({"kind": "answer"})
    if asked > len(points):
        points[-1]["marks"] = asked - len(points) + 1
    makings.remark(
        "points", f"The question states {asked} marks; the usual points come to {usual}: look whether these are the points meant."
    )
    return {**spec, "marks": asked, "points": points}


def _with_ranges(makings: Makings, spec: dict[str, Any], part: CompiledPart) -> dict[str, Any]:
    """A range that takes in the model answer's own result where it differs from the computed one by rounding on the way."""
    values = {safe_name(n): v for n, v in makings.segment.values.items()}
    steps = spec.get("step")
    ranged = [_range(makings, values.get(g.find), g.value) for g in part.compiled.goals]
    if steps is None:
        return {**spec, **({"accept": ranged[0]} if ranged[0] else {})}
    return {**spec, "step": [{**s, **({"accept": r} if r else {})} for s, r in zip(steps, ranged, strict=True)]}


def _range(makings: Makings, value: Value | None, computed: float) -> list[str] | None:
    if value is None or not computed:
        return None
    gap = abs(value.si - computed) / abs(computed)
    if gap <= 0.004:
        return None
    scale, offset = (value.unit.scale, value.unit.offset) if value.unit else (1.0, 0.0)
    both = sorted((value.si / scale - offset, computed / scale - offset))
    wide = 0.002 * max(abs(b) for b in both)
    low, high = both[0] - wide, both[1] + wide
    unit = f" {value.unit.name}" if value.unit else ""
    figures = 4
    shown = in_figures(computed / scale - offset, figures)
    makings.remark(
        "accept",
        f"The model answer is {value.text}; the data give {shown}{unit}. The range takes in both"
        + (": they differ by more than rounding, so look at the data." if gap > 0.02 else "."),
    )
    return [f"{in_figures(x, figures).replace(' × 10^', 'e')}{unit}" for x in (low, high)]


def earned(part: CompiledPart, lines: Sequence[str]) -> float:
    result = mark_response(part, tuple(lines), NOTHING_CARRIED)
    return result.mark - (0.5 if result.referral is not None else 0.0)
